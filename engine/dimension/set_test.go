package dimension_test

import (
	"bytes"
	"reflect"
	"strings"
	"testing"

	"canewright/engine/dimension"
	"canewright/engine/quantity"
)

func tolerance(t testing.TB, text string, k quantity.Kind, u quantity.Unit) quantity.Tolerance {
	t.Helper()
	tol, err := quantity.ParseTolerance(text, quantity.Style{Want: k, Bare: u})
	if err != nil {
		t.Fatalf("tolerance %q: %v", text, err)
	}
	return tol
}

// sound is a small invented set without a fault; tests spoil it.
func sound(t testing.TB) *dimension.Set {
	t.Helper()
	mm, _ := quantity.UnitNamed("mm")
	awg, _ := quantity.UnitNamed("AWG")
	guess := []dimension.Source{{Says: "invented", Grade: dimension.FromMemory}}
	count := quantity.Bare(quantity.Count)
	return &dimension.Set{
		ID: "shawm", Title: "shawm, invented", Major: 1, Minor: 2, About: "for tests\nonly",
		Dimensions: []dimension.Dimension{
			{
				Name: "wire.first", Title: "first wire", Aliases: []string{"top wire", "Upper Wire"}, Was: []string{"wire.top"},
				Kind: quantity.Length, Unit: mm, Subject: "piece", Datum: "the butt", Condition: dimension.Either,
				How: "to the twist", Tool: "ruler", More: "far", Less: "close",
				Plausible: tolerance(t, "20 .. 30 mm", quantity.Length, mm), Sources: guess,
			},
			{
				Name: "wire.second", Title: "second wire",
				Kind: quantity.Length, Unit: mm, Subject: "piece", Datum: "the butt", Condition: dimension.Either,
				How: "to the twist", Tool: "ruler", More: "far", Less: "close", Sources: guess,
			},
			{
				Name: "wire.gap", Title: "first wire to second", Kind: quantity.Length, Unit: mm, Subject: "piece",
				Condition: dimension.Either, More: "long", Less: "short", Formula: "wire.first - wire.second", Sources: guess,
			},
			{
				Name: "wire.gauge", Title: "wire thickness", Kind: quantity.Length, Unit: awg, Subject: "batch", Across: true,
				Condition: dimension.Either, How: "across", More: "thick", Less: "thin",
				Plausible: tolerance(t, "26 .. 18 AWG", quantity.Length, awg),
				Sources:   []dimension.Source{{Says: "22 AWG", Who: "Nobody, Invented book, 1901", Grade: dimension.Published}},
			},
			{
				Name: "wire.turns", Title: "turns of wire", Kind: quantity.Count, Unit: count, Subject: "piece",
				Condition: dimension.Either, How: "count", More: "many", Less: "few",
				Plausible: tolerance(t, "1 .. 6", quantity.Count, count), Sources: guess,
			},
			{
				Name: "crow.pitch", Title: "crow", Kind: quantity.Pitch, Subject: "piece", Condition: dimension.Wet,
				How: "blow", More: "sharp", Less: "flat",
				Plausible: tolerance(t, "E4 .. F4", quantity.Pitch, quantity.Unit{}), Sources: guess,
			},
			{
				Name: "blade.thickness", Title: "blade thickness", Kind: quantity.Length, Unit: mm, Subject: "piece", Across: true,
				Condition: dimension.Wet, How: "in the hollow", More: "thick", Less: "thin", Sources: guess,
				Grid: &dimension.Grid{From: []string{"collar", "tip"}, Lanes: []string{"spine", "rails"}, Blades: []string{"A", "B"}, Short: "blade"},
			},
		},
	}
}

func TestFind(t *testing.T) {
	t.Parallel()
	set := sound(t)
	for _, c := range []struct{ say, ask, want string }{
		{"by name", "wire.first", "wire.first"},
		{"by alias", "top wire", "wire.first"},
		{"by title", "first wire", "wire.first"},
		{"case does not matter in a name", "Wire.First", "wire.first"},
		{"case does not matter in the ask", "UPPER WIRE", "wire.first"},
		{"blanks do not matter", "  top \t wire ", "wire.first"},
		{"blanks round the dot do not matter", "wire . first", "wire.first"},
		{"a derived dimension", "wire.gap", "wire.gap"},
		{"by the name it had", "Wire.Top", "wire.first"},
		{"a part is not the whole", "wire", ""},
		{"nothing", "", ""},
		{"blanks", "  ", ""},
	} {
		t.Run(c.say, func(t *testing.T) {
			t.Parallel()
			d, ok := set.Find(c.ask)
			if ok != (c.want != "") {
				t.Fatalf("Find(%q) found: %v", c.ask, ok)
			}
			if ok && d.Name != c.want {
				t.Errorf("Find(%q) is %s, want %s", c.ask, d.Name, c.want)
			}
		})
	}
}

func TestANameWinsOverAnAlias(t *testing.T) {
	t.Parallel()
	set := sound(t)
	set.Dimensions[0].Aliases = []string{"wire.second"}
	if d, _ := set.Find("wire.second"); d == nil || d.Name != "wire.second" {
		t.Errorf("got %v", d)
	}
}

func TestRenamed(t *testing.T) {
	t.Parallel()
	set := sound(t)
	set.Dimensions[1].Was = []string{"wire.first"} // another dimension's name by now
	for ask, want := range map[string]string{"wire.top": "wire.first", " Wire . Top": "wire.first", "wire.first": "", "top wire": "", "wire": "", "": ""} {
		got := ""
		if d, ok := set.Renamed(ask); ok {
			got = d.Name
		}
		if got != want {
			t.Errorf("%q was %q, want %q", ask, got, want)
		}
	}
}

// Digests are kept with batches: those of sets without old names must not
// change for there being such names.
func TestASetWithoutOldNamesIsWrittenAsBefore(t *testing.T) {
	t.Parallel()
	set := sound(t)
	set.Dimensions[0].Was = nil
	if b := set.Encode(); bytes.Contains(b, []byte("Was")) {
		t.Errorf("it is written as %s", b)
	}
}

func TestNear(t *testing.T) {
	t.Parallel()
	set := sound(t)
	for ask, want := range map[string]string{
		"wire.frist": "wire.first",
		"Top Wrie":   "top wire",
		"crow.pich":  "crow.pitch",
		"saddle":     "",
		"":           "",
	} {
		if got := set.Near(ask); got != want {
			t.Errorf("Near(%q) is %q, want %q", ask, got, want)
		}
	}
}

func TestEncodeAndDecodeLoseNothing(t *testing.T) {
	t.Parallel()
	set := sound(t)
	back, err := dimension.Decode(set.Encode())
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(back, set) {
		t.Errorf("got  %+v\nwant %+v", back, set)
	}
	if back.Digest() != set.Digest() {
		t.Error("the digest changed on the way")
	}
	found := back.Check()
	if found.Len() != 0 {
		t.Errorf("the set read back has findings: %v", found.Sorted())
	}
}

func TestTheDigestTellsSetsApart(t *testing.T) {
	t.Parallel()
	a, b := sound(t), sound(t)
	if a.Digest() != b.Digest() {
		t.Error("equal sets differ")
	}
	b.Dimensions[0].Plausible.High.Q++
	if a.Digest() == b.Digest() {
		t.Error("a limit moved by one nanometre is not seen")
	}
}

func TestDecodeRefuses(t *testing.T) {
	t.Parallel()
	for _, text := range []string{"", "{", `{"Dimensions":[{"Kind":"colour"}]}`, `{"Dimensions":[{"Unit":"furlong"}]}`} {
		if _, err := dimension.Decode([]byte(text)); err == nil || !strings.HasPrefix(err.Error(), "read a stored dimension set: ") {
			t.Errorf("%q gives %v", text, err)
		}
	}
}
