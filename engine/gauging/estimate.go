package gauging

import (
	"math"

	"canewright/engine/quantity"
	"canewright/engine/tool"
)

// Estimate is the best value and its standard uncertainty (JCGM 100).
type Estimate struct {
	N       int
	Kind    quantity.Kind
	Sum     int64   // exact sum of the readings in quanta: with N it decides the side
	Best    float64 // mean, quanta
	S       float64 // sample standard deviation used, quanta; 0 when there is none
	Own     bool    // S is the player's own repeatability, not that of these readings
	A, B    float64 // standard uncertainty from scatter (s/√n) and from step and tool
	U       float64 // √(A²+B²)
	Freedom float64 // effective degrees of freedom (Welch–Satterthwaite); +Inf when A is 0
}

// Repeatability is the player's own standard deviation with a tool, if known.
type Repeatability struct {
	S float64 // quanta
	N int     // readings it rests on; fewer than two say nothing
}

// Of makes an estimate of the readings (one kind, at least one). own may be
// nil; it serves a single reading, which has no scatter of its own.
func Of(rs []quantity.Entered, t tool.Tool, own *Repeatability) Estimate {
	e := Estimate{N: len(rs), Kind: rs[0].Value.Kind, Freedom: math.Inf(1)}
	for _, r := range rs {
		e.Sum += r.Value.Q
	}
	n := float64(e.N)
	e.Best = float64(e.Sum) / n
	freedom := n - 1
	switch {
	case e.N > 1:
		squares := 0.0
		for _, r := range rs {
			// n times the deviation is a whole number: nothing cancels.
			d := float64(r.Value.Q*int64(e.N)-e.Sum) / n
			squares += d * d
		}
		e.S = math.Sqrt(squares / (n - 1))
	case own != nil && own.N > 1:
		e.S, e.Own, freedom = own.S, true, float64(own.N-1)
	}
	step := 0.0
	if e.Kind != quantity.Count && e.Kind != quantity.Score { // whole by nature, not by the tool
		step = stepOf(rs, t.Step)
	}
	e.B = math.Sqrt(step*step/12 + square(ownError(e.Kind, t.Error)))
	e.spread(n, freedom)
	return e
}

// spread sets A, U and the degrees of freedom for n readings whose S has this
// freedom.
func (e *Estimate) spread(n, freedom float64) {
	e.A, e.U, e.Freedom = 0, e.B, math.Inf(1)
	if e.S > 0 {
		e.A = e.S / math.Sqrt(n)
		e.U = math.Hypot(e.A, e.B)
		// ν = u⁴ / (A⁴/ν(A)); the step and the tool are taken as known.
		e.Freedom = square(square(e.U/e.A)) * freedom
	}
}

// stepOf is the tool's step, else the coarsest last digit typed; 0 if neither
// is known.
func stepOf(rs []quantity.Entered, step quantity.Value) float64 {
	if step.Q > 0 && reads(rs[0].Value.Kind, step) {
		return float64(step.Q)
	}
	coarsest := int64(0)
	for _, r := range rs {
		coarsest = max(coarsest, r.Step)
	}
	return float64(coarsest)
}

func ownError(k quantity.Kind, err quantity.Value) float64 {
	if !reads(k, err) {
		return 0
	}
	return float64(err.Q)
}

// reads: v is a difference of values of kind k, as steps and errors are. A tool
// without readings has the zero Kind, which is also that of ratios; its Q is 0.
func reads(k quantity.Kind, v quantity.Value) bool {
	return v.Kind == k || v.Kind.Difference() == k.Difference()
}

func square(x float64) float64 { return x * x }
