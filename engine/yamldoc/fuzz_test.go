package yamldoc

import (
	"path/filepath"
	"testing"

	"canewright/engine/diagnostic"

	"github.com/rogpeppe/go-internal/txtar"
)

// seed adds the golden files and short pieces of each kind of text.
func seed(f *testing.F) {
	files, err := filepath.Glob(filepath.Join(golden, "*.txtar"))
	if err != nil {
		f.Fatal(err)
	}
	for _, name := range files {
		a, err := txtar.ParseFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(a.Files[0].Data)
	}
	for _, s := range []string{
		"targets:\n  wire.first: 27.0 ± 0.5 mm # from the butt\n  gouge.centre: {target: 1.30 +0.03 -0.02 mm, above: once more}\n",
		"wait: {until: it sinks, at least: 2 h, because: cane left longer may go brittle}\n",
		"k: \"a\\\n\n  b\\u00e9\\x41 \n  c\"\n", "k: 'a''b\n\n c'\n", "k: >+2\n   a\n\n  b\n\n", "k: |-\n\n  a\n   b\n", "k: a\n b\n\n c #d\n",
		"\ufeffk: 日本 e\u0301\r\nj:\r\n- x\r\n", "? a\n: b\n", "- - a\n  - b: c\n", "[a, [b, {c: d}]]", "{a: {b: }, c}", "a: &b [*b]\n", "\ta", "--- a\n...\n",
	} {
		f.Add([]byte(s))
	}
}

// FuzzParse: no input makes the reader fail otherwise than by findings, every
// place named exists, and the same file gives the same findings.
func FuzzParse(f *testing.F) {
	seed(f)
	f.Fuzz(func(t *testing.T, data []byte) {
		root, src, _ := ParseBytes("f", data)
		first, list := findings(t, "f", data)
		second, _ := findings(t, "f", data)
		if first != second {
			t.Errorf("first\n%s\nthen\n%s", first, second)
		}
		if bad := misplaced(list); bad != "" {
			t.Error(bad)
		}
		if root == nil {
			if list.Len() == 0 {
				t.Error("neither a tree nor a finding")
			}
			return
		}
		walk(root, func(n *Node) {
			if !exists(n.Span()) {
				t.Errorf("%v %q at %v to %v, outside the file", n.Shape(), n.Value(), n.Span().From, n.Span().To)
			}
			if n.Span().Source != src {
				t.Errorf("%q has another source", n.Value())
			}
			var sub diagnostic.List
			n.TextItems(&sub, "a text")
			if bad := misplaced(sub); bad != "" {
				t.Error(bad)
			}
		})
	})
}

// FuzzScalarMap: each rune of a text stands where the text says it does.
func FuzzScalarMap(f *testing.F) {
	seed(f)
	f.Fuzz(func(t *testing.T, data []byte) {
		root, src, _ := ParseBytes("f", data)
		walk(root, func(n *Node) {
			if bad := misread(src, n.Text()); bad != "" {
				t.Error(bad)
			}
		})
	})
}

// TestPlacesAreProved: a map that is refused is safe but useless; of texts as
// makers write them none is.
func TestPlacesAreProved(t *testing.T) {
	t.Parallel()
	files, err := filepath.Glob(filepath.Join(golden, "*.txtar"))
	if err != nil {
		t.Fatal(err)
	}
	texts := 0
	for _, name := range files {
		a, err := txtar.ParseFile(name)
		if err != nil {
			t.Fatal(err)
		}
		root, _, list := ParseBytes(name, a.Files[0].Data)
		if list.Len() > 0 {
			continue
		}
		walk(root, func(n *Node) {
			if n.Shape() != Scalar {
				return
			}
			if texts++; !n.Text().Proved() {
				t.Errorf("%s: no places for %q", name, n.Value())
			}
		})
	}
	if texts < 50 {
		t.Errorf("only %d texts seen", texts)
	}
}
