package comparison

import "canewright/engine/quantity"

// band is what a statement allows: limits, what it aims at, and how fine each
// number is printed. In quanta of its kind.
type band struct {
	kind              quantity.Kind
	low, high, middle quantity.Bound
	steps             quantity.LastPlaces
}

func (b band) holds(q int64) bool {
	return !(b.low.Set && q < b.low.Q) && !(b.high.Set && q > b.high.Q)
}

// bandOf a tolerance. It aims at its nominal; without one at the middle of its
// limits, or at its one limit.
func bandOf(t quantity.Tolerance) band {
	b := band{t.Kind, t.Low, t.High, t.Nominal, t.LastPlaces()}
	b.aim()
	return b
}

func (b *band) aim() {
	switch {
	case b.middle.Set:
	case b.low.Set && b.high.Set:
		b.middle = quantity.Bound{Q: b.low.Q + (b.high.Q-b.low.Q)/2, Set: true}
	case b.low.Set:
		b.middle = b.low
	case b.high.Set:
		b.middle = b.high
	}
}

// pointOf is a statement without a tolerance.
func pointOf(e quantity.Entered) band {
	at := quantity.Bound{Q: e.Value.Q, Set: true}
	return band{e.Value.Kind, at, at, at, quantity.LastPlaces{Nominal: e.Step, Low: e.Step, High: e.Step}}
}

// term is a band that is added, or taken away.
type term struct {
	band
	way int64 // +1, -1
}

// sum of bands and a constant by interval arithmetic: the limits are those that
// all terms together can reach, the last places add up.
func sum(kind quantity.Kind, constant int64, terms []term) band {
	at := quantity.Bound{Q: constant, Set: true}
	out := band{kind: kind, low: at, high: at, middle: at}
	join := func(to *quantity.Bound, from quantity.Bound, way int64) {
		to.Set = to.Set && from.Set
		to.Q += way * from.Q
	}
	for _, t := range terms {
		low, high, lowStep, highStep := t.low, t.high, t.steps.Low, t.steps.High
		if t.way < 0 {
			low, high, lowStep, highStep = high, low, highStep, lowStep
		}
		join(&out.low, low, t.way)
		join(&out.high, high, t.way)
		join(&out.middle, t.middle, t.way)
		out.steps.Nominal += t.steps.Nominal
		out.steps.Low += lowStep
		out.steps.High += highStep
	}
	for _, b := range []*quantity.Bound{&out.low, &out.high, &out.middle} {
		if !b.Set {
			b.Q = 0
		}
	}
	return out
}
