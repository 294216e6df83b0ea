package oboedamore_test

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"canewright/engine/quantity"
	"canewright/plugins/oboedamore"
	"canewright/plugins/sdk"
)

var address = regexp.MustCompile(`https?://|www\.`)

func byName(t *testing.T) map[string]sdk.Dimension {
	t.Helper()
	out := map[string]sdk.Dimension{}
	for _, d := range oboedamore.Plugin().Dimensions {
		if _, twice := out[d.Name]; twice {
			t.Errorf("%s is there twice", d.Name)
		}
		out[d.Name] = d
	}
	return out
}

func TestThePluginAnswers(t *testing.T) {
	t.Parallel()
	seen := sdk.Try(t, oboedamore.Plugin())
	if len(seen.Sets) != 1 || seen.Sets[0].GetId() != "oboe-damore" || seen.Sets[0].GetMajor() != 1 {
		t.Fatalf("it holds %v", seen.List)
	}
	set, in := seen.Sets[0], oboedamore.Plugin()
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
func cited() []struct{ name, value, who string } {
	return []struct{ name, value, who string }{
		{"tube.diameter", "11.4 mm", "Hove, Cane: under 11.5 mm"},
		{"hardness.spread", "4", "tester's help page: the limit"},
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
		{"tube.diameter", "25"},   // mm, the diameter of bassoon cane
		{"tube.diameter", "430"},  // thou
		{"hardness.spread", "-1"}, // a spread is never minus
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
	in := oboedamore.Plugin()
	for _, d := range in.Dimensions {
		check(d.Name, d.Sources)
	}
	for _, r := range in.Remedies {
		check(r.Name, r.Sources)
	}
}
