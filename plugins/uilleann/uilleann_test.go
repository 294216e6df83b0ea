package uilleann_test

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"canewright/engine/quantity"
	"canewright/plugins/sdk"
	"canewright/plugins/uilleann"
)

var address = regexp.MustCompile(`https?://|www\.`)

func byName(t *testing.T) map[string]sdk.Dimension {
	t.Helper()
	out := map[string]sdk.Dimension{}
	for _, d := range uilleann.Plugin().Dimensions {
		if _, twice := out[d.Name]; twice {
			t.Errorf("%s is there twice", d.Name)
		}
		out[d.Name] = d
	}
	return out
}

func TestThePluginAnswers(t *testing.T) {
	t.Parallel()
	seen := sdk.Try(t, uilleann.Plugin())
	if len(seen.Sets) != 1 || seen.Sets[0].GetId() != "uilleann-chanter" || seen.Sets[0].GetMajor() != 1 {
		t.Fatalf("it holds %v", seen.List)
	}
	set, in := seen.Sets[0], uilleann.Plugin()
	if len(set.GetDimensions()) != len(in.Dimensions) || len(set.GetSymptoms()) != len(in.Symptoms) || len(set.GetRemedies()) != len(in.Remedies) {
		t.Errorf("%d dimensions, %d symptoms, %d remedies arrive", len(set.GetDimensions()), len(set.GetSymptoms()), len(set.GetRemedies()))
	}
}

// Recipes are written in these names; a name that goes needs a new major
// version.
func TestTheNamesRecipesUse(t *testing.T) {
	t.Parallel()
	have := byName(t)
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
func cited() []struct{ name, value, who string } {
	return []struct{ name, value, who string }{
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
	have := byName(t)
	for _, c := range cited() {
		t.Run(c.name+" "+c.value, func(t *testing.T) {
			t.Parallel()
			d, ok := have[c.name]
			if !ok {
				t.Fatalf("there is no %s", c.name)
			}
			if side := sideOf(t, d, c.value); side != quantity.Inside {
				t.Errorf("%s (%s) is %s the plausible range %s", c.value, c.who, side, d.Plausible)
			}
		})
	}
}

func sideOf(t *testing.T, d sdk.Dimension, typed string) quantity.Side {
	t.Helper()
	kind, ok := quantity.KindNamed(d.Kind)
	if !ok {
		t.Fatalf("%s is a %q", d.Name, d.Kind)
	}
	unit := quantity.Bare(kind)
	if d.Unit != "" {
		if unit, ok = quantity.UnitNamed(d.Unit); !ok {
			t.Fatalf("%s is read in %q", d.Name, d.Unit)
		}
	}
	style := quantity.Style{Want: kind, Bare: unit}
	v, err := quantity.Parse(typed, style)
	if err != nil {
		t.Fatal(err)
	}
	r, err := quantity.ParseTolerance(d.Plausible, style)
	if err != nil {
		t.Fatal(err)
	}
	return r.Side(v.Value.Q)
}

// A number in the wrong unit is what a plausible range is there to catch.
func TestAReadingInTheWrongUnitIsNotPlausible(t *testing.T) {
	t.Parallel()
	have := byName(t)
	for _, c := range []struct{ name, typed string }{
		{"slip.width", "0.51"},        // in
		{"slip.edge", "20"},           // thou
		{"staple.sheet", "20"},        // thou
		{"staple.blank_wide", "0.62"}, // in
		{"staple.length", "1.9"},      // in
		{"overall", "3.15"},           // in
		{"staple.eye", "0.07"},        // in
		{"chanter.length", "14.25"},   // in
	} {
		if sideOf(t, have[c.name], c.typed) == quantity.Inside {
			t.Errorf("%s passes for a %s", c.typed, c.name)
		}
	}
}

// A range is there because of a number somebody publishes; where nobody does,
// there is the word and the datum, and it says so.
func TestEveryRangeRestsOnAPublishedNumber(t *testing.T) {
	t.Parallel()
	rows := map[string]int{}
	for _, c := range cited() {
		rows[c.name]++
	}
	for name, d := range byName(t) {
		if name == "room.temperature" { // rooms, from memory
			continue
		}
		if (d.Plausible != "") != (rows[name] > 0) {
			t.Errorf("%s: the range is %q, and %d numbers are given", name, d.Plausible, rows[name])
		}
		graded := func(g ...sdk.Grade) bool {
			return slices.ContainsFunc(d.Sources, func(s sdk.Source) bool { return slices.Contains(g, s.Grade) })
		}
		saysSo := slices.ContainsFunc(d.Sources, func(s sdk.Source) bool {
			return strings.Contains(s.Says, "no number") || strings.Contains(s.Says, "no source gives a number") || strings.Contains(s.Says, "own list") || d.Kind == "score"
		})
		switch {
		case d.Plausible != "" && !graded(sdk.Published, sdk.WorkedOut):
			t.Errorf("%s: the range %s rests on no source", name, d.Plausible)
		case d.Plausible == "" && !saysSo:
			t.Errorf("%s has no range and does not say that the number is the player's", name)
		}
	}
}

func TestSources(t *testing.T) {
	t.Parallel()
	check := func(what string, sources []sdk.Source) {
		if len(sources) == 0 {
			t.Errorf("%s has no source", what)
		}
		for _, s := range sources {
			if s.Says == "" || s.Grade == "" || (s.Grade == sdk.Published) != (s.Who != "") {
				t.Errorf("%s: %+v: a published source says who, the others have nobody to name", what, s)
			}
			if address.MatchString(s.Who) || address.MatchString(s.Says) {
				t.Errorf("%s: %q gives an address", what, s.Who)
			}
		}
	}
	in := uilleann.Plugin()
	for _, d := range in.Dimensions {
		check(d.Name, d.Sources)
	}
	for _, r := range in.Remedies {
		check(r.Name, r.Sources)
	}
}

// Only what a source speaks of is here: each symptom has a remedy, and each
// remedy somebody who gives it.
func TestRemediesAreSourced(t *testing.T) {
	t.Parallel()
	in := uilleann.Plugin()
	covered := map[string]bool{}
	for _, r := range in.Remedies {
		for _, s := range r.Symptoms {
			covered[s] = true
		}
		if !slices.ContainsFunc(r.Sources, func(s sdk.Source) bool { return s.Grade == sdk.Published }) {
			t.Errorf("nobody is named for %q", r.Name)
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
}
