package comparison_test

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"canewright/engine/comparison"
)

const fromFold = `
targets:
  fold.to_butt: 2 5/16 ± 1/32 in
  wire.first_from_fold: 1 1/4 ± 1/32 in
stages:
  - {stage: bind, measure: [fold.to_butt, wire.first]}
`

// x from the butt = L - x from the fold, and its limits by interval arithmetic:
// 2 9/32 - 1 9/32 in = 1 in and 2 11/32 - 1 7/32 in = 1 1/8 in.
func TestFromTheFoldToTheButt(t *testing.T) {
	t.Parallel()
	for _, mirror := range []bool{false, true} {
		a, b := fromFold, target("wire.first", "27.0 ± 0.5 mm")
		if mirror {
			a, b = b, a
		}
		c := compared(t, a, b)
		r := one(t, c, "wire.first")
		x, y := r.A, r.B
		if mirror {
			x, y = y, x
		}
		if x.Low != "25.4" || x.High != "28.575" || x.Middle != "26.9875" || r.From != "the butt" || r.Unit != "mm" {
			t.Errorf("%+v", x)
		}
		if x.Formula != "fold.to_butt - wire.first_from_fold" || len(x.Of) != 2 || x.Of[0].Written != "2 5/16 ± 1/32 in" || x.Of[0].Less || !x.Of[1].Less {
			t.Errorf("worked out as %s of %+v", x.Formula, x.Of)
		}
		if y.Written != "27.0 ± 0.5 mm" || y.Formula != "" || r.Class != comparison.Rounding {
			t.Errorf("%+v, %s", y, r.Class)
		}
		for _, r := range c.Targets {
			if r.Name == "wire.first_from_fold" {
				t.Error("told twice")
			}
		}
	}
}

// The length is the recipe's own, as it is in force where the number is judged:
// not the one before, and not the other recipe's.
func TestTheLengthAtThatStage(t *testing.T) {
	t.Parallel()
	clipped := `
targets: {tip.above: 28.0 ± 0.5 mm}
stages:
  - {stage: open, targets: {overall: 60 ± 1 mm}, do: [Clip it open.]}
  - {stage: clip, targets: {overall: 55.0 ± 0.2 mm}, measure: [overall]}
`
	r := one(t, compared(t, clipped, target("wire.first", "27.0 ± 0.5 mm")+"  - {stage: grow, targets: {overall: 66 ± 0.1 mm}, measure: [overall]}\n"), "wire.first")
	if r.A.Middle != "27" || r.A.Low != "26.3" || r.A.High != "27.7" {
		t.Errorf("%+v", r.A)
	}
	if len(r.A.Of) == 0 || r.A.Of[0].Stage != "clip" {
		t.Errorf("worked out of %+v", r.A.Of)
	}
}

func TestALengthThatIsNotSaid(t *testing.T) {
	t.Parallel()
	b := "targets: {wire.first_from_fold: 31.7 ± 0.5 mm}\nstages:\n  - {stage: bind, measure: [wire.first]}\n"
	r := one(t, compared(t, target("wire.first", "27.0 ± 0.5 mm"), b), "wire.first")
	if r.Class != comparison.NotComparable || !strings.Contains(r.Why, "B gives wire.first_from_fold instead") || !strings.Contains(r.Why, "it would have to say fold.to_butt") {
		t.Errorf("%s: %s", r.Class, r.Why)
	}
	if r.B == nil || r.B.Written != "31.7 ± 0.5 mm" || r.Difference != "" {
		t.Errorf("%+v by %q", r.B, r.Difference)
	}
}

// A derived dimension only one gives is worked out from what the other says of
// its parts.
func TestForwardToADerivedDimension(t *testing.T) {
	t.Parallel()
	parts := "targets: {wire.first: 27.0 ± 0.5 mm, wire.second: 19.0 ± 0.5 mm}\nstages:\n  - {stage: bind, measure: [wire.first, wire.second]}\n"
	gap := "targets: {wire.gap: 8.5 ± 0.2 mm}\nstages:\n  - {stage: bind, measure: [wire.first, wire.second]}\n"
	for _, mirror := range []bool{false, true} {
		a, b := parts, gap
		if mirror {
			a, b = b, a
		}
		c := compared(t, a, b)
		r := one(t, c, "wire.gap")
		x := r.A
		if mirror {
			x = r.B
		}
		if x.Low != "7" || x.High != "9" || x.Middle != "8" || r.Class != comparison.Overlapping || x.Formula != "wire.first - wire.second" {
			t.Errorf("%+v %s", x, r.Class)
		}
		if only := c.Counts.OnlyA + c.Counts.OnlyB; only != 2 || c.Counts.NotComparable != 0 {
			t.Errorf("%+v", c.Counts)
		}
	}
}

// Whatever the numbers, the limits hold what any length and any place within
// their tolerances give, and are reached.
func TestIntervalsHoldEveryCase(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string, low, high int) int { return rapid.IntRange(low, high).Draw(t, name) }
		long, more, place, off := draw("length", 550, 600), draw("its tolerance", 1, 20), draw("place", 280, 330), draw("its tolerance", 1, 20)
		body := "targets:\n  fold.to_butt: " + tenths(long) + " ± " + tenths(more) + " mm\n  wire.first_from_fold: " + tenths(place) + " ± " + tenths(off) + " mm\nstages:\n  - {stage: bind, measure: [fold.to_butt, wire.first]}\n"
		r := one(t, compared(t, body, target("wire.first", "27.0 ± 0.5 mm")), "wire.first")
		for _, c := range []struct {
			got  string
			want int
		}{{r.A.Low, long - more - place - off}, {r.A.High, long + more - place + off}, {r.A.Middle, long - place}} {
			if c.got != trimmed(c.want) {
				t.Fatalf("%s, want %s\n%s", c.got, trimmed(c.want), body)
			}
		}
	})
}

// What is drawn of a recipe that counts from the fold counts from the butt, and
// the fold is a place on the picture.
func TestDrawnFromTheFold(t *testing.T) {
	t.Parallel()
	c := compared(t, fromFold, fromFold)
	if e := c.Drawn(false)["wire.first"]; e.Value.Q != 26_987_500 || e.Text != "26.9875 mm" {
		t.Errorf("%+v", e)
	}
	if _, ok := c.Drawn(true)["wire.first_from_fold"]; ok {
		t.Error("a worked out dimension is drawn")
	}
	var got []string
	for _, s := range c.Spots(true, "the butt") {
		got = append(got, s.Name)
	}
	if strings.Join(got, " ") != "fold.to_butt wire.first" {
		t.Errorf("%v", got)
	}
}
