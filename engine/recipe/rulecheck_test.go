package recipe_test

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"canewright/engine/formula"
	"canewright/engine/quantity"
	"canewright/engine/recipe"
)

// proved is the one rule of a recipe's body, with what is proved of it.
func proved(t testing.TB, body string) recipe.RuleProof {
	t.Helper()
	b, list := check(t, "recipe.yaml", []byte(head+body))
	if b == nil {
		t.Fatalf("findings:\n%s\nof\n%s", text(t, list), body)
	}
	all, _ := b.CheckRules()
	if len(all) != 1 {
		t.Fatalf("%d rules in\n%s", len(all), body)
	}
	return all[0]
}

func TestWhatARuleTakesForGranted(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name, body string
		proof      formula.Proof
		ranges     string
	}{
		{"nothing is known of it", `
stages:
  - {stage: weigh, measure: [cane.weight], expect: [cane.weight >= 3 g]}
`, formula.Unproved, "cane.weight anything"},
		{"plausible", `
stages:
  - {stage: bind, measure: [wire.first], expect: [wire.first >= 5 mm]}
`, formula.Always, "wire.first 5 to 60 mm (plausible)"},
		{"the target of the stage", `
stages:
  - {stage: bind, targets: {wire.first: {target: 27 ± 1 mm, above: once more, below: once more}}, measure: [wire.first], expect: [wire.first >= 26 mm]}
`, formula.Always, "wire.first 26 to 28 mm (its target)"},
		{"the target lets a piece go on", `
stages:
  - {stage: bind, targets: {wire.first: 27 ± 1 mm}, measure: [wire.first], expect: [wire.first >= 26 mm]}
`, formula.Unproved, "wire.first 5 to 60 mm (plausible)"},
		{"a target that is not measured here", `
stages:
  - {stage: bind, measure: [wire.first]}
  - {stage: turn, targets: {wire.first: {target: 27 ± 1 mm, above: once more, below: once more}}, expect: [wire.first >= 26 mm]}
`, formula.Unproved, "wire.first 5 to 60 mm (plausible)"},
		{"measured at an earlier stage", `
stages:
  - {stage: bind, targets: {wire.first: {target: 27 ± 1 mm, above: once more, below: once more}}, measure: [wire.first]}
  - {stage: turn, expect: [wire.first > 28 mm]}
`, formula.Never, "wire.first 26 to 28 mm (its target at bind)"},
		{"a target beyond what is plausible", `
stages:
  - {stage: bind, targets: {wire.first: {target: 70 ± 1 mm, above: once more, below: once more}}, measure: [wire.first], expect: [wire.first > 60 mm]}
`, formula.Always, "wire.first 69 to 71 mm (its target)"},
		{"settings alone", `
settings:
  gap: {value: 8 mm, why: the pattern}
stages:
  - {stage: bind, do: [Bind it.], expect: [gap >= 7 mm]}
`, formula.Always, "gap 8 mm (a setting)"},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			p := proved(t, c.body)
			if p.Proof != c.proof || recipe.Taken(p.Ranges) != c.ranges {
				t.Errorf("%v with %s; want %v with %s", p.Proof, recipe.Taken(p.Ranges), c.proof, c.ranges)
			}
		})
	}
}

// ruleForms: each %d is a number of tenths of an inch.
var ruleForms = []string{
	"wire.first - wire.second >= %d", "wire.gap <= %d and wire.first > %d", "wire.gap < %d or wire.second > wire.first",
	"between(wire.gap, %d, %d)", "abs(wire.gap - %d) <= %d", "wire.gap * 2 - wire.second > %d", "wire.first * wire.gap >= %d * %d",
	"not (wire.gap >= %d)", "wire.first > %d ? wire.gap > %d : wire.gap <= %d",
}

var tenths = regexp.MustCompile(`%d`)

// drawnRecipe is a body whose numbers are tenths of an inch, each written by
// number.
func drawnRecipe(rt *rapid.T) func(number func(tenths int) string) string {
	var drawn []int
	form := rapid.SampledFrom(ruleForms).Draw(rt, "rule")
	for range 7 {
		drawn = append(drawn, rapid.IntRange(0, 20).Draw(rt, "tenths"))
	}
	outcome := rapid.SampledFrom([]string{"once more", "set aside", "going on", "{go back to: start, at most: 1 time, then: going on}"})
	follows := []string{outcome.Draw(rt, "above"), outcome.Draw(rt, "below")}
	target := rapid.SampledFrom([]string{"target: %d .. %d", "target: at most %d", "target: at least %d"}).Draw(rt, "target")
	if drawn[0] > drawn[1] {
		drawn[0], drawn[1] = drawn[1], drawn[0]
	}
	return func(number func(int) string) string {
		n := 0
		fill := func(s string) string {
			return tenths.ReplaceAllStringFunc(s, func(string) string { n++; return number(drawn[n-1]) })
		}
		body := "stages:\n  - {stage: start, do: [Begin.]}\n  - stage: bind\n    targets:\n      wire.first: {" + fill(target) + ", above: " + follows[0] + ", below: " + follows[1] + "}\n"
		n = 2
		return body + "    measure: [wire.first, wire.second]\n    expect:\n      - '" + fill(form) + "'\n"
	}
}

func millimetres(tenths int) string { return fmt.Sprintf("%d.%02d mm", tenths*254/100, tenths*254%100) }
func inches(tenths int) string      { return fmt.Sprintf("%d.%d in", tenths/10, tenths%10) }

// Whatever readings a piece goes on with, they do not contradict a proof.
func TestNoReadingsContradictAProof(t *testing.T) {
	t.Parallel()
	seen := map[formula.Proof]int{}
	rapid.Check(t, func(rt *rapid.T) {
		body := drawnRecipe(rt)(millimetres)
		b, _ := check(t, "recipe.yaml", []byte(head+body))
		if b == nil {
			rt.Fatalf("not bound:\n%s", body)
		}
		all, _ := b.CheckRules()
		seen[all[0].Proof]++
		st := b.Stages[1]
		first, second := b.SlotOf("wire.first"), b.SlotOf("wire.second")
		target := st.Measures[0].Target
		stays := func(o recipe.Outcome) bool { return o.How == recipe.GoingOn || o.How == recipe.BackTo } // which goes on at last
		grid := []float64{5e6, 60e6, 26.5e6, 17.3e6}
		for i := range 21 {
			grid = append(grid, max(float64(i)*2.54e6, 5e6))
		}
		values, known := make([]float64, len(b.Slots)), make([]bool, len(b.Slots))
		for _, x := range grid {
			switch target.Tolerance.Side(int64(x)) {
			case quantity.Above:
				if !stays(target.Above) {
					continue
				}
			case quantity.Below:
				if !stays(target.Below) {
					continue
				}
			}
			for _, y := range grid {
				clear(known)
				values[first], values[second], known[first], known[second] = x, y, true, true
				b.Work(values, known)
				holds, err := st.Rules[0].That.Holds(values)
				if err == nil && (all[0].Proof == formula.Always && !holds || all[0].Proof == formula.Never && holds) {
					rt.Fatalf("said to be %v, and is %v with %v and %v:\n%s", all[0].Proof, holds, x, y, body)
				}
			}
		}
	})
	if seen[formula.Always] == 0 || seen[formula.Never] == 0 || seen[formula.Unproved] == 0 {
		t.Errorf("too tame: %v", seen)
	}
}

// A recipe in inches has the findings of the same in millimetres.
func TestInchesHaveTheFindingsOfMillimetres(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(rt *rapid.T) {
		write := drawnRecipe(rt)
		said := func(number func(int) string) string {
			b, _ := check(t, "recipe.yaml", []byte(head+write(number)))
			if b == nil {
				rt.Fatalf("not bound:\n%s", write(number))
			}
			all, list := b.CheckRules()
			out := all[0].Proof.String()
			for _, d := range list.Sorted() {
				out += " " + d.Code + " " + strconv.Itoa(d.Span.From.Line)
			}
			return out
		}
		if mm, in := said(millimetres), said(inches); mm != in {
			rt.Fatalf("%s in millimetres, %s in inches:\n%s", mm, in, write(millimetres))
		}
	})
}

// The example shown of two ways is one: both rules fail with it.
func TestTheExampleOfTwoWaysIsOne(t *testing.T) {
	t.Parallel()
	shown := regexp.MustCompile(`as with wire\.first ([0-9.]+) mm, wire\.second ([0-9.]+) mm`)
	found := 0
	rapid.Check(t, func(rt *rapid.T) {
		limit := func() int { return rapid.IntRange(5, 60).Draw(rt, "limit") }
		b, list := check(t, "recipe.yaml", []byte(head+fmt.Sprintf(`stages:
  - {stage: one, do: [One.]}
  - {stage: two, do: [Two.]}
  - stage: bind
    measure: [wire.first, wire.second]
    expect:
      - {that: 'wire.first - wire.second >= %d mm', otherwise: {go back to: one, at most: 1 time, then: set aside}}
      - {that: 'wire.gap < %d mm or wire.first > %d mm and wire.second <= %d mm', otherwise: {go back to: two, at most: 1 time, then: set aside}}
`, limit(), limit(), limit(), limit())))
		if b == nil {
			rt.Fatalf("%s", text(t, list))
		}
		_, list = b.CheckRules()
		for _, d := range list.Sorted() {
			if d.Code != "recipe/two-ways" {
				continue
			}
			found++
			m := shown.FindStringSubmatch(d.Message)
			if m == nil {
				rt.Fatalf("no example in %s", d.Message)
			}
			values, known := make([]float64, len(b.Slots)), make([]bool, len(b.Slots))
			for i, name := range []string{"wire.first", "wire.second"} {
				mm, _ := strconv.ParseFloat(m[i+1], 64)
				values[b.SlotOf(name)], known[b.SlotOf(name)] = math.Round(mm*1e6), true
			}
			b.Work(values, known)
			for _, r := range b.Stages[2].Rules {
				if holds, err := r.That.Holds(values); holds || err != nil {
					rt.Fatalf("%s holds with %v (%v)", r.That.Text(), m[1:], err)
				}
			}
		}
	})
	if found == 0 {
		t.Error("no two ways were found")
	}
}

// Many rules are looked at for a bounded time, and the check says nothing of
// those it has not looked at.
func TestManyRulesAreCheckedInBoundedTime(t *testing.T) {
	t.Parallel()
	var b strings.Builder
	b.WriteString("stages:\n  - {stage: one, do: [One.]}\n  - {stage: two, do: [Two.]}\n  - stage: bind\n    measure: [wire.first, wire.second]\n    expect:\n")
	for i := range 3000 {
		fmt.Fprintf(&b, "      - {that: wire.first * wire.second - wire.second * wire.gap > %d mm * 1 mm, otherwise: {go back to: %s, at most: 1 time, then: set aside}}\n", i, []string{"one", "two"}[i%2])
	}
	bound := bind(t, b.String())
	all, _ := bound.CheckRules()
	if len(all) != 1000 {
		t.Errorf("%d rules were looked at", len(all))
	}
}

func BenchmarkCheckRules(b *testing.B) {
	bound := bind(b, `targets:
  wire.first: {target: 27 ± 1 mm, above: once more, below: once more}
stages:
  - stage: bind
    measure: [wire.first, wire.second]
    expect: [wire.gap >= 7.5 mm, wire.first - wire.second <= 12 mm, abs(wire.gap - 8 mm) <= 1 mm]
`)
	for b.Loop() {
		if all, _ := bound.CheckRules(); len(all) != 3 {
			b.Fatal(len(all))
		}
	}
}
