package parcel

import (
	"archive/zip"
	"bytes"
	"crypto/ed25519"
	"io"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestAPackComesBackAsItWas(t *testing.T) {
	t.Parallel()
	for _, sign := range []bool{false, true} {
		c := sample(t)
		if sign {
			if err := c.Sign(testKey(7), "Ö, at the “long” bench"); err != nil {
				t.Fatal(err)
			}
		}
		data := written(t, c)
		got, err := Open(data)
		if err != nil {
			t.Fatal(err)
		}
		if !reflect.DeepEqual(got, c) {
			t.Errorf("signed %v: %+v", sign, got.Heading)
		}
		if !bytes.Equal(written(t, got), data) {
			t.Errorf("signed %v: written again it has other bytes", sign)
		}
	}
}

// The bytes of a pack are a promise: they do not change with the version of
// Go or of canewright.
func TestTheBytesOfAPackStayAsTheyAre(t *testing.T) {
	t.Parallel()
	c := &Contents{Heading: Heading{ID: "two-readings", Version: 3, Title: `Two "readings" \ ü`, Instrument: "bassoon", Major: 1, InstrumentFrom: FromCanewright}}
	c.Add(RecipeName, []byte(recipeText))
	if err := c.Sign(testKey(1), "the bench by the window"); err != nil {
		t.Fatal(err)
	}
	data := written(t, c)
	file := filepath.Join("testdata", "golden.canewright")
	if os.Getenv("UPDATE") != "" {
		if err := os.WriteFile(file, data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(data, want) {
		t.Errorf("the pack has other bytes:\n%q\nwant\n%q", data, want)
	}
}

// Another reader of the format, archive/zip, finds the same files in it.
func TestAnotherReaderReadsAPack(t *testing.T) {
	t.Parallel()
	data := signedSample(t)
	r, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	c, err := Open(data)
	if err != nil {
		t.Fatal(err)
	}
	if len(r.File) != len(c.Files)+2 || r.File[0].Name != manifestName || r.File[1].Name != signatureName {
		t.Fatalf("%d files, want %d", len(r.File), len(c.Files)+2)
	}
	for i, f := range r.File[2:] {
		h, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		got, err := io.ReadAll(h) // checks the CRC-32 too
		if err != nil || f.Name != c.Files[i].Name || !bytes.Equal(got, c.Files[i].Data) {
			t.Errorf("%s: %v", f.Name, err)
		}
		if f.Method != zip.Store || !f.Mode().IsRegular() {
			t.Errorf("%s: method %d, mode %v", f.Name, f.Method, f.Mode())
		}
	}
}

// contents draws contents that can be packed.
func contents(t testing.TB) *rapid.Generator[*Contents] {
	pictures := [][]byte{pngOf(t), jpegOf(t)}
	return rapid.Custom(func(t *rapid.T) *Contents {
		line := rapid.StringMatching(`[a-zäöü"\\:#'{} 0-9-]{0,40}`)
		said := rapid.Map(line, strings.TrimSpace)
		c := &Contents{Heading: Heading{ID: rapid.StringMatching(`[a-z][a-z0-9]{0,9}(-[a-z0-9]{1,9}){0,3}`).Draw(t, "id"),
			Version: rapid.IntRange(1, 1_000_000).Draw(t, "version"), Title: "T" + said.Draw(t, "title"), Author: said.Draw(t, "author"), Licence: said.Draw(t, "licence")}}
		text := rapid.Map(rapid.SliceOfN(line, 1, 30), func(l []string) []byte { return []byte("canewright: " + strings.Join(l, "\n") + "\n") })
		c.Add(RecipeName, text.Draw(t, "recipe"))
		if rapid.Bool().Draw(t, "cases") {
			c.Add(CasesName, text.Draw(t, "cases"))
		}
		if rapid.Bool().Draw(t, "instrument") {
			c.Heading.Instrument, c.Heading.InstrumentFrom = rapid.StringMatching(`[a-z][a-z0-9-]{0,31}`).Draw(t, "instrument"), FromPack
			c.Heading.Major, c.Heading.Minor = rapid.IntRange(0, 9999).Draw(t, "major"), rapid.IntRange(0, 9999).Draw(t, "minor")
			c.Add(InstrumentName, text.Draw(t, "instrument file"))
		}
		for _, o := range rapid.SliceOfNDistinct(text, 0, 4, func(b []byte) string { return string(b) }).Draw(t, "origins") {
			c.Add(OriginName(sumOf(o)), o)
		}
		for _, n := range rapid.SliceOfNDistinct(rapid.StringMatching(`p[a-z0-9_-]{0,20}`), 0, 3, rapid.ID).Draw(t, "pictures") {
			i := rapid.IntRange(0, 1).Draw(t, "kind")
			c.Add(PictureName(n+[]string{".png", ".jpg"}[i]), pictures[i])
		}
		if rapid.Bool().Draw(t, "signed") {
			if err := c.Sign(testKey(rapid.Byte().Draw(t, "key")), said.Draw(t, "as")); err != nil {
				t.Fatal(err)
			}
		}
		return c
	})
}

func TestPackOpenPack(t *testing.T) {
	t.Parallel()
	gen := contents(t)
	rapid.Check(t, func(t *rapid.T) {
		c := gen.Draw(t, "contents")
		data, err := Write(c)
		if err != nil {
			t.Fatal(err)
		}
		got, err := Open(data)
		if err != nil {
			t.Fatal(err)
		}
		again, err := Write(got)
		if err != nil || !bytes.Equal(again, data) {
			t.Fatalf("written again it has other bytes (%v)", err)
		}
	})
}

// What is signed is the manifest, with the signer's own words and this use in
// front.
func TestWhatIsSigned(t *testing.T) {
	t.Parallel()
	c := sample(t)
	if err := c.Sign(testKey(3), "me"); err != nil {
		t.Fatal(err)
	}
	message := append([]byte("canewright: this pack is signed by\nme\n"), c.manifest()...)
	if !ed25519.Verify(c.Signature.Key, message, c.Signature.Sum) {
		t.Error("the signature is of something else")
	}
	if ed25519.Verify(c.Signature.Key, c.manifest(), c.Signature.Sum) {
		t.Error("the bare manifest verifies: a signature of another use could be passed off as one of a pack")
	}
}

func TestFingerprint(t *testing.T) {
	t.Parallel()
	got := Fingerprint(testKey(1).Public().(ed25519.PublicKey))
	if len(strings.Fields(got)) != 8 || len(got) != 39 || got == Fingerprint(testKey(2).Public().(ed25519.PublicKey)) {
		t.Error(got)
	}
}
