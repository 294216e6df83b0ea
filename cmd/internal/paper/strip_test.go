package paper_test

import (
	"bytes"
	"image"
	"image/color"
	_ "image/png"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"sync/atomic"
	"testing"

	"canewright/cmd/internal/paper"
	"canewright/engine/recipe"
)

// Every mark of every strip is drawn where it says, to 0.01 mm, from the datum.
func TestStripsAreToScale(t *testing.T) {
	every(t, func(t *testing.T, b *recipe.Bound, _ paper.Order, s *paper.Sheet) {
		n, bars := 0, 0
		for _, p := range s.Pages {
			for _, m := range p.Marks {
				n++
				if off := math.Abs(m.Datum - m.Y - m.At); off > 0.01 {
					t.Errorf("%s, %s: drawn %v mm off", m.Strip, m.Title, off)
				}
				if !drawn(p, m.Y) {
					t.Errorf("%s, %s: no line is at %v", m.Strip, m.Title, m.Y)
				}
			}
			bars += len(p.Bars)
			if len(p.Marks) > 0 && len(p.Bars) != 2 {
				t.Errorf("a page with a strip has %d bars to measure", len(p.Bars))
			}
			for _, x := range p.Bars {
				if x.Long != 100 {
					t.Errorf("a bar is %v mm long", x.Long)
				}
			}
		}
		if (n > 0) != (b.File.Instrument != "") || (n > 0) != (s.NoStrip == "") || (n > 0) != (s.Strips > 0) {
			t.Errorf("%d marks, %d pages of strips, and it says %q", n, s.Strips, s.NoStrip)
		}
	})
}

func drawn(p *paper.Page, y float64) bool {
	for _, l := range p.Lines {
		if math.Abs(l.Y1-y) < 1e-9 && math.Abs(l.Y2-y) < 1e-9 && math.Abs(l.X2-l.X1) > 2 {
			return true
		}
	}
	return false
}

// A bar that stands beside a strip is read as its scale, so where it has numbers
// its 0 is level with that of the strip on the left.
func TestABarWithNumbersIsLevelWithItsStrip(t *testing.T) {
	var numbered atomic.Int64 // of tests that run at once
	t.Cleanup(func() {
		if numbered.Load() == 0 {
			t.Error("no bar has numbers")
		}
	})
	every(t, func(t *testing.T, _ *recipe.Bound, _ paper.Order, s *paper.Sheet) {
		for _, p := range s.Pages {
			for _, bar := range p.Bars {
				if !bar.Stands {
					continue
				}
				has := false
				for _, x := range p.Texts {
					has = has || x.Text == "50" && math.Abs(x.X-bar.X) < 10 && x.Y > bar.Y
				}
				if !has {
					continue
				}
				numbered.Add(1)
				if off := math.Abs(bar.Y + bar.Long - p.Marks[0].Datum); off > 0.01 {
					t.Errorf("the 0 of the bar is %.2f mm from that of %s", off, p.Marks[0].Strip)
				}
			}
		}
	})
}

// The places by hand, from the recipes' text: what they aim at, counted from
// where they say.
func TestStripsStandAtTheTargets(t *testing.T) {
	t.Parallel()
	type mark struct {
		strip, title string
		at           float64
	}
	for name, want := range map[string][]mark{
		"bassoon/from-tube": {
			{"The piece, flat, from one end", "other end", 120}, {"The piece, flat, from one end", "fold", 60},
			{"The piece, flat, from one end", "first wire", 27}, {"The piece, flat, from one end", "second wire", 19},
			{"The piece, flat, from one end", "third wire, under the binding", 4.8}, {"The piece, flat, from one end", "", 120 - 27},
			{"The piece, flat, from one end", "tip", 56}, {"The piece, flat, from one end", "collar", 30},
			{"The piece, flat, from one end", "bevel length", 9.5},
			{"The reed, from the butt", "first wire", 27}, {"The reed, from the butt", "tip", 56}, {"The reed, from the butt", "bevel length", 9.5},
		},
		"oboe/short-scrape": { // three lengths at three stages
			{"The reed, from the bottom of the staple", "tied length", 74}, {"The reed, from the bottom of the staple", "overall length", 72.5},
			{"The reed, from the bottom of the staple", "tip", 72}, {"The reed, from the bottom of the staple", "end of the staple, inside", 46},
		},
		"english-horn/four-days": {{"The reed, from the bottom of the staple", "staple", 27}},
		"testdata/every-box.yaml": { // 1 1/16 in
			{"The piece, flat, from one end", "other end", 250}, {"The piece, flat, from one end", "fold", 125},
			{"The piece, flat, from one end", "first wire", 26.9875}, {"The reed, from the butt", "first wire", 26.9875},
		},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			s, err := paper.New(bundled()[name](t), order(t, paper.Sizes()[0], marks(3), nil))
			if err != nil {
				t.Fatal(err)
			}
			for _, w := range want {
				found := false
				for _, p := range s.Pages {
					for _, m := range p.Marks {
						found = found || m.Strip == w.strip && m.Title == w.title && math.Abs(m.At-w.at) < 0.01
					}
				}
				if !found {
					t.Errorf("%s: no mark %q at %v", w.strip, w.title, w.at)
				}
			}
		})
	}
}

// What is no target says so, and what has no number is named.
func TestWhatIsNotTheRecipesSaysSo(t *testing.T) {
	t.Parallel()
	for name, want := range map[string][]string{
		"bassoon/from-tube":             {"not this recipe's: usual collar above the first wire 3 mm", "no target for shape width at the butt, shape width at the first wire", "Usual, not this recipe's: turns of wire 2;"},
		"bassoon/from-shaped-cane":      {"not this recipe's: the middle of what is plausible"},
		"english-horn/four-days":        {"Not drawn: the wire (no number for wire.height, wire.thickness).", "The flat piece is not drawn: no number for length of the piece."},
		"testdata/every-box.yaml":       {"lay the sheets over each other, dashed line on dashed line of one letter"},
		"checklists/before-the-concert": {"There is no strip to scale: a checklist has no dimensions."},
		"oboe/short-scrape":             {"at “scrape the fold and open”", "at “clip to length”"},
		"oboe/long-scrape":              {"Measure this bar before you use the strip. If it is not 100 mm long, print again at 100 %, \"actual size\"."},
		"checklists/sharpen-the-gouger": {"There is no strip to scale"},
		"oboe/from-tube":                {"The flat piece is"},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			s, err := paper.New(bundled()[name](t), order(t, paper.Sizes()[0], marks(3), nil))
			if err != nil {
				t.Fatal(err)
			}
			all := solid(s.Pages)
			for _, w := range want {
				if !strings.Contains(all, bare(w)) {
					t.Errorf("%q is not said", w)
				}
			}
		})
	}
}

// A strip longer than its page goes on the next, with enough to lay over, and
// no stretch of it is on none.
func TestALongStripGoesOnTheNextPage(t *testing.T) {
	t.Parallel()
	for _, size := range paper.Sizes() {
		s, err := paper.New(bundled()["testdata/every-box.yaml"](t), order(t, size, marks(1), []string{"A"}))
		if err != nil {
			t.Fatal(err)
		}
		dashes := 0
		at := map[int]int{} // hundredths of a mm of the strip: pages of the join's place
		for _, p := range s.Pages {
			for _, l := range p.Lines {
				if l.Dashed && l.Y1 == l.Y2 && len(p.Marks) > 0 {
					dashes++
					at[int(math.Round((p.Marks[0].Datum-l.Y1)*100))]++
				}
			}
		}
		if dashes != 2 || len(at) != 1 {
			t.Errorf("%s: %d dashed lines, at %v hundredths of a mm; both sheets want one at the same place", size.Name, dashes, at)
		}
	}
}

// tool finds a program of a Debian package; without it the test is skipped and
// says so.
func tool(t *testing.T, name, from string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		t.Skipf("%s is not here, so what is printed is NOT measured; it comes with the package %s", name, from)
	}
	return path
}

func printed(t *testing.T, name string, size paper.Size) (file string, s *paper.Sheet) {
	t.Helper()
	s, err := paper.New(bundled()[name](t), order(t, size, marks(3), []string{"A"}))
	if err != nil {
		t.Fatal(err)
	}
	pdf, err := paper.PDF(s.Pages, s.Title, moment)
	if err != nil {
		t.Fatal(err)
	}
	file = filepath.Join(t.TempDir(), "sheet.pdf")
	if err := os.WriteFile(file, pdf, 0o600); err != nil {
		t.Fatal(err)
	}
	return file, s
}

// The bars as somebody else's program paints them: from outer tick to outer tick
// 100 mm, to 0.1 mm, both ways.
func TestTheBarsAreTrueOnPaper(t *testing.T) {
	t.Parallel()
	paint := tool(t, "pdftoppm", "poppler-utils")
	// ISO 216: 210 by 297 mm; letter is 8.5 by 11 in. In points of 1/72 in.
	box := map[string]string{"A4": "/MediaBox [0 0 595.28 841.89]", "letter": "/MediaBox [0 0 612.00 792.00]"}
	for _, size := range paper.Sizes() {
		t.Run(size.Name, func(t *testing.T) {
			t.Parallel()
			file, s := printed(t, "bassoon/from-shaped-cane", size)
			page := strconv.Itoa(len(s.Pages))
			if data, err := os.ReadFile(file); err != nil || !bytes.Contains(data, []byte(box[size.Name])) {
				t.Errorf("the file's pages are not %s: %v", box[size.Name], err)
			}
			bars := s.Pages[len(s.Pages)-1].Bars
			if len(bars) != 2 {
				t.Fatalf("there are %d bars to measure, want 2", len(bars))
			}
			for _, bar := range bars {
				// Where it stands is known to some mm; what is measured is the paint,
				// along a line across the ticks, 1 mm from their free ends.
				x, y, w, h := bar.X-4, bar.Y+1, 108.0, 1.0
				if bar.Stands {
					x, y, w, h = bar.X+4, bar.Y-4, 1.0, 108.0
				}
				img := painted(t, paint, file, page, x, y, w, h)
				var ticks []float64
				begun := -1
				long := max(img.Bounds().Dx(), img.Bounds().Dy())
				for k := range long {
					at := image.Pt(k, 0)
					if bar.Stands {
						at = image.Pt(0, k)
					}
					dark := color.GrayModel.Convert(img.At(at.X, at.Y)).(color.Gray).Y < 128
					if dark && begun < 0 {
						begun = k
					} else if !dark && begun >= 0 {
						ticks, begun = append(ticks, float64(begun+k-1)/2), -1
					}
				}
				if len(ticks) != 11 {
					t.Errorf("the bar has %d ticks, want 11", len(ticks))
					continue
				}
				for i, at := range ticks {
					if mm := (at - ticks[0]) / perMM; math.Abs(mm-float64(10*i)) > 0.1 {
						t.Errorf("tick %d lies at %.3f mm", i, mm)
					}
				}
				t.Logf("%s, standing %v: %.3f mm", size.Name, bar.Stands, (ticks[10]-ticks[0])/perMM)
			}
		})
	}
}

// dots to the inch that pages are painted with, and to the mm.
const (
	dpi   = 600
	perMM = dpi / 25.4
)

// painted is a stretch of a page, given in mm.
func painted(t *testing.T, paint, file, page string, x, y, w, h float64) image.Image {
	t.Helper()
	dots := func(mm float64) string { return strconv.Itoa(int(math.Round(mm * perMM))) }
	out := filepath.Join(t.TempDir(), "bar")
	said, err := exec.Command(paint, "-r", strconv.Itoa(dpi), "-gray", "-png", "-singlefile", "-f", page, "-l", page,
		"-x", dots(x), "-y", dots(y), "-W", dots(w), "-H", dots(h), file, out).CombinedOutput()
	if err != nil {
		t.Fatalf("%v: %s", err, said)
	}
	f, err := os.Open(out + ".png")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	img, _, err := image.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	return img
}

// Accents, Greek, signs and arrows come out as letters of the file's own fonts.
func TestLettersComeOutRight(t *testing.T) {
	t.Parallel()
	read := tool(t, "pdftotext", "poppler-utils")
	file, _ := printed(t, "testdata/every-box.yaml", paper.Sizes()[0])
	text, err := exec.Command(read, "-layout", file, "-").Output()
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"Every kind of box, für Γειά → é ü ±", "1.30 +0.03 -0.02 mm", "± 0.03", "page 1 of"} {
		if !strings.Contains(string(text), want) {
			t.Errorf("the file does not say %q", want)
		}
	}
}
