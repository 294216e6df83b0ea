package review

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"canewright/engine/quantity"
)

func tolerance(t testing.TB, text string, k quantity.Kind) quantity.Tolerance {
	t.Helper()
	if text == "" {
		return quantity.Tolerance{}
	}
	tol, err := quantity.ParseTolerance(text, quantity.Style{Want: k})
	if err != nil {
		t.Fatal(err)
	}
	return tol
}

// Worked by hand, beside each line.
func TestADeviationIsCountedInHalfWidths(t *testing.T) {
	t.Parallel()
	l, n := quantity.Length, quantity.Count
	for _, c := range []struct {
		value, target, plausible string
		kind                     quantity.Kind
		want                     float64
	}{
		{"27.9 mm", "27.0 ± 0.5 mm", "", l, 1.8},                            // 0.9 / 0.5
		{"27.5 mm", "27.0 ± 0.5 mm", "", l, 1},                              // the limit
		{"27.0 mm", "27.0 ± 0.5 mm", "", l, 0},                              // the nominal
		{"26.25 mm", "27.0 ± 0.5 mm", "", l, 1.5},                           // 0.75 / 0.5
		{"1.36 mm", "1.30 +0.03 -0.02 mm", "", l, 2},                        // 0.06 / 0.03, above
		{"1.24 mm", "1.30 +0.03 -0.02 mm", "", l, 3},                        // 0.06 / 0.02, below
		{"25.75 mm", "24 .. 26 mm", "", l, 0.75},                            // middle 25; 0.75 / 1
		{"23 mm", "24 .. 26 mm", "", l, 2},                                  // 2 / 1
		{"57.0 mm", "56.0 +0.5 -0 mm", "", l, 2},                            // 1.0 / 0.5, above
		{"55.9 mm", "56.0 +0.5 -0 mm", "", l, 1.2},                          // no width below: 1 + 0.1 / 0.5
		{"7", "5", "", n, 3},                                                // exactly 5: 1 + 2 / 1
		{"5", "5", "", n, 0},                                                //
		{"0.9 mm", "at most 1.0 mm", "0 .. 3 mm", l, 0},                     // inside
		{"1.0 mm", "at most 1.0 mm", "0 .. 3 mm", l, 0},                     // on the limit is inside
		{"1.2 mm", "at most 1.0 mm", "0 .. 3 mm", l, 1.4},                   // 0 to 1 is plausible: 1 + 0.2 / 0.5
		{"7.0 mm", "at least 7.5 mm", "3 .. 14 mm", l, 1 + 0.5/3.25},        // 7.5 to 14: half 3.25
		{"1.2 mm", "at most 1.0 mm", "", l, 3},                              // nothing plausible: 1 + 0.2 / 0.1
		{"30 mm", "at most 24 mm", "24 .. 40 mm", l, 7},                     // the limit is the end: 1 + 6 / 1
		{"1.0 in", "27.0 ± 0.5 mm", "", l, (27 - 25.4) / 0.5},               // read in inches
		{"0.05 in", "0.05 ± 0.001 in", "", l, 0},                            //
		{"51.2 thou", "1.30 +0.03 -0.02 mm", "", l, (1.30048 - 1.3) / 0.03}, // 51.2 × 0.0254 = 1.30048
	} {
		e, err := quantity.Parse(c.value, quantity.Style{Want: c.kind})
		if err != nil {
			t.Fatal(err)
		}
		got := Measure(float64(e.Value.Q), tolerance(t, c.target, c.kind), tolerance(t, c.plausible, c.kind))
		if math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%s against %s: %.6f, want %.6f", c.value, c.target, got, c.want)
		}
	}
}

// A pitch is a point: F4 + 30 cents against F4 ± 20 cents is 1.5.
func TestADeviationOfAPitch(t *testing.T) {
	t.Parallel()
	e, err := quantity.Parse("F4 +30 cents", quantity.Style{Want: quantity.Pitch})
	if err != nil {
		t.Fatal(err)
	}
	if got := Measure(float64(e.Value.Q), tolerance(t, "F4 ± 20 cents", quantity.Pitch), quantity.Tolerance{}); math.Abs(got-1.5) > 1e-9 {
		t.Errorf("%f", got)
	}
	if got := Measure(float64(e.Value.Q), tolerance(t, "E4 .. F4", quantity.Pitch), quantity.Tolerance{}); math.Abs(got-1.6) > 1e-9 { // 80 above the middle, half 50
		t.Errorf("%f", got)
	}
}

// Over 1 is outside, 1 or less inside, for every tolerance and every reading;
// and farther out is never less.
func TestOneIsTheLimit(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(rt *rapid.T) {
		low, high := rapid.Int64Range(-1e9, 1e9).Draw(rt, "low"), rapid.Int64Range(0, 1e9).Draw(rt, "width")
		high += low
		tol := quantity.Tolerance{Kind: quantity.Length, Step: rapid.Int64Range(0, 1e6).Draw(rt, "step")}
		form := rapid.IntRange(0, 3).Draw(rt, "form")
		if form != 2 {
			tol.Low = quantity.Bound{Q: low, Set: true}
		}
		if form != 3 {
			tol.High = quantity.Bound{Q: high, Set: true}
		}
		if form == 1 {
			tol.Nominal = quantity.Bound{Q: rapid.Int64Range(low, high).Draw(rt, "nominal"), Set: true}
		}
		var plausible quantity.Tolerance
		if rapid.Bool().Draw(rt, "plausible") {
			plausible = quantity.Tolerance{Kind: quantity.Length, Low: quantity.Bound{Q: -2e9, Set: true}, High: quantity.Bound{Q: 3e9, Set: true}}
		}
		q := rapid.Int64Range(-4e9, 4e9).Draw(rt, "q")
		m := Measure(float64(q), tol, plausible)
		if outside := tol.Side(q) != quantity.Inside; outside != (m > 1) {
			rt.Fatalf("%d in %+v: %f, outside %v", q, tol, m, outside)
		}
		if tol.Side(q) == quantity.Above {
			if further := Measure(float64(q+1000), tol, plausible); further < m {
				rt.Fatalf("%f, and %f further out", m, further)
			}
		}
	})
}
