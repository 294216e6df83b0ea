package wire_test

import (
	"context"
	"os"
	"path/filepath"
	"testing"
)

// The second time a recipe is read nothing is asked: an answer would have been
// kept in a new file.
func TestARecipeIsReadWithTheKeptSet(t *testing.T) {
	t.Parallel()
	home := t.TempDir()
	w := works(t)
	w.Env = func(k string) string { return map[string]string{"HOME": home, "LOCALAPPDATA": home}[k] }
	w.Book = filepath.Join(t.TempDir(), "logbook") // wherever that is, sets are kept at home
	first, err := w.Recipe(context.Background(), "bassoon/from-shaped-cane")
	if err != nil || first.Bound == nil {
		t.Fatalf("%v, %v", err, first.List.Sorted())
	}
	var kept []string
	err = filepath.WalkDir(home, func(path string, d os.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			kept = append(kept, path)
		}
		return err
	})
	if err != nil || len(kept) != 1 || filepath.Base(filepath.Dir(kept[0])) != "sets" {
		t.Fatalf("kept are %v, %v", kept, err)
	}
	before, err := os.Stat(kept[0])
	if err != nil {
		t.Fatal(err)
	}
	again, err := w.Recipe(context.Background(), "bassoon/from-shaped-cane")
	if err != nil || string(again.Snapshot.Set) != string(first.Snapshot.Set) {
		t.Errorf("the set is another the second time, %v", err)
	}
	if after, err := os.Stat(kept[0]); err != nil || !os.SameFile(before, after) {
		t.Errorf("it was asked for and kept again, %v", err)
	}
}
