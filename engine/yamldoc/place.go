package yamldoc

import (
	"strconv"
	"unicode/utf8"

	"canewright/engine/diagnostic"

	"gopkg.in/yaml.v3"
)

// scan reads a scalar from the source a second time and notes where each rune
// comes from. It is right only if it reads what the parser read.
type scan struct {
	src    *diagnostic.Source
	line   int // from 1
	col    int // from 0
	value  []rune
	places []diagnostic.Pos
	limit  int // runes of the parser's value
	at     int // the line whose text ends at end
	end    int
}

// textOf is the scalar with its places, or without them where they could not
// be proved: then Whole is the line from its start, wider but never wrong.
// end is where the text of its first line ends.
func textOf(src *diagnostic.Source, n *yaml.Node, end int) diagnostic.Text {
	t := diagnostic.Text{Value: n.Value, Whole: runes(src, n.Line, n.Column-1, end)}
	if n.Line < 1 || n.Line > src.Lines() || n.Column < 1 || n.Column > len(src.Line(n.Line))+1 || !utf8.ValidString(n.Value) {
		return t
	}
	// Most texts are plain and stand on one line.
	if line, size := src.Line(n.Line), utf8.RuneCountInString(n.Value); n.Style == 0 && n.Column-1+size <= end && string(line[n.Column-1:n.Column-1+size]) == n.Value {
		t.Whole.To.Col, t.Straight = n.Column+size, true
		return t
	}
	s := &scan{src: src, line: n.Line, col: n.Column - 1, limit: utf8.RuneCountInString(n.Value), at: n.Line, end: end}
	// One more than the parser has: for the place behind the end.
	s.value, s.places = make([]rune, 0, s.limit+1), make([]diagnostic.Pos, 0, s.limit+1)
	ok := false
	switch {
	case n.Style&(yaml.LiteralStyle|yaml.FoldedStyle) != 0:
		ok = s.block(n.Value, n.Style&yaml.LiteralStyle != 0)
	case n.Style&yaml.DoubleQuotedStyle != 0:
		ok = s.quoted('"')
	case n.Style&yaml.SingleQuotedStyle != 0:
		ok = s.quoted('\'')
	default:
		ok = s.plain()
	}
	if !ok || string(s.value) != n.Value {
		return t
	}
	last := s.pos()
	if n.Style&(yaml.LiteralStyle|yaml.FoldedStyle) != 0 && len(s.places) > 0 {
		last = s.blockEnd(&t)
	}
	t.Places = append(s.places, last)
	switch {
	case n.Style&(yaml.LiteralStyle|yaml.FoldedStyle) != 0:
	case n.Style&(yaml.DoubleQuotedStyle|yaml.SingleQuotedStyle) != 0:
		t.Whole.To = diagnostic.Pos{Line: last.Line, Col: last.Col + 1} // behind the closing quote
	default:
		t.Whole.To = last
	}
	return t
}

func (s *scan) pos() diagnostic.Pos { return diagnostic.Pos{Line: s.line, Col: s.col + 1} }

func (s *scan) add(r rune, at diagnostic.Pos) {
	s.value, s.places = append(s.value, r), append(s.places, at)
}

func (s *scan) text() []rune { return s.src.Line(s.line) }

// trimmed is where the text of the line ends.
func (s *scan) trimmed() int {
	if s.line != s.at {
		s.at, s.end = s.line, trimmed(s.text())
	}
	return s.end
}

// fold goes from the end of a line to the next text: one line break is read
// as a blank, and each empty line as a line break. An escaped break (escaped)
// is read as nothing.
func (s *scan) fold(escaped bool) bool {
	at := diagnostic.Pos{Line: s.line, Col: s.trimmed() + 1}
	if escaped {
		at.Col = len(s.text()) + 1
	}
	empty := 0
	for {
		s.line++
		if s.line > s.src.Lines() {
			return false
		}
		s.col = indent(s.text())
		if s.col < len(s.text()) {
			break
		}
		empty++
	}
	if empty == 0 && !escaped {
		s.add(' ', at)
	}
	for i := range empty {
		s.add('\n', diagnostic.Pos{Line: at.Line + 1 + i, Col: 1})
	}
	return true
}

// plain reads until it has as many runes as the parser had: where a plain
// text ends depends on what is around it.
func (s *scan) plain() bool {
	for len(s.value) < s.limit {
		line := s.text()
		if s.col >= s.trimmed() {
			if !s.fold(false) {
				return false
			}
			continue
		}
		s.add(line[s.col], s.pos())
		s.col++
	}
	return true
}

// quoted leaves col at the closing quote.
func (s *scan) quoted(quote rune) bool {
	if line := s.text(); s.col >= len(line) || line[s.col] != quote {
		return false
	}
	s.col++
	for len(s.value) <= s.limit {
		line := s.text()
		if s.col >= s.trimmed() && s.line < s.src.Lines() {
			if !s.fold(false) {
				return false
			}
			continue
		}
		if s.col >= len(line) {
			return false
		}
		switch r := line[s.col]; {
		case r == '\'' && quote == r && s.col+1 < len(line) && line[s.col+1] == r:
			s.add(r, s.pos())
			s.col += 2
		case r == quote:
			return true
		case r == '\\' && quote == '"':
			if !s.escape() {
				return false
			}
		default:
			s.add(r, s.pos())
			s.col++
		}
	}
	return false
}

// escape reads what follows a backslash (YAML 1.2.2, section 5.7).
func (s *scan) escape() bool {
	line, at := s.text(), s.pos()
	if s.col+1 >= len(line) {
		return s.fold(true)
	}
	width := 0
	switch line[s.col+1] {
	case 'x':
		width = 2
	case 'u':
		width = 4
	case 'U':
		width = 8
	default:
		r, ok := escaped(line[s.col+1])
		s.add(r, at)
		s.col += 2
		return ok
	}
	if s.col+2+width > len(line) {
		return false
	}
	v, err := strconv.ParseUint(string(line[s.col+2:s.col+2+width]), 16, 31)
	s.add(rune(v), at)
	s.col += 2 + width
	return err == nil
}

func escaped(r rune) (rune, bool) {
	switch r {
	case '0':
		return 0, true
	case 'a':
		return 7, true
	case 'b':
		return 8, true
	case 't', '\t':
		return 9, true
	case 'n':
		return 10, true
	case 'v':
		return 11, true
	case 'f':
		return 12, true
	case 'r':
		return 13, true
	case 'e':
		return 27, true
	case ' ', '"', '\'', '/', '\\':
		return r, true
	case 'N':
		return 0x85, true
	case '_':
		return 0xa0, true
	case 'L':
		return 0x2028, true
	case 'P':
		return 0x2029, true
	}
	return 0, false
}
