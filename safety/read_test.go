package safety

import (
	"bytes"
	"strings"
	"testing"
)

func TestTheBuiltInFileIsFlawless(t *testing.T) {
	t.Parallel()
	c, list := Read("notes.yaml", builtIn)
	var b strings.Builder
	if err := list.Text(&b); err != nil {
		t.Fatal(err)
	}
	if c == nil || list.Len() != 0 {
		t.Fatalf("%d findings:\n%s", list.Len(), b.String())
	}
	if !bytes.Equal(c.Bytes(), builtIn) || c.Digest() == ([32]byte{}) {
		t.Error("the catalogue is not the file")
	}
	if len(c.Precedence()) < 3 || !strings.Contains(c.Precedence()[0], "label") {
		t.Errorf("precedence: %q", c.Precedence())
	}
	if len(c.Products()) < 8 {
		t.Errorf("%d products", len(c.Products()))
	}
}

// broken returns the built-in file with the first old replaced by new.
func broken(t *testing.T, old, replacement string) []byte {
	t.Helper()
	if !bytes.Contains(builtIn, []byte(old)) {
		t.Fatalf("the file does not hold %q", old)
	}
	return bytes.Replace(builtIn, []byte(old), []byte(replacement), 1)
}

func TestFlawsAreRefused(t *testing.T) {
	t.Parallel()
	cases := []struct {
		name, old, replacement string
		code, says             string
	}{
		{"unknown key", "    level:", "    levle:", "yaml/unknown-key", `"levle"`},
		{"missing hazard", "    hazard: Very sharp", "    # hazard: Very sharp", "yaml/missing-key", `"hazard"`},
		{"missing when", "    when:\n      classes: [loose blade]\n", "", "yaml/missing-key", `"when"`},
		{"unknown signal word", "signal: WARNING", "signal: ATTENTION", "safety/unknown-word", "ATTENTION"},
		{"lower case signal word", "signal: WARNING", "signal: warning", "safety/unknown-word", "warning"},
		{"unknown sign", "symbols: [W022, M009, E003]", "symbols: [W022, M999, E003]", "safety/unknown-word", "M999"},
		{"unknown code", "    h: [H225, H226]", "    h: [H225, H999]", "safety/unknown-word", "H999"},
		{"unknown source", "sources: [S-CCOHS-SHARP, S-OSHA-3080, S-KNIFE-CAUSES, S-EN388-A", "sources: [S-CCOHS-BLUNT, S-OSHA-3080, S-KNIFE-CAUSES, S-EN388-A", "safety/unknown-word", "S-CCOHS-BLUNT"},
		{"source nothing rests on", "\nsources:\n", "\nsources:\n  S-IDLE: {title: a page nobody cites, known: opened excerpt}\n", "safety/no-source", "S-IDLE"},
		{"unknown way of knowing", "known: from memory}", "known: from a dream}", "safety/unknown-word", "dream"},
		{"two notes of one id", "id: SN-BL-02", "id: SN-BL-01", "safety/duplicate-id", "SN-BL-01"},
		{"no answer accepted", "    accept: [mandrel, plaque]\n", "    accept: []\n", "safety/empty", "word to accept"},
		{"no question", "    ask: What holds the reed while the knife moves?\n", "", "safety/question", "SN-BL-02"},
		{"assent as an answer", "accept: [mandrel, plaque]", "accept: [mandrel, ok]", "safety/question", `"ok"`},
		{"a number as an answer", "accept: [mandrel, plaque]", "accept: [mandrel, 3]", "safety/question", `"3"`},
		{"question that answers itself", "accept: [mandrel, plaque]", "accept: [mandrel, knife]", "safety/question", "answers itself"},
		{"unknown class", "classes: [loose blade]", "classes: [lose blade]", "safety/unknown-word", "lose blade"},
		{"unknown tool", "tools: [knife]", "tools: [knive]", "safety/unknown-word", "knive"},
		{"alias for a tool", "tools: [knife]", "tools: [reed knife]", "safety/unknown-word", "reed knife"},
		{"unknown action", "actions: [squeeze]", "actions: [squash]", "safety/unknown-word", "squash"},
		{"selects nothing", "      classes: [loose blade]\n", "      classes: []\n", "safety/empty", "nothing selects"},
		{"together with one side", "        - {classes: [leaving]}\n        - {classes: [blade]}\n", "        - {classes: [leaving]}\n", "safety/empty", "one side"},
		{"first aid of nobody", "first_aid: {as: SN-BL-06}", "first_aid: {as: SN-BL-66}", "safety/unknown-word", "SN-BL-66"},
		{"first aid in a circle", "first_aid: {as: SN-BL-06}", "first_aid: {as: SN-BL-07}", "safety/circle", "back to itself"},
		{"no first aid", "    first_aid: {as: SN-BL-06}\n", "", "safety/empty", "SN-BL-07"},
		{"under nobody", "under: SN-BL-01", "under: SN-BL-99", "safety/under", "SN-BL-99"},
		{"under itself", "under: SN-BL-01", "under: SN-BL-02", "safety/under", "SN-BL-02"},
		{"a warning under another", "    ask: What holds a loose blade", "    under: SN-BL-01\n    ask: What holds a loose blade", "safety/under", "WARNING"},
		{"revision that is none", "revision: 1", "revision: one", "safety/number", "one"},
		{"unknown scope", "scope: step", "scope: stage", "safety/unknown-word", "stage"},
		{"empty line on what to do", "      - Never catch a falling tool; step back and let it fall.", "      - ''", "safety/empty", "what to do"},
		{"another format", "canewright: safety 1", "canewright: safety 2", "safety/format", "safety 2"},
		{"signal words not explained", "  NOTICE: no injury", "  NOTE: no injury", "yaml/missing-key", "NOTICE"},
		{"no notes", "\nnotes:\n", "\nnotes: []\nnote:\n", "yaml/unknown-key", `"note"`},
		{"fact that hangs in the air", "{says: EUH066, known: from memory}", "{says: EUH066}", "safety/no-source", "fact"},
	}
	for _, k := range cases {
		t.Run(k.name, func(t *testing.T) {
			t.Parallel()
			c, list := Read("notes.yaml", broken(t, k.old, k.replacement))
			if c != nil || !list.Failed() {
				t.Fatal("the file was taken")
			}
			for _, d := range list.Sorted() {
				if d.Code == k.code && strings.Contains(d.Message, k.says) {
					if d.Span.From.Line == 0 {
						t.Errorf("no place: %s", d)
					}
					return
				}
			}
			var b strings.Builder
			_ = list.Text(&b)
			t.Errorf("no %s about %s in:\n%s", k.code, k.says, b.String())
		})
	}
}

func TestDamagedFilesFailClosed(t *testing.T) {
	t.Parallel()
	cases := map[string][]byte{
		"deleted": nil, "blank": []byte("\n\n"), "a list": []byte("- a\n"), "not YAML": []byte("{{{"), "binary": {0xff, 0xfe, 0, 1},
		"cut in half": builtIn[:len(builtIn)/2], "cut before the notes": builtIn[:bytes.Index(builtIn, []byte("\nnotes:"))],
		"first byte lost": builtIn[bytes.IndexByte(builtIn, '\n')+1:][1:],
	}
	for name, data := range cases {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			if name == "first byte lost" {
				data = append([]byte("x"), data...) // a comment that is none any more
			}
			if c, list := Read("notes.yaml", data); c != nil || !list.Failed() {
				t.Error("the file was taken")
			}
		})
	}
}

func FuzzRead(f *testing.F) {
	f.Add([]byte("canewright: safety 1\nnotes: []\n"))
	f.Add(builtIn[:4000])
	f.Fuzz(func(t *testing.T, data []byte) {
		if c, list := Read("x", data); (c == nil) != list.Failed() {
			t.Errorf("a catalogue: %v, findings: %d", c != nil, list.Len())
		}
	})
}
