package contrabassoon_test

import (
	"slices"
	"strings"
	"testing"

	"canewright/plugins/citation"
	"canewright/plugins/contrabassoon"
)

func TestThePluginAnswers(t *testing.T) {
	t.Parallel()
	citation.Answers(t, contrabassoon.Plugin(), "contrabassoon")
}

// Recipes are written in these names; a name that goes needs a new major
// version.
func TestTheNamesRecipesUse(t *testing.T) {
	t.Parallel()
	have := citation.ByName(t, contrabassoon.Plugin())
	names := strings.Fields(`
		tube.narrowest tube.widest tube.ovality cane.length gouge.centre gouge.side gouge.eccentricity hardness.first_end
		hardness.second_end hardness.spread float.depth float.share sink.time soak.time shape.fold shape.first_wire
		shape.butt profile.collar score.lines bevel.length mandrel.line wire.first wire.second wire.third wire.gap
		wire.gauge collar.above_first_wire rest.time overall tip.above_first_wire blade.length reed.on_bocal butt.bore
		tip.width tip.opening tip.thickness blade.thickness crow.pitch crow.with_bocal reed.age room.humidity
		room.temperature reed.score`)
	for _, name := range names {
		if _, ok := have[name]; !ok {
			t.Errorf("%s is missing", name)
		}
	}
	for name := range have {
		if !slices.Contains(names, name) {
			t.Errorf("%s is not held by this list", name)
		}
	}
}

// cited is every number the sources give; who says it stands beside it.
func cited() []citation.Row {
	return []citation.Row{
		{"hardness.spread", "4", "tester's help page: the limit"},
		{"hardness.spread", "5", "tester's help page: ends of 12 and 17"},
		{"float.share", "1", "worked: it sinks"},
		{"overall", "70 mm", "esferamusical; Vienna Symphonic Library"},
		{"overall", "73 mm", "esferamusical"},
		{"overall", "75 mm", "Vienna Symphonic Library"},
		{"butt.bore", "6.5 mm", "esferamusical"},
		{"butt.bore", "7 mm", "esferamusical"},
		{"tip.width", "17 mm", "esferamusical"},
		{"tip.width", "20 mm", "esferamusical"},
		{"tip.width", "16 mm", "Vienna Symphonic Library"},
		{"tip.width", "18 mm", "Vienna Symphonic Library"},
		{"reed.age", "2922 d", "bocalsoup, August 2007: 8 years"},
	}
}

// Every value a source gives must be plausible, from both sides where sources
// disagree.
func TestPlausibleRangesHoldWhatIsPublished(t *testing.T) {
	t.Parallel()
	citation.Inside(t, contrabassoon.Plugin(), cited())
}

// A number in the wrong unit is what a plausible range is there to catch.
func TestAReadingInTheWrongUnitIsNotPlausible(t *testing.T) {
	t.Parallel()
	citation.Outside(t, contrabassoon.Plugin(), []citation.Slip{
		{"overall", "2.8"},    // in
		{"overall", "56"},     // mm, a bassoon's
		{"butt.bore", "0.26"}, // in
		{"tip.width", "0.7"},  // in
	})
}

// A range is there because of a number somebody publishes; where nobody does,
// there is the word and the datum, and it says so.
func TestEveryRangeRestsOnAPublishedNumber(t *testing.T) {
	t.Parallel()
	citation.Ranges(t, contrabassoon.Plugin(), cited())
	citation.SaysSo(t, contrabassoon.Plugin())
}

func TestSources(t *testing.T) {
	t.Parallel()
	citation.Sources(t, contrabassoon.Plugin())
}

// Only what a source speaks of is here: each symptom has a remedy, and each
// remedy somebody who gives it.
func TestRemediesAreSourced(t *testing.T) {
	t.Parallel()
	citation.Credited(t, contrabassoon.Plugin())
	citation.Remedies(t, contrabassoon.Plugin())
}
