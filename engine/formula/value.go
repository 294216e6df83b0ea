package formula

import (
	"fmt"

	"canewright/engine/quantity"
)

// value is what is known of a node before anything is worked out.
type value struct {
	from, to int // runes
	kind     quantity.Kind
	truth    bool // yes or no; kind means nothing
	bare     bool // made of numbers without a unit only
	// exact: two such values are compared as they are. A leaf is; sums and
	// whole multiples of whole quanta are; a quotient is not.
	exact   bool
	whole   bool     // a whole number without dimension
	scaled  bool     // holds a product; a product of it may outgrow whole floats
	literal *operand // a single literal, which may be read as another kind
	minus   bool     // the literal has a sign before it
	symbol  *operand // a single name
	bad     bool     // reported already: say nothing more
	origin
}

func leaf(o *operand) value {
	v := value{from: o.from, to: o.to, kind: o.kind, bare: o.bare, exact: true, whole: o.whole, bad: o.unknown}
	if o.literal {
		v.literal = o
	} else {
		v.symbol, v.origin = o, o.origin
		v.wetted, v.counted = o, o // meaningless where there is no condition, no datum
	}
	return v
}

// power is the sum of the exponents without their signs: 1 for a base kind.
func power(k quantity.Kind) int {
	n := 0
	for _, e := range k.Exp {
		n += int(max(e, -e))
	}
	return n
}

// highest exponent that means anything: a section modulus is a length to the
// third, a second moment of area to the fourth.
const highestPower = 12

// product is the kind of l × r, or of l ÷ r.
func product(l, r value, divide bool) (k quantity.Kind, ok bool) {
	for i := range k.Exp {
		e := int(l.kind.Exp[i])
		if divide {
			e -= int(r.kind.Exp[i])
		} else {
			e += int(r.kind.Exp[i])
		}
		if e > highestPower || e < -highestPower {
			return k, false
		}
		k.Exp[i] = int8(e)
	}
	if k.IsPlain() && l.kind.IsPlain() {
		// Half a humidity is a humidity; half a count is none.
		switch {
		case r.bare && !(divide && l.kind == quantity.Count):
			k = l.kind
		case l.bare && !divide:
			k = r.kind
		}
	}
	return k, true
}

// alike reports whether two values may stand in one sum or comparison, and of
// which kind they are together. Plain kinds differ in units only.
func alike(l, r value) (quantity.Kind, bool) {
	switch {
	case l.truth || r.truth:
		return quantity.Kind{}, l.truth == r.truth
	case l.kind.IsPlain() && r.kind.IsPlain():
		switch {
		case l.bare || l.kind == r.kind:
			return r.kind, true
		case r.bare:
			return l.kind, true
		}
		return quantity.Ratio, true
	}
	return l.kind, l.kind == r.kind
}

// slack is how far from a limit still counts as on it: half a quantum, so that
// thirds and roots land on the limit; for plain kinds half of their 1e-9, or
// what rounding leaves of large ones; for products of kinds 1e-12 of the larger
// side.
func slack(k quantity.Kind) (absolute, relative float64) {
	switch {
	case k.IsPlain():
		return 0.5e-9, 1e-12
	case power(k) == 1:
		return 0.5, 0
	}
	return 0, 1e-12
}

// String is how messages name a value.
func (v value) String() string {
	switch {
	case v.truth:
		return "a yes or no"
	case v.bare:
		return "a bare number"
	}
	s := v.kind.String()
	switch s[0] {
	case 'a', 'e', 'i', 'o', 'u':
		return "an " + s
	}
	return "a " + s
}

// advice says how to mend a pair of unlike values.
func advice(l, r value) (code, hint string) {
	if r.bare {
		l, r = r, l
	}
	switch {
	case l.truth || r.truth:
		return UnitMismatch, "join questions with and, or; number each side of a comparison"
	case l.bare && l.literal != nil && r.kind == quantity.Pitch:
		return MissingUnit, "write a note or its frequency, as in F4 or 349.2 Hz"
	case l.bare && !r.kind.IsPlain():
		n := "1"
		if l.literal != nil {
			n = l.literal.text
		}
		if u := quantity.Main(r.kind).Name(); u != "" {
			return MissingUnit, fmt.Sprintf("write the unit, as in %s %s", clip(n), u)
		}
		return MissingUnit, "write the unit behind the number"
	case l.kind.Point != r.kind.Point && l.kind.Exp == r.kind.Exp:
		if l.kind.Exp == quantity.TempDiff.Exp {
			return UnitMismatch, "a difference of temperatures is written in K"
		}
		return UnitMismatch, "take a note away first: its distance in cents is then left"
	case l.kind == quantity.Frequency && r.kind.Exp == quantity.Interval.Exp || r.kind == quantity.Frequency && l.kind.Exp == quantity.Interval.Exp:
		return UnitMismatch, "compare frequencies with frequencies, and pitches with notes"
	}
	return UnitMismatch, ""
}
