package englishhorn_test

import (
	"slices"
	"strings"
	"testing"

	"canewright/plugins/citation"
	"canewright/plugins/englishhorn"
)

func TestThePluginAnswers(t *testing.T) {
	t.Parallel()
	citation.Answers(t, englishhorn.Plugin(), "english-horn")
}

// Recipes are written in these names; a name that goes needs a new major
// version.
func TestTheNamesRecipesUse(t *testing.T) {
	t.Parallel()
	have := citation.ByName(t, englishhorn.Plugin())
	names := strings.Fields(`
		tube.diameter split.pieces cane.length gouge.centre gouge.side gouge.eccentricity hardness.first_end
		hardness.second_end hardness.spread float.depth sink.time soak.time shape.widest shape.tip staple.length tie.length
		tie.fold_above_staple thread.top wire.thickness wire.height tubing.length tubing.diameter tubing.wall rest.time
		scrape.sittings overall cane.above_staple first_scrape.length tip.start heart.top tip.length heart.length
		back.length back.bark windows.length windows.spine rails.width tip.thickness tip.corner heart.thickness
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
		{"tube.diameter", "12 mm", "Hove, Cane"},
		{"tube.diameter", "12.5 mm", "Hove, Cane"},
		{"tube.diameter", "11.5 mm", "Hove, Cane: not under"},
		{"tube.diameter", "11 mm", "geocities"},
		{"hardness.spread", "4", "tester's help page: the limit"},
		{"staple.length", "27 mm", "Hove, page on a staple; Verdegem, 0976"},
		{"staple.length", "28 mm", "Hove, page on a staple: with a screw collar"},
		{"tubing.length", "5 mm", "Hove, tubing"},
		{"tubing.length", "4 mm", "Hove, tubing: the shortest"},
		{"tubing.diameter", "6 mm", "Hove, tubing"},
		{"tubing.wall", "1 mm", "Hove, tubing: about"},
		{"rest.time", "8 h", "Hove, 4-day method: overnight"},
		{"scrape.sittings", "4", "Hove, 4-day method"},
		{"overall", "55 mm", "musicalinstrumenthub"},
		{"overall", "60 mm", "musicalinstrumenthub"},
		{"overall", "54 mm", "Hove, 4-day method: longer than"},
		{"overall", "49 mm", "Verdegem, 0179"},
		{"cane.above_staple", "28 mm", "worked: 55 less 27 mm"},
		{"cane.above_staple", "33 mm", "worked: 60 less 27 mm"},
		{"cane.above_staple", "22 mm", "worked: 49 less 27 mm"},
		{"first_scrape.length", "7 mm", "Hove, 4-day method"},
		{"first_scrape.length", "8 mm", "Hove, 4-day method"},
		{"tip.start", "52 mm", "Hove, 4-day method"},
		{"heart.top", "54 mm", "Hove, 4-day method"},
		{"back.bark", "5 mm", "Hove, 4-day method: about"},
		{"reed.width", "9.5 mm", "Verdegem, 0179"},
		{"crow.pitch", "C5", "Hove, 4-day method; the octave from memory"},
		{"crow.pitch", "B4", "Hove, 4-day method; the octave from memory"},
	}
}

// Every value a source gives must be plausible, from both sides where sources
// disagree.
func TestPlausibleRangesHoldWhatIsPublished(t *testing.T) {
	t.Parallel()
	citation.Inside(t, englishhorn.Plugin(), cited())
}

// A number in the wrong unit is what a plausible range is there to catch.
func TestAReadingInTheWrongUnitIsNotPlausible(t *testing.T) {
	t.Parallel()
	citation.Outside(t, englishhorn.Plugin(), []citation.Slip{
		{"tube.diameter", "0.47"}, // in
		{"staple.length", "1.06"}, // in
		{"overall", "2.2"},        // in
		{"reed.width", "0.37"},    // in
		{"tubing.length", "0.2"},  // in
		{"tip.start", "2.05"},     // in
	})
}

// A range is there because of a number somebody publishes; where nobody does,
// there is the word and the datum, and it says so.
func TestEveryRangeRestsOnAPublishedNumber(t *testing.T) {
	t.Parallel()
	citation.Ranges(t, englishhorn.Plugin(), cited())
	citation.SaysSo(t, englishhorn.Plugin())
}

func TestSources(t *testing.T) {
	t.Parallel()
	citation.Sources(t, englishhorn.Plugin())
}

// Only what a source speaks of is here: each symptom has a remedy, and each
// remedy somebody who gives it.
func TestRemediesAreSourced(t *testing.T) {
	t.Parallel()
	citation.Credited(t, englishhorn.Plugin())
	citation.Remedies(t, englishhorn.Plugin())
}
