package folder_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"

	"canewright/engine/diagnostic"
	"canewright/plugins/folder"
)

const golden = "../../testdata/golden/instrument"

// Every refusal of an instrument's file has one that tries it: the file, and
// what is said of it. UPDATE=1 rewrites what is said.
func TestGolden(t *testing.T) {
	t.Parallel()
	files, err := filepath.Glob(filepath.Join(golden, "*.txtar"))
	if err != nil || len(files) < 15 {
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
				t.Fatal("want the files instrument.yaml and findings")
			}
			in, list := folder.Load(a.Files[0].Name, a.Files[0].Data)
			for _, d := range list.Sorted() {
				for _, s := range append([]diagnostic.Span{d.Span}, related(d)...) {
					if !inFile(s, a.Files[0].Name) {
						t.Errorf("no such place in the file: %s", d)
					}
				}
			}
			if (in == nil) != list.Failed() {
				t.Errorf("read: %v, with errors: %v", in != nil, list.Failed())
			}
			var b strings.Builder
			if err := list.Text(&b); err != nil {
				t.Fatal(err)
			}
			got := b.String()
			if os.Getenv("UPDATE") != "" {
				a.Files[1].Data = []byte(got)
				if err := os.WriteFile(f, txtar.Format(a), 0o644); err != nil {
					t.Fatal(err)
				}
				return
			}
			if want := string(a.Files[1].Data); strings.TrimRight(got, "\n") != strings.TrimRight(want, "\n") {
				t.Errorf("findings:\n%s\nwant:\n%s", got, want)
			}
		})
	}
}

func related(d diagnostic.Diagnostic) []diagnostic.Span {
	var out []diagnostic.Span
	for _, r := range d.Related {
		out = append(out, r.Span)
	}
	return out
}

func inFile(s diagnostic.Span, name string) bool {
	if s.Source == nil || s.Source.Name != name {
		return false
	}
	in := func(p diagnostic.Pos) bool {
		return p.Line >= 1 && p.Line <= s.Source.Lines() && p.Col >= 1 && p.Col <= len(s.Source.Line(p.Line))+1
	}
	return in(s.From) && in(s.To) && !s.To.Before(s.From)
}
