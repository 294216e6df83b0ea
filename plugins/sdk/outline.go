package sdk

import (
	"fmt"

	"google.golang.org/protobuf/proto"

	"canewright/engine/quantity"
	dimsetv1 "canewright/plugins/proto/dimset/v1"
)

// Outline is how the reed is drawn from its dimensions, to scale: seen from the
// flat of the blades, and from the side and the tip where the numbers for it
// are there. All places count from one datum, the bottom of the picture.
//
// Places, widths and depths are formulas over the instrument's dimensions and
// the outline's own words: "wire.first", "overall - 4 mm", "butt.bore + 2.5 mm".
type Outline struct {
	From   string         // "the butt"
	Values []OutlineValue // numbers where the player says no other; else the middle of the plausible range
	Parts  []OutlinePart  // later ones lie over earlier ones
	Marks  []OutlineMark
	Tip    *OutlineTip // may be nil
}

// OutlineValue is a number the drawing starts from.
type OutlineValue struct {
	Name   string // a dimension, or a word of the outline's own, which is a length
	Title  string // of a word of its own: "width at the first wire"
	Value  string // "27 mm"
	Source Source
}

// OutlinePart is a piece of the reed, alike on both sides of the middle.
type OutlinePart struct {
	Title  string // "blade"
	Look   string // "bark", "blade", "thread", "staple", "cork"; any other word is drawn plain
	Smooth bool   // bent from point to point; else straight
	Points []OutlinePoint
}

// OutlinePoint is how wide and how deep a part is somewhere, the whole of it.
type OutlinePoint struct {
	At    string
	Width string
	Deep  string // from blade to blade, in all points or in none
}

// OutlineMark is a line, a wire or a band across the reed.
type OutlineMark struct {
	Title   string
	As      string // "line", "wire", "band" (flat) or "cut" (a line past the edges)
	At      string
	Middle  string // where it is in the middle of the blade; empty: as at the sides
	Thick   string // of a wire: how thick one turn is; of a band: how wide it is along the reed
	Turns   string // of a wire: how many there are, a count; empty is one
	Covered bool   // thread lies over it
}

// OutlineTip is the tip seen from its end.
type OutlineTip struct{ Width, Opening, Thickness string }

func (in Instrument) outline() (*dimsetv1.Outline, error) {
	o := in.Outline
	if o == nil {
		return nil, nil
	}
	w := &dimsetv1.Outline{From: o.From}
	for _, v := range o.Values {
		value, err := in.outlineValue(v)
		if err != nil {
			return nil, fmt.Errorf("value of %q: %w", v.Name, err)
		}
		w.Values = append(w.Values, value)
	}
	for _, p := range o.Parts {
		part := &dimsetv1.OutlinePart{Title: p.Title, Look: p.Look, Smooth: p.Smooth}
		for _, at := range p.Points {
			part.Points = append(part.Points, &dimsetv1.OutlinePoint{At: at.At, Width: at.Width, Deep: at.Deep})
		}
		w.Parts = append(w.Parts, part)
	}
	for _, m := range o.Marks {
		w.Marks = append(w.Marks, &dimsetv1.OutlineMark{
			Title: m.Title, As: m.As, At: m.At, Middle: m.Middle, Thick: m.Thick, Turns: m.Turns, Covered: m.Covered,
		})
	}
	if t := o.Tip; t != nil {
		w.Tip = &dimsetv1.OutlineTip{Width: t.Width, Opening: t.Opening, Thickness: t.Thickness}
	}
	return w, nil
}

func (in Instrument) outlineValue(v OutlineValue) (*dimsetv1.OutlineValue, error) {
	kind, unit := quantity.Length, quantity.Main(quantity.Length)
	for _, d := range in.Dimensions {
		if d.Name != v.Name {
			continue
		}
		var ok bool
		if kind, ok = quantity.KindNamed(d.Kind); !ok {
			return nil, fmt.Errorf("%q is not a kind", d.Kind)
		}
		unit = quantity.Bare(kind)
		if d.Unit != "" {
			if unit, ok = quantity.UnitNamed(d.Unit); !ok {
				return nil, fmt.Errorf("%q is not a unit", d.Unit)
			}
		}
	}
	e, err := quantity.Parse(v.Value, quantity.Style{Want: kind, Bare: unit})
	if err != nil {
		return nil, fmt.Errorf("%q: %w", v.Value, err)
	}
	source, err := sources([]Source{v.Source})
	if err != nil {
		return nil, err
	}
	return &dimsetv1.OutlineValue{Name: v.Name, Title: v.Title, Text: e.String(), Value: proto.Int64(e.Value.Q), Source: source[0]}, nil
}
