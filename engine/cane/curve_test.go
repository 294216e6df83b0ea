package cane

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// MatheAss, Circular sections (matheass.eu, help): chord 21, height 6, any unit.
func TestSegmentAsPublished(t *testing.T) {
	t.Parallel()
	s := must[Segment](t)(NewSegment(21, 6))
	within(t, "radius", s.Radius, 12.1875, 1e-12)
	within(t, "angle (°)", s.Angle/degree, 118.97953, 5e-6)
	within(t, "arc", s.Arc, 25.308373, 5e-7)
	within(t, "area", s.Area, 89.254148, 5e-7)
	within(t, "sector", s.Radius*s.Arc/2, 154.2229, 5e-5)
	within(t, "distance", s.Radius-6, 6.1875, 1e-12)
	within(t, "circle", math.Pi*s.Radius*s.Radius, 466.63696, 5e-6)
	within(t, "perimeter", 2*math.Pi*s.Radius, 76.576321, 5e-7)
	within(t, "angle, more digits", s.Angle/degree, 118.979525, 5e-7)
	within(t, "area, more digits", s.Area, 89.2541484, 5e-8)
}

// Lobben, Machinists' and Draftsmen's Handbook, 1900, p. 200: r = 9 in, 60°.
// The book takes √3/4 as 0.433 and prints 7.3386; the exact area is 7.3374720.
func TestSegmentAreaOfLobben(t *testing.T) {
	t.Parallel()
	c := must[float64](t)(Chord(9, 9*(1-math.Cos(math.Pi/6))))
	within(t, "chord", c, 9, 1e-12)
	s := must[Segment](t)(NewSegment(9, 9*(1-math.Cos(math.Pi/6))))
	within(t, "area", s.Area, 7.3374720, 5e-8)
	within(t, "area with the book's rounding", 42.4116-81*0.433, 7.3386, 5e-5)
	if math.Abs(s.Area-7.3386) < 5e-5 {
		t.Error("the exact area should not round to the book's")
	}
}

// Worked example: chord 16 mm on a tube of 25 mm: 2.895 mm, and 0.01 mm in the
// height moves the radius by 0.033 mm.
func TestRadiusIsLostInTheSagitta(t *testing.T) {
	t.Parallel()
	s := must[float64](t)(Sagitta(12.5, 16))
	within(t, "sagitta", s, 2.895, 5e-4)
	toChord, toSagitta, err := RadiusPartials(16, s)
	if err != nil {
		t.Fatal(err)
	}
	within(t, "0.01 mm of sagitta", math.Abs(toSagitta)*0.01, 0.033, 5e-4)
	if toSagitta >= 0 || toChord <= 0 {
		t.Errorf("signs of the partials: %v, %v", toChord, toSagitta)
	}
	const h = 1e-4
	for _, c := range []struct {
		what     string
		dc, ds   float64
		analytic float64
	}{{"chord", h, 0, toChord}, {"sagitta", 0, h, toSagitta}} {
		up := must[float64](t)(Radius(16+c.dc, s+c.ds))
		down := must[float64](t)(Radius(16-c.dc, s-c.ds))
		near(t, "partial to "+c.what, (up-down)/(2*h), c.analytic, 1e-7)
	}
}

func TestRadiusChordAndSagittaComeBack(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(r *rapid.T) {
		chord := rapid.Float64Range(0.5, 40).Draw(r, "chord")
		sagitta := chord / 2 * rapid.Float64Range(1e-6, 1).Draw(r, "share")
		radius, err := Radius(chord, sagitta)
		if err != nil {
			r.Fatal(err)
		}
		s, err := Sagitta(radius, min(chord, 2*radius))
		if err != nil || math.Abs(s-sagitta) > 1e-7*sagitta {
			r.Fatalf("sagitta %v comes back as %v (%v)", sagitta, s, err)
		}
		c, err := Chord(radius, sagitta)
		if err != nil || math.Abs(c-chord) > 1e-9*chord {
			r.Fatalf("chord %v comes back as %v (%v)", chord, c, err)
		}
	})
}

func TestSegmentHasNoJumpBetweenItsSeriesAndItsSine(t *testing.T) {
	t.Parallel()
	for _, x := range []float64{1e-9, 1e-3, 0.1, 0.29999, 0.3, 0.30001, 1} {
		// 16 terms of the series, summed from the small end.
		want := 0.0
		for k := 16; k >= 1; k-- {
			term := math.Exp(float64(2*k+1)*math.Log(x) - lgamma(2*k+2))
			if k%2 == 0 {
				term = -term
			}
			want += term
		}
		near(t, "x - sin x", lessSine(x), want, 1e-13*(1+math.Abs(math.Log(x))*40))
	}
}

func lgamma(n int) float64 {
	v, _ := math.Lgamma(float64(n))
	return v
}

func TestCurvesRefuse(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		what string
		run  func() (float64, error)
		none bool
	}{
		{"a chord of zero", func() (float64, error) { return Radius(0, 1) }, false},
		{"a flat arc", func() (float64, error) { return Radius(10, 0) }, false},
		{"a radius of NaN", func() (float64, error) { return Sagitta(math.NaN(), 1) }, false},
		{"an endless radius", func() (float64, error) { return Chord(math.Inf(1), 1) }, false},
		{"a chord over the diameter", func() (float64, error) { return Sagitta(5, 10.001) }, true},
		{"a height over the diameter", func() (float64, error) { return Chord(5, 10.001) }, true},
	} {
		_, err := c.run()
		refused(t, c.what, err, c.none)
	}
}
