package cane

import (
	"fmt"
	"math"
)

// Estimate is a value and its standard uncertainty, in one unit.
type Estimate struct{ Value, U float64 }

// Noise reports whether the value is under twice its standard uncertainty, and
// so may be nothing.
func (e Estimate) Noise() bool { return math.Abs(e.Value) < 2*e.U }

// Quadrants are four readings of like places on the two blades, in one unit.
// Left and right are as seen on each blade from its bark side; seen otherwise,
// side and twist change places.
type Quadrants struct{ ALeft, ARight, BLeft, BRight Estimate }

// Contrasts are what four quadrants say, in their unit.
type Contrasts struct {
	Mean  Estimate
	Blade Estimate // A less B
	Side  Estimate // left less right
	Twist Estimate // left less right on A, less the same on B, halved
}

// Contrasts of the four quadrants a, b (blade A left, right), c, d (blade B):
// blade (a+b-c-d)/2, side (a-b+c-d)/2, twist (a-b-c+d)/2, each with the standard
// error ½√Σu², which is s where each reading has s. shared is the standard
// uncertainty that all four have in common (a gauge's zero): it stays in the
// mean and drops out of the differences. The u of the readings must not hold it.
//
// Source: textbook, a two-by-two factorial; propagation by JCGM 100:2008, 5.2.
func (q Quadrants) Contrasts(shared float64) (Contrasts, error) {
	const doing = "contrasts of a blade"
	four := []input{{"shared uncertainty", shared, ""}}
	for _, e := range []Estimate{q.ALeft, q.ARight, q.BLeft, q.BRight} {
		four = append(four, input{"reading", e.Value, ""}, input{"uncertainty", e.U, ""})
		if e.U < 0 || shared < 0 {
			return Contrasts{}, fmt.Errorf("%s: an uncertainty is below zero", doing)
		}
	}
	if err := known(doing, four...); err != nil {
		return Contrasts{}, err
	}
	a, b, c, d := q.ALeft.Value, q.ARight.Value, q.BLeft.Value, q.BRight.Value
	own := math.Hypot(math.Hypot(q.ALeft.U, q.ARight.U), math.Hypot(q.BLeft.U, q.BRight.U))
	return Contrasts{
		Mean:  Estimate{(a + b + c + d) / 4, math.Hypot(own/4, shared)},
		Blade: Estimate{(a + b - c - d) / 2, own / 2},
		Side:  Estimate{(a - b + c - d) / 2, own / 2},
		Twist: Estimate{(a - b - c + d) / 2, own / 2},
	}, nil
}
