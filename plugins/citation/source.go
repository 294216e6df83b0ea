package citation

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"canewright/plugins/sdk"
)

var address = regexp.MustCompile(`https?://|www\.`)

// Answers wants one set of that name and of major version 1, and all of the
// instrument in it.
func Answers(t *testing.T, in sdk.Instrument, id string) {
	t.Helper()
	seen := sdk.Try(t, in)
	if len(seen.Sets) != 1 || seen.Sets[0].GetId() != id || seen.Sets[0].GetMajor() != 1 {
		t.Fatalf("it holds %v", seen.List)
	}
	set := seen.Sets[0]
	if len(set.GetDimensions()) != len(in.Dimensions) || len(set.GetSymptoms()) != len(in.Symptoms) || len(set.GetRemedies()) != len(in.Remedies) {
		t.Errorf("%d dimensions, %d symptoms, %d remedies arrive", len(set.GetDimensions()), len(set.GetSymptoms()), len(set.GetRemedies()))
	}
}

// Ranges wants a range where a number is given, and no other: where nobody
// gives one, there is the word and the datum.
func Ranges(t *testing.T, in sdk.Instrument, rows []Row) {
	t.Helper()
	given := map[string]int{}
	for _, c := range rows {
		given[c.Name]++
	}
	for name, d := range ByName(t, in) {
		if name == "room.temperature" { // rooms, from memory
			continue
		}
		if (d.Plausible != "") != (given[name] > 0) {
			t.Errorf("%s: the range is %q, and %d numbers are given", name, d.Plausible, given[name])
		}
	}
}

// SaysSo wants a range to rest on a published number, and a dimension without
// one to say that the number is the player's.
func SaysSo(t *testing.T, in sdk.Instrument) {
	t.Helper()
	for name, d := range ByName(t, in) {
		if name == "room.temperature" { // rooms, from memory
			continue
		}
		graded := slices.ContainsFunc(d.Sources, func(s sdk.Source) bool { return s.Grade == sdk.Published || s.Grade == sdk.WorkedOut })
		says := slices.ContainsFunc(d.Sources, func(s sdk.Source) bool {
			return strings.Contains(s.Says, "no number") || strings.Contains(s.Says, "no source gives a number") || strings.Contains(s.Says, "own list") || d.Kind == "score"
		})
		switch {
		case d.Plausible != "" && !graded:
			t.Errorf("%s: the range %s rests on no source", name, d.Plausible)
		case d.Plausible == "" && !says:
			t.Errorf("%s has no range and does not say that the number is the player's", name)
		}
	}
}

// Sources wants one for every dimension and remedy: a published one names who,
// in words and without an address.
func Sources(t *testing.T, in sdk.Instrument) {
	t.Helper()
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
	for _, d := range in.Dimensions {
		check(d.Name, d.Sources)
	}
	for _, r := range in.Remedies {
		check(r.Name, r.Sources)
	}
}

// Credited wants somebody named for each remedy.
func Credited(t *testing.T, in sdk.Instrument) {
	t.Helper()
	for _, r := range in.Remedies {
		if !slices.ContainsFunc(r.Sources, func(s sdk.Source) bool { return s.Grade == sdk.Published }) {
			t.Errorf("nobody is named for %q", r.Name)
		}
	}
}

// Remedies wants one for each symptom, said in few words, and none that takes
// cane before anything is measured.
func Remedies(t *testing.T, in sdk.Instrument) {
	t.Helper()
	covered := map[string]bool{}
	for _, r := range in.Remedies {
		for _, s := range r.Symptoms {
			covered[s] = true
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
