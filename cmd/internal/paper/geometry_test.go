package paper_test

import (
	"fmt"

	"canewright/cmd/internal/paper"
)

type rect struct{ x1, y1, x2, y2 float64 }

// near is what touching may be off by, mm.
const near = 0.02

func (r rect) meets(o rect) bool {
	return r.x1 < o.x2-near && o.x1 < r.x2-near && r.y1 < o.y2-near && o.y1 < r.y2-near
}

func (r rect) holds(o rect) bool {
	return o.x1 >= r.x1-near && o.y1 >= r.y1-near && o.x2 <= r.x2+near && o.y2 <= r.y2+near
}

// ink is where the letters of a text are, by the font's own outlines.
func ink(t paper.Text) rect {
	x1, y1, x2, y2 := paper.Ink(t)
	return rect{x1, y1, x2, y2}
}

func boxRect(b paper.Box) rect { return rect{b.X, b.Y, b.X + b.W, b.Y + b.H} }

// leastMargin is what all keeps clear of, mm: more than printers need, 6 mm by
// common practice.
const leastMargin = 11

func faults(p *paper.Page) (out []string) {
	say := func(format string, a ...any) { out = append(out, fmt.Sprintf(format, a...)) }
	inside := rect{leastMargin, leastMargin, p.Width - leastMargin, p.Height - leastMargin}
	var inks []rect
	for i, x := range p.Texts {
		r := ink(x)
		inks = append(inks, r)
		if !inside.holds(r) {
			say("%q leaves the page: %+v", x.Text, r)
		}
		if x.Points < 10 || x.Points < 11 && x.Y < p.Height-24 {
			say("%q has %v points", x.Text, x.Points)
		}
		for k := range i {
			if inks[k].meets(r) {
				say("%q lies over %q", x.Text, p.Texts[k].Text)
			}
		}
	}
	for i, b := range p.Boxes {
		r := boxRect(b)
		if !inside.holds(r) {
			say("a box of %s leaves the page: %+v", b.Row, r)
		}
		if b.H < 10 || b.W < 14 {
			say("a box of %s is %v by %v mm", b.Row, b.W, b.H)
		}
		for _, o := range p.Boxes[:i] {
			if r.meets(boxRect(o)) {
				say("boxes of %s and %s lie over each other", b.Row, o.Row)
			}
		}
		for k, x := range p.Texts {
			if r.meets(inks[k]) && !r.holds(inks[k]) {
				say("%q crosses the edge of a box of %s", x.Text, b.Row)
			}
		}
	}
	for _, l := range p.Lines {
		if r := (rect{min(l.X1, l.X2), min(l.Y1, l.Y2), max(l.X1, l.X2), max(l.Y1, l.Y2)}); !inside.holds(r) {
			say("a line leaves the page: %+v", r)
		}
	}
	for _, s := range p.Shapes {
		for _, at := range s.Points {
			if !inside.holds(rect{at[0], at[1], at[0], at[1]}) {
				say("a shape leaves the page at %v", at)
			}
		}
	}
	return out
}
