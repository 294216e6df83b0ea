package gauging

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"canewright/engine/quantity"
	"canewright/engine/tool"
)

func difference(x []float64) (float64, error) { return x[0] - x[1], nil }

// A tool's own error cancels in a difference, adds in a sum, and is two errors
// where the tools are two (JCGM 100, 5.2).
func TestSharedErrorOfATool(t *testing.T) {
	t.Parallel()
	sum := func(x []float64) (float64, error) { return x[0] + x[1], nil }
	in := func(a, b string) []Input {
		return []Input{{Name: "a", Value: 1.3e6, Step: 3000, ToolError: 20000, Tool: a}, {Name: "b", Value: 1.1e6, Step: 3000, ToolError: 20000, Tool: b}}
	}
	steps := 3000 * math.Sqrt2
	for _, c := range []struct {
		what string
		f    func([]float64) (float64, error)
		in   []Input
		want float64
	}{
		{"difference, one tool", difference, in("dial", "dial"), steps},
		{"difference, two tools", difference, in("dial", "caliper"), math.Hypot(steps, 20000*math.Sqrt2)},
		{"difference, no names", difference, in("", ""), math.Hypot(steps, 20000*math.Sqrt2)},
		{"sum, one tool", sum, in("dial", "dial"), math.Hypot(steps, 40000)},
		{"sum, two tools", sum, in("dial", "caliper"), math.Hypot(steps, 20000*math.Sqrt2)},
	} {
		got := mustPropagate(t, c.f, c.in, nil)
		within(t, c.what, got.U, c.want, 1e-6)
		if got.Nonlinear {
			t.Errorf("%s is called nonlinear: %+v", c.what, got)
		}
		trials, err := MonteCarlo(c.f, c.in, 100_000, rand.NewPCG(3, 4))
		if err != nil {
			t.Fatal(err)
		}
		within(t, c.what+" by trials", trials.U, c.want, 0.01*c.want)
	}
	// Of unequal inputs one cancels part of the other: its share is negative.
	c := mustPropagate(t, func(x []float64) (float64, error) { return 2*x[0] - x[1], nil }, in("dial", "dial"), nil)
	if c.Shares[1].Share >= 0 {
		t.Errorf("%+v", c.Shares)
	}
	// All of it cancels.
	c = mustPropagate(t, difference, []Input{{Value: 5, ToolError: 2, Tool: "x"}, {Value: 3, ToolError: 2, Tool: "x"}}, nil)
	if c.U != 0 || c.Nonlinear {
		t.Errorf("%+v", c)
	}
}

func TestFreedomAndBudget(t *testing.T) {
	t.Parallel()
	// By hand: u² = 9 + 16, ν = 25² / (81/4 + 256/9).
	c := mustPropagate(t, difference, []Input{{Name: "a", Value: 10, Scatter: 3, Freedom: 4, Readings: 5}, {Name: "b", Value: 2, Scatter: 4, Freedom: 9, Readings: 10}}, nil)
	within(t, "u", c.U, 5, 1e-12)
	within(t, "ν", c.Freedom, 625/(81.0/4+256.0/9), 1e-9)
	within(t, "share of a", c.Shares[0].Share, 9.0/25, 1e-12)
	within(t, "sensitivity of b", c.Shares[1].Sensitivity, -1, 1e-12)
	// An exact input takes no part.
	c = mustPropagate(t, difference, []Input{{Value: 10}, {Value: 2, Step: 1}}, nil)
	if c.Shares[0].Share != 0 || c.Shares[1].Share != 1 || !math.IsInf(c.Freedom, 1) {
		t.Errorf("%+v", c)
	}
	c = mustPropagate(t, difference, []Input{{Value: 10}, {Value: 2}}, nil)
	if c.U != 0 || c.Value != 8 || c.Nonlinear {
		t.Errorf("%+v", c)
	}
}

func TestKinksAreCalledNonlinear(t *testing.T) {
	t.Parallel()
	one := func(f func(x float64) float64) func([]float64) (float64, error) {
		return func(x []float64) (float64, error) { return f(x[0]), nil }
	}
	for _, c := range []struct {
		what string
		f    func([]float64) (float64, error)
		in   []Input
		want bool
	}{
		{"abs at its kink", one(math.Abs), []Input{{Scatter: 1}}, true},
		{"abs half a u from it", one(math.Abs), []Input{{Value: 0.5, Scatter: 1}}, true},
		{"abs one and a half u from it", one(math.Abs), []Input{{Value: 1.5, Scatter: 1}}, true},
		{"abs five u from it", one(math.Abs), []Input{{Value: 5, Scatter: 1}}, false},
		{"max of two equal ones", func(x []float64) (float64, error) { return max(x[0], x[1]), nil }, []Input{{Scatter: 1}, {Scatter: 1}}, true},
		{"max of two far apart", func(x []float64) (float64, error) { return max(x[0], x[1]), nil }, []Input{{Scatter: 1}, {Value: 9, Scatter: 1}}, false},
		{"a difference near nought, without sign", func(x []float64) (float64, error) { return math.Abs(x[0] - x[1]), nil }, []Input{{Value: 1.5, Scatter: 1}, {Scatter: 1}}, true},
		{"a jump", one(func(x float64) float64 {
			if x > 0.5 {
				return 7
			}
			return x
		}), []Input{{Scatter: 1}}, true},
		{"a square at nought", one(func(x float64) float64 { return x * x }), []Input{{Scatter: 1}}, true},
		{"a square far out", one(func(x float64) float64 { return x * x }), []Input{{Value: 100, Scatter: 1}}, false},
		{"a product of differences", func(x []float64) (float64, error) { return x[0] * x[1], nil }, []Input{{Scatter: 1}, {Value: 1, Scatter: 1}}, true},
	} {
		if got := mustPropagate(t, c.f, c.in, nil); got.Nonlinear != c.want {
			t.Errorf("%s: nonlinear %v, want %v: %+v", c.what, got.Nonlinear, c.want, got)
		}
	}
}

func TestFormulasThatEnd(t *testing.T) {
	t.Parallel()
	edge := errors.New("below nought")
	root := func(x []float64) (float64, error) {
		if x[0] < 0 {
			return 0, edge
		}
		return math.Sqrt(x[0]), nil
	}
	c, err := Propagate(root, []Input{{Value: 0.5, Scatter: 1}})
	if err != nil || !c.Nonlinear || c.U <= 0 {
		t.Errorf("one side fails: %+v, %v", c, err)
	}
	if _, err := Propagate(root, []Input{{Value: -1, Scatter: 1}}); !errors.Is(err, edge) {
		t.Errorf("it cannot be worked out: %v", err)
	}
	if _, err := MonteCarlo(root, []Input{{Value: 0.5, Scatter: 1}}, 1000, rand.NewPCG(1, 1)); !errors.Is(err, edge) || !strings.Contains(err.Error(), "trials failed") {
		t.Errorf("a third of the trials fail: %v", err)
	}
	// One in 30 000 is borne and counts as not conforming.
	trials, err := MonteCarlo(root, []Input{{Value: 4, Scatter: 1}}, 200_000, rand.NewPCG(1, 1))
	if err != nil || trials.Failed == 0 || trials.Probability != float64(200_000-trials.Failed)/200_000 {
		t.Errorf("%d failed, P %v, %v", trials.Failed, trials.Probability, err)
	}
}

// Random formulas, smooth where the inputs are: first order against trials.
func TestPropagateAgainstTrials(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(2008, 100))
	straight := 0
	for n := range 60 {
		k := 1 + r.IntN(5)
		a, b := make([]float64, k), make([]float64, k)
		inputs := make([]Input, k)
		for i := range k {
			a[i], b[i] = r.Float64()*4-2, r.Float64()*2-1
			inputs[i] = Input{Value: 1 + 9*r.Float64(), Scatter: 0.1 * r.Float64(), Step: 0.1 * r.Float64(), ToolError: 0.05 * r.Float64(), Tool: []string{"", "dial", "caliper"}[r.IntN(3)]}
		}
		kind := r.IntN(4)
		f := func(x []float64) (float64, error) {
			y := 0.0
			for i, v := range x {
				switch kind {
				case 0:
					y += a[i] * v
				case 1:
					y += a[i]*v + b[i]*v*v
				case 2:
					y += a[i] * v * x[(i+1)%k]
				default:
					y += a[i]*v/x[(i+1)%k] + math.Abs(v-5*b[i])
				}
			}
			return y, nil
		}
		c := mustPropagate(t, f, inputs, nil)
		trials, err := MonteCarlo(f, inputs, 40_000, rand.NewPCG(uint64(n), 7))
		if err != nil {
			t.Fatal(err)
		}
		if c.Nonlinear {
			continue
		}
		straight++
		// Within a tenth of u, as Nonlinear promises, and what trials leave.
		within(t, fmt.Sprintf("u of formula %d", n), trials.U, c.U, 0.115*c.U)
		within(t, fmt.Sprintf("value of formula %d", n), trials.Mean, c.Value, 0.115*c.U)
		for _, z := range []float64{-1, 0, 0.5, 1.5} {
			limit := c.Value - z*c.U
			t2, err := MonteCarlo(func(x []float64) (float64, error) { y, err := f(x); return y - limit, err }, inputs, 20_000, rand.NewPCG(uint64(n), 8))
			if err != nil {
				t.Fatal(err)
			}
			// A shift of a tenth of u is worth 0.04; a rectangle is not normal.
			within(t, fmt.Sprintf("P of formula %d at %v u", n, z), t2.Probability, lowerTail(z, c.Freedom), 0.05)
		}
	}
	if straight < 40 {
		t.Errorf("only %d formulas were straight", straight)
	}
}

// An input takes its number as formulas do, and B falls apart into step and tool.
func TestEstimateAsInput(t *testing.T) {
	t.Parallel()
	gauge := tool.Tool{Name: "caliper", Step: length(20000), Error: length(12000)}
	e := Of(readings(t, quantity.Length, "1.30 mm", "1.32 mm"), gauge, nil)
	in := e.Input("gouge.centre", 7, gauge)
	within(t, "value", in.Value, 1310000, 0)
	within(t, "scatter", in.Scatter, e.A, 0)
	within(t, "step", in.Step, 20000/math.Sqrt(12), 1e-6)
	within(t, "tool", in.ToolError, 12000, 0)
	within(t, "freedom of the scatter", in.Freedom, 1, 1e-9)
	if in.Slot != 7 || in.Tool != "caliper" || in.Readings != 2 || in.Name != "gouge.centre" {
		t.Errorf("%+v", in)
	}
	// A single reading leans on the player's own repeatability of 20 readings.
	in = Of(readings(t, quantity.Length, "1.30 mm"), gauge, &Repeatability{S: 9000, N: 20}).Input("x", 0, gauge)
	within(t, "freedom of the player's own", in.Freedom, 19, 1e-9)
	within(t, "scatter of the player's own", in.Scatter, 9000, 0)
	// Kinds whose quantum is not a base quantum: a humidity of 60 %, read to 1 %.
	air := Of(readings(t, quantity.Humidity, "60 %"), tool.Tool{}, nil).Input("air", 0, tool.Tool{})
	within(t, "humidity", air.Value, 0.6, 1e-15)
	within(t, "its step", air.Step, 0.01/math.Sqrt(12), 1e-12)
	area := Of(readings(t, quantity.Area, "2.5 mm²"), tool.Tool{}, nil).Input("section", 0, tool.Tool{})
	within(t, "area", area.Value, 2.5e12, 1)
}

func BenchmarkPropagate(b *testing.B) {
	in := []Input{{Value: 1.3e6, Scatter: 1e4, Freedom: 2, Step: 3e3, ToolError: 2e3, Tool: "dial"}, {Value: 1.1e6, Scatter: 1e4, Freedom: 2, Step: 3e3, ToolError: 2e3, Tool: "dial"}}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Propagate(difference, in); err != nil {
			b.Fatal(err)
		}
	}
}

// A max and a min whose second values are near: they have no sensitivity now and
// take over within their uncertainty, so trials decide.
func TestAKinkNearbyIsSeen(t *testing.T) {
	t.Parallel()
	f := func(x []float64) (float64, error) { return 0.03 - (max(x[0], x[1]) - min(x[2], x[3])), nil }
	var inputs []Input
	for i, v := range []float64{1.29, 1.32, 1.30, 1.31} {
		inputs = append(inputs, Input{Name: string(rune('a' + i)), Slot: i, Value: v, Scatter: 0.009, Step: 0.0029, ToolError: 0.003, Tool: "dial", Freedom: 2})
	}
	v, c, err := JudgeRule(f, inputs, true, 0.8)
	if err != nil {
		t.Fatal(err)
	}
	if !c.Nonlinear || !v.Trials {
		t.Errorf("straight: %+v", c)
	}
	// 400,000 trials of the same give 0.624.
	if math.Abs(v.Probability-0.624) > 0.02 {
		t.Errorf("probability %.3f, trials give 0.624", v.Probability)
	}
}
