package tool

import (
	"slices"
	"strings"
	"testing"
)

func names(u Use) string {
	var out []string
	for _, t := range u.Tools {
		out = append(out, "t:"+t.Name)
	}
	for _, m := range u.Materials {
		out = append(out, "m:"+m.Name)
	}
	for _, a := range u.Actions {
		out = append(out, "a:"+a)
	}
	return strings.Join(out, " ")
}

func TestSpoken(t *testing.T) {
	t.Parallel()
	c := Standard()
	cases := []struct{ text, want string }{
		{"Scrape the back.", "a:scrape"},
		{"SCRAPING goes on", "a:scrape"},
		{"He scrapes it", "a:scrape"},
		{"Take the reed knives.", "t:knife"},
		{"Use a scraping knife", "t:knife"},
		{"Cut the tip.", "a:cut the tip"},
		{"Clip the tip with the tip cutter", "t:tip cutter a:cut the tip"},
		{"Cut each piece to length.", "a:cut to length"},
		{"Split the tube into four.", "a:split"},
		{"Turn down the tube if it splits.", ""},
		{"File the edge", "t:file a:file"},
		{"nail varnish on the thread", "m:nail varnish m:thread"},
		{"Varnish the thread", "m:lacquer m:thread a:varnish"},
		{"Glue between second and third wire; wind the thread; glue over it.", "m:glue m:thread a:glue"},
		{"after the glue is hard", "m:glue a:glue"},
		{"hot-melt glue", "m:hot glue"},
		{"Score from the butt towards the first wire, none past {wire.first}.", "a:score"},
		{"Fold; first wire, loose, at {wire.first}; bind the tube with string.", "m:wire m:cotton string"},
		{"Warm mandrel straight to its line, no twisting.", "t:heated mandrel a:heat"},
		{"Warm it in the flame", "a:flame"},
		{"Boil the cane for a minute", "m:cane a:soak hot"},
		{"Pour boiling water into the cup", "t:cup m:hot water"},
		{"Soak in cold water until it sinks", "m:water"},
		{"Check the shape against the light", "t:lamp"},
		{"Tighten the third wire first", "a:twist wire"},
		{"Cut the wire ends", "a:cut wire"},
		{"Mark it 3 mm above the first wire", ""},
		{"{knife} and {blade.thickness}", ""},
		{"a stray { brace before the knife", "t:knife"},
		{"Crow it on the staple", "m:staple a:play"},
		{"beeswax or bees' wax", "m:beeswax"},
		{"instant glue on cotton thread", "m:cyanoacrylate m:cotton thread"},
		{"Sharpen on the whetstone, then strop", "t:sharpening stone t:strop a:sharpen a:strop"},
		{"", ""},
		{"knifelike filed-down profiles", "a:file a:profile"},
	}
	for _, k := range cases {
		if got := names(c.Spoken(k.text)); got != k.want {
			t.Errorf("%q:\n got %s\nwant %s", k.text, got, k.want)
		}
	}
}

// The words of every tool, material and action are found in a sentence, so
// that none is lost to a longer or a harmless phrase.
func TestEveryWordIsHeard(t *testing.T) {
	t.Parallel()
	c := Standard()
	for _, x := range c.tools {
		for _, n := range append([]string{x.Name}, x.Aliases...) {
			u := c.Spoken("Now, " + strings.ToUpper(n) + "!")
			if !slices.ContainsFunc(u.Tools, func(t Tool) bool { return t.Name == x.Name }) {
				t.Errorf("%q is heard as %s", n, names(u))
			}
		}
	}
	for _, x := range c.materials {
		for _, n := range append([]string{x.Name}, x.Aliases...) {
			u := c.Spoken("Now, " + n + "!")
			if !slices.ContainsFunc(u.Materials, func(m Material) bool { return m.Name == x.Name }) {
				t.Errorf("%q is heard as %s", n, names(u))
			}
		}
	}
	for _, a := range c.actions {
		for _, w := range append([]string{a.Name}, a.Words...) {
			if !slices.Contains(c.Spoken("Now "+w+".").Actions, a.Name) && slices.Contains(a.Words, w) {
				t.Errorf("%q is heard as %s", w, names(c.Spoken(w)))
			}
		}
	}
}

func TestSpokenIsTheSameEveryTime(t *testing.T) {
	t.Parallel()
	text := "File, sand and scrape the reed; seal with cement over the flame, twist the wire, clip the tip."
	want := names(Standard().Spoken(text))
	for range 20 {
		if got := names(Standard().Spoken(text)); got != want {
			t.Fatalf("got %s, then %s", want, got)
		}
	}
}

func FuzzSpoken(f *testing.F) {
	f.Add("Cut the tip with {a} knives")
	f.Add("}{}{ the the the")
	c := Standard()
	f.Fuzz(func(t *testing.T, text string) {
		if a, b := names(c.Spoken(text)), names(c.Spoken(text)); a != b {
			t.Errorf("%q: %s, then %s", text, a, b)
		}
	})
}
