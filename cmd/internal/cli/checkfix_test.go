package cli

import (
	"bytes"
	"context"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"canewright/cmd/internal/wire"
	"canewright/engine/dimension"
	"canewright/engine/quantity"
	"canewright/engine/recipe"
	"canewright/engine/session"
	"canewright/engine/tool"
)

// renamedSet is an invented set one of whose dimensions had another name.
func renamedSet(t *testing.T) *dimension.Set {
	t.Helper()
	mm, ok := quantity.UnitNamed("mm")
	if !ok {
		t.Fatal("no mm")
	}
	wire := func(name, title string, was ...string) dimension.Dimension {
		return dimension.Dimension{Name: name, Title: title, Was: was, Kind: quantity.Length, Unit: mm, Subject: "piece", Datum: "the butt",
			Condition: dimension.Either, How: "to the twist", Tool: "ruler", More: "far", Less: "close",
			Sources: []dimension.Source{{Says: "invented", Grade: dimension.FromMemory}}}
	}
	set := &dimension.Set{ID: "shawm", Title: "shawm, invented", Major: 1, Minor: 1, Dimensions: []dimension.Dimension{
		wire("wire.first", "first wire", "wire.top", "w"), wire("wire.second", "second wire"),
	}}
	if found := set.Check(); found.Failed() {
		t.Fatal(found.Sorted())
	}
	return set
}

// read is what wire.Works.Recipe makes of a file, for the invented set.
func read(t *testing.T, path string) wire.Recipe {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	set := renamedSet(t)
	f, list := recipe.Load(path, data)
	r := wire.Recipe{List: list, Snapshot: session.Snapshot{RecipeName: path, Recipe: data, Set: set.Encode()}}
	if f != nil {
		bound, more := recipe.Bind(f, set, tool.Standard())
		r.Bound = bound
		r.List.Append(more)
	}
	return r
}

const withOldNames = `canewright: recipe 1   # the w in these words stays
title: w
id: w
version: 1
instrument: shawm 1
targets:
  wire.top:    27.0 ± 0.5 mm    # wire.top, as I used to call it
  wire.second: 20 ± 1 mm
stages:
    - stage: wire.top
      do: [ "Märk {wire.top} – then {w}" ]
      measure: [ w , wire.second ]
      expect:
      - that: w-wire.second>=5 mm and wire.top + 0 mm > 2 mm
        otherwise: once more
`

const withNewNames = `canewright: recipe 1   # the w in these words stays
title: w
id: w
version: 1
instrument: shawm 1
targets:
  wire.first:    27.0 ± 0.5 mm    # wire.top, as I used to call it
  wire.second: 20 ± 1 mm
stages:
    - stage: wire.top
      do: [ "Märk {wire.first} – then {wire.first}" ]
      measure: [ wire.first , wire.second ]
      expect:
      - that: wire.first-wire.second>=5 mm and wire.first + 0 mm > 2 mm
        otherwise: once more
`

func works(t *testing.T) *wire.Works {
	t.Helper()
	home := t.TempDir()
	return &wire.Works{Env: func(k string) string { return map[string]string{"HOME": home}[k] }, Now: time.Now, Rand: rand.NewChaCha8([32]byte{})}
}

func TestFixRewritesNamesAndNothingElse(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ say, lead, end string }{
		{"as written on most machines", "", "\n"},
		{"as written on windows", "", "\r\n"},
		{"with a byte order mark", "\ufeff", "\r\n"},
	} {
		t.Run(c.say, func(t *testing.T) {
			t.Parallel()
			dress := func(s string) []byte { return []byte(c.lead + strings.ReplaceAll(s, "\n", c.end)) }
			path := filepath.Join(t.TempDir(), "my.yaml")
			if err := os.WriteFile(path, dress(withOldNames), 0o640); err != nil {
				t.Fatal(err)
			}
			done, err := fixNames(works(t), "my.yaml", read(t, path))
			if err != nil || done == nil {
				t.Fatalf("%v, %v", done, err)
			}
			if got, _ := os.ReadFile(path); !bytes.Equal(got, dress(withNewNames)) {
				t.Errorf("it is now\n%s", got)
			}
			if got, _ := os.ReadFile(path + ".before"); !bytes.Equal(got, dress(withOldNames)) || done.Before != path+".before" {
				t.Errorf("%s holds\n%s", done.Before, got)
			}
			if info, err := os.Stat(path); err != nil || info.Mode().Perm()&0o200 == 0 {
				t.Errorf("%v, %v", info, err)
			}
			var at []int
			for _, l := range done.Lines {
				at = append(at, l.Line)
			}
			if !slices.Equal(at, []int{7, 11, 12, 14}) {
				t.Errorf("lines %v are shown", at)
			}
			if again, err := fixNames(works(t), "my.yaml", read(t, path)); again != nil || err != nil {
				t.Errorf("a second time: %v, %v", again, err)
			}
			if left, _ := os.ReadDir(filepath.Dir(path)); len(left) != 2 {
				t.Errorf("%d files are there", len(left))
			}
		})
	}
}

func TestFixRefuses(t *testing.T) {
	t.Parallel()
	write := func(t *testing.T, path, text string) {
		t.Helper()
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	t.Run("a file that changed meanwhile", func(t *testing.T) {
		t.Parallel()
		path := filepath.Join(t.TempDir(), "my.yaml")
		write(t, path, withOldNames)
		r := read(t, path)
		write(t, path, withOldNames+"# one more remark\n")
		_, err := fixNames(works(t), "my.yaml", r)
		if err == nil || !strings.Contains(err.Error(), "the file changed while it was checked; nothing is written") {
			t.Errorf("got %v", err)
		}
		if left, _ := os.ReadDir(filepath.Dir(path)); len(left) != 1 {
			t.Errorf("%d files are there", len(left))
		}
	})
	t.Run("what is no file", func(t *testing.T) {
		t.Parallel()
		path := filepath.Join(t.TempDir(), "my.yaml")
		write(t, path, withOldNames)
		r := read(t, path)
		if err := os.Remove(path); err != nil {
			t.Fatal(err)
		}
		if _, err := fixNames(works(t), "bundled", r); err == nil || !strings.Contains(err.Error(), "it is no file of yours") {
			t.Errorf("got %v", err)
		}
	})
	t.Run("findings of another text", func(t *testing.T) {
		t.Parallel()
		path := filepath.Join(t.TempDir(), "my.yaml")
		write(t, path, withOldNames)
		r := read(t, path)
		if _, _, err := rewrite([]byte("a\n\n\n\n\n\nb\n"), r.List.Sorted()); err == nil {
			t.Error("nothing is said")
		}
	})
}

// A recipe that has errors besides is mended as far as names go.
func TestFixLeavesErrorsToTheirAuthor(t *testing.T) {
	t.Parallel()
	path := filepath.Join(t.TempDir(), "my.yaml")
	if err := os.WriteFile(path, []byte(strings.Replace(withOldNames, "27.0 ± 0.5 mm", "27.0 ± 0.5 kg", 1)), 0o644); err != nil {
		t.Fatal(err)
	}
	done, err := fixNames(works(t), "my.yaml", read(t, path))
	if err != nil || done == nil {
		t.Fatalf("%v, %v", done, err)
	}
	got, _ := os.ReadFile(path)
	if want := strings.Replace(withNewNames, "27.0 ± 0.5 mm", "27.0 ± 0.5 kg", 1); string(got) != want {
		t.Errorf("it is now\n%s", got)
	}
}

func TestWhatWasKeptBeforeStays(t *testing.T) {
	t.Parallel()
	path := filepath.Join(t.TempDir(), "my.yaml")
	var kept []string
	for _, text := range []string{"one", "two", "two", "three"} {
		k, err := keepBefore(path, []byte(text), 0o600)
		if err != nil {
			t.Fatal(err)
		}
		kept = append(kept, strings.TrimPrefix(k, path))
	}
	if !slices.Equal(kept, []string{".before", ".before-2", ".before-2", ".before-3"}) {
		t.Errorf("kept as %v", kept)
	}
	if b, _ := os.ReadFile(path + ".before"); string(b) != "one" {
		t.Errorf("the first is now %q", b)
	}
}

func TestALinkedRecipeIsRewrittenWhereItLies(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	path, link := filepath.Join(dir, "real.yaml"), filepath.Join(dir, "link.yaml")
	if err := os.WriteFile(path, []byte(withOldNames), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(path, link); err != nil {
		t.Skipf("no links here: %v", err)
	}
	if _, err := fixNames(works(t), "link.yaml", read(t, link)); err != nil {
		t.Fatal(err)
	}
	if got, _ := os.ReadFile(path); string(got) != withNewNames {
		t.Errorf("it is now\n%s", got)
	}
	if info, err := os.Lstat(link); err != nil || info.Mode()&os.ModeSymlink == 0 {
		t.Errorf("the link is %v, %v", info, err)
	}
}

// The whole command, with nothing to fix.
func TestCheckFixWithNothingToFix(t *testing.T) {
	t.Parallel()
	path := filepath.Join(t.TempDir(), "list.yaml")
	text := "canewright: recipe 1\ntitle: a list\nid: a-list\nversion: 1\nstages:\n  - stage: soak\n    do: [Soak it.]\n"
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	home := t.TempDir()
	c := newCommander(System{Out: &out, Err: &out, Now: time.Now, Env: func(k string) string { return map[string]string{"HOME": home}[k] }})
	if err := runCheck(context.Background(), c, []string{path}, false, true); err != nil {
		t.Fatal(err)
	}
	if want := path + ": all well\n"; out.String() != want {
		t.Errorf("it says %q", &out)
	}
	if left, _ := os.ReadDir(filepath.Dir(path)); len(left) != 1 {
		t.Errorf("%d files are there", len(left))
	}
}
