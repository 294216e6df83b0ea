package picture

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func nm(millimetres float64) int64 { return int64(math.Round(millimetres * 1e6)) }

// reedSample is an invented reed with every look and every mark.
func reedSample() Reed {
	at := func(at, wide, deep float64) ReedPoint { return ReedPoint{nm(at), nm(wide), nm(deep)} }
	return Reed{
		Title: "Shawm: the reed, to scale", Under: []string{"invented, for tests"}, From: "the butt",
		Parts: []ReedPart{
			{Title: "staple", Look: "staple", Points: []ReedPoint{at(0, 5, 5), at(30, 3, 2.5)}},
			{Title: "cork", Look: "cork", Points: []ReedPoint{at(0, 7, 7), at(12, 7, 7)}},
			{Title: "tube", Look: "bark", Smooth: true, Points: []ReedPoint{at(20, 5, 5), at(26, 5.4, 5.2), at(32, 8, 5)}},
			{Title: "blade", Look: "blade", Points: []ReedPoint{at(32, 8, 4), at(54.321, 12.6, 1.2)}},
			{Title: "thread", Look: "thread", Smooth: true, Points: []ReedPoint{at(18, 5, 5), at(21, 7, 7), at(25, 6, 6)}},
			{Title: "sleeve", Look: "leather", Points: []ReedPoint{at(2, 8, 8), at(3.5, 8, 8)}},
		},
		Marks: []ReedMark{
			{Text: "wire, 28 mm", As: "wire", At: nm(28), Middle: nm(28), Thick: nm(0.6), Turns: 2},
			{Text: "hidden wire, 22 mm", As: "wire", At: nm(22), Middle: nm(22), Thick: nm(0.6), Turns: 1, Covered: true},
			{Text: "10 mm, band", As: "band", At: nm(10), Middle: nm(10), Thick: nm(1.5)},
			{Text: "collar, 32 mm", As: "line", At: nm(32), Middle: nm(32)},
			{Text: "tip begins, 50 mm; in the middle 52 mm", As: "line", At: nm(50), Middle: nm(52)},
			{Text: "tip, 54.32 mm", As: "cut", At: nm(54.321), Middle: nm(54.321)},
		},
		Tip:    &ReedTip{Text: "tip from its end, open 1 mm", Width: nm(12.6), Opening: nm(1), Thickness: nm(0.1)},
		Tables: []ReedTable{{"From sources", []string{"wire 28 mm (Nobody, Invented book, 1901)", "overall 54.321 mm (the same)"}}, {"Assumed", []string{"all else"}}},
		Notes:  []string{"Not drawn: the bell."},
	}
}

// bounds of a shape.
func (s *shape) bounds() rect {
	low, high := point{math.Inf(1), math.Inf(1)}, point{math.Inf(-1), math.Inf(-1)}
	for _, p := range s.points {
		low, high = point{min(low.x, p.x), min(low.y, p.y)}, point{max(high.x, p.x), max(high.y, p.y)}
	}
	return rect{low.x, low.y, high.x - low.x, high.y - low.y}
}

// faults are all that is wrong with where things lie.
func (r *Reed) faults(d *drawing) []string {
	var out []string
	say := func(format string, a ...any) { out = append(out, fmt.Sprintf(format, a...)) }
	page := rect{margin / 2, margin / 2, d.width - margin, d.height - margin}
	for i, t := range d.labels {
		if !t.at.holds(t.ink()) {
			say("%q leaves its place: %+v in %+v", t.text, t.ink(), t.at)
		}
		if !page.holds(t.at) {
			say("%q leaves the page: %+v", t.text, t.at)
		}
		for _, o := range d.labels[i+1:] {
			if t.ink().meets(o.ink()) {
				say("%q lies over %q", t.text, o.text)
			}
		}
		for k := range d.shapes {
			if s := &d.shapes[k]; s.closed && s.fill == white && s.bounds().meets(t.ink()) {
				say("%q lies over the %s", t.text, s.name)
			}
		}
		if drawn := written(t.text) * t.size; drawn > t.ink().w+1e-9 {
			say("%q is %v long as it is drawn, %v were kept", t.text, drawn, t.ink().w)
		}
	}
	for i := range d.shapes {
		if b := d.shapes[i].bounds(); !page.holds(b) {
			say("%q leaves the page: %+v", d.shapes[i].name, b)
		}
	}
	for i := 1; i < len(d.ticks); i++ {
		if step := d.ticks[0] - d.ticks[1]; math.Abs(d.ticks[i-1]-d.ticks[i]-step) > 0.01 {
			say("the ruler is uneven at %d", i)
		}
	}
	if math.Abs(d.barLength-d.barWorth*d.scale) > 0.01 {
		say("the scale bar of %v mm is %v long", d.barWorth, d.barLength)
	}
	return out
}

func TestTheReedLiesWell(t *testing.T) {
	t.Parallel()
	r := reedSample()
	d, err := r.lay()
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range r.faults(d) {
		t.Error(f)
	}
	if d.scale != 3 || d.width != 210 || d.height != 297 {
		t.Errorf("%v : 1 on %v × %v", d.scale, d.width, d.height)
	}
}

var coordinates = regexp.MustCompile(`[ML]([0-9.-]+) ([0-9.-]+)`)

// named shapes of an SVG file, as it says them.
func namedShapes(t *testing.T, svg []byte) map[string][]point {
	t.Helper()
	var file struct {
		Paths []struct {
			D     string `xml:"d,attr"`
			Title string `xml:"title"`
		} `xml:"path"`
	}
	if err := xml.Unmarshal(svg, &file); err != nil {
		t.Fatal(err)
	}
	out := map[string][]point{}
	for _, p := range file.Paths {
		for _, m := range coordinates.FindAllStringSubmatch(p.D, -1) {
			x, errX := strconv.ParseFloat(m[1], 64)
			y, errY := strconv.ParseFloat(m[2], 64)
			if errX != nil || errY != nil {
				t.Fatalf("%q holds no numbers", m[0])
			}
			out[p.Title] = append(out[p.Title], point{x, y})
		}
	}
	return out
}

// What the file says, measured as on paper, is 3 : 1 to within 0.01 mm.
func TestTheReedIsToScale(t *testing.T) {
	t.Parallel()
	r := reedSample()
	svg, err := r.SVG()
	if err != nil {
		t.Fatal(err)
	}
	shapes := namedShapes(t, svg)
	butt := (&shape{points: shapes["flat: staple"]}).bounds().bottom() // the datum
	const scale, near = 3.0, 0.01
	for _, c := range []struct {
		name             string
		low, high, width float64 // mm of reed
	}{
		{"flat: staple", 0, 30, 5},
		{"flat: cork", 0, 12, 7},
		{"flat: tube", 20, 32, 8},
		{"flat: blade", 32, 54.321, 12.6},
		{"flat: thread", 18, 25, 7},
		{"flat: sleeve", 2, 3.5, 8},
		{"side: tube", 20, 32, 5.2},
		{"side: blade", 32, 54.321, 4},
		{"flat: collar, 32 mm", 32, 32, 8},
		{"side: collar, 32 mm", 32, 32, 4},
		{"flat: tip begins, 50 mm; in the middle 52 mm", 50, 52, 8 + 4.6*18/22.321},
		{"flat: wire, 28 mm", 27.4, 28.6, 0},
		{"flat: hidden wire, 22 mm", 21.7, 22.3, 0},
		{"flat: 10 mm, band", 9.25, 10.75, 7},
		{"tip from its end", -1, -1, 12.6},
	} {
		b := (&shape{points: shapes[c.name]}).bounds()
		low, high := (butt-b.bottom())/scale, (butt-b.y)/scale
		if c.name == "tip from its end" {
			if math.Abs(b.h-1.2*scale) > near { // the opening and both blades
				t.Errorf("%s is %v high", c.name, b.h)
			}
		} else if math.Abs(low-c.low)*scale > near || math.Abs(high-c.high)*scale > near {
			t.Errorf("%s reaches from %v to %v mm, want %v to %v", c.name, low, high, c.low, c.high)
		}
		if c.width > 0 && math.Abs(b.w-c.width*scale) > near {
			t.Errorf("%s is %v mm wide, want %v", c.name, b.w/scale, c.width)
		}
	}
	// A wire lies outside the reed, on both sides of what it holds.
	half, ok := r.Parts[2].profile(false).half(28)
	if b := (&shape{points: shapes["flat: wire, 28 mm"]}).bounds(); !ok || math.Abs(b.w-(2*half+1.2)*scale) > near {
		t.Errorf("the wire is %v mm wide over a tube of %v", b.w/scale, 2*half)
	}
}

func TestABentPartKeepsItsPointsAndNeverRunsPast(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(rt *rapid.T) {
		var k profile
		at := 0.0
		for range rapid.IntRange(3, 12).Draw(rt, "points") {
			k = append(k, place{at, rapid.Float64Range(0, 20).Draw(rt, "half")})
			at += rapid.Float64Range(0.01, 30).Draw(rt, "gap")
		}
		b := bent(k)
		for i, p := range k {
			if got, ok := b.half(p.at); !ok || math.Abs(got-p.half) > 1e-9 {
				rt.Fatalf("at %v it is %v, want %v", p.at, got, p.half)
			}
			if i == 0 {
				continue
			}
			low, high := min(p.half, k[i-1].half), max(p.half, k[i-1].half)
			for _, x := range b {
				if x.at >= k[i-1].at && x.at <= p.at && (x.half < low-1e-9 || x.half > high+1e-9) {
					rt.Fatalf("at %v it is %v, beyond %v to %v", x.at, x.half, low, high)
				}
			}
		}
	})
}

// Any reed that an outline may have lies well.
func TestAnyReedLiesWell(t *testing.T) {
	t.Parallel()
	word := rapid.StringOfN(rapid.RuneFrom([]rune("aWm mi.1−&<竹é\u202e\n")), 0, 60, -1)
	rapid.Check(t, func(rt *rapid.T) {
		size := rapid.SampledFrom([]float64{0.1, 1, 5}).Draw(rt, "size")
		length := func(name string, low, high float64) int64 {
			return nm(size * rapid.Float64Range(low, high).Draw(rt, name))
		}
		r := Reed{Title: word.Draw(rt, "title"), Under: rapid.SliceOfN(word, 0, 3).Draw(rt, "under"), From: word.Draw(rt, "from"), Notes: rapid.SliceOfN(word, 0, 3).Draw(rt, "notes")}
		deep := rapid.Bool().Draw(rt, "deep")
		for range rapid.IntRange(1, 6).Draw(rt, "parts") {
			p := ReedPart{Title: word.Draw(rt, "part"), Look: rapid.SampledFrom([]string{"bark", "blade", "thread", "staple", "cork", "hide"}).Draw(rt, "look"), Smooth: rapid.Bool().Draw(rt, "smooth")}
			at := length("from", -10, 60)
			for i := range rapid.IntRange(2, 6).Draw(rt, "points") {
				if i > 0 {
					at += length("long", 0.5, 20)
				}
				x := ReedPoint{at, length("wide", 0, 25), -1}
				if deep {
					x.Deep = length("deep", 0, 25)
				}
				p.Points = append(p.Points, x)
			}
			r.Parts = append(r.Parts, p)
		}
		for range rapid.IntRange(0, 8).Draw(rt, "marks") {
			m := ReedMark{Text: word.Draw(rt, "mark"), As: rapid.SampledFrom([]string{"line", "wire", "band", "cut", "ring"}).Draw(rt, "as"),
				At: length("mark at", -5, 80), Thick: length("thick", 0, 1), Turns: rapid.IntRange(0, 5).Draw(rt, "turns"), Covered: rapid.Bool().Draw(rt, "covered")}
			m.Middle = m.At + length("bend", -3, 3)
			r.Marks = append(r.Marks, m)
		}
		if rapid.Bool().Draw(rt, "tip") {
			r.Tip = &ReedTip{word.Draw(rt, "end"), length("tip width", 1, 25), length("opening", 0, 4), length("thickness", 0, 0.5)}
		}
		d, err := r.lay()
		if err != nil {
			rt.Fatal(err)
		}
		if f := r.faults(d); len(f) > 0 {
			rt.Fatalf("%d faults, first: %s", len(f), f[0])
		}
		svg, err := r.SVG()
		if err != nil {
			rt.Fatal(err)
		}
		if again, _ := r.SVG(); !bytes.Equal(svg, again) {
			rt.Fatal("the same reed gives other bytes")
		}
		wellFormed(rt, svg)
	})
}

func TestHostileWordsOfAReedStayText(t *testing.T) {
	t.Parallel()
	r := reedSample()
	r.Title = "</text><script>x()</script>\x1b[2J\u202e"
	r.Parts[0].Title = `"/><image href="x"/>`
	r.Marks[0].Text = "</title></path><script>"
	svg, err := r.SVG()
	if err != nil {
		t.Fatal(err)
	}
	for _, never := range []string{"<script", "<image", "\x1b", "\u202e"} {
		if bytes.Contains(svg, []byte(never)) {
			t.Errorf("the file holds %q", never)
		}
	}
	wellFormed(t, svg)
}

func TestWhatIsNoReedIsRefused(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		say   string
		spoil func(*Reed)
		want  string
	}{
		{"nothing", func(r *Reed) { r.Parts = nil }, "0 parts"},
		{"too many marks", func(r *Reed) { r.Marks = make([]ReedMark, 201) }, "201 marks"},
		{"no length", func(r *Reed) { r.Parts[1].Points = r.Parts[1].Points[:1] }, `"cork" has no length`},
		{"back again", func(r *Reed) { r.Parts[2].Points[1].At = nm(33) }, `"tube"`},
		{"less than nothing", func(r *Reed) { r.Parts[2].Points[1].Width = -1 }, `"tube"`},
		{"a mile", func(r *Reed) { r.Parts[2].Points[2].At = 1 << 60 }, `"tube"`},
		{"a rope", func(r *Reed) { r.Marks[0].Turns = 1 << 40 }, `"wire, 28 mm"`},
		{"a closed tip", func(r *Reed) { r.Tip.Width = 0 }, "the tip"},
	} {
		t.Run(c.say, func(t *testing.T) {
			t.Parallel()
			r := reedSample()
			c.spoil(&r)
			for _, draw := range []func() ([]byte, error){r.SVG, r.PNG} {
				if _, err := draw(); err == nil || !strings.HasPrefix(err.Error(), "draw a reed: ") || !strings.Contains(err.Error(), c.want) {
					t.Errorf("got %v, want %q", err, c.want)
				}
			}
		})
	}
}

// UPDATE=1 writes the golden file anew; look at it before it is kept.
func TestReedSVG(t *testing.T) {
	t.Parallel()
	got, err := reedSample().SVG()
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join("..", "..", "testdata", "golden", "outline", "every-look.svg")
	if update, _ := strconv.ParseBool(os.Getenv("UPDATE")); update {
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, got, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Errorf("%s differs; UPDATE=1 writes it anew", path)
	}
}
