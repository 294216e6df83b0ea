package parcel

import (
	"bytes"
	"image"
	_ "image/jpeg"
	_ "image/png"
	"testing"
)

// What stands beside or behind a picture goes; the picture stays, point for
// point.
func TestPlainPictures(t *testing.T) {
	t.Parallel()
	png, jpg := pngOf(t), jpegOf(t)
	for _, c := range []struct {
		name       string
		data, want []byte
	}{
		{"a.png", png, png},
		{"a.png", pngWith(t, "tEXt", "Comment\x00home"), png},
		{"a.png", pngWith(t, "eXIf", "MM\x00*"), png},
		{"a.png", append(bytes.Clone(png), "more"...), png},
		{"a.jpg", jpg, jpg},
		{"a.jpg", jpegWith(t, 0xe1, "Exif\x00\x00where"), jpg},
		{"a.jpg", jpegWith(t, 0xe2, "MPF\x00"), jpg},
		{"a.jpg", jpegWith(t, 0xfe, "a comment"), jpg},
		{"a.jpg", append(bytes.Clone(jpg), jpg...), jpg},
	} {
		got, why := Plain(c.name, c.data)
		if why != "" || !bytes.Equal(got, c.want) {
			t.Errorf("%s of %d bytes: %d bytes, %q", c.name, len(c.data), len(got), why)
			continue
		}
		m, _, err := image.Decode(bytes.NewReader(got))
		if err != nil {
			t.Fatal(err)
		}
		before, _, err := image.Decode(bytes.NewReader(c.data))
		if err != nil {
			t.Fatal(err)
		}
		for x := range 9 {
			for y := range 5 {
				if m.At(x, y) != before.At(x, y) {
					t.Fatalf("%s: the point %d, %d changed", c.name, x, y)
				}
			}
		}
	}
}

// Whatever is called plain stays so.
func FuzzPlain(f *testing.F) {
	f.Add(pngOf(f), true)
	f.Add(jpegOf(f), false)
	f.Add(jpegWith(f, 0xe1, "Exif"), false)
	f.Fuzz(func(t *testing.T, data []byte, png bool) {
		name := "a.jpg"
		if png {
			name = "a.png"
		}
		plain, why := Plain(name, data)
		if why != "" {
			return
		}
		if again, why := Plain(name, plain); why != "" || !bytes.Equal(again, plain) {
			t.Fatalf("plain a second time: %q", why)
		}
	})
}
