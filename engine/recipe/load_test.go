package recipe_test

import (
	"strings"
	"testing"

	"canewright/engine/recipe"
)

func TestCasesAreRead(t *testing.T) {
	t.Parallel()
	cases, list := recipe.LoadCases("cases.yaml", []byte(`canewright: cases 1
cases:
  - case: on the limit
    stage: bind
    readings: {wire.first: 27.5 mm, wire.second: 3/4 in}
    verdicts: {wire.first: inside}
    then: going on
`))
	if list.Len() > 0 || len(cases) != 1 {
		t.Fatal(text(t, list))
	}
	c := cases[0]
	if c.Name.Value != "on the limit" || c.Stage.Value != "bind" || len(c.Readings) != 2 || c.Readings[1].Name.Value != "wire.second" || c.Readings[1].Value.Value != "3/4 in" ||
		c.Verdicts[0].Value.Value != "inside" || c.Then.Value != "going on" {
		t.Errorf("%+v", c)
	}
	for data, want := range map[string]string{
		"canewright: cases 2\ncases: [{case: a, stage: b, readings: {}, verdicts: {}}]": "recipe/format",
		"canewright: cases 1\ncases: []":                                                "recipe/wrong-shape",
		"canewright: cases 1\ncases: [{case: a}]":                                       "yaml/missing-key",
		"canewright: cases 1\ncases: [{case: a, stage: b, readings: x, verdicts: {}}]":  "recipe/wrong-shape",
	} {
		if _, list := recipe.LoadCases("cases.yaml", []byte(data)); !strings.Contains(text(t, list), want) {
			t.Errorf("%s:\n%s", data, text(t, list))
		}
	}
}

func TestTheFileKeepsItsHead(t *testing.T) {
	t.Parallel()
	f, list := recipe.Load("r.yaml", []byte(head+"author: nobody\nlicence: CC-BY-4.0\nabout: |\n  Two\n  lines.\nstages: [{stage: a}]\n"))
	if f == nil {
		t.Fatal(text(t, list))
	}
	if f.Title != "a reed" || f.ID != "a-reed" || f.Version != 1 || f.Instrument != "shawm" || f.Major != 1 || f.Author != "nobody" || f.Licence != "CC-BY-4.0" || f.About != "Two\nlines." || f.Source.Name != "r.yaml" {
		t.Errorf("%+v", f)
	}
	if s := f.InstrumentSpan(); s.From.Line != 5 || s.From.Col != 13 {
		t.Errorf("instrument at %+v", s.From)
	}
}
