package bench

import (
	"slices"
	"strings"
)

// further records a reading that this stage does not ask for: "measure tip
// opening 1.4". Rules and advice may use it; no target judges it.
func (d *decider) further(f focus, text string, named bool) ([]Event, error) {
	form := "Write it as: measure tip opening 1.4."
	for i, s := range d.b.Slots {
		if s.Dimension == nil || s.Cell != nil || s.Dimension.Grid != nil || s.Dimension.Formula != "" {
			continue
		}
		for _, name := range slices.Concat([]string{s.Name, s.Title()}, s.Dimension.Aliases) {
			if len(text) <= len(name) || !strings.EqualFold(text[:len(name)], name) || text[len(name)] != ' ' {
				continue
			}
			if len(f.pieces) > 1 && !named && s.Dimension.Subject != "batch" {
				return nil, refuse("Say which: "+f.first()+" measure "+text+".", "This question is for %s.", d.st.forWhom(f))
			}
			v, err := d.newValue(i, strings.TrimSpace(text[len(name):]))
			if err != nil {
				return nil, err
			}
			for _, p := range f.pieces {
				if d.asksFor(p, i) {
					return nil, refuse("Type the number alone.", "%s is asked for at this stage.", upperFirst(s.Title()))
				}
				tool := ""
				if use, known := d.b.Named(s.Dimension.Tool, false); known && len(use.Tools) > 0 {
					tool = use.Tools[0].Name
				}
				d.of(p, ReadingTaken{Slot: s.Name, Text: v.Text, Unit: v.Unit.Name(), Bare: v.Bare, Step: v.Step, Q: v.Value.Q,
					Tool: tool, Condition: string(p.Condition), Repeat: len(p.Open[i]) + 1})
				set := Settled{Slot: s.Name, N: len(p.Open[i])} // read again, it is a repeat
				for _, r := range p.Open[i] {
					set.Sum += r.Q
				}
				d.of(p, set)
			}
			return d.out, nil
		}
	}
	if text == "" {
		return nil, refuse(form, "Measure what?")
	}
	return nil, refuse(form, "Nothing of this instrument is called that: %s.", clip(text))
}

// asksFor reports whether the stage asks a piece for a slot.
func (d *decider) asksFor(p *Piece, slot int) bool {
	for _, m := range d.b.Stages[p.Stage].Measures {
		if m.Slot == slot && m.Each.For(p.Number) {
			return true
		}
	}
	return false
}
