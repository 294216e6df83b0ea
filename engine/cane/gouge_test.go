package cane

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Worked example: bed 10.5 mm, centre 0.60, 0.45 at 3.4 mm of arc gives offset
// -0.862 and blade radius 5.512 (⌀ 11.0); 0.40 gives ⌀ 11.7, 0.50 gives 10.4.
// The oboe bulletin board of woodwind.org, thread 15898, recommends blades of 11
// to 11.5 mm for that bed: so for sides of 0.45 and thinner, not for 0.50.
func TestGougeForABedOfOboe(t *testing.T) {
	t.Parallel()
	g := must[Gouge](t)(Find(5.25, 0, 0.60, 0.45, 3.4))
	within(t, "offset", g.Offset, -0.862, 5e-4)
	within(t, "blade radius", g.Blade, 5.512, 5e-4)
	for side, diameter := range map[float64]float64{0.45: 11.0, 0.40: 11.7, 0.50: 10.4} {
		g := must[Gouge](t)(Find(5.25, 0, 0.60, side, 3.4))
		within(t, "blade diameter", 2*g.Blade, diameter, 0.05)
	}
	if thick := must[Gouge](t)(Find(5.25, 0, 0.60, 0.50, 3.4)); 2*thick.Blade >= 11 {
		t.Errorf("sides of 0.50 want a blade of %v mm, which should be below what is recommended", 2*thick.Blade)
	}
}

// Worked example: the same blade and centre on tubes of 10.0 and 11.0 mm leave
// sides of 0.40 and 0.50: 0.05 mm for each half millimetre of tube.
func TestTubeAloneMovesTheSides(t *testing.T) {
	t.Parallel()
	blade := must[Gouge](t)(Find(5.25, 0, 0.60, 0.45, 3.4)).Blade
	for tube, want := range map[float64]float64{10.0: 0.40, 10.5: 0.45, 11.0: 0.50} {
		g := must[Gouge](t)(Set(tube/2, blade, 0, 0.60))
		within(t, "side", must[float64](t)(g.Thickness(tube/2, 3.4)), want, 0.005)
	}
}

// A ray from the bark's centre, walked inward from the bark until no cut has
// taken the cane any more: the thickness without any formula for it.
func TestThicknessAgainstARayAcrossTheBlade(t *testing.T) {
	t.Parallel()
	for _, g := range []Gouge{
		{5, 0, 0}, {5.512, -0.862, 0}, {4.5, 0.2, 0}, {4.75, -0.1, 0.4}, {11.6, -0.3, 1},
	} {
		bark := 5.25
		if g.Blade > 8 {
			bark = 12.5
		}
		for _, at := range []float64{-3, -1, 0, 0.5, 2, 3.4} {
			sin, cos := math.Sincos(at / bark)
			removed := func(r float64) bool {
				x, y := r*sin, r*cos
				return math.Hypot(x-g.Sideways, y-g.Offset) < g.Blade || math.Hypot(x+g.Sideways, y-g.Offset) < g.Blade
			}
			low, high := bark/2, bark+3 // cut away, not reached
			for range 60 {
				if r := (low + high) / 2; removed(r) {
					low = r
				} else {
					high = r
				}
			}
			got, err := g.Thickness(bark, at)
			if want := bark - low; want < 0 {
				refused(t, "a blade through the bark", err, false)
			} else if err != nil || math.Abs(got-want) > 1e-12 {
				t.Errorf("%+v at %v: %v (%v), want %v", g, at, got, err, want)
			}
		}
	}
}

func TestConcentricGougeIsEven(t *testing.T) {
	t.Parallel()
	for _, at := range []float64{-8, 0, 3, 19} {
		within(t, "thickness", must[float64](t)(Gouge{Blade: 11.25}.Thickness(12.5, at)), 1.25, 1e-14)
	}
}

// What a double radius is said to do: a ridge along the mid-line. The centre is
// a highest place, with a corner, where a single radius is smooth.
func TestDoubleRadiusLeavesARidge(t *testing.T) {
	t.Parallel()
	double := must[Gouge](t)(Set(5.25, 4.75, 0.3, 0.60))
	single := must[Gouge](t)(Set(5.25, 4.75, 0, 0.60))
	at := func(g Gouge, x float64) float64 { return must[float64](t)(g.Thickness(5.25, x)) }
	within(t, "centre of the double radius", at(double, 0), 0.60, 1e-14)
	for _, x := range []float64{0.01, 0.1, 0.3} {
		if at(double, x) >= at(double, 0) || at(double, -x) >= at(double, 0) {
			t.Errorf("no ridge at %v mm: %v beside %v", x, at(double, x), at(double, 0))
		}
		within(t, "symmetry", at(double, -x), at(double, x), 1e-14)
	}
	slope := func(g Gouge) float64 { return (at(g, 1e-6) - at(g, 0)) / 1e-6 }
	if slope(double) > -0.05 || math.Abs(slope(single)) > 1e-4 {
		t.Errorf("slopes beside the mid-line: %v double, %v single", slope(double), slope(single))
	}
}

func TestFindComesBackAndIsWhatBisectionFinds(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(r *rapid.T) {
		bark := rapid.Float64Range(4.5, 13).Draw(r, "bark")
		blade := bark * rapid.Float64Range(0.7, 1.5).Draw(r, "blade")
		sideways := bark * rapid.Float64Range(0, 0.1).Draw(r, "sideways")
		centre := bark * rapid.Float64Range(0.05, 0.15).Draw(r, "centre")
		at := bark * rapid.Float64Range(0.3, 0.9).Draw(r, "at")
		set, err := Set(bark, blade, sideways, centre)
		if err != nil {
			r.Fatal(err)
		}
		side, err := set.Thickness(bark, at)
		if err != nil || side < 0.01 {
			r.Skip("cuts through")
		}
		if c, err := set.Thickness(bark, 0); err != nil || math.Abs(c-centre) > 1e-12*bark {
			r.Fatalf("set for %v in the centre, leaves %v (%v)", centre, c, err)
		}
		found, err := Find(bark, sideways, centre, side, at)
		if err != nil {
			r.Fatal(err)
		}
		if math.Abs(found.Blade-blade) > 1e-8*blade || math.Abs(found.Offset-set.Offset) > 1e-8*blade {
			r.Fatalf("%+v comes back as %+v", set, found)
		}
		// With one centre the side grows with the offset, all the way: bisect.
		if sideways > 0 {
			return
		}
		low, high := -20*bark, (bark-centre)/(1+math.Sin(at/bark))
		for range 200 {
			e := (low + high) / 2
			x := (bark - centre - e) * (bark - centre - e)
			s, c := math.Sincos(at / bark)
			if bark-(e*c+math.Sqrt(max(0, x-e*e*s*s))) < side {
				low = e
			} else {
				high = e
			}
		}
		if math.Abs(low-found.Offset) > 1e-7*bark {
			r.Fatalf("bisection finds offset %v, not %v", low, found.Offset)
		}
	})
}

// Whatever is asked for, a gouge that is found leaves it.
func TestWhatIsFoundLeavesWhatWasAsked(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(r *rapid.T) {
		const bark = 5.25
		draw := func(name string, most float64) float64 { return rapid.Float64Range(0.01, most).Draw(r, name) }
		sideways, centre, side, at := draw("sideways", 6)-0.01, draw("centre", 5), draw("side", 5), draw("at", 8)
		g, err := Find(bark, sideways, centre, side, at)
		if err != nil {
			return
		}
		c, err1 := g.Thickness(bark, 0)
		s, err2 := g.Thickness(bark, at)
		// A tenth of a nanometre; nearly flat blades are circles of great radius,
		// which cost digits.
		room := 1e-7 + 1e-12*g.Blade*g.Blade
		if err1 != nil || err2 != nil || math.Abs(c-centre) > room || math.Abs(s-side) > room {
			r.Fatalf("%+v leaves %v and %v (%v, %v)", g, c, s, err1, err2)
		}
	})
}

// A larger tube on the same blade leaves thicker sides; a larger blade at the
// same centre thinner ones.
func TestSidesMoveOneWay(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(r *rapid.T) {
		bark := rapid.Float64Range(4.8, 13).Draw(r, "bark")
		blade := bark * rapid.Float64Range(0.9, 1.2).Draw(r, "blade")
		centre := bark * 0.11
		at := bark * rapid.Float64Range(0.2, 0.7).Draw(r, "at")
		side := func(bark, blade float64) float64 {
			g, err := Set(bark, blade, 0, centre)
			if err != nil {
				r.Fatal(err)
			}
			s, err := g.Thickness(bark, at)
			if err != nil {
				r.Skip("cuts through")
			}
			return s
		}
		if s := side(bark, blade); side(bark*1.02, blade) <= s || side(bark, blade*1.02) >= s {
			r.Fatalf("side %v, larger tube %v, larger blade %v", s, side(bark*1.02, blade), side(bark, blade*1.02))
		}
	})
}

func TestGougesRefuse(t *testing.T) {
	t.Parallel()
	find := func(centre, side, at float64) error { _, err := Find(5.25, 0, centre, side, at); return err }
	// Most: the blade that only just reaches both places.
	most := 5.25 - 4.65*math.Cos(3.4/5.25)/(1+math.Sin(3.4/5.25))
	refused(t, "thicker than any blade leaves", find(0.6, most+1e-3, 3.4), true)
	if err := find(0.6, most-1e-3, 3.4); err != nil {
		t.Errorf("just inside what a blade leaves: %v", err)
	}
	// Least: a blade without curve.
	wide := 12.5 - 11.25/math.Cos(4/12.5)
	if _, err := Find(12.5, 0, 1.25, wide+1e-4, 4); err != nil {
		t.Errorf("just thicker than a flat cut: %v", err)
	}
	_, err := Find(12.5, 0, 1.25, wide-1e-4, 4)
	refused(t, "just thinner than a flat cut", err, true)
	refused(t, "a centre thicker than the tube", find(5.25, 0.4, 3), true)
	refused(t, "a side beyond a quarter turn", find(0.6, 0.4, 5.25*1.6), false)
	refused(t, "a side of zero", find(0.6, 0, 3), false)
	_, err = Gouge{Blade: 4, Offset: 0, Sideways: 4.5}.Thickness(5.25, 0)
	refused(t, "a blade that does not reach", err, false)
	_, err = Gouge{Blade: 6}.Thickness(5.25, 0)
	refused(t, "a blade through the bark", err, false)
	_, err = Gouge{Blade: 5}.Thickness(5.25, 9)
	refused(t, "a place beyond a quarter turn", err, false)
	_, err = Set(5.25, 5, 5, 0.6)
	refused(t, "a blade moved out of its own circle", err, false)
	_, err = Set(5.25, 5, 0, 5.25)
	refused(t, "a centre as thick as the tube", err, false)
}
