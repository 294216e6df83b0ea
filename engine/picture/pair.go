package picture

import (
	"fmt"
	"math"
	"sort"
)

// Pair is two reeds drawn to one scale from one place, one above the other,
// with lines between marks that are elsewhere in the other. Lengths are nm.
type Pair struct {
	Title string
	Under []string
	From  string // what both count from: "the butt"
	A, B  PairSide
	Joins []PairJoin
	Notes []string
}

// PairSide is one of the two, seen from the flat.
type PairSide struct {
	Text  string // whose it is
	Parts []ReedPart
	Marks []ReedMark
}

// PairJoin leads from a mark of A to one of B, by their places in the lists.
type PairJoin struct {
	A, B int
	Text string // how far they are apart: "1.5 mm"
}

// All measures are mm on paper.
const (
	pairWidth  = 297.0 // A4 across, ISO 216
	pairHigh   = 210.0
	pairMost   = 250.0 // of the reeds' length
	pairAcross = 48.0  // of a reed's width
	pairGap    = 26.0  // between the two
	pairName   = 27.0  // of a mark's name, at most
	pairLead   = 8.0   // from a reed to the names of its marks
	joinWide   = 19.0
)

func (p *Pair) check() error {
	for _, s := range []*PairSide{&p.A, &p.B} {
		if err := (&Reed{Parts: s.Parts, Marks: s.Marks}).check(); err != nil {
			return err
		}
	}
	for _, j := range p.Joins {
		if j.A < 0 || j.B < 0 || j.A >= len(p.A.Marks) || j.B >= len(p.B.Marks) {
			return fmt.Errorf("draw two reeds: %q leads to no mark", j.Text)
		}
	}
	return nil
}

// SVG draws the pair as one file.
func (p Pair) SVG() ([]byte, error) {
	d, err := p.lay()
	if err != nil {
		return nil, err
	}
	return d.svg(p.Title, append(append([]string{}, p.Under...), p.Notes...)), nil
}

// PNG draws the pair as one file, in greys.
func (p Pair) PNG() ([]byte, error) {
	d, err := p.lay()
	if err != nil {
		return nil, err
	}
	return d.png()
}

// lying is a reed on its side: its datum end left.
type lying struct {
	reed   *Reed
	left   float64 // of low
	middle float64 // of its width
	low    float64 // mm of reed
	scale  float64
}

func (l *lying) x(at float64) float64 { return l.left + (at-l.low)*l.scale }

func (p *Pair) lay() (*drawing, error) {
	if err := p.check(); err != nil {
		return nil, err
	}
	d := &drawing{layout: layout{width: pairWidth}}
	y := d.head(p.Title, p.Under)
	a, b := &Reed{Parts: p.A.Parts, Marks: p.A.Marks}, &Reed{Parts: p.B.Parts, Marks: p.B.Marks}
	lowA, highA, wideA, _ := a.extent()
	lowB, highB, wideB, _ := b.extent()
	low, high := min(lowA, lowB), max(highA, highB)
	for _, s := range reedScales() {
		if d.scale = s; (high-low)*s <= pairMost && max(wideA, wideB)*s <= pairAcross {
			break
		}
	}
	left := (pairWidth - (high-low)*d.scale) / 2
	y = d.paragraph(y+2, "A  "+p.A.Text, 3.6, true)
	upper := &lying{a, left, 0, low, d.scale}
	names := a.names()
	y += 2 + nameHigh(names) + pairLead
	upper.middle = y + wideA*d.scale/2
	d.lie(upper)
	d.nameLying(upper, names, -1)
	y += wideA*d.scale + pairGap
	lower := &lying{b, left, y + wideB*d.scale/2, low, d.scale}
	d.lie(lower)
	p.join(d, upper, lower)
	y += wideB * d.scale
	names = b.names()
	d.nameLying(lower, names, 1)
	y = d.paragraph(y+pairLead+nameHigh(names)+1, "B  "+p.B.Text, 3.6, true)
	y = d.levelRuler(y+4, left, low, high)
	y = d.reedBar(&Reed{From: p.From}, y+3)
	for _, n := range p.Notes {
		y = d.paragraph(y+1, n, labelSize, false)
	}
	d.height = max(pairHigh, math.Ceil(y+margin))
	return d, nil
}

// lie draws a reed standing, and lays it down.
func (d *drawing) lie(l *lying) {
	t := &drawing{layout: layout{scale: l.scale}}
	l.reed.drawView(t, l.reed.newView("flat", false, 0, 0, 0, l.scale))
	for _, s := range t.shapes {
		for i, q := range s.points { // along is up there, across to the right
			s.points[i] = point{l.left - q.y - l.low*l.scale, l.middle + q.x}
		}
		d.shapes = append(d.shapes, s)
	}
}

// pairNamed is a mark's name, ready to be placed.
type pairNamed struct {
	at    float64 // mm of reed
	half  float64 // of the reed there, mm
	lines []string
}

func (r *Reed) names() []pairNamed {
	var out []pairNamed
	wide := min(pairName, (pairWidth-2*margin)/float64(max(len(r.Marks), 1)))
	for _, m := range r.Marks {
		out = append(out, pairNamed{mm(m.At), r.across(m, false)/2 + m.outside(), broken(m.Text, labelSize, wide-1)})
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].at < out[j].at })
	return out
}

func nameHigh(names []pairNamed) float64 {
	most := 0
	for _, n := range names {
		most = max(most, len(n.lines))
	}
	return float64(most) * labelHigh
}

// nameLying writes the names of the marks above (-1) or below (1) a reed.
func (d *drawing) nameLying(l *lying, names []pairNamed, way float64) {
	if len(names) == 0 {
		return
	}
	wide := min(pairName, (pairWidth-2*margin)/float64(len(names)))
	var places []float64
	widest := 0.0
	for _, n := range names {
		places = append(places, l.x(n.at))
	}
	for i := range l.reed.Parts {
		for _, x := range l.reed.Parts[i].Points {
			widest = max(widest, mm(x.Width)/2)
		}
	}
	edge := l.middle + way*(widest*l.scale+pairLead)
	knee := l.middle + way*(widest*l.scale+1.5)
	for i, x := range kept(spread(places, wide), wide) {
		n := names[i]
		d.stroke(fine, point{places[i], l.middle + way*n.half*l.scale}, point{places[i], knee}, point{x, edge})
		y := edge + 0.6
		if way < 0 {
			y = edge - 0.6 - float64(len(n.lines))*labelHigh
		}
		for k, t := range n.lines {
			d.labels = append(d.labels, fitted(rect{x - wide/2, y + float64(k)*labelHigh, wide, labelHigh}, t, labelSize, "middle"))
		}
	}
}

// kept moves what stands beyond the page's edges back, in their order.
func kept(spots []float64, wide float64) []float64 {
	least, most := margin+wide/2, pairWidth-margin-wide/2
	for i := range spots {
		spots[i] = max(spots[i], least+float64(i)*wide)
	}
	for i := len(spots) - 1; i >= 0; i-- {
		spots[i] = min(spots[i], most-float64(len(spots)-1-i)*wide)
	}
	return spots
}

// join leads from mark to mark, and says on the line how far they are apart, at
// the first of a few heights where the words touch no others.
func (p *Pair) join(d *drawing, upper, lower *lying) {
	for _, j := range p.Joins {
		d.stroke(heavy, p.ends(j, upper, lower)...)
	}
	var taken []rect
	for _, j := range p.Joins {
		line := p.ends(j, upper, lower)
		from, to := line[0], line[1]
		var at rect
		for _, share := range []float64{0.5, 0.72, 0.28, 0.61, 0.39, 0.83, 0.17} {
			w := min(width(j.Text, labelSize)+0.8, joinWide)
			at = rect{from.x + (to.x-from.x)*share - w/2, from.y + (to.y-from.y)*share - labelHigh/2, w, labelHigh}
			if !touches(at, taken) {
				break
			}
		}
		taken = append(taken, at)
		d.shapes = append(d.shapes, shape{points: []point{{at.x, at.y}, {at.right(), at.y}, {at.right(), at.bottom()}, {at.x, at.bottom()}}, closed: true, fill: white})
		d.labels = append(d.labels, fitted(at, j.Text, labelSize, "middle"))
	}
}

// ends of a join: the lower edge of A's mark and the upper edge of B's.
func (p *Pair) ends(j PairJoin, upper, lower *lying) []point {
	a, b := p.A.Marks[j.A], p.B.Marks[j.B]
	return []point{
		{upper.x(mm(a.At)), upper.middle + (upper.reed.across(a, false)/2+a.outside())*upper.scale},
		{lower.x(mm(b.At)), lower.middle - (lower.reed.across(b, false)/2+b.outside())*lower.scale},
	}
}

func touches(r rect, all []rect) bool {
	for _, o := range all {
		if r.x < o.right() && o.x < r.right() && r.y < o.bottom() && o.y < r.bottom() {
			return true
		}
	}
	return false
}

// levelRuler counts from the datum, from left to right.
func (d *drawing) levelRuler(y, left, low, high float64) float64 {
	x := func(at float64) float64 { return left + (at-low)*d.scale }
	d.stroke(fine, point{x(low), y}, point{x(high), y})
	step := 1
	for float64(step)*d.scale < 1 {
		step *= 10
	}
	for i := int(math.Ceil(low/float64(step) - 1e-9)); i <= int(math.Floor(high/float64(step)+1e-9)); i++ {
		long := 1.2
		switch {
		case i%10 == 0:
			long = 3
		case i%5 == 0:
			long = 2
		}
		at := x(float64(i * step))
		d.stroke(fine, point{at, y}, point{at, y + long})
		if i%10 == 0 {
			d.labels = append(d.labels, fitted(rect{at - 5, y + 3.2, 10, 4}, fmt.Sprint(i*step), 2.8, "middle"))
			d.ticks = append(d.ticks, at)
		}
	}
	return y + 8
}
