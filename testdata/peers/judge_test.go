package peers

import (
	"testing"

	"cel.dev/cel-go/cel"
	"github.com/expr-lang/expr"
	"github.com/expr-lang/expr/vm"

	"canewright/engine/diagnostic"
	"canewright/engine/formula"
	"canewright/engine/gauging"
	"canewright/engine/quantity"
	"canewright/engine/tool"
)

// The rule as a recipe has it, and as the peers take it: they know no units, so
// theirs is in millimetres.
const (
	rule = "gouge.centre - gouge.side >= 0.10 mm"
	bare = "gouge.centre - gouge.side >= 0.10"
)

// scope is the two dimensions the rule reads.
type scope struct{}

func (scope) Lookup(name string) (formula.Symbol, bool) {
	for i, n := range []string{"gouge.centre", "gouge.side"} {
		if n == name {
			return formula.Symbol{Name: n, Slot: i, Kind: quantity.Length}, true
		}
	}
	return formula.Symbol{}, false
}

func (scope) Grid(string) bool { return false }

func (scope) Cell(string, []string) (formula.Symbol, string, bool) {
	return formula.Symbol{}, "", false
}

func (scope) Near(string) string { return "" }

// judge is all that one typed reading goes through, in the order of the bench.
type judge struct {
	style  quantity.Style
	tool   tool.Tool
	target quantity.Tolerance
	rule   *formula.Formula
	values []float64 // centre, side
}

func newJudge(t testing.TB, side string) *judge {
	t.Helper()
	mm, ok := quantity.UnitNamed("mm")
	if !ok {
		t.Fatal("no mm")
	}
	j := &judge{style: quantity.Style{Want: quantity.Length, Bare: mm}, values: make([]float64, 2)}
	if j.tool, ok = tool.Standard().Tool("dial indicator"); !ok {
		t.Fatal("no dial indicator")
	}
	var err error
	if j.target, err = quantity.ParseTolerance("1.30 +0.03 -0.02 mm", j.style); err != nil {
		t.Fatal(err)
	}
	e, err := quantity.Parse(side, j.style)
	if err != nil {
		t.Fatal(err)
	}
	j.values[1] = e.Value.Float()
	f, list := formula.Compile(diagnostic.Plain("rule", rule), scope{})
	if f == nil {
		t.Fatalf("%d findings in %s", list.Len(), rule)
	}
	j.rule = f
	return j
}

func (j *judge) reading(line string) (gauging.Verdict, bool, error) {
	all, err := quantity.ParseMany(line, j.style)
	if err != nil {
		return gauging.Verdict{}, false, err
	}
	v := gauging.Judge(gauging.Of(all, j.tool, nil), j.target, 0.80)
	j.values[0] = all[0].Value.Float()
	holds, err := j.rule.Holds(j.values)
	return v, holds, err
}

func environment(centre, side float64) map[string]any {
	return map[string]any{"gouge": map[string]any{"centre": centre, "side": side}}
}

func exprProgram(t testing.TB) *vm.Program {
	t.Helper()
	p, err := expr.Compile(bare, expr.Env(environment(0, 0)), expr.AsBool())
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func celProgram(t testing.TB) cel.Program {
	t.Helper()
	env, err := cel.NewEnv(cel.Variable("gouge", cel.MapType(cel.StringType, cel.DoubleType)))
	if err != nil {
		t.Fatal(err)
	}
	ast, issues := env.Compile(bare)
	if issues.Err() != nil {
		t.Fatal(issues.Err())
	}
	p, err := env.Program(ast, cel.EvalOptions(cel.OptOptimize))
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// The three give the same answers, so nobody skips work. The values keep off
// the edge of the rule: there only whole quanta answer rightly.
func TestTheThreeAgree(t *testing.T) {
	t.Parallel()
	ex, ce := exprProgram(t), celProgram(t)
	for _, c := range []struct {
		typed, side string
		centre      float64 // mm
		sideMM      float64
		want        quantity.Side
		sure, holds bool
	}{
		{"1,31 mm", "1.10 mm", 1.31, 1.10, quantity.Inside, true, true},
		{"1.31", "1.25 mm", 1.31, 1.25, quantity.Inside, true, false},
		{"1.40 mm", "1.10 mm", 1.40, 1.10, quantity.Above, true, true},
		{"1.20 mm", "1.15 mm", 1.20, 1.15, quantity.Below, true, false},
		{"1.33 mm", "1.10 mm", 1.33, 1.10, quantity.Inside, false, true},
		{"0.0512 in", "1.10 mm", 1.30048, 1.10, quantity.Inside, true, true},
	} {
		t.Run(c.typed+" "+c.side, func(t *testing.T) {
			t.Parallel()
			v, holds, err := newJudge(t, c.side).reading(c.typed)
			if err != nil {
				t.Fatal(err)
			}
			if v.Side != c.want || v.Sure != c.sure || v.Probability <= 0 && c.want == quantity.Inside {
				t.Errorf("judged %+v, want %v, sure %v", v, c.want, c.sure)
			}
			if holds != c.holds {
				t.Errorf("the rule is %v, want %v", holds, c.holds)
			}
			out, err := expr.Run(ex, environment(c.centre, c.sideMM))
			if err != nil || out != c.holds {
				t.Errorf("expr: %v, %v, want %v", out, err, c.holds)
			}
			val, _, err := ce.Eval(environment(c.centre, c.sideMM))
			if err != nil || val.Value() != c.holds {
				t.Errorf("cel: %v, %v, want %v", val, err, c.holds)
			}
		})
	}
}

// Another number each time, as at the bench.
var typed = []string{"1,31 mm", "1,30 mm", "1,32 mm", "1,29 mm"}

var centres = []float64{1.31, 1.30, 1.32, 1.29}

func BenchmarkJudgeReading(b *testing.B) {
	for _, c := range []struct {
		name  string
		typed []string
	}{
		{"sure", typed},
		{"unsure", []string{"1,33 mm", "1,28 mm"}},
		{"bare", []string{"1.31", "1.30"}},
		{"inches", []string{"0.0512 in", "0.0515 in"}},
	} {
		b.Run(c.name, func(b *testing.B) {
			j := newJudge(b, "1.10 mm")
			b.ReportAllocs()
			i := 0
			for b.Loop() {
				v, holds, err := j.reading(c.typed[i%len(c.typed)])
				if err != nil || v.Side != quantity.Inside || !holds {
					b.Fatal(v, holds, err)
				}
				i++
			}
		})
	}
}

// The peers get the rule alone: no parsing, no estimate, no probability. Same:
// one map, never changed. Changing: a new value is put into it each time. Fresh:
// a map is made for each reading, as a caller who shares it with others must.
func peer(b *testing.B, evaluate func(env map[string]any) (any, error)) {
	for _, name := range []string{"same", "changing", "fresh"} {
		b.Run(name, func(b *testing.B) {
			env := environment(1.31, 1.10)
			inner := env["gouge"].(map[string]any)
			b.ReportAllocs()
			i := 0
			for b.Loop() {
				switch name {
				case "changing":
					inner["centre"] = centres[i%len(centres)]
				case "fresh":
					env = environment(centres[i%len(centres)], 1.10)
				}
				if out, err := evaluate(env); err != nil || out != true {
					b.Fatal(out, err)
				}
				i++
			}
		})
	}
}

func BenchmarkRuleInExpr(b *testing.B) {
	p := exprProgram(b)
	var machine vm.VM // kept, as its documentation advises
	peer(b, func(env map[string]any) (any, error) { return machine.Run(p, env) })
}

func BenchmarkRuleInCEL(b *testing.B) {
	p := celProgram(b)
	peer(b, func(env map[string]any) (any, error) {
		out, _, err := p.Eval(env)
		if err != nil {
			return nil, err
		}
		return out.Value(), nil
	})
}

// The parts of BenchmarkJudgeReading, to see which one a change is felt in.
func BenchmarkParts(b *testing.B) {
	j := newJudge(b, "1.10 mm")
	all, err := quantity.ParseMany(typed[0], j.style)
	if err != nil {
		b.Fatal(err)
	}
	e := gauging.Of(all, j.tool, nil)
	j.values[0] = all[0].Value.Float()
	for _, part := range []struct {
		name string
		do   func(i int)
	}{
		{"parse", func(i int) { _, err = quantity.ParseMany(typed[i%len(typed)], j.style) }},
		{"estimate", func(int) { e = gauging.Of(all, j.tool, nil) }},
		{"verdict", func(int) { gauging.Judge(e, j.target, 0.80) }},
		{"value", func(int) { j.values[0] = all[0].Value.Float() }},
		{"rule", func(int) { _, err = j.rule.Holds(j.values) }},
	} {
		b.Run(part.name, func(b *testing.B) {
			b.ReportAllocs()
			i := 0
			for b.Loop() {
				part.do(i)
				i++
			}
			if err != nil {
				b.Fatal(err)
			}
		})
	}
}
