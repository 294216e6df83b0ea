package gauging

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"canewright/engine/quantity"
	"canewright/engine/tool"
)

func TestJudgeMargin(t *testing.T) {
	t.Parallel()
	read := func(name string, value, s float64, n int) Input {
		return Input{Name: name, Value: value, Scatter: s / math.Sqrt(float64(n)), Freedom: max(float64(n-1), 1), Readings: n}
	}
	for _, c := range []struct {
		what   string
		in     []Input
		holds  bool
		sure   bool
		p      float64 // by hand
		advice string
	}{
		{"far inside", []Input{read("gouge.centre", 130, 1, 4), read("limit", 100, 0, 1)}, true, true, 0, ""},
		{"one u inside, four degrees", []Input{read("gouge.centre", 101, math.Sqrt(5), 5), {Value: 100}}, true, true, 0.813050, ""},
		{"near, and the side is read once", []Input{{Name: "gouge.centre", Value: 100.9, Step: 0.3}, {Name: "gouge.side", Value: 100, Scatter: 1.2, Freedom: 20}}, true, false, 0, "Measure gouge.side twice more."},
		{"near, below", []Input{{Name: "gouge.centre", Value: 99.1, Step: 0.3}, {Name: "gouge.side", Value: 100, Scatter: 1.2, Freedom: 20}}, false, false, 0, "Measure gouge.side twice more."},
		{"the step is too wide", []Input{{Name: "a", Value: 101, Step: 3}, {Name: "b", Value: 100, Scatter: 0.1, Freedom: 4, Readings: 5}}, true, false, 0, "These gauges cannot tell. You decide."},
		{"one gauge alone", []Input{{Name: "a", Value: 101, Step: 3}, {Value: 100}}, true, false, 0, "This gauge cannot tell. You decide."},
		{"on the limit", []Input{{Name: "a", Value: 100, Step: 3}, {Value: 100}}, true, false, 0.5, "On the limit. Counts as right."},
		{"on a limit that is outside", []Input{{Name: "a", Value: 100, Step: 3}, {Value: 100}}, false, false, 0.5, "On the limit. Not enough."},
		{"exact", []Input{{Name: "a", Value: 100}, {Value: 100}}, true, true, 1, ""},
		{"exact and not", []Input{{Name: "a", Value: 99}, {Value: 100}}, false, true, 0, ""},
		{"both scatter too much", []Input{{Name: "a", Value: 100.1, Scatter: 3, Freedom: 4}, {Name: "b", Value: 100, Scatter: 3.1, Freedom: 4}}, true, false, 0, "Measure b again."},
	} {
		p := mustPropagate(t, difference, c.in, nil)
		v := JudgeMargin(p, c.holds, 0.8)
		if v.Sure != c.sure || v.Holds != c.holds {
			t.Errorf("%s: %+v", c.what, v)
		}
		if c.p != 0 {
			within(t, c.what, v.Probability, c.p, 5e-7)
		}
		got := Advice(v, p)
		if got != c.advice {
			t.Errorf("%s: %q, want %q\n%+v\n%+v", c.what, got, c.advice, v, p)
		}
		if n := len(strings.Fields(got)); n > 8 {
			t.Errorf("%q has %d words", got, n)
		}
		if v.More > 0 { // what was promised comes true, and one less would not do
			in := append([]Input(nil), c.in...)
			grow := func(n int) bool {
				i := v.Measure
				had := c.in[i].readings()
				in[i].Scatter = c.in[i].Scatter * math.Sqrt(had/(had+float64(n)))
				in[i].Freedom, in[i].Readings = had+float64(n)-1, int(had)+n
				return JudgeMargin(mustPropagate(t, difference, in, nil), c.holds, 0.8).Sure
			}
			if !grow(v.More) || v.More > 1 && grow(v.More-1) {
				t.Errorf("%s: %d more readings are not what it takes", c.what, v.More)
			}
		}
	}
}

// JudgeMargin agrees with Judge where the rule is a limit on one dimension.
func TestJudgeMarginAgreesWithJudge(t *testing.T) {
	t.Parallel()
	gauge := tool.Tool{Name: "dial indicator", Step: length(10000), Error: length(3000)}
	sets := []string{"1.31 mm", "1.29 mm;1.31 mm;1.33 mm", "1.30 mm;1.34 mm", "1.36 mm;1.35 mm;1.31 mm", "1.33 mm"}
	r := rand.New(rand.NewPCG(1, 33))
	for range 300 {
		var texts []string
		for range 2 + r.IntN(3) {
			texts = append(texts, fmt.Sprintf("%.2f mm", 1.28+0.09*r.Float64()))
		}
		sets = append(sets, strings.Join(texts, ";"))
	}
	more := map[int]int{}
	for _, texts := range sets {
		e := Of(readings(t, quantity.Length, strings.Split(texts, ";")...), gauge, nil)
		in := e.Input("gouge.centre", 3, gauge)
		within(t, "u of the input", in.u(), e.U, 1e-6)
		c := mustPropagate(t, func(x []float64) (float64, error) { return 1330000 - x[0], nil }, []Input{in}, nil)
		within(t, "freedom", math.Min(c.Freedom, 1e9), math.Min(e.Freedom, 1e9), 1e-6*math.Min(e.Freedom, 1e9))
		for _, sure := range []float64{0.8, 0.95} {
			want := Judge(e, atMost(1330000), sure)
			got := JudgeMargin(c, want.Side == quantity.Inside, sure)
			within(t, texts, got.Probability, want.Probability, 1e-9)
			if got.Sure != want.Sure || got.More != want.More || got.Coarse != want.Coarse || got.OnLimit != want.OnLimit {
				t.Errorf("%s at %v: %+v, Judge says %+v", texts, sure, got, want)
			}
			more[got.More]++
		}
	}
	if len(more) < 8 {
		t.Errorf("few different answers: %v", more)
	}
}

func TestJudgeRuleCountsWhereItIsNotStraight(t *testing.T) {
	t.Parallel()
	// |x| <= 1 with x normal around 0, u = 1: 0.6827, where first order sees
	// nothing at all.
	margin := func(x []float64) (float64, error) { return 1 - math.Abs(x[0]), nil }
	v, c, err := JudgeRule(margin, []Input{{Name: "x", Scatter: 1}}, true, 0.8)
	if err != nil || !c.Nonlinear || !v.Trials || v.Sure || v.Coarse {
		t.Fatalf("%+v, %+v, %v", v, c, err)
	}
	within(t, "P(|x| <= 1)", v.Probability, 0.6826895, 0.01)
	again, _, _ := JudgeRule(margin, []Input{{Name: "x", Scatter: 1}}, true, 0.8)
	if again != v {
		t.Errorf("the same readings: %+v and %+v", v, again)
	}
	// The step alone decides: coarse. P of a rectangle of u = 1 within ±1: 1/√3.
	v, _, err = JudgeRule(margin, []Input{{Name: "x", Step: 1}}, true, 0.8)
	within(t, "P of the rectangle", v.Probability, 1/math.Sqrt(3), 0.01)
	if err != nil || !v.Coarse {
		t.Errorf("%+v, %v", v, err)
	}
	// A yes or no without a margin.
	truth := func(x []float64) (float64, error) {
		if x[0] > 0 {
			return 1, nil
		}
		return -1, nil
	}
	v, err = JudgeTruth(truth, []Input{{Name: "x", Value: 1, Scatter: 1}}, true, 0.8)
	if err != nil || !v.Sure {
		t.Errorf("%+v, %v", v, err)
	}
	within(t, "P(x > 0)", v.Probability, 0.8413447, 0.01)
	// A straight rule needs no trials.
	v, _, err = JudgeRule(difference, []Input{{Value: 3, Scatter: 1}, {Value: 1, Scatter: 1}}, true, 0.8)
	if err != nil || v.Trials || !v.Sure {
		t.Errorf("%+v, %v", v, err)
	}
}

func TestJudgeDerived(t *testing.T) {
	t.Parallel()
	eighty := func(quantity.Side) float64 { return 0.8 }
	in := func(a, b float64) []Input {
		return []Input{{Name: "centre", Value: a, Step: 3000}, {Name: "side", Value: b, Step: 4000}}
	}
	for _, c := range []struct {
		target  string
		a, b    float64
		side    quantity.Side
		sure    bool
		onLimit bool
		p       float64 // by hand: u = 5 µm
	}{
		{"0.20 ± 0.01 mm", 1300000, 1100000, quantity.Inside, true, false, math.Erf(2 / math.Sqrt2)},
		{"0.20 ± 0.01 mm", 1308000, 1100000, quantity.Inside, false, false, (math.Erf(0.4/math.Sqrt2) + math.Erf(3.6/math.Sqrt2)) / 2},
		{"0.20 ± 0.01 mm", 1310000, 1100000, quantity.Inside, false, true, 0.5 - math.Erfc(4/math.Sqrt2)/2},
		{"0.20 ± 0.01 mm", 1320000, 1100000, quantity.Above, true, false, math.Erfc(2/math.Sqrt2)/2 - math.Erfc(6/math.Sqrt2)/2},
		{"0.20 ± 0.01 mm", 1280000, 1100000, quantity.Below, true, false, math.Erfc(2/math.Sqrt2)/2 - math.Erfc(6/math.Sqrt2)/2},
		{"at least 0.19 mm", 1295000, 1100000, quantity.Inside, true, false, 1 - math.Erfc(1/math.Sqrt2)/2},
		{"at most 0.19 mm", 1295000, 1100000, quantity.Above, true, false, math.Erfc(1/math.Sqrt2) / 2},
	} {
		v, combined, err := JudgeDerived(difference, in(c.a, c.b), tolerance(t, c.target, quantity.Length), eighty)
		if err != nil || v.Side != c.side || v.Sure != c.sure || v.OnLimit != c.onLimit || v.Holds != (c.side == quantity.Inside) || v.Trials {
			t.Errorf("%v against %s: %+v, %v", c.a-c.b, c.target, v, err)
		}
		within(t, c.target, v.Probability, c.p, 1e-9)
		within(t, "u", combined.U, 5000, 1e-6)
	}
	// Without sign, near nought: by trials.
	v, _, err := JudgeDerived(func(x []float64) (float64, error) { return math.Abs(x[0] - x[1]), nil }, in(1100000, 1100000), tolerance(t, "at most 0.005 mm", quantity.Length), eighty)
	if err != nil || !v.Trials || !v.Holds || v.Sure {
		t.Errorf("%+v, %v", v, err)
	}
	// By hand: the difference of rectangles of half-width 3√3 and 4√3 µm is a
	// trapezium, level to √3 and then falling to 7√3; so much of it is within ±5.
	level, end := math.Sqrt(3), 7*math.Sqrt(3)
	held := (level + (square(end-level)-square(end-5))/2/(end-level)) / level / 4
	within(t, "P(|x| <= 5 µm)", v.Probability, held, 0.01)
	// A ratio: its quantum is 1e-9.
	share := func(x []float64) (float64, error) { return x[0] / x[1], nil }
	v, _, err = JudgeDerived(share, []Input{{Value: 50e6, Step: 1e5}, {Value: 100e6}}, tolerance(t, "at most 50 %", quantity.Ratio), eighty)
	if err != nil || !v.OnLimit || !v.Holds || v.Sure {
		t.Errorf("%+v, %v", v, err)
	}
}

// Relabelling millimetres as inches changes no side and no probability.
func TestRelabellingChangesNoProbability(t *testing.T) {
	t.Parallel()
	const inch = 25.4
	r := rand.New(rand.NewPCG(25, 4))
	f := func(x []float64) (float64, error) {
		return x[0] - 2*x[1] + math.Abs(x[2]-x[3]) - x[4]*x[0]/x[1], nil
	}
	for n := range 200 {
		var mm, in []Input
		for i := range 5 {
			one := Input{Name: fmt.Sprint(i), Value: math.Round(1e6 * (1 + 9*r.Float64())), Scatter: 1e4 * r.Float64(), Step: 1e4 * r.Float64(), ToolError: 1e4 * r.Float64(),
				Tool: []string{"dial", "caliper"}[r.IntN(2)], Freedom: float64(1 + r.IntN(9)), Readings: 2}
			mm = append(mm, one)
			one.Value, one.Scatter, one.Step, one.ToolError = one.Value*inch, one.Scatter*inch, one.Step*inch, one.ToolError*inch
			in = append(in, one)
		}
		y, err := f([]float64{mm[0].Value, mm[1].Value, mm[2].Value, mm[3].Value, mm[4].Value})
		if err != nil {
			t.Fatal(err)
		}
		limit := math.Round(y + 2e4*r.NormFloat64())
		rule := func(scale float64) func([]float64) (float64, error) {
			return func(x []float64) (float64, error) { y, err := f(x); return y - limit*scale, err }
		}
		a, ca, errA := JudgeRule(rule(1), mm, y >= limit, 0.8)
		b, cb, errB := JudgeRule(rule(inch), in, y >= limit, 0.8)
		if errA != nil || errB != nil {
			t.Fatal(errA, errB)
		}
		within(t, fmt.Sprintf("probability %d", n), b.Probability, a.Probability, 1e-9)
		if a.Sure != b.Sure || a.More != b.More || a.Measure != b.Measure || a.Dominating != b.Dominating || a.Coarse != b.Coarse || ca.Nonlinear != cb.Nonlinear {
			t.Errorf("%d: %+v and %+v", n, a, b)
		}
	}
}
