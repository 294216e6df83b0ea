package toolbox

import (
	"math"
	"math/big"
	"strings"

	"canewright/engine/quantity"
)

// moved writes a tolerance of lengths whose ends went somewhere else, in the
// form, unit and decimal point of the original, to one place more than was
// written. f takes and gives nm. The text reads back as a tolerance; false where
// it would not.
func moved(t quantity.Tolerance, f func(q float64) float64) (text string, now quantity.Tolerance, ok bool) {
	if t.Kind != quantity.Length {
		return "", now, false
	}
	u := t.Unit
	if u.Quanta() == nil {
		u = quantity.Main(quantity.Length)
	}
	most, least := decimals(u, t.Step)
	at := func(b quantity.Bound) int64 { return int64(math.Round(f(float64(b.Q)))) }
	num := func(q int64) string { return written(q, u, most, least) }
	unit := " " + u.Name()
	switch {
	case t.Nominal.Set && t.Low.Set && t.High.Set:
		n, lo, hi := at(t.Nominal), at(t.Low), at(t.High)
		up, down := hi-n, n-lo
		switch {
		case up == 0 && down == 0:
			return "", now, false
		case t.High.Q-t.Nominal.Q == t.Nominal.Q-t.Low.Q:
			text = num(n) + " ± " + num((hi-lo+1)/2) + unit
		default:
			text = num(n) + " +" + num(up) + " -" + num(down) + unit
		}
	case t.Low.Set && t.High.Set:
		text = num(at(t.Low)) + " .. " + num(at(t.High)) + unit
	case t.High.Set:
		text = "at most " + num(at(t.High)) + unit
	case t.Low.Set:
		text = "at least " + num(at(t.Low)) + unit
	default:
		return "", now, false
	}
	now, err := quantity.ParseTolerance(text, quantity.Style{Want: quantity.Length, Point: true})
	return text, now, err == nil
}

// decimals is how many places a number written to a step is given here at most,
// and how many it keeps: one more than it had, or enough for a fraction.
func decimals(u quantity.Unit, step int64) (most, least int) {
	if step <= 0 {
		step = 100_000 // a tenth of a mm is meant where nothing tells
	}
	per, _ := u.Quanta().Float64()
	exponent := math.Log10(per / float64(step))
	if math.Abs(exponent-math.Round(exponent)) > 1e-9 {
		// A fraction, or the step of another unit: 1/64 in is 0.015625 in.
		return min(max(int(math.Ceil(exponent)), 0)+3, 9), 0
	}
	least = min(max(int(math.Round(exponent)), 0), 8)
	return least + 1, least
}

// written is a length in a unit, with at most so many places: noughts at the end
// are left out, down to so many.
func written(q int64, u quantity.Unit, most, least int) string {
	s := new(big.Rat).Quo(big.NewRat(q, 1), u.Quanta()).FloatString(most)
	for strings.HasSuffix(s, "0") && len(s)-strings.IndexByte(s, '.')-1 > least {
		s = s[:len(s)-1]
	}
	s = strings.TrimSuffix(s, ".")
	if strings.Trim(s, "-0.") == "" {
		return strings.TrimPrefix(s, "-")
	}
	return s
}

// centre is the middle of what a tolerance asks for, in mm: its nominal, or the
// middle of its limits, or its one limit.
func centre(t quantity.Tolerance) float64 {
	switch {
	case t.Nominal.Set:
		return float64(t.Nominal.Q) * 1e-6
	case t.Low.Set && t.High.Set:
		return (float64(t.Low.Q) + float64(t.High.Q)) / 2 * 1e-6
	case t.High.Set:
		return float64(t.High.Q) * 1e-6
	}
	return float64(t.Low.Q) * 1e-6
}

// other is the other of mm and in, and how finely it is shown: 0.0001 in, or a
// thousandth of a mm.
func other(u quantity.Unit) (quantity.Unit, int64) {
	if n := u.Name(); n == "in" || n == "thou" {
		mm, _ := quantity.UnitNamed("mm")
		return mm, 1000
	}
	in, _ := quantity.UnitNamed("in")
	return in, 2540
}

// also is a tolerance in the other of mm and in.
func also(t quantity.Tolerance) string {
	u, step := other(t.Unit)
	num := func(b quantity.Bound) string { return quantity.Number(quantity.Value{Kind: t.Kind, Q: b.Q}, u, step) }
	switch {
	case t.Low.Set && t.High.Set:
		return num(t.Low) + " to " + num(t.High) + " " + u.Name()
	case t.High.Set:
		return "at most " + num(t.High) + " " + u.Name()
	}
	return "at least " + num(t.Low) + " " + u.Name()
}

// exact is a value in a unit, with all its places.
func exact(v quantity.Value, u quantity.Unit) string {
	if v.Kind != quantity.Length || u.Quanta() == nil {
		u = quantity.Main(v.Kind)
	}
	return quantity.Format(v, u, 0)
}
