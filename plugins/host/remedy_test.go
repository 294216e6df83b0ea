package host

import (
	"fmt"
	"reflect"
	"strings"
	"testing"
	"time"

	"canewright/engine/dimension"
	"canewright/plugins/bassoon"
	"canewright/plugins/oboe"
	dimsetv1 "canewright/plugins/proto/dimset/v1"
	"canewright/plugins/sdk"
)

// advised is an instrument with every field of a remedy in use.
func advised() sdk.Instrument {
	in := shawm(1)
	in.Symptoms = []sdk.Symptom{{Name: "too-heavy", Words: "it is too heavy", Also: []string{"hard to blow"}}}
	for i, touches := range []sdk.Touches{sdk.TouchesNothing, sdk.TouchesInstrument, sdk.TouchesWires, sdk.TouchesTube, sdk.TouchesEdge, sdk.TouchesLength, sdk.TouchesKnife, sdk.TouchesGivenUp} {
		in.Remedies = append(in.Remedies, sdk.Remedy{
			Name: fmt.Sprintf("remedy %d", i), Symptoms: []string{"too-heavy"}, When: []string{"gouge.centre > 1.3 mm"},
			Because: "thick", Do: "Measure it.", Touches: touches, TakesOff: []string{"gouge.centre"},
			Wire: []string{"", "first", "second", "third"}[i%4], Axis: []string{"", "top and bottom", "sides"}[min(i%4, 2)],
			Expect:  []sdk.Effect{{Dimension: "gouge.centre", Way: sdk.Less}, {Dimension: "gouge", Way: sdk.More}},
			Measure: []string{"gouge.centre"}, NotReed: i == 1,
			Sources: []sdk.Source{{Says: "thin it", Who: "Nobody, Invented book, 1901", Grade: sdk.Published}},
		})
	}
	return in
}

func TestRemediesArriveWhole(t *testing.T) {
	t.Parallel()
	in := advised()
	set, err := fromWire(sdk.Try(t, in).Sets[0])
	if err != nil {
		t.Fatal(err)
	}
	if err := checked(set); err != nil {
		t.Fatal(err)
	}
	if want := (dimension.Symptom{Name: "too-heavy", Words: "it is too heavy", Also: []string{"hard to blow"}}); len(set.Symptoms) != 1 || !reflect.DeepEqual(set.Symptoms[0], want) {
		t.Errorf("the symptoms are %+v", set.Symptoms)
	}
	for i, r := range in.Remedies {
		want := dimension.Remedy{
			Name: r.Name, Symptoms: r.Symptoms, When: r.When, Because: r.Because, Do: r.Do, Wire: r.Wire, Axis: r.Axis,
			Touches: dimension.Touches(r.Touches), TakesOff: r.TakesOff, Measure: r.Measure, NotReed: r.NotReed,
			Expect:  []dimension.Effect{{Dimension: "gouge.centre", Way: dimension.Less}, {Dimension: "gouge", Way: dimension.More}},
			Sources: []dimension.Source{{Says: "thin it", Who: "Nobody, Invented book, 1901", Grade: dimension.Published}},
		}
		if !reflect.DeepEqual(set.Remedies[i], want) {
			t.Errorf("got  %+v\nwant %+v", set.Remedies[i], want)
		}
	}
	back, err := dimension.Decode(set.Encode())
	if err != nil || !reflect.DeepEqual(back, set) {
		t.Errorf("a stored set differs: %v", err)
	}
}

func TestHostileRemediesAreRefused(t *testing.T) {
	t.Parallel()
	sound := func() *dimsetv1.Set { return sdk.Try(t, advised()).Sets[0] }
	for _, c := range []struct {
		say   string
		spoil func(*dimsetv1.Set)
		want  string
	}{
		{"ten thousand remedies", func(s *dimsetv1.Set) {
			for len(s.Remedies) < 10_000 {
				s.Remedies = append(s.Remedies, s.Remedies[0])
			}
		}, "10000 remedies"},
		{"control characters", func(s *dimsetv1.Set) { s.Remedies[0].Do = "scrape\x1b[2J" }, "control characters"},
		{"text that hides", func(s *dimsetv1.Set) { s.Symptoms[0].Words = "too\u202eheavy" }, "control characters"},
		{"a long formula", func(s *dimsetv1.Set) {
			s.Remedies[0].When = []string{"gouge.centre" + strings.Repeat(" + gouge.centre", 1000) + " > 1 mm"}
		}, "at most 500 bytes"},
		{"a deep formula", func(s *dimsetv1.Set) {
			s.Remedies[0].When = []string{strings.Repeat("(", 200) + "gouge.centre > 1 mm" + strings.Repeat(")", 200)}
		}, "bracket"},
		{"a formula that doubles", func(s *dimsetv1.Set) { s.Remedies[0].When = []string{`repeat("x", 1000000) == "y"`} }, "repeat cannot be called"},
		{"ten thousand formulas", func(s *dimsetv1.Set) { s.Remedies[0].When = make([]string, 10_000) }, "more than 800 formulas"},
		{"ten thousand ways of saying it", func(s *dimsetv1.Set) { s.Symptoms[0].Also = make([]string, 10_000) }, "more than 50 other ways"},
		{"something unknown that is touched", func(s *dimsetv1.Set) { s.Remedies[0].Touches = 99 }, "what it touches, 99, is unknown"},
		{"an unknown wire", func(s *dimsetv1.Set) { s.Remedies[0].Wire = 99 }, "its wire 99 is unknown"},
		{"an unknown axis", func(s *dimsetv1.Set) { s.Remedies[0].Axis = 99 }, "its axis 99 is unknown"},
		{"an unknown way", func(s *dimsetv1.Set) { s.Remedies[0].Expect[0].Way = 99 }, "99, is unknown"},
		{"an unknown grade", func(s *dimsetv1.Set) { s.Remedies[0].Sources[0].Grade = 99 }, "grade 99"},
		{"a remedy of nothing", func(s *dimsetv1.Set) { s.Remedies[0] = &dimsetv1.Remedy{} }, "what it touches, 0, is unknown"},
		{"a knife that says not where", func(s *dimsetv1.Set) { s.Remedies[6].TakesOff = nil }, "does not say what it makes smaller"},
	} {
		t.Run(c.say, func(t *testing.T) {
			t.Parallel()
			w := sound()
			c.spoil(w)
			start := time.Now()
			set, err := fromWire(w)
			if err == nil {
				err = checked(set)
			}
			if took := time.Since(start); took > 2*time.Second {
				t.Errorf("it took %s", took)
			}
			if err == nil || !strings.Contains(err.Error(), c.want) {
				t.Fatalf("got %v, want %q", err, c.want)
			}
			if strings.ContainsAny(err.Error(), "\x1b\u202e") {
				t.Errorf("%q would act on a terminal", err)
			}
		})
	}
}

// What is shipped is held to what a stranger's is.
func TestTheBundledInstrumentsHaveNoFindings(t *testing.T) {
	t.Parallel()
	for _, in := range []sdk.Instrument{bassoon.Plugin(), oboe.Plugin()} {
		set, err := fromWire(sdk.Try(t, in).Sets[0])
		if err != nil {
			t.Fatal(err)
		}
		found := set.Check()
		for _, d := range found.Sorted() {
			t.Errorf("%s: %v", in.ID, d)
		}
	}
}
