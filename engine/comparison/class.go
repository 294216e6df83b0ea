package comparison

import (
	"cmp"
	"math/big"
)

// Class is how two statements of one thing stand to each other.
type Class string

const (
	Same Class = "same"
	// Rounding: each number of the one is nearer to that of the other than half of
	// the last places both are printed to, added up, and the limits, where there
	// are any, have values in common.
	Rounding Class = "rounding only"
	// Overlapping: the middle of one lies within the limits of the other.
	Overlapping Class = "overlapping"
	// Real: the middle of each lies outside the limits of the other.
	Real          Class = "real"
	NotComparable Class = "not comparable"
	OnlyA         Class = "only in A"
	OnlyB         Class = "only in B"
)

// rank: what is told first.
func (c Class) rank() int {
	for i, x := range []Class{Real, NotComparable, Overlapping, Rounding, OnlyA, OnlyB, Same} {
		if c == x {
			return i
		}
	}
	return -1
}

// classify judges two statements of one kind. Limits count as inside.
func classify(a, b band) Class {
	switch {
	case a.low == b.low && a.high == b.high && a.middle == b.middle:
		return Same
	case a.low.Set == b.low.Set && a.high.Set == b.high.Set && (meet(a, b) || a.point() && b.point()) &&
		printedAlike(a.middle.Q, b.middle.Q, a.steps.Nominal, b.steps.Nominal) &&
		(!a.low.Set || printedAlike(a.low.Q, b.low.Q, a.steps.Low, b.steps.Low)) &&
		(!a.high.Set || printedAlike(a.high.Q, b.high.Q, a.steps.High, b.steps.High)):
		return Rounding
	case !b.holds(a.middle.Q) && !a.holds(b.middle.Q):
		return Real
	}
	return Overlapping
}

// point: a statement without a tolerance.
func (b band) point() bool { return b.low.Set && b.high.Set && b.low.Q == b.high.Q }

// printedAlike: nearer to each other than the sum of the half steps, so that one
// number may stand behind both. At the sum itself it cannot: half-way between
// two marks is rounded to one of them, and 8 mm is not 9 mm.
func printedAlike(a, b, stepA, stepB int64) bool {
	apart := a - b
	if apart < 0 {
		apart = -apart
	}
	return apart == 0 || 2*apart < stepA+stepB
}

// meet: some value is inside both.
func meet(a, b band) bool {
	return !(a.high.Set && b.low.Set && a.high.Q < b.low.Q) && !(b.high.Set && a.low.Set && b.high.Q < a.low.Q)
}

// Share is what two ranges have in common.
type Share struct {
	Low  string `json:"low,omitempty"` // in the row's unit; "" where there is no limit
	High string `json:"high,omitempty"`
	// In hundredths of the range of A and of B, rounded half up; nil where that
	// has no two limits, or none between them.
	OfA *int `json:"percent_of_a,omitempty"`
	OfB *int `json:"percent_of_b,omitempty"`

	text string
}

func shared(a, b band, show func(int64) string, span func(low, high string) string) *Share {
	if !meet(a, b) {
		return nil
	}
	low, high := a.low, a.high
	if !low.Set || b.low.Set && b.low.Q > low.Q {
		low = b.low
	}
	if !high.Set || b.high.Set && b.high.Q < high.Q {
		high = b.high
	}
	s := &Share{}
	if low.Set {
		s.Low = show(low.Q)
	}
	if high.Set {
		s.High = show(high.Q)
	}
	s.text = span(s.Low, s.High)
	if low.Set && high.Set {
		s.OfA, s.OfB = a.percent(high.Q-low.Q), b.percent(high.Q-low.Q)
	}
	return s
}

// percent of the band's width, halves up; nil where it has none.
func (b band) percent(of int64) *int {
	if !b.low.Set || !b.high.Set || b.high.Q <= b.low.Q {
		return nil
	}
	r := new(big.Rat).Mul(big.NewRat(of, b.high.Q-b.low.Q), big.NewRat(100, 1))
	r.Add(r, big.NewRat(1, 2))
	n := int(new(big.Int).Div(r.Num(), r.Denom()).Int64())
	return &n
}

// graver is the class that is told first.
func graver(a, b Class) Class {
	if cmp.Compare(a.rank(), b.rank()) <= 0 {
		return a
	}
	return b
}
