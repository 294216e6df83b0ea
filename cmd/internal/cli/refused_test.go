package cli_test

import (
	"bytes"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"canewright/cmd/internal/cli"
	"canewright/engine/parcel"
)

// at runs a command with a data folder of its own; nobody sits at a terminal.
func at(t *testing.T, data string, args ...string) (code int, out, errs string) {
	t.Helper()
	var o, e bytes.Buffer
	code = cli.Main(args, cli.System{
		In: strings.NewReader(""), Out: &o, Err: &e, Width: 60,
		Now:  func() time.Time { return time.Date(2026, 1, 12, 19, 0, 0, 0, time.UTC) },
		Rand: strings.NewReader(strings.Repeat("0123456789abcdef", 8)),
		Env: func(k string) string {
			if k == "XDG_DATA_HOME" {
				return data
			}
			return ""
		},
	})
	return code, o.String(), e.String()
}

// tree is every file below a folder with its bytes.
func tree(t *testing.T, dir string) string {
	t.Helper()
	var b strings.Builder
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := os.ReadFile(path)
		fmt.Fprintf(&b, "%s %x\n", path, data)
		return err
	})
	if err != nil && !os.IsNotExist(err) {
		t.Fatal(err)
	}
	return b.String()
}

// Three hundred packs that were changed on the way: each is refused with exit
// code 3 and a reason of the closed list, and nothing of any is stored.
func TestNothingOfAChangedPackIsStored(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	sender, receiver := filepath.Join(dir, "sender"), filepath.Join(dir, "receiver")
	file := filepath.Join(dir, "sent.canewright")
	if code, _, errs := at(t, sender, "pack", "checklists/before-the-concert", "--sign", "--as", "me", "-o", file); code != 0 {
		t.Fatal(errs)
	}
	whole, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.MkdirAll(filepath.Join(receiver, "canewright"), 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(receiver, "canewright", "known-keys"), []byte("# none yet\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	before := tree(t, receiver)
	r := rand.New(rand.NewPCG(7, 1))
	reasons := map[string]int{}
	for n := range 300 {
		d := bytes.Clone(whole)
		a := r.IntN(len(d))
		b := min(len(d), a+1+r.IntN(200))
		switch n % 5 {
		case 0:
			d[a] ^= 1 << r.IntN(8)
		case 1:
			d = d[:a]
		case 2:
			d = append(d[:a], d[b:]...)
		case 3:
			d = append(bytes.Clone(d[:b]), d[a:]...)
		case 4:
			if d[a] == d[b-1] {
				d[a]++
			}
			d[a], d[b-1] = d[b-1], d[a]
		}
		if bytes.Equal(d, whole) {
			continue
		}
		changed := filepath.Join(dir, "changed.canewright")
		if err := os.WriteFile(changed, d, 0o600); err != nil {
			t.Fatal(err)
		}
		code, out, errs := at(t, receiver, "open", changed, "--keep", "--trust-as", "me")
		_, rest, _ := strings.Cut(errs, ": refused (")
		reason, _, _ := strings.Cut(rest, ")")
		if code != 3 || out != "" || !slices.Contains(parcel.Reasons(), parcel.Reason(reason)) {
			t.Fatalf("change %d at %d: exit code %d\n%s%s", n, a, code, out, errs)
		}
		reasons[reason]++
	}
	if after := tree(t, receiver); after != before {
		t.Errorf("something was stored:\n%s", after)
	}
	if len(reasons) < 6 {
		t.Errorf("only these reasons were met: %v", reasons)
	}
	// The unchanged one is kept, so the refusals were not for some other cause.
	if code, out, errs := at(t, receiver, "open", file, "--keep", "--trust-as", "me"); code != 0 || !strings.Contains(out, "Kept in") {
		t.Fatalf("%d\n%s%s", code, out, errs)
	}
}

// A stranger's words in a pack are text on the screen, whatever they are.
func TestWhatAPackSaysIsText(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	c := &parcel.Contents{Heading: parcel.Heading{ID: "loud", Version: 1, Title: "Loud"}}
	c.Add(parcel.RecipeName, []byte("canewright: recipe 1\ntitle: Loud\nid: loud\nversion: 1\nabout: \"\\e[2J\\u202e\\a\"\nstages:\n  - stage: look\n    do: [Look.]\n"))
	data, err := parcel.Write(c)
	if err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(dir, "loud.canewright")
	if err := os.WriteFile(file, data, 0o600); err != nil {
		t.Fatal(err)
	}
	code, out, errs := at(t, filepath.Join(dir, "data"), "open", file, "--keep")
	if code != 3 || strings.ContainsAny(out+errs, "\x1b\a\u202e") {
		t.Errorf("%d\n%q\n%q", code, out, errs)
	}
	// The label lies: the recipe in it is another.
	c.Files[0].Data = []byte("canewright: recipe 1\ntitle: Quiet\nid: quiet\nversion: 1\nstages:\n  - stage: look\n    do: [Look.]\n")
	if data, err = parcel.Write(c); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(file, data, 0o600); err != nil {
		t.Fatal(err)
	}
	if code, _, errs := at(t, filepath.Join(dir, "data"), "open", file, "--keep"); code != 3 || !strings.Contains(errs, "refused (other-heading)") {
		t.Errorf("%d\n%s", code, errs)
	}
	if _, err := os.Stat(filepath.Join(dir, "data")); !os.IsNotExist(err) {
		t.Error("something was stored")
	}
}
