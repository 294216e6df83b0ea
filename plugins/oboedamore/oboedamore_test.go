package oboedamore_test

import (
	"slices"
	"strings"
	"testing"

	"canewright/plugins/citation"
	"canewright/plugins/oboedamore"
)

func TestThePluginAnswers(t *testing.T) {
	t.Parallel()
	citation.Answers(t, oboedamore.Plugin(), "oboe-damore")
}

// Recipes are written in these names; a name that goes needs a new major
// version.
func TestTheNamesRecipesUse(t *testing.T) {
	t.Parallel()
	have := citation.ByName(t, oboedamore.Plugin())
	names := strings.Fields(`
		tube.diameter split.pieces cane.length gouge.centre gouge.side gouge.eccentricity hardness.first_end
		hardness.second_end hardness.spread float.depth sink.time soak.time shape.widest shape.tip staple.length tie.length
		tie.fold_above_staple thread.top wire.thickness rest.time overall cane.above_staple tip.start tip.length heart.top
		heart.length back.length back.bark windows.length windows.spine rails.width tip.thickness tip.corner heart.thickness
		back.thickness rails.thickness blade.thickness reed.width tip.opening crow.pitch reed.days room.humidity
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
		{"tube.diameter", "11.4 mm", "Hove, Cane: under 11.5 mm"},
		{"hardness.spread", "4", "tester's help page: the limit"},
	}
}

// Every value a source gives must be plausible, from both sides where sources
// disagree.
func TestPlausibleRangesHoldWhatIsPublished(t *testing.T) {
	t.Parallel()
	citation.Inside(t, oboedamore.Plugin(), cited())
}

// A number in the wrong unit is what a plausible range is there to catch.
func TestAReadingInTheWrongUnitIsNotPlausible(t *testing.T) {
	t.Parallel()
	citation.Outside(t, oboedamore.Plugin(), []citation.Slip{
		{"tube.diameter", "25"},   // mm, the diameter of bassoon cane
		{"tube.diameter", "430"},  // thou
		{"hardness.spread", "-1"}, // a spread is never minus
	})
}

// A range is there because of a number somebody publishes; where nobody does,
// there is the word and the datum, and it says so.
func TestEveryRangeRestsOnAPublishedNumber(t *testing.T) {
	t.Parallel()
	citation.Ranges(t, oboedamore.Plugin(), cited())
	citation.SaysSo(t, oboedamore.Plugin())
}

func TestSources(t *testing.T) {
	t.Parallel()
	citation.Sources(t, oboedamore.Plugin())
}
