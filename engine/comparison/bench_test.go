package comparison_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"canewright/engine/comparison"
	"canewright/engine/recipe"
)

// longRecipe has n stages. With word each has another name and other words, so
// that none is found by its name or as doing the same in everything.
func longRecipe(n int, word string) string {
	var b strings.Builder
	b.WriteString("targets: {wire.first: 27.0 ± 0.5 mm, wire.second: 19.0 ± 0.5 mm}\nstages:\n")
	for i := range n {
		fmt.Fprintf(&b, "  - stage: stage%s %d\n    tools: [knife]\n    do: Take a little off the rails %s, then wet it again, step%s.\n", word, i+1, word, strings.Repeat("o", i%37))
		switch i % 10 {
		case 4:
			b.WriteString("    wait: {usual: 2 h}\n")
		case 7:
			b.WriteString("    measure: [wire.second]\n")
		case 9:
			fmt.Fprintf(&b, "    targets: {wire.first: 27.%d ± 0.5 mm}\n    measure: [wire.first, wire.second]\n    expect: [wire.first - wire.second >= %d mm]\n", i%7, 5+i%4)
		}
	}
	return b.String()
}

func BenchmarkOf(b *testing.B) {
	for _, n := range []int{20, 100, 1000} {
		for _, c := range []struct{ name, word string }{{"itself", ""}, {"renamed", "zebra"}} {
			b.Run(fmt.Sprint(n, " ", c.name), func(b *testing.B) {
				x, y := bound(b, longRecipe(n, "")), bound(b, longRecipe(n, c.word))
				b.ReportAllocs()
				for b.Loop() {
					comparison.Of(x, y).Tell(true)
				}
			})
		}
	}
}

// Two of a thousand stages are compared in a few seconds at most, on whatever
// machine, and so are two of the longest, of which not all stages are looked
// through.
func TestLongRecipes(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("long")
	}
	for _, n := range []int{1000, 5000} {
		x, y := bound(t, longRecipe(n, "")), bound(t, longRecipe(n, "zebra"))
		c, took := timed(x, y)
		if took > 20*time.Second {
			t.Errorf("%d stages took %v", n, took)
		}
		if capped := len(c.Remarks) > 0; capped != (n > 2000) {
			t.Errorf("%d stages: remarks %v", n, c.Remarks)
		}
		if n == 1000 && c.Stages[0].B == nil {
			t.Error("the first stage has no partner")
		}
	}
}

func timed(a, b *recipe.Bound) (*comparison.Comparison, time.Duration) {
	from := time.Now()
	c := comparison.Of(a, b)
	return c, time.Since(from)
}

// A stranger's recipe may be full of stations and of rules: it takes a while,
// and ends.
func TestFullRecipes(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("long")
	}
	var b strings.Builder
	b.WriteString("stages:\n")
	var at, row strings.Builder
	for i := range 40 {
		fmt.Fprintf(&at, "%d ", i+1)
		fmt.Fprintf(&row, "0.%d ", i+11)
	}
	for i := range 60 {
		fmt.Fprintf(&b, "  - stage: scrape %d\n    targets:\n      blade.thickness:\n        from: collar\n        at: %s mm\n        spine: %s mm\n        rails: %s mm\n        within: ± 0.0%d mm\n    measure: [blade.thickness, wire.first, wire.second, overall]\n    expect:\n", i, at.String(), row.String(), row.String(), i%9+1)
		for k := range 6 {
			fmt.Fprintf(&b, "      - that: (wire.first - wire.second) * (overall - wire.first) %s %d mm2 + wire.first * wire.second - wire.second * overall\n", []string{">=", "<="}[k%2], 100+i*7+k)
		}
	}
	x, y := bound(t, b.String()), bound(t, strings.NewReplacer("± 0.01 mm", "± 0.02 mm", " mm2 +", ".5 mm2 +").Replace(b.String()))
	c, took := timed(x, y)
	if took > 60*time.Second {
		t.Errorf("it took %v", took)
	}
	if len(c.Grids) != 60 || len(c.Grids[0].Stations) != 80 {
		t.Errorf("%d grids", len(c.Grids))
	}
	t.Logf("%v", took)
}
