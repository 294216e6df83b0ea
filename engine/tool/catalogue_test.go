package tool

import (
	"math"
	"slices"
	"testing"

	"canewright/engine/quantity"
)

func TestWordsAreFoundHoweverTheyAreWritten(t *testing.T) {
	t.Parallel()
	c := Standard()
	tools := map[string]string{
		"knife": "knife", "Reed knife": "knife", "  scraping   KNIFE ": "knife", "pre gouger": "pre-gouger", "tip cutter": "tip cutter",
		"abrasive paper": "sandpaper", "caliper": "caliper", "dial gauge": "dial indicator",
	}
	for word, want := range tools {
		if got, ok := c.Tool(word); !ok || got.Name != want {
			t.Errorf("tool %q: got %q, %v, want %q", word, got.Name, ok, want)
		}
	}
	materials := map[string]string{"Instant glue": "cyanoacrylate", "nail polish": "nail varnish", "beeswax": "beeswax", "string": "cotton string", "heat shrink tube": "shrink sleeve"}
	for word, want := range materials {
		if got, ok := c.Material(word); !ok || got.Name != want {
			t.Errorf("material %q: got %q, %v, want %q", word, got.Name, ok, want)
		}
	}
	for _, word := range []string{"", "knif", "spokeshave"} {
		if got, ok := c.Tool(word); ok {
			t.Errorf("tool %q: got %q, want none", word, got.Name)
		}
	}
}

func TestNoWordMeansTwoThings(t *testing.T) {
	t.Parallel()
	c := Standard()
	seen := map[string]string{}
	for _, x := range c.Tools() {
		for _, n := range append([]string{x.Name}, x.Aliases...) {
			if other, twice := seen[plain(n)]; twice {
				t.Errorf("%q is both %q and %q", n, other, x.Name)
			}
			seen[plain(n)] = x.Name
		}
	}
	seen = map[string]string{}
	for _, x := range c.Materials() {
		for _, n := range append([]string{x.Name}, x.Aliases...) {
			if other, twice := seen[plain(n)]; twice {
				t.Errorf("%q is both %q and %q", n, other, x.Name)
			}
			seen[plain(n)] = x.Name
		}
	}
	seen = map[string]string{}
	for _, a := range actions() {
		for _, w := range a.Words {
			if other, twice := seen[plain(w)]; twice {
				t.Errorf("%q is both %q and %q", w, other, a.Name)
			}
			seen[plain(w)] = a.Name
		}
	}
}

func TestEveryClassIsListed(t *testing.T) {
	t.Parallel()
	var names []string
	for _, c := range Classes() {
		names = append(names, c.Name)
	}
	used := map[string]bool{}
	check := func(who string, classes []string) {
		for _, c := range classes {
			used[c] = true
			if !slices.Contains(names, c) {
				t.Errorf("%s is of the class %q, which is not listed", who, c)
			}
		}
	}
	c := Standard()
	for _, x := range c.Tools() {
		check(x.Name, x.Classes)
		if len(x.Classes) == 0 {
			t.Errorf("tool %s has no class", x.Name)
		}
	}
	for _, x := range c.Materials() {
		check(x.Name, x.Classes)
	}
	for _, w := range []string{"blow torch", "knife saw drill motor heat kettle wire file stone plier needle cutter splitter gouger shaper", "x"} {
		check(w, Unknown(w).Classes)
	}
	for _, w := range []string{"my glue", "cyano epoxy wire cotton mould boiling alcohol peroxide", "x"} {
		check(w, UnknownMaterial(w).Classes)
	}
	for _, k := range Classes() {
		if !used[k.Name] && !k.Evening {
			t.Errorf("nothing is of the class %q", k.Name)
		}
	}
}

// A maximum permissible error ±a taken as equally likely anywhere inside is
// worth a/√3: JCGM 100:2008 (GUM), 4.3.7.
func TestUncertaintyIsLimitOverRootThree(t *testing.T) {
	t.Parallel()
	limits := map[string]float64{ // in quanta of the kind
		"caliper": 20e3, "dial indicator": 10e3, "micrometer": 4e3, "fine micrometer": 4e3, "ruler": 100e3, "tape measure": 500e3,
		"feeler gauge": 5e3, "plug gauge": 10e3, "protractor": 1.8e6, "tuner": 1e6, "ear": 50e6, "scale": 20e6, "force gauge": 1e11,
		"hygrometer": 3e7, "thermometer": 9e3, "stopwatch": 500,
	}
	c := Standard()
	found := 0
	for _, g := range c.Tools() {
		a, ok := limits[g.Name]
		if !ok {
			continue
		}
		found++
		// The table has four digits, and whole quanta.
		if want := a / math.Sqrt(3); math.Abs(float64(g.Error.Q)-want) > max(want/2000, 0.5) {
			t.Errorf("%s: u = %d quanta, want %.0f", g.Name, g.Error.Q, want)
		}
		if g.Error.Kind != g.Step.Kind || g.Step.Q <= 0 || g.Source == "" {
			t.Errorf("%s: step %v, error %v, source %q do not go together", g.Name, g.Step, g.Error, g.Source)
		}
	}
	if found != len(limits) {
		t.Errorf("found %d gauges of %d", found, len(limits))
	}
}

func TestStepsAreThoseOfTheTools(t *testing.T) {
	t.Parallel()
	want := map[string]string{"caliper": "0.01 mm", "fine micrometer": "0.001 mm", "ruler": "0.5 mm", "tuner": "1 cents", "scale": "0.01 g", "thermometer": "0.1 K", "hygrometer": "1 %", "protractor": "1°"}
	c := Standard()
	for name, text := range want {
		g, _ := c.Tool(name)
		if got := quantity.Format(g.Step, quantity.Main(g.Step.Kind), 0); got != text {
			t.Errorf("%s reads in steps of %s, want %s", name, got, text)
		}
	}
	for _, name := range []string{"eye", "hardness tester"} {
		if g, ok := c.Tool(name); !ok || g.Step.Q != 0 {
			t.Errorf("%s has a step of %v", name, g.Step)
		}
	}
}

func TestCallersCannotChangeTheCatalogue(t *testing.T) {
	t.Parallel()
	c := Standard()
	k, _ := c.Tool("knife")
	k.Classes[0] = "toy"
	if again, _ := c.Tool("knife"); again.Classes[0] != "blade" {
		t.Errorf("the knife became a %s", again.Classes[0])
	}
}

func TestUnknownWordsKeepTheDangerTheySpeakOf(t *testing.T) {
	t.Parallel()
	tools := map[string][]string{
		"spoke": {"unknown tool"}, "camping stove": {"unknown tool", "flame", "ignition"}, "paring  knife": {"unknown tool", "blade"},
	}
	for word, want := range tools {
		if got := Unknown(word); !got.Unknown || !slices.Equal(got.Classes, want) {
			t.Errorf("%q: %v, want %v", word, got.Classes, want)
		}
	}
	product := []string{"unknown product", "adhesive", "finish", "flammable"}
	materials := map[string][]string{
		"gold leaf": {"unknown material"}, "boat varnish": product, "Grandfather's Cement": product, "wood finish": product, "brake cleaner": product,
	}
	for word, want := range materials {
		if got := UnknownMaterial(word); !got.Unknown || !slices.Equal(got.Classes, want) {
			t.Errorf("%q: %v, want %v", word, got.Classes, want)
		}
	}
}

func TestUseJoinsWithoutRepeats(t *testing.T) {
	t.Parallel()
	c := Standard()
	knife, _ := c.Tool("knife")
	file, _ := c.Tool("file")
	glue, _ := c.Material("epoxy")
	a := Use{Tools: []Tool{knife}, Actions: []string{"scrape"}}
	b := Use{Tools: []Tool{file, knife}, Materials: []Material{glue}, Actions: []string{"file", "scrape"}, Classes: []string{"minor"}}
	got := a.With(b)
	if len(got.Tools) != 2 || got.Tools[1].Name != "file" || len(got.Materials) != 1 || !slices.Equal(got.Actions, []string{"scrape", "file"}) {
		t.Errorf("got %+v", got)
	}
	for _, class := range []string{"blade", "dust", "epoxy", "minor"} {
		if !got.Has(class) {
			t.Errorf("has no %s", class)
		}
	}
	if got.Has("flame") || a.Has("dust") || !(Use{}).Empty() || got.Empty() {
		t.Error("has what it has not")
	}
	if len(a.Tools) != 1 || len(a.Actions) != 1 {
		t.Errorf("joining changed the first: %+v", a)
	}
}
