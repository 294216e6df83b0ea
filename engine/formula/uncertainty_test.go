package formula

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"canewright/engine/gauging"
	"canewright/engine/quantity"
	"canewright/engine/tool"
)

// inputsOf reads what the formula needs as hands typed it: "name" "1.30 mm 1.31
// mm" …, all with one gauge.
func inputsOf(t *testing.T, f *Formula, gauge tool.Tool, typed map[string][]string) []gauging.Input {
	t.Helper()
	var out []gauging.Input
	for _, n := range f.Needs() {
		name, kind := dimensions[n].name, dimensions[n].kind
		var rs []quantity.Entered
		for _, s := range typed[name] {
			e, err := quantity.Parse(s, quantity.Style{Want: kind, Point: true})
			if err != nil {
				t.Fatalf("%s %s: %v", name, s, err)
			}
			rs = append(rs, e)
		}
		if len(rs) == 0 {
			t.Fatalf("nothing was read of %s", name)
		}
		out = append(out, gauging.Of(rs, gauge, nil).Input(name, n, gauge))
	}
	return out
}

func valuesOf(inputs []gauging.Input) []float64 {
	have := make([]float64, len(dimensions)+len(cells))
	for _, in := range inputs {
		have[in.Slot] = in.Value
	}
	return have
}

// From a rule as typed and readings as typed to how sure it is, by hand: the
// dial's own 0.01 mm cancels in the difference, two steps of 0.01 mm do not:
// u = 0.01/√6 mm, and 0.11 mm are 2.449 u above 0.10 mm.
func TestRuleFromReadings(t *testing.T) {
	t.Parallel()
	mm := func(x float64) quantity.Value {
		return quantity.Value{Kind: quantity.Length, Q: int64(math.Round(x * 1e6))}
	}
	dial := tool.Tool{Name: "dial indicator", Step: mm(0.01), Error: mm(0.01)}
	typed := map[string][]string{"gouge.centre": {"1.30 mm"}, "gouge.side": {"1.19 mm"}, "tip.width": {"0.11 mm"}}
	rule := mustCompile(t, "gouge.centre - gouge.side >= 0.10 mm")
	in := inputsOf(t, rule, dial, typed)
	v, c, err := gauging.JudgeRule(rule.MarginFunc(), in, true, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	if want := 0.01e6 / math.Sqrt(6); math.Abs(c.U-want) > 1e-6 || c.Nonlinear {
		t.Errorf("u = %v, want %v: %+v", c.U, want, c)
	}
	if want := math.Erfc(-math.Sqrt(6)/math.Sqrt2) / 2; math.Abs(v.Probability-want) > 1e-9 || !v.Sure {
		t.Errorf("P = %v, want %v: %+v", v.Probability, want, v)
	}
	// The same over a derived value: unfolded it is the same rule; read as one
	// number it would count the dial's error.
	gap := mustCompile(t, "tip.width >= 0.10 mm")
	unfolded, err := gap.Unfold(func(n int) *Formula {
		if n == slot("tip.width") {
			return mustCompile(t, "gouge.centre - gouge.side")
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	same, _, err := gauging.JudgeRule(unfolded.MarginFunc(), inputsOf(t, unfolded, dial, typed), true, 0.95)
	if err != nil || same.Probability != v.Probability {
		t.Errorf("%+v, %v, want %+v", same, err, v)
	}
	worse, _, err := gauging.JudgeRule(gap.MarginFunc(), inputsOf(t, gap, dial, typed), true, 0.95)
	if err != nil || worse.Probability >= v.Probability || worse.Sure {
		t.Errorf("%+v, %v", worse, err)
	}
	// Readings that scatter: what would settle it is said.
	typed["gouge.side"] = []string{"1.17 mm", "1.19 mm", "1.18 mm"}
	typed["gouge.centre"] = []string{"1.29 mm"}
	in = inputsOf(t, rule, dial, typed)
	v, c, err = gauging.JudgeRule(rule.MarginFunc(), in, true, 0.95)
	if err != nil || v.Sure || !strings.HasPrefix(gauging.Advice(v, c), "Measure gouge.side ") {
		t.Errorf("%q: %+v, %v", gauging.Advice(v, c), v, err)
	}
}

// Relabelling every mm as in, in rules, readings and steps, changes no side and
// no probability beyond 1e-9.
func TestRelabellingRules(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(254, 10))
	rules := []string{
		"gouge.centre - gouge.side >= %.2f mm",
		"(gouge.centre + gouge.side) / 2 < tip.width + %.2f mm",
		"abs(gouge.centre - gouge.side) <= %.2f mm",
		"max(gouge.centre, gouge.side) * 2 > tip.width + %.2f mm",
		"gouge.centre * gouge.side / tip.width >= %.2f mm",
		"gouge.centre > %.2f mm and gouge.side < tip.width",
		"between(gouge.centre, gouge.side - %.2f mm, gouge.side + 0.02 mm)",
		"gouge.centre / gouge.side >= tip.width / (1 mm + %.2f mm)",
		"radius(gouge.centre, gouge.side) >= tip.width + %.2f mm",
	}
	unsure := 0
	for n := range 180 {
		text := fmt.Sprintf(rules[n%len(rules)], 0.05*r.Float64())
		typed := map[string][]string{}
		for _, name := range []string{"gouge.centre", "gouge.side", "tip.width"} {
			for range 1 + r.IntN(3) {
				typed[name] = append(typed[name], fmt.Sprintf("%.2f mm", 1+0.06*r.Float64()))
			}
		}
		judge := func(label string) (gauging.RuleVerdict, bool) {
			q := 1e6
			read := map[string][]string{}
			for name, all := range typed {
				for _, s := range all {
					read[name] = append(read[name], strings.ReplaceAll(s, "mm", label))
				}
			}
			if label == "in" {
				q = 25.4e6
			}
			gauge := tool.Tool{Name: "dial", Step: quantity.Value{Kind: quantity.Length, Q: int64(0.01 * q)}, Error: quantity.Value{Kind: quantity.Length, Q: int64(0.01 * q)}}
			f := mustCompile(t, strings.ReplaceAll(text, "mm", label))
			in := inputsOf(t, f, gauge, read)
			holds, err := f.Holds(valuesOf(in))
			if err != nil {
				t.Fatal(err)
			}
			v, _, err := gauging.JudgeRule(f.MarginFunc(), in, holds, 0.8)
			if err != nil {
				t.Fatal(err)
			}
			return v, holds
		}
		a, sideA := judge("mm")
		b, sideB := judge("in")
		if sideA != sideB || math.Abs(a.Probability-b.Probability) > 1e-9 || a.Sure != b.Sure || a.Coarse != b.Coarse || a.Measure != b.Measure || a.Trials != b.Trials || a.OnLimit != b.OnLimit || a.More != b.More || a.Dominating != b.Dominating {
			t.Errorf("%s %v:\n in mm %+v\n in in %+v", text, typed, a, b)
		}
		if !a.Sure {
			unsure++
		}
	}
	if unsure < 30 {
		t.Errorf("only %d were unsure", unsure)
	}
}
