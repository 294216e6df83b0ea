package host

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"canewright/engine/dimension"
)

// counted is a cache in an empty folder whose host counts how often it starts
// a plugin.
func counted(t testing.TB, modes ...string) (*Cache, *int) {
	t.Helper()
	h, _ := testHost(t, modes...)
	starts, args := 0, h.Args
	h.Args = func(names ...string) []string { starts++; return args(names...) }
	return &Cache{Host: h, Dir: filepath.Join(t.TempDir(), "sets")}, &starts
}

func keptFiles(t testing.TB, c *Cache) []string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(c.Dir, "*"))
	if err != nil {
		t.Fatal(err)
	}
	return files
}

func TestAKnownSetStartsNothing(t *testing.T) {
	t.Parallel()
	for _, name := range []string{"bassoon", "oboe"} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			c, starts := counted(t, name)
			first, err := c.Set(context.Background(), name, 1)
			if err != nil || *starts != 1 {
				t.Fatalf("%d starts, %v", *starts, err)
			}
			again, err := c.Set(context.Background(), name, 1)
			if err != nil || *starts != 1 {
				t.Fatalf("%d starts, %v", *starts, err)
			}
			if again.Digest() != first.Digest() {
				t.Error("the kept set differs from the one that was sent")
			}
		})
	}
}

func TestWhatIsAskedAnew(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		say   string
		spoil func(t *testing.T, c *Cache)
		other func(c *Cache) // how the second time differs
		want  int            // starts, of both times
	}{
		{"nothing changed", nil, nil, 1},
		{"a kept file with one letter changed", func(t *testing.T, c *Cache) {
			b, err := os.ReadFile(keptFiles(t, c)[0])
			if err != nil {
				t.Fatal(err)
			}
			b[len(b)/2] ^= 1
			if err := os.WriteFile(keptFiles(t, c)[0], b, 0o600); err != nil {
				t.Fatal(err)
			}
		}, nil, 2},
		{"a kept file cut short", func(t *testing.T, c *Cache) {
			if err := os.Truncate(keptFiles(t, c)[0], 100); err != nil {
				t.Fatal(err)
			}
		}, nil, 2},
		{"a kept set that cannot be used", func(t *testing.T, c *Cache) {
			bad := &dimension.Set{ID: "shawm", Major: 1}
			if err := keep(keptFiles(t, c)[0], bad.Encode()); err != nil {
				t.Fatal(err)
			}
		}, nil, 2},
		{"a folder where the file was", func(t *testing.T, c *Cache) {
			file := keptFiles(t, c)[0]
			if err := errors.Join(os.Remove(file), os.Mkdir(file, 0o700)); err != nil {
				t.Fatal(err)
			}
		}, nil, 2},
		{"no folder to keep in", nil, func(c *Cache) { c.Dir = "" }, 2},
	} {
		t.Run(c.say, func(t *testing.T) {
			t.Parallel()
			cache, starts := counted(t, "shawm")
			if _, err := cache.Set(context.Background(), "shawm", 1); err != nil {
				t.Fatal(err)
			}
			if c.spoil != nil {
				c.spoil(t, cache)
			}
			if c.other != nil {
				c.other(cache)
			}
			set, err := cache.Set(context.Background(), "shawm", 1)
			if err != nil || len(set.Dimensions) != 1 || *starts != c.want {
				t.Errorf("%d starts, want %d; %v", *starts, c.want, err)
			}
		})
	}
}

func TestOnlyWhatIsNotKnownIsAskedFor(t *testing.T) {
	t.Parallel()
	h, _ := testHost(t, "bassoon", "oboe", "shawm", "speechless")
	starts := started(h)
	c := &Cache{Host: h, Dir: filepath.Join(t.TempDir(), "sets")}
	if _, err := c.Set(context.Background(), "oboe", 1); err != nil {
		t.Fatal(err)
	}
	wants := []Want{{"shawm", 1}, {"oboe", 1}, {"bassoon", 1}}
	for range 2 {
		for i, g := range c.Sets(context.Background(), wants) {
			if g.Err != nil || g.Set.ID != wants[i].Name {
				t.Errorf("%s gives %+v", wants[i].Name, g)
			}
		}
	}
	if want := []string{"oboe", "shawm bassoon"}; !slices.Equal(starts(), want) {
		t.Errorf("started were %q, want %q", starts(), want)
	}
	// What went wrong is not kept.
	for range 2 {
		if g := c.Sets(context.Background(), []Want{{"speechless", 1}}); g[0].Err == nil {
			t.Error("a set that cannot be used is taken")
		}
	}
	if len(starts()) != 4 {
		t.Errorf("started were %q", starts())
	}
}

// An added instrument is known by all it consists of, and not at all where the
// host would refuse it or its author is at work on it.
func TestHowAddedInstrumentsAreKnown(t *testing.T) {
	t.Parallel()
	folder := t.TempDir()
	write := func(name, file, text string) {
		t.Helper()
		err := errors.Join(os.MkdirAll(filepath.Join(folder, name), 0o700), os.WriteFile(filepath.Join(folder, name, file), []byte(text), 0o600))
		if err != nil {
			t.Fatal(err)
		}
	}
	h := &Host{Bundled: []string{"bassoon"}, Store: Store{Folder: folder}}
	c := &Cache{Host: h, Dir: t.TempDir()}
	place := func(name string, known bool) string {
		t.Helper()
		p, ok := c.place(name, 1)
		if ok != known {
			t.Errorf("%s is known: %v", name, ok)
		}
		return p
	}
	// SHA-256 of "abc": FIPS 180-2, appendix B.1.
	const approved = `{"name": "coded", "sha256": "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"}`
	write("coded", approvalFile, approved)
	write("coded", programName("coded"), "abc")
	write("written", "instrument.yaml", "a")

	first, coded := place("written", true), place("coded", true)
	if first == coded || first != place("written", true) || place("bassoon", true) == first {
		t.Error("two instruments have one place, or one has two")
	}
	write("written", "instrument.yaml", "b")
	if place("written", true) == first {
		t.Error("a change of the file is not seen")
	}
	write("coded", programName("coded"), "abd")
	place("coded", false)
	place("nobody", false)
	place("../written", false)
	h.Attach = map[string]Attach{"bassoon": {}}
	place("bassoon", false)
}

func TestNoFaultIsKept(t *testing.T) {
	t.Parallel()
	c, starts := counted(t, "two-majors", "bad-name")
	for range 2 {
		if _, err := c.Set(context.Background(), "two-majors", 1); err == nil {
			t.Error("a version that is not there was answered")
		}
		if _, err := c.Set(context.Background(), "bad-name", 1); err == nil {
			t.Error("a set that cannot be used was answered")
		}
	}
	if _, err := c.Set(context.Background(), "nobody", 1); err == nil {
		t.Error("an instrument that is not there was answered")
	}
	if *starts != 4 || len(keptFiles(t, c)) != 0 {
		t.Errorf("%d starts, want 4; kept: %v", *starts, keptFiles(t, c))
	}
}

func TestMajorVersionsAreKeptApart(t *testing.T) {
	t.Parallel()
	c, starts := counted(t, "two-majors")
	for range 2 {
		for _, major := range []int{2, 3} {
			set, err := c.Set(context.Background(), "two-majors", major)
			if err != nil || set.Major != major {
				t.Fatalf("asked for %d: %v", major, err)
			}
		}
	}
	if *starts != 2 {
		t.Errorf("%d starts, want 2", *starts)
	}
}

func TestAFolderThatCannotBeWrittenIsNoFault(t *testing.T) {
	t.Parallel()
	c, starts := counted(t, "shawm")
	if err := os.WriteFile(c.Dir, nil, 0o600); err != nil { // a file where the folder should be
		t.Fatal(err)
	}
	for range 2 {
		if _, err := c.Set(context.Background(), "shawm", 1); err != nil {
			t.Fatal(err)
		}
	}
	if *starts != 2 {
		t.Errorf("%d starts", *starts)
	}
}

func TestOnlySoManyAreKept(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	set := &dimension.Set{ID: "shawm"}
	old := time.Now().Add(-time.Hour)
	for i := range mostSets + 3 {
		path := filepath.Join(dir, fmt.Sprintf("%03d%s", i, keptEnd))
		if err := keep(path, set.Encode()); err != nil {
			t.Fatal(err)
		}
		if err := os.Chtimes(path, old, old.Add(time.Duration(i)*time.Second)); err != nil {
			t.Fatal(err)
		}
	}
	stranger := filepath.Join(dir, "notes.txt")
	if err := os.WriteFile(stranger, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if err := keep(filepath.Join(dir, "last"+keptEnd), set.Encode()); err != nil {
		t.Fatal(err)
	}
	files, err := filepath.Glob(filepath.Join(dir, "*"+keptEnd))
	if err != nil {
		t.Fatal(err)
	}
	if len(files) != mostSets || filepath.Base(files[0]) != "004.set" || !slices.Contains(files, filepath.Join(dir, "last.set")) {
		t.Errorf("%d are left, the first is %s", len(files), files[0])
	}
	if _, err := os.Stat(stranger); err != nil {
		t.Errorf("another file is gone: %v", err)
	}
}

func TestProgramSum(t *testing.T) {
	t.Parallel()
	exe, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	own, err := ProgramSum(exe)
	if err != nil {
		t.Fatal(err)
	}
	if again, err := ProgramSum(exe); again != own || err != nil {
		t.Errorf("a second time it is another: %v", err)
	}
	goTool, err := exec.LookPath("go")
	if err != nil {
		t.Fatal(err)
	}
	if other, err := ProgramSum(goTool); err != nil || other == own {
		t.Errorf("two programs have one checksum, %v", err)
	}
	// SHA-256 of "abc": FIPS 180-2, appendix B.1.
	const abc = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
	script := filepath.Join(t.TempDir(), "script")
	if err := os.WriteFile(script, []byte("abc"), 0o600); err != nil {
		t.Fatal(err)
	}
	if sum, err := ProgramSum(script); err != nil || fmt.Sprintf("%x", sum) != abc {
		t.Errorf("of a file without a build ID it is %x, %v", sum, err)
	}
	// As the linker writes it for systems whose programs have no notes.
	for _, c := range []struct{ say, text, id string }{
		{"a build ID", "MZ\x00\xff Go build ID: \"a/b/c/d\"\n \xff more", "a/b/c/d"},
		{"one without an end", "MZ\x00\xff Go build ID: \"a/b/c/d", ""},
		{"none", "MZ\x00", ""},
	} {
		if got := string(buildID(strings.NewReader(c.text))); got != c.id {
			t.Errorf("%s is read as %q", c.say, got)
		}
	}
	if _, err := ProgramSum(script + "x"); err == nil {
		t.Error("a file that is not there has a checksum")
	}
}

func BenchmarkKnownSet(b *testing.B) {
	c, _ := counted(b, "bassoon")
	if _, err := c.Set(context.Background(), "bassoon", 1); err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := c.Set(context.Background(), "bassoon", 1); err != nil {
			b.Fatal(err)
		}
	}
}
