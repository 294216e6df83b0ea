package bench

import (
	"canewright/engine/gauging"
	"canewright/engine/recipe"
)

// weighed is how sure a rule or a derived target is, and what that rests on.
type weighed struct {
	inputs   []gauging.Input
	verdict  gauging.RuleVerdict
	combined gauging.Combined // without shares where trials alone could tell
	demand   float64
}

// weighDerived is not ok where something it rests on was not measured here, or
// it cannot be worked out.
func (d *decider) weighDerived(p *Piece, t *recipe.DerivedTarget, values []float64) (w weighed, ok bool) {
	if w.inputs = d.inputs(p, t.Worked.Needs(), values); w.inputs == nil {
		return w, false
	}
	var err error
	w.verdict, w.combined, err = gauging.JudgeDerived(t.Worked.NumberFunc(), w.inputs, t.Target.Tolerance, d.sure)
	w.demand = d.sure(w.verdict.Side)
	return w, err == nil
}

// weighRule is not ok in the same cases.
func (d *decider) weighRule(p *Piece, r *recipe.Rule, holds bool, values []float64) (w weighed, ok bool) {
	if w.inputs = d.inputs(p, r.Worked.Needs(), values); w.inputs == nil {
		return w, false
	}
	w.demand = d.b.Sure.Pass
	if !holds {
		w.demand = d.b.Sure.Cut
	}
	var err error
	if margin := r.Worked.MarginFunc(); margin != nil {
		w.verdict, w.combined, err = gauging.JudgeRule(margin, w.inputs, holds, w.demand)
	} else {
		w.verdict, err = gauging.JudgeTruth(r.Worked.TruthFunc(), w.inputs, holds, w.demand)
	}
	return w, err == nil
}

// advice is what would settle it; "" where nothing can be said.
func (w weighed) advice() string {
	if len(w.combined.Shares) == 0 && !w.verdict.Sure {
		return ""
	}
	return gauging.Advice(w.verdict, w.combined)
}
