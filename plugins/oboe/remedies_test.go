package oboe_test

import (
	"strings"
	"testing"

	"canewright/plugins/oboe"
	"canewright/plugins/sdk"
)

// A remedy's name is what a player's own remedy wins by, and what the logbook
// keeps.
func TestRemediesAreWhole(t *testing.T) {
	t.Parallel()
	in := oboe.Plugin()
	if len(in.Remedies) < 20 {
		t.Errorf("only %d remedies", len(in.Remedies))
	}
	covered, notReed := map[string]bool{}, 0
	for _, r := range in.Remedies {
		for _, s := range r.Symptoms {
			covered[s] = true
		}
		if r.NotReed {
			notReed++
		}
		if len(r.Sources) == 0 {
			t.Errorf("%q has no source", r.Name)
		}
		for _, s := range r.Sources {
			if s.Says == "" || s.Grade == "" || (s.Grade == sdk.Published) != (s.Who != "") {
				t.Errorf("%q: %+v: a published source says who, the others have nobody to name", r.Name, s)
			}
			if address.MatchString(s.Who) || address.MatchString(s.Says) {
				t.Errorf("%q: %q gives an address", r.Name, s.Who)
			}
		}
		if n := len(strings.Fields(r.Do)); n > 30 {
			t.Errorf("%q: %d words to do", r.Name, n)
		}
		takes := r.Touches == sdk.TouchesKnife || r.Touches == sdk.TouchesLength || r.Touches == sdk.TouchesEdge
		if takes && (!strings.HasPrefix(r.Do, "Measure ") || len(r.TakesOff) == 0 || len(r.Measure) == 0) {
			t.Errorf("%q takes cane before anything is measured", r.Name)
		}
	}
	for _, s := range in.Symptoms {
		if !covered[s.Name] {
			t.Errorf("nothing helps against %q", s.Words)
		}
	}
	if notReed < 3 {
		t.Errorf("only %d remedies look beyond the reed", notReed)
	}
}
