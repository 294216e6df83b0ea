package picture

import (
	"bytes"
	"encoding/xml"
	"image/png"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// pairSample is two invented reeds; the second has its wire elsewhere.
func pairSample() Pair {
	a, b := reedSample(), reedSample()
	b.Marks[0].At, b.Marks[0].Middle, b.Marks[0].Text = nm(29.5), nm(29.5), "wire, 29.5 mm"
	return Pair{
		Title: "Two shawms, to one scale", Under: []string{"invented, for tests"}, From: "the butt",
		A: PairSide{"The first", a.Parts, a.Marks}, B: PairSide{"The second", b.Parts, b.Marks},
		Joins: []PairJoin{{0, 0, "+1.5 mm"}}, Notes: []string{"All else is alike."},
	}
}

func TestPairFiles(t *testing.T) {
	t.Parallel()
	p := pairSample()
	svg, err := p.SVG()
	if err != nil {
		t.Fatal(err)
	}
	for d := xml.NewDecoder(bytes.NewReader(svg)); ; {
		if _, err := d.Token(); err != nil {
			if err.Error() != "EOF" {
				t.Fatal(err)
			}
			break
		}
	}
	for _, want := range []string{"+1.5 mm", "The first", "The second", "wire, 29.5 mm", "the ruler counts from the butt"} {
		if !strings.Contains(string(svg), want) {
			t.Errorf("the picture does not say %q", want)
		}
	}
	again, _ := p.SVG()
	if !bytes.Equal(svg, again) {
		t.Error("not the same twice")
	}
	data, err := p.PNG()
	if err != nil {
		t.Fatal(err)
	}
	img, err := png.Decode(bytes.NewReader(data))
	if err != nil || img.Bounds().Dx() != int(math.Round(297*200/25.4)) {
		t.Errorf("%v %v", img.Bounds(), err)
	}
}

// A join ends where its marks are, both to the scale of the ruler.
func TestAJoinEndsAtItsMarks(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		p := pairSample()
		at := nm(float64(rapid.IntRange(260, 310).Draw(t, "tenths")) / 10)
		p.B.Marks[0].At, p.B.Marks[0].Middle = at, at
		d, err := p.lay()
		if err != nil {
			t.Fatal(err)
		}
		zero, fifty := d.ticks[0], d.ticks[len(d.ticks)-1]
		per := (fifty - zero) / float64(10*(len(d.ticks)-1))
		found := false
		for _, s := range d.shapes {
			if len(s.points) == 2 && s.width == heavy && s.name == "" && s.points[1].y > s.points[0].y+pairGap/2 {
				found = true
				if math.Abs(s.points[0].x-zero-28*per) > 1e-6 || math.Abs(s.points[1].x-zero-mm(at)*per) > 1e-6 {
					t.Fatalf("%+v, the ruler's nought at %v and %v a mm", s.points, zero, per)
				}
			}
		}
		if !found {
			t.Fatal("there is no line")
		}
	})
}

// Nothing leaves the page, and no words lie over each other.
func TestPairWords(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		p := pairSample()
		p.Joins = nil
		for i := range p.B.Marks {
			m := &p.B.Marks[i]
			moved := nm(float64(rapid.IntRange(-15, 15).Draw(t, "moved")) / 10)
			m.At, m.Middle = m.At+moved, m.Middle+moved
			if moved != 0 {
				p.Joins = append(p.Joins, PairJoin{i, i, "+1.5 mm"})
			}
		}
		d, err := p.lay()
		if err != nil {
			t.Fatal(err)
		}
		page := rect{margin / 2, margin / 2, d.width - margin, d.height - margin}
		for i, l := range d.labels {
			if !page.holds(l.at) || !l.at.holds(l.ink()) {
				t.Fatalf("%q leaves its place: %+v", l.text, l.at)
			}
			for _, o := range d.labels[i+1:] {
				if l.ink().meets(o.ink()) {
					t.Fatalf("%q lies over %q", l.text, o.text)
				}
			}
		}
	})
}

func TestPairRefuses(t *testing.T) {
	t.Parallel()
	for what, spoil := range map[string]func(*Pair){
		"no parts":          func(p *Pair) { p.B.Parts = nil },
		"a join to no mark": func(p *Pair) { p.Joins[0].B = 99 },
		"far away":          func(p *Pair) { p.A.Marks[0].At = longestReed + 1 },
	} {
		p := pairSample()
		spoil(&p)
		if _, err := p.SVG(); err == nil {
			t.Errorf("%s: no error", what)
		}
		if _, err := p.PNG(); err == nil {
			t.Errorf("%s: no error", what)
		}
	}
}
