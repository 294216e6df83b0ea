package bench

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"canewright/engine/gauging"
	"canewright/engine/quantity"
	"canewright/engine/recipe"
)

// reckoned is what is asked of a formula here.
type reckoned interface {
	Text() string
	Shown(value func(slot int) string) string
	Kind() quantity.Kind
	Needs() []int
	Holds(values []float64) (bool, error)
	Margin(values []float64) (float64, bool)
	MarginFunc() func(needed []float64) (float64, error)
}

// rule explains a rule or a derived target that was judged.
func (x *explainer) rule(e Event, p *Piece, j RuleJudged) {
	d, stage := x.decide(), x.stageOf(e.Stage, p)
	values, known := x.then.Values(p)
	it := Explained{What: OfRule, Title: j.That, Then: judgementOfRule(j)}
	var now RuleJudged
	st := recipe.Stage{}
	if stage < len(x.then.b.Stages) {
		st = x.then.b.Stages[stage]
	}
	found := false
	for i := range st.Derived {
		t := &st.Derived[i]
		if x.then.b.Slots[t.Slot].Name+": "+t.Target.Tolerance.Text == j.That && !found {
			found, it.What, it.Title = true, OfDerived, x.then.b.Slots[t.Slot].Title()+": "+t.Target.Tolerance.Text
			now, _, _ = d.derived(p, t, values, known)
			it.Target, it.Limits = t.Target.Tolerance.Text, t.Target.Tolerance.Limits()
			it.Formulas = x.derivedFormulas(p, []int{t.Slot}, values, known)
			if w, ok := d.weighDerived(p, t, values); ok && now.Missing == nil && x.comparable(p, t.Worked) {
				x.derivedWorking(&it, p, t, w, values[t.Slot])
			}
		}
	}
	for i := range st.Rules {
		r := &st.Rules[i]
		if r.That.Text() == j.That && !found {
			found = true
			now, _, _ = d.rule(p, r, values, known)
			it.Formulas = append(x.derivedFormulas(p, r.That.Needs(), values, known), x.shownFormula(p, r.That, values, known))
			if holds, err := r.That.Holds(values); err == nil && now.Missing == nil && x.comparable(p, r.Worked) {
				if w, ok := d.weighRule(p, r, holds, values); ok {
					x.ruleWorking(&it, p, r, w, holds)
				}
			}
		}
	}
	switch {
	case !found:
		it.Differs = append(it.Differs, "it cannot be worked out again: the stage has no such rule")
	default:
		was := it.Then
		is := judgementOfRule(now)
		it.Now = &is
		if was.Probability == 0 && !was.Sure && was.Advice == "" && (is.Probability != 0 || is.Sure) {
			it.Differs = append(it.Differs, "probability: then none was recorded, now "+percent(is.Probability))
			was.Probability, was.Sure, was.Advice = is.Probability, is.Sure, is.Advice
		}
		it.Differs = append(it.Differs, differences(was, is, true)...)
		if !slices.Equal(j.Inputs, now.Inputs) {
			it.Differs = append(it.Differs, "inputs: then "+strings.Join(j.Inputs, ", ")+"; now "+strings.Join(now.Inputs, ", "))
		}
		if len(j.Missing) > 0 {
			it.Working = append(it.Working, "not judged; not measured: "+strings.Join(j.Missing, ", "))
		} else if len(it.Working) == 0 && j.Said != "" {
			it.Working = append(it.Working, j.Said)
		} else if len(it.Working) == 0 {
			it.Working = append(it.Working, "what it rests on was not measured in this batch: no uncertainty is known")
		}
	}
	x.add(e, stage, e.Visit, it)
}

// comparable: no wet reading is put beside a dry one.
func (x *explainer) comparable(p *Piece, f reckoned) bool {
	return x.decide().mixed(p, f.Needs()) == ""
}

func judgementOfRule(j RuleJudged) Judgement {
	out := Judgement{Side: "holds", Probability: j.Probability, Sure: j.Sure, Sentence: j.Said, Advice: j.Advice}
	switch {
	case len(j.Missing) > 0 || strings.HasPrefix(j.Said, "Not judged:"):
		out.Side = "not judged"
	case !j.Holds:
		out.Side = "does not hold"
	}
	return out
}

// shownFormula is a formula with numbers put in.
func (x *explainer) shownFormula(p *Piece, f reckoned, values []float64, known []bool) ExplainedFormula {
	return ExplainedFormula{Text: f.Text(), Shown: f.Shown(func(slot int) string {
		if !known[slot] {
			return ""
		}
		return x.decide().shown(p, slot, values[slot])
	})}
}

// derivedFormulas are those behind the derived dimensions a formula needs, what
// others rest on first.
func (x *explainer) derivedFormulas(p *Piece, needs []int, values []float64, known []bool) []ExplainedFormula {
	var out []ExplainedFormula
	seen := map[int]bool{}
	var visit func(needs []int)
	visit = func(needs []int) {
		for _, n := range needs {
			for _, r := range x.then.b.Derived {
				if r.Slot != n || seen[n] {
					continue
				}
				seen[n] = true
				visit(r.Formula.Needs())
				f := x.shownFormula(p, r.Formula, values, known)
				f.Name = x.then.b.Slots[n].Name
				if known[n] {
					f.Value = x.decide().shown(p, n, values[n])
				}
				out = append(out, f)
			}
		}
	}
	visit(needs)
	return out
}

// derivedWorking: value is the derived value as formulas have it.
func (x *explainer) derivedWorking(it *Explained, p *Piece, t *recipe.DerivedTarget, w weighed, value float64) {
	tol := t.Target.Tolerance
	r := rulerOf(tol.Kind, tol.Unit)
	say := func(format string, a ...any) { it.Working = append(it.Working, fmt.Sprintf(format, a...)) }
	say("worked out: %s", r.with(r.of(value), manyFigures))
	x.budget(it, p, w, r)
	q := int64(math.Floor(value/tol.Kind.Scale() + 0.5))
	say("limits: %s (%s)", tol.Limits(), tol.Text)
	say("side: %s", sideOfSum(r, tol, gauging.Estimate{N: 1, Kind: tol.Kind, Sum: q, Best: float64(q)}))
	c := w.combined
	if w.verdict.Trials {
		trials(say, w.verdict)
	} else {
		limits(say, r, tol, c.Value/tol.Kind.Scale(), c.U/tol.Kind.Scale(), c.Freedom, w.verdict.Probability)
	}
	sureness(say, w.verdict.Side.String(), w.verdict.SideProbability, w.demand, w.verdict.Sure, w.verdict.OnLimit && c.U > 0, w.verdict.Side == quantity.Above)
	settling(say, w)
}

func (x *explainer) ruleWorking(it *Explained, p *Piece, r *recipe.Rule, w weighed, holds bool) {
	ruler := rulerOf(r.Worked.Kind(), x.unitLike(r.Worked)).difference()
	say := func(format string, a ...any) { it.Working = append(it.Working, fmt.Sprintf(format, a...)) }
	c := w.combined
	side := "it holds"
	if !holds {
		side = "it does not hold"
	}
	if len(c.Shares) == 0 && r.Worked.MarginFunc() == nil {
		x.budget(it, p, w, ruler)
		say("side: %s", side)
		say("it has no margin: it is a question with several parts")
	} else {
		margin := ruler.of(c.Value)
		say("margin, by which it holds: %s", ruler.with(margin, manyFigures))
		x.budget(it, p, w, ruler)
		say("side: %s", side)
		if u := c.U / ruler.float; !w.verdict.Trials && u > 0 {
			name, letter := distribution(c.Freedom)
			say("%s = %s / %s = %s; chance that it holds %s, by %s (JCGM 106)", letter, digits(margin, manyFigures), digits(u, someFigures),
				digits(margin/u, someFigures), percent(w.verdict.Probability), name)
		} else if !w.verdict.Trials {
			say("nothing that is uncertain is left: chance that it holds %s", percent(w.verdict.Probability))
		}
	}
	if w.verdict.Trials {
		trials(say, w.verdict)
	}
	sureness(say, side, w.verdict.SideProbability, w.demand, w.verdict.Sure, w.verdict.OnLimit && !w.verdict.Sure, !holds)
	settling(say, w)
}

func trials(say func(string, ...any), v gauging.RuleVerdict) {
	say("it is not straight around these values: 20000 trials with numbers drawn at random (JCGM 101), the same each time, give %s", percent(v.Probability))
}

// settling names the input that counts most and what would make it sure.
func settling(say func(string, ...any), w weighed) {
	if i := w.verdict.Dominating; i >= 0 && len(w.combined.Shares) > 1 {
		s := w.combined.Shares[i]
		say("most of the uncertainty comes from: %s (%s of u²)", s.Name, percentOf(s.Share))
	}
	switch a := w.advice(); {
	case a == "" || w.verdict.OnLimit:
	case strings.HasPrefix(a, "Measure"):
		say("what would settle it: %s", a)
	default:
		say("readings would not settle it: %s", a)
	}
}

func percentOf(share float64) string { return digits(100*share, 3) + " %" }

// unitLike is the unit of the first input that has the formula's kind.
func (x *explainer) unitLike(f reckoned) quantity.Unit {
	for _, n := range f.Needs() {
		if d := x.then.b.Slots[n].Dimension; d != nil && d.Kind.Difference() == f.Kind().Difference() {
			return d.Unit
		}
	}
	return quantity.Unit{}
}
