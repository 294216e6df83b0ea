package comparison_test

import (
	"testing"

	"canewright/engine/comparison"
)

// Pairs as handouts print them, and pairs on the edges of the classes. 1 in is
// 25.4 mm exactly (NIST SP 811, 2008, B.8); what is printed to 1/16 in may be
// 1/32 in more or less (B.7).
func TestClasses(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name, a, b string
		want       comparison.Class
		difference string
	}{
		{"alike", "27.0 ± 0.5 mm", "27.0 ± 0.5 mm", comparison.Same, "0 mm"},
		{"written otherwise", "27.0 ± 0.5 mm", "26.5 .. 27.5 mm", comparison.Same, "0 mm"},
		{"an inch is exact", "1 ± 1/32 in", "25.4 ± 0.79375 mm", comparison.Same, "0 mm"},
		{"1 1/16 in beside 27 mm", "1 1/16 ± 1/32 in", "27 ± 0.5 mm", comparison.Rounding, "+0.0125 mm"},
		{"5/16 in more beside 7.5 mm more", "1 5/16 in ± 0.5 mm", "32.9 ± 0.5 mm", comparison.Rounding, "-0.4375 mm"}, // 0.44 mm, as 7.5 mm is printed beside 5/16 in
		{"half of 1/16 in", "1 1/16 in ± 0.5 mm", "27.78 ± 0.50 mm", comparison.Rounding, "+0.7925 mm"},               // 0.79375 and 0.005 mm are allowed
		{"half of 1/16 in and more", "1 1/16 in ± 0.5 mm", "27.79 ± 0.50 mm", comparison.Real, "+0.8025 mm"},
		{"a handout's top end is 1.4 mm short", "27 .. 30 mm", "1 1/16 .. 1 2/16 in", comparison.Overlapping, "-0.71875 mm"},
		{"1 1/16 in and 1/8 in more", "1 1/16 ± 1/64 in", "1 3/16 ± 1/64 in", comparison.Real, "+3.175 mm"},
		{"printed coarsely, and bands apart", "1 1/16 ± 1/64 in", "27.7 ± 0.1 mm", comparison.Real, "+0.7125 mm"},
		{"a digit that is written counts", "27.0 ± 0.5 mm", "27.2 ± 0.5 mm", comparison.Overlapping, "+0.2 mm"},
		{"half of the last digits", "27.0 ± 0.5 mm", "27.1 ± 0.5 mm", comparison.Overlapping, "+0.1 mm"}, // 27.05 is printed as one of them
		{"a digit less", "27 ± 1 mm", "27.4 ± 1.0 mm", comparison.Rounding, "+0.4 mm"},
		{"28 is not 29", "28 ± 1 mm", "29 ± 1 mm", comparison.Overlapping, "+1 mm"},
		{"the middle on the limit is inside", "27.0 ± 0.5 mm", "27.5 ± 0.2 mm", comparison.Overlapping, "+0.5 mm"},
		{"both middles outside, bands meet", "27.0 ± 0.5 mm", "27.51 ± 0.50 mm", comparison.Real, "+0.51 mm"},
		{"bands apart", "27.0 ± 0.5 mm", "29 ± 0.5 mm", comparison.Real, "+2 mm"},
		{"only one middle inside", "27.0 ± 0.1 mm", "27.5 ± 1 mm", comparison.Overlapping, "+0.5 mm"},
		{"one limit and another", "at most 27.0 mm", "at most 28.0 mm", comparison.Overlapping, "+1 mm"},
		{"limits that exclude each other", "at most 26.0 mm", "at least 27.0 mm", comparison.Real, "+1 mm"},
		{"limits that allow each other", "at most 27.0 mm", "at least 26.0 mm", comparison.Overlapping, "-1 mm"},
		{"a limit and a range", "at least 26.0 mm", "26.0 .. 27.0 mm", comparison.Overlapping, "+0.5 mm"},
		{"aims at another place within the same limits", "27 +0.5 -0 mm", "27.25 ± 0.25 mm", comparison.Overlapping, "+0.25 mm"},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			r := one(t, compared(t, target("wire.first", c.a), target("wire.first", c.b)), "wire.first")
			if r.Class != c.want || r.Difference != c.difference {
				t.Errorf("%s, %s: %s by %s; want %s by %s", c.a, c.b, r.Class, r.Difference, c.want, c.difference)
			}
			back := one(t, compared(t, target("wire.first", c.b), target("wire.first", c.a)), "wire.first")
			if back.Class != c.want {
				t.Errorf("the other way round %s", back.Class)
			}
		})
	}
}

func TestWhatIsInCommon(t *testing.T) {
	t.Parallel()
	r := one(t, compared(t, target("wire.first", "27.0 ± 0.5 mm"), target("wire.first", "27.4 ± 1.0 mm")), "wire.first")
	s := r.Share
	if s == nil || s.Low != "26.5" || s.High != "27.5" || s.OfA == nil || *s.OfA != 100 || s.OfB == nil || *s.OfB != 50 {
		t.Errorf("%+v", s)
	}
	r = one(t, compared(t, target("wire.first", "at least 27 mm"), target("wire.first", "26.0 .. 29.0 mm")), "wire.first")
	if s = r.Share; s == nil || s.Low != "27" || s.High != "29" || s.OfA != nil || s.OfB == nil || *s.OfB != 67 {
		t.Errorf("%+v", s)
	}
}

func TestPitchesAndCounts(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name, a, b string
		want       comparison.Class
		difference string
	}{
		{"crow.pitch", "E4 .. F4", "F4 ± 20 cents", comparison.Overlapping, "+50 cents"},
		{"crow.pitch", "E4 .. F4", "A4 ± 20 cents", comparison.Real, "+450 cents"},
		{"crow.pitch", "A4 ± 20 cents", "440 Hz ± 20 cents", comparison.Same, "0 cents"},
		{"wire.turns", "2", "3", comparison.Real, "+1"},
		{"wire.turns", "2 .. 3", "3", comparison.Overlapping, "+1"},
	} {
		r := one(t, compared(t, target(c.name, c.a), target(c.name, c.b)), c.name)
		if r.Class != c.want || r.Difference != c.difference {
			t.Errorf("%s, %s: %s by %s; want %s by %s", c.a, c.b, r.Class, r.Difference, c.want, c.difference)
		}
	}
}

// What only one gives is told with what the other does instead.
func TestOnlyInOne(t *testing.T) {
	t.Parallel()
	both := "stages:\n  - {stage: open, targets: {overall: 60 ± 1 mm}, measure: [overall]}\n  - {stage: clip, targets: {overall: 55 ± 1 mm}, measure: [overall]}\n"
	once := "stages:\n  - {stage: clip, targets: {overall: 55 ± 1 mm}, measure: [overall]}\n"
	for _, c := range []struct{ a, b, name, why string }{
		{both, once, "overall", "the other gives no number for it there"},
		{once, "stages:\n  - {stage: clip, measure: [overall]}\n", "overall", "the other reads it, without a target"},
		{once, "stages:\n  - {stage: clip, do: [Clip it.]}\n", "overall", ""},
	} {
		found := compared(t, c.a, c.b)
		var only []comparison.Row
		for _, r := range found.Targets {
			if r.Class == comparison.OnlyA {
				only = append(only, r)
			}
		}
		if len(only) != 1 || only[0].Name != c.name || only[0].Why != c.why || found.Counts.OnlyA != 1 {
			t.Errorf("%+v, want %q", only, c.why)
		}
	}
}
