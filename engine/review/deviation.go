package review

import (
	"math"

	"canewright/engine/dimension"
	"canewright/engine/quantity"
)

// Measure says how far a reading lies from what a target asks for, counted in
// half-widths of its tolerance: 0 is the nominal, 1 a limit, 2 as far beyond
// the limit again.
//
// The nominal is the one written, or the middle where only two limits are. The
// half-width is that of the side the reading lies on. Where that side has none
// (56.0 +0.5 -0 mm, below), the limit counts 1 at once, and what is beyond it is
// counted in half-widths of the other side; where neither has (a count: exactly
// 5), in last places as written.
//
// A target with one limit has no middle: inside counts 0. Beyond the limit it
// counts 1 and the distance in halves of the stretch from the limit to the end
// of what is plausible on the allowed side; where no plausible range is known,
// in last places as written.
//
// value is in quanta of the dimension's kind; it may be a mean.
func Measure(value float64, t quantity.Tolerance, plausible quantity.Tolerance) float64 {
	step := math.Max(float64(t.Step), 1)
	low, high := float64(t.Low.Q), float64(t.High.Q)
	switch {
	case t.Low.Set && t.High.Set:
		nominal := low + (high-low)/2
		if t.Nominal.Set {
			nominal = float64(t.Nominal.Q)
		}
		if value == nominal {
			return 0
		}
		half, other := high-nominal, nominal-low
		if value < nominal {
			half, other = other, half
		}
		away := math.Abs(value - nominal)
		switch {
		case half > 0:
			return away / half
		case other > 0:
			return 1 + away/other
		}
		return 1 + away/step
	case t.High.Set:
		if value <= high {
			return 0
		}
		return 1 + (value-high)/stretch(high, plausible.Low, plausible, t, step)
	case t.Low.Set:
		if value >= low {
			return 0
		}
		return 1 + (low-value)/stretch(low, plausible.High, plausible, t, step)
	}
	return 0
}

// stretch is half of the way from a single limit to the far end of what is
// plausible; the last place written where that is not known.
func stretch(limit float64, end quantity.Bound, plausible, t quantity.Tolerance, step float64) float64 {
	if end.Set && plausible.Kind == t.Kind {
		if half := math.Abs(limit-float64(end.Q)) / 2; half > 0 {
			return half
		}
	}
	return step
}

// side is where a mean lies, and the dimension's word for it.
func side(sum int64, n int, t quantity.Tolerance, d *dimension.Dimension) (s quantity.Side, word string) {
	switch s = t.SideOfSum(sum, n); s {
	case quantity.Above:
		return s, "too " + d.More
	case quantity.Below:
		return s, "too " + d.Less
	}
	return s, "inside"
}
