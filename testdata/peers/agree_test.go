package peers

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
	"text/tabwriter"

	"canewright/engine/bench"
	"canewright/engine/bench/benchtest"
)

// vectors are n reeds, right and wrong ones mixed, none of which lies on the
// edge of a rule.
func vectors(n int, rules []peerRule) []vector {
	r := rand.New(rand.NewPCG(20, 200))
	around := vector{1300, 1100, 1300, 1300, 27000, 19000, 4850, 14500, 750, 55500}
	spread := vector{80, 120, 80, 80, 900, 900, 800, 1000, 300, 1500}
	out := make([]vector, 0, n)
	for len(out) < n {
		var v vector
		for i := range v {
			v[i] = around[i] - spread[i] + r.Int64N(2*spread[i]+1)
		}
		if _, edge := answers(rules, v); !edge {
			out = append(out, v)
		}
	}
	return out
}

// answers are those wanted; edge: two sides of a rule are equal.
func answers(rules []peerRule, v vector) (all []bool, edge bool) {
	var x exact
	for _, r := range rules {
		all = append(all, r.want(&x, v))
	}
	return all, x.edge
}

func TestAllAgreeOnTwentyRules(t *testing.T) {
	t.Parallel()
	rules := twenty()
	all := vectors(200, rules)
	// No rule may be true always or false always: agreeing on it says nothing.
	held := make([]int, len(rules))
	for _, v := range all {
		want, _ := answers(rules, v)
		for i, h := range want {
			if h {
				held[i]++
			}
		}
	}
	for i, n := range held {
		if n < len(all)/10 || n > len(all)*9/10 {
			t.Errorf("%s holds for %d of %d: say something else", rules[i].ours, n, len(all))
		}
	}
	for _, e := range peerEngines() {
		t.Run(e.name, func(t *testing.T) {
			t.Parallel()
			evaluate := e.compile(t, rules)
			got := make([]bool, len(rules))
			for _, v := range all {
				if err := evaluate(e.in(v), got); err != nil {
					t.Fatal(err)
				}
				same(t, rules, v, got)
			}
		})
	}
	t.Run("canewright at the bench", func(t *testing.T) {
		t.Parallel()
		b := boundReed(t, rules)
		for _, v := range all {
			d, last := reedAlmostRead(t, b, v)
			evs, err := d.Answer(last)
			if err != nil {
				t.Fatal(err)
			}
			said, got := judged(t, evs, rules)
			if said == nil || said.Side != "inside" || !said.Sure {
				t.Fatalf("the reading %q was judged %+v", last, said)
			}
			same(t, rules, v, got)
		}
	})
}

func same(t *testing.T, rules []peerRule, v vector, got []bool) {
	t.Helper()
	want, _ := answers(rules, v)
	for i, h := range want {
		if got[i] != h {
			t.Errorf("%s is %v, want %v, of %v µm", rules[i].ours, got[i], h, v)
		}
	}
}

// judged picks the verdict and the rules' answers out of the events.
func judged(t testing.TB, evs []bench.Event, rules []peerRule) (*bench.Said, []bool) {
	t.Helper()
	var said *bench.Said
	got := make([]bool, 0, len(rules))
	for _, e := range evs {
		switch b := e.Body.(type) {
		case bench.ReadingTaken:
			said = b.Said
		case bench.RuleJudged:
			if len(b.Missing) > 0 || b.That != rules[len(got)].ours {
				t.Fatalf("rule %d was judged as %+v", len(got), b)
			}
			got = append(got, b.Holds)
		}
	}
	if len(got) != len(rules) {
		t.Fatalf("%d rules were judged, not %d", len(got), len(rules))
	}
	return said, got
}

// reedAlmostRead is a bench where all but the last reading was taken, and the
// line that gives the last.
func reedAlmostRead(t testing.TB, b *reed, v vector) (*benchtest.Driver, string) {
	t.Helper()
	d, err := benchtest.Start(b.bound, 1, nil)
	if err != nil {
		t.Fatal(err)
	}
	for i := range b.asked[:len(b.asked)-1] {
		if _, err := d.Answer(b.line(i, v)); err != nil {
			t.Fatal(err)
		}
	}
	return d, b.line(len(b.asked)-1, v)
}

// On an edge only whole numbers are right for certain. Ours must be; what the
// peers make of it is told and held against none of them: floats are what they
// promise.
func TestOnTheEdge(t *testing.T) {
	t.Parallel()
	table, wrong := edgeTable(t)
	t.Logf("rules whose sides are equal:\n%s", table)
	for _, w := range wrong {
		t.Error(w)
	}
}

// edgeTable tells what each engine answers, and what ours answers wrongly.
func edgeTable(t testing.TB) (table string, wrong []string) {
	t.Helper()
	cases := edges()
	rules := make([]peerRule, len(cases))
	for i, c := range cases {
		rules[i] = c.peerRule
	}
	var b strings.Builder
	w := tabwriter.NewWriter(&b, 0, 0, 2, ' ', 0)
	fmt.Fprint(w, "with the numbers put in\tis")
	got := map[string][]bool{}
	for _, e := range peerEngines() {
		evaluate := e.compile(t, rules)
		for i, c := range cases {
			out := make([]bool, len(rules))
			if err := evaluate(e.in(c.v), out); err != nil {
				t.Fatal(e.name, c.says, err)
			}
			got[e.name] = append(got[e.name], out[i])
		}
		fmt.Fprintf(w, "\t%s", e.name)
	}
	fmt.Fprintln(w)
	for i, c := range cases {
		var x exact
		want := c.want(&x, c.v)
		if !x.edge {
			wrong = append(wrong, c.says+" is on no edge")
		}
		fmt.Fprintf(w, "%s\t%v", c.says, want)
		for _, e := range peerEngines() {
			word := "right"
			if got[e.name][i] != want {
				word = "WRONG"
			}
			fmt.Fprintf(w, "\t%s", word)
		}
		fmt.Fprintln(w)
		if got["canewright"][i] != want {
			wrong = append(wrong, fmt.Sprintf("canewright says %v to %s", !want, c.says))
		}
	}
	w.Flush()
	return b.String(), wrong
}
