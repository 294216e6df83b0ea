package comparison

import (
	"cmp"
	"slices"
	"strings"

	"canewright/engine/dimension"
	"canewright/engine/quantity"
)

// targets makes the rows of all targets.
func (c *Comparison) targets() {
	var rows []Row
	for _, key := range c.keys() {
		for _, p := range c.pairsOf(key) {
			rows = append(rows, c.row(p))
			p.a.paired, p.b.paired = true, true
		}
	}
	rows = append(rows, c.bridged()...)
	for _, key := range c.keys() {
		rows = append(rows, c.alone(key)...)
	}
	c.sortRows(rows)
	for _, r := range merged(rows) {
		if c.cellOf(&r) != nil {
			continue
		}
		c.Targets = append(c.Targets, r)
	}
	c.grids(rows)
}

// keys that either recipe says something of: A's in its order, then B's others.
func (c *Comparison) keys() []string {
	out := slices.Clone(c.a.order)
	for _, k := range c.b.order {
		if len(c.a.said[k]) == 0 {
			out = append(out, k)
		}
	}
	return out
}

// saidPair are two statements of one key, and the stages they are read at.
type saidPair struct {
	a, b           *said
	stageA, stageB int
}

// pairsOf a key: what holds where both set or judge it at stages that belong
// together; of the rest the last with the last, and so on backwards, for what
// comes last is what the reed ends as.
func (c *Comparison) pairsOf(key string) []saidPair {
	var out []saidPair
	if len(c.a.said[key]) == 0 || len(c.b.said[key]) == 0 {
		return nil
	}
	if a, b := c.a.b.Slots[c.a.said[key][0].slot].Dimension, c.b.b.Slots[c.b.said[key][0].slot].Dimension; unlike(a, b) != "" {
		return []saidPair{{c.a.lastSaid(key), c.b.lastSaid(key), c.a.lastSaid(key).readAt(), c.b.lastSaid(key).readAt()}}
	}
	usedA, usedB := map[*said]bool{}, map[*said]bool{}
	where := map[[2]*said]int{}
	for _, p := range c.stages.pairs {
		a, b := c.a.at[p.a][key], c.b.at[p.b][key]
		if a == nil || b == nil {
			continue
		}
		// Told as it is read where both come to it first, whichever recipe is A.
		if i, again := where[[2]*said{a, b}]; again {
			if o := &out[i]; p.a+p.b < o.stageA+o.stageB {
				o.stageA, o.stageB = p.a, p.b
			}
			continue
		}
		where[[2]*said{a, b}] = len(out)
		usedA[a], usedB[b] = true, true
		out = append(out, saidPair{a, b, p.a, p.b})
	}
	left := func(all []*said, used map[*said]bool) []*said {
		return slices.DeleteFunc(slices.Clone(all), func(x *said) bool { return used[x] })
	}
	la, lb := left(c.a.said[key], usedA), left(c.b.said[key], usedB)
	for n := 1; n <= min(len(la), len(lb)); n++ {
		a, b := la[len(la)-n], lb[len(lb)-n]
		out = append(out, saidPair{a, b, a.readAt(), b.readAt()})
	}
	return out
}

// row of two statements of one dimension.
func (c *Comparison) row(p saidPair) Row {
	r := c.newRow(p.a.slot, p.b.slot)
	r.A, r.B = c.a.says(p.a, p.stageA), c.b.says(p.b, p.stageB)
	c.settle(&r, p.a.slot, p.stageA, p.b.slot, p.stageB)
	return r
}

// settle classifies a row, if its numbers can be compared. The same numbers are
// the same, whatever they were read with.
func (c *Comparison) settle(r *Row, slotA, stageA, slotB, stageB int) {
	if r.A.band.kind != r.B.band.kind {
		r.Class, r.Why = NotComparable, c.hinder(slotA, stageA, slotB, stageB)
		return
	}
	r.judge()
	why := c.hinder(slotA, stageA, slotB, stageB)
	if why == "" || r.Class == Same && unlike(c.a.b.Slots[slotA].Dimension, c.b.b.Slots[slotB].Dimension) == "" && !strings.HasPrefix(why, "A reads") {
		return
	}
	r.Class, r.Why, r.Difference, r.Share = NotComparable, why, "", nil
}

// newRow is a row of a dimension; a slot below 0 is none.
func (c *Comparison) newRow(slotA, slotB int) Row {
	s, slot := c.a, slotA
	if slotA < 0 {
		s, slot = c.b, slotB
	}
	d := s.b.Slots[slot].Dimension
	r := Row{Name: d.Name, Title: d.Title, From: d.Datum, unit: kindUnit(d.Kind, d.Unit), slotA: slotA, slotB: slotB}
	if cell := s.b.Slots[slot].Cell; cell != nil {
		r.Title, r.From = cell.AtText+" "+cell.Lane, cell.From
	}
	if d.Kind == quantity.Pitch {
		r.unit = quantity.Unit{}
	}
	return r
}

// alone are the statements of a key that only one recipe makes. One that is
// replaced before anything is read, by the same numbers, says nothing.
func (c *Comparison) alone(key string) []Row {
	var out []Row
	for _, x := range c.a.said[key] {
		if !x.paired && !repeatedBy(x, c.a.said[key]) {
			r := c.newRow(x.slot, -1)
			r.A, r.Class, r.Why = c.a.says(x, x.readAt()), OnlyA, c.other(c.b, x, c.a)
			r.fill()
			out = append(out, r)
		}
	}
	for _, x := range c.b.said[key] {
		if !x.paired && !repeatedBy(x, c.b.said[key]) {
			r := c.newRow(-1, x.slot)
			r.B, r.Class, r.Why = c.b.says(x, x.readAt()), OnlyB, c.other(c.a, x, c.b)
			r.fill()
			out = append(out, r)
		}
	}
	return out
}

// repeatedBy: nothing is read by it, and another one with the same numbers is
// told.
func repeatedBy(x *said, all []*said) bool {
	for _, y := range all {
		if y != x && len(x.events) == 0 && y.band == x.band && (len(y.events) > 0 || y.paired) {
			return true
		}
	}
	return false
}

// other says what the side that gives no target has of the dimension.
func (c *Comparison) other(s *side, x *said, from *side) string {
	key, name := x.key, from.b.Slots[x.slot].Dimension.Name
	if x.used {
		return "others were carried over with it"
	}
	if _, ok := s.b.Set.Find(name); !ok {
		return "the other's instrument has no such dimension"
	}
	if len(s.said[key]) > 0 {
		return "the other gives no number for it there"
	}
	for i := range s.reads {
		if s.reads[i][key] != nil {
			return "the other reads it, without a target"
		}
	}
	return ""
}

// cellOf is the station a row is of; nil for a plain dimension.
func (c *Comparison) cellOf(r *Row) *cellPlace {
	s, slot := c.a, r.slotA
	if slot < 0 {
		s, slot = c.b, r.slotB
	}
	cell := s.b.Slots[slot].Cell
	if cell == nil {
		return nil
	}
	return &cellPlace{s.b.Slots[slot].Dimension, cell.From, cell.Lane, cell.At}
}

type cellPlace struct {
	dimension  *dimension.Dimension
	from, lane string
	at         int64
}

// sortRows: the order in which a reed is made, by the dimension set; what one
// recipe says later comes later.
func (c *Comparison) sortRows(rows []Row) {
	place := func(r *Row) int {
		if r.slotA >= 0 {
			return r.slotA
		}
		d := c.b.b.Slots[r.slotB].Dimension
		for i := range c.a.b.Set.Dimensions {
			if c.a.b.Set.Dimensions[i].Name == d.Name {
				return i
			}
		}
		return len(c.a.b.Slots) + r.slotB
	}
	slices.SortStableFunc(rows, func(x, y Row) int { return cmp.Compare(place(&x), place(&y)) })
}

// merged joins rows that say the same at several stages.
func merged(rows []Row) []Row {
	var out []Row
	of := map[[2]int][]int{} // rows of the same slots
next:
	for _, r := range rows {
		slots := [2]int{r.slotA, r.slotB}
		for _, i := range of[slots] {
			if o := &out[i]; o.alike(&r) {
				o.A.also(r.A)
				o.B.also(r.B)
				continue next
			}
		}
		of[slots] = append(of[slots], len(out))
		out = append(out, r)
	}
	return out
}

func (r *Row) alike(o *Row) bool {
	same := func(x, y *Says) bool {
		return (x == nil) == (y == nil) && (x == nil || x.Written == y.Written && x.band == y.band && x.Formula == y.Formula && x.Tool == y.Tool && x.Condition == y.Condition && len(x.Of) == len(y.Of))
	}
	return r.Name == o.Name && r.slotA == o.slotA && r.slotB == o.slotB && r.Class == o.Class && r.Why == o.Why && same(r.A, o.A) && same(r.B, o.B)
}

func (s *Says) also(o *Says) {
	if s == nil {
		return
	}
	for _, n := range o.Stages {
		if !slices.Contains(s.Stages, n) {
			s.Stages = append(s.Stages, n)
		}
	}
}
