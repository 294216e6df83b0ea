package bassoon_test

import (
	"regexp"
	"strings"
	"testing"

	"canewright/engine/quantity"
	"canewright/plugins/bassoon"
	"canewright/plugins/sdk"
)

func byName(t *testing.T) map[string]sdk.Dimension {
	t.Helper()
	out := map[string]sdk.Dimension{}
	for _, d := range bassoon.Plugin().Dimensions {
		if _, twice := out[d.Name]; twice {
			t.Errorf("%s is there twice", d.Name)
		}
		out[d.Name] = d
	}
	return out
}

func TestThePluginAnswers(t *testing.T) {
	t.Parallel()
	seen := sdk.Try(t, bassoon.Plugin())
	if len(seen.Sets) != 1 || seen.Sets[0].GetId() != "bassoon" || seen.Sets[0].GetMajor() != 1 {
		t.Fatalf("it holds %v", seen.List)
	}
	if got, want := len(seen.Sets[0].GetDimensions()), len(bassoon.Plugin().Dimensions); got != want {
		t.Errorf("%d dimensions arrive of %d", got, want)
	}
}

// Recipes are written in these names; a name that goes needs a new major
// version.
func TestTheNamesRecipesUse(t *testing.T) {
	t.Parallel()
	have := byName(t)
	for _, name := range strings.Fields(`
		tube.narrowest tube.widest tube.ovality cane.length gouge.centre gouge.side shape.fold shape.first_wire
		score.lines bevel.length mandrel.line fold.to_butt wire.first wire.second wire.third wire.gauge wire.turns wire.gap
		collar.above_first_wire overall tip.above_first_wire blade.length reed.on_bocal butt.bore
		tip.opening tip.thickness tip.width blade.thickness crow.pitch room.humidity room.temperature
		soak.time rest.time reed.score`) {
		if _, ok := have[name]; !ok {
			t.Errorf("%s is missing", name)
		}
	}
}

// Every value a source gives must be plausible, from both sides where sources
// disagree. Who says it stands beside it; "memory" and "practice" have no
// source, "worked" is arithmetic on the others.
func TestPlausibleRangesHoldWhatIsPublished(t *testing.T) {
	t.Parallel()
	have := byName(t)
	for _, c := range []struct{ name, value, who string }{
		{"tube.narrowest", "24 mm", "Low-Atwater 2021"},
		{"tube.narrowest", "25 mm", "Low-Atwater 2021"},
		{"tube.widest", "26 mm", "Low-Atwater 2021"},
		{"tube.narrowest", "24 mm", "Boldt-Neurohr"},
		{"tube.widest", "27 mm", "Boldt-Neurohr"},
		{"tube.widest", "1 in", "everything2"},
		{"tube.narrowest", "23 mm", "Harris 2016"},
		{"tube.widest", "26 mm", "Harris 2016"},
		{"cane.length", "120 mm", "schuflo; Stowell p. 16; medpants"},
		{"cane.length", "4 3/4 in", "everything2"},
		{"gouge.centre", "1.25 mm", "Stowell p. 16; London Fields, Longitudinal"},
		{"gouge.centre", "1.3 mm", "Stowell p. 16"},
		{"gouge.centre", "1.2 mm", "Stowell, Gouging (older page)"},
		{"gouge.centre", "1.00 mm", "London Fields, Longitudinal (old hand gouge, middle)"},
		{"gouge.centre", "0.050 in", "allbassooncane"},
		{"gouge.centre", "0.030 in", "allbassooncane (end-tapered gouge, at the butt)"},
		{"gouge.centre", "1.2 mm", "Harris 2016, wet"},
		{"gouge.centre", "1.4 mm", "Harris 2016, wet"},
		{"gouge.centre", "1.49 mm", "Médecine des arts: a little under 1.5 mm"},
		{"gouge.centre", "1.15 mm", "memory"},
		{"gouge.centre", "1.35 mm", "memory"},
		{"gouge.side", "0.9 mm", "memory"},
		{"gouge.side", "1.1 mm", "memory"},
		{"gouge.side", "1.3 mm", "memory: concentric, the same as the centre"},
		{"shape.fold", "14 mm", "memory"},
		{"shape.fold", "15 mm", "memory"},
		{"shape.fold", "16.5 mm", "memory"},
		{"score.lines", "5", "lacan p. 2; Stowell p. 17"},
		{"score.lines", "6", "Stowell p. 17"},
		{"score.lines", "7", "lacan p. 2"},
		{"bevel.length", "3/8 in", "bassoonblog, December 2013"},
		{"bevel.length", "17.5 mm", "allbassooncane: from the second wire, bassoonblog 2023 gives its place"},
		{"bevel.length", "30 mm", "Stowell, Bevelling: past the first wire to the blade; tube of up to 30 mm, Brusky"},
		{"mandrel.line", "0 mm", "bassoonblog 2023: to the line"},
		{"fold.to_butt", "2 5/16 in", "bassoonblog, September 2009 and December 2013"},
		{"fold.to_butt", "55 mm", "practice"},
		{"wire.first", "27 mm", "lacan p. 2"},
		{"wire.first", "1 1/16 in", "lacan p. 2"},
		{"wire.first", "1 in", "bassoonblog, December 2013 and 2023"},
		{"wire.first", "25 mm", "memory"},
		{"wire.first", "28 mm", "memory"},
		{"wire.second", "17.5 mm", "worked from bassoonblog 2023"},
		{"wire.second", "19.06 mm", "worked from lacan p. 2 and Brusky"},
		{"wire.third", "3/16 in", "bassoonblog 2023"},
		{"wire.gap", "5/16 in", "Brusky; bassoonblog 2023"},
		{"wire.gap", "7.5 mm", "Brusky, as printed"},
		{"wire.gauge", "22 AWG", "lacan p. 2; student page; allbassooncane"},
		{"wire.gauge", "23 AWG", "allbassooncane, second and third"},
		{"wire.gauge", "21 AWG", "Ellin"},
		{"wire.turns", "2", "bassoonblog, December 2013"},
		{"wire.turns", "3", "bassoonblog, December 2013; Stowell p. 20"},
		{"collar.above_first_wire", "3 mm", "lacan p. 4"},
		{"collar.above_first_wire", "1/8 in", "bassoonblog 2023"},
		{"overall", "55.6 mm", "worked from lacan p. 2 and 4"},
		{"overall", "55 mm", "worked from Schweizer"},
		{"overall", "55.5 mm", "worked from Schweizer"},
		{"overall", "57 mm", "worked from Brusky"},
		{"overall", "60 mm", "worked from Brusky"},
		{"overall", "53 mm", "memory"},
		{"overall", "58 mm", "memory"},
		{"tip.above_first_wire", "28.5 mm", "lacan p. 4"},
		{"tip.above_first_wire", "1 1/8 in", "lacan p. 4"},
		{"blade.length", "25.5 mm", "worked from lacan p. 4"},
		{"blade.length", "28 mm", "Schweizer"},
		{"blade.length", "28.5 mm", "Schweizer"},
		{"blade.length", "30 mm", "Brusky, Measurements"},
		{"blade.length", "1 2/16 in", "Brusky, Glossary"},
		{"blade.length", "1 3/16 in", "Brusky, Glossary"},
		{"blade.length", "30.2 mm", "worked from bassoonblog 2013 and 2023"},
		{"reed.on_bocal", "8 mm", "Schweizer"},
		{"butt.bore", "4.5 mm", "memory"},
		{"butt.bore", "6 mm", "memory"},
		{"tip.width", "13.5 mm", "Wikipedia, Double reed"},
		{"tip.width", "15.9 mm", "Wikipedia, Double reed"},
		{"tip.opening", "1.0 mm", "memory"},
		{"tip.opening", "2.0 mm", "memory"},
		{"tip.thickness", "2 thou", "bassoonreed.blogspot.com"},
		{"tip.thickness", "3 thou", "bassoonreed.blogspot.com"},
		{"tip.thickness", "0.05 mm", "memory"},
		{"tip.thickness", "0.15 mm", "memory"},
		{"blade.thickness", "0.0314 in", "Brusky, in front of the collar"},
		{"blade.thickness", "0.95 mm", "memory, collar"},
		{"blade.thickness", "0.05 mm", "memory, edge of the tip"},
		{"crow.pitch", "F#4", "Reed Lore: middle F sharp"},
		{"crow.pitch", "A4", "Reed Lore"},
		{"crow.pitch", "E4", "memory"},
		{"crow.pitch", "F4", "memory"},
		{"room.humidity", "35 %", "magicreed; woodwind.org 6494"},
		{"room.humidity", "50 %", "magicreed"},
		{"room.humidity", "45 %", "charlesmusic"},
		{"room.humidity", "15 %", "charlesmusic, winter"},
		{"room.humidity", "70 %", "woodwind.org 25611"},
		{"room.humidity", "20 %", "bassoonoperator, May 2010"},
		{"soak.time", "2 h", "Low-Atwater; Harris; bassoonblog, December 2013"},
		{"soak.time", "8 h", "lacan p. 2"},
		{"soak.time", "24 h", "lacan p. 2; tjbassoon 2011"},
		{"soak.time", "5 min", "Viento Percusión 7"},
		{"soak.time", "4 d", "medpants: up to several days"},
		{"rest.time", "1 d", "bassoonblog, August 2015"},
		{"rest.time", "2 weeks", "bassoonblog, December 2013"},
		{"rest.time", "1096 d", "bassoonblog, January 2014: blanks of 2011 in 2014"},
	} {
		t.Run(c.name+" "+c.value, func(t *testing.T) {
			t.Parallel()
			d, ok := have[c.name]
			if !ok {
				t.Fatalf("there is no %s", c.name)
			}
			style := style(t, d)
			v, err := quantity.Parse(c.value, style)
			if err != nil {
				t.Fatal(err)
			}
			r, err := quantity.ParseTolerance(d.Plausible, style)
			if err != nil {
				t.Fatal(err)
			}
			if r.Side(v.Value.Q) != quantity.Inside {
				t.Errorf("%s (%s) is %s the plausible range %s", c.value, c.who, r.Side(v.Value.Q), d.Plausible)
			}
		})
	}
}

func style(t *testing.T, d sdk.Dimension) quantity.Style {
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
	return quantity.Style{Want: kind, Bare: unit}
}

// A reading in the wrong unit is what a plausible range is there to catch: an
// inch or a thou read as a millimetre, a micrometre as a millimetre.
func TestAReadingInTheWrongUnitIsNotPlausible(t *testing.T) {
	t.Parallel()
	have := byName(t)
	for _, c := range []struct{ name, typed string }{
		{"blade.thickness", "31.4"}, // thou
		{"gouge.centre", "50"},      // thou
		{"gouge.centre", "1250"},    // µm
		{"gouge.centre", "0.05"},    // in
		{"wire.first", "1.0625"},    // in
		{"overall", "2.2"},          // in
		{"tube.narrowest", "1"},     // in
	} {
		d := have[c.name]
		st := style(t, d)
		v, err := quantity.Parse(c.typed, st)
		if err != nil {
			t.Fatal(err)
		}
		r, err := quantity.ParseTolerance(d.Plausible, st)
		if err != nil {
			t.Fatal(err)
		}
		if r.Side(v.Value.Q) == quantity.Inside {
			t.Errorf("%s mm passes for a %s", c.typed, c.name)
		}
	}
}

// One thing has several names among makers.
func TestNamesOfTheTrade(t *testing.T) {
	t.Parallel()
	have := byName(t)
	for alias, name := range map[string]string{
		"top wire": "wire.first", "upper wire": "wire.first",
		"middle wire": "wire.second", "throat wire": "wire.second", "lower wire": "wire.second",
		"butt wire": "wire.third", "bottom wire": "wire.third",
		"shoulder": "collar.above_first_wire", "lay": "blade.length", "throat": "wire.gap",
	} {
		found := false
		for _, a := range have[name].Aliases {
			found = found || a == alias
		}
		if !found {
			t.Errorf("%s is not called %q", name, alias)
		}
	}
}

var address = regexp.MustCompile(`https?://|www\.`)

func TestSources(t *testing.T) {
	t.Parallel()
	for _, d := range bassoon.Plugin().Dimensions {
		if len(d.Sources) == 0 {
			t.Errorf("%s has no source", d.Name)
		}
		for _, s := range d.Sources {
			if s.Says == "" || s.Grade == "" || (s.Grade == sdk.Published) != (s.Who != "") {
				t.Errorf("%s: %+v: a published source says who, the others have nobody to name", d.Name, s)
			}
			if address.MatchString(s.Who) || address.MatchString(s.Says) {
				t.Errorf("%s: %q gives an address", d.Name, s.Who)
			}
		}
	}
}
