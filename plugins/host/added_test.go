package host

import (
	"context"
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"canewright/plugins/folder"
	"canewright/plugins/proto"
	"canewright/plugins/sdk"
)

// serveAdded: the test binary under another name is a program somebody wrote.
// Also canewright's own start for a folder without code.
func serveAdded(name string) bool {
	in := shawm(1)
	switch {
	case len(os.Args) > 2 && os.Args[1] == proto.ServeFolderArg:
		var all []sdk.Instrument
		for _, dir := range os.Args[2:] {
			data, err := folder.Read(dir)
			if err != nil {
				panic(err)
			}
			one, list := folder.Load(folder.File, data)
			if one == nil {
				panic(list.Sorted())
			}
			all = append(all, one.Served)
		}
		sdk.Serve(all...)
		return true
	case name == "bombard" || name == "bombard.exe":
		in.ID = "bombard"
	case name == "liar" || name == "liar.exe":
	case len(os.Args) == 1 && served(strings.TrimSuffix(name, ".exe")) != nil:
		sdk.Serve(served(strings.TrimSuffix(name, ".exe"))...)
		return true
	default:
		return false
	}
	sdk.Serve(in)
	return true
}

// addingHost has a store of its own.
func addingHost(t testing.TB) *Host {
	t.Helper()
	h := &Host{
		Bundled: []string{"bassoon"}, StartTimeout: 30 * time.Second, CallTimeout: 10 * time.Second, TempDir: shortTempDir(t),
		Store: Store{Folder: filepath.Join(t.TempDir(), "instruments"), Taken: []string{"bassoon"}}, testOnlyGrace: 5 * time.Second,
	}
	t.Cleanup(func() {
		if left, _ := os.ReadDir(h.TempDir); len(left) != 0 {
			t.Errorf("%d private folders are left, such as %s", len(left), left[0].Name())
		}
		entries, _ := os.ReadDir(h.Store.Folder)
		for _, e := range entries {
			if strings.HasPrefix(e.Name(), ".") {
				t.Errorf("%s is left in the store", e.Name())
			}
		}
	})
	return h
}

// program is a file a player was given: a copy of the test binary.
func program(t testing.TB, name string) string {
	t.Helper()
	exe, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	to := filepath.Join(t.TempDir(), programName(name))
	if err := copyFile(exe, to); err != nil {
		t.Fatal(err)
	}
	return to
}

// script is a program that leaves a mark when it is run.
func script(t *testing.T) (path string, ran func() bool) {
	t.Helper()
	if runtime.GOOS == "windows" {
		t.Skip("a script is no program there")
	}
	dir := t.TempDir()
	path, mark := filepath.Join(dir, "bombard"), filepath.Join(dir, "it-was-run")
	if err := os.WriteFile(path, []byte("#!/bin/sh\necho run > '"+mark+"'\n"), 0o700); err != nil {
		t.Fatal(err)
	}
	return path, func() bool { _, err := os.Stat(mark); return err == nil }
}

func approve(t *testing.T, h *Host, file string) *Offer {
	t.Helper()
	o, err := h.Offer("bombard", file)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := o.Approve(context.Background(), time.Date(2026, time.March, 4, 5, 6, 7, 0, time.UTC)); err != nil {
		t.Fatal(err)
	}
	return o
}

// change adds a byte to a file that nobody may write to; a program runs with
// it all the same.
func change(t *testing.T, path string) {
	t.Helper()
	if err := os.Chmod(path, 0o700); err != nil {
		t.Fatal(err)
	}
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_APPEND, 0)
	if err != nil {
		t.Fatal(err)
	}
	_, err = f.Write([]byte{0})
	if err := errors.Join(err, f.Close()); err != nil {
		t.Fatal(err)
	}
}

func TestAProgramIsNotRunBeforeItIsApproved(t *testing.T) {
	t.Parallel()
	h := addingHost(t)
	path, ran := script(t)
	o, err := h.Offer("bombard", path)
	if err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if o.Size != int64(len(data)) || len(o.SHA256) != 64 || o.From != path || o.Changed() {
		t.Errorf("it is offered as %+v", o.Approval)
	}
	if entries, _ := os.ReadDir(h.Store.Folder); ran() || len(entries) != 0 {
		t.Fatalf("before anybody said yes: run %v, copied %v", ran(), entries)
	}
	_, err = o.Approve(context.Background(), time.Now())
	if _, ok := errors.AsType[*BrokenError](err); !ok || !ran() {
		t.Errorf("a program that serves nothing: run %v, %v", ran(), err)
	}
	if names := h.Store.Names(); len(names) != 0 {
		t.Errorf("it was kept: %v", names)
	}
}

func TestAnApprovedProgramServes(t *testing.T) {
	t.Parallel()
	h := addingHost(t)
	file := program(t, "bombard")
	o := approve(t, h, file)
	// It is the copy that runs.
	if err := os.Remove(file); err != nil {
		t.Fatal(err)
	}
	if names := h.Names(); !slices.Equal(names, []string{"bassoon", "bombard"}) {
		t.Errorf("there are %v", names)
	}
	set, err := h.Set(context.Background(), "bombard", 1)
	if err != nil || set.ID != "bombard" {
		t.Fatalf("%v, %v", set, err)
	}
	dir := filepath.Join(h.Store.Folder, "bombard")
	data, err := os.ReadFile(filepath.Join(dir, approvalFile))
	if err != nil {
		t.Fatal(err)
	}
	var a Approval
	if err := json.Unmarshal(data, &a); err != nil || a != o.Approval || a.Version != "0.9" || a.Approved.Year() != 2026 || a.From != file {
		t.Errorf("what was approved is kept as %s (%v)", data, err)
	}
	if runtime.GOOS == "windows" {
		return
	}
	for path, want := range map[string]os.FileMode{dir: 0o700, h.Store.Folder: 0o700, filepath.Join(dir, "bombard"): 0o500, filepath.Join(dir, approvalFile): 0o600} {
		if info, err := os.Stat(path); err != nil || info.Mode().Perm() != want {
			t.Errorf("%s: %v, %v; want %v", path, info.Mode(), err, want)
		}
	}
}

// A file that is open for writing while another program is started cannot be
// run.
func TestSeveralStartsOfAnAddedProgramAtOnce(t *testing.T) {
	t.Parallel()
	h := addingHost(t)
	approve(t, h, program(t, "bombard"))
	var wg sync.WaitGroup
	for range 4 {
		wg.Go(func() {
			if _, err := h.Set(context.Background(), "bombard", 1); err != nil {
				t.Error(err)
			}
		})
	}
	wg.Wait()
}

func TestAProgramSwappedAfterApprovalIsNotStarted(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		say  string
		swap func(t *testing.T, kept, other string)
		want string
	}{
		{"a byte more", func(t *testing.T, kept, _ string) { change(t, kept) }, "is not the one that was approved"},
		{"another program", func(t *testing.T, kept, other string) {
			if err := os.Rename(other, kept); err != nil {
				t.Fatal(err)
			}
		}, "is not the one that was approved"},
		{"a link to another program", func(t *testing.T, kept, other string) {
			if err := errors.Join(os.Remove(kept), os.Symlink(other, kept)); err != nil {
				t.Skip(err)
			}
		}, "it"},
		{"no approval beside it", func(t *testing.T, kept, other string) {
			if err := errors.Join(os.Rename(other, kept), os.Remove(filepath.Join(filepath.Dir(kept), approvalFile))); err != nil {
				t.Fatal(err)
			}
		}, "what you approved of its program is not known any more, and it was not started: approved.json is gone from"},
		{"an approval that is empty", func(t *testing.T, kept, _ string) { spoil(t, kept, "") }, "and it was not started: approved.json in"},
		{"an approval that was cut short", func(t *testing.T, kept, _ string) { spoil(t, kept, `{"name": "bombard", "sha`) }, "cannot be read: unexpected EOF"},
		{"an approval of nothing", func(t *testing.T, kept, _ string) { spoil(t, kept, `{"name": "bombard"}`) }, "cannot be read: it holds no SHA-256"},
		{"an approval of another name", func(t *testing.T, kept, _ string) {
			path := filepath.Join(filepath.Dir(kept), approvalFile)
			data, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(path, []byte(strings.Replace(string(data), `"bombard"`, `"oboe"`, 1)), 0o600); err != nil {
				t.Fatal(err)
			}
		}, `cannot be read: it is of an instrument "oboe"`},
	} {
		t.Run(c.say, func(t *testing.T) {
			t.Parallel()
			h := addingHost(t)
			o := approve(t, h, program(t, "bombard"))
			other, ran := script(t)
			c.swap(t, filepath.Join(h.Store.Folder, "bombard", "bombard"), other)
			_, err := h.Set(context.Background(), "bombard", 1)
			if err == nil || !strings.Contains(err.Error(), "bombard") || !strings.Contains(err.Error(), c.want) {
				t.Errorf("it says %v", err)
			}
			if trust, ok := errors.AsType[*TrustError](err); ok && (trust.Approved != o.SHA256 || len(trust.Here) != 64) {
				t.Errorf("the sums are %+v", trust)
			}
			if ran() {
				t.Error("a program nobody approved was run")
			}
		})
	}
}

// spoil writes another record of what was approved.
func spoil(t *testing.T, kept, record string) {
	t.Helper()
	if err := os.WriteFile(filepath.Join(filepath.Dir(kept), approvalFile), []byte(record), 0o600); err != nil {
		t.Fatal(err)
	}
}

// Where it is not known what was approved, the same file is a change: it is
// asked about. After the yes all is well again.
func TestALostApprovalIsAskedForAgain(t *testing.T) {
	t.Parallel()
	for _, record := range []string{"", "{", "gone"} {
		h := addingHost(t)
		file := program(t, "bombard")
		approve(t, h, file)
		kept := filepath.Join(h.Store.Folder, "bombard", "bombard")
		if spoil(t, kept, record); record == "gone" {
			if err := os.Remove(filepath.Join(filepath.Dir(kept), approvalFile)); err != nil {
				t.Fatal(err)
			}
		}
		o, err := h.Offer("bombard", file)
		if err != nil || !o.Changed() || !o.Intact() || o.Was.Lost == nil || o.Was.Approval != nil {
			t.Fatalf("%q: offered is %+v, %v", record, o, err)
		}
		if (&Cache{Host: h, Dir: t.TempDir()}).known("bombard") {
			t.Errorf("%q: its set is known", record)
		}
		if _, err := o.Approve(context.Background(), time.Now()); err != nil {
			t.Fatal(err)
		}
		if sets, err := h.Majors(context.Background(), "bombard"); err != nil || len(sets) != 1 || sets[0].Digest() != o.Sets[0].Digest() {
			t.Errorf("%q: it serves %v, %v", record, sets, err)
		}
	}
}

func (c *Cache) known(name string) bool { _, ok := c.place(name, 1); return ok }

func TestAFileThatChangesWhileItIsShown(t *testing.T) {
	t.Parallel()
	h := addingHost(t)
	path, ran := script(t)
	o, err := h.Offer("bombard", path)
	if err != nil {
		t.Fatal(err)
	}
	change(t, path)
	_, err = o.Approve(context.Background(), time.Now())
	if trust, ok := errors.AsType[*TrustError](err); !ok || trust.Approved != o.SHA256 || trust.Here == o.SHA256 || ran() {
		t.Errorf("run %v, %v", ran(), err)
	}
}

func TestAChangeIsSeen(t *testing.T) {
	t.Parallel()
	h := addingHost(t)
	file := program(t, "bombard")
	first := approve(t, h, file)
	again, err := h.Offer("bombard", file)
	if err != nil || again.Changed() || again.Was == nil {
		t.Fatalf("the same file again: %+v, %v", again, err)
	}
	change(t, file)
	next, err := h.Offer("bombard", file)
	if err != nil || !next.Changed() || next.Was.Approval.SHA256 != first.SHA256 {
		t.Fatalf("a changed file: %+v, %v", next, err)
	}
	if _, err := next.Approve(context.Background(), time.Now()); err != nil {
		t.Fatal(err)
	}
	if a, err := h.Store.Find("bombard"); err != nil || a.Approval.SHA256 != next.SHA256 {
		t.Errorf("kept is %+v, %v", a, err)
	}
	// One that does not work leaves the old in its place.
	bad, _ := script(t)
	worse, err := h.Offer("bombard", bad)
	if err != nil || !worse.Changed() {
		t.Fatal(err)
	}
	if _, err := worse.Approve(context.Background(), time.Now()); err == nil {
		t.Error("a program that serves nothing was kept")
	}
	if _, err := h.Set(context.Background(), "bombard", 1); err != nil {
		t.Errorf("the old one is gone: %v", err)
	}
	// A folder without code in the place of a program is a change too.
	if err := h.Store.Keep("bombard", "instrument.yaml", []byte("x")); err != nil {
		t.Fatal(err)
	}
	if back, err := h.Offer("bombard", file); err != nil || !back.Changed() {
		t.Errorf("%+v, %v", back, err)
	}
}

func TestAProgramOfAnotherName(t *testing.T) {
	t.Parallel()
	h := addingHost(t)
	o, err := h.Offer("liar", program(t, "bombard"))
	if err != nil {
		t.Fatal(err)
	}
	_, err = o.Approve(context.Background(), time.Now())
	if b, ok := errors.AsType[*BrokenError](err); !ok || b.What != "holds no dimension set of its own name" {
		t.Errorf("got %v", err)
	}
}

func TestWhatIsNoProgramIsRefused(t *testing.T) {
	t.Parallel()
	h := addingHost(t)
	dir := t.TempDir()
	at := func(name string) string { return filepath.Join(dir, name) }
	huge, err := os.Create(at("huge"))
	if err != nil {
		t.Fatal(err)
	}
	if err := errors.Join(huge.Truncate(LargestProgram+1), huge.Close(), os.WriteFile(at("empty"), nil, 0o700), os.WriteFile(at("file"), []byte("x"), 0o700), os.Mkdir(at("folder"), 0o700)); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(at("file"), at("link")); err != nil {
		t.Skip(err)
	}
	for name, want := range map[string]string{"huge": "more than 262144 KiB", "empty": "is empty", "folder": "not an ordinary file", "link": "not an ordinary file", "nothing": "no such file"} {
		if _, err := h.Offer("bombard", at(name)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v", name, err)
		}
	}
	for _, name := range []string{"", "..", "../bombard", "Bombard", "bombard/x", "bom bard", ".new-1", "bassoon", strings.Repeat("b", 33), "bombard\x00"} {
		if _, err := h.Offer(name, at("file")); err == nil {
			t.Errorf("%q was taken for a name", name)
		}
		if err := h.Store.Keep(name, "instrument.yaml", nil); err == nil {
			t.Errorf("%q was kept", name)
		}
		if err := h.Store.Remove(name); err == nil {
			t.Errorf("%q was removed", name)
		}
	}
}

func TestOnlyFoldersOfTheStoreAreInstruments(t *testing.T) {
	t.Parallel()
	h := addingHost(t)
	s, elsewhere := h.Store, t.TempDir()
	if err := s.Keep("kortholt", folder.File, []byte("x")); err != nil {
		t.Fatal(err)
	}
	if err := errors.Join(os.WriteFile(filepath.Join(s.Folder, "file"), nil, 0o600), os.Mkdir(filepath.Join(s.Folder, "bassoon"), 0o700), os.Mkdir(filepath.Join(s.Folder, "Not-A-Name"), 0o700)); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(elsewhere, filepath.Join(s.Folder, "link")); err != nil {
		t.Skip(err)
	}
	if names := s.Names(); !slices.Equal(names, []string{"kortholt"}) {
		t.Errorf("there are %v", names)
	}
	for _, name := range []string{"link", "file", "bassoon", "nobody"} {
		if a, err := s.Find(name); a != nil || err != nil {
			t.Errorf("%s: %+v, %v", name, a, err)
		}
	}
	if err := s.Remove("kortholt"); err != nil {
		t.Fatal(err)
	}
	if names := s.Names(); len(names) != 0 {
		t.Errorf("there are %v", names)
	}
	if _, ok := errors.AsType[*NotFoundError](s.Remove("kortholt")); !ok {
		t.Error("it was removed twice")
	}
	if _, err := os.Stat(elsewhere); err != nil {
		t.Error(err)
	}
}

func TestLeftoversGoAfterAnHour(t *testing.T) {
	t.Parallel()
	s := Store{Folder: t.TempDir()}
	old, young := filepath.Join(s.Folder, ".new-1"), filepath.Join(s.Folder, ".old-2")
	if err := errors.Join(os.Mkdir(old, 0o700), os.Mkdir(young, 0o700)); err != nil {
		t.Fatal(err)
	}
	then := time.Now().Add(-2 * time.Hour)
	if err := os.Chtimes(old, then, then); err != nil {
		t.Fatal(err)
	}
	if err := s.Keep("kortholt", folder.File, []byte("x")); err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(old); err == nil {
		t.Error("what a killed program left is still there")
	}
	if _, err := os.Stat(young); err != nil {
		t.Error("what another program is busy with is gone")
	}
}

// accepted is an instrument.yaml of a bombard.
func accepted(t testing.TB) string {
	t.Helper()
	text, err := os.ReadFile("../../testdata/golden/instrument/accepted.txtar")
	if err != nil {
		t.Fatal(err)
	}
	_, rest, _ := strings.Cut(string(text), "-- instrument.yaml --\n")
	data, _, _ := strings.Cut(rest, "-- findings --")
	return data
}

// What the file says arrives as Load has it.
func TestAFolderWithoutCodeArrivesWhole(t *testing.T) {
	t.Parallel()
	h := addingHost(t)
	data := accepted(t)
	want, list := folder.Load(folder.File, []byte(data))
	if want == nil {
		t.Fatal(list.Sorted())
	}
	if err := h.Store.Keep("bombard", folder.File, []byte(data)); err != nil {
		t.Fatal(err)
	}
	set, err := h.Set(context.Background(), "bombard", 1)
	if err != nil {
		t.Fatal(err)
	}
	if got, want := string(set.Encode()), string(want.Set.Encode()); got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
}
