package peers

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"cel.dev/cel-go/cel"
	"cel.dev/cel-go/ext"
	"github.com/expr-lang/expr/vm"
	gruleast "github.com/hyperjumptech/grule-rule-engine/ast"
	"github.com/hyperjumptech/grule-rule-engine/builder"
	"github.com/hyperjumptech/grule-rule-engine/engine"
	"github.com/hyperjumptech/grule-rule-engine/pkg"
	regoast "github.com/open-policy-agent/opa/v1/ast"
	"github.com/open-policy-agent/opa/v1/rego"
)

// evaluator answers all its rules for one fresh vector of values, in the order
// of many. The values are in nanometres for ours and in millimetres for the
// peers; each puts them into whatever it takes, anew.
type evaluator func(values []float64, out []bool) error

// peerEngine is one of those compared.
type peerEngine struct {
	name    string
	unit    float64 // micrometres in its unit
	compile func(t testing.TB, rules []peerRule) evaluator
}

func peerEngines() []peerEngine {
	return []peerEngine{
		{"expr", 1000, byExpr},
		{"canewright", 0.001, byOurs},
		{"cel-go", 1000, byCEL},
		{"OPA", 1000, byOPA},
		{"grule", 1000, byGrule},
	}
}

// in gives the values in the engine's unit. A quotient of whole numbers is
// rounded once, so it is the same float as the number typed.
func (e peerEngine) in(v vector) []float64 {
	out := make([]float64, len(v))
	for i, q := range v {
		if e.unit > 1 {
			out[i] = float64(q) / e.unit
			continue
		}
		out[i] = float64(q * int64(1/e.unit))
	}
	return out
}

func bareOf(rules []peerRule) []string {
	out := make([]string, len(rules))
	for i, r := range rules {
		out[i] = r.bare
	}
	return out
}

func oursOf(rules []peerRule) []string {
	out := make([]string, len(rules))
	for i, r := range rules {
		out[i] = r.ours
	}
	return out
}

func byOurs(t testing.TB, rules []peerRule) evaluator {
	all := compileOurs(t, oursOf(rules))
	return func(values []float64, out []bool) error {
		for i, f := range all {
			holds, err := f.Holds(values)
			if err != nil {
				return err
			}
			out[i] = holds
		}
		return nil
	}
}

func byExpr(t testing.TB, rules []peerRule) evaluator {
	all := compileExpr(t, bareOf(rules))
	var machine vm.VM
	return func(v []float64, out []bool) error {
		env := map[string]any{
			"gouge":   map[string]any{"centre": v[0], "side": v[1], "first_end": v[2], "second_end": v[3]},
			"wire":    map[string]any{"first": v[4], "second": v[5], "third": v[6]},
			"tip":     map[string]any{"width": v[7], "opening": v[8]},
			"overall": v[9],
		}
		for i, p := range all {
			holds, err := machine.Run(p, env)
			if err != nil {
				return err
			}
			out[i] = holds.(bool)
		}
		return nil
	}
}

func byCEL(t testing.TB, rules []peerRule) evaluator {
	t.Helper()
	options := []cel.EnvOption{ext.Math()}
	for _, n := range many {
		options = append(options, cel.Variable(n, cel.DoubleType))
	}
	env, err := cel.NewEnv(options...)
	if err != nil {
		t.Fatal(err)
	}
	all := make([]cel.Program, len(rules))
	for i, r := range rules {
		ast, issues := env.Compile(celForm(r.bare))
		if issues.Err() != nil {
			t.Fatal(issues.Err())
		}
		if all[i], err = env.Program(ast, cel.EvalOptions(cel.OptOptimize)); err != nil {
			t.Fatal(err)
		}
	}
	return func(v []float64, out []bool) error {
		env := make(map[string]any, len(many))
		for i, n := range many {
			env[n] = v[i]
		}
		for i, p := range all {
			holds, _, err := p.Eval(env)
			if err != nil {
				return err
			}
			out[i] = holds.Value().(bool)
		}
		return nil
	}
}

// byOPA prepares one query for all rules, as its documentation advises, and
// hands it its own values, so that nothing is converted twice.
func byOPA(t testing.TB, rules []peerRule) evaluator {
	t.Helper()
	var module strings.Builder
	module.WriteString("package reed\n")
	for i, r := range rules {
		fmt.Fprintf(&module, "default %s := false\n", ruleName(i))
		for _, body := range regoForms(r) {
			fmt.Fprintf(&module, "%s if { %s }\n", ruleName(i), body)
		}
	}
	ctx := context.Background()
	query, err := rego.New(rego.Query("data.reed"), rego.Module("reed.rego", module.String())).PrepareForEval(ctx)
	if err != nil {
		t.Fatalf("%v\n%s", err, module.String())
	}
	term := regoast.StringTerm
	gouge, wire, tip := term("gouge"), term("wire"), term("tip")
	var last [10]*regoast.Term // the part of the name behind the dot
	for i, n := range many {
		last[i] = term(n[strings.LastIndex(n, ".")+1:])
	}
	names := make([]string, len(rules))
	for i := range names {
		names[i] = ruleName(i)
	}
	return func(v []float64, out []bool) error {
		item := func(i int) [2]*regoast.Term { return regoast.Item(last[i], regoast.FloatNumberTerm(v[i])) }
		input := regoast.NewObject(
			regoast.Item(gouge, regoast.ObjectTerm(item(0), item(1), item(2), item(3))),
			regoast.Item(wire, regoast.ObjectTerm(item(4), item(5), item(6))),
			regoast.Item(tip, regoast.ObjectTerm(item(7), item(8))),
			item(9))
		results, err := query.Eval(ctx, rego.EvalParsedInput(input))
		if err != nil {
			return err
		}
		if len(results) != 1 {
			return fmt.Errorf("answering %d rules: %d results", len(names), len(results))
		}
		answers := results[0].Expressions[0].Value.(map[string]any)
		for i, n := range names {
			holds, ok := answers[n].(bool)
			if !ok {
				return fmt.Errorf("answering rule %s: %v", n, answers[n])
			}
			out[i] = holds
		}
		return nil
	}
}

// Reed is the facts as grule takes them: exported fields of a struct.
type Reed struct {
	GougeCentre, GougeSide, GougeFirstEnd, GougeSecondEnd float64
	WireFirst, WireSecond, WireThird                      float64
	TipWidth, TipOpening, Overall                         float64
}

// byGrule asks which rules match, and carries none of them out.
func byGrule(t testing.TB, rules []peerRule) evaluator {
	t.Helper()
	var text strings.Builder
	place := make(map[string]int, len(rules))
	for i, r := range rules {
		fmt.Fprintf(&text, "rule %[1]s \"\" { when %[2]s then Retract(\"%[1]s\"); }\n", ruleName(i), gruleForm(r.bare))
		place[ruleName(i)] = i
	}
	library := gruleast.NewKnowledgeLibrary()
	if err := builder.NewRuleBuilder(library).BuildRuleFromResource("reed", "1", pkg.NewBytesResource([]byte(text.String()))); err != nil {
		t.Fatalf("%v\n%s", err, text.String())
	}
	known, err := library.NewKnowledgeBaseInstance("reed", "1")
	if err != nil {
		t.Fatal(err)
	}
	grule := engine.NewGruleEngine()
	grule.ReturnErrOnFailedRuleEvaluation = true
	return func(v []float64, out []bool) error {
		facts := gruleast.NewDataContext()
		if err := facts.Add("Reed", &Reed{v[0], v[1], v[2], v[3], v[4], v[5], v[6], v[7], v[8], v[9]}); err != nil {
			return err
		}
		matching, err := grule.FetchMatchingRules(facts, known)
		if err != nil {
			return err
		}
		clear(out)
		for _, r := range matching {
			out[place[r.RuleName]] = true
		}
		return nil
	}
}

func ruleName(i int) string { return fmt.Sprintf("r%02d", i) }
