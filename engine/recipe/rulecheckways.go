package recipe

import (
	"fmt"
	"math"
	"strings"

	"canewright/engine/diagnostic"
	"canewright/engine/formula"
	"canewright/engine/quantity"
)

// way is a rule of a stage, or one side of a target on what is worked out,
// that sends a piece back: these are judged together, and of two that fail
// neither is graver.
type way struct {
	what  string // "rule", "target"
	to    int
	place diagnostic.Span
	claim formula.Claim // true where it fails
}

// ways warns of two that can fail together and send a piece back to different
// stages. The bench follows the first.
func (c *ruleCheck) ways(stage int) {
	all := waysOf(&c.Stages[stage])
	for i, second := range all {
		for _, first := range all[:i] {
			if first.to == second.to || first.place == second.place {
				continue
			}
			if c.pairs--; c.pairs < 0 {
				return
			}
			at, ok := formula.Example(func(slot int) (formula.Interval, bool) {
				h := c.heldAt(stage, slot)
				return h.in, h.known
			}, c.read, first.claim, second.claim)
			if !ok {
				continue
			}
			c.list.Add(diagnostic.Diagnostic{
				Code: "recipe/two-ways", Severity: diagnostic.Warning, Span: second.place,
				Message: fmt.Sprintf("this %s sends a piece back to %q where the %s in line %d sends it back to %q%s",
					second.what, clip(c.Stages[second.to].Name), first.what, first.place.From.Line, clip(c.Stages[first.to].Name), c.withValues(at)),
				Hint:    "the first one wins; say of one of them set aside, or send both to the same stage",
				Related: []diagnostic.Related{{Message: "the first one", Span: first.place}},
			})
		}
	}
}

// read rounds a value to whole quanta, as readings are.
func (c *ruleCheck) read(slot int, v float64) float64 {
	if c.Slots[slot].Setting {
		return v
	}
	return c.quanta(slot, v).Float()
}

func (c *ruleCheck) quanta(slot int, v float64) quantity.Value {
	k := c.Slots[slot].Dimension.Kind
	return quantity.Value{Kind: k, Q: int64(math.Round(v / k.Scale()))}
}

func waysOf(st *Stage) []way {
	var out []way
	for _, d := range st.Derived {
		for _, side := range []struct {
			o     Outcome
			above bool
		}{{d.Target.Above, true}, {d.Target.Below, false}} {
			in, ok := beyond(d.Target.Tolerance, side.above)
			if ok && side.o.How == BackTo {
				out = append(out, way{"target", side.o.To, d.Target.raw.name.Whole, formula.Claim{Formula: d.Worked, Value: in}})
			}
		}
	}
	for _, r := range st.Rules {
		if r.Otherwise.How == BackTo {
			out = append(out, way{"rule", r.Otherwise.To, r.place, r.Worked.No()})
		}
	}
	return out
}

// withValues shows an example, in the units of the dimensions.
func (c *ruleCheck) withValues(at map[int]float64) string {
	var parts []string
	for _, slot := range sortedSlots(at) {
		s := &c.Slots[slot]
		if s.Setting || len(parts) == mostRanges {
			continue
		}
		parts = append(parts, s.Name+" "+quantity.Format(c.quanta(slot, at[slot]), s.Dimension.Unit, 0))
	}
	if len(parts) == 0 {
		return ""
	}
	return ", as with " + strings.Join(parts, ", ")
}
