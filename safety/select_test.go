package safety

import (
	"slices"
	"strings"
	"testing"

	"canewright/engine/tool"
)

func load(t *testing.T) *Catalogue {
	t.Helper()
	c, err := Load()
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// use makes a Use of words as a recipe would: tools and materials by name or
// alias, unknown ones as unknown.
func use(tools, materials string, spoken string) tool.Use {
	c := tool.Standard()
	u := c.Spoken(spoken)
	for _, w := range split(tools) {
		x, ok := c.Tool(w)
		if !ok {
			x = tool.Unknown(w)
		}
		u = u.With(tool.Use{Tools: []tool.Tool{x}})
	}
	for _, w := range split(materials) {
		x, ok := c.Material(w)
		if !ok {
			x = tool.UnknownMaterial(w)
		}
		u = u.With(tool.Use{Materials: []tool.Material{x}})
	}
	return u
}

func split(list string) []string {
	if list == "" {
		return nil
	}
	return strings.Split(list, ", ")
}

func ids(notes []Note) string {
	var out []string
	for _, n := range notes {
		out = append(out, strings.TrimPrefix(n.ID, "SN-"))
	}
	return strings.Join(out, " ")
}

func TestNotesForAStage(t *testing.T) {
	t.Parallel()
	c := load(t)
	cases := []struct{ name, tools, materials, spoken, want string }{
		{name: "nothing at all", want: ""},
		{name: "water", materials: "water", spoken: "Soak until it sinks", want: ""},
		{name: "a caliper and a ruler", tools: "caliper, ruler, eye", spoken: "Measure the gouge", want: ""},
		{name: "a knife", tools: "knife, plaque", want: "BL-01 BL-02"},
		{name: "no tool, but the words say scrape", spoken: "Scrape the left rail", want: "BL-01 BL-02"},
		{name: "a gouger", tools: "gouger", want: "BL-01 BL-06"},
		{name: "a shaper", tools: "shaper", want: "BL-01 BL-05"},
		{name: "a tip cutter", tools: "tip cutter", want: "BL-01 BL-07"},
		{name: "a splitter", tools: "tube splitter", want: "BL-01 BL-03"},
		{name: "a razor blade", tools: "razor blade", want: "BL-01 BL-04"},
		{name: "a reamer", tools: "reamer", want: "BL-01 BL-11"},
		{name: "a motor tool", tools: "rotary tool", want: "BL-12 DU-01"},
		{name: "sandpaper", tools: "sandpaper", want: "DU-01"},
		{name: "wire", materials: "brass wire", want: "WI-01 HY-02"},
		{name: "pliers", tools: "pliers", want: "WI-02"},
		{name: "household cement and thread", materials: "household cement, thread", want: "CH-02 CH-01 HY-01"},
		{name: "nail varnish", materials: "nail varnish", want: "CH-01 CH-03 HY-01"},
		{name: "shellac", materials: "shellac", want: "CH-06 CH-01 HY-01"},
		{name: "epoxy", materials: "epoxy", want: "CH-05 CH-01 HY-01"},
		{name: "instant glue", materials: "instant glue", want: "CH-04 CH-01 HY-01"},
		{name: "an unknown glue", materials: "boat glue", want: "CH-08 CH-01 HY-01"},
		{name: "an unknown material", materials: "gold leaf", want: "CH-09"},
		{name: "an unknown tool", tools: "spokeshave", want: "BL-01"},
		{name: "a kettle", tools: "kettle", want: "HT-01"},
		{name: "cold wax", materials: "beeswax", spoken: "Draw the thread over the beeswax", want: ""},
		{name: "molten wax", spoken: "Melt the wax", want: "HT-05"},
		{name: "a candle", tools: "candle", want: "HT-03"},
		{name: "a spirit lamp", tools: "spirit lamp", want: "HT-03"},
		{name: "a flame and cement in one stage", tools: "lighter", materials: "household cement", want: "HT-04 CH-02 HT-03 CH-01 HY-01"},
		{name: "a heated mandrel", tools: "heated mandrel", want: "BL-11 HT-02"},
		{name: "mould", materials: "mouldy cane", want: "DU-02"},
		{name: "crow", spoken: "Crow the reed", want: "HY-04 HY-05"},
		{name: "a pupil's reed", spoken: "Disinfect the reed", want: "HY-03"},
	}
	for _, k := range cases {
		t.Run(k.name, func(t *testing.T) {
			t.Parallel()
			got, err := c.For(use(k.tools, k.materials, k.spoken), tool.Use{})
			if err != nil || ids(got) != k.want {
				t.Errorf("got %s, %v, want %s", ids(got), err, k.want)
			}
			for _, n := range got {
				if len(n.Because) == 0 {
					t.Errorf("%s does not say why it is shown", n.ID)
				}
			}
		})
	}
}

func TestDangersThatNeedTwo(t *testing.T) {
	t.Parallel()
	c := load(t)
	has := func(now, evening tool.Use, id string) (Note, bool) {
		t.Helper()
		notes, err := c.For(now, evening)
		if err != nil {
			t.Fatal(err)
		}
		i := slices.IndexFunc(notes, func(n Note) bool { return n.ID == id })
		if i < 0 {
			return Note{}, false
		}
		return notes[i], true
	}
	flames := []tool.Use{use("candle", "", ""), use("heated mandrel", "", ""), use("", "", "Warm it in the flame"), use("camping stove", "", "")}
	solvents := []tool.Use{use("", "nail varnish", ""), use("", "household cement", ""), use("", "glue", ""), use("", "boat varnish", ""), use("", "", "Varnish it")}
	for _, f := range flames {
		for _, s := range solvents {
			for _, order := range [][2]tool.Use{{f, s}, {s, f}} {
				n, ok := has(order[1], order[0], "SN-HT-04")
				if !ok || n.Signal != Danger || len(n.Because) < 2 {
					t.Errorf("%+v after %+v: %v %v %v", order[1], order[0], ok, n.Signal, n.Because)
				}
				notes, _ := c.For(order[1], order[0])
				if len(notes) == 0 || notes[0].ID != "SN-HT-04" {
					t.Errorf("the danger does not come first: %s", ids(notes))
				}
			}
			if _, ok := has(use("ruler", "", ""), f.With(s), "SN-HT-04"); ok {
				t.Error("a ruler brings the danger of the evening back")
			}
		}
	}
	cotton, glue := use("", "cotton string", ""), use("", "cyanoacrylate", "")
	for _, order := range [][2]tool.Use{{cotton, glue}, {glue, cotton}} {
		n, ok := has(order[1], order[0], "SN-CH-04")
		if !ok || !strings.Contains(n.Avoid[0], "cotton") || !slices.Contains(n.Because, "cotton string") {
			t.Errorf("cotton and instant glue: %v %v %q", ok, n.Because, n.Avoid)
		}
	}
	if _, ok := has(cotton, tool.Use{}, "SN-CH-04"); ok {
		t.Error("cotton alone selects the note on instant glue")
	}
	leaving := tool.Use{Classes: []string{"leaving"}}
	notes, _ := c.For(leaving, use("knife", "epoxy", ""))
	if ids(notes) != "BL-10 CH-07" {
		t.Errorf("leaving after knife and epoxy: %s", ids(notes))
	}
	notes, _ = c.For(leaving, use("ruler", "water", ""))
	if len(notes) != 0 {
		t.Errorf("leaving after nothing dangerous: %s", ids(notes))
	}
	if notes, _ = c.For(use("", "", "Play the reed"), glue); !strings.Contains(ids(notes), "HY-01") {
		t.Errorf("playing after glue: %s", ids(notes))
	}
}

func TestALearnerRaisesLevels(t *testing.T) {
	t.Parallel()
	c := load(t)
	notes, err := c.For(use("knife", "", ""), tool.Use{Classes: []string{"minor"}})
	if err != nil || ids(notes) != "BL-01 BL-02 PE-01" {
		t.Fatalf("got %s, %v", ids(notes), err)
	}
	for _, n := range notes {
		if n.Signal != Warning {
			t.Errorf("%s is a %s", n.ID, n.Signal)
		}
	}
	for _, a := range c.All() {
		all, _ := c.For(tool.Use{Classes: []string{"minor"}}.With(use("knife", "", "")), tool.Use{})
		for _, n := range all {
			if n.ID == a.ID && n.Signal < a.Signal {
				t.Errorf("%s was lowered", n.ID)
			}
		}
	}
}

func TestUnknownWordsAreNamed(t *testing.T) {
	t.Parallel()
	c := load(t)
	notes, _ := c.For(use("spokeshave, knife", "boat glue", ""), tool.Use{})
	want := map[string]string{"SN-BL-01": "spokeshave", "SN-CH-08": "boat glue"}
	for _, n := range notes {
		w, unknown := want[n.ID]
		if unknown != (len(n.Remarks) == 1) || unknown && !strings.Contains(n.Remarks[0], w) {
			t.Errorf("%s: %q", n.ID, n.Remarks)
		}
		if unknown && !strings.Contains(strings.Join(n.Lines(0), " "), "not in the catalogue") {
			t.Errorf("%s does not show that %q is unknown", n.ID, w)
		}
		delete(want, n.ID)
	}
	if len(want) > 0 {
		t.Errorf("not shown: %v", want)
	}
}

// What is stored or made up elsewhere must not lose its dangers: only the
// name is trusted, and given classes can only add.
func TestClassesAreGivenAgain(t *testing.T) {
	t.Parallel()
	c := load(t)
	bare := tool.Use{
		Tools:     []tool.Tool{{Name: "Reed Knife"}, {Name: "epoxy"}, {Name: "my jig", Classes: []string{"flame"}}},
		Materials: []tool.Material{{Name: "sandpaper"}, {Name: "nail polish"}},
	}
	notes, err := c.For(bare, tool.Use{})
	if err != nil || ids(notes) != "HT-04 BL-01 CH-05 HT-03 BL-02 CH-01 CH-03 DU-01 HY-01" {
		t.Errorf("got %s, %v", ids(notes), err)
	}
}

func TestEveryHazardHasANote(t *testing.T) {
	t.Parallel()
	c := load(t)
	hazard := map[string]bool{}
	for _, k := range tool.Classes() {
		hazard[k.Name] = k.Hazard
	}
	words := tool.Standard()
	dangerous := func(classes []string) bool {
		return slices.ContainsFunc(classes, func(k string) bool { return hazard[k] })
	}
	for _, x := range words.Tools() {
		notes, err := c.For(tool.Use{Tools: []tool.Tool{x}}, tool.Use{})
		if err != nil || dangerous(x.Classes) != (len(notes) > 0) {
			t.Errorf("tool %s %v: %s, %v", x.Name, x.Classes, ids(notes), err)
		}
	}
	for _, x := range words.Materials() {
		notes, err := c.For(tool.Use{Materials: []tool.Material{x}}, tool.Use{})
		if err != nil || dangerous(x.Classes) != (len(notes) > 0) {
			t.Errorf("material %s %v: %s, %v", x.Name, x.Classes, ids(notes), err)
		}
	}
	for _, name := range words.ActionNames() {
		if notes, err := c.For(tool.Use{Actions: []string{name}}, tool.Use{}); err != nil || len(notes) == 0 {
			t.Errorf("action %s has no note, %v", name, err)
		}
	}
	for _, k := range tool.Classes() {
		if !k.Hazard {
			continue
		}
		alone, _ := c.For(tool.Use{Classes: []string{k.Name}}, tool.Use{})
		after, _ := c.For(tool.Use{Classes: []string{k.Name}}, use("knife, candle", "acetone", ""))
		if len(alone) == 0 && len(after) == 0 {
			t.Errorf("class %s has no note", k.Name)
		}
	}
}

func TestEveryNoteIsReachable(t *testing.T) {
	t.Parallel()
	c := load(t)
	reached := map[string]bool{}
	see := func(now, evening tool.Use) {
		notes, err := c.For(now, evening)
		if err != nil {
			t.Fatal(err)
		}
		for _, n := range notes {
			reached[n.ID] = true
		}
	}
	words := tool.Standard()
	for _, x := range words.Tools() {
		see(tool.Use{Tools: []tool.Tool{x}}, tool.Use{})
	}
	for _, x := range words.Materials() {
		see(tool.Use{Materials: []tool.Material{x}}, use("candle", "", ""))
	}
	for _, a := range words.ActionNames() {
		see(tool.Use{Actions: []string{a}}, tool.Use{})
	}
	see(use("spokeshave", "boat glue, gold leaf", ""), tool.Use{})
	for _, k := range tool.Classes() {
		if k.Evening {
			see(tool.Use{Classes: []string{k.Name}}, use("knife", "epoxy", ""))
		}
	}
	for _, n := range c.All() {
		if !reached[n.ID] {
			t.Errorf("nothing selects %s", n.ID)
		}
	}
}

// At most about four answers an evening: a note is answered once, and not
// where the note above it has been answered.
func TestAnEveningAsksSeldom(t *testing.T) {
	t.Parallel()
	c := load(t)
	evenings := map[string][]tool.Use{
		"split and gouge":        {use("tube splitter", "tube cane", ""), use("cane cutter", "", "Cut to length"), use("gouger, dial indicator", "", "")},
		"shape, profile, score":  {use("shaper", "", ""), use("profiler", "", ""), use("knife", "", "Score from the butt")},
		"form":                   {use("mandrel, pliers", "brass wire, cotton string", "Fold; first wire, loose; bind the tube with string"), use("", "", "Third wire first, then second, then first")},
		"glue and wrap":          {use("", "household cement, thread", "Glue; wind the thread; glue over it")},
		"varnish":                {use("brush", "nail varnish", "Two thin coats")},
		"ream, tip, scrape, try": {use("reamer", "", ""), use("tip cutter", "", ""), use("knife, plaque", "", ""), use("", "", "Crow it"), use("pliers", "", "Squeeze the second wire")},
		"oboe tie-up":            {use("mandrel", "thread", "Tie towards the top")},
	}
	for name, stages := range evenings {
		answered := map[string]bool{}
		var evening tool.Use
		for _, now := range stages {
			notes, err := c.For(now, evening)
			if err != nil {
				t.Fatal(err)
			}
			for _, n := range notes {
				if n.Signal >= Caution && !answered[n.Under] {
					answered[n.ID] = true
				}
			}
			evening = evening.With(now)
		}
		if len(answered) > 4 || len(answered) == 0 {
			t.Errorf("%s asks %d times: %v", name, len(answered), answered)
		}
	}
}

func TestWithoutACatalogueNothingIsHarmless(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]*Catalogue{"nil": nil, "empty": {}} {
		if notes, err := c.For(use("knife", "", ""), tool.Use{}); err == nil || notes != nil {
			t.Errorf("%s: got %v, %v", name, notes, err)
		}
		if _, err := c.For(tool.Use{}, tool.Use{}); err == nil {
			t.Errorf("%s: a stage without tools passes", name)
		}
	}
}

func TestNotesAreCopies(t *testing.T) {
	t.Parallel()
	c := load(t)
	a, _ := c.For(use("knife", "", ""), tool.Use{})
	a[0].Avoid[0], a[0].Accept[0] = "nothing", "ok"
	b, _ := c.For(use("knife", "", ""), tool.Use{})
	if b[0].Avoid[0] == "nothing" || b[0].Accept[0] == "ok" {
		t.Error("a caller changed the catalogue")
	}
}
