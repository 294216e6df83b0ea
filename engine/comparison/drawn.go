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

// Spot is a place on the reed that a recipe gives a length to.
type Spot struct {
	Name, Title string
	Q           int64 // nm from where it is counted
}

// Spots are the places a recipe says last of, counted from a place, in the
// set's order: lengths that count from there, and whole lengths that such a one
// is taken away from to count from the other end, as from the fold.
func (c *Comparison) Spots(second bool, from string) []Spot {
	s := c.a
	if second {
		s = c.b
	}
	along := map[string]bool{}
	for i := range s.b.Set.Dimensions {
		if d := &s.b.Set.Dimensions[i]; d.Kind == quantity.Length && !d.Across && d.Datum == from {
			along[d.Name] = true
		}
	}
	for _, r := range s.sums {
		if len(r.inputs) != 2 || r.constant != 0 || r.ways[0] == r.ways[1] {
			continue
		}
		long, place := s.b.Slots[r.inputs[0]].Dimension, s.b.Slots[r.inputs[1]].Dimension
		if r.ways[0] < 0 {
			long, place = place, long
		}
		if place.Datum == from && !long.Across {
			along[long.Name] = true
		}
	}
	var out []Spot
	said := c.Drawn(second)
	for i := range s.b.Set.Dimensions {
		d := &s.b.Set.Dimensions[i]
		if e, ok := said[d.Name]; ok && along[d.Name] {
			out = append(out, Spot{d.Name, d.Title, e.Value.Q})
		}
	}
	return out
}
