package diagnostic

import (
	"strings"
	"unicode/utf8"
)

// Source is one file, split once into lines of runes. A byte order mark is
// dropped and \r\n is read as \n.
type Source struct {
	Name  string
	lines [][]rune
	text  string
}

// NewSource keeps the text for excerpts. Invalid UTF-8 becomes U+FFFD; the
// reader of the file reports it.
func NewSource(name string, data []byte) *Source {
	text := strings.TrimPrefix(string(data), "\ufeff")
	text = strings.ReplaceAll(text, "\r\n", "\n")
	s := &Source{Name: name, text: text, lines: make([][]rune, 0, strings.Count(text, "\n")+1)}
	// One array for all lines: a file may have a million short ones.
	all := make([]rune, 0, utf8.RuneCountInString(text))
	for l := range strings.SplitSeq(text, "\n") {
		from := len(all)
		for _, r := range l {
			all = append(all, r)
		}
		s.lines = append(s.lines, all[from:len(all):len(all)])
	}
	return s
}

// Text is the whole text, without byte order mark, with \n line ends.
func (s *Source) Text() string { return s.text }

// Lines is how many lines the file has; an empty file has one.
func (s *Source) Lines() int { return len(s.lines) }

// Line is line n, counted from 1; nil outside the file.
func (s *Source) Line(n int) []rune {
	if n < 1 || n > len(s.lines) {
		return nil
	}
	return s.lines[n-1]
}

// Pos is a place: line and column from 1, the column in runes.
type Pos struct{ Line, Col int }

// Before orders places in a file.
func (p Pos) Before(q Pos) bool { return p.Line < q.Line || p.Line == q.Line && p.Col < q.Col }

// Span is a stretch of a file; To is the first place after it. A Span without
// a Source has no place.
type Span struct {
	Source   *Source
	From, To Pos
}

// Text is a piece of text whose runes know their places in a file: a scalar of
// a YAML file, decoded. Places has one entry a rune and one for the end.
// Straight texts need none: their runes fill Whole, side by side on one line.
// Without either the places could not be proved, and Whole stands for all.
type Text struct {
	Value    string
	Whole    Span
	Places   []Pos
	Straight bool
}

// Proved reports that the places of the runes are known.
func (t Text) Proved() bool { return t.Places != nil || t.Straight }

// Span is the stretch of the file that runes [from, to) of the text came from.
func (t Text) Span(from, to int) Span {
	if !t.Proved() || t.Whole.Source == nil {
		return t.Whole
	}
	if t.Straight {
		at := t.Whole.From
		from = min(max(from, 0), t.Whole.To.Col-at.Col)
		to = min(max(to, from), t.Whole.To.Col-at.Col)
		return Span{t.Whole.Source, Pos{at.Line, at.Col + from}, Pos{at.Line, at.Col + to}}
	}
	from = min(max(from, 0), len(t.Places)-1)
	to = min(max(to, from), len(t.Places)-1)
	end := t.Places[to]
	if to > from {
		// The place after the last rune, not the place of the next rune: a
		// line fold may lie between the two.
		last := t.Places[to-1]
		if last.Line != end.Line {
			end = Pos{last.Line, min(last.Col+1, len(t.Whole.Source.Line(last.Line))+1)}
		}
	}
	return Span{t.Whole.Source, t.Places[from], end}
}

// Plain is a text that stands in no file, such as one typed on a command line:
// its places count along one line of a source of that name.
func Plain(name, value string) Text {
	src := NewSource(name, []byte(value))
	t := Text{Value: value}
	line, col := 1, 1
	for _, r := range value {
		t.Places = append(t.Places, Pos{line, col})
		col++
		if r == '\n' {
			line, col = line+1, 1
		}
	}
	t.Places = append(t.Places, Pos{line, col})
	t.Whole = Span{src, Pos{1, 1}, Pos{line, col}}
	return t
}
