package cane

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Morse tapers: testdata/checks/morse_taper.tsv, sources in its first line. Taper
// per foot, per inch and half angle are printed to four decimals. All agree with
// the lengths as binary fractions; with the two decimals that the same pages
// print for them (2.13 for 2 1/8) they would not. A taper is a ratio, so inches do.
func TestMorseTapers(t *testing.T) {
	t.Parallel()
	rows := table(t, "morse_taper.tsv")
	if len(rows) != 9 {
		t.Fatalf("%d tapers, want 9", len(rows))
	}
	for _, r := range rows {
		k := must[float64](t)(Taper(number(t, r["large_in"]), number(t, r["small_in"]), number(t, r["length_in"])))
		within(t, r["name"]+" per foot", 12*k, number(t, r["taper_per_foot"]), 5e-5+1e-12)
		within(t, r["name"]+" per inch", k, number(t, r["taper_per_inch"]), 5e-5+1e-12)
		angle := must[float64](t)(ConeAngle(k)) / 2 / degree
		within(t, r["name"]+" half angle", angle, number(t, r["half_angle_deg"]), 5e-5+1e-12)
		within(t, r["name"]+" half angle, more digits", angle, number(t, r["calc_half_angle"]), 5e-6)
		// A socket of the same taper, as wide at its mouth as the large end,
		// takes the whole length and bears all along.
		f := must[Fit](t)(Seat(Bore{number(t, r["large_in"]), k}, Cone{number(t, r["small_in"]), k}, 0))
		near(t, r["name"]+" seated", f.Depth, number(t, r["length_in"]), 1e-12)
		if f.Touches != AllAlong || f.Contact != f.Depth {
			t.Errorf("%s touches %v over %v", r["name"], f.Touches, f.Contact)
		}
	}
	rounded := must[float64](t)(Taper(0.475, 0.369, 2.13))
	if math.Abs(12*rounded-0.5986) < 5e-5 {
		t.Error("the rounded length of the first Morse taper should not give the printed taper")
	}
}

// The Jarno rule (hobby-machinist.com, Taper sizes by measurement): number n has
// n/8 in at the large end, n/10 at the small, n/2 between: 0.600 in/ft for all.
func TestJarnoTapers(t *testing.T) {
	t.Parallel()
	for n := 2.0; n <= 20; n++ {
		within(t, "per foot", 12*must[float64](t)(Taper(n/8, n/10, n/2)), 0.600, 1e-12)
		within(t, "seated", must[Fit](t)(Seat(Bore{Mouth: n / 8}, Cone{n / 10, 0.05}, 0)).Depth, n/2, 1e-12)
	}
}

// canadianhobbymetalworkers.com, MT3 v's MT2: 0.60235 in/ft is 2.8754058°,
// half of it 1.4377029°. bbs.homeshopmachinist.net, Converting TPI to degrees:
// 0.25 in/ft on the radius is 1.1935° (1° 11′ 36″).
func TestTaperToAngle(t *testing.T) {
	t.Parallel()
	within(t, "included", must[float64](t)(ConeAngle(0.60235/12))/degree, 2.8754058, 5e-8)
	within(t, "half", must[float64](t)(ConeAngle(0.60235/12))/2/degree, 1.4377029, 5e-8)
	half := must[float64](t)(ConeAngle(2*0.25/12)) / 2 / degree
	within(t, "on the radius", half, 1.1935, 5e-5)
	within(t, "on the radius (″)", half*3600, 1*3600+11*60+36, 0.6) // the print leaves off 0.56″
}

// bassoonoperator.blogspot.com, Reed log, January 2010: a millimetre more of
// width is about 2 mm round, about 0.6 mm of diameter, about 9.1 mm further on at
// a slope of 0.07. Recomputed: 0.637 and 9.09; from the rounded 0.6 it would be 8.6.
func TestWiderByAMillimetre(t *testing.T) {
	t.Parallel()
	before, after := must[float64](t)(TubeOfWidths(14, 14)), must[float64](t)(TubeOfWidths(15, 15))
	within(t, "diameter", after-before, 0.637, 5e-4)
	within(t, "diameter as printed", after-before, 0.6, 0.05)
	z := must[float64](t)(SeatChangeOfWidth(1, 0.07))
	within(t, "seat", z, 9.09, 5e-3)
	within(t, "seat as printed", z, 9.1, 0.05)
	within(t, "seat by way of the diameter", must[float64](t)(SeatChange(after-before, 0.07)), z, 1e-12)
	within(t, "seat from the rounded diameter", must[float64](t)(SeatChange(0.6, 0.07)), 8.57, 5e-3)
	within(t, "the other way", must[float64](t)(SeatChangeOfWidth(-1, 0.07)), -z, 1e-12)
}

// Outer circumference of two widths, inner 2w - 2πt, back to a circle.
func TestBoreOfTwoWidths(t *testing.T) {
	t.Parallel()
	d := must[float64](t)(BoreOfWidths(13, 13, 1.2))
	within(t, "inner circumference", math.Pi*d, 26-2*math.Pi*1.2, 1e-12)
	_, err := BoreOfWidths(3, 3, 1.2)
	refused(t, "walls that fill the tube", err, true)
}

// The gap between bore and cone at every place is never below zero, is zero
// where the reed touches, and within the play over the contact.
func TestSeatLeavesNoOverlap(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(r *rapid.T) {
		cone := Cone{rapid.Float64Range(3, 6).Draw(r, "tip"), rapid.Float64Range(0.02, 0.12).Draw(r, "taper")}
		bore := Bore{cone.Tip + rapid.Float64Range(0.05, 1.5).Draw(r, "more"), rapid.Float64Range(0, 0.15).Draw(r, "bore taper")}
		play := rapid.Float64Range(0, 0.1).Draw(r, "play")
		f, err := Seat(bore, cone, play)
		if err != nil {
			r.Fatal(err)
		}
		gap := func(x float64) float64 { // x mm inward from the mouth
			return bore.Mouth - bore.Taper*x - (cone.Tip + cone.Taper*(f.Depth-x))
		}
		for i := range 21 {
			if g := gap(f.Depth * float64(i) / 20); g < -1e-9 {
				r.Fatalf("overlap of %v at step %d: %+v", -g, i, f)
			}
		}
		touch, end := 0.0, f.Contact
		if f.Touches == AtTheTip {
			touch, end = f.Depth, f.Depth-f.Contact
		}
		if math.Abs(gap(touch)) > 1e-9 || gap(end) > play+1e-9 {
			r.Fatalf("gap %v where it touches, %v at the end of contact, play %v: %+v", gap(touch), gap(end), play, f)
		}
	})
}

func TestConesRefuse(t *testing.T) {
	t.Parallel()
	seat := func(b Bore, c Cone, play float64) error { _, err := Seat(b, c, play); return err }
	refused(t, "a mouth narrower than the tip", seat(Bore{4, 0}, Cone{4.1, 0.07}, 0), true)
	refused(t, "a cylinder", seat(Bore{5, 0}, Cone{4, 0}, 0), false)
	refused(t, "a bore that widens inward", seat(Bore{5, -0.01}, Cone{4, 0.07}, 0), false)
	refused(t, "play below zero", seat(Bore{5, 0}, Cone{4, 0.07}, -1), false)
	_, err := Taper(4, 5, 10)
	refused(t, "a large end smaller than the small", err, false)
	_, err = SeatChange(1, 0)
	refused(t, "a taper of zero", err, false)
	_, err = SeatChange(math.NaN(), 0.07)
	refused(t, "a change of NaN", err, false)
	if f := must[Fit](t)(Seat(Bore{4, 0}, Cone{4, 0.07}, 0.01)); f.Depth != 0 || f.Contact != 0 {
		t.Errorf("a mouth as wide as the tip only touches, not %+v", f)
	}
	if AtTheMouth.String() != "at the mouth" || AllAlong.String() != "all along" || AtTheTip.String() != "at the tip" {
		t.Error("the words for touching")
	}
}
