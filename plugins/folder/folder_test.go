package folder_test

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/txtar"

	"canewright/engine/dimension"
	"canewright/engine/yamldoc"
	"canewright/plugins/folder"
	"canewright/plugins/sdk"
)

func accepted(t *testing.T) []byte {
	t.Helper()
	a, err := txtar.ParseFile(filepath.Join(golden, "accepted.txtar"))
	if err != nil {
		t.Fatal(err)
	}
	return a.Files[0].Data
}

// What is said in the file arrives where it belongs.
func TestEveryWordOfAFileArrives(t *testing.T) {
	t.Parallel()
	in, list := folder.Load("instrument.yaml", accepted(t))
	if in == nil || list.Len() != 0 {
		t.Fatal(list.Sorted())
	}
	set := in.Set
	if set.ID != "bombard" || set.Major != 1 || set.Minor != 0 || set.Title != "bombard, invented" || set.About != "Every number here is invented." || in.Cases != 3 || in.Served.Contact != "nobody" {
		t.Errorf("the head is %+v, %d cases", in.Served, in.Cases)
	}
	d, ok := set.Find("top wire")
	// 10 .. 20 mm in nanometres.
	if !ok || d.Name != "wire.first" || d.Datum != "the butt" || d.Subject != "piece" || d.Condition != dimension.Either || d.Plausible.Low.Q != 10_000_000 || d.Plausible.High.Q != 20_000_000 || d.More != "far" || d.Tool != "ruler" {
		t.Errorf("the first wire is %+v", d)
	}
	if s := d.Sources[0]; s.Says != "14 mm" || s.Who != "" || s.Grade != dimension.FromMemory {
		t.Errorf("its source is %+v", s)
	}
	d, _ = set.Find("tip.opening")
	if !d.Across || d.Condition != dimension.Wet || len(d.Sources) != 2 || d.Sources[0].Grade != dimension.Published || d.Sources[1] != (dimension.Source{Says: "my teacher opens it to 1.2 mm", Grade: dimension.FromMemory}) {
		t.Errorf("the tip is %+v", d)
	}
	if d, _ = set.Find("wire.gap"); d.Formula != "wire.first - wire.second" || d.Sources[0].Says != d.Formula || d.Sources[0].Grade != dimension.Worked {
		t.Errorf("the gap is %+v", d)
	}
	if d, _ = set.Find("blade.thickness"); d.Grid == nil || d.Grid.Short != "blade" || strings.Join(d.Grid.Lanes, " ") != "spine rails" {
		t.Errorf("the blade is %+v", d)
	}
	if s := set.Symptoms; len(s) != 2 || s[0].Name != "low-notes-stop" || s[0].Also[0] != "the bottom is dead" {
		t.Errorf("the symptoms are %+v", s)
	}
	r := set.Remedies
	if len(r) != 2 || r[0].Touches != dimension.TouchesKnife || r[0].TakesOff[0] != "blade.thickness spine" || r[0].Symptoms[0] != "low-notes-stop" || r[0].Expect[0].Way != dimension.Less ||
		r[1].Wire != "first" || r[1].Axis != "top and bottom" || r[1].When[0] != "tip.opening > 1.5 mm" || r[1].Measure != nil {
		t.Errorf("the remedies are %+v", r)
	}
	sdk.Try(t, in.Served)
}

func TestSymptomsInAnyLetters(t *testing.T) {
	t.Parallel()
	text := string(accepted(t))
	text = strings.Replace(text, "  too loud:\n", "  zu laut, tiefe Töne fehlen:\n  низкие ноты:\n", 1)
	text = strings.Replace(text, "for: [too loud]", "for: ['zu laut, tiefe Töne fehlen', низкие ноты]", 1)
	in, list := folder.Load("instrument.yaml", []byte(text))
	if in == nil || list.Len() != 0 {
		t.Fatal(list.Sorted())
	}
	if s := in.Set.Symptoms; len(s) != 3 || s[1].Words != "zu laut, tiefe Töne fehlen" || s[1].Name == s[2].Name {
		t.Errorf("the symptoms are %+v", s)
	}
}

func TestReadTakesAnOrdinaryFileOnly(t *testing.T) {
	t.Parallel()
	write := func(t *testing.T, path string, size int) {
		t.Helper()
		if err := os.WriteFile(path, make([]byte, size), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	for _, c := range []struct {
		say  string
		make func(t *testing.T, dir, file string)
		want string
	}{
		{"an empty folder", func(*testing.T, string, string) {}, "it holds no instrument.yaml"},
		{"a folder of that name", func(t *testing.T, _, file string) {
			if err := os.Mkdir(file, 0o700); err != nil {
				t.Fatal(err)
			}
		}, "not an ordinary file"},
		{"a link out of it", func(t *testing.T, _, file string) {
			other := filepath.Join(t.TempDir(), "other")
			write(t, other, 1)
			if err := os.Symlink(other, file); err != nil {
				t.Skip(err)
			}
		}, "not an ordinary file"},
		{"a link within it", func(t *testing.T, dir, file string) {
			write(t, filepath.Join(dir, "other"), 1)
			if err := os.Symlink("other", file); err != nil {
				t.Skip(err)
			}
		}, "not an ordinary file"},
		{"a device", func(t *testing.T, _, file string) {
			if runtime.GOOS == "windows" || os.Symlink("/dev/zero", file) != nil {
				t.Skip("no links")
			}
		}, "not an ordinary file"},
	} {
		t.Run(c.say, func(t *testing.T) {
			t.Parallel()
			dir := t.TempDir()
			c.make(t, dir, filepath.Join(dir, folder.File))
			if data, err := folder.Read(dir); err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("%d bytes, %v", len(data), err)
			}
		})
	}
	t.Run("a huge file is read no further than it takes to say so", func(t *testing.T) {
		t.Parallel()
		dir := t.TempDir()
		f, err := os.Create(filepath.Join(dir, folder.File))
		if err != nil {
			t.Fatal(err)
		}
		if err := errors.Join(f.Truncate(1<<32), f.Close()); err != nil {
			t.Fatal(err)
		}
		data, err := folder.Read(dir)
		if err != nil || len(data) != yamldoc.MaxBytes+1 {
			t.Fatalf("%d bytes, %v", len(data), err)
		}
		if in, list := folder.Load(folder.File, data); in != nil || list.Sorted()[0].Code != "yaml/too-large" {
			t.Errorf("%v", list.Sorted())
		}
	})
}

// A stranger's file costs neither much time nor much memory.
func TestLargeFilesAreBounded(t *testing.T) {
	t.Parallel()
	head := "canewright: instrument 1\nid: many\ntitle: many\nversion: 1.0\ndimensions:\n"
	dim := func(i int, rest string) string {
		return fmt.Sprintf("  - dimension: a.d%d\n    title: t%d\n    kind: length\n    unit: mm\n    more: m\n    less: l\n    source: from memory\n%s", i, i, rest)
	}
	repeat := func(n int, one func(i int) string) string {
		var b strings.Builder
		for i := range n {
			b.WriteString(one(i))
		}
		return b.String()
	}
	plain := func(i int) string { return dim(i, "    across: yes\n    how: x\n") }
	for _, c := range []struct {
		say, text, code string
	}{
		{"500 dimensions", head + repeat(500, plain), ""},
		{"501 dimensions", head + repeat(501, plain), "dimension/size"},
		{"a chain of 499 formulas", head + plain(0) + repeat(499, func(i int) string { return dim(i+1, fmt.Sprintf("    formula: a.d%d + 1 mm\n", i)) }) +
			"cases:\n" + repeat(500, func(int) string { return "  - given: {a.d0: 1 mm}\n    then: {a.d499: 500 mm}\n" }), ""},
		{"501 cases", head + plain(0) + "cases:\n" + repeat(501, func(int) string { return "  - plausible: {a.d0: 1 mm}\n" }), "dimension/size"},
		{"201 symptoms", head + plain(0) + "symptoms:\n" + repeat(201, func(i int) string { return fmt.Sprintf("  - symptom %d\n", i) }), "dimension/size"},
		{"401 remedies", head + plain(0) + "remedies:\n" + repeat(401, func(i int) string { return fmt.Sprintf("  - remedy: r%d\n", i) }), "dimension/size"},
		{"a text of 3,000 letters", head + dim(0, "    across: yes\n    how: "+strings.Repeat("x", 3000)+"\n"), "dimension/text"},
		{"60 aliases", head + dim(0, "    across: yes\n    how: x\n    aliases:\n"+repeat(60, func(i int) string { return fmt.Sprintf("      - alias %d\n", i) })), "dimension/size"},
	} {
		t.Run(c.say, func(t *testing.T) {
			t.Parallel()
			begin := time.Now()
			in, list := folder.Load("instrument.yaml", []byte(c.text))
			if took := time.Since(begin); took > 5*time.Second { // 0.2 s at most were seen; a host waits 5 s
				t.Errorf("it took %s", took)
			}
			if c.code == "" {
				if in == nil {
					t.Error(list.Sorted()[0])
				}
				return
			}
			if in != nil || list.Len() == 0 || list.Sorted()[0].Code != c.code {
				t.Errorf("read: %v, %v", in != nil, list.Sorted())
			}
		})
	}
}

func FuzzLoad(f *testing.F) {
	files, err := filepath.Glob(filepath.Join(golden, "*.txtar"))
	if err != nil || len(files) == 0 {
		f.Fatalf("%d seeds, %v", len(files), err)
	}
	for _, name := range files {
		a, err := txtar.ParseFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(a.Files[0].Data)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		in, list := folder.Load("f", data)
		if (in == nil) != list.Failed() {
			t.Fatalf("read: %v, with errors: %v", in != nil, list.Failed())
		}
		for _, d := range list.Sorted() {
			if d.Code != "yaml/too-large" && d.Code != "yaml/not-utf8" && !inFile(d.Span, "f") {
				t.Errorf("no such place: %s", d)
			}
		}
		if in == nil {
			return
		}
		// What is accepted here, the host accepts.
		if found := in.Set.Check(); found.Failed() {
			t.Errorf("the set is refused: %v", found.Sorted()[0])
		}
		sdk.Try(t, in.Served)
	})
}
