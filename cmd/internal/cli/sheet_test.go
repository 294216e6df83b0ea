package cli

import (
	"testing"

	"canewright/engine/bench"
)

// Strokes are told from five pairs on, and so that the lower limit is safe.
func TestStrokesAreToldOnlyWhereTheyAreKnown(t *testing.T) {
	t.Parallel()
	// 4 µm a stroke, within 1 µm.
	steady := []bench.StrokePair{{Strokes: 12, Off: 49_000}, {Strokes: 8, Off: 31_000}, {Strokes: 10, Off: 40_500}, {Strokes: 15, Off: 59_500}, {Strokes: 20, Off: 80_500}}
	// The same hand, with a blunt knife one day and a sharp one the next.
	wild := []bench.StrokePair{{Strokes: 12, Off: 10_000}, {Strokes: 8, Off: 60_000}, {Strokes: 10, Off: 5_000}, {Strokes: 15, Off: 90_000}, {Strokes: 20, Off: 30_000}}
	const u = 12_910
	for _, c := range []struct {
		name  string
		pairs []bench.StrokePair
		f     bench.Finding
		want  string
	}{
		{"known", steady, bench.Finding{Want: 70_000, Room: 80_000, U: u}, "about 17 strokes, measure again at 13"},
		{"four are too few", steady[:4], bench.Finding{Want: 70_000, Room: 80_000, U: u}, ""},
		{"too wild to be of use", wild, bench.Finding{Want: 70_000, Room: 80_000, U: u}, ""},
		{"little room in the lane", steady, bench.Finding{Want: 70_000, Room: 40_000, U: u}, "about 17 strokes, measure again at 9"},
		{"hardly any room", steady, bench.Finding{Want: 70_000, Room: 10_000, U: u}, ""},
		{"no room", steady, bench.Finding{Want: 70_000, Room: 0, U: u}, ""},
		{"less than the gauge may be wrong by", steady, bench.Finding{Want: 10_000, Room: 80_000, U: u}, ""},
		{"not above its limit", steady, bench.Finding{U: u}, ""},
		{"more than was ever made: measure on the way", steady, bench.Finding{Want: 200_000, Room: 200_000, U: u}, "about 50 strokes, measure again at 20"},
		{"far more than was ever made", steady, bench.Finding{Want: 400_000, Room: 400_000, U: u}, ""},
	} {
		k := &strokesKnown{One: lineOf(c.pairs, false), Both: lineOf(c.pairs, true)}
		if got := k.say(c.f); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
		if n, m, ok := k.One.strokes(c.f.Want, c.f.Room, c.f.U); ok {
			if high := k.One.line.Predict(float64(m), strokesSure).High; high > float64(min(c.f.Want-c.f.U, c.f.Room)) || m > n {
				t.Errorf("%s: %d strokes may take off %.0f nm, there is room for %d", c.name, m, high, c.f.Room)
			}
		}
	}
	both := make([]bench.StrokePair, len(steady))
	for i, p := range steady {
		p.Both = true
		both[i] = p
	}
	k := &strokesKnown{One: lineOf(both, false), Both: lineOf(both, true)}
	if got := k.say(bench.Finding{Want: 70_000, Room: 80_000, U: u}); got != "" {
		t.Errorf("strokes on both blades are told of one: %q", got)
	}
	if got, want := k.say(bench.Finding{Want: 70_000, Room: 80_000, BothWant: 50_000, BothRoom: 60_000, U: u}), "about 12 strokes on both blades, measure again at 8"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}
