package comparison

import "canewright/engine/quantity"

// Drawn is what a recipe says last of each dimension that is read and is no
// station, by name: the middle of its target. What it says from another end is
// worked out, as in a row. With second it is B's.
func (c *Comparison) Drawn(second bool) map[string]quantity.Entered {
	s := c.a
	if second {
		s = c.b
	}
	out := map[string]quantity.Entered{}
	add := func(slot int, b band) {
		d := s.b.Slots[slot].Dimension
		if !b.middle.Set || d.Formula != "" || s.b.Slots[slot].Cell != nil {
			return
		}
		u := kindUnit(d.Kind, d.Unit)
		v := quantity.Value{Kind: d.Kind, Q: b.middle.Q}
		out[d.Name] = quantity.Entered{Text: quantity.Format(v, u, 0), Unit: u, Value: v}
	}
	for _, key := range s.order {
		x := s.lastSaid(key)
		add(x.slot, x.band)
	}
	for _, r := range s.sums {
		derived := s.lastSaid(s.keys[r.derived])
		for _, input := range r.inputs {
			if derived == nil || s.lastSaid(s.keys[input]) != nil {
				continue
			}
			if w := s.back(r, input, derived); len(w.lacks) == 0 {
				add(input, w.band)
			}
		}
	}
	return out
}
