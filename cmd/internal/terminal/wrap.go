package terminal

import (
	"strings"

	"github.com/charmbracelet/x/ansi"
)

// Wrap breaks text at blanks so that lines fit width columns; a word longer
// than a line stands alone. Following lines are indented under the first.
// Columns are counted as a terminal does: East Asian names take two a sign.
func Wrap(lead, text string, width int) []string {
	n := ansi.StringWidth(lead)
	indent := strings.Repeat(" ", n)
	var out []string
	cur, empty := lead, true
	for _, w := range strings.Fields(text) {
		k := ansi.StringWidth(w)
		if !empty && n+1+k > width {
			out = append(out, cur)
			cur, n, empty = indent, len(indent), true
		}
		if !empty {
			cur, n = cur+" ", n+1
		}
		cur, n, empty = cur+w, n+k, false
	}
	return append(out, cur)
}

func upper(s string) string {
	r := []rune(s)
	if len(r) == 0 {
		return s
	}
	return strings.ToUpper(string(r[:1])) + string(r[1:])
}

func sentence(s string) string {
	s = upper(s)
	if s != "" && !strings.HasSuffix(s, ".") && !strings.HasSuffix(s, "?") && !strings.HasSuffix(s, "!") {
		s += "."
	}
	return s
}

// row is one line of a picture, a column an element.
type row []string

func blank(width int) row {
	r := make(row, width)
	for i := range r {
		r[i] = " "
	}
	return r
}

// free reports whether columns from to to (not included) are blank and lie
// inside the row.
func (r row) free(from, to int) bool {
	if from < 0 || to > len(r) {
		return false
	}
	for _, c := range r[from:to] {
		if c != " " {
			return false
		}
	}
	return true
}

// put writes text at a column where it is free with a blank on either side,
// and reports whether it was.
func (r row) put(at int, text string) bool {
	w := ansi.StringWidth(text)
	if !r.free(at, at+w) || at > 0 && r[at-1] != " " || at+w < len(r) && r[at+w] != " " {
		return false
	}
	r.set(at, text)
	return true
}

// set writes text at a column, over what is there.
func (r row) set(at int, text string) {
	w := ansi.StringWidth(text)
	r[at] = text
	for i := at + 1; i < at+w; i++ {
		r[i] = ""
	}
}

func (r row) String() string { return strings.TrimRight(strings.Join(r, ""), " ") }
