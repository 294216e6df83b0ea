package paper

import (
	"strconv"
	"strings"

	"canewright/cmd/internal/card"
	"canewright/engine/recipe"
)

// sameThing: repeats of one reading, and stations of one grid, are described
// together.
func sameThing(a, b card.Column) bool {
	return a.Box.Kind == recipe.BoxReading && b.Box.Kind == recipe.BoxReading && a.Box.Measure == b.Box.Measure
}

// legend describes the boxes from one column to another.
func (m *maker) legend(s *card.Section, from, to int) []block {
	c := s.Columns[from]
	if c.Box.Kind == recipe.BoxDone {
		return nil // its column says so
	}
	if cell := m.cell(s, from); cell != nil {
		return m.gridLegend(s, from)
	}
	f := &m.flow
	which := strconv.Itoa(from + 1)
	if to-from > 1 {
		which += "–" + strconv.Itoa(to)
	}
	indent := max(8, number.width(which)+2.5)
	switch c.Box.Kind {
	case recipe.BoxLook:
		text := m.t(c.What) + "  "
		var answers []string
		for i, a := range c.Answers {
			answers = append(answers, strconv.Itoa(i+1)+" "+m.t(a))
		}
		text += strings.Join(answers, " · ")
		if c.Several {
			text += " (several may be given)"
		}
		return numbered(which, doing, doing.wrap(text, f.wide()-indent), indent)
	case recipe.BoxReading:
	default:
		return numbered(which, doing, doing.wrap(m.t(c.What), f.wide()-indent), indent)
	}
	m0 := m.b.Stages[s.Number-1].Measures[c.Box.Measure]
	what := c.What
	if to-from > 1 {
		what, _, _ = strings.Cut(what, ", reading ")
		what += ", " + strconv.Itoa(to-from) + " readings"
	}
	if c.Unit != "" {
		what += " [" + c.Unit + "]"
	}
	if c.Tool != "" {
		what += "; with the " + c.Tool
	}
	if m0.Target == nil {
		return numbered(which, doing, doing.wrap(m.t(what), f.wide()-indent), indent)
	}
	split := f.wide() * 0.46
	left := doing.wrap(m.t(what), split-indent-4)
	var right [][2]string // a number, and what is beside it
	o := other(m0.Target.Tolerance, c.Tool == "ruler")
	right = append(right, [2]string{m.t(c.Target), m.t(c.Limits)})
	switch {
	case o.Nominal != "":
		right = append(right, [2]string{o.Nominal, o.Limits})
	case o.Limits != "":
		right = append(right, [2]string{o.Limits, ""})
	}
	if o.Marks != "" {
		right = append(right, [2]string{"", "on a rule: " + o.Marks})
	}
	put, below := beside(right, margin+split, f.wide()-split)
	high := max(float64(len(left))*doing.height(), below) + 1
	return []block{{high: high, put: func(p *Page, y float64) {
		base := y + number.up() + 0.8
		p.text(margin, base, number, which)
		for i, l := range left {
			p.text(margin+indent, base+float64(i)*doing.height(), doing, l)
		}
		put(p, y)
	}}}
}

// beside sets numbers in large letters, each with what belongs to it in small
// ones, on the same line where there is room.
func beside(all [][2]string, x, wide float64) (put func(*Page, float64), high float64) {
	type word struct {
		x, y float64
		a    letters
		text string
	}
	var words []word
	for _, pair := range all {
		at := 0.0
		if pair[0] != "" {
			for _, l := range number.wrap(pair[0], wide) {
				words = append(words, word{x, high + number.up() + 0.8, number, l})
				at = number.width(l) + 4
				high += number.height()
			}
			high -= number.height()
		}
		if at > 0 && at+body.width(pair[1]) > wide {
			at, high = 0, high+number.height()
		}
		for i, l := range body.wrap(pair[1], wide-at) {
			if i > 0 {
				high += body.height()
			}
			words = append(words, word{x + at, high + number.up() + 0.8, body, l})
		}
		high += number.height()
		if at == 0 {
			high += body.height() - number.height() + 0.4
		}
	}
	return func(p *Page, y float64) {
		for _, w := range words {
			p.text(w.x, y+w.y, w.a, w.text)
		}
	}, high
}

func numbered(which string, a letters, text []string, indent float64) []block {
	out := lines(a, margin+indent, text, nil)
	if len(out) == 0 {
		out = []block{space(a.height())}
	}
	put := out[0].put
	out[0].high = max(out[0].high, number.height())
	out[0].put = func(p *Page, y float64) {
		p.text(margin, y+a.up()+(a.height()-a.up()-a.down())/2, number, which)
		put(p, y)
	}
	return out
}
