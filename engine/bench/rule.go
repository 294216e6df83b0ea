package bench

import (
	"math"
	"slices"
	"strings"

	"canewright/engine/quantity"
	"canewright/engine/recipe"
)

// rules judges the derived targets and the rules of a stage with what the
// piece holds, records each, and returns the gravest of what follows.
func (d *decider) rules(p *Piece, st *recipe.Stage) (recipe.Outcome, string) {
	values, known := d.st.Values(p)
	best, why := recipe.Outcome{How: recipe.GoingOn}, ""
	take := func(o recipe.Outcome, w string) {
		if weight(o.How) > weight(best.How) {
			best, why = o, w
		}
	}
	for _, t := range st.Derived {
		slot := d.b.Slots[t.Slot]
		j := RuleJudged{That: slot.Name + ": " + t.Target.Tolerance.Text}
		if !known[t.Slot] {
			j.Missing = d.missing(t.Slot, known)
			d.of(p, j)
			continue
		}
		q := quantity.Value{Kind: slot.Dimension.Kind, Q: int64(math.Floor(values[t.Slot]/slot.Dimension.Kind.Scale() + 0.5))}
		side := t.Target.Tolerance.Side(q.Q)
		j.Holds = side == quantity.Inside
		j.Inputs = []string{slot.Name + " = " + quantity.Format(q, t.Target.Tolerance.Unit, t.Target.Tolerance.Step)}
		switch side {
		case quantity.Above:
			j.Said = sentence(slot.Title()+" "+quantity.Format(q, t.Target.Tolerance.Unit, t.Target.Tolerance.Step)+": too "+slot.Dimension.More) + advice(t.Target.Above)
			take(t.Target.Above, slot.Title()+" too "+slot.Dimension.More)
		case quantity.Below:
			j.Said = sentence(slot.Title()+" "+quantity.Format(q, t.Target.Tolerance.Unit, t.Target.Tolerance.Step)+": too "+slot.Dimension.Less) + advice(t.Target.Below)
			take(t.Target.Below, slot.Title()+" too "+slot.Dimension.Less)
		}
		d.of(p, j)
	}
	for _, r := range st.Rules {
		j := RuleJudged{That: r.That.Text()}
		for _, n := range r.That.Needs() {
			name := d.b.Slots[n].Name
			if !known[n] {
				j.Missing = append(j.Missing, name)
				continue
			}
			j.Inputs = append(j.Inputs, name+" = "+d.shown(p, n, values[n]))
		}
		if len(j.Missing) > 0 {
			d.of(p, j)
			continue
		}
		holds, err := r.That.Holds(values)
		if err != nil {
			j.Said = sentence(err.Error())
			d.of(p, j)
			continue
		}
		j.Holds = holds
		if !holds {
			j.Said = "Not so: " + r.That.Text() + " (" + strings.Join(j.Inputs, ", ") + ")."
			if r.Because != "" {
				j.Said += " " + sentence(r.Because)
			}
			j.Said += advice(r.Otherwise)
			take(r.Otherwise, r.That.Text()+" does not hold")
		}
		d.of(p, j)
	}
	if !p.Ruled {
		panic("a stage with rules judged none")
	}
	return best, why
}

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
