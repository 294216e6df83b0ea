package comparison

import "strings"

// bridged are the rows of what the two recipes say of one place from two ends.
// First dimensions that are read, each worked out from the derived one the
// other recipe gives instead; then derived ones that only one recipe gives,
// worked out from what the other says. Which side is which does not matter.
func (c *Comparison) bridged() []Row {
	var rows []Row
	taken := map[*said]bool{}
	for _, key := range c.keys() {
		rows = append(rows, c.backTo(key, false, taken)...)
		rows = append(rows, c.backTo(key, true, taken)...)
	}
	for x := range taken {
		x.paired = true
	}
	for _, key := range c.keys() {
		rows = append(rows, c.forwardTo(key, false)...)
		rows = append(rows, c.forwardTo(key, true)...)
	}
	return rows
}

// sides in the order said: who says the dimension, who has to work it out.
func (c *Comparison) sides(mirror bool) (says, works *side) {
	if mirror {
		return c.b, c.a
	}
	return c.a, c.b
}

// slotIn is the slot of the same dimension on a side; -1 where it has none.
func slotIn(s *side, from *side, slot int) int {
	d := from.b.Slots[slot].Dimension
	i := s.b.SlotOf(d.Name)
	if i < 0 || s.b.Slots[i].Dimension == nil || s.b.Slots[i].Dimension.Name != d.Name || unlike(d, s.b.Slots[i].Dimension) != "" {
		return -1
	}
	return i
}

// backTo works a dimension that is read, and only one recipe gives, out of the
// derived one the other gives.
func (c *Comparison) backTo(key string, mirror bool, taken map[*said]bool) []Row {
	mine, other := c.sides(mirror)
	all := mine.said[key]
	if len(all) == 0 || len(other.said[key]) > 0 || mine.b.Slots[all[0].slot].Dimension.Formula != "" || mine.b.Slots[all[0].slot].Cell != nil {
		return nil
	}
	slot := slotIn(other, mine, all[0].slot)
	if slot < 0 {
		return nil
	}
	carry := func(r relation, derived []*said) []Row {
		var rows []Row
		for n := 1; n <= min(len(all), len(derived)); n++ {
			x, d := all[len(all)-n], derived[len(derived)-n]
			rows = append(rows, c.carriedRow(x, other.back(r, slot, d), slot, mirror, d))
			taken[x], taken[d] = true, true
		}
		return rows
	}
	var short *relation // nothing better than one that lacks a length
	for i := range other.sums {
		r := &other.sums[i]
		derived := other.said[other.keys[r.derived]]
		at := slotIn(mine, other, r.derived)
		if !contains(r.inputs, slot) || len(derived) == 0 || derived[0].paired || at < 0 || len(mine.said[mine.keys[at]]) > 0 {
			continue
		}
		if len(other.back(*r, slot, derived[len(derived)-1]).lacks) == 0 {
			return carry(*r, derived)
		}
		if short == nil && !mine.leadsTo(at) {
			short = r
		}
	}
	if short == nil {
		return nil
	}
	return carry(*short, other.said[other.keys[short.derived]])
}

// leadsTo: the recipe says all that a derived dimension is worked out from.
func (s *side) leadsTo(slot int) bool {
	for _, r := range s.sums {
		if r.derived == slot {
			return len(s.forward(r).lacks) == 0
		}
	}
	return false
}

// forwardTo works a derived dimension that only one recipe gives out of what
// the other says of its inputs.
func (c *Comparison) forwardTo(key string, mirror bool) []Row {
	mine, other := c.sides(mirror)
	all := mine.said[key]
	if len(all) == 0 || all[len(all)-1].paired || len(other.said[key]) > 0 {
		return nil
	}
	slot := slotIn(other, mine, all[0].slot)
	if slot < 0 {
		return nil
	}
	for _, r := range other.sums {
		if r.derived != slot {
			continue
		}
		w := other.forward(r)
		if len(w.lacks) > 0 {
			return nil // it says nothing of it
		}
		x := all[len(all)-1]
		x.paired = true
		return []Row{c.carriedRow(x, w, slot, mirror, nil)}
	}
	return nil
}

// carriedRow is a row of which one side was worked out. d is the other side's
// own statement, told where nothing could be worked out.
func (c *Comparison) carriedRow(x *said, w carried, slot int, mirror bool, d *said) Row {
	mine, other := c.sides(mirror)
	r := c.newRow(x.slot, slot)
	if mirror {
		r = c.newRow(slot, x.slot)
	}
	own := mine.says(x, x.readAt())
	var theirs *Says
	if len(w.lacks) == 0 {
		theirs = other.saysCarried(w, slot)
	} else {
		theirs = other.says(d, d.readAt())
		theirs.Formula = w.formula
	}
	r.A, r.B = own, theirs
	if mirror {
		r.A, r.B = theirs, own
	}
	if len(w.lacks) > 0 {
		var names []string
		for _, i := range w.lacks {
			names = append(names, other.b.Slots[i].Name)
		}
		who := "B"
		if mirror {
			who = "A"
		}
		r.Class = NotComparable
		r.Why = who + " gives " + other.b.Slots[d.slot].Name + " instead; to carry it over (" + w.formula + ") it would have to say " + strings.Join(names, " and ") + " at that stage"
		r.Unit = r.unit.Name()
		return r
	}
	if mirror {
		c.settle(&r, slot, w.stage, x.slot, x.readAt())
	} else {
		c.settle(&r, x.slot, x.readAt(), slot, w.stage)
	}
	return r
}

func contains(all []int, x int) bool {
	for _, y := range all {
		if x == y {
			return true
		}
	}
	return false
}
