package logbook

import (
	"context"
	"crypto/sha256"
	"encoding/binary"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// good is a logbook with one batch in it, closed.
func good(t *testing.T) (path string, data []byte) {
	t.Helper()
	path = newPath(t)
	l, err := Open(context.Background(), path)
	if err != nil {
		t.Fatal(err)
	}
	d := startBatch(t, l, "batch", 3)
	last := d.State.Last
	goRound(t, d, 1500)
	if err := l.Append(context.Background(), "batch", last, d.State.Events()[last:]); err != nil {
		t.Fatal(err)
	}
	if err := l.Close(); err != nil {
		t.Fatal(err)
	}
	if data, err = os.ReadFile(path); err != nil {
		t.Fatal(err)
	}
	return path, data
}

func TestHeaderSaysWhatTheFileIs(t *testing.T) {
	t.Parallel()
	path, data := good(t)
	// Offsets: sqlite.org, Database File Format, section 1.3.
	if got := string(data[68:72]); got != "CWLB" {
		t.Errorf("application id is %q", got)
	}
	if got := binary.BigEndian.Uint32(data[60:]); got != schemaVersion {
		t.Errorf("user version is %d", got)
	}
	info, err := os.Stat(path)
	if err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("mode %v, %v", info.Mode(), err)
	}
	beside, _ := filepath.Glob(filepath.Join(filepath.Dir(path), "*"))
	hidden, _ := filepath.Glob(filepath.Join(filepath.Dir(path), ".*"))
	if len(beside)+len(hidden) != 1 {
		t.Errorf("files left beside the logbook: %v %v", beside, hidden)
	}
	open(t, path) // and it opens again
}

// use opens a file and reads the batch in it, as a session would.
func use(path string) error {
	l, err := Open(context.Background(), path)
	if err != nil {
		return err
	}
	defer l.Close()
	_, _, err = l.Load(context.Background(), "batch")
	return err
}

func TestFilesThatCannotServeAreLeftAsTheyAre(t *testing.T) {
	t.Parallel()
	_, whole := good(t)
	with := func(at int, b ...byte) []byte {
		out := append([]byte(nil), whole...)
		copy(out[at:], b)
		return out
	}
	garbage := func(from, to int) []byte {
		out := append([]byte(nil), whole...)
		for i := from; i < to; i++ {
			out[i] = byte(i*7 + i>>8)
		}
		return out
	}
	n := len(whole)
	foreign := with(68, 0, 0, 0, 0)
	for _, c := range []struct {
		say  string
		data []byte
		want string
		hint string
	}{
		{"empty", nil, "the file is empty", "name another"},
		{"text", []byte("dear diary\n"), "not a logbook", "--logbook"},
		{"long text", []byte(strings.Repeat("dear diary\n", 100)), "not a logbook", "--logbook"},
		{"a database of another program", foreign, "another program", "--logbook"},
		{"a newer format", with(60, 0, 0, 0, schemaVersion+1), "newer version", "update"},
		{"no format number", with(60, 0, 0, 0, 0), "format number", "your copy"},
		{"only the header", whole[:100], "cut short", "your copy"},
		{"less than the header", whole[:60], "not a logbook", "--logbook"},
		{"cut in the middle", whole[:n/2], "cut short", "your copy"},
		{"the last byte is missing", whole[:n-1], "cut short", "your copy"},
		{"garbage at the beginning", garbage(0, 50), "not a logbook", "your copy"},
		{"garbage in the first page", garbage(100, 4096), "damaged", "your copy"},
		{"garbage in the middle", garbage(n/3, 2*n/3), "", "your copy"},
		{"garbage to the end", garbage(8192, n), "", "your copy"},
	} {
		t.Run(c.say, func(t *testing.T) {
			t.Parallel()
			path := newPath(t)
			if err := os.WriteFile(path, c.data, 0o600); err != nil {
				t.Fatal(err)
			}
			err := use(path)
			var fe *FileError
			if !errors.As(err, &fe) {
				t.Fatalf("got %v", err)
			}
			if !strings.Contains(fe.Error(), path) || !strings.Contains(fe.Message, c.want) || !strings.Contains(fe.Hint, c.hint) {
				t.Errorf("%v (hint: %s), want %q and %q", fe, fe.Hint, c.want, c.hint)
			}
			after, err := os.ReadFile(path)
			if err != nil || sha256.Sum256(after) != sha256.Sum256(c.data) {
				t.Errorf("the file was changed: %d bytes, then %d; %v", len(c.data), len(after), err)
			}
			if all, _ := filepath.Glob(path + "*"); len(all) != 1 {
				t.Errorf("left beside it: %v", all)
			}
		})
	}
}

func TestPlacesThatCannotHoldALogbook(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	nowhere, inFile := filepath.Join(dir, "link"), filepath.Join(dir, "file", "logbook")
	if err := os.Symlink(filepath.Join(dir, "missing"), nowhere); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "file"), []byte("text"), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ say, path, want string }{
		{"a folder", dir, "this is a folder"},
		{"a link to nothing", nowhere, "a link to a file that is not there"},
		{"a file as folder", inFile, "not a directory"},
		{"a device", os.DevNull, "no ordinary file"},
	} {
		t.Run(c.say, func(t *testing.T) {
			t.Parallel()
			_, err := Open(context.Background(), c.path)
			var fe *FileError
			if !errors.As(err, &fe) || !strings.Contains(fe.Error(), c.path) || !strings.Contains(fe.Message, c.want) || fe.Hint == "" {
				t.Fatalf("got %v, want %q", err, c.want)
			}
		})
	}
	if _, err := os.Lstat(filepath.Join(dir, "missing")); err == nil {
		t.Error("the link's goal was made")
	}
}

// A program killed while it moved pages from the write-ahead log into the file
// has written the first page, with the new number of pages, and not the last:
// the log beside it still holds them all.
func TestKilledWhileTheLogWasMovedIsNotCutShort(t *testing.T) {
	t.Parallel()
	path := newPath(t)
	l := open(t, path)
	d := startBatch(t, l, "batch", 3)
	last := d.State.Last
	goRound(t, d, 1000)
	if err := l.Append(context.Background(), "batch", last, d.State.Events()[last:]); err != nil {
		t.Fatal(err)
	}
	before := map[string][]byte{}
	for _, end := range []string{"", "-wal"} {
		data, err := os.ReadFile(path + end)
		if err != nil {
			t.Fatal(err)
		}
		before[end] = data
	}
	if err := l.Close(); err != nil { // moves everything
		t.Fatal(err)
	}
	moved, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if len(moved) <= len(before[""]) {
		t.Fatalf("nothing was moved: %d bytes, then %d", len(before[""]), len(moved))
	}
	copy(before[""], moved[:4096])
	killed := newPath(t)
	for end, data := range before {
		if err := os.WriteFile(killed+end, data, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	_, evs, err := open(t, killed).Load(context.Background(), "batch")
	if err != nil {
		t.Fatal(err)
	}
	if len(evs) != len(d.State.Events()) {
		t.Errorf("%d events, want %d", len(evs), len(d.State.Events()))
	}
}
