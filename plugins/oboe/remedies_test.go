package oboe_test

import (
	"testing"

	"canewright/plugins/citation"
	"canewright/plugins/oboe"
)

// A remedy's name is what a player's own remedy wins by, and what the logbook
// keeps.
func TestRemediesAreWhole(t *testing.T) {
	t.Parallel()
	in := oboe.Plugin()
	if len(in.Remedies) < 20 {
		t.Errorf("only %d remedies", len(in.Remedies))
	}
	citation.Remedies(t, in)
	notReed := 0
	for _, r := range in.Remedies {
		if r.NotReed {
			notReed++
		}
	}
	if notReed < 3 {
		t.Errorf("only %d remedies look beyond the reed", notReed)
	}
}
