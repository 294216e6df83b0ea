package safety

import (
	"go/parser"
	"go/token"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"
)

// The ids of the catalogue: none may get lost.
func TestAllNotesAreThere(t *testing.T) {
	t.Parallel()
	want := strings.Fields(`BL-01 BL-02 BL-03 BL-04 BL-05 BL-06 BL-07 BL-08 BL-09 BL-10 BL-11 BL-12 CH-01 CH-02 CH-03 CH-04 CH-05 CH-06 CH-07 CH-08 CH-09
		DU-01 DU-02 HT-01 HT-02 HT-03 HT-04 HT-05 HY-01 HY-02 HY-03 HY-04 HY-05 PE-01 PE-02 WI-01 WI-02`)
	got := strings.Fields(ids(load(t).All()))
	slices.Sort(got)
	if !slices.Equal(got, want) {
		t.Errorf("got %v\nwant %v", got, want)
	}
}

// ANSI Z535.4-2007, definitions as quoted by a label maker: DANGER "will",
// WARNING "could" cause death or serious injury, CAUTION minor or moderate
// injury, NOTICE none.
func TestSignalWordsRank(t *testing.T) {
	t.Parallel()
	if !(Danger > Warning && Warning > Caution && Caution > Notice && Notice > 0) {
		t.Error("the order of the signal words is wrong")
	}
	want := map[string]Signal{
		"SN-HT-04": Danger, "SN-PE-02": Notice, "SN-CH-09": Notice,
		"SN-BL-01": Warning, "SN-BL-03": Warning, "SN-BL-04": Warning, "SN-BL-05": Warning, "SN-BL-06": Warning, "SN-BL-07": Warning, "SN-BL-12": Warning,
		"SN-WI-01": Warning, "SN-HT-01": Warning, "SN-HT-03": Warning, "SN-HT-05": Warning, "SN-CH-02": Warning, "SN-CH-04": Warning, "SN-CH-05": Warning,
		"SN-CH-06": Warning, "SN-CH-08": Warning, "SN-DU-02": Warning, "SN-HY-04": Warning, "SN-PE-01": Warning,
	}
	all := load(t).All()
	for _, n := range all {
		w, ok := want[n.ID]
		if !ok {
			w = Caution
		}
		if n.Signal != w {
			t.Errorf("%s is a %s, want %s", n.ID, n.Signal, w)
		}
	}
	for i := 1; i < len(all); i++ {
		if a, b := all[i-1], all[i]; a.Signal < b.Signal || a.Signal == b.Signal && a.ID >= b.ID {
			t.Errorf("%s stands before %s", a.ID, b.ID)
		}
	}
}

func TestEveryNoteIsWhole(t *testing.T) {
	t.Parallel()
	for _, n := range load(t).All() {
		if n.Revision < 1 || n.Title == "" || n.Hazard == "" || n.Consequence == "" || len(n.Avoid) == 0 || n.Short == "" || len(n.Symbols) == 0 || len(n.Sources) == 0 {
			t.Errorf("%s lacks a part: %+v", n.ID, n)
		}
		if n.Signal >= Caution && (n.Ask == "" || len(n.Accept) == 0 || len(n.FirstAid) < 20) {
			t.Errorf("%s: ask %q, accept %q, first aid %q", n.ID, n.Ask, n.Accept, n.FirstAid)
		}
		text := strings.Join(append([]string{n.Hazard, n.Consequence, n.FirstAid, n.Short}, n.Avoid...), " ")
		if strings.Contains(text, "SN-") || strings.Contains(text, "S-") {
			t.Errorf("%s sends the reader somewhere else: %s", n.ID, text)
		}
		for _, s := range n.Sources {
			if strings.HasPrefix(s, "S-") {
				t.Errorf("%s: source %q is not written out", n.ID, s)
			}
		}
		if len(strings.Fields(n.Short)) > 16 {
			t.Errorf("%s: the short form has %d words", n.ID, len(strings.Fields(n.Short)))
		}
	}
}

func TestFirstAidIsWrittenOut(t *testing.T) {
	t.Parallel()
	c := load(t)
	// BL-07 is as BL-06, which is as BL-01 and adds a line.
	n := c.Word("SN-BL-07")[0]
	press, skin := strings.Index(n.FirstAid, "Press firmly"), strings.Index(n.FirstAid, "Sheared-off skin")
	if press != 0 || skin < press {
		t.Errorf("got %q", n.FirstAid)
	}
	if n = c.Word("SN-HT-04")[0]; !strings.HasPrefix(n.FirstAid, "Cool at once") || !strings.Contains(n.FirstAid, "Clothing alight") {
		t.Errorf("got %q", n.FirstAid)
	}
}

func TestPressingOnIsNoAnswer(t *testing.T) {
	t.Parallel()
	refused := []string{"", " ", "ok", "OK", "yes", "Yes.", "next", "y", "n", "no", "done", "go on", "1.31", "7", "enter", "\n", "ok ok", "yes, go on", "sure", "...", "okay!"}
	for _, n := range load(t).All() {
		for _, r := range refused {
			if n.Accepts(r) {
				t.Errorf("%s accepts %q", n.ID, r)
			}
		}
		if n.Accepts(n.Ask) {
			t.Errorf("%s accepts its own question", n.ID)
		}
	}
}

// What a player would type, in a few words, and what shows that the question
// was not understood.
func TestNaturalAnswers(t *testing.T) {
	t.Parallel()
	cases := map[string]struct{ yes, no []string }{
		"SN-BL-01": {[]string{"behind the blade", "out of the line", "not in the line"}, []string{"on the knife", "in front"}},
		"SN-BL-02": {[]string{"the mandrel", "mandrel and plaque", "Plaque!"}, []string{"my fingers"}},
		"SN-BL-03": {[]string{"upright on a block", "on the bench"}, []string{"on my lap", "in my hand", "on a board on my knees"}},
		"SN-BL-04": {[]string{"a holder", "blade holder"}, []string{"my fingers", "fingers, no holder"}},
		"SN-BL-05": {[]string{"clamped", "the bench vice", "its handle"}, []string{"my hand"}},
		"SN-BL-06": {[]string{"a brush", "brush"}, []string{"finger", "I blow"}},
		"SN-BL-07": {[]string{"outside", "away from it", "on the mandrel"}, []string{"in the throat"}},
		"SN-BL-08": {[]string{"a block", "the bench"}, []string{"my palm"}},
		"SN-BL-09": {[]string{"paper", "a thread", "never skin"}, []string{"my thumb"}},
		"SN-BL-10": {[]string{"in its sheath", "the block", "into the box"}, []string{"on the floor"}},
		"SN-BL-11": {[]string{"out of the line", "beside it", "not in line"}, []string{"behind the point"}},
		"SN-BL-12": {[]string{"safety glasses", "goggles"}, []string{"no glasses", "nothing"}},
		"SN-WI-01": {[]string{"glasses", "my goggles", "eye protection"}, []string{"no glasses", "nothing", "without goggles"}},
		"SN-WI-02": {[]string{"flat", "bent flat to the tube"}, []string{"up"}},
		"SN-HT-01": {[]string{"tongs", "with tweezers"}, []string{"fingers"}},
		"SN-HT-02": {[]string{"the cool end", "the handle"}, []string{"the hot one"}},
		"SN-HT-03": {[]string{"solvents and paper", "the glue", "thread ends"}, []string{"everything fine"}},
		"SN-HT-04": {[]string{"never both", "flame out and cold first", "I put it out", "one at a time", "another room"}, []string{"carefully"}},
		"SN-HT-05": {[]string{"a lid", "smother it", "fire blanket"}, []string{"water"}},
		"SN-CH-01": {[]string{"the label", "data sheet"}, []string{"the recipe"}},
		"SN-CH-02": {[]string{"a flame", "no flame", "sparks", "smoking"}, []string{"people"}},
		"SN-CH-03": {[]string{"flame", "no heater", "heat"}, []string{"people"}},
		"SN-CH-04": {[]string{"cotton", "my clothes or cotton", "skin"}, []string{"nylon"}},
		"SN-CH-05": {[]string{"nitrile gloves", "gloves"}, []string{"nothing", "latex gloves", "no gloves"}},
		"SN-CH-06": {[]string{"flame", "no candle", "a lighter"}, []string{"people"}},
		"SN-CH-07": {[]string{"hazardous waste point", "the collection"}, []string{"down the drain", "the sink"}},
		"SN-CH-08": {[]string{"not use it", "I don't use it", "throw it away", "replace it"}, []string{"use it", "sniff it"}},
		"SN-DU-01": {[]string{"damp cloth", "vacuum"}, []string{"blow"}},
		"SN-DU-02": {[]string{"throw it away", "in a bag and out"}, []string{"sand it"}},
		"SN-HY-01": {[]string{"nothing", "only cane"}, []string{"varnish"}},
		"SN-HY-02": {[]string{"wash my hands"}, []string{"play"}},
		"SN-HY-03": {[]string{"one", "only me"}, []string{"two"}},
		"SN-HY-04": {[]string{"wire", "tools", "a blank"}, []string{"my tongue"}},
		"SN-HY-05": {[]string{"stop", "see a doctor"}, []string{"play on"}},
		"SN-PE-01": {[]string{"an adult", "the teacher", "I do"}, []string{"nobody"}},
	}
	for _, n := range load(t).All() {
		k, ok := cases[n.ID]
		if n.Signal >= Caution && !ok {
			t.Errorf("%s has no answer to try", n.ID)
		}
		for _, a := range k.yes {
			if !n.Accepts(a) {
				t.Errorf("%s (%s) refuses %q", n.ID, n.Ask, a)
			}
		}
		for _, a := range k.no {
			if n.Accepts(a) {
				t.Errorf("%s (%s) accepts %q", n.ID, n.Ask, a)
			}
		}
	}
}

func TestWord(t *testing.T) {
	t.Parallel()
	c := load(t)
	cases := map[string]string{
		"sn-ht-04": "HT-04", "knife": "BL-01 BL-02 BL-10", "candle": "HT-04 HT-03", "cotton string": "CH-04", "epoxy": "CH-05 CH-01 CH-07 HY-01", "scrape": "BL-01 BL-02",
		"flammable": "HT-04", "minor": "PE-01", "reamers": "BL-01 BL-10 BL-11", "ruler": "", "nonsense": "", "": "", "  ": "", "splinters": "BL-08",
	}
	for word, want := range cases {
		notes := c.Word(word)
		if got := ids(notes); got != want {
			t.Errorf("%q: got %s, want %s", word, got, want)
		}
		for _, n := range notes {
			if len(n.Because) == 0 {
				t.Errorf("%q: %s does not say why", word, n.ID)
			}
		}
	}
}

func TestLinesAreInOrderAndNarrow(t *testing.T) {
	t.Parallel()
	c := load(t)
	for _, n := range c.All() {
		n.Because = []string{"a word"}
		for _, width := range []int{0, 40, 100} {
			want := width
			if width == 0 {
				want = 60
			}
			for _, l := range n.Lines(width) {
				// One long word, such as an address, may stand alone.
				if utf8.RuneCountInString(l) > want && len(strings.Fields(l)) > 2 {
					t.Errorf("%s: %d runes in %q", n.ID, utf8.RuneCountInString(l), l)
				}
				if strings.ContainsAny(l, "\t\x1b\n") {
					t.Errorf("%s: %q is not plain text", n.ID, l)
				}
			}
		}
		text := strings.Join(n.Lines(1000), "\n")
		at := -1
		for _, part := range []string{n.Signal.String(), n.Symbols[0].Number, n.Title, "Hazard: ", "If not avoided: ", "1. ", "Have: "} {
			next := strings.Index(text, part)
			if next <= at {
				t.Errorf("%s: %q is missing or out of order in\n%s", n.ID, part, text)
			}
			at = next
		}
		if shown := strings.Contains(text, "\n4. "); shown || strings.Contains(text, "more: ") != (len(n.Avoid) > 3) {
			t.Errorf("%s: %d lines on what to do are not cut after three:\n%s", n.ID, len(n.Avoid), text)
		}
		if strings.Contains(text, "⚠") != (n.Signal > Notice) {
			t.Errorf("%s: a %s and its triangle:\n%s", n.ID, n.Signal, text)
		}
		if strings.Contains(text, "From: ") || strings.Contains(text, "http") {
			t.Errorf("%s shows its sources at the bench; they belong in print", n.ID)
		}
		whole := strings.Join(n.Whole(10_000), "\n") // no line is wrapped
		for _, a := range slices.Concat(n.Avoid, n.Figures, n.Sources) {
			if !strings.Contains(whole, a) {
				t.Errorf("%s: print lacks %q", n.ID, a)
			}
		}
	}
}

// Nothing may hide a note: the package cannot even see a flag, a setting or
// the environment.
func TestThePackageReadsNoSettings(t *testing.T) {
	t.Parallel()
	files, err := filepath.Glob("*.go")
	if err != nil || len(files) < 5 {
		t.Fatal(files, err)
	}
	for _, f := range files {
		if strings.HasSuffix(f, "_test.go") {
			continue
		}
		parsed, err := parser.ParseFile(token.NewFileSet(), f, nil, parser.ImportsOnly)
		if err != nil {
			t.Fatal(err)
		}
		for _, i := range parsed.Imports {
			switch i.Path.Value {
			case `"os"`, `"flag"`, `"syscall"`, `"os/exec"`, `"net"`:
				t.Errorf("%s imports %s", f, i.Path.Value)
			}
		}
	}
}

func TestOneLine(t *testing.T) {
	t.Parallel()
	got := load(t).Word("SN-HT-04")[0].OneLine()
	if want := "DANGER W021: Never both. Flame out and cold first, then the bottle. (SN-HT-04)"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}
