package comparison

import (
	"strings"

	"canewright/engine/quantity"
)

// What a number is written to: all its digits, or what a person reads at the
// bench, hundredths of a millimetre and the like.
const (
	exactly = iota
	atBench
)

// places that are read at the bench, in quanta: 0.01 mm, 1 s, 0.1 cents.
var places = map[quantity.Kind]int64{quantity.Length: 10_000, quantity.Time: 1000, quantity.Interval: 100_000, quantity.Pitch: 100_000}

// number writes a value without its unit.
func number(k quantity.Kind, q int64, u quantity.Unit, how int) string {
	v := quantity.Value{Kind: k, Q: q}
	place := int64(1)
	if how != exactly {
		place = places[k]
	}
	if place > 1 && (k != quantity.Length || u.Name() == "mm") {
		half := place / 2
		if q < 0 {
			half = -half
		}
		v.Q = (q + half) / place * place
	}
	return quantity.Number(v, u, 0)
}

// difference writes how far two values are apart, with its unit.
func difference(k quantity.Kind, q int64, u quantity.Unit, how int) string {
	d := k.Difference()
	if d != k || u.IsZero() && d != quantity.Time {
		u = quantity.Main(d)
	}
	s := number(d, q, u, how)
	if n := u.Name(); n != "" {
		s += " " + n
	}
	return s
}

// plus puts a sign before what is above nought.
func plus(s string) string {
	if s != "" && s[0] != '-' && strings.Trim(strings.SplitN(s, " ", 2)[0], "0.") != "" {
		return "+" + s
	}
	return s
}

// limits writes a range for a person, with its unit.
func limits(b band, u quantity.Unit) string {
	unit := ""
	if n := u.Name(); n != "" && b.kind != quantity.Pitch {
		unit = " " + n
	}
	show := func(q int64) string { return number(b.kind, q, u, atBench) }
	switch {
	case b.low.Set && b.high.Set && b.low.Q == b.high.Q:
		return show(b.low.Q) + unit
	case b.low.Set && b.high.Set:
		return show(b.low.Q) + " to " + show(b.high.Q) + unit
	case b.high.Set:
		return "at most " + show(b.high.Q) + unit
	case b.low.Set:
		return "at least " + show(b.low.Q) + unit
	}
	return "anything"
}
