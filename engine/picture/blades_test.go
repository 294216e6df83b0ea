package picture

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// sample is an invented blade with every mark.
func sample() Blades {
	b := Blades{
		Title: "Blade thickness, piece 1", Under: []string{"batch november, first scrape, visit 1, wet; read with a dial indicator", "12 November 2025"},
		From: "collar", Unit: "mm", More: "thick", Less: "thin", Names: []string{"A", "B"}, Lanes: []string{"spine", "channels", "rails"},
		Stations: []Station{{3e6, "3 mm"}, {9e6, "9 mm"}, {15e6, "15 mm"}, {21e6, "21 mm"}},
		Notes:    []string{"Blade A: rails at 9 mm too thick by 0.05, 0.08 over the target.", "Keep the knife off here, at or under the lower limit: blade B, rails at 21 mm."},
	}
	b.Cells = make([]Cell, 24)
	for i := range b.Cells {
		switch {
		case i%3 == 1: // no channels
		case i%8 == 0:
			b.Cells[i] = Cell{Over, "+0.05", "0.51"}
		case i%8 == 2:
			b.Cells[i] = Cell{MaybeOver, "+0.04", "0.50"}
		case i%8 == 3:
			b.Cells[i] = Cell{KnifeOff, "−0.05", "0.12"}
		case i%8 == 5:
			b.Cells[i] = Cell{Inside, "+0.02", "0.72"}
		case i%8 == 6:
			b.Cells[i] = Cell{Mark: Unread}
		default:
			b.Cells[i] = Cell{Mark: Blank}
		}
	}
	return b
}

func (r rect) meets(o rect) bool {
	const touch = 1e-6
	return r.x < o.right()-touch && o.x < r.right()-touch && r.y < o.bottom()-touch && o.y < r.bottom()-touch
}

func (r rect) holds(o rect) bool {
	const touch = 1e-6
	return o.x >= r.x-touch && o.y >= r.y-touch && o.right() <= r.right()+touch && o.bottom() <= r.bottom()+touch
}

// faults are all that is wrong with where things lie.
func (b Blades) faults(l *layout) []string {
	var out []string
	say := func(format string, a ...any) { out = append(out, fmt.Sprintf(format, a...)) }
	page := rect{margin / 2, margin / 2, l.width - margin, l.height - margin}
	for i, t := range l.labels {
		if !t.at.holds(t.ink()) {
			say("%q leaves its place: %+v in %+v", t.text, t.ink(), t.at)
		}
		if !page.holds(t.at) {
			say("%q leaves the page", t.text)
		}
		for _, o := range l.labels[i+1:] {
			if t.ink().meets(o.ink()) {
				say("%q lies over %q", t.text, o.text)
			}
		}
		for _, x := range l.boxes {
			if x.at.meets(t.ink()) && !x.at.holds(t.ink()) {
				say("%q lies across a box at %+v", t.text, x.at)
			}
		}
	}
	for i, x := range l.boxes {
		if !page.holds(x.at) {
			say("box %+v leaves the page", x)
		}
		for _, o := range l.boxes[i+1:] {
			if x.at.meets(o.at) {
				say("box %+v lies over %+v", x, o)
			}
		}
		if x.blade >= 0 && !l.frames[x.blade].holds(x.at) {
			say("box %+v leaves its blade %+v", x, l.frames[x.blade])
		}
	}
	for i := range l.ticks[1:] {
		want := mm(b.Stations[i+1].At-b.Stations[i].At) * l.scale
		if b.From != "tip" {
			want = -want // the tip is on top
		}
		if got := l.ticks[i+1] - l.ticks[i]; math.Abs(got-want) > 0.01 {
			say("from %s to %s are %.4f mm on paper, to scale %.4f", b.Stations[i].Text, b.Stations[i+1].Text, got, want)
		}
	}
	if math.Abs(l.barLength-l.barWorth*l.scale) > 0.01 {
		say("the scale bar of %v mm is %v long", l.barWorth, l.barLength)
	}
	return out
}

func TestSampleLiesWell(t *testing.T) {
	t.Parallel()
	b := sample()
	l, err := b.lay()
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range b.faults(l) {
		t.Error(f)
	}
	if l.scale != 5 || l.width != 210 || l.height > 297 {
		t.Errorf("%v : 1 on %v × %v", l.scale, l.width, l.height)
	}
	// With room enough every box is where its station is.
	for _, x := range l.boxes {
		if x.blade >= 0 && math.Abs(x.at.y+x.at.h/2-l.ticks[x.station]) > 0.01 {
			t.Errorf("box %+v is not at its station, %v", x, l.ticks[x.station])
		}
	}
	// Lanes are in the set's order, equally far apart.
	for blade := range 2 {
		for lane := range 3 {
			for _, x := range l.boxes {
				if x.blade == blade && x.lane == lane {
					f := l.frames[blade]
					if want := f.x + f.w*(float64(lane)+0.5)/3; math.Abs(x.at.x+x.at.w/2-want) > 0.01 {
						t.Errorf("lane %d of blade %d is at %v, want %v", lane, blade, x.at.x+x.at.w/2, want)
					}
				}
			}
		}
	}
}

// Any grid a recipe may have lies well: near stations, many lanes, long words of
// any script.
func TestAnyBladesLieWell(t *testing.T) {
	t.Parallel()
	word := rapid.StringOfN(rapid.RuneFrom([]rune("aWm mi.1−&<竹é\u202e\n")), 0, 60, -1)
	rapid.Check(t, func(rt *rapid.T) {
		b := Blades{Title: word.Draw(rt, "title"), Under: rapid.SliceOfN(word, 0, 3).Draw(rt, "under"), Notes: rapid.SliceOfN(word, 0, 4).Draw(rt, "notes"),
			From: rapid.SampledFrom([]string{"collar", "tip", "thread"}).Draw(rt, "from"), Unit: "mm", More: "thick", Less: "thin",
			Names: rapid.SliceOfN(word, 1, 4).Draw(rt, "blades"), Lanes: rapid.SliceOfN(word, 1, 6).Draw(rt, "lanes")}
		at := rapid.Int64Range(0, 40e6).Draw(rt, "first")
		for range rapid.IntRange(1, 40).Draw(rt, "stations") {
			b.Stations = append(b.Stations, Station{at, word.Draw(rt, "station")})
			at += rapid.SampledFrom([]int64{1, 1000, 100e3, 500e3, 1e6, 3e6, 6e6}).Draw(rt, "gap")
		}
		for range len(b.Names) * len(b.Lanes) * len(b.Stations) {
			b.Cells = append(b.Cells, Cell{Mark(rapid.IntRange(0, int(NoTarget)).Draw(rt, "mark")), rapid.SampledFrom([]string{"", "+0.05", "−0.0512", "+1 1/64"}).Draw(rt, "main"), word.Draw(rt, "small")})
		}
		l, err := b.lay()
		if err != nil {
			rt.Fatal(err)
		}
		if f := b.faults(l); len(f) > 0 {
			rt.Fatalf("%d faults, first: %s", len(f), f[0])
		}
		svg, err := b.SVG()
		if err != nil {
			rt.Fatal(err)
		}
		if again, _ := b.SVG(); !bytes.Equal(svg, again) {
			rt.Fatal("the same blades give other bytes")
		}
		wellFormed(rt, svg)
	})
}

// wellFormed reads the file as XML and holds every number of it inside the page.
func wellFormed(t interface{ Fatalf(string, ...any) }, svg []byte) {
	d := xml.NewDecoder(bytes.NewReader(svg))
	w, h := 0.0, 0.0
	for {
		tok, err := d.Token()
		if err == io.EOF {
			return
		}
		if err != nil {
			t.Fatalf("read the file: %v", err)
		}
		e, ok := tok.(xml.StartElement)
		if !ok {
			continue
		}
		for _, a := range e.Attr {
			v, err := strconv.ParseFloat(a.Value, 64)
			switch {
			case a.Name.Local == "viewBox":
				if _, err := fmt.Sscanf(a.Value, "0 0 %f %f", &w, &h); err != nil {
					t.Fatalf("viewBox %q: %v", a.Value, err)
				}
			case strings.Contains(a.Value, "://") && a.Name.Local != "xmlns", a.Name.Local == "href":
				t.Fatalf("%s points outside: %s", e.Name.Local, a.Value)
			case strings.Contains(a.Value, "NaN") || strings.Contains(a.Value, "Inf"):
				t.Fatalf("%s of %s is %s", a.Name.Local, e.Name.Local, a.Value)
			case err == nil && (a.Name.Local == "x" || a.Name.Local == "x1" || a.Name.Local == "x2") && (v < 0 || v > w),
				err == nil && (a.Name.Local == "y" || a.Name.Local == "y1" || a.Name.Local == "y2") && (v < 0 || v > h):
				t.Fatalf("%s of %s is %s, outside the page of %v × %v", a.Name.Local, e.Name.Local, a.Value, w, h)
			}
		}
	}
}

func TestSpreadMovesNoMoreThanItMust(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ places, want []float64 }{
		{[]float64{0, 10, 20}, []float64{0, 10, 20}},
		{[]float64{0, 4}, []float64{-1, 5}},
		{[]float64{0, 1, 100}, []float64{-2.5, 3.5, 100}},
		{[]float64{0, 6, 6}, []float64{-2, 4, 10}},
		{[]float64{7}, []float64{7}},
	} {
		got := spread(c.places, 6)
		for i := range got {
			if math.Abs(got[i]-c.want[i]) > 1e-9 {
				t.Errorf("%v spread to %v, want %v", c.places, got, c.want)
				break
			}
		}
	}
}

func TestHostileTextsStayText(t *testing.T) {
	t.Parallel()
	b := sample()
	b.Title = "</text><script>x()</script>\x1b[2J\u202e"
	b.Cells[0].Small = `"/><image href="x"/>`
	svg, err := b.SVG()
	if err != nil {
		t.Fatal(err)
	}
	for _, never := range []string{"<script", "<image", "\x1b", "\u202e"} {
		if bytes.Contains(svg, []byte(never)) {
			t.Errorf("the file holds %q", never)
		}
	}
	if !bytes.Contains(svg, []byte("&lt;/text&gt;&lt;script&gt;")) {
		t.Error("the title is not written as it is")
	}
	wellFormed(t, svg)
}

func TestWhatCannotBeDrawnIsRefused(t *testing.T) {
	t.Parallel()
	b := sample()
	b.Cells = b.Cells[:5]
	if _, err := b.SVG(); err == nil || err.Error() != "draw blades: 5 cells for 2 blades, 4 stations and 3 lanes" {
		t.Error(err)
	}
	b = sample()
	b.Stations[1].At = 3e6
	if _, err := b.SVG(); err == nil || err.Error() != `draw blades: station "9 mm" does not come after "3 mm"` {
		t.Error(err)
	}
	if _, err := (Blades{}).SVG(); err == nil || err.Error() != "draw blades: there is no station" {
		t.Error(err)
	}
}

// UPDATE=1 writes the golden file anew; look at it before it is kept.
func TestSampleSVG(t *testing.T) {
	t.Parallel()
	got, err := sample().SVG()
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join("..", "..", "testdata", "golden", "sheet", "every-mark.svg")
	if update, _ := strconv.ParseBool(os.Getenv("UPDATE")); update {
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
