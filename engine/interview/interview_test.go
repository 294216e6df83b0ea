package interview_test

import (
	"errors"
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"

	"canewright/engine/diagnostic"
	"canewright/engine/dimension"
	"canewright/engine/interview"
	"canewright/engine/quantity"
	"canewright/engine/recipe"
	"canewright/engine/tool"
)

// shawm is a small invented instrument.
func shawm(t testing.TB) *dimension.Set {
	t.Helper()
	unit := func(name string) quantity.Unit {
		u, ok := quantity.UnitNamed(name)
		if !ok {
			t.Fatalf("no unit %q", name)
		}
		return u
	}
	far := func(name, title, datum string, aliases ...string) dimension.Dimension {
		return dimension.Dimension{Name: name, Title: title, Aliases: aliases, Kind: quantity.Length, Unit: unit("mm"), Subject: "piece",
			Datum: datum, Condition: dimension.Either, Tool: "ruler", More: "far", Less: "close"}
	}
	thick := far("cane.thickness", "thickness of the cane", "")
	thick.Across, thick.Tool = true, "caliper"
	return &dimension.Set{ID: "shawm", Title: "shawm, invented", Major: 1, Dimensions: []dimension.Dimension{
		far("wire.first", "first wire", "the butt", "top wire"),
		far("wire.second", "second wire", "the butt"),
		far("overall", "overall length", "the butt"),
		far("scrape.start", "start of the scrape", "the tip"),
		{Name: "wire.gap", Title: "gap of the wires", Kind: quantity.Length, Unit: unit("mm"), Subject: "piece", Condition: dimension.Either,
			More: "wide", Less: "narrow", Formula: "wire.first - wire.second"},
		thick,
		{Name: "wire.turns", Title: "turns of wire", Kind: quantity.Count, Unit: quantity.Bare(quantity.Count), Subject: "piece",
			Condition: dimension.Either, Tool: "eye", More: "many", Less: "few"},
		{Name: "crow.pitch", Title: "crow", Kind: quantity.Pitch, Subject: "piece", Condition: dimension.Wet, Tool: "tuner", More: "sharp", Less: "flat"},
		{Name: "blade.thickness", Title: "blade thickness", Kind: quantity.Length, Unit: unit("mm"), Subject: "piece", Across: true,
			Condition: dimension.Wet, Tool: "dial indicator", More: "thick", Less: "thin",
			Grid: &dimension.Grid{From: []string{"collar", "tip"}, Lanes: []string{"spine", "rails"}, Blades: []string{"A", "B"}, Short: "blade"}},
	}}
}

const usual = `canewright: recipe 1
title: a reed
id: a-reed
version: 1
instrument: shawm 1
targets:
  wire.first: 27.0 ± 0.5 mm
stages:
  - stage: soak
    for: the batch
    materials: [water]
    wait: 2 h
  - stage: wires
    tools: [pliers]
    materials: [brass wire]
    measure: [wire.first, wire.second]
  - stage: scrape
    tools: [knife]
    measure: [cane.thickness]
`

func anInterview(t testing.TB) *interview.Interview {
	t.Helper()
	tools := tool.Standard()
	f, list := recipe.Load("usual.yaml", []byte(usual))
	b, more := recipe.Bind(f, shawm(t), tools)
	if list.Append(more); b == nil {
		t.Fatal(list.Sorted())
	}
	known := interview.UsualOf([]*recipe.Bound{b})
	set := shawm(t)
	return &interview.Interview{
		Instruments: []interview.Instrument{{ID: "shawm", Title: "shawm, invented", Major: 1}, {ID: "broken", Title: "does not start", Major: 1}},
		Set: func(id string, _ int) (*dimension.Set, error) {
			if id != "shawm" {
				return nil, errors.New("it does not start")
			}
			return set, nil
		},
		Usual: func(string) interview.Usual { return known },
		Tools: tools,
	}
}

// talk answers line by line; every line must be taken.
func talk(t testing.TB, iv *interview.Interview, lines ...string) []string {
	t.Helper()
	var got []string
	for _, l := range lines {
		next, err := iv.Answer(got, l)
		if err != nil {
			t.Fatalf("%q, to %q: %v", l, iv.Ask(got).Prompt, err)
		}
		got = next
	}
	return got
}

func TestASheetBecomesARecipe(t *testing.T) {
	t.Parallel()
	iv := anInterview(t)
	got := talk(t, iv,
		"1", "Her sheet: the long one", "an invented teacher",
		"1, 2, wind the thread",
		"1", "Soak it", "", "", "until it sinks", "wet", // soak
		"", "First wire loose", "Then the second: tight", "", "1, second wire, crow", // wires
		"1 1/16 in", "", "1", // first wire: the usual tolerance
		"5/16 in", "the first wire", "27 mm", "", "+0.5 -0.2 mm", // second, counted from the first
		"E4 to F4", // crow
		"", "2 to 3 weeks", "dry",
		"none", "", "thickness of the cane, overall, blade thickness", // wind the thread
		"31.4 thou", "",
		"about 55.5 mm (2 3/16 in)", "", "",
		"", "",
		"Keep the knife sharp", "",
	)
	q := iv.Ask(got)
	if !q.Done {
		t.Fatalf("it still asks %q", q.Prompt)
	}
	want := `# Written from a paper sheet by: canewright new
# What is still open is marked: # open:
canewright: recipe 1
title: 'Her sheet: the long one'
id: her-sheet-the-long-one
version: 1
instrument: shawm 1
about: |
  From a sheet by an invented teacher.
  Keep the knife sharp
stages:
  - stage: soak
    for: the batch
    materials: [water]
    do:
      - Soak it
    wait:
      until: it sinks
    becomes: wet

  - stage: wires
    # open: which tools and materials? others take pliers, brass wire
    do:
      - First wire loose
      - 'Then the second: tight'
    targets:
      # the sheet: 1 1/16 in
      wire.first: 1 1/16 in ± 0.5 mm
      # the sheet: 5/16 in from the first wire; 27 mm lie between that and the butt
      wire.second: 18.5625 .. 19.2625 mm
      # the sheet: E4 to F4
      crow.pitch: E4 .. F4
    measure: [wire.first, wire.second, crow.pitch]
    wait:
      at least: 2 weeks
      at most: 3 weeks
    becomes: dry

  - stage: wind the thread
    # open: is the cane wet or dry when it is measured? then write condition: wet, or dry
    do:
      - 'thickness of the cane: 31.4 thou, says the sheet'
      - 'overall length: about 55.5 mm (2 3/16 in) from the butt, says the sheet'
    # open: thickness of the cane, 31.4 thou: how far may it be off? the sheet gives no tolerance
    # for example, the finest that its usual tool can tell: caliper, under targets:
    # cane.thickness: 31.4 thou ± 0.016 mm
    # open: overall length, about 55.5 mm (2 3/16 in): how far may it be off? the sheet gives no tolerance
    # for example, the finest that its usual tool can tell: ruler, under targets:
    # overall: 55.5 ± 0.2 mm (2 3/16 in)
    # open: blade thickness: which thickness at which place? write its rows in the file
    # for example, in millimetres, under targets:
    # blade.thickness:
    #   from: collar
    #   at: 3 9 mm
    #   spine: 0.90 0.70 mm
    #   within: ± 0.03 mm
    measure: [cane.thickness, overall]
`
	if data := string(iv.Write(got)); data != want {
		t.Errorf("%s", data)
	}
	open := strings.Join(iv.Open(got), "\n")
	if open != `wires: which tools and materials? others take pliers, brass wire
wind the thread: is the cane wet or dry when it is measured?
wind the thread: thickness of the cane, 31.4 thou: how far may it be off? the sheet gives no tolerance
wind the thread: overall length, about 55.5 mm (2 3/16 in): how far may it be off? the sheet gives no tolerance
wind the thread: blade thickness: which thickness at which place? write its rows in the file` {
		t.Error(open)
	}
}

// A distance is counted from the other end: the length between them less it
// (27 of 56 from the tip is 29 from the butt), and an asymmetric tolerance
// turns round.
func TestFromTheOtherEnd(t *testing.T) {
	t.Parallel()
	iv := anInterview(t)
	for _, c := range []struct{ number, length, way, tolerance, want string }{
		{"27 mm", "56 mm", "", "± 0.5 mm", "29 ± 0.5 mm"},
		{"27 mm", "56.0 mm", "towards", "+0.5 -0 mm", "28.5 .. 29 mm"},
		{"3 mm", "27 mm", "away", "0.5 mm", "30 ± 0.5 mm"},
		{"1 in", "2 in", "1", "1/64 in", "25.4 ± 0.396875 mm"},
		{"27 mm", "56 mm", "", "at least", "at most 29 mm"},
		{"3 mm", "27 mm", "2", "at most", "at most 30 mm"},
		{"26 to 28 mm", "56 mm", "", "-", "28 .. 30 mm"},
	} {
		lines := []string{"shawm", "", "", "bind", "", "", "top wire", c.number, "from the tip", c.length, c.way}
		if c.tolerance != "-" {
			lines = append(lines, c.tolerance)
		}
		data := string(iv.Write(talk(t, iv, lines...)))
		if !strings.Contains(data, "wire.first: "+c.want+"\n") {
			t.Errorf("%+v:\n%s", c, data)
		}
	}
	data := string(iv.Write(talk(t, iv, "shawm", "", "", "bind", "", "", "top wire", "27 mm", "tip", "")))
	if !strings.Contains(data, "# open: first wire, 27 mm: the sheet counts from tip; how far is that from the butt?") || strings.Contains(data, "targets:") {
		t.Error(data)
	}
}

func TestRefusals(t *testing.T) {
	t.Parallel()
	iv := anInterview(t)
	upTo := []string{"shawm", "", "", "bind", "", "", "top wire"}
	for _, c := range []struct {
		lines      []string
		line, says string
	}{
		{nil, "-", "this is the first question"},
		{nil, "", "there is no such instrument here"},
		{nil, "shaum", "there is no such instrument here (did you mean shawm?)"},
		{nil, "2", "it does not start"},
		{[]string{"1", "", ""}, "1-9", "1-9 is not in the list"},
		{[]string{"1", "", ""}, strings.Repeat("x", 61), "the name of this stage is too long"},
		{[]string{"1", "", "", "bind"}, "knive", `"knive" is not quite a tool or material known here (did you mean knife?)`},
		{[]string{"1", "", "", "bind", ""}, "mark it at {27}", "{ } would be taken for the name of a dimension"},
		{upTo[:6], "first wird", "nothing of this instrument is called first wird (did you mean first wire?)"},
		{upTo, "27", "first wire: this number has no unit"},
		{upTo, "27 mm ()", "there is nothing in the brackets"},
		{upTo, "27 mm (wide)", `first wire: "wide" is not a number`},
		{upTo, "3 g", "first wire: g is a mass, and a length is wanted here"},
		{append(upTo[:7:7], "27 mm"), "± 1/64 in", "this is a number, and no place"},
		{append(upTo[:7:7], "27 mm"), "56 mm", "this is a number, and no place"},
		{append(upTo[:7:7], "27 mm", ""), "a little", "this is no tolerance"},
		{append(upTo[:7:7], "27 mm", "", ""), "damp", "cane is wet or dry"},
		{append(upTo[:7:7], "27 mm", "", "", ""), "a while", "this is no time"},
		{upTo, strings.Repeat("x", 400), "this line is too long"},
		{upTo, "27 mm\u202e", "this line holds signs that are no text"},
	} {
		lines := talk(t, iv, c.lines...)
		next, err := iv.Answer(lines, c.line)
		r, ok := err.(*interview.Refusal)
		if !ok {
			t.Errorf("%q: %v", c.line, err)
			continue
		}
		if !strings.HasPrefix(r.Message+" ("+r.Hint+")", strings.TrimSuffix(c.says, ")")) {
			t.Errorf("%q: %s (%s), want %s", c.line, r.Message, r.Hint, c.says)
		}
		if len(next) != len(lines) {
			t.Errorf("%q: it was kept", c.line)
		}
	}
}

// Going back is as if the last line had never been typed.
func TestBack(t *testing.T) {
	t.Parallel()
	iv := anInterview(t)
	lines := talk(t, iv, "1", "A sheet", "")
	back := talk(t, iv, "1", "A sheet", "", "soak", "-")
	if iv.Ask(lines).Prompt != iv.Ask(back).Prompt || string(iv.Write(lines)) != string(iv.Write(back)) {
		t.Error("it is not the same question")
	}
}

var odd = []string{`"quoted" text`, "#400 paper", "paper #400", "{brace", "a } b", "[list", ">= 24 mm", "- dash", "a: b", "key:", "yes", "no", "~", "null", "*star", "&and", "!bang", "%per", "@at", "`tick", "'single", "it's", `back\slash`, "|bar", "? what", "1e5", "0x10", "a - b", "---", "...", "ends:", "é, ü", "a,b", "# open: x", "…", "{{", "a {b} c", "  ", "\\", "<<", "<<: x", "=", "3 = 4"}

func anAnswer() *rapid.Generator[string] {
	return rapid.OneOf(
		rapid.SampledFrom([]string{"", "", "", "1", "2", "1, 2", "1-3", "-", "wet", "dry", "none", "overnight", "2 h", "until it sinks", "± 0.5 mm", "at least", "at most",
			"27 mm", "1 1/16 in", "27 mm (1 1/16 in)", "27 to 30 mm", "31,4 thou", "1 and 1/18 in", "F4", "2", "5 .. 7", "22 AWG", "-3 mm", "0 mm", "1e9 mm", "9999999999 m", "the tip", "56 mm", "2 in", "away",
			"first wire, crow, wire.turns", "gap of the wires, first wire", "overall", "blade thickness", "cane.thickness", "knife", "water, brass wire, string"}),
		rapid.SampledFrom(odd),
		rapid.StringN(0, 20, -1),
		rapid.StringMatching(`[ -~]{0,12}`),
	)
}

// Whatever is typed, and in whatever order: every line is refused at once, or
// the recipe it leads to is read and can be followed; each open question is
// marked in the file once; and the same lines give the same file.
func TestAnySheetIsReadOrRefused(t *testing.T) {
	t.Parallel()
	iv := anInterview(t)
	set, tools := shawm(t), tool.Standard()
	rapid.Check(t, func(rt *rapid.T) {
		var lines []string
		for _, l := range rapid.SliceOfN(anAnswer(), 0, 60).Draw(rt, "answers") {
			if len(lines) == 0 && l != "-" {
				l = "shawm"
			}
			next, err := iv.Answer(lines, l)
			if err != nil {
				r, ok := err.(*interview.Refusal)
				if !ok || r.Message == "" {
					rt.Fatalf("%q: %v", l, err)
				}
				if strings.Contains(r.Message, "could not be read") {
					rt.Fatalf("%q was taken, and the recipe is not read: %s", l, r.Message)
				}
				continue
			}
			lines = next
		}
		data := iv.Write(lines)
		// What is kept of the answers is taken again, and leads to the same file.
		var again []string
		for _, l := range lines {
			next, err := iv.Answer(again, l)
			if err != nil {
				rt.Fatalf("%q was taken once, and not again: %v", l, err)
			}
			again = next
		}
		if string(iv.Write(again)) != string(data) {
			rt.Fatalf("answered again it is\n%s\nand was\n%s", iv.Write(again), data)
		}
		f, list := recipe.Load("sheet.yaml", data)
		if f == nil {
			rt.Fatalf("%v\n%s", list.Sorted(), data)
		}
		var of *dimension.Set
		if f.Instrument != "" {
			of = set
		}
		b, more := recipe.Bind(f, of, tools)
		if b == nil {
			rt.Fatalf("%v\n%s", more.Sorted(), data)
		}
		papers := b.CheckPaper()
		for _, d := range papers.Sorted() {
			if d.Severity == diagnostic.Error {
				rt.Fatalf("%v", d)
			}
		}
		marked, about := 0, false
		for l := range strings.Lines(string(data)) {
			if about = strings.HasPrefix(l, "about:") || about && strings.HasPrefix(l, "  "); !about && strings.HasPrefix(strings.TrimSpace(l), "# open: ") {
				marked++
			}
		}
		if open := iv.Open(lines); marked != len(open) {
			rt.Fatalf("%d open questions, %d marked\n%s", len(open), marked, data)
		}
	})
}

// What was typed as text comes back as typed.
func TestTextsComeBack(t *testing.T) {
	t.Parallel()
	iv := anInterview(t)
	rapid.Check(t, func(rt *rapid.T) {
		s := strings.Join(strings.Fields(rapid.OneOf(rapid.SampledFrom(odd), rapid.StringN(1, 30, -1), rapid.StringMatching(`[ -~]{1,20}`)).Draw(rt, "text")), " ")
		lines, err := iv.Answer([]string{"shawm"}, s)
		if err != nil || s == "" || s == "-" || !utf8.ValidString(s) {
			return
		}
		f, list := recipe.Load("sheet.yaml", iv.Write(lines))
		if f == nil || f.Title != s {
			rt.Fatalf("%q: %v", s, list.Sorted())
		}
	})
}

func FuzzAnswers(f *testing.F) {
	f.Add("shawm\nA sheet\nme\n1,2\n\n\n1\n27 mm\n\n± 0.5 mm\nwet\n2 h\ndry")
	f.Add("shawm\n" + strings.Join(odd, "\n"))
	iv := anInterview(f)
	f.Fuzz(func(t *testing.T, all string) {
		var lines []string
		for i, l := range strings.Split(all, "\n") {
			if i == 40 {
				break
			}
			next, err := iv.Answer(lines, l)
			if r, ok := err.(*interview.Refusal); err != nil && (!ok || strings.Contains(r.Message, "could not be read")) {
				t.Fatalf("%q: %v", l, err)
			}
			lines = next
		}
		if file, list := recipe.Load("sheet.yaml", iv.Write(lines)); file == nil {
			t.Fatal(list.Sorted())
		}
	})
}
