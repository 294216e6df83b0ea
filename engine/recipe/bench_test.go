package recipe_test

import (
	"fmt"
	"strings"
	"testing"

	"canewright/engine/recipe"
	"canewright/engine/tool"
)

// longRecipe has n stages written out, about as full as a maker's.
func longRecipe(n int) []byte {
	var b strings.Builder
	b.WriteString(head + "targets:\n  wire.first: 27.0 ± 0.5 mm\n  wire.second: 19.0 ± 0.5 mm\nstages:\n")
	for i := range n {
		fmt.Fprintf(&b, "  - stage: stage %d\n    tools: [knife]\n    do: Take a little off the rails at {wire.first}, then wet it again.\n", i+1)
		switch i % 10 {
		case 4:
			b.WriteString("    wait: {usual: 2 h}\n")
		case 7:
			b.WriteString("    measure: [wire.second]\n")
		case 9:
			fmt.Fprintf(&b, `    targets: {wire.first: 27.1 ± 0.5 mm}
    measure: [wire.first, wire.second]
    expect: [wire.first - wire.second >= 7 mm]
    look: {question: How is it, answers: {good: going on, bad: {go back to: stage %d, at most: 2 times, then: set aside}}}
`, i)
		}
	}
	return []byte(b.String())
}

// BenchmarkCheckLong: ns/stage must stay the same as recipes grow.
func BenchmarkCheckLong(b *testing.B) {
	for _, n := range []int{400, 2_000, 5_000, 10_000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			data, set, tools := longRecipe(n), shawm(b), tool.Standard()
			b.ReportAllocs()
			for b.Loop() {
				f, list := recipe.Load("long.yaml", data)
				if f == nil {
					b.Fatal(list.Sorted())
				}
				bound, list := recipe.Bind(f, set, tools)
				if bound == nil || len(bound.Stages) != n {
					b.Fatal(list.Sorted())
				}
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*n), "ns/stage")
		})
	}
}

// What is written out is read up to the limit, and what repeats add is not.
func TestLengthOfARecipe(t *testing.T) {
	t.Parallel()
	stages := func(n int) string { return strings.Repeat("  - stage: s\n", n) }
	for name, c := range map[string]struct {
		data string
		want string
		n    int
	}{
		"ten thousand stages":   {string(longRecipe(10_000)), "", 10_000},
		"all of one name":       {head + "stages:\n" + stages(10_000), "", 10_000},
		"one more":              {head + "stages:\n" + stages(10_001), "recipe.yaml:10007:5: error: this recipe has over 10000 stages", 0},
		"four hundred repeated": {head + "stages:\n  - {stage: a, times: 20, stages: [{stage: b, times: 20, stages: [{stage: c}]}]}\n", "", 400},
		"repeated too often": {head + "stages:\n  - {stage: a, times: 20, stages: [{stage: b, times: 20, stages: [{stage: c}, {stage: d}]}]}\n",
			"recipe.yaml:7:67", 0},
		"a big stage again and again": {head + "stages:\n  - {stage: s, do: '" + strings.Repeat("wind ", 20_000) + "'}\n" + strings.Repeat("  - {stage: s, again: s}\n", 200),
			"its repeats add over 20000 instructions", 0},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			b, list := check(t, "recipe.yaml", []byte(c.data))
			said := text(t, list)
			if c.want != "" && (b != nil || !strings.Contains(said, c.want)) {
				t.Errorf("want %q:\n%s", c.want, said)
			}
			if c.want != "" {
				return
			}
			if b == nil || len(b.Stages) != c.n {
				t.Fatalf("not read:\n%s", said)
			}
			keys := map[string]bool{}
			for _, s := range b.Stages {
				keys[s.Key] = true
			}
			if len(keys) != c.n {
				t.Errorf("%d keys for %d stages", len(keys), c.n)
			}
		})
	}
}
