package statistics

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

// Line is a straight line through the origin, fitted by least squares: y is
// Slope × x and a scatter that is the same for every x.
//
// Source: textbook (linear regression without a constant term), with the
// interval for one more value.
type Line struct {
	Slope   float64
	SE      float64 // standard error of Slope
	S       float64 // standard deviation of the residuals
	N       int     // pairs
	Largest float64 // the largest x seen
	squares float64 // Σx²
}

// Interval is a value between two ends.
type Interval struct{ Low, At, High float64 }

// Through fits a line through the origin; x and y are pairs, at least two.
func Through(x, y []float64) (Line, error) {
	const doing = "fit a line through the origin"
	switch {
	case len(x) != len(y):
		return Line{}, fmt.Errorf("%s: %d values of x, %d of y", doing, len(x), len(y))
	case len(x) < 2:
		return Line{}, fmt.Errorf("%s: at least two pairs are needed, not %d", doing, len(x))
	}
	l := Line{N: len(x), Largest: math.Inf(-1)}
	for i := range x {
		if bad(x[i]) || bad(y[i]) {
			return Line{}, fmt.Errorf("%s: pair %d is no number", doing, i+1)
		}
		l.squares += x[i] * x[i]
		l.Largest = max(l.Largest, x[i])
	}
	if l.squares == 0 {
		return Line{}, fmt.Errorf("%s: every x is nought", doing)
	}
	_, l.Slope = stat.LinearRegression(x, y, nil, true)
	residual := 0.0
	for i := range x {
		d := y[i] - l.Slope*x[i]
		residual += d * d
	}
	l.S = math.Sqrt(residual / float64(l.N-1))
	l.SE = l.S / math.Sqrt(l.squares)
	if bad(l.Slope) || bad(l.S) || bad(l.squares) {
		return Line{}, fmt.Errorf("%s: the numbers are too large", doing)
	}
	return l, nil
}

func bad(x float64) bool { return math.IsNaN(x) || math.IsInf(x, 0) }

// Predict is where one more y will lie at x, with probability p:
// b x ± t s √(1 + x²/Σx²), t of n - 1 degrees of freedom.
func (l Line) Predict(x, p float64) Interval {
	at := l.Slope * x
	half := l.factor(p) * l.S * math.Sqrt(1+x*x/l.squares)
	return Interval{at - half, at, at + half}
}

// Needed is Predict read the other way: the x for a wanted y. At Low the upper
// end of Predict has come to y, at High the lower end has. ok is false where
// the slope may be nought, so that no x is certain to do; Low may be below
// nought, where y is within the scatter.
func (l Line) Needed(y, p float64) (_ Interval, ok bool) {
	t := l.factor(p)
	// (b² - t²s²/Σx²) x² - 2 b y x + y² - t²s² = 0: both ends in one equation.
	a := l.Slope*l.Slope - t*t*l.S*l.S/l.squares
	if l.Slope <= 0 || a <= 0 || bad(y) {
		return Interval{}, false
	}
	// The discriminant, b²y² - a(y² - t²s²), has no difference of large numbers
	// in this form.
	root := t * l.S * math.Sqrt(max(0, y*y/l.squares+a))
	at := y / l.Slope
	// Without scatter the three are one; rounding must not put them out of order.
	return Interval{min(at, (l.Slope*y-root)/a), at, max(at, (l.Slope*y+root)/a)}, true
}

// factor is Student's t for an interval that holds p of all values.
func (l Line) factor(p float64) float64 {
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: float64(l.N - 1)}.Quantile((1 + p) / 2)
}
