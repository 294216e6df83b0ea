package wire_test

import (
	"maps"
	"slices"
	"testing"

	"canewright/engine/comparison"
)

// Every bundled recipe beside every other, of one instrument or of two: nothing
// stops, a recipe is itself, and it does not matter which is named first.
func TestBundledRecipesCompared(t *testing.T) {
	t.Parallel()
	all := bundled(t)
	names := slices.Sorted(maps.Keys(all))
	for _, x := range names {
		for _, y := range names {
			c := comparison.Of(all[x], all[y])
			n := c.Counts
			if len(c.Tell(true)) == 0 {
				t.Errorf("%s, %s: nothing is told", x, y)
			}
			if x == y && n.Real+n.Rounding+n.Overlapping+n.NotComparable+n.OnlyA+n.OnlyB+len(c.Clashes)+len(c.Moved) > 0 {
				t.Errorf("%s is not itself: %+v", x, n)
			}
			m := comparison.Of(all[y], all[x]).Counts
			m.OnlyA, m.OnlyB = m.OnlyB, m.OnlyA
			if n != m {
				t.Errorf("%s, %s: %+v; the other way round %+v", x, y, n, m)
			}
		}
	}
}

// What sets the long scrape apart from the short one is found.
func TestTheTwoScrapesOfTheOboe(t *testing.T) {
	t.Parallel()
	all := bundled(t)
	c := comparison.Of(all["oboe/long-scrape"], all["oboe/short-scrape"])
	if len(c.Clashes) != 1 || c.Clashes[0].A.That != "overall - tip.start >= 3 mm" || c.Clashes[0].B.That != "overall - tip.start <= 2 mm" {
		t.Errorf("%+v", c.Clashes)
	}
	want := map[string]comparison.Class{"staple.length": comparison.Real, "tie.length": comparison.Real, "heart.thickness": comparison.Real, "shape.widest": comparison.Overlapping, "crow.pitch": comparison.Overlapping, "tip.thickness": comparison.OnlyB}
	for _, r := range c.Targets {
		if k, ok := want[r.Name]; ok && r.Class != k {
			t.Errorf("%s: %s, want %s", r.Name, r.Class, k)
		}
	}
}
