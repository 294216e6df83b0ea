package recipe

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"canewright/engine/diagnostic"
	"canewright/engine/formula"
)

// RuleProof is what can be proved of a rule, or of a formula that calls up one
// of the player's remedies, before anything is measured.
type RuleProof struct {
	Stage  string // where it stands; "" for a remedy
	Remedy string
	That   string
	Proof  formula.Proof
	Ranges []RuleRange // what is taken for granted
	Place  diagnostic.Span
	hint   string
	always bool // it says nothing that it is always true
}

// RuleRange is what the value of a name is taken to lie in.
type RuleRange struct {
	Name string // "wire.first"
	Lies string // "26 to 28 mm"; "" where nothing is known of it
	Why  string // "plausible", "its target", "its target at gouge", "a setting"
}

func (r RuleRange) String() string {
	if r.Lies == "" {
		return r.Name + " anything"
	}
	return r.Name + " " + r.Lies + " (" + r.Why + ")"
}

// What a check of the rules may cost: a recipe with more of them has the first
// ones looked at.
const (
	mostProofs = 1000
	mostPairs  = 200 // of ways to different stages
	mostRanges = 4   // shown in a message
)

// CheckRules looks for rules that cannot hold or cannot fail, and for two that
// send one piece two ways. It is no part of Bind: only a check of the file
// needs it. The findings are warnings.
func (b *Bound) CheckRules() ([]RuleProof, diagnostic.List) {
	c := &ruleCheck{Bound: b, measured: b.measuredAt(), pairs: mostPairs}
	for i := range b.Stages {
		c.rules(i)
		c.ways(i)
	}
	c.remedies()
	for _, p := range c.proofs {
		c.report(p)
	}
	return c.proofs, c.list
}

type ruleCheck struct {
	*Bound
	measured map[int][]measuredAt // by slot
	proofs   []RuleProof
	at       map[diagnostic.Span]int // proof of a place, for rules that are repeated
	done     int                     // formulas looked at
	pairs    int                     // left to be looked at
	list     diagnostic.List
}

func (c *ruleCheck) rules(stage int) {
	st := &c.Stages[stage]
	for i := range st.Rules {
		r := &st.Rules[i]
		p := RuleProof{Stage: st.Name, That: r.That.Text(), Place: r.place, hint: c.advice(r.Otherwise)}
		if !c.prove(&p, r.Worked, stage) {
			return
		}
		c.repeated(p)
	}
}

// repeated joins a rule with its earlier visits. At one visit where it cannot
// hold it stops every piece; one that fails at some visit is of use.
func (c *ruleCheck) repeated(p RuleProof) {
	if c.at == nil {
		c.at = map[diagnostic.Span]int{}
	}
	i, again := c.at[p.Place]
	if !again {
		c.at[p.Place] = len(c.proofs)
		c.proofs = append(c.proofs, p)
		return
	}
	old := &c.proofs[i]
	switch {
	case p.Proof == old.Proof, old.Proof == formula.Never:
	case p.Proof == formula.Never, old.Proof == formula.Always:
		*old = p
	}
}

// remedies: a formula that never holds never calls its remedy up. Readings of
// any stage may be there, so no target is taken for granted.
func (c *ruleCheck) remedies() {
	for i := range c.Bound.Remedies {
		r := &c.Bound.Remedies[i]
		for k, f := range r.Conditions {
			p := RuleProof{Remedy: r.Name, That: f.Text(), hint: "change it, or leave it out; as it stands it speaks against the remedy whatever is measured"}
			if r.Own {
				p.Place = r.places[k]
			}
			if !c.prove(&p, c.unfold(f), -1) {
				return
			}
			c.proofs = append(c.proofs, p)
		}
	}
}

// prove is false when enough was looked at. A stage below 0 is none.
func (c *ruleCheck) prove(p *RuleProof, f *formula.Formula, stage int) bool {
	if c.done++; c.done > mostProofs {
		return false
	}
	ranges := map[int]heldRange{}
	settings := true
	for _, slot := range f.Needs() {
		h := c.heldAt(stage, slot)
		ranges[slot] = h
		p.Ranges = append(p.Ranges, h.RuleRange)
		settings = settings && c.Slots[slot].Setting
	}
	p.Proof = f.Prove(func(slot int) (formula.Interval, bool) { return ranges[slot].in, ranges[slot].known })
	// What a player wrote about the settings alone is there for the day they
	// are changed.
	p.always = settings && len(p.Ranges) > 0
	return true
}

func (c *ruleCheck) report(p RuleProof) {
	d := diagnostic.Diagnostic{Severity: diagnostic.Warning, Span: p.Place, Hint: p.hint}
	what := "this rule"
	if p.Remedy != "" {
		what = "this formula"
	}
	switch {
	case p.Place.Source == nil: // of a remedy that is not the player's own
		return
	case p.Proof == formula.Never:
		d.Code, d.Message = "recipe/never-true", what+" can never hold"
	case p.Proof == formula.Always && p.Remedy == "" && !p.always:
		d.Code, d.Message = "recipe/never-false", what+" can never fail"
		d.Hint = "write a narrower limit, or leave the rule out"
	default:
		return
	}
	if t := Taken(p.Ranges); t != "" {
		d.Message += " with " + t
	}
	c.list.Add(d)
}

// Taken says what was taken for granted, the first few of it.
func Taken(ranges []RuleRange) string {
	var parts []string
	for i, r := range ranges {
		if i == mostRanges {
			parts = append(parts, fmt.Sprintf("and %d more", len(ranges)-i))
			break
		}
		parts = append(parts, r.String())
	}
	return strings.Join(parts, ", ")
}

// advice says what a rule does that never holds.
func (c *ruleCheck) advice(o Outcome) string {
	h := "change its limit, or the target; as it stands "
	switch o.How {
	case BackTo:
		return h + "every piece goes back to " + c.Stages[o.To].Name
	case SetAside, ThrownAway:
		return h + "every piece is " + string(o.How)
	case OnceMore:
		return h + "every piece does this stage once more, without end"
	case Resting:
		return h + "every piece goes to rest"
	}
	return h + "it is said of every piece"
}

// sortedSlots are the slots of an example in order.
func sortedSlots(at map[int]float64) []int {
	var out []int
	for s := range at {
		out = append(out, s)
	}
	slices.SortFunc(out, cmp.Compare)
	return out
}
