package dimension_test

import (
	"reflect"
	"strings"
	"testing"

	"canewright/engine/dimension"
)

// advised is the sound set with two symptoms and two remedies.
func advised(t testing.TB) *dimension.Set {
	t.Helper()
	s := sound(t)
	s.Symptoms = []dimension.Symptom{
		{Name: "low-notes-stop", Words: "low notes stop", Also: []string{"the bottom dies"}},
		{Name: "crow-high", Words: "the crow is too high"},
	}
	guess := []dimension.Source{{Says: "invented", Grade: dimension.FromMemory}}
	s.Remedies = []dimension.Remedy{
		{Name: "round the second wire", Symptoms: []string{"low-notes-stop"}, Because: "it went oval", Do: "Round it.",
			Wire: "second", Axis: "sides", Touches: dimension.TouchesWires, Measure: []string{"wire.second"}, Sources: guess},
		{Name: "a little off the spine", Symptoms: []string{"crow-high"}, When: []string{"crow.pitch > E4 + 50 cents"}, Because: "too thick",
			Do: "Measure, then one stroke.", Touches: dimension.TouchesKnife, TakesOff: []string{"blade.thickness spine"},
			Expect: []dimension.Effect{{Dimension: "crow.pitch", Way: dimension.Less}}, Sources: guess},
	}
	return s
}

func TestASetWithRemediesHasNoFindingsAndComesBackWhole(t *testing.T) {
	t.Parallel()
	set := advised(t)
	found := set.Check()
	for _, d := range found.Sorted() {
		t.Error(d)
	}
	back, err := dimension.Decode(set.Encode())
	if err != nil || !reflect.DeepEqual(back, set) {
		t.Errorf("%v\ngot  %+v\nwant %+v", err, back, set)
	}
	if set.Digest() == sound(t).Digest() {
		t.Error("the digest does not see remedies")
	}
}

// A set kept by an earlier version has neither key.
func TestASetWithoutRemediesIsWrittenAsBefore(t *testing.T) {
	t.Parallel()
	if text := string(sound(t).Encode()); strings.Contains(text, "Symptoms") || strings.Contains(text, "Remedies") {
		t.Error(text)
	}
}

func TestCheckFindsInRemedies(t *testing.T) {
	t.Parallel()
	many := func(n int) []string { return strings.Fields(strings.Repeat("x ", n)) }
	for _, c := range []struct {
		say   string
		spoil func(*dimension.Set)
		code  string
		names string
	}{
		{"a symptom in capitals", func(s *dimension.Set) { s.Symptoms[0].Name = "Low" }, "dimension/symptom", "Low"},
		{"a symptom without words", func(s *dimension.Set) { s.Symptoms[0].Words = " " }, "dimension/missing", "words"},
		{"words of two lines", func(s *dimension.Set) { s.Symptoms[0].Words = "low\nnotes" }, "dimension/text", "single line"},
		{"words that move the terminal", func(s *dimension.Set) { s.Symptoms[0].Also[0] = "\x1b[2J" }, "dimension/text", "control"},
		{"words of two symptoms", func(s *dimension.Set) { s.Symptoms[1].Also = []string{"Low  notes stop"} }, "dimension/repeated", "crow-high"},
		{"a symptom nobody has", func(s *dimension.Set) { s.Remedies[0].Symptoms[0] = "buzzes" }, "dimension/symptom", "buzzes"},
		{"a remedy twice", func(s *dimension.Set) { s.Remedies[1].Name = "Round the second wire" }, "dimension/repeated", "no. 1"},
		{"a remedy without a name", func(s *dimension.Set) { s.Remedies[0].Name = "" }, "dimension/missing", "no. 1"},
		{"a remedy with a long name", func(s *dimension.Set) { s.Remedies[0].Name = strings.Repeat("x", 61) }, "dimension/text", "60"},
		{"nothing to do", func(s *dimension.Set) { s.Remedies[0].Do = "" }, "dimension/missing", "step"},
		{"no cause", func(s *dimension.Set) { s.Remedies[0].Because = "" }, "dimension/missing", "cause"},
		{"a step that moves the terminal", func(s *dimension.Set) { s.Remedies[0].Do = "\x07" }, "dimension/text", "control"},
		{"no source", func(s *dimension.Set) { s.Remedies[0].Sources = nil }, "dimension/source", "round the second wire"},
		{"a published source of nobody", func(s *dimension.Set) { s.Remedies[0].Sources[0].Grade = dimension.Published }, "dimension/missing", "source"},
		{"nothing that calls it up", func(s *dimension.Set) { s.Remedies[0].Symptoms = nil }, "dimension/remedy", "call it up"},
		{"an odd thing touched", func(s *dimension.Set) { s.Remedies[0].Touches = "pliers" }, "dimension/remedy", "pliers"},
		{"a fourth wire", func(s *dimension.Set) { s.Remedies[0].Wire = "fourth" }, "dimension/remedy", "fourth"},
		{"an axis without a wire", func(s *dimension.Set) { s.Remedies[0].Wire = "" }, "dimension/remedy", "not which"},
		{"a knife that goes nowhere", func(s *dimension.Set) { s.Remedies[1].TakesOff = nil }, "dimension/remedy", "makes smaller"},
		{"a lane nobody has", func(s *dimension.Set) { s.Remedies[1].TakesOff = []string{"blade.thickness middle"} }, "dimension/remedy", "middle"},
		{"a measure nobody has", func(s *dimension.Set) { s.Remedies[0].Measure = []string{"wire.frist"} }, "dimension/remedy", "wire.frist"},
		{"an effect on nothing", func(s *dimension.Set) { s.Remedies[1].Expect[0].Dimension = "sound" }, "dimension/remedy", "sound"},
		{"an effect sideways", func(s *dimension.Set) { s.Remedies[1].Expect[0].Way = "left" }, "dimension/remedy", "left"},
		{"a formula that names nothing", func(s *dimension.Set) { s.Remedies[1].When[0] = "crow.pich > F4" }, "formula/unknown-name", "crow.pich"},
		{"a formula that works out a number", func(s *dimension.Set) { s.Remedies[1].When[0] = "wire.first" }, "formula/not-a-question", "length"},
		{"a formula over stations", func(s *dimension.Set) { s.Remedies[1].When[0] = "blade(3 mm, spine, A) > 1 mm" }, "formula/", ""},
		{"too many formulas", func(s *dimension.Set) { s.Remedies[1].When = many(9) }, "dimension/size", "formulas"},
		{"too many symptoms of one", func(s *dimension.Set) { s.Remedies[1].Symptoms = many(31) }, "dimension/size", "symptoms"},
		{"too many remedies", func(s *dimension.Set) { s.Remedies = make([]dimension.Remedy, 10_000) }, "dimension/size", "10000"},
		{"too many symptoms", func(s *dimension.Set) { s.Symptoms = make([]dimension.Symptom, 201) }, "dimension/size", "201"},
		{"too many ways of saying it", func(s *dimension.Set) { s.Symptoms[0].Also = many(51) }, "dimension/size", "50"},
	} {
		t.Run(c.say, func(t *testing.T) {
			t.Parallel()
			set := advised(t)
			c.spoil(set)
			fails(t, set, c.code, c.names)
		})
	}
}

func TestASymptomNobodyHelpsIsAWarning(t *testing.T) {
	t.Parallel()
	set := advised(t)
	set.Symptoms = append(set.Symptoms, dimension.Symptom{Name: "buzzes", Words: "it buzzes"})
	found := set.Check()
	if found.Failed() || found.Len() != 1 || found.Sorted()[0].Code != "dimension/symptom" {
		t.Errorf("%v", found.Sorted())
	}
}

// A plugin is a stranger: as many formulas as fit, each as long as one may be.
func TestFormulaBombsAreRefusedInShortTime(t *testing.T) {
	t.Parallel()
	set := advised(t)
	long := "wire.first" + strings.Repeat(" + wire.first", 30) + " > 1 mm"
	r := set.Remedies[1]
	set.Remedies = nil
	for i := range 400 {
		one := r
		one.Name = strings.Repeat("x", i%50+1) + strings.Repeat("y", i/50)
		one.When = []string{long, long, long}
		set.Remedies = append(set.Remedies, one)
	}
	if found := set.Check(); !found.Failed() {
		t.Error("1200 formulas are read")
	}
}

func TestPart(t *testing.T) {
	t.Parallel()
	set := sound(t)
	for _, c := range []struct{ ask, name, lane string }{
		{"wire.first", "wire.first", ""},
		{"Top wire", "wire.first", ""},
		{"blade.thickness", "blade.thickness", ""},
		{"blade.thickness  Spine", "blade.thickness", "spine"},
		{"blade.thickness middle", "", ""},
		{"wire.first spine", "", ""},
		{"", "", ""},
	} {
		d, lane, ok := set.Part(c.ask)
		if ok != (c.name != "") || ok && (d.Name != c.name || lane != c.lane) {
			t.Errorf("Part(%q) is %v, %q, %v", c.ask, d, lane, ok)
		}
	}
}

func TestWiresComeBeforeKnife(t *testing.T) {
	t.Parallel()
	order := dimension.TouchesInOrder()
	for i, what := range order {
		if what.Order() != i {
			t.Errorf("%s is %d, want %d", what, what.Order(), i)
		}
	}
	if dimension.TouchesWires.Order() >= dimension.TouchesKnife.Order() || dimension.Touches("pliers").Order() != -1 {
		t.Error("the order is wrong")
	}
}

func TestASymptomIsFoundByAnyOfItsWords(t *testing.T) {
	t.Parallel()
	set := advised(t)
	for _, said := range []string{"low-notes-stop", "Low notes  stop", "THE BOTTOM DIES"} {
		if s, ok := set.Symptom(said); !ok || s.Name != "low-notes-stop" {
			t.Errorf("%q is %v", said, s)
		}
	}
	if _, ok := set.Symptom("stop"); ok {
		t.Error("a part is not the whole")
	}
}
