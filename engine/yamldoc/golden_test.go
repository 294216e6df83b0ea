package yamldoc

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"canewright/engine/diagnostic"

	"github.com/rogpeppe/go-internal/txtar"
)

const golden = "../../testdata/golden/yaml"

// readSample walks a small format that uses everything the walk offers.
func readSample(root *Node, list *diagnostic.List) {
	known := func(name string) Field { return Field{Name: name} }
	texts := func(_, v *Node) { v.TextItems(list, "an instruction") }
	root.Fields("a recipe", list,
		Field{Name: "title", Required: true, Read: func(_, v *Node) { v.TextItems(list, "a title") }},
		Field{Name: "do", Read: texts},
		Field{Name: "stages", Read: func(_, v *Node) {
			for _, s := range v.Items() {
				s.Fields("a stage", list, Field{Name: "stage", Required: true}, Field{Name: "do", Read: texts})
			}
		}},
		known("why"), known("about"), known("answers"), known("numbers"), known("nothing"), known("also nothing"), known("comma"), known("width"),
		known("bar"), known("settings"), known("more"), known("widths"), known("fine"))
}

func findings(t *testing.T, name string, data []byte) (string, diagnostic.List) {
	t.Helper()
	root, _, list := ParseBytes(name, data)
	if root != nil {
		readSample(root, &list)
	}
	var b strings.Builder
	if err := list.Text(&b); err != nil {
		t.Fatal(err)
	}
	return b.String(), list
}

// TestGolden compares the findings with those written in the files; UPDATE=1
// rewrites them.
func TestGolden(t *testing.T) {
	t.Parallel()
	files, err := filepath.Glob(filepath.Join(golden, "*.txtar"))
	if err != nil || len(files) < 40 {
		t.Fatalf("golden files: %d, %v", len(files), err)
	}
	for _, f := range files {
		t.Run(strings.TrimSuffix(filepath.Base(f), ".txtar"), func(t *testing.T) {
			t.Parallel()
			a, err := txtar.ParseFile(f)
			if err != nil {
				t.Fatal(err)
			}
			if len(a.Files) != 2 || a.Files[1].Name != "findings" {
				t.Fatal("want the files recipe.yaml and findings")
			}
			got, list := findings(t, a.Files[0].Name, a.Files[0].Data)
			if bad := misplaced(list); bad != "" {
				t.Error(bad)
			}
			if os.Getenv("UPDATE") != "" {
				a.Files[1].Data = []byte(got)
				if err := os.WriteFile(f, txtar.Format(a), 0o644); err != nil {
					t.Fatal(err)
				}
				return
			}
			if want := string(bytes.TrimRight(a.Files[1].Data, "\n")); strings.TrimRight(got, "\n") != want {
				t.Errorf("findings:\n%s\nwant:\n%s", got, want)
			}
		})
	}
}

// TestEveryCodeIsListedAndShown holds the table of codes against what the
// package can say and what the tests have seen it say.
func TestEveryCodeIsListedAndShown(t *testing.T) {
	t.Parallel()
	sources, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	var code, tested strings.Builder
	for _, f := range sources {
		b, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		if strings.HasSuffix(f, "_test.go") {
			tested.Write(b)
		} else {
			code.Write(b)
		}
	}
	files, err := filepath.Glob(filepath.Join(golden, "*.txtar"))
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		b, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		tested.Write(b)
	}
	used := map[string]bool{}
	for _, part := range strings.Split(code.String(), `"yaml/`)[1:] {
		word, _, _ := strings.Cut(part, `"`)
		used["yaml/"+word] = true
	}
	listed := diagnostic.Codes()
	for c := range used {
		if listed[c] == "" {
			t.Errorf("%s is used and not listed", c)
		}
	}
	for c := range listed {
		if strings.HasPrefix(c, "yaml/") && (!used[c] || !strings.Contains(tested.String(), c)) {
			t.Errorf("%s is listed; used %v, tested %v", c, used[c], strings.Contains(tested.String(), c))
		}
	}
}

// misplaced names the first finding whose place is not in its file.
func misplaced(list diagnostic.List) string {
	for _, d := range list.Sorted() {
		spans := []diagnostic.Span{d.Span}
		for _, r := range d.Related {
			spans = append(spans, r.Span)
		}
		for _, s := range spans {
			if !exists(s) {
				return d.Code + ": " + d.Message + ": no such place: " + d.String()
			}
		}
	}
	return ""
}

func exists(s diagnostic.Span) bool {
	if s.From == (diagnostic.Pos{}) && s.To == s.From {
		return s.Source != nil // the whole file
	}
	in := func(p diagnostic.Pos) bool {
		return p.Line >= 1 && p.Line <= s.Source.Lines() && p.Col >= 1 && p.Col <= len(s.Source.Line(p.Line))+1
	}
	return s.Source != nil && in(s.From) && in(s.To) && !s.To.Before(s.From)
}
