package uilleann_test

import (
	"slices"
	"strings"
	"testing"

	"canewright/plugins/citation"
	"canewright/plugins/uilleann"
)

func TestThePluginAnswers(t *testing.T) {
	t.Parallel()
	citation.Answers(t, uilleann.Plugin(), "uilleann-chanter")
}

// Recipes are written in these names; a name that goes needs a new major
// version.
func TestTheNamesRecipesUse(t *testing.T) {
	t.Parallel()
	have := citation.ByName(t, uilleann.Plugin())
	names := strings.Fields(`
		tube.diameter cane.softness hardness.first_end slip.length slip.width slip.centre slip.edge cylinder.diameter
		paper.grit staple.length staple.bore staple.outside staple.sheet staple.blank_wide staple.blank_narrow staple.eye
		staple.flattened overall staple.in_blades blade.exposed cane.above_staple blade.width scrape.length lips.opening
		lips.thickness blade.thickness resand.distance bridle.height reed.in_chanter chanter.length crow.pitch play.bottom_d
		play.back_d rest.time room.humidity room.temperature reed.score`)
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
		{"slip.length", "100 mm", "uilleannpipes.ie"},
		{"slip.length", "114 mm", "worked from dooleypipes"},
		{"slip.width", "13 mm", "uilleannpipes.ie, split"},
		{"slip.width", "12.9 mm", "uilleannpipes.ie"},
		{"slip.width", "12.5 mm", "dooleypipes"},
		{"slip.edge", "0.5 mm", "uilleannpipes.ie"},
		{"paper.grit", "240", "Gallagher"},
		{"paper.grit", "320", "Gallagher"},
		{"staple.length", "48 mm", "dooleypipes"},
		{"staple.length", "50 mm", "uilleannpipes.ie"},
		{"staple.bore", "4.2 mm", "dooleypipes"},
		{"staple.outside", "3/16 in", "Gallagher; uilleannpipes.ie"},
		{"staple.outside", "5/32 in", "Gallagher, B and C"},
		{"staple.sheet", "0.018 in", "Gallagher"},
		{"staple.sheet", "0.020 in", "Gallagher"},
		{"staple.blank_wide", "0.620 in", "Gallagher, D"},
		{"staple.blank_wide", "0.525 in", "Gallagher, C"},
		{"staple.blank_narrow", "0.550 in", "Gallagher, D"},
		{"staple.blank_narrow", "0.460 in", "Gallagher, C"},
		{"staple.eye", "1.8 mm", "dooleypipes"},
		{"staple.flattened", "25 mm", "dooleypipes"},
		{"overall", "80 mm", "dooleypipes"},
		{"staple.in_blades", "25 mm", "dooleypipes"},
		{"blade.exposed", "25 mm", "dooleypipes"},
		{"cane.above_staple", "32 mm", "worked: 80 less 48 mm"},
		{"blade.width", "12.5 mm", "dooleypipes"},
		{"resand.distance", "3/16 in", "Daye, hard D"},
		{"resand.distance", "5 mm", "Daye, hard D"},
		{"resand.distance", "4 mm", "Daye, hard D"},
		{"reed.in_chanter", "15 mm", "dooleypipes"},
		{"chanter.length", "14.25 in", "dooleypipes"},
		{"room.humidity", "70 %", "Daye, Climate"},
	}
}

// Every value a source gives must be plausible, from both sides where sources
// disagree.
func TestPlausibleRangesHoldWhatIsPublished(t *testing.T) {
	t.Parallel()
	citation.Inside(t, uilleann.Plugin(), cited())
}

// A number in the wrong unit is what a plausible range is there to catch.
func TestAReadingInTheWrongUnitIsNotPlausible(t *testing.T) {
	t.Parallel()
	citation.Outside(t, uilleann.Plugin(), []citation.Slip{
		{"slip.width", "0.51"},        // in
		{"slip.edge", "20"},           // thou
		{"staple.sheet", "20"},        // thou
		{"staple.blank_wide", "0.62"}, // in
		{"staple.length", "1.9"},      // in
		{"overall", "3.15"},           // in
		{"staple.eye", "0.07"},        // in
		{"chanter.length", "14.25"},   // in
	})
}

// A range is there because of a number somebody publishes; where nobody does,
// there is the word and the datum, and it says so.
func TestEveryRangeRestsOnAPublishedNumber(t *testing.T) {
	t.Parallel()
	citation.Ranges(t, uilleann.Plugin(), cited())
	citation.SaysSo(t, uilleann.Plugin())
}

func TestSources(t *testing.T) {
	t.Parallel()
	citation.Sources(t, uilleann.Plugin())
}

// Only what a source speaks of is here: each symptom has a remedy, and each
// remedy somebody who gives it.
func TestRemediesAreSourced(t *testing.T) {
	t.Parallel()
	citation.Credited(t, uilleann.Plugin())
	citation.Remedies(t, uilleann.Plugin())
}
