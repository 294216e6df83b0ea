package parcel

import (
	"archive/zip"
	"bytes"
	"crypto/ed25519"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"math/rand/v2"
	"strings"
	"testing"
	"time"
)

// trick is a file that somebody could send.
type trick struct {
	name string
	data []byte
	want Reason
}

// entriesOf are the entries of a pack, to be changed and written again with
// sums and sizes that fit.
func entriesOf(t testing.TB, data []byte) []entry {
	t.Helper()
	all, err := unarchive(data)
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// changed writes contents that are not checked, with a manifest that lists
// them rightly.
func changed(t testing.TB, change func(c *Contents)) []byte {
	c := sample(t)
	change(c)
	all := []entry{{name: manifestName, data: c.manifest()}}
	if c.Signature != nil {
		all = append(all, entry{name: signatureName, data: c.Signature.encode()})
	}
	for _, f := range c.Files {
		all = append(all, entry{name: f.Name, data: f.Data})
	}
	return archive(all)
}

// zipped writes with archive/zip.
func zipped(t testing.TB, h zip.FileHeader, data string) []byte {
	t.Helper()
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	f, err := w.CreateHeader(&h)
	if err == nil {
		_, err = f.Write([]byte(data))
	}
	if err == nil {
		err = w.Close()
	}
	if err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func tricks(t testing.TB) []trick {
	t.Helper()
	whole := written(t, sample(t))
	sealed := signedSample(t)
	var out []trick
	add := func(name string, want Reason, data []byte) { out = append(out, trick{name, data, want}) }
	patch := func(name string, want Reason, at int, b ...byte) {
		d := bytes.Clone(whole)
		copy(d[at:], b)
		add(name, want, d)
	}
	entries := func(name string, want Reason, change func(all []entry) []entry) {
		add(name, want, archive(change(entriesOf(t, whole))))
	}
	with := func(name string, want Reason, change func(c *Contents)) { add(name, want, changed(t, change)) }
	named := func(name string, want Reason, file string) {
		entries(name, want, func(all []entry) []entry { return append(all, entry{name: file, data: []byte("x: y\n")}) })
	}
	swap := func(c *Contents, name string, data []byte) {
		for i := range c.Files {
			if c.Files[i].Name == name {
				c.Files[i].Data = data
			}
		}
	}
	central := bytes.Index(whole, []byte("PK\x01\x02"))
	end := len(whole) - endLen

	// Not a pack at all, or not all of one.
	add("nothing", Empty, nil)
	add("a letter", NotAPack, []byte("Dear colleague,\nhere is my recipe.\n"))
	add("a recipe as it is", NotAPack, []byte(recipeText))
	add("an empty archive", NotAPack, whole[end:])
	add("too large", TooLarge, append(bytes.Clone(whole), make([]byte, MaxBytes)...))
	add("cut in the middle", Cut, whole[:len(whole)/2])
	add("cut in the list", Cut, whole[:central+20])
	add("cut by one byte", Cut, whole[:len(whole)-1])
	add("a program in front", InFront, append([]byte("#!/bin/sh\nexit\n"), whole...))
	add("one byte in front", InFront, append([]byte{0}, whole...))
	add("a program behind", Behind, append(bytes.Clone(whole), "\x7fELF\x02"...))
	add("one byte behind", Behind, append(bytes.Clone(whole), 0))
	add("two packs in one file", Behind, append(bytes.Clone(whole), whole...))
	add("something between", OddField, append(append(bytes.Clone(whole[:end]), "between"...), whole[end:]...))

	// Fields of the archive.
	add("compressed", Compressed, zipped(t, zip.FileHeader{Name: manifestName, Method: zip.Deflate}, strings.Repeat("a", 100)))
	add("written as a stream", OddField, zipped(t, zip.FileHeader{Name: manifestName, Method: zip.Store}, "{}"))
	add("with a time", ExtraField, zipped(t, zip.FileHeader{Name: manifestName, Method: zip.Store, Modified: time.Unix(1e9, 0)}, "{}"))
	patch("encrypted", Encrypted, 6, 1)
	patch("another flag", OddField, 7, 8)
	patch("a newer version needed", OddField, 4, 45)
	patch("a time", OddTime, 10, 1)
	patch("a date", OddTime, 12, 0x22)
	patch("a size of 4 GB", OddField, 22, 0xff, 0xff, 0xff, 0xff)
	patch("both sizes of 4 GB", FileTooLarge, 18, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff)
	patch("a name of 64 KB", UnsafeName, 26, 0xff, 0x05)
	patch("an extra field that is not there", ExtraField, 28, 4)
	patch("an extra field in the list", ExtraField, central+30, 4)
	patch("a comment in the list", Comment, central+32, 4)
	patch("another system", OddField, central+5, 3)
	patch("a disk", OddField, central+34, 1)
	patch("called text", OddField, central+36, 1)
	patch("a right to run", OddField, central+38, 0, 0, 0xed, 0x81)
	patch("a link", Link, central+38, 0, 0, 0xff, 0xa1)
	patch("a folder by its attributes", Folder, central+38, 0x10)
	patch("another offset", TwoLists, central+42, 9)
	patch("another sum in the list", TwoLists, central+16, 9, 9, 9, 9)
	patch("several disks", OddField, end+4, 1)
	patch("one file more", TwoLists, end+8, 0xff, 0, 0xff, 0)
	patch("another place of the list", TwoLists, end+16, 1, 2)
	patch("a comment", Comment, end+20, 1)
	add("a comment that is there", Comment, append(patched(whole, end+20, 5), "hello"...))
	{
		d := bytes.Clone(whole)
		copy(d[central+centralLen:], "Manifest.json")
		add("another name in the list", TwoLists, d)
	}
	{
		listedTwice := append(bytes.Clone(whole[:end]), whole[central:end]...)
		add("listed twice", TwoLists, append(listedTwice, whole[end:]...))
		short := append(bytes.Clone(whole[:central]), whole[central+centralLen+len(manifestName):]...)
		add("one left out of the list", TwoLists, short)
	}

	patch("damaged on the way", Damaged, bytes.Index(whole, []byte("Look at it")), 'l')

	// Names.
	named("leads out", UnsafeName, "../recipe.yaml")
	named("leads out from within", UnsafeName, "pictures/../../key")
	named("from the root", UnsafeName, "/etc/passwd")
	named("backslashes", UnsafeName, `pictures\..\key`)
	named("a drive", UnsafeName, "C:recipe.yaml")
	named("a share", UnsafeName, `\\server\share`)
	named("a stream", UnsafeName, "recipe.yaml:more")
	named("a device", UnsafeName, "pictures/con.png")
	named("a device with a number", UnsafeName, "pictures/lpt1.jpg")
	named("an escape sequence", UnsafeName, "pictures/\x1b[2J.png")
	named("a zero", UnsafeName, "recipe.yaml\x00.png")
	named("turned round", UnsafeName, "pictures/\u202egnp.exe")
	named("letters that look alike", UnsafeName, "r\u0435cipe.yaml")
	named("an empty step", UnsafeName, "pictures//a.png")
	named("a dot", UnsafeName, "./recipe.yaml")
	named("a dot at the end", UnsafeName, "recipe.yaml.")
	named("a blank at the end", UnsafeName, "recipe.yaml ")
	named("no name", UnsafeName, "")
	named("a long name", UnsafeName, strings.Repeat("a", 101))
	named("a folder", Folder, "pictures/")
	named("a program", ForeignFile, "setup.exe")
	named("a script", ForeignFile, "run.sh")
	named("an instrument's program", ForeignFile, "instrument/kortholt")
	named("its approval", ForeignFile, "instrument/approved.json")
	named("a drawing that can hold a program", ForeignFile, "pictures/reed.svg")
	named("capitals", ForeignFile, "Recipe.yaml")
	named("a page", ForeignFile, "index.html")
	named("a dot file", ForeignFile, ".profile")
	named("a key", ForeignFile, "key")
	named("an origin of another name", ForeignFile, "origins/abc.yaml")
	named("twice", DoubleName, RecipeName)
	named("a second manifest", DoubleName, manifestName)
	entries("too many", TooMany, func(all []entry) []entry {
		for i := range maxFiles {
			all = append(all, entry{name: fmt.Sprintf("pictures/z%03d.png", i), data: []byte("x")})
		}
		return all
	})

	// What is in it, with sums that fit.
	entries("no manifest", NoManifest, func(all []entry) []entry { return all[1:] })
	entries("the manifest last", NoManifest, func(all []entry) []entry { return append(all[1:], all[0]) })
	entries("in another order", WrongOrder, func(all []entry) []entry { all[1], all[2] = all[2], all[1]; return all })
	entries("one that is not listed", NotListed, func(all []entry) []entry {
		return append(all[:len(all)-1:len(all)-1], entry{name: "pictures/zz.png", data: pngOf(t)}, all[len(all)-1])
	})
	entries("one that is not there", NotListed, func(all []entry) []entry { return all[:len(all)-1] })
	entries("another text of the same length", WrongSum, func(all []entry) []entry {
		for i := range all {
			if all[i].name == RecipeName {
				all[i].data = bytes.Replace(all[i].data, []byte("version: 3"), []byte("version: 4"), 1)
			}
		}
		return all
	})
	entries("a longer text", NotListed, func(all []entry) []entry {
		all[1].data = append(bytes.Clone(all[1].data), '\n')
		return all
	})
	manifest := func(name string, want Reason, from, to string) {
		entries(name, want, func(all []entry) []entry {
			d := bytes.Replace(all[0].data, []byte(from), []byte(to), 1)
			if bytes.Equal(d, all[0].data) {
				t.Fatalf("%s: nothing was changed", name)
			}
			all[0].data = d
			return all
		})
	}
	manifest("a newer format", OtherFormat, `"pack 1"`, `"pack 2"`)
	manifest("a newer format with more keys", OtherFormat, `"pack 1",`, `"pack 7", "later": [1],`)
	manifest("no format", BadManifest, `"pack 1"`, `"zip"`)
	manifest("an unknown key", BadManifest, `"id":`, `"run": "x", "id":`)
	manifest("a key twice", BadManifest, `"id": "two-readings"`, `"id": "other", "id": "two-readings"`)
	manifest("other blanks", BadManifest, `"id": `, `"id":  `)
	manifest("a letter escaped", BadManifest, `Invented`, `\u0049nvented`)
	manifest("capital keys", BadManifest, `"author"`, `"AUTHOR"`)
	manifest("a part of a number", BadManifest, `"version": 3`, `"version": 3.5`)
	manifest("another role", NotListed, `"cases"`, `"recipe"`)
	manifest("an escape in a title", BadManifest, `Two \"readings\"`, "Two \\u001b[31m")
	manifest("a title turned round", BadManifest, `Two \"readings\"`, "Two \u202e")
	manifest("an id that is a path", BadManifest, `"two-readings"`, `"../two"`)
	manifest("an instrument that is a path", BadManifest, `"kortholt"`, `"../bassoon"`)
	manifest("an instrument from elsewhere", NotListed, `"instrument_from": "pack"`, `"instrument_from": "program"`)
	manifest("a version of 0", BadManifest, `"version": 3`, `"version": 0`)
	manifest("something behind", BadManifest, "}\n", "}\n{}\n")
	with("no recipe", NoRecipe, func(c *Contents) { c.Files = c.Files[:len(c.Files)-1] })
	with("a program as recipe", Program, func(c *Contents) { swap(c, RecipeName, []byte("\x7fELF\x02\x01")) })
	with("a script as recipe", Program, func(c *Contents) { swap(c, RecipeName, []byte("#!/bin/sh\n# "+recipeText)) })
	with("an archive as cases", Program, func(c *Contents) { swap(c, CasesName, whole) })
	with("bytes as recipe", NotText, func(c *Contents) { swap(c, RecipeName, []byte("canewright: recipe 1\xff\n")) })
	with("an escape in a recipe", NotText, func(c *Contents) { swap(c, RecipeName, []byte("canewright: recipe 1\ntitle: \x1b[2J\n")) })
	with("a zero in an instrument", NotText, func(c *Contents) { swap(c, InstrumentName, []byte("a: \x00\n")) })
	with("an empty recipe", NotText, func(c *Contents) { swap(c, RecipeName, []byte(" \n")) })
	with("a recipe of 2 MiB and a byte", FileTooLarge, func(c *Contents) { swap(c, RecipeName, bytes.Repeat([]byte("#"), MaxText+1)) })
	with("an origin of another text", WrongSum, func(c *Contents) { swap(c, OriginName(sumOf([]byte(originText))), []byte("other: 1\n")) })
	with("too many origins", TooMany, func(c *Contents) {
		for i := range MaxOrigins {
			o := fmt.Appendf(nil, "a: %d\n", i)
			c.Add(OriginName(sumOf(o)), o)
		}
	})
	png, jpg := "pictures/profile.png", "pictures/tip.jpg"
	with("a program as picture", NotAPicture, func(c *Contents) { swap(c, png, []byte("MZ\x90")) })
	with("a page as picture", NotAPicture, func(c *Contents) { swap(c, jpg, []byte("<html><script>")) })
	with("one picture as another", NotAPicture, func(c *Contents) { swap(c, png, jpegOf(t)) })
	with("a picture with an archive behind", NotAPicture, func(c *Contents) { swap(c, png, append(pngOf(t), whole...)) })
	with("a photograph with a program behind", NotAPicture, func(c *Contents) { swap(c, jpg, append(jpegOf(t), "MZ"...)) })
	with("a picture with words", NotAPicture, func(c *Contents) { swap(c, png, pngWith(t, "tEXt", "Comment\x00hello")) })
	with("a picture with an unknown part", NotAPicture, func(c *Contents) { swap(c, png, pngWith(t, "QQQQ", "x")) })
	with("a picture cut off", NotAPicture, func(c *Contents) { swap(c, png, pngOf(t)[:60]) })
	with("a photograph cut off", NotAPicture, func(c *Contents) { swap(c, jpg, jpegOf(t)[:200]) })
	with("a photograph that says where", NotAPicture, func(c *Contents) { swap(c, jpg, jpegWith(t, 0xe1, "Exif\x00\x00where")) })
	with("a photograph with a comment", NotAPicture, func(c *Contents) { swap(c, jpg, jpegWith(t, 0xfe, "hello")) })
	with("a huge picture", NotAPicture, func(c *Contents) {
		d := pngOf(t)
		binary.BigEndian.PutUint32(d[16:], 1<<30)
		binary.BigEndian.PutUint32(d[29:], crc32.ChecksumIEEE(d[12:29]))
		swap(c, png, d)
	})

	// Signatures.
	seal := func(name string, want Reason, change func(s *Signature)) {
		c := sample(t)
		if err := c.Sign(testKey(1), "me"); err != nil {
			t.Fatal(err)
		}
		s := *c.Signature
		s.Key, s.Sum = bytes.Clone(s.Key), bytes.Clone(s.Sum)
		change(&s)
		with(name, want, func(c *Contents) { c.Signature = &s })
	}
	seal("signed by nobody", WrongSignature, func(s *Signature) { s.Sum = make([]byte, 64) })
	seal("other words of the signer", WrongSignature, func(s *Signature) { s.As = "my teacher" })
	seal("another key", WrongSignature, func(s *Signature) { s.Key = testKey(2).Public().(ed25519.PublicKey) })
	seal("a short key", BadSignature, func(s *Signature) { s.Key = s.Key[:31] })
	seal("an escape in the signer's words", BadSignature, func(s *Signature) { s.As = "me\u202e" })
	seal("a signature of something else", WrongSignature, func(s *Signature) {
		c := sample(t)
		c.Heading.Version++
		if err := c.Sign(testKey(1), "me"); err != nil {
			t.Fatal(err)
		}
		*s = *c.Signature
	})
	all := entriesOf(t, sealed)
	for i := range all {
		if all[i].name == signatureName {
			all[i].data = []byte("-----BEGIN")
		}
	}
	add("no signature a reader knows", BadSignature, archive(all))
	all = entriesOf(t, sealed)
	all[1].data = bytes.Replace(all[1].data, []byte(`"as": `), []byte(`"as":`), 1)
	add("a signature in other blanks", NotCanonical, archive(all))
	all = entriesOf(t, sealed)
	all[1].data = bytes.Replace(all[1].data, []byte(`"key": "8a`), []byte(`"key": "8A`), 1)
	add("a signature in capitals", NotCanonical, archive(all))
	all = entriesOf(t, sealed)
	all[0].data = bytes.Replace(all[0].data, []byte("Invented"), []byte("Pretended"), 1)
	add("another author under the signature", WrongSignature, archive(all))
	all = entriesOf(t, sealed)
	add("the signature at the end", WrongOrder, archive(append(append(all[:1:1], all[2:]...), all[1])))
	return out
}

func patched(data []byte, at int, b ...byte) []byte {
	d := bytes.Clone(data)
	copy(d[at:], b)
	return d
}

// pngWith is a PNG with one chunk more behind its head.
func pngWith(t testing.TB, kind, data string) []byte {
	d := pngOf(t)
	chunk := binary.BigEndian.AppendUint32(nil, uint32(len(data)))
	chunk = append(append(chunk, kind...), data...)
	chunk = binary.BigEndian.AppendUint32(chunk, crc32.ChecksumIEEE(chunk[4:]))
	return append(append(bytes.Clone(d[:33]), chunk...), d[33:]...)
}

// jpegWith is a JPEG with one segment more at its head.
func jpegWith(t testing.TB, mark byte, data string) []byte {
	d := jpegOf(t)
	part := append([]byte{0xff, mark}, binary.BigEndian.AppendUint16(nil, uint16(len(data)+2))...)
	return append(append(append([]byte{0xff, 0xd8}, part...), data...), d[2:]...)
}

// Each trick by its name is refused for its own reason.
func TestEveryTrickIsRefused(t *testing.T) {
	t.Parallel()
	seen := map[Reason]bool{OtherHeading: true} // cmd/internal/wire finds it
	names := map[string]bool{}
	all := tricks(t)
	for _, k := range all {
		if names[k.name] {
			t.Fatalf("%s stands twice", k.name)
		}
		names[k.name] = true
		c, err := Open(k.data)
		if err == nil {
			t.Errorf("%s was opened: %+v", k.name, c.Heading)
			continue
		}
		got := refused(t, err)
		seen[got] = true
		if got != k.want {
			t.Errorf("%s: refused as %s (%v), want %s", k.name, got, err, k.want)
		}
	}
	for _, r := range Reasons() {
		if !seen[r] {
			t.Errorf("no trick is refused as %s", r)
		}
	}
	if len(all) < 100 {
		t.Errorf("only %d tricks", len(all))
	}
}

// Two thousand packs with bits turned, bytes exchanged, pieces cut out, put in,
// doubled or moved: every one is refused.
func TestEveryChangedPackIsRefused(t *testing.T) {
	t.Parallel()
	packs := [][]byte{signedSample(t), written(t, sample(t))}
	r := rand.New(rand.NewPCG(8032, 1))
	reasons := map[Reason]int{}
	for n := range 2000 {
		whole := packs[n%2]
		d := bytes.Clone(whole)
		at := r.IntN(len(d))
		upTo := min(len(d), at+1+r.IntN(64))
		how := ""
		switch n / 2 % 6 {
		case 0:
			how = "a bit turned"
			d[at] ^= 1 << r.IntN(8)
		case 1:
			how = "cut"
			d = d[:at]
		case 2:
			how = "a piece taken out"
			d = append(d[:at], d[upTo:]...)
		case 3:
			how = "a piece doubled"
			d = append(bytes.Clone(d[:upTo]), d[at:]...)
		case 4:
			how = "two bytes exchanged"
			b := r.IntN(len(d))
			d[at], d[b] = d[b], d[at]
		case 5:
			how = "bytes put in"
			d = append(append(bytes.Clone(d[:at]), byte(r.IntN(256))), d[at:]...)
		}
		if bytes.Equal(d, whole) {
			continue
		}
		if _, err := Open(d); err == nil {
			t.Errorf("%s at %d: opened", how, at)
		} else {
			reasons[refused(t, err)]++
		}
	}
	if len(reasons) < 8 {
		t.Errorf("only these reasons were met: %v", reasons)
	}
}

// Every single bit of a small pack counts.
func TestEveryBitCounts(t *testing.T) {
	t.Parallel()
	c := &Contents{Heading: Heading{ID: "a", Version: 1, Title: "A"}}
	c.Add(RecipeName, []byte("canewright: recipe 1\n"))
	if err := c.Sign(testKey(1), "me"); err != nil {
		t.Fatal(err)
	}
	whole := written(t, c)
	for i := range whole {
		for bit := range 8 {
			d := patched(whole, i, whole[i]^1<<bit)
			if _, err := Open(d); err == nil {
				t.Errorf("bit %d of byte %d does not count", bit, i)
			} else {
				refused(t, err)
			}
		}
	}
}

// What is packed obeys the same rules as what is opened.
func TestWhatCannotBePacked(t *testing.T) {
	t.Parallel()
	for name, want := range map[string]Reason{"../x.yaml": UnsafeName, "run.sh": ForeignFile, "pictures/a.svg": ForeignFile} {
		c := sample(t)
		c.Add(name, []byte("x: y\n"))
		_, err := Write(c)
		if got := refused(t, err); got != want {
			t.Errorf("%s: %s, want %s", name, got, want)
		}
	}
	c := sample(t)
	if err := c.Sign(testKey(1), "two\nlines"); err == nil {
		t.Error("two lines were taken as the signer's words")
	}
}
