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

// BenchmarkCheckPaper is what the check of the papers adds to it.
func BenchmarkCheckPaper(b *testing.B) {
	const n = 10_000
	f, list := recipe.Load("long.yaml", longRecipe(n))
	if f == nil {
		b.Fatal(list.Sorted())
	}
	bound, list := recipe.Bind(f, shawm(b), tool.Standard())
	if bound == nil {
		b.Fatal(list.Sorted())
	}
	b.ReportAllocs()
	for b.Loop() {
		bound.CheckPaper()
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*n), "ns/stage")
}
