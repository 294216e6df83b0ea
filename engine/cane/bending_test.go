package cane

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"
	"pgregory.net/rapid"
)

// A textbook problem (homeworksource.com, 1087714): 300 N on a span of 44 mm, 11
// mm wide, 5.3 mm thick: 64.08 MPa.
func TestThreePointStressAsPublished(t *testing.T) {
	t.Parallel()
	s := must[float64](t)(ThreePointStress(300, 44, 11, 5.3))
	within(t, "stress", s, 64.08, 5e-3)
	within(t, "stress, more digits", s, 64.0797, 5e-5)
}

// Flexural modulus L³m/4bd³ (enacademic.com, Three point flexural test) is 48EI/L³
// with I = bd³/12.
func TestModulusOfAFlatStrip(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(r *rapid.T) {
		span := rapid.Float64Range(20, 120).Draw(r, "span")
		width := rapid.Float64Range(3, 20).Draw(r, "width")
		thickness := rapid.Float64Range(0.3, 3).Draw(r, "thickness")
		slope := rapid.Float64Range(0.01, 100).Draw(r, "slope")
		i, err := FlatStrip(width, thickness)
		if err != nil {
			r.Fatal(err)
		}
		e, err := ThreePoint(slope, span, i)
		if err != nil {
			r.Fatal(err)
		}
		if want := slope * math.Pow(span, 3) / (4 * width * math.Pow(thickness, 3)); math.Abs(e-want) > 1e-12*want {
			r.Fatalf("E = %v, want %v", e, want)
		}
		back, err := ThreePointSlope(e, span, i)
		if err != nil || math.Abs(back-slope) > 1e-12*slope {
			r.Fatalf("slope %v comes back as %v (%v)", slope, back, err)
		}
		// Half the span held in the middle, half the load at its end: the same.
		held, err := Cantilever(slope/2, span/2, i)
		if err != nil || math.Abs(held-e) > 1e-12*e {
			r.Fatalf("held %v (%v), laid %v", held, err, e)
		}
	})
}

// Reference: the beam's own equation EIw″ = M, the deflection as the work of the
// load, ∫M²/EI, by gonum's quadrature.
func TestBeamsAgainstTheWorkOfTheLoad(t *testing.T) {
	t.Parallel()
	const modulus, second, span = 8000.0, 11.6, 60.0
	laid := 2 * quad.Fixed(func(x float64) float64 { return x / 2 * x / 2 / (modulus * second) }, 0, span/2, 10, nil, 0)
	near(t, "laid", must[float64](t)(ThreePoint(1/laid, span, second)), modulus, 1e-12)
	held := quad.Fixed(func(x float64) float64 { return x * x / (modulus * second) }, 0, span, 10, nil, 0)
	near(t, "held", must[float64](t)(Cantilever(1/held, span, second)), modulus, 1e-12)
}

// JCGM 100:2008, 5.1.6: for a product of powers the relative uncertainties add in
// squares, each times its power. The powers come from the formula by differences.
func TestModulusUHasThePowersOfTheFormula(t *testing.T) {
	t.Parallel()
	// force, deflection, span, width, thickness
	at := [5]float64{3, 0.5, 60, 14, 1.2}
	value := func(x [5]float64) float64 {
		i := must[float64](t)(FlatStrip(x[3], x[4]))
		return must[float64](t)(ThreePoint(x[0]/x[1], x[2], i))
	}
	u := [5]float64{0.01, 0.02, 0.005, 0.003, 0.008}
	sum := 0.0
	for i := range at {
		up, down := at, at
		up[i], down[i] = at[i]*(1+1e-5), at[i]*(1-1e-5)
		power := (math.Log(value(up)) - math.Log(value(down))) / 2e-5
		sum += power * power * u[i] * u[i]
	}
	near(t, "relative u", ModulusU(u[0], u[1], u[2], u[3], u[4]), math.Sqrt(sum), 1e-8)
}

// Worked example: 0.01 mm on 0.10 mm is a third stiffer (+33 %).
func TestThicknessCubed(t *testing.T) {
	t.Parallel()
	r := must[float64](t)(ThicknessCubed(0.10, 0.11))
	within(t, "gain", r, 1.33, 5e-3)
	within(t, "gain, exact", r, 1.331, 1e-12)
	flat := must[float64](t)(FlatStrip(15, 0.11)) / must[float64](t)(FlatStrip(15, 0.10))
	within(t, "as a strip", r, flat, 1e-12)
}

func TestBendingRefuses(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		what string
		run  func() (float64, error)
	}{
		{"a slope of zero", func() (float64, error) { return ThreePoint(0, 60, 11) }},
		{"a span of zero", func() (float64, error) { return Cantilever(1, 0, 11) }},
		{"no section", func() (float64, error) { return ThreePointSlope(8000, 60, 0) }},
		{"a modulus of NaN", func() (float64, error) { return ThreePointSlope(math.NaN(), 60, 11) }},
		{"no thickness under stress", func() (float64, error) { return ThreePointStress(1, 60, 11, 0) }},
		{"a thickness of zero", func() (float64, error) { return ThicknessCubed(0, 1) }},
		{"an arch thicker than the tube", func() (float64, error) { return Arching(12.5, 13, 16) }},
	} {
		_, err := c.run()
		refused(t, c.what, err, false)
	}
}
