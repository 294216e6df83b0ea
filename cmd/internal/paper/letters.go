package paper

import (
	"strings"
	"sync"

	"codeberg.org/go-fonts/liberation/liberationsansbold"
	"codeberg.org/go-fonts/liberation/liberationsansregular"
	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// perPoint is mm: a point is 1/72 in.
const perPoint = 25.4 / 72

// letters are one size of one weight.
type letters struct {
	points float64
	bold   bool
}

// The sizes in use. Glasses are off: nothing is below 10 points, targets are
// the largest thing beside the headings.
var (
	footing  = letters{10, false}
	body     = letters{11, false}
	strong   = letters{11, true}
	doing    = letters{12, false}
	number   = letters{14, true}
	heading  = letters{17, true}
	headline = letters{22, true}
)

// height of a line, mm.
func (a letters) height() float64 { return a.points * perPoint * 1.2 }

// up and down are how far letters reach from their line, mm: accents and tails
// of the font, with nothing left over.
func (a letters) up() float64   { return a.points * perPoint * 0.74 }
func (a letters) down() float64 { return a.points * perPoint * 0.22 }

// face is a font with what was asked of it before. Its widths are kept in
// thousandths of the size, as a PDF file states them.
type face struct {
	mu    sync.Mutex
	font  *sfnt.Font
	buf   sfnt.Buffer
	wide  map[rune]int // -1: not in the font
	bytes []byte
}

var faces = [2]func() *face{
	sync.OnceValue(func() *face { return open(liberationsansregular.TTF) }),
	sync.OnceValue(func() *face { return open(liberationsansbold.TTF) }),
}

func faceOf(bold bool) *face {
	if bold {
		return faces[1]()
	}
	return faces[0]()
}

func open(data []byte) *face {
	f, err := sfnt.Parse(data)
	if err != nil {
		panic("the font built into the program: " + err.Error())
	}
	return &face{font: f, wide: map[rune]int{}, bytes: data}
}

// advance is how wide a letter is, in thousandths; -1 where the font lacks it.
func (f *face) advance(r rune) int {
	f.mu.Lock()
	defer f.mu.Unlock()
	if w, known := f.wide[r]; known {
		return w
	}
	w := -1
	if g, err := f.font.GlyphIndex(&f.buf, r); err == nil && g != 0 && r <= 0xFFFF {
		em := f.font.UnitsPerEm()
		if a, err := f.font.GlyphAdvance(&f.buf, g, fixed.I(int(em)), font.HintingNone); err == nil {
			w = (a.Round()*1000 + int(em)/2) / int(em)
		}
	}
	f.wide[r] = w
	return w
}

// width of a line, mm.
func (a letters) width(s string) float64 {
	f, sum := faceOf(a.bold), 0
	for _, r := range s {
		sum += max(0, f.advance(r))
	}
	return float64(sum) / 1000 * a.points * perPoint
}

// instead stands where the font has no letter.
const instead = '□'

// printable puts a box where the fonts have no letter, and says which they were.
func printable(s string) (out string, lacking []rune) {
	f, g := faceOf(false), faceOf(true)
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\n' || r == '\t':
			return ' '
		case f.advance(r) < 0 || g.advance(r) < 0:
			if r != '\ufffd' { // it stands for what is no text
				lacking = append(lacking, r)
			}
			return instead
		}
		return r
	}, s), lacking
}

// wrap breaks text at blanks to lines no wider than wide, and a word that is
// wider inside it.
func (a letters) wrap(s string, wide float64) []string {
	var out []string
	line := ""
	for _, w := range strings.Fields(s) {
		if line != "" && a.width(line+" "+w) <= wide {
			line += " " + w
			continue
		}
		if line != "" {
			out = append(out, line)
		}
		for a.width(w) > wide {
			n := a.fits(w, wide)
			out = append(out, w[:n])
			w = w[n:]
		}
		line = w
	}
	if line != "" {
		out = append(out, line)
	}
	return out
}

// fits is how many bytes of a word go into wide: at least one letter.
func (a letters) fits(w string, wide float64) int {
	last := 0
	for i, r := range w {
		end := i + len(string(r))
		if last > 0 && a.width(w[:end]) > wide {
			break
		}
		last = end
	}
	return last
}

// clip shortens text to wide, with three dots where something is missing.
func (a letters) clip(s string, wide float64) string {
	if a.width(s) <= wide {
		return s
	}
	return strings.TrimRight(s[:a.fits(s, wide-a.width("…"))], " ") + "…"
}

// Ink is where the letters of a text are, mm, by their outlines: for tests.
func Ink(t Text) (x1, y1, x2, y2 float64) {
	f, at, first := faceOf(t.Bold), 0, true
	size := t.Points * perPoint
	for _, r := range t.Text {
		l, u, rt, d, ok := f.bounds(r)
		if ok {
			left, right := t.X+(float64(at)/1000+l)*size, t.X+(float64(at)/1000+rt)*size
			up, down := t.Y+u*size, t.Y+d*size
			if first {
				x1, y1, x2, y2, first = left, up, right, down, false
			}
			x1, y1, x2, y2 = min(x1, left), min(y1, up), max(x2, right), max(y2, down)
		}
		at += max(0, f.advance(r))
	}
	if first {
		return t.X, t.Y, t.X, t.Y
	}
	return x1, y1, x2, y2
}

// bounds of a letter's outline whose size is 1; ok is false of a blank.
func (f *face) bounds(r rune) (left, up, right, down float64, ok bool) {
	f.mu.Lock()
	defer f.mu.Unlock()
	g, err := f.font.GlyphIndex(&f.buf, r)
	if err != nil {
		return 0, 0, 0, 0, false
	}
	em := f.font.UnitsPerEm()
	b, _, err := f.font.GlyphBounds(&f.buf, g, fixed.I(int(em)), font.HintingNone)
	if err != nil || b.Empty() {
		return 0, 0, 0, 0, false
	}
	of := func(x fixed.Int26_6) float64 { return float64(x) / 64 / float64(em) }
	return of(b.Min.X), of(b.Min.Y), of(b.Max.X), of(b.Max.Y), true
}
