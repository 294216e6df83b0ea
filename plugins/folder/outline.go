package folder

import (
	"fmt"
	"slices"
	"strings"

	"canewright/engine/diagnostic"
	"canewright/engine/dimension"
	"canewright/engine/quantity"
	"canewright/engine/yamldoc"
	"canewright/plugins/sdk"
)

// What dimension.Set.Check takes of an outline.
const (
	mostParts  = 30
	mostPoints = 60
	mostMarks  = 60
)

// outlineAt is where the outline stands: all its formulas, and of each value,
// part and mark its name.
type outlineAt struct {
	formulas []diagnostic.Text
	named    []diagnostic.Text
	whole    diagnostic.Span
}

// outline reads how the reed is drawn.
func (l *loader) outline(n *yamldoc.Node) {
	o := &sdk.Outline{}
	l.out.Served.Outline = o
	set := &dimension.Outline{}
	l.out.Set.Outline = set
	n.Fields("an outline", l.list,
		need("from", func(_, v *yamldoc.Node) { o.From = l.word(v, "from").Value }),
		want("values", func(_, v *yamldoc.Node) { l.outlineValues(v) }),
		need("parts", func(_, v *yamldoc.Node) {
			for _, it := range l.each(v, "parts", "part: blade", mostParts) {
				o.Parts = append(o.Parts, l.outlinePart(it))
			}
		}),
		want("marks", func(_, v *yamldoc.Node) {
			for _, it := range l.each(v, "marks", "mark: first wire", mostMarks) {
				o.Marks = append(o.Marks, l.outlineMark(it))
			}
		}),
		want("tip", func(_, v *yamldoc.Node) {
			o.Tip = &sdk.OutlineTip{}
			v.Fields("a tip", l.list, l.drawn("wide", &o.Tip.Width, true), l.drawn("opening", &o.Tip.Opening, true), l.drawn("thickness", &o.Tip.Thickness, true))
		}),
	)
	set.From = o.From
	for _, p := range o.Parts {
		part := dimension.OutlinePart{Title: p.Title, Look: dimension.Look(p.Look), Smooth: p.Smooth}
		for _, at := range p.Points {
			part.Points = append(part.Points, dimension.OutlinePoint(at))
		}
		set.Parts = append(set.Parts, part)
	}
	for _, m := range o.Marks {
		set.Marks = append(set.Marks, dimension.OutlineMark{
			Title: m.Title, As: dimension.MarkAs(m.As), At: m.At, Middle: m.Middle, Thick: m.Thick, Turns: m.Turns, Covered: m.Covered,
		})
	}
	if t := o.Tip; t != nil {
		set.Tip = &dimension.OutlineTip{Width: t.Width, Opening: t.Opening, Thickness: t.Thickness}
	}
}

// drawn is a key with a formula.
func (l *loader) drawn(name string, into *string, needed bool) yamldoc.Field {
	return yamldoc.Field{Name: name, Required: needed, Read: func(_, v *yamldoc.Node) {
		t := l.word(v, name)
		*into = t.Value
		l.drawing.formulas = append(l.drawing.formulas, t)
	}}
}

// titled is a key with the title of a part or a mark.
func (l *loader) titled(name string, into *string) yamldoc.Field {
	return need(name, func(_, v *yamldoc.Node) {
		t := l.word(v, name)
		*into = t.Value
		l.drawing.named = append(l.drawing.named, t)
	})
}

func (l *loader) outlinePart(n *yamldoc.Node) (p sdk.OutlinePart) {
	n.Fields("a part", l.list, l.titled("part", &p.Title),
		need("look", func(_, v *yamldoc.Node) { p.Look = l.word(v, "look").Value }),
		want("smooth", func(_, v *yamldoc.Node) { p.Smooth = l.yes(v, "smooth") }),
		need("points", func(_, v *yamldoc.Node) {
			for _, it := range l.each(v, "points", "at: 0 mm", mostPoints) {
				var at sdk.OutlinePoint
				it.Fields("a point", l.list, l.drawn("at", &at.At, true), l.drawn("wide", &at.Width, true), l.drawn("deep", &at.Deep, false))
				p.Points = append(p.Points, at)
			}
		}))
	return p
}

func (l *loader) outlineMark(n *yamldoc.Node) (m sdk.OutlineMark) {
	n.Fields("a mark", l.list, l.titled("mark", &m.Title),
		need("as", func(_, v *yamldoc.Node) { m.As = l.word(v, "as").Value }),
		l.drawn("at", &m.At, true), l.drawn("middle", &m.Middle, false), l.drawn("thick", &m.Thick, false), l.drawn("turns", &m.Turns, false),
		want("covered", func(_, v *yamldoc.Node) { m.Covered = l.yes(v, "covered") }))
	return m
}

// outlineValues reads the numbers the drawing starts from: of a dimension, or
// of a word of the outline's own, which is a length and has a title.
func (l *loader) outlineValues(n *yamldoc.Node) {
	if n.Shape() != yamldoc.Map {
		l.list.Hinted("instrument/wrong-shape", n.Span(), "write wire.first: {value: 22 mm, source: from memory}", "values is not a list of names and values")
		return
	}
	for _, x := range n.Entries() {
		name, text, point := x.Key.Text(), diagnostic.Text{}, false
		var sources []source
		v := sdk.OutlineValue{Name: name.Value}
		x.Value.Fields("a value", l.list,
			need("value", func(_, v *yamldoc.Node) { text, point = l.word(v, "value"), v.Flow() }),
			want("title", func(_, t *yamldoc.Node) { v.Title = l.word(t, "title").Value }),
			need("source", func(_, s *yamldoc.Node) { sources = l.sources(s) }))
		if text.Whole.Source == nil || len(sources) == 0 {
			continue
		}
		kind, unit := quantity.Length, quantity.Main(quantity.Length)
		if d, ok := l.out.Set.Find(v.Name); ok && d.Name == v.Name {
			kind, unit = d.Kind, d.Unit
		}
		e, err := quantity.Parse(text.Value, quantity.Style{Want: kind, Bare: unit, Point: point})
		if err != nil {
			l.fault("dimension/outline", text, err, "write a number and its unit")
			continue
		}
		v.Value = text.Value
		w := sources[0].graded(text.Value)
		v.Source = sdk.Source{Says: w.Says, Who: w.Who, Grade: sdk.Grade(w.Grade)}
		l.drawing.named = append(l.drawing.named, name)
		l.out.Served.Outline.Values = append(l.out.Served.Outline.Values, v)
		l.out.Set.Outline.Values = append(l.out.Set.Outline.Values, dimension.OutlineValue{Name: v.Name, Title: v.Title, Text: e.String(), Q: e.Value.Q, Source: w})
	}
}

// place is where a finding about the outline belongs: the formula it quotes,
// else the value, part or mark it names, the longest name first, else the
// outline.
func (o *outlineAt) place(d diagnostic.Diagnostic) (diagnostic.Span, bool) {
	if o.whole.Source == nil {
		return diagnostic.Span{}, false
	}
	src := d.Span.Source
	for _, t := range o.formulas {
		switch {
		case t.Value == "":
		case src != nil && src.Text() == t.Value && strings.HasPrefix(d.Code, "formula/"):
			return t.Span(d.Span.From.Col-1, d.Span.To.Col-1), true
		case d.Code == "dimension/outline" && strings.Contains(d.Message, fmt.Sprintf("%q", t.Value)):
			return t.Whole, true
		}
	}
	if !strings.Contains(d.Message, "outline") && d.Code != "dimension/outline" {
		return diagnostic.Span{}, false
	}
	at, best := o.whole, ""
	for _, t := range o.named {
		if len(t.Value) > len(best) && slices.Contains(mentions(d.Message, t.Value), true) {
			at, best = t.Whole, t.Value
		}
	}
	return at, true
}
