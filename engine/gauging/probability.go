package gauging

import (
	"math"

	"gonum.org/v1/gonum/mathext"
)

// odds are the probabilities of the three sides; they add up to 1.
type odds struct{ inside, below, above float64 }

// oddsOf: the true value is best + u·T, T Student's t with this freedom (normal
// where it is +Inf). lo is best - low limit, hi is high limit - best; +Inf where
// a limit is open. Without uncertainty the side is certain, a limit inside.
func oddsOf(lo, hi, u, freedom float64) odds {
	if u == 0 {
		switch {
		case lo < 0:
			return odds{below: 1}
		case hi < 0:
			return odds{above: 1}
		}
		return odds{inside: 1}
	}
	o := odds{below: lowerTail(-lo/u, freedom), above: lowerTail(-hi/u, freedom)}
	// Each case subtracts small numbers, so that a slight chance keeps its
	// digits, and mirrored cases give the same number.
	switch {
	case lo < 0:
		o.inside = lowerTail(lo/u, freedom) - o.above
	case hi < 0:
		o.inside = lowerTail(hi/u, freedom) - o.below
	default:
		o.inside = 1 - (o.below + o.above)
	}
	o.inside = min(max(o.inside, 0), 1)
	return o
}

// almostNormal: with more degrees of freedom t and normal agree to 1e-8.
const almostNormal = 1e7

// lowerTail is P(T <= z).
func lowerTail(z, freedom float64) float64 {
	switch {
	case math.IsInf(z, -1):
		return 0
	case math.IsInf(z, 1):
		return 1
	case freedom > almostNormal:
		return math.Erfc(-z/math.Sqrt2) / 2
	}
	// P(T <= -|z|) = I(ν/(ν+z²); ν/2, 1/2) / 2
	tail := mathext.RegIncBeta(freedom/2, 0.5, freedom/(freedom+z*z)) / 2
	if z > 0 {
		return 1 - tail
	}
	return tail
}
