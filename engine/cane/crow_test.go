package cane

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Textbook intervals, to three decimals of a cent where printed.
func TestCentsOfTextbookIntervals(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ a, b, printed, exact float64 }{
		{2, 3, 701.955, 701.955001}, {4, 5, 386.314, 386.313714}, {80, 81, 21.506, 21.506290}, {440, 442, 7.851, 7.851415},
	} {
		got := must[float64](t)(Cents(c.a, c.b))
		within(t, "cents", got, c.printed, 5e-4)
		within(t, "cents, more digits", got, c.exact, 5e-7)
	}
	within(t, "443", must[float64](t)(Cents(440, 443)), 11.763810, 5e-7)
	within(t, "415", must[float64](t)(Cents(440, 415)), -101.270625, 5e-7)
}

// testdata/checks/note_frequencies_440.tsv: each note lies 100 cents times its
// number from A4; frequencies are given to 1e-6 Hz.
func TestCentsOfNotes(t *testing.T) {
	t.Parallel()
	for _, row := range table(t, "note_frequencies_440.tsv") {
		want := 100 * (number(t, row["midi"]) - 69)
		hz := number(t, row["hz"])
		within(t, row["note"], must[float64](t)(Cents(440, hz)), want, 1200/math.Ln2*5e-7/hz+1e-9)
		near(t, row["note"], must[float64](t)(Hertz(440, want)), hz, 1e-6/hz)
	}
}

// Worked example: an air column rises 2.95 cents for each degree near 20 °C. At
// 20 °C itself the slope is 600/(ln 2 · 293.15) = 2.953; from 20 to 21 it is 2.948.
func TestWarmthOfAnAirColumn(t *testing.T) {
	t.Parallel()
	within(t, "from 20 to 21", must[float64](t)(Warmth(20, 21)), 2.95, 5e-3)
	slope := (must[float64](t)(Warmth(20, 20.001)) - must[float64](t)(Warmth(20, 19.999))) / 0.002
	within(t, "slope", slope, 600/(math.Ln2*293.15), 1e-6)
	within(t, "slope, as printed", slope, 2.95, 5e-3)
}

func TestCentsAddAndComeBack(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(r *rapid.T) {
		f := rapid.Float64Range(20, 4000)
		a, b, c := f.Draw(r, "a"), f.Draw(r, "b"), f.Draw(r, "c")
		ab, err1 := Cents(a, b)
		bc, err2 := Cents(b, c)
		ac, err3 := Cents(a, c)
		ba, err4 := Cents(b, a)
		back, err5 := Hertz(a, ab)
		if err1 != nil || err2 != nil || err3 != nil || err4 != nil || err5 != nil {
			r.Fatal(err1, err2, err3, err4, err5)
		}
		if math.Abs(ab+bc-ac) > 1e-8 || math.Abs(ab+ba) > 1e-8 || math.Abs(back-b) > 1e-10*b || (b > a) != (ab > 0) {
			r.Fatalf("%v + %v = %v, %v; %v comes back as %v", ab, bc, ac, ba, b, back)
		}
	})
}

func TestCrowsRefuse(t *testing.T) {
	t.Parallel()
	_, err := Cents(0, 440)
	refused(t, "a frequency of zero", err, false)
	_, err = Cents(440, math.Inf(1))
	refused(t, "an endless frequency", err, false)
	_, err = Hertz(440, math.NaN())
	refused(t, "NaN cents", err, false)
	_, err = Hertz(440, 1e9)
	refused(t, "a million octaves", err, false)
	_, err = Warmth(20, -273.15)
	refused(t, "absolute zero", err, false)
}
