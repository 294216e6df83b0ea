package cane

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"
	"pgregory.net/rapid"
)

// Worked example, bassoon: tube of 25 mm, 1.25 mm thick, ±8 mm of arc at the
// bark: by integration 11.60 mm⁴, by the short sum 11.89, as a flat strip 2.47.
// So the flat formula misstates E four- to fivefold.
func TestSectionOfAGougedPieceOfBassoon(t *testing.T) {
	t.Parallel()
	s := must[Section](t)(GougedSection(12.5, 1.25, 16))
	within(t, "integrated", s.Second, 11.60, 5e-3)
	within(t, "short sum", must[float64](t)(ThinArc(11.875, 1.25, 0.64)), 11.89, 5e-3)
	within(t, "flat", must[float64](t)(FlatStrip(2*0.64*11.875, 1.25)), 2.47, 5e-3)
	arching := must[float64](t)(Arching(12.5, 1.25, 16))
	within(t, "arching", arching, s.Second/must[float64](t)(FlatStrip(2*0.64*11.875, 1.25)), 1e-12)
	if arching < 4 || arching > 5 {
		t.Errorf("the flat formula is out by %v, want four- to fivefold", arching)
	}
	same := must[Section](t)(Gouge{Blade: 11.25}.Section(12.5, 16))
	within(t, "by way of a concentric gouge", same.Second, s.Second, 1e-10)
	thin := must[Section](t)(must[Gouge](t)(Find(12.5, 0, 1.25, 1.0, 7)).Section(12.5, 16))
	if thin.Second >= s.Second || thin.Area >= s.Area {
		t.Errorf("thinner sides are stiffer: %+v beside %+v", thin, s)
	}
}

// Textbook, part of a ring with half angle α: area α(R² - r²), centroid
// 2 sin α (R³ - r³)/(3α(R² - r²)), second moment about the ring's centre
// (R⁴ - r⁴)(α + sin α cos α)/4, less area times centroid squared.
func TestSectionAgainstPartOfARing(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(r *rapid.T) {
		bark := rapid.Float64Range(4.5, 14).Draw(r, "bark")
		thickness := bark * rapid.Float64Range(0.04, 0.3).Draw(r, "thickness")
		a := rapid.Float64Range(0.2, math.Pi/2).Draw(r, "half angle")
		s, err := GougedSection(bark, thickness, 2*a*bark*(1-1e-15))
		if err != nil {
			r.Fatal(err)
		}
		in := bark - thickness
		area := a * (bark*bark - in*in)
		centroid := 2 * math.Sin(a) * (bark*bark*bark - in*in*in) / (3 * area)
		second := (math.Pow(bark, 4)-math.Pow(in, 4))*(a+math.Sin(a)*math.Cos(a))/4 - area*centroid*centroid
		if math.Abs(s.Area-area) > 1e-11*area || math.Abs(s.Centroid-centroid) > 1e-11*centroid || math.Abs(s.Second-second) > 1e-8*second {
			r.Fatalf("%+v, want %v, %v, %v", s, area, centroid, second)
		}
		// The short sum is for thin arcs: the thinner, the nearer.
		thinned, err := GougedSection(bark, thickness/100, 2*a*bark*(1-1e-15))
		if err != nil {
			r.Fatal(err)
		}
		short, err := ThinArc(bark-thickness/200, thickness/100, a)
		if err != nil || math.Abs(short-thinned.Second) > 0.01*thinned.Second {
			r.Fatalf("thin: %v (%v), want %v", short, err, thinned.Second)
		}
	})
}

// Standard table (from memory), unit circle: half disc area π/2, centroid 4/3π,
// second moment π/8 - 8/9π = 0.1097570. Segment of half angle 60°: 0.0106432903,
// by the general formula and by integration in other software.
func TestSectionAgainstCircularSegments(t *testing.T) {
	t.Parallel()
	segment := func(half float64) Section {
		return must[Section](t)(ArcSection(1, half, func(a float64) (float64, error) {
			return max(0, 1-math.Cos(half)/math.Cos(a)), nil
		}))
	}
	half := must[Section](t)(ArcSection(1, math.Pi/2, func(float64) (float64, error) { return 1, nil }))
	within(t, "half disc, area", half.Area, 1.5707963, 5e-8)
	within(t, "half disc, centroid", half.Centroid, 0.4244132, 5e-8)
	within(t, "half disc, second moment", half.Second, 0.1097570, 5e-8)
	within(t, "half disc, more digits", half.Second, 0.10975696, 5e-9)
	s := segment(math.Pi / 3)
	within(t, "segment, second moment", s.Second, 0.0106432903, 5e-11)
	within(t, "segment, area", s.Area, math.Pi/3-math.Sqrt(3)/4, 1e-12)
}

// Reference: gonum's quadrature of y² over the section, in strips across, for a
// double radius, whose inner surface has a corner.
func TestSectionOfADoubleRadiusAgainstStrips(t *testing.T) {
	t.Parallel()
	const bark, arc = 5.25, 7.0
	g := must[Gouge](t)(Set(bark, 4.75, 0.3, 0.6))
	s := must[Section](t)(g.Section(bark, arc))
	polar := func(f func(r, a float64) float64) float64 {
		return 2 * quad.Fixed(func(a float64) float64 {
			th := must[float64](t)(g.Thickness(bark, a*bark))
			return quad.Fixed(func(r float64) float64 { return f(r, a) * r }, bark-th, bark, 20, nil, 0)
		}, 0, arc/(2*bark), 120, nil, 0)
	}
	near(t, "area", s.Area, polar(func(r, a float64) float64 { return 1 }), 1e-12)
	near(t, "centroid", s.Centroid, polar(func(r, a float64) float64 { return r * math.Cos(a) })/s.Area, 1e-12)
	near(t, "second moment", s.Second, polar(func(r, a float64) float64 {
		y := r*math.Cos(a) - s.Centroid
		return y * y
	}), 1e-10)
}

// The bracket of the short sum is 2α⁵/45 less a little; series and closed form
// meet, and a flat arc is a flat strip.
func TestThinArcOfAFlatPiece(t *testing.T) {
	t.Parallel()
	for _, a := range []float64{0.15, 0.2, 0.25} {
		direct := a + math.Sin(a)*math.Cos(a) - 2*math.Sin(a)*math.Sin(a)/a
		near(t, "bracket", thinBracket(a), direct, 1e-9)
	}
	near(t, "small bracket", thinBracket(1e-3), 2e-15/45, 1e-6)
	flat := must[float64](t)(FlatStrip(15, 1.2))
	near(t, "nearly flat", must[float64](t)(ThinArc(1e5, 1.2, 15.0/2e5)), flat, 1e-6)
	near(t, "strip", flat, 15*1.2*1.2*1.2/12, 1e-15)
}

func TestSectionsRefuse(t *testing.T) {
	t.Parallel()
	_, err := GougedSection(12.5, 1.25, 40)
	refused(t, "wider than half the tube", err, false)
	_, err = GougedSection(12.5, 13, 16)
	refused(t, "thicker than the tube", err, false)
	_, err = GougedSection(12.5, 0, 16)
	refused(t, "no thickness", err, false)
	_, err = Gouge{Blade: 14}.Section(12.5, 16)
	refused(t, "a gouge through the bark", err, false)
	_, err = ArcSection(12.5, 0.5, func(float64) (float64, error) { return 0, nil })
	refused(t, "nothing left", err, false)
	_, err = ThinArc(12.5, 1, 4)
	refused(t, "more than the circle", err, false)
	_, err = Gouge{Blade: 11}.Section(0, 16)
	refused(t, "no bark", err, false)
	_, err = FlatStrip(-1, 1)
	refused(t, "a width below zero", err, false)
}
