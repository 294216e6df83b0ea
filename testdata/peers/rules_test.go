package peers

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/expr-lang/expr"
	"github.com/expr-lang/expr/vm"

	"canewright/engine/diagnostic"
	"canewright/engine/formula"
	"canewright/engine/gauging"
	"canewright/engine/quantity"
)

// Ten dimensions for many rules. The peers know no units, conditions or places.
var many = []string{"gouge.centre", "gouge.side", "gouge.first_end", "gouge.second_end", "wire.first", "wire.second", "wire.third", "tip.width", "tip.opening", "overall"}

type manyScope struct{}

func (manyScope) Lookup(name string) (formula.Symbol, bool) {
	for i, n := range many {
		if n == name {
			s := formula.Symbol{Name: n, Slot: i, Kind: quantity.Length}
			if strings.HasPrefix(n, "wire.") || n == "overall" {
				s.Datum = "the butt"
			}
			if strings.HasPrefix(n, "tip.") {
				s.Condition = "wet"
			}
			return s, true
		}
	}
	return formula.Symbol{}, false
}

func (manyScope) Grid(string) bool { return false }
func (manyScope) Cell(string, []string) (formula.Symbol, string, bool) {
	return formula.Symbol{}, "", false
}
func (manyScope) Near(string) string { return "" }

// shapes of rules; %s is a dimension, %.2f a number, mm its unit or nothing.
var shapes = []string{
	"%[1]s - %[2]s >= %.2[3]f%[4]s",
	"abs(%[1]s - %[2]s) <= %.2[3]f%[4]s",
	"(%[1]s + %[2]s) / 2 < %.2[3]f%[4]s and %[1]s > 1%[4]s",
	"max(%[1]s, %[2]s) * 2 > %.2[3]f%[4]s or %[2]s <= 3%[4]s",
	"%[1]s > %.2[3]f%[4]s",
}

func rulesOf(n int, unit string) []string {
	r := rand.New(rand.NewPCG(4, 500))
	out := make([]string, n)
	for i := range out {
		out[i] = fmt.Sprintf(shapes[i%len(shapes)], many[r.IntN(len(many))], many[r.IntN(len(many))], 0.05+30*r.Float64(), unit)
	}
	return out
}

// compileExpr is what a Go program does with bare expr: one environment, a
// program for each rule.
func compileExpr(t testing.TB, rules []string) []*vm.Program {
	t.Helper()
	env := map[string]any{}
	for _, n := range many {
		first, last, dotted := strings.Cut(n, ".")
		if !dotted {
			env[n] = 0.0
			continue
		}
		inner, ok := env[first].(map[string]any)
		if !ok {
			inner = map[string]any{}
			env[first] = inner
		}
		inner[last] = 0.0
	}
	out := make([]*vm.Program, len(rules))
	for i, r := range rules {
		p, err := expr.Compile(r, expr.Env(env), expr.AsBool())
		if err != nil {
			t.Fatal(r, err)
		}
		out[i] = p
	}
	return out
}

func compileOurs(t testing.TB, rules []string) []*formula.Formula {
	t.Helper()
	out := make([]*formula.Formula, len(rules))
	for i, r := range rules {
		f, list := formula.Compile(diagnostic.Plain("rule", r), manyScope{})
		if f == nil {
			var b strings.Builder
			_ = list.Text(&b)
			t.Fatal(b.String())
		}
		out[i] = f
	}
	return out
}

// A rule over five readings. The peer works it out once; ours works out how
// sure it is.
const (
	five     = "(gouge.first_end + gouge.second_end) / 2 - gouge.centre + tip.width - gouge.side >= 0.10 mm"
	fiveBare = "(gouge.first_end + gouge.second_end) / 2 - gouge.centre + tip.width - gouge.side >= 0.10"
)

func fiveInputs() []gauging.Input {
	var in []gauging.Input
	for i, v := range []float64{1.30, 1.31, 1.29, 1.32, 1.41} {
		in = append(in, gauging.Input{Name: many[i], Value: v * 1e6, Scatter: 9e3, Freedom: 2, Readings: 3, Step: 10e3 / math.Sqrt(12), ToolError: 3e3, Tool: "dial indicator"})
	}
	return in
}

// fiveMargin is the rule as gauging takes it, compiled over one reading for each
// of its inputs.
func fiveMargin(t testing.TB) (margin func([]float64) (float64, error), in []gauging.Input) {
	t.Helper()
	f, in := compileOurs(t, []string{five})[0], fiveInputs()
	if len(f.Needs()) != len(in) {
		t.Fatal(f.Needs())
	}
	return f.MarginFunc(), in
}

func fiveEnvironment() map[string]any {
	return map[string]any{"gouge": map[string]any{"centre": 1.30, "side": 1.31, "first_end": 1.29, "second_end": 1.32}, "tip": map[string]any{"width": 1.41}}
}
