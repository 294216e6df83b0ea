package dimension_test

import (
	"bytes"
	"fmt"
	"reflect"
	"strings"
	"testing"
	"time"

	"canewright/engine/dimension"
	"canewright/engine/quantity"
)

// outlined is the sound set with an outline without a fault.
func outlined(t testing.TB) *dimension.Set {
	t.Helper()
	set := sound(t)
	mm, _ := quantity.UnitNamed("mm")
	opening := set.Dimensions[0]
	opening.Name, opening.Title, opening.Aliases, opening.Was, opening.Plausible = "tip.opening", "opening of the tip", nil, nil, quantity.Tolerance{}
	opening.Across, opening.Datum, opening.Unit, opening.More, opening.Less, opening.Condition = true, "", mm, "open", "closed", dimension.Wet
	set.Dimensions = append(set.Dimensions, opening)
	memory := dimension.Source{Says: "invented", Grade: dimension.FromMemory}
	set.Outline = &dimension.Outline{
		From: "the butt",
		Values: []dimension.OutlineValue{
			{Name: "wire.second", Text: "18 mm", Q: 18e6, Source: memory},
			{Name: "wire.turns", Text: "2", Q: 2, Source: memory},
			{Name: "drawn.tip", Title: "width at the tip", Text: "14 mm", Q: 14e6, Source: memory},
		},
		Parts: []dimension.OutlinePart{
			{Title: "tube", Look: dimension.LookBark, Smooth: true, Points: []dimension.OutlinePoint{
				{At: "0 mm", Width: "7 mm", Deep: "7 mm"}, {At: "wire.first", Width: "drawn.tip / 2", Deep: "6 mm"}}},
			{Title: "blade", Look: dimension.LookBlade, Points: []dimension.OutlinePoint{
				{At: "wire.first", Width: "drawn.tip / 2", Deep: "6 mm"}, {At: "2 * wire.first", Width: "drawn.tip", Deep: "tip.opening + 0.2 mm"}}},
		},
		Marks: []dimension.OutlineMark{
			{Title: "second wire", As: dimension.MarkWire, At: "wire.second", Thick: "0.6 mm", Turns: "wire.turns"},
			{Title: "half way", As: dimension.MarkLine, At: "wire.first - wire.gap / 2", Middle: "wire.first"},
		},
		Tip: &dimension.OutlineTip{Width: "drawn.tip", Opening: "tip.opening", Thickness: "0.1 mm"},
	}
	return set
}

func TestAnOutlineWithoutAFault(t *testing.T) {
	t.Parallel()
	set := outlined(t)
	if found := set.Check(); found.Len() != 0 {
		t.Fatalf("%v", found.Sorted())
	}
	back, err := dimension.Decode(set.Encode())
	if err != nil || !reflect.DeepEqual(back, set) || back.Digest() != set.Digest() {
		t.Errorf("a stored set differs: %v", err)
	}
	// Sets that were stored before keep their digest.
	if bytes.Contains(sound(t).Encode(), []byte("Outline")) {
		t.Error("a set without an outline is written in another way")
	}
}

func TestAFigureIsDrawnWithTheUsualNumbersElseTheMiddle(t *testing.T) {
	t.Parallel()
	f, err := outlined(t).Figure(nil)
	if err != nil {
		t.Fatal(err)
	}
	// wire.first is plausible from 20 to 30 mm: 25. wire.gap is worked out: 25 - 18.
	tube := []string{"wire.first", "drawn.tip"}
	want := []dimension.FigurePart{
		{Title: "tube", Look: "bark", Smooth: true, Points: []dimension.FigurePoint{{At: 0, Width: 7e6, Deep: 7e6}, {At: 25e6, Width: 7e6, Deep: 6e6}}, Rests: tube},
		{Title: "blade", Look: "blade", Points: []dimension.FigurePoint{{At: 25e6, Width: 7e6, Deep: -1}, {At: 50e6, Width: 14e6, Deep: -1}}, Rests: tube},
	}
	if !reflect.DeepEqual(f.Parts, want) {
		t.Errorf("got  %+v\nwant %+v", f.Parts, want)
	}
	marks := []dimension.FigureMark{
		{Title: "second wire", As: "wire", At: 18e6, Middle: 18e6, Thick: 6e5, Turns: 2, Rests: []string{"wire.second"}},
		{Title: "half way", As: "line", At: 21_500_000, Middle: 25e6, Turns: 1, Rests: []string{"wire.first", "wire.second"}},
	}
	if !reflect.DeepEqual(f.Marks, marks) {
		t.Errorf("got  %+v\nwant %+v", f.Marks, marks)
	}
	if got, want := f.Wants(), "the side of the blade (no number for tip.opening); the tip from its end (no number for tip.opening)"; got != want || f.Tip != nil {
		t.Errorf("it wants %q, and its tip is %v", got, f.Tip)
	}
	var used []string
	for _, u := range f.Used {
		used = append(used, u.Name+" "+u.Text+" "+string(u.Basis))
	}
	if got, want := strings.Join(used, "; "), "wire.first 25 mm middle; wire.second 18 mm usual; wire.turns 2 usual; drawn.tip 14 mm usual"; got != want {
		t.Errorf("used %q, want %q", got, want)
	}
}

func entered(t *testing.T, set *dimension.Set, name, value string) (string, quantity.Entered) {
	t.Helper()
	word, kind, bare, ok := set.Drawn(name)
	if !ok {
		t.Fatalf("%q is nothing that is drawn", name)
	}
	e, err := quantity.Parse(value, quantity.Style{Want: kind, Bare: bare})
	if err != nil {
		t.Fatal(err)
	}
	return word, e
}

func TestThePlayersNumbersWin(t *testing.T) {
	t.Parallel()
	set := outlined(t)
	own := map[string]quantity.Entered{}
	for name, value := range map[string]string{"Top Wire": "31", "width at the tip": "1/2 in", "tip.opening": "1 mm", "wire.turns": "3"} {
		word, e := entered(t, set, name, value)
		own[word] = e
	}
	f, err := set.Figure(own)
	if err != nil {
		t.Fatal(err)
	}
	if p := f.Parts[1].Points; p[0].At != 31e6 || p[1].At != 62e6 || p[1].Width != 12_700_000 || p[1].Deep != 1_200_000 {
		t.Errorf("the blade is %+v", p)
	}
	if f.Tip == nil || *f.Tip != (dimension.FigureTip{Width: 12_700_000, Opening: 1e6, Thickness: 1e5}) || len(f.Lacks) != 0 || f.Marks[0].Turns != 3 {
		t.Errorf("the tip is %v, the wire %+v, it lacks %v", f.Tip, f.Marks[0], f.Lacks)
	}
	if len(f.Unsure) != 1 || f.Unsure[0] != "first wire: 31 mm is outside what is plausible, 20 to 30 mm." {
		t.Errorf("%q", f.Unsure)
	}
	for _, name := range []string{"wire.gap", "blade.thickness", "saddle", ""} {
		if word, _, _, ok := set.Drawn(name); ok {
			t.Errorf("%q is taken for %s", name, word)
		}
	}
}

func TestNumbersThatMakeNoReedAreRefused(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ name, value, want string }{
		{"wire.first", "-5 mm", "the tube goes back: -5.00 mm comes after 0.00 mm"},
		{"wire.first", "0 mm", "the tube has no length"},
		{"drawn.tip", "-14 mm", "the tube has a width of -7.00 mm at 25.00 mm"},
		{"drawn.tip", "3 km", "longer than can be drawn"},
		{"tip.opening", "-1 mm", "the blade has a width of -0.80 mm"},
	} {
		t.Run(c.name+" "+c.value, func(t *testing.T) {
			t.Parallel()
			set := outlined(t)
			q, err := quantity.Parse(strings.Replace(c.value, "3 km", "3000 m", 1), quantity.Style{Want: quantity.Length})
			if err != nil {
				t.Fatal(err)
			}
			if _, err := set.Figure(map[string]quantity.Entered{c.name: q}); err == nil || !strings.Contains(strings.ReplaceAll(err.Error(), "−", "-"), c.want) {
				t.Errorf("got %v, want %q", err, c.want)
			}
		})
	}
	if _, err := sound(t).Figure(nil); err == nil || err.Error() != "the dimension set shawm 1.2 has no outline" {
		t.Error(err)
	}
}

func TestCheckFindsInOutlines(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		say   string
		spoil func(*dimension.Set)
		code  string
		names string
	}{
		{"no parts", func(s *dimension.Set) { s.Outline.Parts = nil }, "dimension/outline", "0 parts"},
		{"no datum", func(s *dimension.Set) { s.Outline.From = " " }, "dimension/missing", "datum"},
		{"many parts", func(s *dimension.Set) { s.Outline.Parts = make([]dimension.OutlinePart, 1000) }, "dimension/outline", "1000 parts"},
		{"many marks", func(s *dimension.Set) { s.Outline.Marks = make([]dimension.OutlineMark, 1000) }, "dimension/outline", "1000 marks"},
		{"many formulas", func(s *dimension.Set) {
			s.Outline.Parts[0].Points = make([]dimension.OutlinePoint, 60)
			for len(s.Outline.Parts) < 5 {
				s.Outline.Parts = append(s.Outline.Parts, s.Outline.Parts[0])
			}
		}, "dimension/size", "formulas"},
		{"one point", func(s *dimension.Set) { s.Outline.Parts[0].Points = s.Outline.Parts[0].Points[:1] }, "dimension/outline", "1 points"},
		{"control characters", func(s *dimension.Set) { s.Outline.Parts[0].Title = "tube\x1b[2J" }, "dimension/text", "control"},
		{"text that hides", func(s *dimension.Set) { s.Outline.Marks[0].Title = "wire\u202e" }, "dimension/text", "control"},
		{"two lines", func(s *dimension.Set) { s.Outline.Marks[0].Title = "wire\nwire" }, "dimension/text", "single line"},
		{"half deep", func(s *dimension.Set) { s.Outline.Parts[0].Points[1].Deep = "" }, "dimension/outline", "deep at 1 of 2"},
		{"a wire of no thickness", func(s *dimension.Set) { s.Outline.Marks[0].Thick = "" }, "dimension/outline", "how thick"},
		{"an unknown name", func(s *dimension.Set) { s.Outline.Parts[0].Points[1].At = "wire.frist" }, "formula/unknown-name", "wire.frist"},
		{"no formula", func(s *dimension.Set) { s.Outline.Parts[0].Points[1].At = "" }, "formula/", ""},
		{"a question", func(s *dimension.Set) { s.Outline.Parts[0].Points[1].At = "wire.first > 1 mm" }, "dimension/outline", "not a number"},
		{"a count", func(s *dimension.Set) { s.Outline.Parts[0].Points[1].At = "wire.turns" }, "dimension/outline", "not a length"},
		{"a mixture", func(s *dimension.Set) { s.Outline.Parts[0].Points[1].At = "wire.first + 1" }, "formula/", ""},
		{"turns of a length", func(s *dimension.Set) { s.Outline.Marks[0].Turns = "wire.first" }, "dimension/outline", "not a count"},
		{"goes back", func(s *dimension.Set) { s.Outline.Parts[1].Points[1].At = "wire.second" }, "dimension/outline", "goes back"},
		{"a value twice", func(s *dimension.Set) { s.Outline.Values = append(s.Outline.Values, s.Outline.Values[2]) }, "dimension/repeated", "drawn.tip"},
		{"a value by an alias", func(s *dimension.Set) { s.Dimensions[0].Aliases = []string{"drawn.tip"} }, "dimension/repeated", "drawn.tip"},
		{"an odd name", func(s *dimension.Set) { s.Outline.Values[2].Name = "Drawn Tip" }, "dimension/outline", "Drawn Tip"},
		{"no title", func(s *dimension.Set) { s.Outline.Values[2].Title = "" }, "dimension/missing", "title"},
		{"no source", func(s *dimension.Set) { s.Outline.Values[2].Source = dimension.Source{} }, "dimension/missing", "source"},
		{"worked out", func(s *dimension.Set) { s.Outline.Values[0].Name = "wire.gap" }, "dimension/outline", "worked out"},
		{"of stations", func(s *dimension.Set) { s.Outline.Values[0].Name = "blade.thickness" }, "dimension/outline", "stations"},
		{"not plausible", func(s *dimension.Set) { s.Outline.Values[1].Q = 9 }, "dimension/outline", "above the plausible range 1 to 6"},
		{"a mile", func(s *dimension.Set) { s.Outline.Values[2].Q = 1 << 60 }, "dimension/outline", "too large"},
		{"a bomb", func(s *dimension.Set) {
			s.Outline.Parts[0].Points[1].At = strings.Repeat("(", 400) + "wire.first" + strings.Repeat(")", 400)
		}, "formula/", ""},
	} {
		t.Run(c.say, func(t *testing.T) {
			t.Parallel()
			set := outlined(t)
			c.spoil(set)
			fails(t, set, c.code, c.names)
		})
	}
}

// A look of a later time is drawn plain: the set can be used.
func TestAnUnknownLookIsAWarning(t *testing.T) {
	t.Parallel()
	set := outlined(t)
	set.Outline.Parts[0].Look, set.Outline.Marks[1].As = "lacquer", "dotted line"
	if found := set.Check(); found.Failed() || found.Len() != 2 {
		t.Errorf("%v", found.Sorted())
	}
}

// Nobody publishes a number for some reeds: the set is sound, and is drawn when
// its player says them. Numbers of what is not drawn are not listed.
func TestAReedWithoutNumbersIsDrawnWithThePlayers(t *testing.T) {
	t.Parallel()
	set := outlined(t)
	set.Dimensions[0].Plausible = quantity.Tolerance{} // wire.first
	if found := set.Check(); found.Len() != 0 {
		t.Fatalf("%v", found.Sorted())
	}
	if _, err := set.Figure(nil); err == nil || err.Error() != "there is no number for wire.first" {
		t.Errorf("got %v", err)
	}
	word, e := entered(t, set, "first wire", "24 mm")
	set.Outline.Marks[0].Thick = "tip.opening" // lacks; so no turns are drawn
	f, err := set.Figure(map[string]quantity.Entered{word: e})
	if err != nil {
		t.Fatal(err)
	}
	if len(f.Parts) != 2 || len(f.Marks) != 1 {
		t.Errorf("drawn are %+v and %+v", f.Parts, f.Marks)
	}
	for _, u := range f.Used {
		if u.Name == "wire.turns" {
			t.Error("the turns of a wire that is not drawn are listed")
		}
	}
	if len(f.Used) != 3 || f.Used[0].Basis != dimension.BasisChosen {
		t.Errorf("used are %+v", f.Used)
	}
}

// A plugin is a stranger: each of many worked-out dimensions needs the two
// before it, so that their ways down are as many as there are stars.
func TestADeepPileOfFormulasIsDrawnInShortTime(t *testing.T) {
	t.Parallel()
	for _, known := range []bool{true, false} {
		set := outlined(t)
		if !known {
			set.Dimensions[0].Plausible = quantity.Tolerance{}
		}
		gap := set.Dimensions[2]
		for i := range 200 {
			one := gap
			one.Name, one.Title = fmt.Sprintf("pile.p%d", i), fmt.Sprintf("pile %d", i)
			one.Formula = "wire.first / 2"
			if i > 1 {
				one.Formula = fmt.Sprintf("(pile.p%d + pile.p%d) / 2", i-1, i-2)
			}
			set.Dimensions = append(set.Dimensions, one)
		}
		set.Outline.Parts[0].Points[1].Width = "pile.p199"
		start := time.Now()
		if found := set.Check(); found.Failed() {
			t.Fatalf("%v", found.Sorted())
		}
		f, err := set.Figure(nil)
		if took := time.Since(start); took > 5*time.Second {
			t.Errorf("it took %s", took)
		}
		if known != (err == nil) || known && f.Parts[0].Points[1].Width != 12_500_000 || !known && err.Error() != "there is no number for wire.first" {
			t.Errorf("known %v: %+v, %v", known, f, err)
		}
	}
}
