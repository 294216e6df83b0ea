package bassoon_test

import (
	"testing"

	"canewright/plugins/bassoon"
	"canewright/plugins/citation"
	"canewright/plugins/sdk"
)

// A remedy's name is what a player's own remedy wins by, and what the logbook
// keeps.
func TestRemediesAreWhole(t *testing.T) {
	t.Parallel()
	in := bassoon.Plugin()
	if len(in.Remedies) < 30 {
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

// Two sources press the second wire from top and bottom and see the tip go
// opposite ways: both are kept.
func TestTheSecondWireContradictsItself(t *testing.T) {
	t.Parallel()
	who := map[sdk.Way][]string{}
	for _, r := range bassoon.Plugin().Remedies {
		if r.Wire != "second" || r.Axis != "top and bottom" {
			continue
		}
		for _, e := range r.Expect {
			if e.Dimension == "tip.opening" {
				who[e.Way] = append(who[e.Way], r.Sources[0].Who)
			}
		}
	}
	if len(who[sdk.More]) == 0 || len(who[sdk.Less]) == 0 || who[sdk.More][0] == who[sdk.Less][0] {
		t.Errorf("it opens for %q and closes for %q", who[sdk.More], who[sdk.Less])
	}
}
