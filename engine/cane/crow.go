package cane

import (
	"fmt"
	"math"
)

// Cents from one frequency to another (Hz): 1200 log2(b/a), above zero where b
// is the higher. Source: textbook.
func Cents(a, b float64) (float64, error) {
	if err := above("cents between", input{"frequency", a, "Hz"}, input{"frequency", b, "Hz"}); err != nil {
		return 0, err
	}
	// log1p keeps a small interval exact to its last digit.
	return 1200 / math.Ln2 * math.Log1p((b-a)/a), nil
}

// Hertz is the frequency (Hz) an interval (cents) above another: the inverse of
// Cents.
func Hertz(from, cents float64) (float64, error) {
	const doing = "frequency above"
	if err := above(doing, input{"frequency", from, "Hz"}); err != nil {
		return 0, err
	}
	if !(math.Abs(cents) <= 24000) {
		return 0, fmt.Errorf("%s: %.6g cents is beyond twenty octaves", doing, cents)
	}
	return from * math.Exp2(cents/1200), nil
}

// Warmth is how far (cents) a column of air rises when it warms from one
// temperature to another (°C): sound goes as the root of the absolute
// temperature, 600 log2. The crow of a bare reed need not follow.
//
// Source: textbook (ideal gas).
func Warmth(from, to float64) (float64, error) {
	const zero = 273.15 // °C of absolute zero, below freezing; SI definition
	for _, c := range []float64{from, to} {
		if !(c > -zero) || math.IsInf(c, 0) {
			return 0, fmt.Errorf("warmth in cents: %.6g °C is not a temperature", c)
		}
	}
	c, err := Cents(from+zero, to+zero)
	return c / 2, err
}
