package toolbox

import (
	"bytes"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"canewright/engine/diagnostic"
	"canewright/engine/quantity"
)

func TestTheTemplateIsAnEmptyToolbox(t *testing.T) {
	t.Parallel()
	box, list := Load("my-tools.yaml", []byte(Template()))
	if box == nil || list.Len() > 0 {
		t.Fatalf("%v", list.Sorted())
	}
	if len(box.All) != 0 {
		t.Errorf("%v", box.All)
	}
	for _, f := range Fields() {
		if !strings.Contains(Template(), f.How) {
			t.Errorf("how to measure %s is not there", f.Name())
		}
		if e, err := f.Parse(f.Example(), true); err != nil || f.Doubt(e) != "" {
			t.Errorf("%s: %v %s", f.Name(), err, f.Doubt(e))
		}
	}
}

// What is wrong stands at its place, and says what to do.
func TestFindingsPointIntoTheFile(t *testing.T) {
	t.Parallel()
	const head = "canewright: my tools 1\n"
	for _, c := range []struct {
		text, code string
		line, col  int
		hint       string
	}{
		{"canewright: recipe 1\n", "toolbox/format", 1, 13, "my tools 1"},
		{"shaper: {fold: 15 mm}\n", "yaml/missing-key", 1, 1, "canewright"},
		{head + "shapers:\n  fold: 15 mm\n", "yaml/unknown-key", 2, 1, "shaper"},
		{head + "shaper:\n  folds: 15 mm\n", "yaml/unknown-key", 3, 3, "fold"},
		{head + "shaper:\n  fold: 15\n", "toolbox/number", 3, 9, "unit"},
		{head + "shaper:\n  fold: 15 g\n", "toolbox/number", 3, 9, "mm"},
		{head + "shaper:\n  fold: wide\n", "toolbox/number", 3, 9, "15.0 mm"},
		{head + "shaper:\n  fold: [15 mm]\n", "toolbox/number", 3, 9, "15.0 mm"},
		{head + "shaper:\n  fold: 0 mm\n", "toolbox/number", 3, 9, "15.0 mm"},
		{head + "bocal:\n  taper: 0.07 mm\n", "toolbox/number", 3, 10, "0.07"},
		{head + "shaper:\n  fold: 590 mm\n", "toolbox/unlikely", 3, 9, "590 thou"},
		{head + "mandrel:\n  tip: 4.00 mm\n  diameter: 6.10 mm\n  at: 30.0 mm\n  taper: 0.08\n", "toolbox/disagree", 6, 10, "measure again"},
		{head + "mandrel:\n  tip: 4.00 mm\n  diameter: 3.90 mm\n  at: 30.0 mm\n", "toolbox/number", 4, 13, "thicker"},
		{head + "gouger:\n  blade: 11.0 mm\n  radius: 5.2 mm\n", "toolbox/disagree", 4, 11, "leave one"},
		{head + "staple:\n  small: 3.00 mm\n  oval: 4.00 mm\n", "toolbox/disagree", 4, 9, "long way"},
		{head + "only for: oboe\n", "toolbox/instrument", 2, 11, "contrabassoon:"},
		{head + "only for:\n  Ob oe:\n    shaper: {fold: 7 mm}\n", "toolbox/instrument", 3, 3, "instruments"},
	} {
		box, list := Load("my-tools.yaml", []byte(c.text))
		all := list.Sorted()
		if len(all) != 1 {
			t.Errorf("%q: %v", c.text, all)
			continue
		}
		d := all[0]
		if d.Code != c.code || d.Span.From.Line != c.line || d.Span.From.Col != c.col || !strings.Contains(d.Hint, c.hint) {
			t.Errorf("%q: %s at %d:%d (%s), want %s at %d:%d (%s)", c.text, d.Code, d.Span.From.Line, d.Span.From.Col, d.Hint, c.code, c.line, c.col, c.hint)
		}
		if (box == nil) != (d.Severity == diagnostic.Error) {
			t.Errorf("%q: a box with %s", c.text, d.Severity)
		}
	}
}

func TestAnInstrumentsSectionStandsAlone(t *testing.T) {
	t.Parallel()
	box, list := Load("f", []byte("canewright: my tools 1\nshaper: {fold: 15 mm}\nbocal:\n  taper: 0.07\nonly for:\n  contrabassoon:\n    shaper:\n      fold: 0,79 in\n"))
	if box == nil {
		t.Fatal(list.Sorted())
	}
	if s := box.For("bassoon"); len(s) != 2 || s["shaper.fold"].Text != "15 mm" {
		t.Errorf("%v", s)
	}
	if s := box.For("contrabassoon"); len(s) != 1 || s["shaper.fold"].Value.Q != 20_066_000 || s["shaper.fold"].Text != "0,79 in" {
		t.Errorf("a bassoon's bocal is no contrabassoon's: %v", s)
	}
}

func TestWhatIsMissingIsSaid(t *testing.T) {
	t.Parallel()
	names := func(b *Box) string {
		var out []string
		for _, l := range b.For("").Lacks() {
			out = append(out, l.Field.Name())
		}
		return strings.Join(out, " ")
	}
	for _, c := range []struct {
		has  []string
		want string
	}{
		{nil, ""},
		{[]string{"bocal.tip 4.5 mm"}, "bocal.diameter bocal.at bocal.taper"},
		{[]string{"bocal.tip 4.5 mm", "bocal.taper 0.07"}, ""},
		{[]string{"bocal.tip 4.5 mm", "bocal.diameter 5.2 mm", "bocal.at 10 mm"}, ""},
		{[]string{"bocal.diameter 5.2 mm", "bocal.at 10 mm", "bocal.taper 0.07"}, ""},
		{[]string{"gouger.radius 5.5 mm"}, "gouger.bed gouger.length"},
		{[]string{"shaper.fold 15 mm", "shaper.collar 12 mm"}, "shaper.butt"},
	} {
		if got := names(box(t, c.has...)); got != c.want {
			t.Errorf("%v: missing %q, want %q", c.has, got, c.want)
		}
	}
}

func field(t testing.TB, name string) Field {
	t.Helper()
	f, ok := FieldNamed(name)
	if !ok {
		t.Fatalf("no field %q", name)
	}
	return f
}

// An edit changes one line and nothing else.
func TestEditLeavesTheRestAsItIs(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ was, only, name, text, want string }{
		{"canewright: my tools 1\n# mine\nshaper:\n    fold: 15 mm   # old\n    butt: 12 mm\n", "", "shaper.fold", "0.575  in", "canewright: my tools 1\n# mine\nshaper:\n    fold: 0.575 in   # old\n    butt: 12 mm\n"},
		{"canewright: my tools 1\nshaper:\n    fold: 15 mm\n", "", "shaper.butt", "12 mm", "canewright: my tools 1\nshaper:\n    butt: 12 mm\n    fold: 15 mm\n"},
		{"canewright: my tools 1\nshaper: {fold: 15 mm}\n", "", "shaper.fold", "15,5 mm", "canewright: my tools 1\nshaper: {fold: 15.5 mm}\n"},
		{"canewright: my tools 1\nshaper:\n  # fold: 15.0 mm\nbocal:\n  # fold: x\n", "", "shaper.fold", "16 mm", "canewright: my tools 1\nshaper:\n  fold: 16 mm\nbocal:\n  # fold: x\n"},
		{"canewright: my tools 1\n", "", "bocal.taper", "0.07", "canewright: my tools 1\n\nbocal:\n  taper: 0.07\n"},
		{"canewright: my tools 1\r\nshaper:\r\n  fold: 15 mm\r\n", "", "shaper.fold", "16 mm", "canewright: my tools 1\r\nshaper:\r\n  fold: 16 mm\r\n"},
		{"canewright: my tools 1\nonly for:\n  oboe:\n    shaper:\n      fold: 7 mm\n", "english-horn", "shaper.fold", "9 mm", "canewright: my tools 1\nonly for:\n  english-horn:\n    shaper:\n      fold: 9 mm\n  oboe:\n    shaper:\n      fold: 7 mm\n"},
		{"canewright: my tools 1\nshaper:\n  fold: 15 mm\n  butt: 12 mm\n", "", "shaper.fold", "", "canewright: my tools 1\nshaper:\n  butt: 12 mm\n"},
		{"canewright: my tools 1\nshaper:\n  fold:\n", "", "shaper.fold", "15 mm", "canewright: my tools 1\nshaper:\n  fold: 15 mm\n"},
	} {
		got, err := Edit("f", []byte(c.was), Change{c.only, field(t, c.name), c.text})
		if err != nil || string(got) != c.want {
			t.Errorf("%q: %v\n%q, want\n%q", c.was, err, got, c.want)
		}
	}
	for _, was := range []string{"canewright: my tools 1\nshaper: {fold: 15 mm}\n", "canewright: recipe 1\n", "canewright: my tools 1\nshaper:\n  fold: wide\n"} {
		if got, err := Edit("f", []byte(was), Change{"", field(t, "shaper.butt"), "12 mm"}); err == nil {
			t.Errorf("%q became %q", was, got)
		}
	}
}

// Whatever is set in whatever order, the file reads back as it.
func TestEveryEditReadsBack(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(rt *rapid.T) {
		var data []byte
		if rapid.Bool().Draw(rt, "bare") {
			data = []byte("canewright: " + Format + "\n")
		}
		want := map[string]string{}
		for range rapid.IntRange(1, 30).Draw(rt, "edits") {
			f := rapid.SampledFrom(Fields()).Draw(rt, "field")
			only := rapid.SampledFrom([]string{"", "oboe", "contrabassoon"}).Draw(rt, "only")
			text := rapid.SampledFrom([]string{f.Example(), "1.5 mm", "0.1 in", ""}).Draw(rt, "text")
			if _, err := f.Parse(text, false); text != "" && err != nil {
				continue
			}
			if f.Key == "diameter" || f.Key == "at" { // may be refused beside the tip
				continue
			}
			after, err := Edit("f", data, Change{only, f, text})
			if err != nil {
				rt.Fatalf("%s %q for %q: %v\n%s", f.Name(), text, only, err, data)
			}
			data = after
			if key := only + "/" + f.Name(); text == "" {
				delete(want, key)
			} else {
				want[key] = text
			}
		}
		got := map[string]string{}
		if box, list := Load("f", data); box != nil {
			flatten(box, got)
		} else if len(data) > 0 {
			rt.Fatalf("%v", list.Sorted())
		}
		if len(got) != len(want) {
			rt.Fatalf("%v, want %v\n%s", got, want, data)
		}
		for k, v := range want {
			if got[k] != v {
				rt.Fatalf("%s is %q, want %q", k, got[k], v)
			}
		}
	})
}

// FuzzLoad: no text makes the reader fall over; each finding has a place in the
// file; an edit of what can be read is read again, or refused.
func FuzzLoad(f *testing.F) {
	f.Add([]byte(Template()))
	f.Add([]byte("canewright: my tools 1\nshaper: {fold: 15 mm, butt: 0.5 in}\nonly for:\n  oboe:\n    staple:\n      length: 47,0 mm\n"))
	f.Add([]byte("canewright: my tools 1\r\nmandrel:\r\n  tip: 4 mm\r\n  diameter: 6 mm\r\n  at: 30 mm\r\n  taper: 7 %\r\n"))
	f.Add([]byte("canewright: my tools 1\nshaper:\n  fold: |\n    15 mm\n"))
	f.Add([]byte("canewright: my tools 1\n\"shaper\":\n  ? fold\n  : 15 mm\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		box, list := Load("f", data)
		for _, d := range list.Sorted() {
			if d.Span.Source == nil || d.Span.From.Line > d.Span.Source.Lines() {
				t.Fatalf("%v has no place", d)
			}
		}
		if box == nil {
			if !list.Failed() {
				t.Fatal("no box and no error")
			}
			return
		}
		box.For("oboe").Lacks()
		for _, c := range []Change{{"", field(t, "shaper.fold"), "16.5 mm"}, {"oboe", field(t, "bocal.taper"), "0.07"}, {"", field(t, "shaper.fold"), ""}} {
			after, err := Edit("f", data, c)
			if err != nil {
				continue
			}
			again, _ := Load("f", after)
			if again == nil {
				t.Fatalf("an edit spoilt it:\n%s", after)
			}
			set := again.All
			if c.Instrument != "" {
				set = again.For(c.Instrument)
			}
			if e, ok := set[c.Field.Name()]; ok != (c.Text != "") || ok && e.Value != parsed(t, c).Value {
				t.Fatalf("%s is %v", c.Field.Name(), e)
			}
			twice, err := Edit("f", after, c)
			if err != nil || !bytes.Equal(twice, after) {
				t.Fatalf("the same edit again: %v\n%q\n%q", err, after, twice)
			}
		}
	})
}

func parsed(t testing.TB, c Change) quantity.Entered {
	e, err := c.Field.Parse(c.Text, false)
	if err != nil {
		t.Fatal(err)
	}
	return e
}
