package host

import (
	"fmt"

	"canewright/engine/dimension"
	dimsetv1 "canewright/plugins/proto/dimset/v1"
)

// outlineFromWire refuses, as fromWire does, only what it cannot turn into the
// engine's types.
func outlineFromWire(w *dimsetv1.Outline) (*dimension.Outline, error) {
	if w == nil {
		return nil, nil
	}
	o := &dimension.Outline{From: w.GetFrom()}
	for _, v := range w.GetValues() {
		if v.Value == nil {
			return nil, fmt.Errorf("the value of %q has no number", clip(printable(v.GetName())))
		}
		source, err := sourcesFromWire([]*dimsetv1.Source{v.GetSource()})
		if err != nil {
			return nil, fmt.Errorf("the value of %q: %w", clip(printable(v.GetName())), err)
		}
		o.Values = append(o.Values, dimension.OutlineValue{Name: v.GetName(), Title: v.GetTitle(), Text: v.GetText(), Q: v.GetValue(), Source: source[0]})
	}
	for _, p := range w.GetParts() {
		part := dimension.OutlinePart{Title: p.GetTitle(), Look: dimension.Look(p.GetLook()), Smooth: p.GetSmooth()}
		for _, at := range p.GetPoints() {
			part.Points = append(part.Points, dimension.OutlinePoint{At: at.GetAt(), Width: at.GetWidth(), Deep: at.GetDeep()})
		}
		o.Parts = append(o.Parts, part)
	}
	for _, m := range w.GetMarks() {
		o.Marks = append(o.Marks, dimension.OutlineMark{
			Title: m.GetTitle(), As: dimension.MarkAs(m.GetAs()), At: m.GetAt(), Middle: m.GetMiddle(),
			Thick: m.GetThick(), Turns: m.GetTurns(), Covered: m.GetCovered(),
		})
	}
	if t := w.GetTip(); t != nil {
		o.Tip = &dimension.OutlineTip{Width: t.GetWidth(), Opening: t.GetOpening(), Thickness: t.GetThickness()}
	}
	return o, nil
}
