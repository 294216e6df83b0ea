package wire_test

import (
	"bytes"
	"context"
	"crypto/ed25519"
	"errors"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"canewright/cmd/internal/wire"
	"canewright/engine/adaptation"
	"canewright/engine/parcel"
	"canewright/engine/recipe"
	"canewright/recipes"
)

// Every bundled recipe is packed and opened, and is the same afterwards.
func TestEveryBundledRecipeTravels(t *testing.T) {
	t.Parallel()
	w, other := works(t), works(t)
	for _, name := range recipes.All() {
		p, err := w.Pack(context.Background(), name)
		if err != nil {
			t.Fatal(name, err)
		}
		if p.Played == 0 || len(p.Said) > 0 {
			t.Errorf("%s: %d cases, %q", name, p.Played, p.Said)
		}
		data, err := parcel.Write(p.Contents)
		if err != nil {
			t.Fatal(name, err)
		}
		again, _ := w.Pack(context.Background(), name)
		if twice, err := parcel.Write(again.Contents); err != nil || !bytes.Equal(twice, data) {
			t.Errorf("%s: packed again it has other bytes (%v)", name, err)
		}
		o, err := other.Open(context.Background(), "sent", data)
		if err != nil {
			t.Fatal(name, err)
		}
		_, text, _ := recipes.Read(name)
		if !bytes.Equal(o.Contents.File(parcel.RecipeName), text) {
			t.Errorf("%s: its text changed on the way", name)
		}
		if o.Recipe.List.Len() > 0 || o.Played != p.Played || len(o.Cases) > 0 || o.Instrument.Name != "" && !o.Instrument.Same {
			t.Errorf("%s: %d of %d cases, %v, %+v", name, o.Played, p.Played, o.Cases, o.Instrument)
		}
		if len(o.Yours) != 1 || o.Yours[0].How != "same" {
			t.Errorf("%s: yours %+v", name, o.Yours)
		}
		if _, err := other.Keep(o.Contents); err != nil {
			t.Fatal(err)
		}
	}
	_, text, _ := recipes.Read(recipes.All()[0])
	if _, file, err := other.FindText(recipe.Digest(text)); err != nil || !strings.HasPrefix(file, "recipes/") {
		t.Errorf("a bundled text was found as %q (%v)", file, err)
	}
}

// A version on top of a version travels with all it builds on; what arrives can
// be followed, and packs to the same bytes.
func TestAnOwnVersionTravelsWithItsOrigins(t *testing.T) {
	t.Parallel()
	w, other, dir := works(t), works(t), t.TempDir()
	write := func(name string, data []byte) string {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, data, 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	origin := []byte("\ufeffcanewright: recipe 1\r\ntitle: An origin\r\nid: an-origin\r\nversion: 1\r\nauthor: somebody\r\nsettings:\r\n  shaper.width: 15 mm\r\nstages:\r\n  - stage: look\r\n    do: [Look.]\r\n")
	own := func(under []byte, id, value string) []byte {
		text, list, err := w.TextOf("under", under, nil)
		if err != nil || text.Whole == nil {
			t.Fatal(err, list.Sorted())
		}
		f, _ := recipe.Load("under", text.Whole)
		e := adaptation.Edit(adaptation.Begin(adaptation.OriginOf(f, under), id, "A version", "", ""))
		e.Setting("shaper.width", value, "mine")
		if err := w.KeepOrigin(under); err != nil {
			t.Fatal(err)
		}
		return e.Bytes()
	}
	first := own(origin, "first", "0.575 in")
	second := own(first, "second", "0.6 in")
	p, err := w.Pack(context.Background(), write("second.yaml", second))
	if err != nil {
		t.Fatal(err)
	}
	if n := len(p.Contents.Of(parcel.Origin)); n != 2 {
		t.Fatalf("%d origins came along, not 2", n)
	}
	data, err := parcel.Write(p.Contents)
	if err != nil {
		t.Fatal(err)
	}
	o, err := other.Open(context.Background(), "sent", data)
	if err != nil {
		t.Fatal(err)
	}
	if o.Recipe.Bound == nil || o.Recipe.File.Author != "a player, after a player, after somebody" {
		t.Fatalf("opened: %+v %v", o.Recipe.File, o.Recipe.List.Sorted())
	}
	kept, err := other.Keep(o.Contents)
	if err != nil {
		t.Fatal(err)
	}
	r, err := other.Recipe(context.Background(), kept.Place)
	if err != nil || r.Bound == nil || r.Bound.Settings[0].Value.Text != "0.6 in" {
		t.Fatalf("kept: %v %v", err, r.List.Sorted())
	}
	if again, err := other.Pack(context.Background(), kept.Place); err != nil {
		t.Error(err)
	} else if bytesAgain, err := parcel.Write(again.Contents); err != nil || !bytes.Equal(bytesAgain, data) {
		t.Errorf("packed again it has other bytes (%v)", err)
	}
	// Without what it builds on it is refused, and says so.
	c := &parcel.Contents{Heading: p.Contents.Heading}
	c.Add(parcel.RecipeName, second)
	alone, err := parcel.Write(c)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := works(t).Open(context.Background(), "sent", alone); !errors.As(err, new(*wire.OriginNotFoundError)) {
		t.Errorf("opened without what it builds on: %v", err)
	}
}

func TestCasesAreReallyPlayed(t *testing.T) {
	t.Parallel()
	b := bundled(t)["bassoon/from-shaped-cane"]
	_, text, _ := recipes.Cases("bassoon/from-shaped-cane")
	for _, c := range []struct{ from, to, why string }{
		{"", "", ""},
		{"above", "below", "is above, not below"},
		{"then: once more", "then: thrown away", "what follows is once more, not thrown away"},
		{"stage: ream", "stage: reem", `there is no stage "reem"`},
	} {
		changed := strings.Replace(string(text), c.from, c.to, 1)
		if c.from != "" && changed == string(text) {
			t.Fatalf("there is no %q to change", c.from)
		}
		cases, list := recipe.LoadCases("cases.yaml", []byte(changed))
		if list.Failed() {
			t.Fatal(findings(list))
		}
		played, faults := wire.PlayCases(context.Background(), b, cases, notes(t))
		if played != len(cases) || (c.why == "") != (len(faults) == 0) || len(faults) > 0 && !strings.Contains(faults[0].Why, c.why) {
			t.Errorf("%q for %q: %d of %d played, %+v", c.to, c.from, played, len(cases), faults)
		}
	}
}

// Two kept recipes of one name never meet; what is there already is kept once.
func TestKeepNeverWritesOver(t *testing.T) {
	t.Parallel()
	w := works(t)
	make := func(version int, words string) *parcel.Contents {
		c := &parcel.Contents{Heading: parcel.Heading{ID: "mine", Version: version, Title: "Mine"}}
		c.Add(parcel.RecipeName, []byte("canewright: recipe 1\ntitle: Mine\nid: mine\n# "+words+"\n"))
		return c
	}
	var first string
	seen := map[string]bool{}
	for i, c := range []*parcel.Contents{make(1, "a"), make(2, "b"), make(2, "c"), make(1, "d")} {
		k, err := w.Keep(c)
		if err != nil || k.Already || seen[k.Place] {
			t.Fatalf("%d: %+v %v", i, k, err)
		}
		seen[k.Place] = true
		if i == 0 {
			first = k.Place
		} else if k.Beside != first {
			t.Errorf("%d lies beside %q, not %q", i, k.Beside, first)
		}
		if got, err := os.ReadFile(filepath.Join(k.Dir, "recipe.yaml")); err != nil || !bytes.Equal(got, c.File(parcel.RecipeName)) {
			t.Errorf("%d: %v", i, err)
		}
		if again, err := w.Keep(c); err != nil || !again.Already || again.Dir != k.Dir {
			t.Errorf("%d again: %+v %v", i, again, err)
		}
	}
	// The same recipe with cases beside it is not the same folder.
	more := make(1, "a")
	more.Add(parcel.CasesName, []byte("canewright: cases 1\n"))
	if k, err := w.Keep(more); err != nil || k.Already || seen[k.Place] {
		t.Errorf("%+v %v", k, err)
	}
	all, err := w.Libraries()
	if err != nil {
		t.Fatal(err)
	}
	if l, err := all[0].List(); err != nil || len(l.Entries) != 5 {
		t.Errorf("%d recipes in the library (%v)", len(l.Entries), err)
	}
	left, _ := filepath.Glob(filepath.Join(all[0].Path, ".new-*"))
	if len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
}

func TestKey(t *testing.T) {
	t.Parallel()
	w := works(t)
	if k, err := w.Key(); k != nil || err != nil {
		t.Fatalf("there is a key before one was made (%v)", err)
	}
	made, err := w.MakeKey()
	if err != nil {
		t.Fatal(err)
	}
	// The seed is what the randomness passed in gives first.
	if want := ed25519.NewKeyFromSeed([]byte(strings.Repeat("0123456789", 4)[:32])); !made.Equal(want) {
		t.Error("the key comes from elsewhere")
	}
	if k, err := w.Key(); err != nil || !k.Equal(made) {
		t.Errorf("another key is read (%v)", err)
	}
	if _, err := w.MakeKey(); err == nil {
		t.Error("a key was written over")
	}
	path, _ := w.KeyPath()
	if info, err := os.Stat(path); err != nil || runtime.GOOS != "windows" && info.Mode().Perm() != 0o600 {
		t.Errorf("mode %v (%v)", info.Mode(), err)
	}
	refuses := func(what string) {
		t.Helper()
		_, err := w.Key()
		if _, ok := errors.AsType[*wire.KeyError](err); !ok {
			t.Errorf("%s: %v", what, err)
		}
	}
	if runtime.GOOS != "windows" {
		for _, mode := range []os.FileMode{0o640, 0o604, 0o660} {
			if err := os.Chmod(path, mode); err != nil {
				t.Fatal(err)
			}
			refuses(mode.String())
		}
		if err := os.Chmod(path, 0o600); err != nil {
			t.Fatal(err)
		}
		moved := path + "-elsewhere"
		if err := errors.Join(os.Rename(path, moved), os.Symlink(moved, path)); err != nil {
			t.Fatal(err)
		}
		refuses("a link")
		if err := errors.Join(os.Remove(path), os.Rename(moved, path)); err != nil {
			t.Fatal(err)
		}
	}
	for _, text := range []string{"", "canewright key 1 00", "canewright key 2 " + strings.Repeat("0", 64), strings.Repeat("0", 64), strings.Repeat("x", 2000)} {
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		refuses(text)
	}
}

func TestTrust(t *testing.T) {
	t.Parallel()
	w := works(t)
	key := func(n byte) ed25519.PublicKey {
		return ed25519.NewKeyFromSeed(bytes.Repeat([]byte{n}, 32)).Public().(ed25519.PublicKey)
	}
	for _, s := range []struct {
		key  byte
		name string
		was  string
		ok   bool
	}{
		{1, "my teacher", "", true},
		{2, "Anna", "", true},
		{2, "anna", "Anna", true},
		{1, "my teacher", "my teacher", true},
		{3, "My  Teacher", "", false},
		{2, "my teacher", "", false},
	} {
		was, err := w.Trust(key(s.key), s.name)
		_, refused := errors.AsType[*wire.OtherKeyError](err)
		if (err == nil) != s.ok || refused == s.ok || was != s.was {
			t.Errorf("%d as %q: was %q, %v", s.key, s.name, was, err)
		}
	}
	all, err := w.KnownKeys()
	if err != nil || len(all) != 2 || all[0].Name != "anna" || !all[0].Key.Equal(key(2)) || all[1].Name != "my teacher" || !all[1].Key.Equal(key(1)) {
		t.Errorf("%+v %v", all, err)
	}
}

// The label of a pack says what the recipe in it says, whatever its words.
func TestALabelCanAlwaysBeWritten(t *testing.T) {
	t.Parallel()
	w := works(t)
	dir := t.TempDir()
	for i, words := range []string{strings.Repeat("long ", 200), `"quoted \\ \" words"`, "|\n  two\n\n  lines", "'  blanks  '", "ünïcödé 冬", "\"a\u2028b\""} {
		file := filepath.Join(dir, "r.yaml")
		text := "canewright: recipe 1\ntitle: " + words + "\nid: r\nversion: 1\nauthor: " + words + "\nstages:\n  - stage: look\n    do: [Look.]\n"
		if err := os.WriteFile(file, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		p, err := w.Pack(context.Background(), file)
		if err != nil {
			if _, ok := errors.AsType[*wire.InvalidError](err); ok && strings.Contains(words, "\u2028") {
				continue // no recipe may hold it
			}
			t.Errorf("%d: %v", i, err)
			continue
		}
		data, err := parcel.Write(p.Contents)
		if err == nil {
			_, err = w.Open(context.Background(), "sent", data)
		}
		if err != nil {
			t.Errorf("%d: %v", i, err)
		}
	}
}
