package gauging

import (
	"math"

	"canewright/engine/quantity"
)

// Verdict: the side, exact, and how sure it is.
type Verdict struct {
	Side            quantity.Side
	OnLimit         bool    // the mean lies exactly on a limit
	Probability     float64 // of conformity (JCGM 106), whatever the side
	SideProbability float64 // that the true value lies on the stated side
	Sure            bool    // SideProbability reaches the demand
	Coarse          bool    // unsure by step and tool alone: repeats cannot settle it
	More            int     // readings to add that would make it sure if mean and s stay; 0: none needed, or none would do
}

// mostReadings: nobody takes more readings of one thing.
const mostReadings = 30

// Judge compares an estimate with a tolerance; sure is the demanded
// probability, such as 0.80. A value on a limit is inside and never sure,
// unless it has no uncertainty at all.
func Judge(e Estimate, t quantity.Tolerance, sure float64) Verdict {
	v := Verdict{Side: t.SideOfSum(e.Sum, e.N), OnLimit: t.OnLimit(e.Sum, e.N)}
	lo, hi := e.rooms(t)
	o := oddsOf(lo, hi, e.U, e.Freedom)
	v.Probability, v.SideProbability = o.inside, o.of(v.Side)
	if v.OnLimit && e.U > 0 {
		return v
	}
	if v.Sure = v.SideProbability >= sure; v.Sure {
		return v
	}
	if best := oddsOf(lo, hi, e.B, math.Inf(1)); best.of(v.Side) < sure {
		v.Coarse = true
		return v
	}
	for n := e.N + 1; n <= mostReadings; n++ {
		// What Of would find then: the readings' own scatter, the same s.
		next := e
		next.spread(float64(n), float64(n-1))
		if oddsOf(lo, hi, next.U, next.Freedom).of(v.Side) >= sure {
			v.More = n - e.N
			return v
		}
	}
	return v
}

func (o odds) of(s quantity.Side) float64 {
	switch s {
	case quantity.Below:
		return o.below
	case quantity.Above:
		return o.above
	}
	return o.inside
}

// rooms is how far the mean lies inside the low and the high limit, in quanta;
// negative outside, +Inf where there is no limit.
func (e Estimate) rooms(t quantity.Tolerance) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(1)
	if t.Low.Set {
		lo = -e.beyond(t.Low.Q)
	}
	if t.High.Set {
		hi = e.beyond(t.High.Q)
	}
	return lo, hi
}

// beyond is limit - mean, exact before the one division.
func (e Estimate) beyond(limit int64) float64 {
	if e.N > 512 { // n × limit might not fit
		return float64(limit) - e.Best
	}
	return float64(limit*int64(e.N)-e.Sum) / float64(e.N)
}
