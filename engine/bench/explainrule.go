package bench

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"canewright/engine/formula"
	"canewright/engine/gauging"
	"canewright/engine/quantity"
	"canewright/engine/recipe"
)

// BudgetLine is one input of a formula and what it adds to the uncertainty of
// the result. Value, U and its parts are in Unit, Contribution in ResultUnit.
type BudgetLine struct {
	Name         string             `json:"name"`
	Readings     []ExplainedReading `json:"readings,omitempty"`
	N            int                `json:"n"`
	Value        float64            `json:"value"`
	Unit         string             `json:"unit,omitempty"`
	U            float64            `json:"u"`
	Scatter      float64            `json:"scatter"`
	Step         float64            `json:"step"`
	ToolError    float64            `json:"tool_error"`
	Tool         string             `json:"tool,omitempty"`
	Sensitivity  float64            `json:"sensitivity"`
	Contribution float64            `json:"contribution"`
	ResultUnit   string             `json:"result_unit,omitempty"`
	Share        float64            `json:"share"`
	Shared       string             `json:"shared_error,omitempty"` // "cancels", "partly cancels", "adds up"; "" where no other input has that tool
	Text         string             `json:"text"`
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
func (x *explainer) comparable(p *Piece, f *formula.Formula) bool {
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
func (x *explainer) shownFormula(p *Piece, f *formula.Formula, values []float64, known []bool) ExplainedFormula {
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
		say("side: %s; a margin of 0 counts as holding for >= and <=", side)
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
	if a := w.advice(); a != "" {
		say("what would settle it: %s", a)
	}
}

func percentOf(share float64) string { return digits(100*share, 3) + " %" }

// unitLike is the unit of the first input that has the formula's kind.
func (x *explainer) unitLike(f *formula.Formula) quantity.Unit {
	for _, n := range f.Needs() {
		if d := x.then.b.Slots[n].Dimension; d != nil && d.Kind.Difference() == f.Kind().Difference() {
			return d.Unit
		}
	}
	return quantity.Unit{}
}

// slotRuler is the ruler of an input.
func (x *explainer) slotRuler(slot int) ruler {
	if d := x.then.b.Slots[slot].Dimension; d != nil {
		return rulerOf(d.Kind, d.Unit)
	}
	for _, s := range x.then.b.Settings {
		if s.Slot == slot {
			return rulerOf(s.Value.Value.Kind, s.Value.Unit)
		}
	}
	return ruler{float: 1}
}

// budget writes the inputs down and adds their uncertainties up (JCGM 100:2008,
// 5.1.2, with what a tool is off by added with its sign before it is squared,
// 5.2.2).
func (x *explainer) budget(it *Explained, p *Piece, w weighed, out ruler) {
	out = out.difference()
	say := func(format string, a ...any) { it.Working = append(it.Working, fmt.Sprintf(format, a...)) }
	sums := x.sharedSums(w, out)
	for i := range w.inputs {
		in := &w.inputs[i]
		r := x.slotRuler(in.Slot)
		l := BudgetLine{
			Name: in.Name, N: max(in.Readings, 1), Value: r.of(in.Value), Unit: r.unit, Scatter: in.Scatter / r.float, Step: in.Step / r.float,
			ToolError: in.ToolError / r.float, Tool: in.Tool, ResultUnit: out.unit,
		}
		l.U = math.Sqrt(l.Scatter*l.Scatter + l.Step*l.Step + l.ToolError*l.ToolError)
		if last := p.Last[in.Slot]; len(last.List) > 0 {
			l.Readings = x.readings(in.Slot, last.Stage, last.Visit, last.List)
		}
		if i < len(w.combined.Shares) {
			s := w.combined.Shares[i]
			l.Sensitivity, l.Contribution, l.Share = s.Sensitivity*r.float/out.float, s.Part/out.float, s.Share
			for _, g := range sums {
				if g.tool == in.Tool && in.ToolError > 0 && s.Sensitivity != 0 {
					l.Shared = g.word()
				}
			}
		}
		l.Text = l.line(r, len(w.combined.Shares) > 0)
		it.Budget = append(it.Budget, l)
	}
	if len(w.combined.Shares) == 0 {
		return
	}
	var terms, squares []string
	for i := range it.Budget {
		l := &it.Budget[i]
		own := math.Hypot(l.Scatter, l.Step)
		what := "scatter and step"
		if !slices.ContainsFunc(sums, func(g sharedSum) bool { return g.tool == l.Tool }) {
			own, what = l.U, "u"
		}
		if part := math.Abs(l.Sensitivity) * own; part > 0 {
			terms = append(terms, digits(part, someFigures)+"²")
			squares = append(squares, fmt.Sprintf("%s: %s × %s of %s = %s", l.Name, digits(math.Abs(l.Sensitivity), someFigures), what,
				digits(own, someFigures), out.with(part, someFigures)))
		}
	}
	for _, s := range squares {
		say("%s", s)
	}
	for _, g := range sums {
		if g.word() == cancels {
			g.sum = 0 // but for rounding
		}
		say("own error of the %s, the same in all of them: %s = %s: it %s (5.2.2)", g.tool, strings.Join(g.terms, " + "), out.with(g.sum, someFigures), g.word())
		if g.word() != cancels {
			terms = append(terms, bracketed(g.sum, someFigures)+"²")
		}
	}
	u := w.combined.U / out.float
	it.Figures = append(it.Figures, Figure{"value", out.of(w.combined.Value), out.unit}, Figure{"u", u, out.unit})
	if len(terms) > 0 {
		say("u = √(%s) = %s (5.1.2)", strings.Join(terms, " + "), out.with(u, someFigures))
	} else {
		say("u = %s", out.with(u, someFigures))
	}
	x.freedom(it, w, out)
}

func (x *explainer) freedom(it *Explained, w weighed, out ruler) {
	c := w.combined
	it.Figures = append(it.Figures, Figure{"probability", w.verdict.Probability, ""})
	if math.IsInf(c.Freedom, 1) || c.U == 0 {
		if c.U > 0 {
			it.Working = append(it.Working, "steps and tools are taken as known: degrees of freedom without end")
		}
		return
	}
	var parts []string
	for _, s := range c.Shares {
		if s.Scatter > 0 {
			parts = append(parts, fmt.Sprintf("%s⁴/%s", digits(s.Scatter/out.float, someFigures), digits(s.Freedom, 4)))
		}
	}
	it.Figures = append(it.Figures, Figure{"degrees of freedom", c.Freedom, ""})
	it.Working = append(it.Working, fmt.Sprintf("degrees of freedom: u⁴ / (%s) = %s (G.4.1)", strings.Join(parts, " + "), digits(c.Freedom, 4)))
}

// line is a budget line in words.
func (l *BudgetLine) line(r ruler, weighed bool) string {
	s := r.with(l.Value, manyFigures)
	if l.N > 1 {
		s = fmt.Sprintf("mean of %d: %s", l.N, s)
	}
	if l.U == 0 {
		return s + ", exact"
	}
	var parts []string
	for _, p := range []struct {
		name string
		u    float64
	}{{"s/√n", l.Scatter}, {"step/√12", l.Step}, {"error of the " + l.Tool, l.ToolError}} {
		if p.u > 0 {
			parts = append(parts, p.name+" "+digits(p.u, someFigures))
		}
	}
	s += fmt.Sprintf("; u %s (%s)", r.with(l.U, someFigures), strings.Join(parts, ", "))
	if !weighed {
		return s
	}
	s += fmt.Sprintf("; sensitivity %s; adds %s; %s of u²", digits(l.Sensitivity, someFigures), behindUnit(digits(l.Contribution, someFigures), l.ResultUnit), percentOf(l.Share))
	if l.Shared != "" {
		s += "; shared error " + l.Shared
	}
	return s
}

// sharedSum is what the error of one tool, read with for several inputs, makes
// of the result.
type sharedSum struct {
	tool       string
	terms      []string
	sum, whole float64
}

const cancels = "cancels"

func (g sharedSum) word() string {
	switch {
	case math.Abs(g.sum) <= 1e-6*g.whole: // what taking sensitivities by differences leaves
		return cancels
	case math.Abs(g.sum) >= (1-1e-6)*g.whole:
		return "adds up"
	}
	return "partly cancels"
}

func (x *explainer) sharedSums(w weighed, out ruler) []sharedSum {
	var all []sharedSum
	for i, s := range w.combined.Shares {
		in := &w.inputs[i]
		if in.Tool == "" || in.ToolError == 0 || s.Sensitivity == 0 {
			continue
		}
		at := slices.IndexFunc(all, func(g sharedSum) bool { return g.tool == in.Tool })
		if at < 0 {
			at = len(all)
			all = append(all, sharedSum{tool: in.Tool})
		}
		r := x.slotRuler(in.Slot)
		part := s.Sensitivity * in.ToolError / out.float
		all[at].sum += part
		all[at].whole += math.Abs(part)
		all[at].terms = append(all[at].terms, bracketed(s.Sensitivity*r.float/out.float, someFigures)+" × "+digits(in.ToolError/r.float, someFigures))
	}
	return slices.DeleteFunc(all, func(g sharedSum) bool { return len(g.terms) < 2 })
}
