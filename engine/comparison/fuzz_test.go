package comparison_test

import (
	"testing"

	"canewright/engine/comparison"
	"canewright/engine/recipe"
)

// Whatever two recipes say that can be used, they can be compared, both ways
// round and with the same counts, told and drawn from.
func FuzzOf(f *testing.F) {
	bodies := []string{soaked, fromFold, target("wire.first", "27.0 ± 0.5 mm"), target("crow.pitch", "E4 .. F4"), target("hardness", "at most 22"),
		grid("collar", "3 9 mm", "0.90 0.70 mm", "0.6 0.4 mm", "± 0.03 mm"), grid("tip", "3 9 mm", "0.20 0.30 mm", "", "± 0.03 mm"),
		ruled(bothGouges, "      - that: gouge.centre - gouge.side >= gap\n"), ruled(bothGouges, "      - that: gouge.side > gouge.centre\n"),
		"stages:\n  - {stage: again, times: 3, stages: [{stage: wet it, do: [Wet it.], becomes: wet}, {stage: dry it, wait: {usual: 1 d}, becomes: dry}]}\n"}
	for i, a := range bodies {
		f.Add(a, bodies[(i+3)%len(bodies)])
		f.Add(a, a)
	}
	f.Fuzz(func(t *testing.T, a, b string) {
		var both []*recipe.Bound
		for _, body := range []string{a, b} {
			file, _ := recipe.Load("fuzz.yaml", []byte(head+body))
			if file == nil {
				return
			}
			x, _ := recipe.Bind(file, shawm(t), standard())
			if x == nil || len(x.Stages) > 50 || len(x.Slots) > 400 {
				return
			}
			both = append(both, x)
		}
		c, m := comparison.Of(both[0], both[1]), comparison.Of(both[1], both[0])
		c.Tell(true)
		c.Drawn(true)
		c.Spots(false, "the butt")
		n := m.Counts
		if n.OnlyA, n.OnlyB = n.OnlyB, n.OnlyA; n != c.Counts {
			t.Fatalf("%+v; the other way round %+v", c.Counts, n)
		}
		if a == b && c.Counts.Real+c.Counts.Rounding+c.Counts.Overlapping+c.Counts.OnlyA+c.Counts.OnlyB+len(c.Moved) > 0 {
			t.Fatalf("it is not itself: %+v", c.Counts)
		}
	})
}
