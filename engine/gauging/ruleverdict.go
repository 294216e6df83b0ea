package gauging

import (
	"math"
	"math/rand/v2"
	"sort"

	"canewright/engine/quantity"
)

// RuleVerdict: whether a rule, or the target of a derived dimension, holds, and
// how sure that is.
type RuleVerdict struct {
	Side            quantity.Side // exact. A rule is Inside where it holds, else Below
	Holds           bool          // Side is Inside
	OnLimit         bool          // both sides are equal as far as can be told
	Probability     float64       // of conformity (JCGM 106), whatever the side
	SideProbability float64       // that the true value lies on the stated side
	Sure            bool
	Trials          bool // Probability comes of trials (MonteCarlo), for the formula is not straight here
	Dominating      int  // the input with the largest share of u²; -1 where nothing is uncertain
	Measure         int  // the input whose further readings would help most; -1 where none would
	More            int  // readings of Measure that would make it sure if means and scatter stay; 0: none needed, or none would do
	Coarse          bool // unsure by steps and tools alone: readings cannot settle it
}

// window is where a result conforms; ±Inf where it is open.
type window struct{ low, high float64 }

var aboveNought = window{0, math.Inf(1)}

// JudgeMargin says how sure a rule is by its margin, left minus right. holds is
// what the rule says itself: it is exact, and counts what lies on a limit.
func JudgeMargin(c Combined, holds bool, sure float64) RuleVerdict {
	v := c.verdict(ruleSide(holds), ruleOnLimit(c.Value, holds))
	c.judge(&v, aboveNought, sure)
	return v
}

func ruleSide(holds bool) quantity.Side {
	if holds {
		return quantity.Inside
	}
	return quantity.Below
}

// ruleOnLimit: a rule counts as equal what differs by less than it can tell.
func ruleOnLimit(margin float64, holds bool) bool {
	return margin == 0 || holds != (margin > 0)
}

// JudgeRule works out a rule's margin over its inputs and judges it. Where the
// margin is not straight around them, trials decide how sure it is.
func JudgeRule(margin func([]float64) (float64, error), inputs []Input, holds bool, sure float64) (RuleVerdict, Combined, error) {
	c, err := Propagate(margin, inputs)
	if err != nil {
		return RuleVerdict{}, Combined{}, err
	}
	v := c.verdict(ruleSide(holds), ruleOnLimit(c.Value, holds))
	return c.settle(v, margin, inputs, aboveNought, sure)
}

// JudgeTruth judges a rule that has no margin: truth is positive where it
// holds and negative where not. Trials decide how sure it is.
func JudgeTruth(truth func([]float64) (float64, error), inputs []Input, holds bool, sure float64) (RuleVerdict, error) {
	var c Combined
	v := c.verdict(ruleSide(holds), false)
	return v, tried(&v, truth, inputs, aboveNought, sure)
}

// JudgeDerived works out a derived dimension over its inputs and judges it
// against a tolerance of its kind. The side is that of its best value in whole
// quanta.
func JudgeDerived(number func([]float64) (float64, error), inputs []Input, t quantity.Tolerance, sure func(quantity.Side) float64) (RuleVerdict, Combined, error) {
	c, err := Propagate(number, inputs)
	if err != nil {
		return RuleVerdict{}, Combined{}, err
	}
	scale := t.Kind.Scale()
	q := int64(math.Floor(c.Value/scale + 0.5))
	w := window{math.Inf(-1), math.Inf(1)}
	if t.Low.Set {
		w.low = float64(t.Low.Q) * scale
	}
	if t.High.Set {
		w.high = float64(t.High.Q) * scale
	}
	v := c.verdict(t.Side(q), t.OnLimit(q, 1))
	return c.settle(v, number, inputs, w, sure(v.Side))
}

func (c *Combined) settle(v RuleVerdict, f func([]float64) (float64, error), inputs []Input, w window, sure float64) (RuleVerdict, Combined, error) {
	if !c.Nonlinear {
		c.judge(&v, w, sure)
		return v, *c, nil
	}
	if err := tried(&v, f, inputs, w, sure); err != nil {
		return RuleVerdict{}, *c, err
	}
	return v, *c, nil
}

// verdict without probabilities.
func (c *Combined) verdict(side quantity.Side, onLimit bool) RuleVerdict {
	v := RuleVerdict{Side: side, Holds: side == quantity.Inside, OnLimit: onLimit, Dominating: -1, Measure: -1}
	// Of equal ones the first, whatever rounding makes of them in other units.
	const tie = 1 + 1e-9
	most, widest := 0.0, 0.0
	for i, s := range c.Shares {
		if s.Share > most*tie {
			v.Dominating, most = i, s.Share
		}
		if s.Scatter > widest*tie {
			v.Measure, widest = i, s.Scatter
		}
	}
	return v
}

// with fills in what follows from the probabilities, and reports whether no
// more needs saying.
func (v *RuleVerdict) with(o odds, sure float64) bool {
	v.Probability, v.SideProbability = o.inside, o.of(v.Side)
	v.Sure = v.SideProbability >= sure && (!v.OnLimit || v.SideProbability == 1)
	return v.Sure || v.OnLimit
}

// judge by first order.
func (c *Combined) judge(v *RuleVerdict, w window, sure float64) {
	lo, hi := c.Value-w.low, w.high-c.Value
	if c.U == 0 { // the side is exact
		var o odds
		switch v.Side {
		case quantity.Inside:
			o.inside = 1
		case quantity.Below:
			o.below = 1
		case quantity.Above:
			o.above = 1
		}
		v.with(o, sure)
		return
	}
	if v.with(oddsOf(lo, hi, c.U, c.Freedom), sure) {
		return
	}
	still := square(c.U)
	for _, s := range c.Shares {
		still -= square(s.Scatter)
	}
	if v.Measure < 0 || oddsOf(lo, hi, math.Sqrt(max(still, 0)), math.Inf(1)).of(v.Side) < sure {
		v.Coarse = true
		return
	}
	v.More = c.more(v.Measure, v.Side, lo, hi, sure)
}

// more is how many more readings of input i would make the side sure, at most
// so many that mostReadings are taken; 0 where these would not do.
func (c *Combined) more(i int, side quantity.Side, lo, hi, sure float64) int {
	s := &c.Shares[i]
	fixed := max(square(c.U)-square(s.Scatter), 0)
	others := 0.0
	for j, o := range c.Shares {
		if j != i && o.Scatter > 0 {
			others += square(square(o.Scatter)) / o.Freedom
		}
	}
	// By halves: more readings never make it less sure. The normal distribution
	// asks for less than a t and is quick, so it is asked first.
	first := s.Readings + 1
	n := first + sort.Search(max(mostReadings+1-first, 0), func(k int) bool {
		n := float64(first + k)
		scatter := square(s.Scatter) * float64(s.Readings) / n
		u := math.Sqrt(fixed + scatter)
		return oddsOf(lo, hi, u, math.Inf(1)).of(side) >= sure &&
			oddsOf(lo, hi, u, square(u*u)/(others+square(scatter)/(n-1))).of(side) >= sure
	})
	if n > mostReadings {
		return 0
	}
	return n - s.Readings
}

// ruleTrials are enough for two digits of a probability (its own standard
// deviation is below 0.004) and take some milliseconds.
const ruleTrials = 20_000

// tried judges by trials. They start from the same seed each time, so the same
// readings get the same verdict.
func tried(v *RuleVerdict, f func([]float64) (float64, error), inputs []Input, w window, sure float64) error {
	v.Trials = true
	t, err := MonteCarlo(f, inputs, ruleTrials, rand.NewPCG(1, 2))
	if err != nil {
		return err
	}
	if v.with(t.odds(w), sure) {
		return nil
	}
	still := append([]Input(nil), inputs...)
	for i := range still {
		still[i].Scatter = 0
	}
	if t, err = MonteCarlo(f, still, ruleTrials, rand.NewPCG(1, 2)); err != nil {
		return err
	}
	v.Coarse = t.odds(w).of(v.Side) < sure
	return nil
}

// odds counts. A trial that could not be worked out lies on no side.
func (t *Trials) odds(w window) odds {
	var o odds
	one := 1 / float64(len(t.results)+t.Failed)
	inside, below, above := 0, 0, 0
	for _, y := range t.results {
		switch {
		case y < w.low:
			below++
		case y > w.high:
			above++
		default:
			inside++
		}
	}
	o.inside, o.below, o.above = float64(inside)*one, float64(below)*one, float64(above)*one
	return o
}
