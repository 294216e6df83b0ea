package cane

import (
	"fmt"
	"math"
)

// FromOtherEnd is a distance (mm) counted from the butt turned into one from
// the tip or the fold, or back: L - x, with L the whole length at that stage
// (mm). It is an error if the place is not on the piece.
//
// Source: arithmetic. Take the length of the same stage and the same condition.
func FromOtherEnd(length, at float64) (float64, error) {
	const doing = "count from the other end"
	if err := above(doing, mm("length", length)); err != nil {
		return 0, err
	}
	if !(at >= 0 && at <= length) {
		return 0, fmt.Errorf("%s: %.6g mm is not on a piece %.6g mm long", doing, at, length)
	}
	return length - at, nil
}

// FromOtherEndU is FromOtherEnd with standard uncertainties: what the two were
// read with apart adds, √(u_L² + u_x²). shared is the part both have in common (a
// ruler's zero): it drops out, and must not be in the u of the two.
//
// Source: JCGM 100:2008, 5.2.
func FromOtherEndU(length, at Estimate, shared float64) (Estimate, error) {
	for _, u := range []float64{length.U, at.U, shared} {
		if !(u >= 0) || math.IsInf(u, 0) {
			return Estimate{}, fmt.Errorf("count from the other end: uncertainty %.6g mm is not a number from zero up", u)
		}
	}
	v, err := FromOtherEnd(length.Value, at.Value)
	return Estimate{v, math.Hypot(length.U, at.U)}, err
}

// Disagree reports whether two columns of a page, printed to steps stepA and
// stepB (one unit for all four), cannot mean the same length: |a - b| is more
// than the half-steps together. strict allows only the finer half-step.
//
// Source: own rule. A fraction in 16ths of an inch has the step 1/16 in.
func Disagree(a, stepA, b, stepB float64, strict bool) bool {
	room := (stepA + stepB) / 2
	if strict {
		room = min(stepA, stepB) / 2
	}
	return math.Abs(a-b) > room
}

// SixtyFourths is the number of 64ths of an inch nearest to a length (mm), and
// what it leaves out (mm, at most 1/128 in). The inch is 25.4 mm exactly.
//
// Source: NIST SP 811 (2008), B.6.
func SixtyFourths(length float64) (n int, left float64, err error) {
	const step = 25.4 / 64
	if !(math.Abs(length) <= 1e6) {
		return 0, 0, fmt.Errorf("sixty-fourths of an inch: %.6g mm is not a length to measure", length)
	}
	n = int(math.Round(length / step))
	return n, length - float64(n)*step, nil
}
