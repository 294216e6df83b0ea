package cli

import (
	"strings"

	"canewright/engine/diagnostic"
	"canewright/engine/recipe"
)

// provedRule is what is known of a rule before anything is measured.
type provedRule struct {
	Line   int      `json:"line,omitempty"`
	Stage  string   `json:"stage,omitempty"`
	Remedy string   `json:"remedy,omitempty"`
	That   string   `json:"that"`
	Proof  string   `json:"proof"` // "always true", "never true", "not proved"
	Ranges []string `json:"ranges"`
}

// provedRules are those written in the recipe.
func provedRules(proofs []recipe.RuleProof) []provedRule {
	out := []provedRule{}
	for _, p := range proofs {
		if p.Place.Source == nil {
			continue
		}
		r := provedRule{Line: p.Place.From.Line, Stage: p.Stage, Remedy: p.Remedy, That: p.That, Proof: p.Proof.String(), Ranges: []string{}}
		for _, x := range p.Ranges {
			r.Ranges = append(r.Ranges, x.String())
		}
		out = append(out, r)
	}
	return out
}

func (c *commander) printRules(rules []provedRule) {
	for _, r := range rules {
		c.printf("  line %d: %s: %s\n", r.Line, r.Proof, diagnostic.Clean(r.That))
		if len(r.Ranges) > 0 {
			c.printf("    with %s\n", diagnostic.Clean(strings.Join(r.Ranges, ", ")))
		}
	}
}
