package bench

import (
	"fmt"
	"math"
	"slices"
	"strings"
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
	it.rests = map[int]Read{}
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
			it.rests[in.Slot] = last
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
	if len(terms) > 1 {
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
