package logbook

import (
	"context"
	"os"
	"path/filepath"
	"testing"
	"time"
)

func TestWhatAKilledProgramLeftIsSweptAway(t *testing.T) {
	t.Parallel()
	long, short := 2*draftAge, draftAge/2
	for _, c := range []struct {
		say   string
		age   time.Duration
		files []string
		make  func(t *testing.T, dir string)
		gone  bool
	}{
		{say: "old and whole", age: long, files: []string{"logbook", "logbook-journal", holdFile}, gone: true},
		{say: "old and empty", age: long, gone: true},
		{say: "young", age: short, files: []string{"logbook"}},
		{say: "old with something strange in it", age: long, files: []string{"logbook", "diary.txt"}},
		{say: "old and in use", age: long, files: []string{"logbook", holdFile}, make: func(t *testing.T, dir string) {
			f, err := os.Open(filepath.Join(dir, holdFile))
			if err != nil {
				t.Fatal(err)
			}
			t.Cleanup(func() { f.Close() })
			if held, err := hold(f); err != nil || !held {
				t.Fatal(held, err)
			}
		}},
		{say: "an old folder whose file is still written to", age: long, files: []string{"logbook"}, make: func(t *testing.T, dir string) {
			now := time.Now()
			if err := os.Chtimes(filepath.Join(dir, "logbook"), now, now); err != nil {
				t.Fatal(err)
			}
		}},
	} {
		t.Run(c.say, func(t *testing.T) {
			t.Parallel()
			path := newPath(t)
			dir := filepath.Join(filepath.Dir(path), draftPrefix+"123")
			if err := os.Mkdir(dir, 0o700); err != nil {
				t.Fatal(err)
			}
			then := time.Now().Add(-c.age)
			for _, name := range c.files {
				f := filepath.Join(dir, name)
				if err := os.WriteFile(f, []byte("x"), 0o600); err != nil {
					t.Fatal(err)
				}
				if err := os.Chtimes(f, then, then); err != nil {
					t.Fatal(err)
				}
			}
			if err := os.Chtimes(dir, then, then); err != nil {
				t.Fatal(err)
			}
			if c.make != nil {
				c.make(t, dir)
			}
			open(t, path)
			if _, err := os.Lstat(dir); os.IsNotExist(err) != c.gone {
				t.Errorf("gone: %v, want %v", os.IsNotExist(err), c.gone)
			}
			for _, name := range c.files {
				if _, err := os.Lstat(filepath.Join(dir, name)); name == "diary.txt" && err != nil {
					t.Errorf("%s: %v", name, err)
				}
			}
		})
	}
}

// A program killed between linking and clearing up leaves the logbook under two
// names; the second goes, the logbook stays.
func TestSweepingDoesNotTouchTheLogbookItself(t *testing.T) {
	t.Parallel()
	path, _ := good(t)
	dir := filepath.Join(filepath.Dir(path), draftPrefix+"123")
	if err := os.Mkdir(dir, 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.Link(path, filepath.Join(dir, "logbook")); err != nil {
		t.Skip("no links here:", err)
	}
	then := time.Now().Add(-2 * draftAge)
	for _, p := range []string{path, dir} {
		if err := os.Chtimes(p, then, then); err != nil {
			t.Fatal(err)
		}
	}
	if err := use(path); err != nil {
		t.Fatal(err)
	}
	if _, err := os.Lstat(dir); err == nil {
		t.Error("the folder is still there")
	}
}

// What looks like a leftover but is a file or a link is none of ours.
func TestSweepingFollowsNoLink(t *testing.T) {
	t.Parallel()
	path, elsewhere := newPath(t), t.TempDir()
	kept := filepath.Join(elsewhere, "logbook")
	if err := os.WriteFile(kept, []byte("x"), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(elsewhere, filepath.Join(filepath.Dir(path), draftPrefix+"link")); err != nil {
		t.Fatal(err)
	}
	sweep(filepath.Dir(path), time.Now().Add(48*time.Hour))
	if _, err := os.Lstat(kept); err != nil {
		t.Error(err)
	}
	if _, err := Open(context.Background(), path); err != nil {
		t.Error(err)
	}
}
