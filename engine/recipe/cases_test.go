package recipe_test

import (
	"strings"
	"testing"

	"canewright/engine/recipe"
)

func TestACaseMayAnswerALook(t *testing.T) {
	t.Parallel()
	cases, list := recipe.LoadCases("cases.yaml", []byte(`canewright: cases 1
cases:
  - case: it leaks
    stage: suction test
    answers: [it never holds]
    then: set aside
  - case: high, and in one pitch only
    stage: crow
    readings: {crow.pitch: F4}
    answers: [several octaves, one pitch only]
    then: going on
`))
	if list.Len() > 0 || len(cases) != 2 {
		t.Fatal(text(t, list))
	}
	if c := cases[0]; len(c.Answers) != 1 || c.Answers[0].Value != "it never holds" || len(c.Readings) != 0 || c.Then.Value != "set aside" {
		t.Errorf("%+v", c)
	}
	if c := cases[1]; len(c.Answers) != 2 || c.Answers[1].Value != "one pitch only" || len(c.Readings) != 1 {
		t.Errorf("%+v", c)
	}
	for data, want := range map[string]string{
		"canewright: cases 1\ncases: [{case: a, stage: b, then: going on}]":              "yaml/missing-key",
		"canewright: cases 1\ncases: [{case: a, stage: b, answers: [x]}]":                "yaml/missing-key",
		"canewright: cases 1\ncases: [{case: a, stage: b, answers: [], then: going on}]": "recipe/look",
		"canewright: cases 1\ncases: [a]":                                                "yaml/",
	} {
		if _, list := recipe.LoadCases("cases.yaml", []byte(data)); !strings.Contains(text(t, list), want) {
			t.Errorf("%s:\n%s", data, text(t, list))
		}
	}
}
