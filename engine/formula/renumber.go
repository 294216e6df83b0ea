package formula

import (
	"math"
	"slices"
)

// Renumber is the formula with other slots: to gives the new one of each, no
// two alike. So formulas of two recipes can be looked at together.
func (f *Formula) Renumber(to func(slot int) int) *Formula {
	out := *f
	out.needs = make([]int, len(f.needs))
	for i, slot := range f.needs {
		out.needs[i] = to(slot)
	}
	slices.Sort(out.needs)
	moved := func(p *program) *program {
		if p == nil {
			return nil
		}
		q := *p
		q.steps = slices.Clone(p.steps)
		for i := range q.steps {
			if s := &q.steps[i]; s.do == load {
				s.a = place(out.needs, to(f.needs[s.a]))
			}
		}
		return &q
	}
	out.value, out.margin = moved(f.value), moved(f.margin)
	out.names = slices.Clone(f.names)
	for i := range out.names {
		out.names[i].slot = to(out.names[i].slot)
	}
	return &out
}

// NeverAll says that the formulas never hold together wherever they can be
// worked out with values in the ranges. It never says what it has not proved.
// Two that compare the same sum, the other way round, are settled by adding
// them; others by cutting the ranges, as far as the work is bounded.
func NeverAll(of Ranges, all ...*Formula) bool {
	var claims []Claim
	for i, f := range all {
		if !f.truth {
			return false
		}
		claims = append(claims, f.Yes())
		for _, g := range all[:i] {
			if oppose(f, g) {
				return true
			}
		}
	}
	return newSearch(of, claims...).run(true) == impossible
}

// oppose: the two margins are sums that run against each other, and together
// they are below nought whatever the values (J. Farkas, Theorie der einfachen
// Ungleichungen, 1902). Only of comparisons without slack.
func oppose(f, g *Formula) bool {
	if !f.exact() || !g.exact() {
		return false
	}
	a, ok := f.MarginSum()
	if !ok || len(a.Slots) == 0 {
		return false
	}
	b, ok := g.MarginSum()
	if !ok || !slices.Equal(a.Slots, b.Slots) {
		return false
	}
	times := -a.Factors[0] / b.Factors[0]
	if !(times > 0) {
		return false
	}
	for i := range a.Factors {
		if a.Factors[i]+times*b.Factors[i] != 0 {
			return false
		}
	}
	// Ratios are no whole numbers: what rounding may have done does not count.
	const rounding = 1e-12
	return a.Constant+times*b.Constant < -rounding*max(1, math.Abs(a.Constant))
}

// exact: the formula is one comparison, and within no slack do its sides count
// as equal.
func (f *Formula) exact() bool {
	last := f.value.steps[len(f.value.steps)-1]
	switch last.do {
	case below, atMost, above, atLeast:
		return last.x == 0 && last.y == 0
	}
	return false
}
