package contrabassoon_test

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"canewright/engine/quantity"
	"canewright/plugins/contrabassoon"
	"canewright/plugins/sdk"
)

var address = regexp.MustCompile(`https?://|www\.`)

func byName(t *testing.T) map[string]sdk.Dimension {
	t.Helper()
	out := map[string]sdk.Dimension{}
	for _, d := range contrabassoon.Plugin().Dimensions {
		if _, twice := out[d.Name]; twice {
			t.Errorf("%s is there twice", d.Name)
		}
		out[d.Name] = d
	}
	return out
}

func TestThePluginAnswers(t *testing.T) {
	t.Parallel()
	seen := sdk.Try(t, contrabassoon.Plugin())
	if len(seen.Sets) != 1 || seen.Sets[0].GetId() != "contrabassoon" || seen.Sets[0].GetMajor() != 1 {
		t.Fatalf("it holds %v", seen.List)
	}
	set, in := seen.Sets[0], contrabassoon.Plugin()
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
func cited() []struct{ name, value, who string } {
	return []struct{ name, value, who string }{
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
		{"overall", "2.8"},    // in
		{"overall", "56"},     // mm, a bassoon's
		{"butt.bore", "0.26"}, // in
		{"tip.width", "0.7"},  // in
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
	in := contrabassoon.Plugin()
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
	in := contrabassoon.Plugin()
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
