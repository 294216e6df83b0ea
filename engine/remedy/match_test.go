package remedy_test

import (
	"slices"
	"strings"
	"testing"

	"canewright/engine/dimension"
	"canewright/engine/remedy"
)

func symptoms() []dimension.Symptom {
	return []dimension.Symptom{
		{Name: "low-resists", Words: "low notes do not speak", Also: []string{"the bottom resists"}},
		{Name: "low-stops", Words: "the lowest notes stop after wire work"},
		{Name: "high-weak", Words: "high notes are weak"},
		{Name: "crow-high", Words: "the crow is too high and tight", Also: []string{"it crows high"}},
	}
}

func TestMatch(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ said, want string }{
		{"low-resists", "low-resists"},
		{"LOW NOTES  do not speak", "low-resists"},
		{"the bottom resists", "low-resists"},
		{"low notes", "low-resists"},
		{"low notes don't speak", "low-resists"},
		{"the bottom notes resist", "low-resists"},
		{"it crows high", "crow-high"},
		{"crow too high", "crow-high"},
		{"hihg notes weak", "high-weak"},
		{"whistles", ""},
		{"the is a", ""},
		{"", ""},
	} {
		var got []string
		for _, s := range remedy.Match(symptoms(), c.said) {
			got = append(got, s.Name)
		}
		if c.want == "" && len(got) > 0 || c.want != "" && (len(got) == 0 || got[0] != c.want) {
			t.Errorf("%q is %q, want %q first", c.said, got, c.want)
		}
	}
}

func FuzzMatch(f *testing.F) {
	for _, s := range []string{"", "low notes don't speak", "crow too high", "the the the", "\x1b[2J", "\xff\xfe", strings.Repeat("low ", 5000), "ﬁne ’ — ‽", "HIGH notes, weak!"} {
		f.Add(s, s)
	}
	all := symptoms()
	f.Fuzz(func(t *testing.T, said, also string) {
		if len(also) > 4<<10 {
			return
		}
		known := append(slices.Clone(all), dimension.Symptom{Name: "fuzzed", Words: also, Also: []string{said}})
		got := remedy.Match(known, said)
		seen := map[string]bool{}
		for _, s := range got {
			if seen[s.Name] {
				t.Errorf("%q twice", s.Name)
			}
			seen[s.Name] = true
		}
		if i, ok := dimension.FindSymptom(known, said); ok && (len(got) != 1 || got[0].Name != known[i].Name) {
			t.Errorf("%q is %q itself", said, known[i].Name)
		}
		again := remedy.Match(known, said)
		if !slices.EqualFunc(got, again, func(a, b dimension.Symptom) bool { return a.Name == b.Name }) {
			t.Error("another answer to the same")
		}
	})
}
