package logbook

import (
	"context"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"testing"
)

// beside is what lies in the folder of a logbook, with the bytes of each file.
func beside(t *testing.T, path string) map[string]string {
	t.Helper()
	out := map[string]string{}
	all, err := os.ReadDir(filepath.Dir(path))
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range all {
		data, err := os.ReadFile(filepath.Join(filepath.Dir(path), e.Name()))
		if err != nil {
			t.Fatal(err)
		}
		if e.Name() != "logbook-shm" { // what readers note there is in memory, not on the disk
			out[e.Name()] = string(data)
		}
	}
	return out
}

func TestNamesAreReadWithoutATrace(t *testing.T) {
	t.Parallel()
	ctx := context.Background()
	names := func(path string) (out []string) {
		for _, n := range Names(ctx, path, 10) {
			out = append(out, n.Name)
		}
		return out
	}
	t.Run("none there", func(t *testing.T) {
		path := filepath.Join(t.TempDir(), "folder", "logbook")
		if got := names(path); got != nil {
			t.Error(got)
		}
		if _, err := os.Lstat(filepath.Dir(path)); err == nil {
			t.Error("its folder was made")
		}
	})
	t.Run("at rest", func(t *testing.T) {
		path, _ := good(t)
		before := beside(t, path)
		if got := names(path); !slices.Equal(got, []string{"batch"}) {
			t.Error(got)
		}
		if after := beside(t, path); !reflect.DeepEqual(before, after) {
			t.Error("something was changed")
		}
	})
	t.Run("another window has it open and has just begun a batch", func(t *testing.T) {
		path, _ := good(t)
		l := open(t, path)
		startBatch(t, l, "of this evening", 1)
		before := beside(t, path)
		if got := names(path); !slices.Equal(got, []string{"of this evening", "batch"}) {
			t.Error(got)
		}
		if after := beside(t, path); !reflect.DeepEqual(before, after) {
			t.Error("something was changed")
		}
		if _, _, err := l.Load(ctx, "batch"); err != nil {
			t.Error(err)
		}
	})
	t.Run("another window is writing", func(t *testing.T) {
		path, _ := good(t)
		l := open(t, path)
		tx, err := l.db.BeginTx(ctx, nil)
		if err != nil {
			t.Fatal(err)
		}
		defer tx.Rollback()
		if _, err := tx.Exec(`UPDATE batch SET title = 'x'`); err != nil {
			t.Fatal(err)
		}
		if got := names(path); !slices.Equal(got, []string{"batch"}) {
			t.Error(got)
		}
		if err := tx.Commit(); err != nil {
			t.Errorf("it was held up: %v", err)
		}
	})
	t.Run("of the first format", func(t *testing.T) {
		path, _ := old(t)
		before := beside(t, path)
		if got := names(path); !slices.Equal(got, []string{"open again", "closed", "worked"}) {
			t.Error(got)
		}
		if after := beside(t, path); !reflect.DeepEqual(before, after) {
			t.Error("something was changed")
		}
	})
	t.Run("no logbook", func(t *testing.T) {
		path := newPath(t)
		if err := os.WriteFile(path, []byte("dear diary"), 0o600); err != nil {
			t.Fatal(err)
		}
		if got := names(path); got != nil {
			t.Error(got)
		}
	})
}
