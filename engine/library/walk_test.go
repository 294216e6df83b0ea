package library_test

import (
	"bytes"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"canewright/engine/library"
	"canewright/engine/recipe"
	"canewright/recipes"
)

func text(id, instrument, more string) string {
	s := "canewright: recipe 1\ntitle: The " + id + "\nid: " + id + "\nversion: 2\n"
	if instrument != "" {
		s += "instrument: " + instrument + "\n"
	}
	return s + more + "stages:\n  - stage: soak\n    do: [Soak it.]\n"
}

func shelf(files map[string]string) fstest.MapFS {
	out := fstest.MapFS{}
	for name, data := range files {
		out[name] = &fstest.MapFile{Data: []byte(data)}
	}
	return out
}

func places(l library.Listing) string {
	var out []string
	for _, e := range l.Entries {
		out = append(out, e.Place)
	}
	return strings.Join(out, " ")
}

func TestWalkFindsRecipesAlone(t *testing.T) {
	t.Parallel()
	origin := text("origin", "bassoon 1", "")
	fsys := shelf(map[string]string{
		"bassoon/long/recipe.yaml":               text("long", "bassoon 1", "author: Nobody\n"),
		"bassoon/long/cases.yaml":                "canewright: cases 1\ncases: []\n",
		"bassoon/long/origins/abc.yaml":          origin,
		"bassoon/long/instrument/x.yaml":         "canewright: instrument 1\nid: x\n",
		"bassoon/long/notes/deeper.yaml":         text("deeper", "bassoon 1", ""),
		"loose.yaml":                             text("loose", "", "about: |\n  First line.\n\n  stages: in a text.\n"),
		"other.yml":                              text("other", "oboe 1", ""),
		"checkout/recipes/oboe/four/recipe.yaml": text("four", "oboe 1", ""),
		"shawm/instrument.yaml":                  "canewright: instrument 1\nid: shawm\n",
		"kitchen.yaml":                           "eggs: 2\n",
		"broken.yaml":                            "canewright: recipe 1\ntitle: [\nid: broken\n",
		"nameless.yaml":                          "canewright: recipe 1\ntitle: No id\n",
		"readme.md":                              text("readme", "", ""),
		".git/objects/recipe.yaml":               text("hidden", "", ""),
		".hidden.yaml":                           text("hidden-too", "", ""),
		"origins/abc.yaml":                       text("beside-single-files", "", ""),
		"a/b/c/d/e/f/g/recipe.yaml":              text("too-deep", "", ""),
		"windows.yaml":                           strings.ReplaceAll("\ufeff"+text("windows", "", ""), "\n", "\r\n"),
		"flow.yaml":                              `{canewright: recipe 1, title: In braces, id: flow, version: 1, stages: []}`,
	})
	fsys["linked.yaml"] = &fstest.MapFile{Data: []byte("loose.yaml"), Mode: fs.ModeSymlink}
	fsys["linked"] = &fstest.MapFile{Data: []byte("bassoon"), Mode: fs.ModeSymlink}
	fsys["pipe.yaml"] = &fstest.MapFile{Mode: fs.ModeNamedPipe}
	l, err := library.Walk(fsys)
	if err != nil {
		t.Fatal(err)
	}
	want := "bassoon/long bassoon/long/notes/deeper broken checkout/recipes/oboe/four flow loose nameless other windows"
	if got := places(l); got != want {
		t.Errorf("found\n%s\nwant\n%s", got, want)
	}
	if len(l.Left) != 1 || l.Left[0] != "a/b/c/d/e/f/g: it lies too deep" {
		t.Errorf("left off: %q", l.Left)
	}
	for _, e := range l.Entries {
		data, err := library.Read(fsys, e.File)
		if err != nil || e.Digest != recipe.Digest(data) {
			t.Errorf("%s: digest %s (%v)", e.Place, e.Digest, err)
		}
		if (e.Fault != "") != (e.Place == "broken" || e.Place == "nameless") {
			t.Errorf("%s: fault %q", e.Place, e.Fault)
		}
	}
	long, loose := l.Entries[0], l.Entries[5]
	if long.Name() != "bassoon/long" || long.Author != "Nobody" || long.Version != "2" || long.Cases != "bassoon/long/cases.yaml" {
		t.Errorf("%+v", long)
	}
	if loose.Name() != "checklists/loose" || loose.About != "First line.\n\nstages: in a text." || loose.Cases != "" {
		t.Errorf("%+v", loose)
	}
	again, _ := library.Walk(fsys)
	if fmt.Sprint(again) != fmt.Sprint(l) {
		t.Error("a second walk gives another list")
	}

	data, file, err := library.Find(fsys, recipe.Digest([]byte(origin)))
	if err != nil || string(data) != origin || file != "bassoon/long/origins/abc.yaml" {
		t.Errorf("the origin was found as %q (%v)", file, err)
	}
	if _, file, err := library.Find(fsys, recipe.Digest(fsys["origins/abc.yaml"].Data)); err != nil || file != "origins/abc.yaml" {
		t.Errorf("what single files build on was found as %q (%v)", file, err)
	}
	if data, _, err := library.Find(fsys, strings.Repeat("0", 64)); data != nil || err != nil {
		t.Errorf("what is not there was found (%v)", err)
	}
}

func TestNamed(t *testing.T) {
	t.Parallel()
	fsys := shelf(map[string]string{
		"bassoon/my-reed/recipe.yaml":    text("my-reed", "bassoon 1", ""),
		"bassoon/my-reed.v3/recipe.yaml": text("my-reed", "bassoon 1", "author: A\n"),
		"oboe/my-reed/recipe.yaml":       text("my-reed", "oboe 1", ""),
		"teacher.yaml":                   text("hard-cane", "oboe 1", "about: Not like my-reed.\n"),
	})
	for name, want := range map[string]string{
		"my-reed":            "bassoon/my-reed bassoon/my-reed.v3 oboe/my-reed",
		"bassoon/my-reed":    "bassoon/my-reed bassoon/my-reed.v3",
		"bassoon/my-reed.v3": "bassoon/my-reed.v3",
		"my-reed.v3":         "bassoon/my-reed.v3",
		"oboe/hard-cane":     "teacher",
		"hard-cane":          "teacher",
		"teacher":            "teacher",
		"reed":               "",
		"":                   "",
		"../oboe/my-reed":    "",
	} {
		l, err := library.Named(fsys, name)
		if got := places(l); err != nil || got != want {
			t.Errorf("%q: %q, want %q (%v)", name, got, want, err)
		}
	}
}

func TestHolds(t *testing.T) {
	t.Parallel()
	e := library.Entry{Title: "Long scrape for winter", ID: "long-scrape", Author: "Ö. Nobody", About: "Dark.", Instrument: "oboe 1"}
	for words, want := range map[string]bool{"winter": true, "WINTER oboe": true, "dark ö.": true, "summer": false, "winter summer": false, "": true} {
		if got := e.Holds(strings.Fields(words)); got != want {
			t.Errorf("%q: %v", words, got)
		}
	}
}

// A stranger's library is bounded in what is kept of it.
func TestALibraryIsBounded(t *testing.T) {
	t.Parallel()
	fsys := shelf(map[string]string{
		"wordy.yaml": text("wordy", "", "about: "+strings.Repeat("word ", 20_000)+"\n"),
		"large.yaml": text("large", "", "") + strings.Repeat("# more\n", 400_000),
	})
	l, err := library.Walk(fsys)
	if err != nil || len(l.Entries) != 2 {
		t.Fatalf("%v %v", places(l), err)
	}
	if e := l.Entries[0]; e.Fault != "the file has more than 2048 KiB" {
		t.Errorf("%+v", e)
	}
	if n := len(l.Entries[1].About); n > 4100 {
		t.Errorf("%d bytes are kept of an about", n)
	}
	if _, err := library.Walk(os.DirFS(filepath.Join(t.TempDir(), "gone"))); err == nil {
		t.Error("a folder that is not there was walked")
	}
}

// The bundled recipes are a library; their heads read the same as by Load.
func TestHeadsAreWhatLoadReads(t *testing.T) {
	t.Parallel()
	l, err := library.Walk(recipes.Files)
	if err != nil {
		t.Fatal(err)
	}
	var all []string
	for _, e := range l.Entries {
		all = append(all, e.Place)
		data, err := library.Read(recipes.Files, e.File)
		if err != nil {
			t.Fatal(err)
		}
		f, _ := recipe.Load(e.File, data)
		instrument := ""
		if f.Instrument != "" {
			instrument = fmt.Sprint(f.Instrument, " ", f.Major)
		}
		if e.ID != f.ID || e.Title != f.Title || e.Version != fmt.Sprint(f.Version) || e.About != f.About || e.Author != f.Author || e.Licence != f.Licence || e.Instrument != instrument {
			t.Errorf("%+v", e)
		}
		if e.Cases == "" {
			t.Errorf("%s: its cases were not seen", e.Place)
		}
	}
	if !slices.Equal(all, recipes.All()) {
		t.Errorf("%v", all)
	}
}

func FuzzHead(f *testing.F) {
	f.Add([]byte(text("a", "bassoon 1", "")))
	f.Add([]byte("canewright: recipe 1\nid: a\ntitle: |\n\n  x\nabout:\n"))
	f.Add([]byte("\ufeffcanewright: [recipe 1"))
	f.Fuzz(func(t *testing.T, data []byte) {
		l, err := library.Walk(fstest.MapFS{"x.yaml": {Data: data}})
		if err != nil || len(l.Entries) > 1 {
			t.Fatal(l, err)
		}
		// What a recipe's own reader takes has the same head.
		if r, list := recipe.Load("x.yaml", data); r != nil && !list.Failed() {
			if len(l.Entries) != 1 || l.Entries[0].ID != r.ID || l.Entries[0].Fault != "" || l.Entries[0].Title != strings.TrimSpace(r.Title) && len(r.Title) < 1000 {
				t.Fatalf("%+v, want id %q, title %q", l.Entries, r.ID, r.Title)
			}
		}
	})
}

// many writes n recipes, each as long as a bundled one.
func many(b *testing.B, n int) string {
	b.Helper()
	long, err := recipes.Files.ReadFile("bassoon/from-shaped-cane/recipe.yaml")
	if err != nil {
		b.Fatal(err)
	}
	_, rest, _ := bytes.Cut(long, []byte("\nversion:"))
	dir := b.TempDir()
	for i := range n {
		id := fmt.Sprintf("reed-%05d", i)
		folder := filepath.Join(dir, []string{"bassoon", "oboe", "shawm"}[i%3], id)
		if err := os.MkdirAll(folder, 0o700); err != nil {
			b.Fatal(err)
		}
		data := append([]byte("canewright: recipe 1\ntitle: Reed "+id+"\nid: "+id+"\nversion:"), rest...)
		if err := os.WriteFile(filepath.Join(folder, "recipe.yaml"), data, 0o600); err != nil {
			b.Fatal(err)
		}
	}
	return dir
}

// BenchmarkTenThousand lists, and looks for one name in, a library of 10,000
// recipes.
func BenchmarkTenThousand(b *testing.B) {
	dir := many(b, 10_000)
	b.Run("list", func(b *testing.B) {
		for b.Loop() {
			if l, err := library.Walk(os.DirFS(dir)); err != nil || len(l.Entries) != 10_000 {
				b.Fatal(len(l.Entries), err)
			}
		}
	})
	b.Run("name", func(b *testing.B) {
		for b.Loop() {
			if l, err := library.Named(os.DirFS(dir), "oboe/reed-04711"); err != nil || len(l.Entries) > 1 {
				b.Fatal(len(l.Entries), err)
			}
		}
	})
	b.Run("digest", func(b *testing.B) {
		for b.Loop() {
			if d, _, err := library.Find(os.DirFS(dir), strings.Repeat("0", 64)); err != nil || d != nil {
				b.Fatal(err)
			}
		}
	})
}
