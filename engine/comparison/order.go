package comparison

// Moved says of two stages of both recipes that they come in another order.
type Moved struct {
	First  string `json:"first_in_b"` // B's name of what B does first, and A last
	Then   string `json:"then_in_b"`
	FirstA string `json:"first_in_a"` // A's name of what A does first
	ThenA  string `json:"then_in_a"`
}

// order says which stages come in another order.
func (c *Comparison) order() {
	moved := c.moved
	pairs := c.stages.pairs
	name := func(p pair) (a, b string) { return c.a.stageName(p.a), c.b.stageName(p.b) }
	seen := map[[2]int]bool{}
	for n := range pairs {
		if !moved[n] {
			continue
		}
		// The nearest that it passed, one that stands still if there is one.
		best := -1
		for m := range pairs {
			if m == n || (pairs[n].a < pairs[m].a) == (pairs[n].b < pairs[m].b) {
				continue
			}
			if best < 0 || moved[best] && !moved[m] || moved[best] == moved[m] && nearer(pairs[n], pairs[m], pairs[best]) {
				best = m
			}
		}
		k := [2]int{min(n, best), max(n, best)}
		if best < 0 || seen[k] {
			continue
		}
		seen[k] = true
		first, then := pairs[n], pairs[best]
		if first.b > then.b {
			first, then = then, first
		}
		var m Moved
		m.ThenA, m.First = name(first)
		m.FirstA, m.Then = name(then)
		c.Moved = append(c.Moved, m)
	}
}

// nearer: is y nearer to x than z is, counted in both recipes?
func nearer(x, y, z pair) bool {
	away := func(p pair) int { return max(x.a-p.a, p.a-x.a) + max(x.b-p.b, p.b-x.b) }
	return away(y) < away(z)
}
