package recipe

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"canewright/engine/diagnostic"
	"canewright/engine/dimension"
	"canewright/engine/gauging"
	"canewright/engine/quantity"
	"canewright/engine/tool"
)

// Swells reports what of cane changes when it gets wet, and is read in either
// condition: a size across the grain, a mass, a force. Lengths along the grain
// hardly change.
func Swells(d *dimension.Dimension) bool {
	if d.Condition == dimension.Wet || d.Condition == dimension.Dry || d.Subject == "batch" {
		return false
	}
	switch d.Kind {
	case quantity.Length:
		return d.Across
	case quantity.Mass, quantity.Force, quantity.Stiffness:
		return true
	}
	return false
}

// conditions reports, once, readings that are taken before the recipe ever
// said whether the cane is wet or dry.
func (c *paperCheck) conditions() {
	var names []string
	var first diagnostic.Span
	for i := range c.Stages {
		st := &c.Stages[i]
		for k := range st.Measures {
			m := &st.Measures[k]
			if d := c.Slots[m.Slot].Dimension; st.Condition == "" && Swells(d) && !slices.Contains(names, d.Name) {
				if names = append(names, d.Name); len(names) == 1 {
					first = m.place
				}
			}
		}
		if st.Becomes != "" {
			break
		}
	}
	if len(names) == 0 {
		return
	}
	what := names[0] + " is"
	if n := len(names) - 1; n > 0 {
		what = fmt.Sprintf("%s and %d more are", names[0], n)
	}
	c.remark("recipe/no-condition", first, "write condition: wet or condition: dry at the stage; cane reads thicker and heavier wet, and readings of both cannot be compared",
		what+" read before the recipe says whether the cane is wet or dry")
}

// gauges reports targets that are finer than the tool they are read with can
// tell: not even a reading in the middle would be sure.
func (c *paperCheck) gauges() {
	type read struct {
		target *Target
		tool   string
	}
	seen := map[read]bool{}
	for i := range c.Stages {
		for k := range c.Stages[i].Measures {
			m := &c.Stages[i].Measures[k]
			if m.Target == nil || m.Tool.Name == "" || seen[read{m.Target, m.Tool.Name}] {
				continue
			}
			seen[read{m.Target, m.Tool.Name}] = true
			if c.full() {
				return
			}
			c.gauge(m)
		}
	}
}

func (c *paperCheck) gauge(m *Measure) {
	t := m.Target.Tolerance
	if !t.Low.Set || !t.High.Set || t.High.Q == t.Low.Q {
		return
	}
	mid := quantity.Entered{Unit: t.Unit, Step: t.Step, Value: quantity.Value{Kind: t.Kind, Q: t.Low.Q + (t.High.Q-t.Low.Q)/2}}
	e := gauging.Of([]quantity.Entered{mid}, m.Tool, nil)
	v := gauging.Judge(e, t, c.Sure.Pass)
	if v.Sure || e.U == 0 {
		return
	}
	k := t.Kind.Difference()
	hint := fmt.Sprintf("with this tool ± %s is the least that can be told", up(k, leastHalf(e.U, c.Sure.Pass)))
	if other := c.finer(mid, t, m.Tool.Name); other != "" {
		hint += "; or read it with: " + other
	}
	at := targetPlace(m.Target)
	c.warn("recipe/too-fine", at, hint, fmt.Sprintf("%s cannot tell this: in the middle of it a reading is right with %.0f %%, and %.0f %% are asked for (its u is %s)",
		toolShown(m.Tool.Name), math.Floor(100*v.SideProbability), 100*c.Sure.Pass, up(k, e.U)))
}

// leastHalf is half of a band in whose middle a reading is just sure.
func leastHalf(u, sure float64) float64 { return math.Sqrt2 * math.Erfinv(sure) * u }

// Finest is the smallest tolerance (plus and minus so much) that one reading
// with this tool can be sure of, in quanta, two digits rounded up; 0 where the
// tool's step is not known.
func Finest(k quantity.Kind, t tool.Tool, sure float64) int64 {
	if t.Step.Q == 0 || t.Step.Kind != k.Difference() {
		return 0
	}
	e := gauging.Of([]quantity.Entered{{Value: quantity.Value{Kind: k}}}, t, nil)
	return twoDigits(leastHalf(e.U, sure))
}

func twoDigits(q float64) int64 {
	n, step := int64(math.Ceil(q)), int64(1)
	for n/step >= 100 {
		step *= 10
	}
	return (n + step - 1) / step * step
}

func toolShown(name string) string {
	if strings.ContainsRune("aeiou", []rune(name + " ")[0]) {
		return "an " + clip(name)
	}
	return "a " + clip(name)
}

// up shows quanta in the kind's main unit, the third digit rounded up: a band
// that is said to do must do.
func up(k quantity.Kind, q float64) string {
	return quantity.Format(quantity.Value{Kind: k, Q: twoDigits(q)}, quantity.Main(k), 0)
}

// finer is a tool that could tell.
func (c *paperCheck) finer(mid quantity.Entered, t quantity.Tolerance, than string) string {
	if c.tools == nil {
		return ""
	}
	for _, x := range c.tools.Tools() {
		if x.Name == than || x.Step.Q == 0 || x.Step.Kind != t.Kind.Difference() {
			continue
		}
		if gauging.Judge(gauging.Of([]quantity.Entered{mid}, x, nil), t, c.Sure.Pass).Sure {
			return x.Name
		}
	}
	return ""
}

// unmeasured reports what is asked of a dimension that no stage measures, so
// that nobody will ever know: a rule, a target, the player's own remedy.
func (c *paperCheck) unmeasured() {
	used := map[int]bool{} // by a formula
	said := map[diagnostic.Span]bool{}
	missing := func(needs []int) []int {
		var out []int
		for _, n := range needs {
			if used[n] = true; !c.Slots[n].Setting && len(c.measured[n]) == 0 && c.Slots[n].Cell == nil {
				out = append(out, n)
			}
		}
		return out
	}
	say := func(at diagnostic.Span, what string, slots []int) {
		if len(slots) == 0 || at.Source == nil || said[at] || c.full() {
			return
		}
		said[at] = true
		first := c.Slots[slots[0]].Name
		c.remark("recipe/never-measured", at, "write measure: ["+first+"] at a stage; at the bench it can be typed too: measure "+first+" and the reading",
			fmt.Sprintf("no stage measures %s, so %s waits for a reading that nobody asks for", strings.Join(c.namesOf(slots), ", "), what))
	}
	for i := range c.Stages {
		for k := range c.Stages[i].Rules {
			r := &c.Stages[i].Rules[k]
			say(r.place, "this rule", missing(r.Worked.Needs()))
		}
	}
	for i := range c.Bound.Remedies {
		r := &c.Bound.Remedies[i]
		for k, f := range r.Conditions {
			if r.Own {
				say(r.places[k], "this", missing(c.unfold(f).Needs()))
			}
		}
	}
	for _, d := range c.Bound.Derived {
		for _, n := range c.unfold(d.Formula).Needs() {
			used[n] = used[n] || used[d.Slot]
		}
	}
	for _, s := range c.Aims {
		if c.named[s.Slot] || used[s.Slot] || c.full() {
			continue
		}
		d := c.Slots[s.Slot].Dimension
		var lacks []int
		if d.Formula == "" {
			lacks = missing([]int{s.Slot})
			delete(used, s.Slot)
		} else {
			for _, w := range c.Bound.Derived {
				if w.Slot == s.Slot {
					lacks = missing(c.unfold(w.Formula).Needs())
				}
			}
		}
		say(s.Target.raw.name.Whole, "this target", lacks)
	}
}
