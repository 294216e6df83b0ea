package bassoon_test

import (
	"strings"
	"testing"

	"canewright/plugins/bassoon"
	"canewright/plugins/citation"
	"canewright/plugins/sdk"
)

func TestThePluginAnswers(t *testing.T) {
	t.Parallel()
	seen := sdk.Try(t, bassoon.Plugin())
	if len(seen.Sets) != 1 || seen.Sets[0].GetId() != "bassoon" || seen.Sets[0].GetMajor() != 1 {
		t.Fatalf("it holds %v", seen.List)
	}
	if got, want := len(seen.Sets[0].GetDimensions()), len(bassoon.Plugin().Dimensions); got != want {
		t.Errorf("%d dimensions arrive of %d", got, want)
	}
}

// Recipes are written in these names; a name that goes needs a new major
// version.
func TestTheNamesRecipesUse(t *testing.T) {
	t.Parallel()
	have := citation.ByName(t, bassoon.Plugin())
	for _, name := range strings.Fields(`
		tube.narrowest tube.widest tube.ovality cane.length gouge.centre gouge.side shape.fold shape.first_wire
		score.lines bevel.length mandrel.line fold.to_butt wire.first wire.second wire.third wire.gauge wire.turns wire.gap
		collar.above_first_wire overall tip.above_first_wire blade.length reed.on_bocal butt.bore
		tip.opening tip.thickness tip.width blade.thickness crow.pitch room.humidity room.temperature
		soak.time rest.time reed.score
		tube.marked_end.narrowest tube.marked_end.widest tube.other_end.narrowest tube.other_end.widest
		tube.marked_end.ovality tube.other_end.ovality tube.taper tube.wall tube.internode tube.length tube.age
		split.pieces quarter.width quarter.arc cane.hollow cane.mass paper.grit
		gouge.side_at gouge.first_end gouge.second_end gouge.end_difference gouge.inside_taper gouge.eccentricity gouge.channel
		hardness.first_end hardness.second_end hardness.mean hardness.spread float.depth float.share sink.time sink.order
		shape.butt profile.collar profile.left_high profiler.pieces collar.depth
		score.spacing score.length bevel.strokes fold.at mandrel.taper soak.cycles soak.conditioning cement.time
		wire.lower_gap wire.fourth wire.end thread.size thread.turns seal.inside
		reed.tube ream.turns tip.corner crow.with_bocal play.low_f play.high_f play.open_g play.forked_e_flat`) {
		if _, ok := have[name]; !ok {
			t.Errorf("%s is missing", name)
		}
	}
}

// Every value a source gives must be plausible, from both sides where sources
// disagree.
func TestPlausibleRangesHoldWhatIsPublished(t *testing.T) {
	t.Parallel()
	citation.Inside(t, bassoon.Plugin(), cited())
}

// A reading in the wrong unit is what a plausible range is there to catch: an
// inch or a thou read as a millimetre, a micrometre as a millimetre.
func TestAReadingInTheWrongUnitIsNotPlausible(t *testing.T) {
	t.Parallel()
	citation.Outside(t, bassoon.Plugin(), []citation.Slip{
		{"blade.thickness", "31.4"}, // thou
		{"gouge.centre", "50"},      // thou
		{"gouge.centre", "1250"},    // µm
		{"gouge.centre", "0.05"},    // in
		{"wire.first", "1.0625"},    // in
		{"overall", "2.2"},          // in
		{"tube.narrowest", "1"},     // in
		{"tube.wall", "0.2"},        // in
		{"tube.internode", "10"},    // in
		{"profile.collar", "31.4"},  // thou
		{"collar.depth", "20"},      // thou
		{"bevel.length", "0.375"},   // in
		{"reed.tube", "1.125"},      // in
		{"float.depth", "2.4"},      // in
		{"tip.corner", "3"},         // thou
		{"score.spacing", "0.04"},   // in
		{"wire.end", "0.125"},       // in
	})
}

// One thing has several names among makers.
func TestNamesOfTheTrade(t *testing.T) {
	t.Parallel()
	have := citation.ByName(t, bassoon.Plugin())
	for alias, name := range map[string]string{
		"top wire": "wire.first", "upper wire": "wire.first",
		"middle wire": "wire.second", "throat wire": "wire.second", "lower wire": "wire.second",
		"butt wire": "wire.third", "bottom wire": "wire.third",
		"bark length": "reed.tube", "tube length": "reed.tube", "node to node": "tube.internode", "fold point": "fold.at",
		"shoulder": "collar.above_first_wire", "lay": "blade.length", "throat": "wire.gap",
	} {
		found := false
		for _, a := range have[name].Aliases {
			found = found || a == alias
		}
		if !found {
			t.Errorf("%s is not called %q", name, alias)
		}
	}
}

func TestSources(t *testing.T) {
	t.Parallel()
	citation.Sources(t, bassoon.Plugin())
}
