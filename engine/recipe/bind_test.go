package recipe_test

import (
	"bytes"
	"math"
	"slices"
	"strings"
	"testing"

	"canewright/engine/recipe"
	"canewright/engine/tool"
)

// targetOf is the tolerance a stage measures a slot against.
func targetOf(t *testing.T, b *recipe.Bound, stage int, slot string) string {
	t.Helper()
	for _, m := range b.Stages[stage].Measures {
		if b.Slots[m.Slot].Name == slot {
			if m.Target == nil {
				return ""
			}
			return m.Target.Tolerance.Text
		}
	}
	t.Fatalf("stage %d does not measure %s", stage, slot)
	return ""
}

func TestTargetsHoldUntilAStageReplacesThem(t *testing.T) {
	t.Parallel()
	b := bind(t, `
targets: {wire.first: 27 ± 0.5 mm}
stages:
  - {stage: a, measure: [wire.first, wire.second]}
  - {stage: b, targets: {top wire: 28 ± 0.5 mm, wire.second: 19 ± 1 mm}, measure: [wire.first, wire.second]}
  - {stage: c, measure: [first wire, wire.second]}
`)
	for stage, want := range [][2]string{{"27 ± 0.5 mm", ""}, {"28 ± 0.5 mm", "19 ± 1 mm"}, {"28 ± 0.5 mm", "19 ± 1 mm"}} {
		if a, c := targetOf(t, b, stage, "wire.first"), targetOf(t, b, stage, "wire.second"); a != want[0] || c != want[1] {
			t.Errorf("stage %d: %q and %q, want %q", stage, a, c, want)
		}
	}
}

// What is done when a reading is outside, a rule does not hold or the eye finds
// something is spoken of too.
func TestNotesFollowWhatMayBeDone(t *testing.T) {
	t.Parallel()
	b := bind(t, `
stages:
  - stage: a
    targets: {wire.first: {target: 27 ± 0.5 mm, above: {then: once more, do: file it down}}}
    measure: wire.first
  - stage: b
    expect: [{that: wire.first >= 20 mm, otherwise: {then: once more, do: warm it over a candle}}]
  - stage: c
    look: {question: how, answers: {wide: {go back to: a, at most: 2 times, then: {then: set aside, do: coat it with lacquer}}}}
`)
	if u := b.Stages[0].Use; !u.Has("dust") {
		t.Errorf("a file makes dust: %+v", u)
	}
	if u := b.Stages[1].Use; !u.Has("flame") {
		t.Errorf("a candle burns: %+v", u)
	}
	if u := b.Stages[2].Use; !u.Has("varnish") {
		t.Errorf("lacquer is a varnish: %+v", u)
	}
}

func TestTakesOffNamesDimensionsStationsAndOtherThings(t *testing.T) {
	t.Parallel()
	b := bind(t, `
targets:
  blade.thickness: {from: collar, at: 3 9 mm, spine: 0.9 0.7 mm, within: ± 0.03 mm}
stages:
  - {stage: a, takes off: [top wire, string, blade.thickness]}
`)
	var off []string
	for _, i := range b.Stages[0].TakesOff {
		off = append(off, b.Slots[i].Name)
	}
	want := []string{"wire.first", "blade.thickness", "blade.thickness 3 mm spine A", "blade.thickness 9 mm spine A", "blade.thickness 3 mm spine B", "blade.thickness 9 mm spine B"}
	if !slices.Equal(off, want) || !slices.Equal(b.Stages[0].TakesAlso, []string{"string"}) {
		t.Errorf("takes off %q, also %q", off, b.Stages[0].TakesAlso)
	}
}

func TestSettingsInTextsAndFormulas(t *testing.T) {
	t.Parallel()
	b := bind(t, `
settings:
  shaper.width: {value: 14.6 mm, why: the shaper in use}
  share: 0.5
targets: {wire.first: 27.0 ± 0.5 mm, wire.turns: 2 .. 3}
stages:
  - stage: a
    because: the shaper is {shaper.width}
    mark again: at {first wire}
    do: ["Wire at {wire.first}, {wire.turns} turns, {shaper.width}  wide."]
    measure: [wire.first]
    expect: [wire.first >= shaper.width * share]
    wait: {until: "{wire.first} is dry", because: "so wide: {shaper.width}"}
`)
	s := b.Stages[0]
	if got, want := s.Do[0], "Wire at 27.0 ± 0.5 mm from the butt, 2 .. 3 turns, 14.6 mm wide."; got != want {
		t.Errorf("text %q, want %q", got, want)
	}
	if s.Because != "the shaper is 14.6 mm" || s.MarkAgain != "at 27.0 ± 0.5 mm from the butt" || s.Wait.Until != "27.0 ± 0.5 mm from the butt is dry" || s.Wait.Because != "so wide: 14.6 mm" {
		t.Errorf("%q, %q, %q, %q", s.Because, s.MarkAgain, s.Wait.Until, s.Wait.Because)
	}
	if len(b.Settings) != 2 || b.Settings[0].Why != "the shaper in use" {
		t.Errorf("settings %+v", b.Settings)
	}
	values := make([]float64, len(b.Slots))
	for _, set := range b.Settings {
		values[set.Slot] = set.Value.Value.Float()
	}
	for _, c := range []struct {
		nm   float64
		want bool
	}{{7_300_000, true}, {7_299_999, false}} {
		values[b.SlotOf("wire.first")] = c.nm
		if got, err := s.Rules[0].That.Holds(values); err != nil || got != c.want {
			t.Errorf("wire.first = %v nm: %v, %v", c.nm, got, err)
		}
	}
}

func TestGridSlotsNamesAndFormulas(t *testing.T) {
	t.Parallel()
	b := bind(t, `
stages:
  - stage: a
    targets:
      blade.thickness:
        from: collar
        at: 3 9 mm
        spine: 0,90 0,70 mm
        rails: 0.60 0.50 mm
        within: +0.03 -0.02 mm
        above: once more
    measure:
      - {take: blade.thickness, lanes: spine}
      - {take: blade.thickness, lanes: rails, for: 1 piece in 3}
    expect: ["blade(9 mm, spine, A) - blade(9 mm, rails, B) >= 0.1 mm"]
  - stage: b
    targets:
      blade.thickness: {from: tip, at: 1 mm, spine: 0.2 mm, within: ± 0.01 mm}
    measure: [blade.thickness]
`)
	var got []string
	for _, m := range b.Stages[0].Measures {
		got = append(got, b.Slots[m.Slot].Name+" "+m.Target.Tolerance.Limits())
	}
	want := []string{
		"blade.thickness 3 mm spine A 0.88 to 0.93 mm", "blade.thickness 9 mm spine A 0.68 to 0.73 mm",
		"blade.thickness 3 mm spine B 0.88 to 0.93 mm", "blade.thickness 9 mm spine B 0.68 to 0.73 mm",
		"blade.thickness 3 mm rails A 0.58 to 0.63 mm", "blade.thickness 9 mm rails A 0.48 to 0.53 mm",
		"blade.thickness 3 mm rails B 0.58 to 0.63 mm", "blade.thickness 9 mm rails B 0.48 to 0.53 mm",
	}
	if !slices.Equal(got, want) {
		t.Errorf("measured:\n%s", strings.Join(got, "\n"))
	}
	m := b.Stages[0].Measures
	if m[0].Group != m[3].Group || m[4].Group != m[7].Group || m[0].Group == m[4].Group || m[0].Group == 0 {
		t.Errorf("groups %d %d %d %d", m[0].Group, m[3].Group, m[4].Group, m[7].Group)
	}
	if m[0].Target.Above.How != recipe.OnceMore || m[0].Target.Below.How != recipe.GoingOn || m[4].Each.Every != 3 {
		t.Errorf("what follows %+v, for %+v", m[0].Target, m[4].Each)
	}
	if title := b.Slots[m[1].Slot].Title(); title != "blade thickness, blade A, spine, 9 mm from the collar" {
		t.Errorf("title %q", title)
	}
	needs := b.Stages[0].Rules[0].That.Needs()
	if len(needs) != 2 || b.Slots[needs[0]].Name != "blade.thickness 9 mm spine A" || b.Slots[needs[1]].Name != "blade.thickness 9 mm rails B" {
		t.Errorf("the rule needs %v", needs)
	}
	// A new grid takes the place of the old one whole.
	got = nil
	for _, m := range b.Stages[1].Measures {
		got = append(got, b.Slots[m.Slot].Name)
	}
	if want := []string{"blade.thickness 1 mm spine A from tip", "blade.thickness 1 mm spine B from tip"}; !slices.Equal(got, want) {
		t.Errorf("second grid %q", got)
	}
}

func TestDerivedTargetsAreJudgedWhereTheirInputsAreMeasured(t *testing.T) {
	t.Parallel()
	b := bind(t, `
targets: {wire.gap: {target: 8 ± 0.5 mm, above: once more}}
stages:
  - {stage: a, measure: [cane.weight]}
  - {stage: b, measure: [wire.second]}
`)
	if len(b.Stages[0].Derived) != 0 || len(b.Stages[1].Derived) != 1 || b.Slots[b.Stages[1].Derived[0].Slot].Name != "wire.gap" {
		t.Fatalf("derived %+v and %+v", b.Stages[0].Derived, b.Stages[1].Derived)
	}
	if b.Stages[1].Derived[0].Target.Above.How != recipe.OnceMore {
		t.Errorf("%+v", b.Stages[1].Derived[0].Target)
	}
	values, known := make([]float64, len(b.Slots)), make([]bool, len(b.Slots))
	first, second, gap := b.SlotOf("wire.first"), b.SlotOf("wire.second"), b.SlotOf("wire.gap")
	values[first], known[first] = 27e6, true
	if b.Work(values, known); known[gap] {
		t.Error("the gap is known without the second wire")
	}
	values[second], known[second] = 19e6, true
	if b.Work(values, known); !known[gap] || values[gap] != 8e6 {
		t.Errorf("the gap is %v", values[gap])
	}
}

func TestEach(t *testing.T) {
	t.Parallel()
	b := bind(t, `
stages:
  - {stage: a}
  - {stage: b, for: each piece}
  - {stage: c, for: the first piece}
  - {stage: d, for: 1 piece in 3}
  - {stage: e, for: the batch}
`)
	for i, want := range [][]int{{1, 2, 3, 4, 5, 6, 7}, {1, 2, 3, 4, 5, 6, 7}, {1}, {1, 4, 7}, {1, 2, 3, 4, 5, 6, 7}} {
		var got []int
		for n := 1; n <= 7; n++ {
			if b.Stages[i].Each.For(n) {
				got = append(got, n)
			}
		}
		if !slices.Equal(got, want) || b.Stages[i].Each.Batch != (i == 4) {
			t.Errorf("stage %s is for %v", b.Stages[i].Name, got)
		}
	}
}

func TestSure(t *testing.T) {
	t.Parallel()
	for body, want := range map[string]recipe.Sure{
		"":                                    {Pass: 0.8, Cut: 0.8},
		"sure: 95 %":                          {Pass: 0.95, Cut: 0.95},
		"sure: 0.9":                           {Pass: 0.9, Cut: 0.9},
		"sure: {to pass: 80 %, to cut: 99 %}": {Pass: 0.8, Cut: 0.99},
	} {
		got := bind(t, body+"\nstages: [{stage: a}]\n").Sure
		if math.Abs(got.Pass-want.Pass) > 1e-12 || math.Abs(got.Cut-want.Cut) > 1e-12 {
			t.Errorf("%q: %+v", body, got)
		}
	}
}

func TestWaits(t *testing.T) {
	t.Parallel()
	b := bind(t, `
stages:
  - {stage: a, wait: overnight}
  - {stage: b, wait: {at least: 1 h 30 min, usual: 2 h, at most: 1 d}}
  - {stage: c, wait: {until: it sinks}}
`)
	if w := b.Stages[0].Wait; w.Usual != 8*3600_000 || w.UsualText != "overnight" || w.Least != 0 {
		t.Errorf("%+v", w)
	}
	if w := b.Stages[1].Wait; w.Least != 90*60_000 || w.Usual != 2*3600_000 || w.Most != 24*3600_000 {
		t.Errorf("%+v", w)
	}
	if w := b.Stages[2].Wait; w.Until != "it sinks" || w.Least+w.Usual+w.Most != 0 {
		t.Errorf("%+v", w)
	}
}

func TestOutcomes(t *testing.T) {
	t.Parallel()
	b := bind(t, `
stages:
  - {stage: a}
  - {stage: a}
  - stage: b
    look:
      question: how
      several: yes
      answers:
        one:
        two: once more
        three: {then: set aside, do: keep it, because: it may serve}
        four: {go back to: a, at most: 3 times, then: {then: thrown away, because: enough}, do: soak it, because: dry}
`)
	l := b.Stages[2].Look
	if !l.Several || len(l.Answers) != 4 {
		t.Fatalf("%+v", l)
	}
	for i, want := range []recipe.How{recipe.GoingOn, recipe.OnceMore, recipe.SetAside, recipe.BackTo} {
		if got := l.Answers[i].Outcome.How; got != want {
			t.Errorf("answer %s: %s", l.Answers[i].Word, got)
		}
	}
	if o := l.Answers[2].Outcome; o.Do != "keep it" || o.Because != "it may serve" {
		t.Errorf("%+v", o)
	}
	if o := l.Answers[3].Outcome; o.To != 1 || o.AtMost != 3 || o.Then.How != recipe.ThrownAway || o.Then.Because != "enough" || o.Do != "soak it" || o.Because != "dry" {
		t.Errorf("a way back leads to the nearest earlier stage of the name: %+v", o)
	}
}

// The tool of a reading is the one named, else the stage's own gauge for the
// kind, else the dimension's usual one.
func TestTheToolOfAReading(t *testing.T) {
	t.Parallel()
	b := bind(t, `
stages:
  - {stage: a, tools: [knife, caliper], measure: [{take: wire.first, with: micrometer}, wire.second, cane.weight, crow.pitch]}
  - {stage: b, measure: [wire.first]}
`)
	var got []string
	for _, s := range b.Stages {
		for _, m := range s.Measures {
			got = append(got, m.Tool.Name)
		}
	}
	if want := []string{"micrometer", "caliper", "scale", "tuner", "ruler"}; !slices.Equal(got, want) {
		t.Errorf("tools %q", got)
	}
}

// A checklist without an instrument is a recipe too.
func TestAChecklistWithoutAnInstrument(t *testing.T) {
	t.Parallel()
	b, list := check(t, "recipe.yaml", []byte("canewright: recipe 1\ntitle: t\nid: t\nversion: 1\nstages: [{stage: pack the case, do: [reeds, knife]}]\n"))
	if b == nil || list.Len() > 0 || len(b.Slots) != 0 || !b.Stages[0].Use.Has("blade") {
		t.Errorf("%s", text(t, list))
	}
}

// Binding leaves the file as it is, so it binds again to the same; and what the
// caller does with his dimension set afterwards does not reach the recipe.
func TestBindLeavesFileAndSetAlone(t *testing.T) {
	t.Parallel()
	data := []byte(head + `
settings: {width: 14 mm}
targets:
  wire.first: 27 ± 0.5 mm
  blade.thickness: {from: collar, at: 3 9 mm, spine: 0.9 0.7 mm, within: ± 0.03 mm}
stages:
  - stage: twice
    times: 2
    stages:
      - {stage: a, do: "wind at {wire.first}", measure: [wire.first, blade.thickness], expect: [wire.first >= width], takes off: [string]}
  - {stage: b, again: a, tools: [knife]}
`)
	f, list := recipe.Load("recipe.yaml", bytes.Clone(data))
	if f == nil {
		t.Fatal(text(t, list))
	}
	set := shawm(t)
	before := set.Encode()
	first, list := recipe.Bind(f, set, tool.Standard())
	if list.Len() > 0 {
		t.Fatal(text(t, list))
	}
	if !bytes.Equal(set.Encode(), before) {
		t.Error("the set was changed")
	}
	want := shape(first)
	for i := range set.Dimensions {
		set.Dimensions[i].Title, set.Dimensions[i].More = "spoilt", "spoilt"
	}
	if got := shape(first); got != want {
		t.Errorf("the set's owner changed the recipe:\n%s\nwas\n%s", got, want)
	}
	second, list := recipe.Bind(f, shawm(t), tool.Standard())
	if list.Len() > 0 {
		t.Fatal(text(t, list))
	}
	if got := shape(second); got != want {
		t.Errorf("bound again:\n%s\nwas\n%s", got, want)
	}
	if !bytes.Equal(second.Set.Encode(), first.Set.Encode()) {
		t.Error("the sets differ")
	}
}

// shape is what there is to see of a bound recipe.
func shape(b *recipe.Bound) string {
	var s strings.Builder
	for _, st := range b.Stages {
		s.WriteString(st.Key + ": " + strings.Join(st.Do, "; ") + "; " + strings.Join(st.TakesAlso, " "))
		for _, t := range st.Use.Tools {
			s.WriteString(" " + t.Name)
		}
		for _, m := range st.Measures {
			s.WriteString("\n  " + b.Slots[m.Slot].Title() + " " + b.Slots[m.Slot].Dimension.More + " " + m.Target.Tolerance.Text)
		}
		for _, r := range st.Rules {
			s.WriteString("\n  " + r.That.Text())
		}
		s.WriteString("\n")
	}
	return s.String()
}

// Carets stand at the name also behind other names and letters of more bytes.
func TestUnknownNamesInATextAreFoundAtTheirPlace(t *testing.T) {
	t.Parallel()
	_, list := check(t, "recipe.yaml", []byte(head+"targets: {wire.first: 27 ± 0.5 mm}\nstages: [{stage: a, do: 'für ä {wire.first} {} { {wire.x} } {wire.first}, ü {wire.y}'}]\n"))
	var at []string
	for _, d := range list.Sorted() {
		line := d.Span.Source.Line(d.Span.From.Line)
		at = append(at, string(line[d.Span.From.Col-2:d.Span.To.Col]))
	}
	if want := []string{"{}", "{wire.x}", "{wire.y}"}; !slices.Equal(at, want) {
		t.Errorf("at %q, want %q:\n%s", at, want, text(t, list))
	}
}
