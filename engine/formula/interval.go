package formula

import "math"

// Interval is every number from Low to High; either may be infinite.
type Interval struct{ Low, High float64 }

// Everything is what a value lies in of which nothing is known.
func Everything() Interval { return Interval{math.Inf(-1), math.Inf(1)} }

func (v Interval) point() bool { return v.Low == v.High }

// meets reports that the two have a number in common.
func (v Interval) meets(w Interval) bool { return v.Low <= w.High && w.Low <= v.High }

func (v Interval) holds(x float64) bool { return v.Low <= x && x <= v.High }

func (v Interval) hull(w Interval) Interval {
	return Interval{min(v.Low, w.Low), max(v.High, w.High)}
}

func (v Interval) negative() Interval { return Interval{-v.High, -v.Low} }

// farthest and nearest are the largest and smallest distance from nought.
func (v Interval) farthest() float64 { return max(math.Abs(v.Low), math.Abs(v.High)) }

func (v Interval) nearest() float64 {
	if v.holds(0) {
		return 0
	}
	return min(math.Abs(v.Low), math.Abs(v.High))
}

// The bounds of a sum, product or quotient are rounded outward, but only where
// the floating result is not exact: whole quanta stay whole, so that a limit
// that is just reached is not lost. The rounding error of a sum is that of
// Knuth's two-sum (The Art of Computer Programming, vol. 2, 4.2.2, theorem B);
// that of a product and the remainder of a quotient come from one fused
// multiply-add, which IEEE 754-2008 rounds once.

func (v Interval) plus(w Interval) Interval {
	return Interval{sumBelow(v.Low, w.Low), -sumBelow(-v.High, -w.High)}
}

func (v Interval) times(w Interval) Interval {
	return corners(v, w, productBelow, func(a, b float64) float64 { return -productBelow(-a, b) })
}

// over is the quotient without division by nought, which has no value.
func (v Interval) over(w Interval) Interval {
	switch {
	case w.Low > 0 || w.High < 0:
		return corners(v, w, quotientBelow, func(a, b float64) float64 { return -quotientBelow(-a, b) })
	case w.High > 0 && w.Low == 0:
		switch {
		case v.Low >= 0:
			return Interval{quotientBelow(v.Low, w.High), math.Inf(1)}
		case v.High <= 0:
			return Interval{math.Inf(-1), -quotientBelow(-v.High, w.High)}
		}
	case w.Low < 0 && w.High == 0:
		return v.negative().over(w.negative())
	}
	return Everything()
}

func corners(v, w Interval, below, above func(a, b float64) float64) Interval {
	out := Interval{math.Inf(1), math.Inf(-1)}
	for _, a := range [2]float64{v.Low, v.High} {
		for _, b := range [2]float64{w.Low, w.High} {
			out.Low, out.High = min(out.Low, below(a, b)), max(out.High, above(a, b))
		}
	}
	return out
}

func (v Interval) abs() Interval {
	if v.Low >= 0 {
		return v
	}
	return Interval{v.nearest(), v.farthest()}
}

// smallest exponents: below these an error term may itself be too small for a
// float64, and the bound is widened in any case.
const (
	smallestProduct  = 0x1p-900
	smallestQuotient = 0x1p-500
)

// notAbove is the largest float64 below a result that is too large for one.
func notAbove(x float64, exact bool) float64 {
	if !exact && math.IsInf(x, 1) {
		return math.MaxFloat64
	}
	return x
}

func finite(a, b float64) bool { return !math.IsInf(a, 0) && !math.IsInf(b, 0) }

func sumBelow(a, b float64) float64 {
	s := a + b
	if s-s != 0 {
		if math.IsNaN(s) {
			return math.Inf(-1)
		}
		return notAbove(s, !finite(a, b))
	}
	part := s - a
	if e := (a - (s - part)) + (b - part); e < 0 || e != e {
		return math.Nextafter(s, math.Inf(-1))
	}
	return s
}

// productBelow: nought times infinity is nought, for the infinite bound stands
// for numbers that are finite.
func productBelow(a, b float64) float64 {
	if a == 0 || b == 0 {
		return 0
	}
	p := a * b
	if math.IsInf(p, 0) {
		return notAbove(p, !finite(a, b))
	}
	if math.Abs(p) < smallestProduct || math.FMA(a, b, -p) < 0 {
		return math.Nextafter(p, math.Inf(-1))
	}
	return p
}

// quotientBelow: b is not nought. A quotient of infinities may be as near to
// nought as it likes.
func quotientBelow(a, b float64) float64 {
	if a == 0 || math.IsInf(b, 0) {
		return 0
	}
	q := a / b
	if math.IsInf(q, 0) {
		return notAbove(q, !finite(a, b))
	}
	left := math.FMA(-q, b, a) // what q leaves of a
	if math.Abs(q) < smallestQuotient || math.Abs(a) < smallestQuotient || left != 0 && (left < 0) == (b > 0) || left != left {
		return math.Nextafter(q, math.Inf(-1))
	}
	return q
}
