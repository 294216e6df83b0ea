package yamldoc

import (
	"strings"

	"canewright/engine/diagnostic"
)

// block reads a text written with | or >. How far its lines are indented may
// depend on lines far above; so each possible indentation is tried, the usual
// one first, and the one that gives the parser's text is right.
func (s *scan) block(value string, literal bool) bool {
	line := s.text()
	if s.col >= len(line) || line[s.col] != '|' && line[s.col] != '>' {
		return false
	}
	if s.limit == 0 {
		return true
	}
	header, _, _ := strings.Cut(string(line[s.col:]), "#")
	chomp := strings.IndexAny(header, "+-")
	keep, strip := chomp >= 0 && header[chomp] == '+', chomp >= 0 && header[chomp] == '-'
	usual, first := 0, s.line+1
	for ln := first; ln <= s.src.Lines(); ln++ {
		if l := s.src.Line(ln); indent(l) < len(l) {
			usual = indent(l)
			break
		}
	}
	// A text of empty lines only is indented deeper than what follows it.
	for _, i := range append([]int{usual, usual + 1}, down(usual)...) {
		s.value, s.places = s.value[:0], s.places[:0]
		if s.blockLines(first, i, literal, keep, strip) && string(s.value) == value {
			return true
		}
	}
	return false
}

// down is the whole numbers below n, the highest first.
func down(n int) []int {
	var out []int
	for n--; n >= 0; n-- {
		out = append(out, n)
	}
	return out
}

// blockLines reads the lines from first on that are indented by in (YAML
// 1.2.2, section 8.1).
func (s *scan) blockLines(first, in int, literal, keep, strip bool) bool {
	var broken diagnostic.Pos // the line break behind the text so far; Line 0: none
	var empty []diagnostic.Pos
	leading := false // the line before began with a blank
	ln := first
	for {
		for ; ln <= s.src.Lines(); ln++ { // lines without text
			l := s.src.Line(ln)
			blanks := 0
			for blanks < len(l) && blanks < in && l[blanks] == ' ' {
				blanks++
			}
			if blanks < len(l) {
				break
			}
			if ln < s.src.Lines() {
				empty = append(empty, diagnostic.Pos{Line: ln, Col: len(l) + 1})
			}
		}
		l := s.src.Line(ln)
		if ln > s.src.Lines() || strings.TrimLeft(string(l[:min(in, len(l))]), " ") != "" || in == 0 && len(l) == 0 {
			break
		}
		trailing := blank(l[in])
		switch {
		case broken.Line == 0:
		case !literal && !leading && !trailing:
			if len(empty) == 0 {
				s.add(' ', broken)
			}
		default:
			s.add('\n', broken)
		}
		for _, p := range empty {
			s.add('\n', p)
		}
		broken, empty, leading = diagnostic.Pos{}, nil, trailing
		for c := in; c < len(l); c++ {
			s.add(l[c], diagnostic.Pos{Line: ln, Col: c + 1})
		}
		if len(s.value) > s.limit {
			return false
		}
		if ln < s.src.Lines() {
			broken = diagnostic.Pos{Line: ln, Col: len(l) + 1}
		}
		ln++
	}
	if !strip && broken.Line > 0 {
		s.add('\n', broken)
	}
	if keep {
		for _, p := range empty {
			s.add('\n', p)
		}
	}
	return true
}

// blockEnd sets the span of a block of lines to its text, without the mark and
// the line breaks at its end, and returns the place behind its last rune.
func (s *scan) blockEnd(t *diagnostic.Text) diagnostic.Pos {
	last := len(s.places) - 1
	end := s.places[last]
	if s.value[last] == '\n' {
		end = diagnostic.Pos{Line: end.Line + 1, Col: 1}
	} else {
		end.Col++
	}
	for last >= 0 && s.value[last] == '\n' {
		last--
	}
	if last >= 0 {
		t.Whole.From = s.places[0]
		t.Whole.To = diagnostic.Pos{Line: s.places[last].Line, Col: s.places[last].Col + 1}
	}
	return end
}
