package recipe

import (
	"canewright/engine/formula"
	"canewright/engine/quantity"
)

// measuredAt is a measurement of a slot at a stage.
type measuredAt struct {
	stage   int
	measure *Measure
}

func (b *Bound) measuredAt() map[int][]measuredAt {
	out := map[int][]measuredAt{}
	for i := range b.Stages {
		st := &b.Stages[i]
		for k := range st.Measures {
			m := &st.Measures[k]
			out[m.Slot] = append(out[m.Slot], measuredAt{i, m})
		}
	}
	return out
}

// heldRange is what the value of a slot can be when a rule is judged.
type heldRange struct {
	RuleRange
	in    formula.Interval
	known bool
}

// heldAt is what a piece can hold in a slot when the rules of a stage are
// judged: what is plausible and, of each visit the reading may be from, what
// its target lets go on.
func (c *ruleCheck) heldAt(stage, slot int) heldRange {
	s := &c.Slots[slot]
	h := heldRange{RuleRange: RuleRange{Name: s.Name}}
	if s.Setting {
		for _, set := range c.Settings {
			if set.Slot == slot {
				v := set.Value.Value.Float()
				h.in, h.known, h.Lies, h.Why = formula.Interval{Low: v, High: v}, true, set.Value.String(), "a setting"
			}
		}
		return h
	}
	if s.Dimension.Formula != "" {
		return h // too deep in others to be worked out
	}
	t, why := plausibleOf(s), "plausible"
	if from := c.visits(stage, slot); len(from) > 0 {
		t, why = c.letOn(from, stage, t)
	}
	if !t.Low.Set && !t.High.Set {
		return h
	}
	h.known, h.Lies, h.Why = true, t.Limits(), why
	h.in = formula.Everything()
	if t.Low.Set {
		h.in.Low = quantity.Value{Kind: t.Kind, Q: t.Low.Q}.Float()
	}
	if t.High.Set {
		h.in.High = quantity.Value{Kind: t.Kind, Q: t.High.Q}.Float()
	}
	return h
}

func plausibleOf(s *Slot) quantity.Tolerance {
	d := s.Dimension
	if p := d.Plausible; p.Kind == d.Kind {
		return p
	}
	return quantity.Tolerance{Kind: d.Kind, Unit: d.Unit}
}

// visits are the measurements the value may be from: that of the stage where
// every piece has one, else any, for a piece may have come back or begun
// anywhere. None for a remedy.
func (c *ruleCheck) visits(stage, slot int) []measuredAt {
	if stage < 0 {
		return nil
	}
	for _, m := range c.measured[slot] {
		if m.stage == stage && m.measure.Each == (Each{}) {
			return []measuredAt{m}
		}
	}
	return c.measured[slot]
}

// letOn joins what the targets of several visits let go on.
func (c *ruleCheck) letOn(from []measuredAt, stage int, plausible quantity.Tolerance) (quantity.Tolerance, string) {
	var out quantity.Tolerance
	why := "its target"
	if len(from) > 1 {
		why = "its targets"
	} else if from[0].stage != stage {
		why += " at " + c.Stages[from[0].stage].Name
	}
	for i, m := range from {
		t, used := narrowed(plausible, m.measure.Target)
		if !used {
			return plausible, "plausible"
		}
		if i == 0 {
			out = t
			continue
		}
		out.Low.Set, out.High.Set = out.Low.Set && t.Low.Set, out.High.Set && t.High.Set
		out.Low.Q, out.High.Q = min(out.Low.Q, t.Low.Q), max(out.High.Q, t.High.Q)
	}
	return out, why
}

// narrowed is the plausible range without what the target sends elsewhere.
func narrowed(plausible quantity.Tolerance, t *Target) (out quantity.Tolerance, used bool) {
	out = plausible
	if t == nil {
		return out, false
	}
	low, high := t.Tolerance.Low, t.Tolerance.High
	low.Set = low.Set && !goesOn(t.Below)
	high.Set = high.Set && !goesOn(t.Above)
	if !low.Set && !high.Set {
		return out, false
	}
	out.Unit, out.Step = t.Tolerance.Unit, t.Tolerance.Step
	if low.Set && (!out.Low.Set || low.Q > out.Low.Q) {
		out.Low, used = low, true
	}
	if high.Set && (!out.High.Set || high.Q < out.High.Q) {
		out.High, used = high, true
	}
	if out.Low.Set && out.High.Set && out.Low.Q > out.High.Q { // the maker knows better what is plausible
		out.Low, out.High = low, high
	}
	return out, used
}

// goesOn: may a piece go on after this, be it at last?
func goesOn(o Outcome) bool {
	return o.How == GoingOn || o.Then != nil && goesOn(*o.Then)
}

// beyond are the values on one side of a tolerance. What is worked out is
// rounded to a quantum before it is judged, so the next one is where they begin.
func beyond(t quantity.Tolerance, above bool) (formula.Interval, bool) {
	in := formula.Everything()
	if above {
		in.Low = quantity.Value{Kind: t.Kind, Q: t.High.Q + 1}.Float()
		return in, t.High.Set
	}
	in.High = quantity.Value{Kind: t.Kind, Q: t.Low.Q - 1}.Float()
	return in, t.Low.Set
}
