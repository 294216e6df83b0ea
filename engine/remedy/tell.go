package remedy

import (
	"fmt"
	"slices"

	"canewright/engine/dimension"
)

// Tell is the reading that would tell two remedies apart, with the reason; ""
// where none would. The dimension is the name of a slot of the recipe:
// "crow.pitch", "blade.thickness 3 mm spine A".
func Tell(a, b Advice) (name, why string) {
	if a.Remedy == nil || b.Remedy == nil || a.bound == nil || a.Remedy == b.Remedy {
		return "", ""
	}
	// Both ask for it and ask different things: one reading settles both.
	for _, x := range a.checks {
		for _, y := range b.checks {
			if x.f.Text() == y.f.Text() {
				continue
			}
			for _, n := range x.asks {
				if slices.Contains(y.asks, n) {
					return a.slot(n), fmt.Sprintf("%s speaks for %q, %s for %q", x.f.Text(), a.Remedy.Name, y.f.Text(), b.Remedy.Name)
				}
			}
		}
	}
	for _, pair := range [][2]Advice{{a, b}, {b, a}} {
		one, other := pair[0], pair[1]
		for _, x := range one.checks {
			if len(x.asks) > 0 && !other.asks(x.f.Text()) {
				return one.slot(x.asks[0]), fmt.Sprintf("%s speaks for %q; %q does not depend on it", x.f.Text(), one.Remedy.Name, other.Remedy.Name)
			}
		}
	}
	// The same dimension is seen to go either way.
	for _, x := range a.Remedy.Expect {
		for _, y := range b.Remedy.Expect {
			if x.Dimension == y.Dimension && x.Way != y.Way {
				return x.Dimension, fmt.Sprintf("measured before and after: %q is seen to make it %s, %q %s", a.Remedy.Name, a.word(x), b.Remedy.Name, b.word(y))
			}
		}
	}
	return "", ""
}

func (a Advice) asks(formula string) bool {
	return slices.ContainsFunc(a.checks, func(c check) bool { return c.f.Text() == formula })
}

func (a Advice) slot(n int) string { return a.bound.Slots[n].Name }

// word is the dimension's own word for more or less of it.
func (a Advice) word(e dimension.Effect) string {
	d, _, ok := a.bound.Set.Part(e.Dimension)
	switch {
	case ok && e.Way == dimension.More:
		return "more " + d.More
	case ok:
		return "more " + d.Less
	}
	return string(e.Way)
}
