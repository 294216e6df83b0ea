package comparison

import (
	"slices"

	"canewright/engine/formula"
	"canewright/engine/quantity"
	"canewright/engine/recipe"
)

// Clash is a rule of A and one of B that are proved never to hold at one time,
// whatever plausible values a piece has. A rule that both recipes have clashes
// with neither: what it clashes with, its own recipe holds too.
type Clash struct {
	A         Ruled    `json:"a"`
	B         Ruled    `json:"b"`
	SameStage bool     `json:"same_stage"` // of stages that belong together
	Given     []string `json:"given"`      // what was taken for granted; none: nothing
}

// Ruled is a rule where it stands.
type Ruled struct {
	That  string `json:"that"`
	Stage string `json:"stage"`
	Line  int    `json:"line"`
}

// Refusal is a rule of one recipe and the targets of the other: Never where no
// values within them pass it, else the middles of them do not.
type Refusal struct {
	Rule  Ruled    `json:"rule"`
	Of    string   `json:"rule_of"`    // "A" or "B"
	Never bool     `json:"never"`      // else only the middles fail
	With  []string `json:"the_others"` // the other's targets, and what else was taken for granted
}

// What looking at rules may cost.
const (
	mostRules   = 400 // of each recipe
	mostClashes = 4_000
)

// rule is one of a side's rules, with its slots as those of A; those that only B
// has follow.
type rule struct {
	*recipe.Rule
	stage int
	at    Ruled
	in    *formula.Formula
}

func (s *side) rules(to func(int) int) []rule {
	var out []rule
	seen := map[Ruled]bool{}
	for i := range s.b.Stages {
		for k := range s.b.Stages[i].Rules {
			r := &s.b.Stages[i].Rules[k]
			at := Ruled{r.That.Text(), s.b.Stages[i].Name, r.Place().From.Line}
			once := at
			once.Stage = "" // a rule that is repeated is looked at once
			if seen[once] || len(out) >= mostRules {
				continue
			}
			seen[once] = true
			out = append(out, rule{r, i, at, r.Worked.Renumber(to)})
		}
	}
	return out
}

func (c *Comparison) rules() {
	toA := c.joint()
	same := func(i int) int { return i }
	a, b := c.a.rules(same), c.b.rules(toA)
	plausible := func(slot int) (formula.Interval, bool) {
		if slot >= len(c.a.b.Slots) {
			return c.b.plausible(slot - len(c.a.b.Slots))
		}
		return c.a.plausible(slot)
	}
	never := func(all []rule) []bool {
		out := make([]bool, len(all))
		for i := range all {
			out[i] = all[i].in.Prove(plausible) == formula.Never
		}
		return out
	}
	passA, passB := never(a), never(b)
	has := func(all []rule, that string) bool {
		return slices.ContainsFunc(all, func(r rule) bool { return r.at.That == that })
	}
	for i := range a { // as if it never held: it is in both
		passA[i] = passA[i] || has(b, a[i].at.That)
	}
	for k := range b {
		passB[k] = passB[k] || has(a, b[k].at.That)
	}
	looked := 0
	for i := range a {
		for k := range b {
			if passA[i] || passB[k] || !share(a[i].in.Needs(), b[k].in.Needs()) {
				continue
			}
			if looked++; looked > mostClashes {
				c.Remarks = append(c.Remarks, "there are so many rules that not all were held against each other")
				break
			}
			if !formula.NeverAll(plausible, a[i].in, b[k].in) {
				continue
			}
			x := Clash{A: a[i].at, B: b[k].at, SameStage: c.stages.ofA[a[i].stage] == b[k].stage, Given: []string{}}
			if !formula.NeverAll(func(slot int) (formula.Interval, bool) { return c.setting(slot) }, a[i].in, b[k].in) {
				x.Given = c.taken(a[i].in, b[k].in)
			}
			c.Clashes = append(c.Clashes, x)
		}
	}
	c.refusals("A", c.a, c.b, c.a.rules(same), c.stages.ofA)
	c.refusals("B", c.b, c.a, c.b.rules(same), c.stages.ofB)
}

// joint gives B's slots numbers beside A's: those of the same thing have A's.
func (c *Comparison) joint() func(int) int {
	mine := map[string]int{}
	for i := range c.a.b.Slots {
		mine[whole(&c.a.b.Slots[i])] = i
	}
	return func(slot int) int {
		s := &c.b.b.Slots[slot]
		if i, ok := mine[whole(s)]; ok && !s.Setting && unlike(c.a.b.Slots[i].Dimension, s.Dimension) == "" {
			return i
		}
		return len(c.a.b.Slots) + slot
	}
}

// whole is the key of a slot with its blade.
func whole(s *recipe.Slot) string {
	if s.Cell != nil {
		return keyOf(s) + "\x00" + s.Cell.Blade
	}
	return keyOf(s)
}

func share(a, b []int) bool {
	for _, x := range a {
		if contains(b, x) {
			return true
		}
	}
	return false
}

func interval(t quantity.Tolerance) (formula.Interval, bool) {
	return spanned(t.Kind, t.Low, t.High)
}

func spanned(k quantity.Kind, low, high quantity.Bound) (formula.Interval, bool) {
	v := formula.Everything()
	if low.Set {
		v.Low = quantity.Value{Kind: k, Q: low.Q}.Float()
	}
	if high.Set {
		v.High = quantity.Value{Kind: k, Q: high.Q}.Float()
	}
	return v, low.Set || high.Set
}

// plausible values of a slot; of a setting its own.
func (s *side) plausible(slot int) (formula.Interval, bool) {
	if v, ok := s.setting(slot); ok {
		return v, true
	}
	if d := s.b.Slots[slot].Dimension; d != nil && d.Plausible.Kind == d.Kind {
		return interval(d.Plausible)
	}
	return formula.Interval{}, false
}

func (s *side) setting(slot int) (formula.Interval, bool) {
	for _, x := range s.b.Settings {
		if x.Slot == slot {
			v := x.Value.Value.Float()
			return formula.Interval{Low: v, High: v}, true
		}
	}
	return formula.Interval{}, false
}

// setting of a joint slot.
func (c *Comparison) setting(slot int) (formula.Interval, bool) {
	if n := len(c.a.b.Slots); slot >= n {
		return c.b.setting(slot - n)
	}
	return c.a.setting(slot)
}

// taken says what two rules take for granted: plausible ranges and settings.
func (c *Comparison) taken(all ...*formula.Formula) []string {
	out := []string{}
	seen := map[int]bool{}
	for _, f := range all {
		for _, slot := range f.Needs() {
			if seen[slot] {
				continue
			}
			seen[slot] = true
			s, i := c.a, slot
			if n := len(c.a.b.Slots); slot >= n {
				s, i = c.b, slot-n
			}
			if text := s.given(i); text != "" {
				out = append(out, text)
			}
		}
	}
	return out
}

func (s *side) given(slot int) string {
	x := &s.b.Slots[slot]
	if x.Setting {
		for _, set := range s.b.Settings {
			if set.Slot == slot {
				return x.Name + " " + set.Value.String() + " (a setting)"
			}
		}
		return ""
	}
	if d := x.Dimension; d.Plausible.Kind == d.Kind && (d.Plausible.Low.Set || d.Plausible.High.Set) {
		return x.Name + " " + d.Plausible.Limits() + " (plausible)"
	}
	return ""
}

// refusals of the other's targets by a side's rules. The targets are those in
// force at the stage that belongs to the rule's; without one, the last.
func (c *Comparison) refusals(who string, mine, other *side, all []rule, partner []int) {
	for _, r := range all {
		targets := map[int]*said{}
		for _, slot := range r.in.Needs() {
			key := mine.keys[slot]
			x := other.lastSaid(key)
			if p := partner[r.stage]; p >= 0 {
				if now := other.inForce(key, p); now != nil {
					x = now
				}
			}
			if x != nil && unlike(mine.b.Slots[slot].Dimension, other.b.Slots[x.slot].Dimension) == "" {
				targets[slot] = x
			}
		}
		if len(targets) == 0 {
			continue
		}
		plausible := r.in.Prove(mine.plausible)
		if plausible != formula.Unproved {
			continue // that is no matter of the other's targets
		}
		out := Refusal{Rule: r.at, Of: who}
		full := true
		values := make([]float64, len(mine.b.Slots))
		for _, slot := range r.in.Needs() {
			if x := targets[slot]; x != nil {
				out.With = append(out.With, mine.b.Slots[slot].Name+" "+x.target.Tolerance.Text)
				values[slot] = quantity.Value{Kind: x.band.kind, Q: x.band.middle.Q}.Float()
				full = full && x.band.low.Set && x.band.high.Set // a single limit has no middle
				continue
			}
			if v, ok := mine.setting(slot); ok {
				values[slot] = v.Low
			} else {
				full = false
			}
			if text := mine.given(slot); text != "" {
				out.With = append(out.With, text)
			}
		}
		proof := r.in.Prove(func(slot int) (formula.Interval, bool) {
			if x := targets[slot]; x != nil {
				return spanned(x.band.kind, x.band.low, x.band.high)
			}
			return mine.plausible(slot)
		})
		if proof == formula.Never {
			out.Never = true
			c.Refusals = append(c.Refusals, out)
			continue
		}
		if proof == formula.Always || !full {
			continue
		}
		if holds, err := r.in.Holds(values); err == nil && !holds {
			c.Refusals = append(c.Refusals, out)
		}
	}
}
