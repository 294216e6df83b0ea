package bench

import (
	"math"
	"slices"
	"strings"

	"canewright/engine/gauging"
	"canewright/engine/quantity"
	"canewright/engine/recipe"
)

// rules judges the derived targets and the rules of a stage with what the
// piece holds, records each, and returns the gravest of what follows. The side
// is exact and moves the piece; how sure it is goes through the formula with
// the readings' uncertainties, and never does.
func (d *decider) rules(p *Piece, st *recipe.Stage) (recipe.Outcome, string) {
	values, known := d.st.Values(p)
	best, why := recipe.Outcome{How: recipe.GoingOn}, ""
	take := func(o recipe.Outcome, w string) {
		if weight(o.How) > weight(best.How) {
			best, why = o, w
		}
	}
	for i := range st.Derived {
		j, o, w := d.derived(p, &st.Derived[i], values, known)
		take(o, w)
		d.of(p, j)
	}
	for i := range st.Rules {
		j, o, w := d.rule(p, &st.Rules[i], values, known)
		take(o, w)
		d.of(p, j)
	}
	if !p.Ruled {
		panic("a stage with rules judged none")
	}
	return best, why
}

// derived judges a target of a dimension that is worked out.
func (d *decider) derived(p *Piece, t *recipe.DerivedTarget, values []float64, known []bool) (RuleJudged, recipe.Outcome, string) {
	slot, going := d.b.Slots[t.Slot], recipe.Outcome{How: recipe.GoingOn}
	tol := t.Target.Tolerance
	j := RuleJudged{That: slot.Name + ": " + tol.Text}
	if !known[t.Slot] {
		j.Missing = d.missing(t.Slot, known)
		return j, going, ""
	}
	if j.Said = d.mixed(p, t.Worked.Needs()); j.Said != "" {
		return j, going, ""
	}
	q := quantity.Value{Kind: slot.Dimension.Kind, Q: int64(math.Floor(values[t.Slot]/slot.Dimension.Kind.Scale() + 0.5))}
	side := tol.Side(q.Q)
	shown := quantity.Format(q, tol.Unit, tol.Step)
	j.Holds = side == quantity.Inside
	j.Inputs = []string{slot.Name + " = " + shown}
	if w, ok := d.weighDerived(p, t, values); ok {
		j.Probability, j.Sure, j.Advice = w.verdict.Probability, w.verdict.Sure, w.advice()
	}
	o, word := going, ""
	switch side {
	case quantity.Above:
		o, word = t.Target.Above, slot.Dimension.More
	case quantity.Below:
		o, word = t.Target.Below, slot.Dimension.Less
	}
	switch {
	case word != "":
		too := "too "
		if j.Advice != "" {
			too = "maybe too "
		}
		j.Said = sentence(slot.Title()+" "+shown+": "+too+word) + behind(j.Advice) + advice(o)
		return j, o, slot.Title() + " too " + word
	case strings.HasPrefix(j.Advice, "Measure"):
		j.Said = sentence(slot.Title()+" "+shown+": probably right") + behind(j.Advice)
	}
	return j, going, ""
}

// rule judges a formula that should hold.
func (d *decider) rule(p *Piece, r *recipe.Rule, values []float64, known []bool) (RuleJudged, recipe.Outcome, string) {
	j, going := RuleJudged{That: r.That.Text()}, recipe.Outcome{How: recipe.GoingOn}
	for _, n := range r.That.Needs() {
		name := d.b.Slots[n].Name
		if !known[n] {
			j.Missing = append(j.Missing, name)
			continue
		}
		j.Inputs = append(j.Inputs, name+" = "+d.shown(p, n, values[n]))
	}
	if len(j.Missing) > 0 {
		return j, going, ""
	}
	if j.Said = d.mixed(p, r.Worked.Needs()); j.Said != "" {
		return j, going, ""
	}
	holds, err := r.That.Holds(values)
	if err != nil {
		j.Said = sentence(err.Error())
		return j, going, ""
	}
	j.Holds = holds
	if w, ok := d.weighRule(p, r, holds, values); ok {
		j.Probability, j.Sure, j.Advice = w.verdict.Probability, w.verdict.Sure, w.advice()
	}
	if holds {
		if strings.HasPrefix(j.Advice, "Measure") { // else nothing would settle it, and it counts
			j.Said = "Probably so: " + r.That.Text() + "." + behind(j.Advice)
		}
		return j, going, ""
	}
	not := "Not so: "
	if j.Advice != "" {
		not = "Maybe not so: "
	}
	j.Said = not + r.That.Text() + " (" + strings.Join(j.Inputs, ", ") + ")." + behind(j.Advice)
	if r.Because != "" {
		j.Said += " " + sentence(r.Because)
	}
	j.Said += advice(r.Otherwise)
	return j, r.Otherwise, r.That.Text() + " does not hold"
}

// behind sets a further sentence behind one.
func behind(s string) string {
	if s == "" {
		return ""
	}
	return " " + strings.TrimSuffix(s, " You decide.") // the side has decided
}

// inputs are what a formula rests on, with uncertainties; nil where something
// was not measured here, as for pieces begun elsewhere.
func (d *decider) inputs(p *Piece, needs []int, values []float64) []gauging.Input {
	out := make([]gauging.Input, 0, len(needs))
	for _, n := range needs {
		slot := d.b.Slots[n]
		if slot.Setting {
			out = append(out, gauging.Input{Name: slot.Name, Slot: n, Value: values[n]})
			continue
		}
		last := p.Last[n].List
		if len(last) == 0 {
			return nil
		}
		all := make([]quantity.Entered, len(last))
		for i, r := range last {
			all[i] = entered(r, slot.Dimension.Kind)
		}
		read := d.st.readBy(last[len(last)-1].Tool)
		out = append(out, gauging.Of(all, read, nil).Input(slot.Title(), n, read))
	}
	return out
}

// mixed says that readings of one formula were taken of wet and of dry cane,
// which cannot be compared; "" where they were not.
func (d *decider) mixed(p *Piece, needs []int) string {
	first := map[quantity.Kind]int{}
	for _, n := range needs {
		slot, last := d.b.Slots[n], p.Last[n].List
		if slot.Dimension == nil || len(last) == 0 || !wetOrDry(last[0].Condition) || slot.Dimension.Formula != "" {
			continue
		}
		o, seen := first[slot.Dimension.Kind]
		if !seen {
			first[slot.Dimension.Kind] = n
			continue
		}
		if was := p.Last[o].List[0].Condition; was != last[0].Condition {
			return "Not judged: " + d.b.Slots[o].Title() + " was read " + was + " and " + slot.Title() + " " + last[0].Condition + ". Measure both alike."
		}
	}
	return ""
}

func wetOrDry(c string) bool { return c == "wet" || c == "dry" }

// advice is what to do although the piece goes on; of a piece that is moved the
// move says it.
func advice(o recipe.Outcome) string {
	if o.How != recipe.GoingOn || o.Do == "" {
		return ""
	}
	return " " + sentence(o.Do)
}

// shown writes a value as formulas hold it in the unit of its dimension.
func (d *decider) shown(p *Piece, slot int, v float64) string {
	s := d.b.Slots[slot]
	if s.Dimension == nil {
		for _, set := range d.b.Settings {
			if set.Slot == slot {
				return set.Value.String()
			}
		}
	}
	k := s.Dimension.Kind
	q := quantity.Value{Kind: k, Q: int64(math.Floor(v/k.Scale() + 0.5))}
	u := s.Dimension.Unit
	step := int64(0)
	if last := p.Last[slot]; p.Held[slot].N > 1 && len(last.List) > 0 {
		step = max(last.List[0].Step/10, 1) // a mean, to one place more than was typed
	}
	return quantity.Format(q, u, step)
}

// missing names the inputs a derived dimension lacks.
func (d *decider) missing(slot int, known []bool) []string {
	var out []string
	for _, r := range d.b.Derived {
		if r.Slot != slot {
			continue
		}
		for _, n := range r.Formula.Needs() {
			if !known[n] {
				out = append(out, d.b.Slots[n].Name)
			}
		}
	}
	slices.Sort(out)
	return out
}
