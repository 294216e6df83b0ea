package picture

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"math"
	"testing"
)

func TestAFilledAreaIsAsLargeAsItIs(t *testing.T) {
	t.Parallel()
	square := []point{{2, 2}, {12, 2}, {12, 12}, {2, 12}}
	for _, c := range []struct {
		say      string
		contours [][]point
		want     float64 // mm²
	}{
		{"a square", [][]point{square}, 100},
		{"the other way round", [][]point{{square[3], square[2], square[1], square[0]}}, 100},
		{"a triangle", [][]point{{{1, 1}, {14, 3}, {5, 11}}}, 61}, // half the cross product of (13, 2) and (4, 10): (130 − 8) / 2
		{"twice the same counts once", [][]point{square, square}, 100},
		{"two that overlap", [][]point{square, {{7, 7}, {15, 7}, {15, 14}, {7, 14}}}, 100 + 56 - 25},
		{"half beyond the page", [][]point{{{-5, 2}, {5, 2}, {5, 12}, {-5, 12}}}, 50},
		{"a dozen corners", [][]point{around(point{8, 8}, 4, 12)}, 48}, // 12/2 · 4² · sin 30°
	} {
		t.Run(c.say, func(t *testing.T) {
			t.Parallel()
			canvas := newCanvas(16, 16)
			canvas.fill(c.contours, color.Gray{})
			got := 0.0
			for _, p := range canvas.page.Pix {
				got += float64(0xff-p) / 0xff
			}
			if got /= dots * dots; math.Abs(got-c.want) > 0.15 {
				t.Errorf("%v mm², want %v", got, c.want)
			}
		})
	}
}

func TestADashedLineIsHalfThere(t *testing.T) {
	t.Parallel()
	on := 0.0
	for _, piece := range dashed([]point{{0, 0}, {4, 0}, {4, 5}}) {
		for i := 1; i < len(piece); i++ {
			on += math.Hypot(piece[i].x-piece[i-1].x, piece[i].y-piece[i-1].y)
		}
	}
	if math.Abs(on-4.5) > 1e-9 { // of 9 mm, in dashes and gaps of 0.9
		t.Errorf("%v mm of 9", on)
	}
}

// The PNG file shows what the SVG file does: the edges of the blade lie where
// they are to scale.
func TestPNGIsToScale(t *testing.T) {
	t.Parallel()
	r := reedSample()
	file, err := r.PNG()
	if err != nil {
		t.Fatal(err)
	}
	if again, _ := r.PNG(); !bytes.Equal(file, again) {
		t.Error("the same reed gives other bytes")
	}
	page, err := png.Decode(bytes.NewReader(file))
	if err != nil {
		t.Fatal(err)
	}
	if got := page.Bounds().Size(); got != (image.Point{1654, 2339}) { // A4 at 200 dots to the inch
		t.Fatalf("it is %v dots", got)
	}
	d, err := r.lay()
	if err != nil {
		t.Fatal(err)
	}
	var blade shape
	for _, s := range d.shapes {
		if s.name == "flat: blade" {
			blade = s
		}
	}
	b := blade.bounds()
	const along = 40.0 // mm of reed: plain blade, no mark
	half := (8 + 4.6*(along-32)/22.321) / 2 * 3
	row := int((b.bottom() - (along-32)*3) * dots)
	middle := b.x + b.w/2
	for _, side := range []float64{-1, 1} {
		sum, weight := 0.0, 0.0
		for x := int((middle + side*half - 1) * dots); x <= int((middle+side*half+1)*dots); x++ {
			dark := 1 - float64(page.(*image.Gray).GrayAt(x, row).Y)/0xff
			sum, weight = sum+dark*(float64(x)+0.5), weight+dark
		}
		if weight == 0 {
			t.Fatalf("there is no edge near %v mm", middle+side*half)
		}
		// The mark of part and mark leaders do not come here; half a dot is 0.06 mm.
		if got := sum / weight / dots; math.Abs(got-(middle+side*half)) > 0.07 {
			t.Errorf("the edge is at %v mm, want %v", got, middle+side*half)
		}
	}
}

func TestLetters(t *testing.T) {
	t.Parallel()
	seen := map[string]rune{}
	for r := '!'; r <= '~'; r++ {
		text, ok := strokesOf(r)
		if !ok {
			t.Errorf("nobody drew %q", r)
			continue
		}
		if other, twice := seen[text]; twice && r != '-' {
			t.Errorf("%q is drawn as %q", r, other)
		}
		seen[text] = r
		lines, wide := letter(r)
		for _, l := range lines {
			for _, p := range l {
				if p.x < 0 || p.x > 10 || p.y < -gridBase || p.y > 13 {
					t.Errorf("%q leaves the grid at %v", r, p)
				}
			}
		}
		if got := (wide + letterGap) * gridUnit; got > advance(r) {
			t.Errorf("%q takes %v sizes, %v are kept for it", r, got, advance(r))
		}
	}
	for _, r := range "áñçÅïý±°−–—×·…½µ" {
		lines, wide := letter(r)
		if len(lines) == 0 || (wide+letterGap)*gridUnit > advance(r) {
			t.Errorf("%q takes %v sizes, %v are kept for it", r, (wide+letterGap)*gridUnit, advance(r))
		}
	}
	if box, _ := letter('竹'); len(box) != 1 {
		t.Error("a letter nobody drew is no box")
	}
}
