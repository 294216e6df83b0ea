package bench

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"canewright/engine/gauging"
	"canewright/engine/recipe"
	"canewright/engine/remedy"
)

// ExplainedRemedy is one remedy of an advice, with what speaks for it.
type ExplainedRemedy struct {
	Name     string             `json:"name"`
	Do       string             `json:"do"`
	Because  string             `json:"because,omitempty"`
	Touches  string             `json:"touches"`
	Score    float64            `json:"score"`
	Fits     []string           `json:"fits,omitempty"`
	Against  []string           `json:"against,omitempty"`
	Unknown  []string           `json:"unknown,omitempty"`
	Formulas []ExplainedFormula `json:"formulas,omitempty"`
	Working  []string           `json:"working,omitempty"`
	Excluded string             `json:"excluded,omitempty"`
	Sources  []string           `json:"sources,omitempty"`
}

// symptoms explains what was advised on what the player said.
func (x *explainer) symptoms(e Event, p *Piece, n SymptomsNoted) {
	kase := x.then.CaseOf(p)
	kase.Symptoms = n.Symptoms
	ranked, excluded := remedy.Rank(x.then.b, kase)
	it := Explained{What: OfAdvice, Title: "what is wrong", Then: Judgement{Sentence: strings.Join(x.words(n.Symptoms), "; ")}}
	for _, a := range ranked[:min(len(ranked), mostAdvice)] {
		it.Remedies = append(it.Remedies, x.remedy(p, kase, a))
	}
	if n := len(ranked) - mostAdvice; n > 0 {
		it.Working = append(it.Working, fmt.Sprintf("%d more fit less well, and are not shown", n))
	}
	for _, a := range excluded {
		it.Remedies = append(it.Remedies, x.remedy(p, kase, a))
	}
	x.add(e, x.stageOf(n.At, p), p.Visit, it)
}

// tried explains a remedy that was tried, by what was known then.
func (x *explainer) tried(e Event, p *Piece, t RemedyTried) {
	kase := x.then.CaseOf(p)
	ranked, excluded := remedy.Rank(x.then.b, kase)
	it := Explained{What: OfAdvice, Title: "tried: " + t.Name, slot: t.Name, Then: Judgement{Sentence: t.Do}}
	at := slices.IndexFunc(ranked, func(a remedy.Advice) bool { return a.Remedy.Name == t.Name })
	switch {
	case at >= 0:
		r := x.remedy(p, kase, ranked[at])
		it.Remedies, it.Working = []ExplainedRemedy{r}, []string{fmt.Sprintf("it stood at place %d of %d", at+1, len(ranked))}
		if r.Do != t.Do {
			it.Differs = []string{"step: then " + t.Do + ", now " + r.Do}
		}
	default:
		it.Differs = []string{"it would not be advised now"}
		for _, a := range excluded {
			if a.Remedy.Name == t.Name {
				it.Remedies = []ExplainedRemedy{x.remedy(p, kase, a)}
			}
		}
	}
	x.add(e, x.stageOf(t.At, p), p.Visit, it)
}

// helped is what the player said of it, beside the trying where that is known.
func (x *explainer) helped(e Event, p *Piece, j RemedyJudged) {
	for i := len(x.items) - 1; i >= 0; i-- {
		if it := &x.items[i]; it.What == OfAdvice && it.slot == j.Name {
			words := "helped: " + j.Helped
			if x.end.taken[e.Cause] {
				words += " (taken back)"
			}
			it.Followed = append(it.Followed, words)
			return
		}
	}
	x.add(e, p.Stage, p.Visit, Explained{What: OfAdvice, Title: "tried: " + j.Name, Then: Judgement{Sentence: "helped: " + j.Helped}})
}

// words are symptoms as they are said at the bench.
func (x *explainer) words(names []string) []string {
	var out []string
	for _, n := range names {
		if s, ok := x.then.b.SymptomNamed(n); ok {
			n = s.Words
		}
		out = append(out, n)
	}
	return out
}

func (x *explainer) remedy(p *Piece, kase remedy.Case, a remedy.Advice) ExplainedRemedy {
	r := ExplainedRemedy{Name: a.Remedy.Name, Do: a.Step, Because: a.Remedy.Because, Touches: string(a.Remedy.Touches), Score: a.Score,
		Fits: a.Fits, Against: a.Against, Unknown: a.Unknown, Excluded: a.Excluded}
	for _, s := range a.Remedy.Sources {
		r.Sources = append(r.Sources, s.Credit())
	}
	k := x.knownOf(kase)
	say := func(format string, v ...any) { r.Working = append(r.Working, fmt.Sprintf(format, v...)) }
	speaks, sum := 0, 0.0
	var parts []string
	for _, f := range a.Remedy.Conditions {
		r.Formulas = append(r.Formulas, x.shownFormula(p, f, k.values, k.known))
		if !all(k.known, f.Needs()) {
			continue
		}
		holds, err := f.Holds(k.values)
		if err != nil {
			continue
		}
		likely := k.chance(f, holds, say, rulerOf(f.Kind(), x.unitLike(f)).difference())
		speaks++
		sum += 2*likely - 1
		parts = append(parts, fmt.Sprintf("(2 × %s − 1)", digits(likely, someFigures)))
	}
	matched := 0
	for _, s := range kase.Symptoms {
		if known, ok := x.then.b.SymptomNamed(s); ok && slices.Contains(a.Remedy.Symptoms, known.Name) {
			matched++
		}
	}
	var score []string
	if matched > 0 {
		score = append(score, fmt.Sprintf("%d of %d symptoms", matched, len(kase.Symptoms)))
	}
	if speaks > 0 {
		all := strings.Join(parts, " + ")
		if speaks > 1 {
			all = "(" + all + ")"
		}
		score = append(score, fmt.Sprintf("readings %s / %d = %s", all, speaks, digits(sum/float64(speaks), someFigures)))
	}
	say("score: %s = %s", strings.Join(score, " + "), digits(a.Score, someFigures))
	if a.Excluded != "" {
		x.reached(p, kase, a.Remedy, say)
	}
	return r
}

// reached writes down why no cane is to be taken off: the readings at the lower
// limit, or as near as can be told.
func (x *explainer) reached(p *Piece, kase remedy.Case, r *recipe.Remedy, say func(string, ...any)) {
	for _, part := range r.Takes {
		for slot := range x.then.b.Slots {
			if slot >= len(kase.Lower) || kase.Lower[slot] != remedy.Reached || !x.then.b.Covers(part, slot) {
				continue
			}
			low, ok := x.lowerLimit(p, slot)
			if !ok {
				continue
			}
			s := x.then.b.Slots[slot]
			ruler := rulerOf(s.Dimension.Kind, s.Dimension.Unit)
			say("%s: %s, lower limit %s, u %s: not more than u above it", s.Title(), ruler.with(ruler.of(kase.Values[slot]), manyFigures),
				ruler.with(ruler.at(float64(low)), manyFigures), ruler.difference().with(kase.U[slot]/ruler.float, someFigures))
		}
	}
}

// lowerLimit is that of the last target a slot had on the way here.
func (x *explainer) lowerLimit(p *Piece, slot int) (int64, bool) {
	for at := min(p.Stage, len(x.then.b.Stages)-1); at >= 0; at-- {
		if m := x.measureOf(at, slot); m != nil && m.Target != nil && m.Target.Tolerance.Low.Set {
			return m.Target.Tolerance.Low.Q, true
		}
	}
	return 0, false
}

// caseKnown is what remedies are weighed by: values and standard uncertainties
// of all slots, as formulas have them.
type caseKnown struct {
	values, u []float64
	known     []bool
}

func (x *explainer) knownOf(kase remedy.Case) caseKnown {
	k := caseKnown{values: slices.Clone(kase.Values), u: slices.Clone(kase.U), known: slices.Clone(kase.Known)}
	measured := slices.Clone(k.known)
	for _, d := range x.then.b.Derived {
		measured[d.Slot] = false
	}
	x.then.b.Work(k.values, k.known)
	for range x.then.b.Derived { // one may rest on another
		for _, d := range x.then.b.Derived {
			if k.known[d.Slot] && !measured[d.Slot] {
				k.u[d.Slot] = k.spread(d.Formula.NumberFunc(), d.Formula.Needs())
			}
		}
	}
	return k
}

// spread is the standard uncertainty of a formula; its inputs count as
// independent here, so that advice errs to the careful side.
func (k *caseKnown) spread(f func([]float64) (float64, error), needs []int) float64 {
	inputs := make([]gauging.Input, len(needs))
	for i, n := range needs {
		inputs[i] = gauging.Input{Slot: n, Value: k.values[n], Scatter: k.u[n]}
	}
	c, err := gauging.Propagate(f, inputs)
	if err != nil {
		return 0
	}
	return c.U
}

// chance that a condition of a remedy holds, by the normal distribution.
func (k *caseKnown) chance(f reckoned, holds bool, say func(string, ...any), r ruler) float64 {
	certain := 0.0
	if holds {
		certain = 1
	}
	margin, ok := f.Margin(k.values)
	if !ok {
		return certain
	}
	u := k.spread(f.MarginFunc(), f.Needs())
	if u == 0 {
		say("%s: margin %s, nothing uncertain", f.Text(), r.with(margin/r.float, manyFigures))
		return certain
	}
	p := chance(margin/u, math.Inf(1))
	say("%s: margin %s, u %s, z = %s: chance that it holds %s", f.Text(), r.with(margin/r.float, manyFigures), r.with(u/r.float, someFigures),
		digits(margin/u, someFigures), percent(p))
	return p
}
