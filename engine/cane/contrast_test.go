package cane

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// A two-by-two factorial: with four readings of one standard deviation s, each
// effect has the standard error s, and one under 2s is noise.
func TestContrastsOfEqualReadings(t *testing.T) {
	t.Parallel()
	const s = 0.01
	q := Quadrants{Estimate{0.50, s}, Estimate{0.52, s}, Estimate{0.47, s}, Estimate{0.47, s}}
	c, err := q.Contrasts(0)
	if err != nil {
		t.Fatal(err)
	}
	within(t, "mean", c.Mean.Value, 0.49, 1e-15)
	within(t, "blade", c.Blade.Value, 0.04, 1e-15)
	within(t, "side", c.Side.Value, -0.01, 1e-15)
	within(t, "twist", c.Twist.Value, -0.01, 1e-15)
	for _, e := range []Estimate{c.Blade, c.Side, c.Twist} {
		within(t, "standard error", e.U, s, 1e-17)
	}
	within(t, "standard error of the mean", c.Mean.U, s/2, 1e-17)
	if c.Blade.Noise() || !c.Side.Noise() || !c.Twist.Noise() {
		t.Error("0.04 is no noise at 0.01, 0.01 is")
	}
}

// JCGM 100:2008, 5.2: each output's variance is the sum of squared sensitivities
// (by differences here) over the independent parts, and the squared sum of
// sensitivities times the shared part.
func TestContrastsPropagate(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(r *rapid.T) {
		var q Quadrants
		fields := []*Estimate{&q.ALeft, &q.ARight, &q.BLeft, &q.BRight}
		for _, f := range fields {
			*f = Estimate{rapid.Float64Range(0.1, 1).Draw(r, "value"), rapid.Float64Range(0, 0.05).Draw(r, "u")}
		}
		shared := rapid.Float64Range(0, 0.05).Draw(r, "shared")
		c, err := q.Contrasts(shared)
		if err != nil {
			r.Fatal(err)
		}
		for _, pick := range []func(Contrasts) Estimate{
			func(c Contrasts) Estimate { return c.Mean }, func(c Contrasts) Estimate { return c.Blade },
			func(c Contrasts) Estimate { return c.Side }, func(c Contrasts) Estimate { return c.Twist },
		} {
			var own, all float64
			for _, f := range fields {
				old := *f
				f.Value += 0.5
				moved, err := q.Contrasts(shared)
				if err != nil {
					r.Fatal(err)
				}
				*f = old
				d := (pick(moved).Value - pick(c).Value) / 0.5
				own, all = own+d*d*old.U*old.U, all+d
			}
			if want := math.Sqrt(own + all*all*shared*shared); math.Abs(pick(c).U-want) > 1e-12 {
				r.Fatalf("u = %v, want %v", pick(c).U, want)
			}
		}
		// The four numbers are the four readings turned: nothing is lost.
		back := c.Mean.Value + (c.Blade.Value+c.Side.Value+c.Twist.Value)/2
		if math.Abs(back-q.ALeft.Value) > 1e-12 {
			r.Fatalf("a comes back as %v, was %v", back, q.ALeft.Value)
		}
	})
	_, err := Quadrants{ALeft: Estimate{1, -1}}.Contrasts(0)
	refused(t, "an uncertainty below zero", err, false)
	_, err = Quadrants{}.Contrasts(-1)
	refused(t, "a shared one below zero", err, false)
	_, err = Quadrants{BRight: Estimate{math.NaN(), 0}}.Contrasts(0)
	refused(t, "a reading of NaN", err, false)
}
