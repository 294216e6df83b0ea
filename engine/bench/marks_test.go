package bench_test

import (
	"slices"
	"testing"

	"canewright/engine/bench"
)

func TestMarks(t *testing.T) {
	t.Parallel()
	for text, want := range map[string][]string{
		"31-34 B7": {"31", "32", "33", "34", "B7"}, "Lotte, 葦": {"Lotte", "葦"}, "शर": {"शर"}, "G-2": {"G-2"}, "7": {"7"},
	} {
		got, err := bench.Marks(text)
		if err != nil || !slices.Equal(got, want) {
			t.Errorf("%q: %v %v, want %v", text, got, err, want)
		}
	}
	for text, want := range map[string]string{
		"": "there is no mark in it; write for example 31-42", "done": `"done" is a word of the bench`, "1.31": `"1.31" holds a sign that cannot stand in a mark; letters, digits and hyphens can`,
		"34-31": `"34-31" is no range of numbers; write the lower one first: 31-42`, "a A": `"A" stands there twice`, "-3": `"-3" does not begin with a letter or a digit`,
		"1-999999": `"1-999999" is no range of numbers; write the lower one first: 31-42`, "aaaaaaaaaaaaaaaaaaaaa": `"aaaaaaaaaaaaaaaaaaaaa" is longer than 20 letters`,
	} {
		if _, err := bench.Marks(text); err == nil || err.Error() != want {
			t.Errorf("%q: %v, want %s", text, err, want)
		}
	}
}
