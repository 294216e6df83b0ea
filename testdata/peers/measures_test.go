package peers

import (
	"fmt"
	"math"
	"os"
	"runtime"
	"slices"
	"testing"
	"text/tabwriter"
	"time"

	"github.com/expr-lang/expr/vm"

	"canewright/engine/bench"
	"canewright/engine/bench/benchtest"
	"canewright/engine/formula"
	"canewright/engine/gauging"
	"canewright/engine/recipe"
)

// measure is one thing whose cost is told.
type measure struct {
	name string
	per  int         // how many rules are done at once, where the cost of one is told
	do   func(i int) // i counts on, so that each can be another
}

// group is what stands side by side; the first is what the others are told in.
type group struct {
	title    string
	measures []measure
}

func groups(t testing.TB) []group {
	return []group{compileTwenty(t), evaluateTwenty(t), compileMany(t, 250), compileMany(t, 500), compileMany(t, 1000), uncertain(t)}
}

func compileTwenty(t testing.TB) group {
	rules := twenty()
	g := group{title: "compile 20 rules"}
	for _, e := range peerEngines() {
		g.measures = append(g.measures, measure{e.name, 1, func(int) { e.compile(t, rules) }})
	}
	text, set := reedText(rules), reedSet(t)
	g.measures = append(g.measures, measure{"canewright, recipe read, checked and bound", 1, func(int) { bindReed(t, text, set) }})
	return g
}

func evaluateTwenty(t testing.TB) group {
	rules := twenty()
	all := vectors(64, rules)
	g := group{title: "answer 20 rules for a fresh vector"}
	for _, e := range peerEngines() {
		evaluate, out := e.compile(t, rules), make([]bool, len(rules))
		values := make([][]float64, len(all))
		for i, v := range all {
			values[i] = e.in(v)
		}
		g.measures = append(g.measures, measure{e.name, 1, func(i int) {
			if err := evaluate(values[i%len(values)], out); err != nil {
				t.Fatal(err)
			}
		}})
	}
	return group{g.title, append(g.measures,
		measure{"canewright, whole reading, 20 rules and how sure", 1, wholeReading(t, rules, all)},
		measure{"canewright, whole reading, 1 rule and how sure", 1, wholeReading(t, rules[12:13], all)})}
}

// wholeReading is the last reading of a reed as it is typed: parsed, estimated,
// judged, and the rules with their probabilities; the events are made.
func wholeReading(t testing.TB, rules []peerRule, all []vector) func(int) {
	b := boundReed(t, rules)
	drivers, lines := make([]*benchtest.Driver, len(all)), make([]string, len(all))
	for i, v := range all {
		drivers[i], lines[i] = reedAlmostRead(t, b, v)
	}
	none := func(recipe.Use) ([]bench.Note, error) { return nil, nil }
	return func(i int) {
		d := drivers[i%len(drivers)]
		evs, err := bench.Decide(d.State, bench.Answer{Seen: d.State.Last, Text: lines[i%len(lines)]}, none, bench.Moment{At: d.Now})
		if err != nil || len(evs) <= len(rules) {
			t.Fatal(len(evs), err)
		}
	}
}

func compileMany(t testing.TB, n int) group {
	ours, bare := rulesOf(n, " mm"), rulesOf(n, "")
	return group{fmt.Sprintf("compile and check %d rules, each", n), []measure{
		{"expr", n, func(int) { compileExpr(t, bare) }},
		{"canewright, kinds, places and conditions too", n, func(int) { compileOurs(t, ours) }},
	}}
}

// kinked bends where its inputs lie, so that trials decide how sure it is.
const kinked = "max(gouge.first_end, gouge.second_end) - min(gouge.centre, gouge.side) <= 0.02 mm"

func uncertain(t testing.TB) group {
	p := compileExpr(t, []string{fiveBare})[0]
	var machine vm.VM
	run := func(env map[string]any) {
		if _, err := machine.Run(p, env); err != nil {
			t.Fatal(err)
		}
	}
	same := fiveEnvironment()
	f := compileOurs(t, []string{five})[0]
	values := make([]float64, len(many))
	margin, in := fiveMargin(t)
	for i, n := range f.Needs() {
		values[n] = in[i].Value
	}
	sure := slices.Clone(in)
	sure[4].Value = 10e6
	judge := func(margin func([]float64) (float64, error), in []gauging.Input, sure, trials bool) func(int) {
		return func(i int) {
			in[0].Value += float64(1 - i%2*2) // another number each time
			v, _, err := gauging.JudgeRule(margin, in, true, 0.8)
			if err != nil || v.Sure != sure || v.Trials != trials {
				t.Fatalf("%+v, %v", v, err)
			}
		}
	}
	bent := compileOurs(t, []string{kinked})[0]
	return group{"a rule over 5 readings", []measure{
		{"expr, the same map", 1, func(int) { run(same) }},
		{"expr, a fresh map", 1, func(int) { run(fiveEnvironment()) }},
		{"canewright, the answer alone", 1, func(i int) {
			values[0] += float64(1 - i%2*2)
			if _, err := f.Holds(values); err != nil {
				t.Fatal(err)
			}
		}},
		{"canewright, with uncertainty, sure", 1, judge(margin, sure, true, false)},
		{"canewright, with uncertainty, unsure", 1, judge(margin, in, false, false)},
		{"canewright, 4 readings at a bend, by trials", 1, judge(bent.MarginFunc(), bentInputs(t, bent), false, true)},
	}}
}

func bentInputs(t testing.TB, f *formula.Formula) []gauging.Input {
	t.Helper()
	in := fiveInputs()[:4]
	if len(f.Needs()) != len(in) {
		t.Fatal(f.Needs())
	}
	for i := range in {
		in[i].Value = 1.30e6 // all alike: each is the largest and the smallest
	}
	return in
}

// taken is what a measure cost in each round, for one, and what it took from
// the heap.
type taken struct {
	rounds        []float64 // ns
	bytes, allocs float64
}

func (c taken) fastest() float64 { return slices.Min(c.rounds) }

func (c taken) median() float64 {
	s := slices.Sorted(slices.Values(c.rounds))
	return s[len(s)/2]
}

// takeTurns measures all in turn, round by round, so that a machine that slows
// down slows all.
func takeTurns(rounds int, turn time.Duration, all []measure) []taken {
	out, times := make([]taken, len(all)), make([]int, len(all))
	for i, m := range all {
		m.do(0) // whatever is made once
		start := time.Now()
		n := 0
		for time.Since(start) < turn {
			n++
			m.do(n)
		}
		times[i] = n
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		for j := range n {
			m.do(j)
		}
		runtime.ReadMemStats(&after)
		each := float64(n * m.per)
		out[i].bytes = float64(after.TotalAlloc-before.TotalAlloc) / each
		out[i].allocs = float64(after.Mallocs-before.Mallocs) / each
	}
	for range rounds {
		for i, m := range all {
			start := time.Now()
			for j := range times[i] {
				m.do(j)
			}
			out[i].rounds = append(out[i].rounds, float64(time.Since(start))/float64(times[i]*m.per))
		}
	}
	return out
}

// TestTable prints all measures; it is run on its own, for it takes its time.
//
//	TABLE=1 go test -count=1 -run Table -v .
func TestTable(t *testing.T) {
	if os.Getenv("TABLE") == "" {
		t.Skip("TABLE is not set")
	}
	w := tabwriter.NewWriter(os.Stdout, 0, 0, 2, ' ', tabwriter.AlignRight)
	row := func(cells ...string) {
		for _, c := range cells {
			fmt.Fprint(w, c, "\t")
		}
		fmt.Fprintln(w)
	}
	for _, g := range groups(t) {
		all := takeTurns(21, 20*time.Millisecond, g.measures)
		row("fastest", "median", "B", "allocs", "fastest ×", "median ×", g.title)
		for i, c := range all {
			row(nanoseconds(c.fastest()), nanoseconds(c.median()), fmt.Sprintf("%.0f", c.bytes), fmt.Sprintf("%.0f", c.allocs),
				fmt.Sprintf("%.2f", c.fastest()/all[0].fastest()), fmt.Sprintf("%.2f", c.median()/all[0].median()), g.measures[i].name)
		}
		row()
	}
	w.Flush()
	table, _ := edgeTable(t)
	fmt.Print(table)
}

func nanoseconds(ns float64) string {
	switch {
	case ns >= 1e6:
		return fmt.Sprintf("%.2f ms", ns/1e6)
	case ns >= 1e4:
		return fmt.Sprintf("%.1f µs", ns/1e3)
	}
	return fmt.Sprintf("%.0f ns", math.Round(ns))
}

func BenchmarkMeasures(b *testing.B) {
	for _, g := range groups(b) {
		for _, m := range g.measures {
			b.Run(g.title+"/"+m.name, func(b *testing.B) {
				b.ReportAllocs()
				i := 0
				for b.Loop() {
					m.do(i)
					i++
				}
			})
		}
	}
}

// The measures, held with room for a machine that others use too: the fastest of
// several rounds, taken in turn.
func TestRulesCostWhatTheyMay(t *testing.T) {
	var all []measure
	for _, n := range []int{250, 500, 1000} {
		all = append(all, compileMany(t, n).measures...)
	}
	c := takeTurns(7, 10*time.Millisecond, all)
	ours := func(i int) float64 { return c[2*i+1].fastest() } // of one rule
	bare := func(i int) float64 { return c[2*i].fastest() }
	for i, n := range []int{250, 500, 1000} {
		t.Logf("%d rules: ours %.0f ns each, expr %.0f: %.2f", n, ours(i), bare(i), ours(i)/bare(i))
		if ours(i) > 3*bare(i) {
			t.Errorf("compiling %d rules takes %.2f times bare expr, at most 3", n, ours(i)/bare(i))
		}
		// Twice as many may cost half as much again each, for the garbage.
		if i > 0 && ours(i) > 1.5*ours(i-1) {
			t.Errorf("a rule of %d takes %.2f times one of half as many", n, ours(i)/ours(i-1))
		}
	}
	g := uncertain(t)
	rule := []measure{g.measures[0], g.measures[3], g.measures[4]}
	c = takeTurns(15, 2*time.Millisecond, rule)
	for i, m := range rule[1:] {
		ratio := c[i+1].fastest() / c[0].fastest()
		t.Logf("%s: %.0f ns, bare expr %.0f: %.2f", m.name, c[i+1].fastest(), c[0].fastest(), ratio)
		if ratio > 8 {
			t.Errorf("%s takes %.2f times bare expr, at most 8", m.name, ratio)
		}
	}
}
