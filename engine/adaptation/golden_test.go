package adaptation_test

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"

	"canewright/engine/adaptation"
	"canewright/engine/recipe"
)

const golden = "../../testdata/golden/own"

// Every refusal of an own version has a file that tries it: the own version, what
// it builds on, and what is said, or the whole that comes of the two. UPDATE=1
// rewrites the last.
func TestGolden(t *testing.T) {
	t.Parallel()
	files, err := filepath.Glob(filepath.Join(golden, "*.txtar"))
	if err != nil || len(files) < 6 {
		t.Fatalf("golden files: %d, %v", len(files), err)
	}
	for _, f := range files {
		t.Run(strings.TrimSuffix(filepath.Base(f), ".txtar"), func(t *testing.T) {
			t.Parallel()
			a, err := txtar.ParseFile(f)
			if err != nil {
				t.Fatal(err)
			}
			if len(a.Files) != 3 || a.Files[1].Name != "origin.yaml" {
				t.Fatal("want the files own.yaml, origin.yaml, and findings or whole.yaml")
			}
			o, list := adaptation.Load("own.yaml", a.Files[0].Data)
			var whole []byte
			if o != nil {
				w, more := o.Whole("origin.yaml", a.Files[1].Data)
				list.Append(more)
				whole = w
			}
			if (whole == nil) != list.Failed() {
				t.Errorf("whole: %v, with errors: %v", whole != nil, list.Failed())
			}
			name, got := "findings", whole
			if whole != nil {
				name = "whole.yaml"
				if f, list := recipe.Load(name, whole); f == nil {
					t.Errorf("the whole is no recipe: %v", list.Sorted())
				}
			} else {
				var b bytes.Buffer
				if err := list.Text(&b); err != nil {
					t.Fatal(err)
				}
				got = b.Bytes()
			}
			if os.Getenv("UPDATE") != "" {
				a.Files[2].Name, a.Files[2].Data = name, got
				if err := os.WriteFile(f, txtar.Format(a), 0o644); err != nil {
					t.Fatal(err)
				}
				return
			}
			if want := a.Files[2]; want.Name != name || strings.TrimRight(string(got), "\n") != strings.TrimRight(string(want.Data), "\n") {
				t.Errorf("%s:\n%s\nwant %s:\n%s", name, got, want.Name, want.Data)
			}
		})
	}
}

// No own version and no origin, whatever they hold, make it fail otherwise than by
// a finding; a whole is read again.
func FuzzWhole(f *testing.F) {
	files, _ := filepath.Glob(filepath.Join(golden, "*.txtar"))
	for _, name := range files {
		if a, err := txtar.ParseFile(name); err == nil && len(a.Files) > 1 {
			f.Add(a.Files[0].Data, a.Files[1].Data)
		}
	}
	f.Fuzz(func(t *testing.T, own, origin []byte) {
		o, list := adaptation.Load("own.yaml", own)
		if o == nil {
			if !list.Failed() {
				t.Fatal("refused without a finding")
			}
			return
		}
		w, list := o.Whole("origin.yaml", origin)
		if w == nil {
			if !list.Failed() {
				t.Fatal("no whole, and no finding")
			}
			return
		}
		adaptation.Differences(origin, w)
	})
}
