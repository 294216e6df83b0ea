package recipe_test

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"canewright/engine/diagnostic"
	"canewright/engine/dimension"
	"canewright/engine/recipe"
	"canewright/engine/tool"
)

// advisedShawm is the invented set with symptoms and remedies of its own.
func advisedShawm(t testing.TB) *dimension.Set {
	t.Helper()
	set := shawm(t)
	guess := []dimension.Source{{Says: "invented", Grade: dimension.FromMemory}}
	set.Symptoms = []dimension.Symptom{{Name: "low-notes-stop", Words: "low notes stop"}, {Name: "crow-high", Words: "the crow is too high"}}
	set.Remedies = []dimension.Remedy{
		{Name: "round the second wire", Symptoms: []string{"low-notes-stop"}, Because: "it is oval", Do: "Round it.", Wire: "second", Touches: dimension.TouchesWires, Sources: guess},
		{Name: "soak it", Symptoms: []string{"low-notes-stop"}, Because: "it is dry", Do: "Soak it.", Touches: dimension.TouchesNothing, Sources: guess},
		{Name: "lighten the back", Symptoms: []string{"crow-high"}, When: []string{"crow.pitch > E4 + 50 cents"}, Because: "it is thick", Do: "One stroke.",
			Touches: dimension.TouchesKnife, TakesOff: []string{"blade.thickness spine"}, Measure: []string{"crow.pitch"}, Sources: guess},
	}
	found := set.Check()
	for _, d := range found.Sorted() {
		if d.Code == "dimension/symptom" || d.Code == "dimension/remedy" || strings.HasPrefix(d.Code, "formula/") {
			t.Error(d)
		}
	}
	return set
}

// advisedBind binds the body of a recipe to the set with remedies.
func advisedBind(t testing.TB, body string) (*recipe.Bound, diagnostic.List) {
	t.Helper()
	f, list := recipe.Load("recipe.yaml", []byte(head+body+"stages: [{stage: bind}]\n"))
	if f == nil {
		t.Fatal(text(t, list))
	}
	b, list := recipe.Bind(f, advisedShawm(t), tool.Standard())
	if b == nil {
		t.Fatal(text(t, list))
	}
	return b, list
}

func remedyNames(all []recipe.Remedy) []string {
	var out []string
	for _, r := range all {
		out = append(out, r.Name)
	}
	return out
}

func TestTheSetsRemediesAreBound(t *testing.T) {
	t.Parallel()
	b, list := advisedBind(t, "targets: {blade.thickness: {from: collar, at: 3 9 mm, spine: 0.90 0.70 mm, rails: 0.6 0.5 mm, within: ± 0.03 mm}}\n")
	if list.Len() > 0 || !slices.Equal(remedyNames(b.Remedies), []string{"round the second wire", "soak it", "lighten the back"}) || len(b.Symptoms) != 2 {
		t.Fatalf("%v\n%s", remedyNames(b.Remedies), text(t, list))
	}
	r := b.Remedies[2]
	if r.Own || len(r.Conditions) != 1 || !r.Conditions[0].Truth() || len(r.Takes) != 1 || r.Takes[0].Lane != "spine" || len(r.Reads) != 1 || b.Slots[r.Reads[0].Slot].Name != "crow.pitch" {
		t.Errorf("%+v", r)
	}
	covered := 0
	for i, s := range b.Slots {
		if b.Covers(r.Takes[0], i) {
			covered++
			if s.Cell == nil || s.Cell.Lane != "spine" {
				t.Errorf("%s is no spine", s.Name)
			}
		}
	}
	if covered != 4 { // two places on two blades
		t.Errorf("%d stations, want 4", covered)
	}
	if got := b.PartTitle(r.Takes[0]); got != "blade thickness, spine" {
		t.Errorf("it is called %q", got)
	}
}

func TestThePlayersOwnRemediesWin(t *testing.T) {
	t.Parallel()
	b, list := advisedBind(t, `symptoms:
  low notes stop: the bottom dies
  it buzzes:
remedies:
  - {remedy: Round the second wire, for: the bottom dies, because: mine, do: Round it with care., touches: wires, source: common practice}
  - {remedy: my soak, for: low-notes-stop, because: mine, do: soak it., touches: nothing, source: my teacher}
  - {remedy: hold it, for: [it buzzes, it buzzes], because: mine, do: Hold it., touches: nothing, source: {says: hold it, who: 'A. Nobody, Invented book, 1901'}}
`)
	if list.Len() > 0 {
		t.Fatal(text(t, list))
	}
	if got, want := remedyNames(b.Remedies), []string{"lighten the back", "Round the second wire", "my soak", "hold it"}; !slices.Equal(got, want) {
		t.Fatalf("%q, want %q", got, want)
	}
	want := []dimension.Symptom{
		{Name: "low-notes-stop", Words: "low notes stop", Also: []string{"the bottom dies"}},
		{Name: "crow-high", Words: "the crow is too high"},
		{Name: "it-buzzes", Words: "it buzzes"},
	}
	if !reflect.DeepEqual(b.Symptoms, want) {
		t.Errorf("symptoms %+v", b.Symptoms)
	}
	for i, w := range []dimension.Source{
		{Says: "Round it with care.", Grade: dimension.CommonPractice},
		{Says: "my teacher", Grade: dimension.FromMemory},
		{Says: "hold it", Who: "A. Nobody, Invented book, 1901", Grade: dimension.Published},
	} {
		r := b.Remedies[i+1]
		if !r.Own || len(r.Sources) != 1 || r.Sources[0] != w {
			t.Errorf("%s: own %v, sources %+v, want %+v", r.Name, r.Own, r.Sources, w)
		}
	}
	if s := b.Remedies[3].Symptoms; !slices.Equal(s, []string{"it-buzzes"}) {
		t.Errorf("for %q", s)
	}
}

// The caller's set stays as it was: other recipes are bound to it.
func TestBindingLeavesTheSetAlone(t *testing.T) {
	t.Parallel()
	set := advisedShawm(t)
	before := set.Digest()
	f, _ := recipe.Load("r.yaml", []byte(head+"symptoms: {low notes stop: [a, b]}\nstages: [{stage: a}]\n"))
	if b, list := recipe.Bind(f, set, tool.Standard()); b == nil || len(b.Symptoms[0].Also) != 2 {
		t.Fatal(text(t, list))
	}
	if set.Digest() != before {
		t.Error("the set has changed")
	}
}

// A set kept from another day may hold what is not read any more.
func TestAKeptSetWithAFormulaThatIsNotReadAnyMore(t *testing.T) {
	t.Parallel()
	set := advisedShawm(t)
	set.Remedies[2].When = []string{"crow.colour > 3"}
	f, _ := recipe.Load("r.yaml", []byte(head+"stages: [{stage: a}]\n"))
	b, list := recipe.Bind(f, set, tool.Standard())
	if b == nil || list.Len() != 1 || list.Sorted()[0].Severity != diagnostic.Warning {
		t.Fatal(text(t, list))
	}
	if len(b.Remedies) != 3 || len(b.Remedies[2].Conditions) != 0 {
		t.Errorf("%+v", b.Remedies)
	}
}

func TestARecipeOfManyRemediesIsRefusedInShortTime(t *testing.T) {
	t.Parallel()
	for say, c := range map[string]struct{ body, code string }{
		"remedies": {"symptoms: [a]\nremedies:\n" + strings.Repeat("  - {remedy: x, for: a, because: b, do: c, touches: nothing}\n", 9_000), "recipe/too-long"},
		"symptoms": {"symptoms:\n" + strings.Repeat("  - x\n", 9_000), "recipe/too-long"},
		"formulas": {"symptoms: [a]\nremedies:\n  - {remedy: x, for: a, because: b, do: c, touches: nothing, when: [" + strings.Repeat("crow.pitch > F4, ", 500) + "]}\n", "recipe/too-long"},
		"unknown symptoms": {"remedies:\n" + func() string {
			var b strings.Builder
			for i := range 400 {
				fmt.Fprintf(&b, "  - {remedy: x%d, for: [%s], because: b, do: c, touches: nothing}\n", i, strings.Repeat("low nots stop, ", 29))
			}
			return b.String()
		}(), "recipe/unknown-symptom"},
	} {
		t.Run(say, func(t *testing.T) {
			t.Parallel()
			start := time.Now()
			b, list := check(t, "recipe.yaml", []byte(head+c.body+"stages: [{stage: bind}]\n"))
			said := text(t, list)
			if took := time.Since(start); took > longest {
				t.Errorf("took %v", took)
			}
			if b != nil || !strings.Contains(said, c.code) {
				t.Error(said[:min(len(said), 1000)])
			}
		})
	}
}

func FuzzRemedies(f *testing.F) {
	for _, seed := range []string{
		"symptoms: [a]\nremedies:\n  - {remedy: x, for: a, because: b, do: c, touches: nothing, source: common practice}\n",
		"symptoms: {low notes stop: [a, b], crow: }\nremedies:\n  - remedy: x\n    for: [a, crow]\n    when: [crow.pitch > F4, 'wire.first - wire.second >= 7 mm']\n    because: b\n    do: c at {wire.first}\n    wire: second\n    from: sides\n    touches: knife\n    takes off: blade.thickness spine\n    measure: [tip]\n    expect: {crow.pitch: less}\n    not the reed: yes\n    source: [x, {says: a, who: b}]\n",
		"remedies: []\nsymptoms: []\n",
		"remedies:\n  - {}\n",
		"symptoms:\n  '': ''\n",
		"symptoms: [crow-high, the crow is too high]\nremedies: [{remedy: soak it, for: Crow-High, because: x, do: Soak it., touches: given up}]\n",
	} {
		f.Add(seed)
	}
	set := advisedShawm(f)
	tools := tool.Standard()
	f.Fuzz(func(t *testing.T, body string) {
		if len(body) > 16<<10 {
			return
		}
		file, _ := recipe.Load("recipe.yaml", []byte(head+body+"\nstages: [{stage: a}]\n"))
		if file == nil {
			return
		}
		b, list := recipe.Bind(file, set, tools)
		if bad := misplaced(list); bad != "" && !strings.Contains(bad, "shawm") {
			t.Error(bad)
		}
		if b == nil {
			return
		}
		known := map[string]bool{}
		for _, s := range b.Symptoms {
			if known[s.Name] || s.Name == "" || s.Words == "" {
				t.Errorf("the symptom %+v", s)
			}
			known[s.Name] = true
		}
		for _, r := range b.Remedies {
			if r.Touches.Order() < 0 || len(r.Symptoms)+len(r.Conditions) == 0 || len(r.Takes) != len(r.TakesOff) {
				t.Errorf("%+v", r)
			}
			if r.Touches.TakesCane() && len(r.Takes) == 0 {
				t.Errorf("%q takes cane and says not where", r.Name)
			}
			for _, s := range r.Symptoms {
				if !known[s] {
					t.Errorf("%q is for %q", r.Name, s)
				}
			}
			for _, w := range []string{r.Name, r.Because, r.Do} {
				if strings.ContainsFunc(w, func(r rune) bool { return r != '\n' && diagnostic.Unsafe(r) }) {
					t.Errorf("%q reaches the terminal", w)
				}
			}
		}
	})
}
