package comparison

import (
	"cmp"
	"slices"
)

// Stages are matched in three rounds, each of what the ones before left:
//
//  1. those that do the same in everything: measure, do, wait, look and leave
//     behind alike; among several the one of the same name, else in their order;
//  2. those of the same name, in their order, that are alike by a tenth;
//  3. the most alike first, those that are alike by half.
const (
	alikeNamed = 0.1
	alikeElse  = 0.5
	// Pairs looked at in the third round: beyond it a recipe is ten times a long
	// one, and its stages are matched by the first two alone.
	mostPairs = 4_000_000
)

// pair are two stages that are taken for one.
type pair struct {
	a, b  int
	score float64
}

// matching is who belongs to whom; -1: nobody.
type matching struct {
	pairs  []pair // in A's order
	ofA    []int
	ofB    []int
	capped bool
}

func match(a, b []features) matching {
	m := matching{ofA: make([]int, len(a)), ofB: make([]int, len(b))}
	for i := range m.ofA {
		m.ofA[i] = -1
	}
	for i := range m.ofB {
		m.ofB[i] = -1
	}
	join := func(i, k int) {
		m.ofA[i], m.ofB[k] = k, i
		m.pairs = append(m.pairs, pair{i, k, score(&a[i], &b[k], true)})
	}
	// inOrder joins the first with the first of what has the same word, and so on.
	inOrder := func(word func(f *features) string, fits func(x, y *features) bool) {
		free := map[string][]int{}
		for k := range b {
			if w := word(&b[k]); w != "" && m.ofB[k] < 0 {
				free[w] = append(free[w], k)
			}
		}
		for i := range a {
			w := word(&a[i])
			if w == "" || m.ofA[i] >= 0 || len(free[w]) == 0 {
				continue
			}
			k := free[w][0]
			free[w] = free[w][1:]
			if fits(&a[i], &b[k]) {
				join(i, k)
			}
		}
	}
	always := func(*features, *features) bool { return true }
	inOrder(func(f *features) string {
		if f.sure == "" {
			return ""
		}
		return f.sure + "\x02" + f.name
	}, always)
	inOrder(func(f *features) string { return f.sure }, always)
	inOrder(func(f *features) string { return f.name }, func(x, y *features) bool {
		return score(x, y, false) >= alikeNamed || x.silent() && y.silent()
	})
	m.byLikeness(a, b, join)
	slices.SortFunc(m.pairs, func(x, y pair) int { return cmp.Compare(x.a, y.a) })
	return m
}

// silent: the stage says nothing but its name.
func (f *features) silent() bool {
	for k := range aspects {
		if k != naming && len(f.sets[k]) > 0 {
			return false
		}
	}
	return true
}

func (m *matching) byLikeness(a, b []features, join func(i, k int)) {
	var freeA, freeB []int
	for i, k := range m.ofA {
		if k < 0 {
			freeA = append(freeA, i)
		}
	}
	for k, i := range m.ofB {
		if i < 0 {
			freeB = append(freeB, k)
		}
	}
	if len(freeA)*len(freeB) > mostPairs {
		m.capped = true
		return
	}
	var all []pair
	for _, i := range freeA {
		for _, k := range freeB {
			if s := score(&a[i], &b[k], true); s >= alikeElse {
				all = append(all, pair{i, k, s})
			}
		}
	}
	// How far apart they stand, each counted by the length of its recipe. Two
	// pairs that share a stage never tie in all three, so the sides do not matter.
	apart := func(p pair) int {
		d := p.a*max(len(b), 1) - p.b*max(len(a), 1)
		return max(d, -d)
	}
	slices.SortFunc(all, func(x, y pair) int {
		return cmp.Or(cmp.Compare(y.score, x.score), cmp.Compare(apart(x), apart(y)), cmp.Compare(x.a+x.b, y.a+y.b))
	})
	for _, p := range all {
		if m.ofA[p.a] < 0 && m.ofB[p.b] < 0 {
			join(p.a, p.b)
		}
	}
}

// moved are the pairs that stand in another order than the rest: those that
// cross most others go first, all that cross as many at once, until none cross.
func (m *matching) moved() map[int]bool {
	n := len(m.pairs)
	crossings := make([]int, n)
	cross := func(x, y int) bool { return (m.pairs[x].a < m.pairs[y].a) != (m.pairs[x].b < m.pairs[y].b) }
	for x := range n {
		for y := range x {
			if cross(x, y) {
				crossings[x]++
				crossings[y]++
			}
		}
	}
	out := map[int]bool{}
	for {
		most := 0
		for x, c := range crossings {
			if !out[x] {
				most = max(most, c)
			}
		}
		if most == 0 {
			return out
		}
		var gone []int
		for x, c := range crossings {
			if !out[x] && c == most {
				gone = append(gone, x)
			}
		}
		for _, x := range gone {
			out[x] = true
		}
		for _, x := range gone {
			for y := range n {
				if !out[y] && cross(x, y) {
					crossings[y]--
				}
			}
		}
	}
}
