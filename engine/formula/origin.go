package formula

import (
	"fmt"

	"canewright/engine/quantity"
)

// Places is what a Scope may tell besides: how places that distances are
// counted from lie to each other. It serves hints, and formulas that convert.
type Places interface {
	// Between finds the length that leads from one such place ("the butt") to
	// another ("the tip"), counted from near. back: distances from far are
	// counted towards near, as from the tip towards the butt; else they lead on,
	// away from near.
	Between(near, far string) (s Symbol, back, ok bool)
}

// origin is what a value brings along from the readings it comes of: the
// condition of the cane, and the place it is counted from.
//
// Condition: two values of one kind, one wet and one dry, are neither joined
// nor compared; cane swells. A product of unlike kinds has no condition (a
// density is a dry mass by a wet volume, say), and one of like kinds is
// refused as a sum is. wet(x) and dry(x) are how a formula says that it has
// converted x itself.
//
// Datum: a distance is +1 from its datum, less a distance -1, and the
// difference of two is a length from nowhere. Two distances from one datum may
// be added, for a mean is half their sum, and so may distances from the two
// ends; what they make is a length from nowhere. A comparison is a difference.
// Multiples and quotients are counted from nowhere too. length(x) is how a
// formula says that it means the length of a thing, such as a tube beside a
// piece, and no place on it.
type origin struct {
	condition string // "wet" or "dry"; "" fits both
	wetted    *operand
	datum     string // "" fits all
	counted   *operand
	way       int8 // of the datum: +1 or -1
}

// originOf a name. Only a length is counted from somewhere.
func originOf(y Symbol) origin {
	var out origin
	if y.Condition != "either" {
		out.condition = y.Condition
	}
	if y.Kind == quantity.Length && y.Datum != "" {
		out.datum, out.way = y.Datum, 1
	}
	return out
}

// noDatum is what is left where a value is no longer counted from anywhere.
func (o origin) noDatum() origin {
	o.datum, o.counted, o.way = "", nil, 0
	return o
}

// joining says what is done to two values, for messages.
type joining string

const (
	adding      joining = "they cannot be added"
	subtracting joining = "one cannot be taken from the other"
	comparing   joining = "they cannot be compared"
	multiplying joining = "they cannot be multiplied"
	dividing    joining = "they cannot be divided"
	answering   joining = "they cannot be answers of one question"
)

func standing(in string) joining { return joining("they cannot stand in one " + in) }

// sameCondition joins the conditions of two values of one kind, or reports that
// they do not fit.
func (c *checker) sameCondition(l, r value, do joining) (origin, bool) {
	switch {
	case l.condition == "":
		return r.origin, true
	case r.condition == "" || l.condition == r.condition:
		return l.origin, true
	}
	c.found.add(ConditionMismatch, l.from, r.to, "measure both alike, or convert one by your own measured pairs and say so: wet("+clip(first(l, r, "dry").text)+" * ratio of the pairs)",
		"%s is read %s and %s %s: %s", clip(l.wetted.text), l.condition, clip(r.wetted.text), r.condition, do)
	return origin{}, false
}

// first is the operand of the side that is in this condition.
func first(l, r value, condition string) *operand {
	if r.condition == condition {
		return r.wetted
	}
	return l.wetted
}

// joined is what two values that were added, subtracted, compared or chosen
// from bring along; ok is false where they do not fit and that was reported.
func (c *checker) joined(l, r value, do joining) (origin, bool) {
	out, ok := c.sameCondition(l, r, do)
	if !ok {
		return origin{}, false
	}
	out = out.noDatum()
	way := r.way
	if do == subtracting {
		way = -way
	}
	from := func(o origin, way int8) (origin, bool) {
		out.datum, out.counted, out.way = o.datum, o.counted, way
		return out, true
	}
	choosing := do != adding && do != subtracting
	switch {
	case l.datum == "":
		return from(r.origin, way)
	case r.datum == "":
		return from(l.origin, l.way)
	case l.datum == r.datum && (!choosing || l.way != way):
		// A difference, or twice the datum.
		return out, true
	case l.datum == r.datum:
		return from(l.origin, l.way)
	case choosing && l.way != way || !choosing && l.way == way:
		if s, back, known := c.leads(l.datum, r.datum); known && !choosing && !back && l.symbol != nil && l.symbol.slot == s.Slot {
			return from(l.origin, l.way) // from the butt to the first wire, and on from there
		}
		if s, back, known := c.leads(r.datum, l.datum); known && !choosing && !back && r.symbol != nil && r.symbol.slot == s.Slot {
			return from(r.origin, way)
		}
		return out, true
	}
	// The whole length less what is counted from its far end.
	if s, back, known := c.leads(l.datum, r.datum); known && do == subtracting && back && l.symbol != nil && l.symbol.slot == s.Slot {
		return from(l.origin, l.way)
	}
	if do == adding {
		do = subtracting // of one the sign was turned
	}
	c.found.add(DatumMismatch, l.from, r.to, c.conversion(l, r), "%s is counted from %s and %s from %s: %s", clip(l.counted.text), l.datum, clip(r.counted.text), r.datum, do)
	return origin{}, false
}

func (c *checker) leads(near, far string) (s Symbol, back, ok bool) {
	if p, can := c.scan.scope.(Places); can {
		return p.Between(near, far)
	}
	return Symbol{}, false, false
}

// conversion says how distances from two places are made alike.
func (c *checker) conversion(l, r value) string {
	for _, pair := range [][2]value{{l, r}, {r, l}} {
		near, far := pair[0], pair[1]
		s, back, ok := c.leads(near.datum, far.datum)
		if !ok || s.Name == far.counted.text {
			continue
		}
		sign := "+"
		if back {
			sign = "-"
		}
		x := clip(far.counted.text)
		return fmt.Sprintf("counted from %s, %s is %s %s %s, with %s as it is at that stage; where a length is meant and no place, write length(%s)", near.datum, x, s.Name, sign, x, s.Name, x)
	}
	return fmt.Sprintf("measure how far %s is from %s at that stage, and count both from there; where a length is meant and no place, write length(%s)", r.datum, l.datum, clip(r.counted.text))
}
