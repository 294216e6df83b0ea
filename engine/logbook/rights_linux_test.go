package logbook

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"syscall"
	"testing"
)

// asPlayer runs f without the rights of the administrator, where the tests run
// with them: for this thread, files are opened as another user.
func asPlayer(t *testing.T, f func()) {
	t.Helper()
	if os.Geteuid() != 0 {
		f()
		return
	}
	runtime.LockOSThread()
	defer runtime.UnlockOSThread()
	if err := syscall.Setfsuid(65534); err != nil {
		t.Skip("cannot give up the administrator's rights:", err)
	}
	defer syscall.Setfsuid(0)
	f()
}

func TestRights(t *testing.T) {
	t.Parallel()
	ctx := context.Background()
	for _, c := range []struct {
		say        string
		there      bool // a logbook
		file, dir  os.FileMode
		want, hint string
	}{
		{"unreadable", true, 0o000, 0o777, "permission denied", "right"},
		{"a folder that lets nobody in", true, 0o666, 0o000, "permission denied", "right"},
		{"a new one in a read-only folder", false, 0, 0o555, "permission denied", "right"},
		{"a read-only file", true, 0o444, 0o777, "", "right"},
		{"a read-only file in a read-only folder", true, 0o444, 0o555, "", "right"},
	} {
		t.Run(c.say, func(t *testing.T) {
			t.Parallel()
			dir := filepath.Join(t.TempDir(), "folder")
			if err := os.Mkdir(dir, 0o777); err != nil {
				t.Fatal(err)
			}
			path := filepath.Join(dir, "logbook")
			var whole []byte
			if c.there {
				_, whole = good(t)
				if err := os.WriteFile(path, whole, 0o666); err != nil {
					t.Fatal(err)
				}
				if err := os.Chmod(path, c.file); err != nil {
					t.Fatal(err)
				}
			}
			if err := os.Chmod(dir, c.dir); err != nil {
				t.Fatal(err)
			}
			t.Cleanup(func() { os.Chmod(dir, 0o700) })
			var err error
			asPlayer(t, func() {
				var l *Logbook
				if l, err = Open(ctx, path); err != nil {
					return
				}
				defer l.Close()
				_, evs, lerr := l.Load(ctx, "batch")
				if err = lerr; err != nil {
					return
				}
				e := evs[len(evs)-1]
				e.Seq, e.Cause = e.Seq+1, e.Seq+1
				err = l.Append(ctx, "batch", e.Seq-1, evs[:0:0])
				if err == nil {
					one := append(evs[:0:0], e)
					err = l.Append(ctx, "batch", e.Seq-1, one)
				}
			})
			var fe *FileError
			if !errors.As(err, &fe) || !strings.Contains(fe.Error(), path) || !strings.Contains(fe.Message, c.want) || !strings.Contains(fe.Hint, c.hint) {
				t.Fatalf("got %v", err)
			}
			if c.there {
				os.Chmod(dir, 0o700)
				os.Chmod(path, 0o600)
				if after, err := os.ReadFile(path); err != nil || string(after) != string(whole) {
					t.Errorf("the file was changed: %v", err)
				}
			}
		})
	}
}

// An old file that cannot be brought over is left, and it is said why.
func TestAnOldFileThatMayNotBeWritten(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		say       string
		file, dir os.FileMode
	}{
		{"a read-only file", 0o444, 0o777},
		{"a read-only folder", 0o666, 0o555},
	} {
		t.Run(c.say, func(t *testing.T) {
			t.Parallel()
			from, worked := old(t)
			dir := filepath.Join(t.TempDir(), "folder")
			if err := os.Mkdir(dir, 0o777); err != nil {
				t.Fatal(err)
			}
			path := filepath.Join(dir, "logbook")
			data, err := os.ReadFile(from)
			if err != nil {
				t.Fatal(err)
			}
			if err := errors.Join(os.WriteFile(path, data, 0o666), os.Chmod(path, c.file), os.Chmod(dir, c.dir)); err != nil {
				t.Fatal(err)
			}
			t.Cleanup(func() { os.Chmod(dir, 0o700) })
			asPlayer(t, func() {
				var l *Logbook
				if l, err = Open(context.Background(), path); err == nil {
					l.Close()
				}
			})
			var fe *FileError
			if !errors.As(err, &fe) || !strings.Contains(fe.Hint, "right") {
				t.Fatalf("got %v", err)
			}
			if err := errors.Join(os.Chmod(dir, 0o700), os.Chmod(path, 0o600)); err != nil {
				t.Fatal(err)
			}
			if v := versionOf(t, path); v != 1 {
				t.Errorf("it has format %d", v)
			}
			holds(t, path, worked)
		})
	}
}
