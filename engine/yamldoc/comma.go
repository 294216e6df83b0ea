package yamldoc

import (
	"strings"
	"unicode"

	"canewright/engine/diagnostic"
)

// joinEntries puts `{value: 14,6 mm}` together again, which YAML reads as two
// keys, "value" and "6 mm", and reports the comma.
func (b *builder) joinEntries(m *Node) {
	var out []Entry
	for _, e := range m.entries {
		last := len(out) - 1
		if last >= 0 && !e.Value.written && b.splitNumber(out[last].Value, e.Key) {
			out[last].Value = b.join(out[last].Value, e.Key)
			continue
		}
		out = append(out, e)
	}
	m.entries = out
}

// joinItems does the same for `[14,6 mm]`; a blank behind the comma means two
// items.
func (b *builder) joinItems(l *Node) {
	var out []*Node
	for _, n := range l.items {
		last := len(out) - 1
		if last >= 0 && b.splitNumber(out[last], n) && n.span.From.Col == out[last].span.To.Col+1 {
			out[last] = b.join(out[last], n)
			continue
		}
		out = append(out, n)
	}
	l.items = out
}

// splitNumber reports that a and c are a digit, a comma and a digit in the
// file, with at most blanks behind the comma.
func (b *builder) splitNumber(a, c *Node) bool {
	if a.shape != Scalar || c.shape != Scalar || !a.plain || !c.plain || !a.text.Proved() || !c.text.Proved() {
		return false
	}
	from, to := a.span.To, c.span.From
	if from.Line != to.Line || c.span.To.Line != to.Line || a.span.From.Line != to.Line {
		return false
	}
	line := b.src.Line(from.Line)
	between, ok := strings.CutPrefix(string(line[from.Col-1:to.Col-1]), ",")
	return ok && strings.Trim(between, " \t") == "" && unicode.IsDigit(line[from.Col-2]) && unicode.IsDigit(line[to.Col-1])
}

func (b *builder) join(a, c *Node) *Node {
	line := a.span.From.Line
	from, to := a.span.From.Col-1, c.span.To.Col-1
	t := b.asText(runes(b.src, line, from, to))
	comma := a.span.To.Col - 1
	point := string(b.src.Line(line)[from:comma]) + "." + string(c.text.Value)
	b.list.Hinted("yaml/decimal-comma", t.Whole, "write a point: "+point+"; if two values are meant, a blank behind the comma",
		"inside brackets a comma ends the value")
	return &Node{shape: Scalar, text: t, span: t.Whole, plain: true, written: true, flow: true}
}

// asText is a stretch of one line as a text.
func (b *builder) asText(at diagnostic.Span) diagnostic.Text {
	t := diagnostic.Text{Value: b.written(at), Whole: at}
	for col := at.From.Col; col <= at.To.Col; col++ {
		t.Places = append(t.Places, diagnostic.Pos{Line: at.From.Line, Col: col})
	}
	return t
}
