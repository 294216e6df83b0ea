package parcel

import (
	"bytes"
	"crypto/ed25519"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"testing"
)

const (
	recipeText = "canewright: recipe 1\ntitle: Two readings\nid: two-readings\nversion: 3\nstages:\n  - stage: look\n    do: [Look at it.]\n"
	casesText  = "canewright: cases 1\ncases:\n  - {case: one, stage: look}\n"
	originText = "canewright: recipe 1\ntitle: Where it came from\n"
)

// testKey is a key of tests: nobody's.
func testKey(n byte) ed25519.PrivateKey {
	return ed25519.NewKeyFromSeed(bytes.Repeat([]byte{n}, ed25519.SeedSize))
}

func dots() image.Image {
	m := image.NewRGBA(image.Rect(0, 0, 9, 5))
	for x := range 9 {
		m.Set(x, x%5, color.RGBA{uint8(30 * x), 90, 160, 255})
	}
	return m
}

func pngOf(t testing.TB) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := png.Encode(&b, dots()); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func jpegOf(t testing.TB) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, dots(), nil); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// sample has a file of every role.
func sample(t testing.TB) *Contents {
	c := &Contents{Heading: Heading{ID: "two-readings", Version: 3, Title: `Two "readings"`, Author: "Invented Player", Licence: "CC-BY-4.0",
		Instrument: "kortholt", Major: 1, Minor: 2, Set: sumOf([]byte("set")), InstrumentFrom: FromPack}}
	c.Add(RecipeName, []byte(recipeText))
	c.Add(CasesName, []byte(casesText))
	c.Add(OriginName(sumOf([]byte(originText))), []byte(originText))
	c.Add(InstrumentName, []byte("canewright: instrument 1\nid: kortholt\n"))
	c.Add(PictureName("profile.png"), pngOf(t))
	c.Add(PictureName("tip.jpg"), jpegOf(t))
	return c
}

func written(t testing.TB, c *Contents) []byte {
	t.Helper()
	data, err := Write(c)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// signedSample is a signed pack.
func signedSample(t testing.TB) []byte {
	c := sample(t)
	if err := c.Sign(testKey(1), "the bench by the window"); err != nil {
		t.Fatal(err)
	}
	return written(t, c)
}
