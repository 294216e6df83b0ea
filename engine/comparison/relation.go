package comparison

import (
	"math"
	"strings"

	"canewright/engine/quantity"
	"canewright/engine/recipe"
)

// relation is a derived dimension that is a sum of others, each once: it leads
// from a number counted from one end to that counted from another.
//
//	derived = constant + Σ way × input
type relation struct {
	derived  int // slot
	inputs   []int
	ways     []int64
	constant int64
	formula  string
}

// relationsOf a recipe's dimension set, in its order. Only of kinds whose
// quanta formulas count in, and without points on a scale.
func relationsOf(b *recipe.Bound) []relation {
	var out []relation
each:
	for _, d := range b.Derived {
		sum, ok := d.Formula.Sum()
		k := b.Slots[d.Slot].Dimension.Kind
		if !ok || k.Point || k.Scale() != 1 || len(sum.Slots) == 0 || sum.Constant != math.Trunc(sum.Constant) {
			continue
		}
		r := relation{derived: d.Slot, constant: int64(sum.Constant), formula: d.Formula.Text()}
		for i, slot := range sum.Slots {
			s := &b.Slots[slot]
			if f := sum.Factors[i]; f != 1 && f != -1 || s.Dimension == nil || s.Dimension.Kind != k || s.Dimension.Formula != "" {
				continue each
			}
			r.inputs, r.ways = append(r.inputs, slot), append(r.ways, int64(sum.Factors[i]))
		}
		out = append(out, r)
	}
	return out
}

// carried is a statement worked out from others of the same recipe.
type carried struct {
	band    band
	from    []*said // what it was worked out from
	ways    []int64 // +1, -1 of each
	stage   int     // at which all of them are in force
	formula string
	lacks   []int // slots nothing is said of there; nothing is worked out then
}

// forward works out what a recipe says of a derived dimension.
func (s *side) forward(r relation) carried {
	var known []*said
	c := carried{formula: r.formula}
	for _, slot := range r.inputs {
		x := s.lastSaid(s.keys[slot])
		if x == nil {
			c.lacks = append(c.lacks, slot)
			continue
		}
		known = append(known, x)
	}
	if len(c.lacks) > 0 {
		return c
	}
	var ok bool
	if c.stage, ok = together(known); !ok {
		c.lacks = r.inputs
		return c
	}
	var terms []term
	for i, x := range known {
		terms = append(terms, term{x.band, r.ways[i]})
	}
	c.from, c.ways = known, r.ways
	c.band = sum(s.b.Slots[r.derived].Dimension.Kind, r.constant, terms)
	return c
}

// back works out what a recipe says of one input from what it says of the
// derived dimension and of the other inputs, at a stage where all are in force.
func (s *side) back(r relation, input int, derived *said) carried {
	c := carried{from: []*said{derived}}
	way := int64(0)
	for i, slot := range r.inputs {
		if slot == input {
			way = r.ways[i]
		}
	}
	terms := []term{{derived.band, way}}
	name := func(slot int) string { return s.b.Slots[slot].Name }
	plus, minus := []string{}, []string{}
	part := func(way int64, slot int) {
		if way > 0 {
			plus = append(plus, name(slot))
		} else {
			minus = append(minus, name(slot))
		}
	}
	part(way, r.derived)
	for i, slot := range r.inputs {
		if slot == input {
			continue
		}
		part(-way*r.ways[i], slot)
		x := s.with(s.keys[slot], derived)
		if x == nil {
			c.lacks = append(c.lacks, slot)
			continue
		}
		c.from = append(c.from, x)
		terms = append(terms, term{x.band, -way * r.ways[i]})
	}
	for _, t := range terms {
		c.ways = append(c.ways, t.way)
	}
	if c.formula = strings.Join(plus, " + "); len(minus) > 0 {
		c.formula = strings.TrimSpace(c.formula + " - " + strings.Join(minus, " - "))
	}
	if len(c.lacks) > 0 {
		return c
	}
	stage, ok := together(c.from)
	if !ok {
		c.lacks = []int{r.derived}
		return c
	}
	if c.stage = stage; derived.readAt() > stage {
		c.stage = derived.readAt()
	}
	c.band = sum(s.b.Slots[input].Dimension.Kind, -way*r.constant, terms)
	return c
}

// with is what is said of a key where another statement is judged: what is in
// force at that stage; where nothing is yet, what comes first while it holds.
func (s *side) with(key string, beside *said) *said {
	if x := s.inForce(key, beside.readAt()); x != nil {
		return x
	}
	for _, x := range s.said[key] {
		if _, ok := together([]*said{x, beside}); ok {
			return x
		}
	}
	return nil
}

// together is the first stage at which all are in force; -1: from the start.
func together(all []*said) (int, bool) {
	from, until := -1, math.MaxInt
	for _, x := range all {
		from, until = max(from, x.from), min(until, x.until)
	}
	return from, from < until
}

// kindUnit is the unit a kind of a dimension is shown in: the dimension's own,
// but no wire gauge, which is no measure of differences.
func kindUnit(k quantity.Kind, own quantity.Unit) quantity.Unit {
	if own.IsZero() || own.Quanta() == nil {
		return quantity.Main(k)
	}
	return own
}
