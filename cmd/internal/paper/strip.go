package paper

import (
	"math"
	"slices"
)

// strip is something drawn 1 : 1 from its datum upward. Lengths are mm.
type strip struct {
	title   string
	low     float64 // the lowest and highest place of it
	high    float64
	halves  [][][2]float64 // outlines: distance and half width
	dashed  bool           // the outline's width is not known
	marks   []stripMark
	half    float64 // its widest half, for marks beyond an outline
	spare   float64 // room below it, where names may go on
	unnamed []float64
}

// stripMark is a line across a strip.
type stripMark struct {
	name, value string   // "first wire", "27.0 ± 0.5 mm"
	more        []string // "about 1.063 in", where it comes from
	at          float64
	low, high   float64 // its limits; both nought: none
	wide        float64 // of a wire, along the strip
	cut         bool
}

// overlap of the two halves of a strip that is longer than a page, mm.
const overlap = 20

// windows are the stretches of a strip that go on a page each.
func (s *strip) windows(room float64) [][2]float64 {
	if s.high-s.low <= room {
		return [][2]float64{{s.low, s.high}}
	}
	var out [][2]float64
	for from := s.low; ; from += room - overlap {
		to := min(from+room, s.high)
		out = append(out, [2]float64{from, to})
		if to >= s.high {
			return out
		}
	}
}

// The columns of a strip, mm from its left.
const (
	stripMiddle = 14
	stripNames  = 28
)

// label is what is said of a mark.
type label struct {
	mark  stripMark
	head  []string
	more  []string
	y     float64 // of its upper edge
	high  float64
	aimed float64 // where its leader begins
}

// labels are set beside the marks of a window, none over another, from top to
// bottom. They take at least the strip's own height.
func (s *strip) labels(w [2]float64, wide float64) (all []label, high float64) {
	for _, k := range s.marks {
		if k.at < w[0]-1e-9 || k.at > w[1]+1e-9 {
			continue
		}
		l := label{mark: k, aimed: w[1] - k.at, head: strong.wrap(k.name+"  "+k.value, wide)}
		for _, m := range k.more {
			l.more = append(l.more, body.wrap(m, wide)...)
		}
		l.high = float64(len(l.head))*strong.height() + float64(len(l.more))*body.height() + 1.5
		all = append(all, l)
	}
	slices.SortStableFunc(all, func(a, b label) int {
		switch {
		case a.aimed < b.aimed:
			return -1
		case a.aimed > b.aimed:
			return 1
		}
		return 0
	})
	total := 0.0
	for _, l := range all {
		total += l.high
	}
	y := 0.0
	for i := range all {
		all[i].y = max(y, all[i].aimed-strong.height()/2)
		y = all[i].y + all[i].high
	}
	high = max(total, w[1]-w[0]+strong.height())
	high += max(0, min(s.spare, y-high))
	for i, end := len(all)-1, high; i >= 0; i-- {
		all[i].y = min(all[i].y, end-all[i].high)
		end = all[i].y
	}
	return all, high
}

// draw puts a window of the strip, the n-th from the top, with its upper end at y.
func (s *strip) draw(p *Page, x, y float64, w [2]float64, wide float64, n int) {
	mid := x + stripMiddle
	at := func(d float64) float64 { return y + w[1] - d }
	for _, o := range s.halves {
		s.outline(p, o, mid, w, at)
	}
	for _, d := range s.unnamed {
		if d >= w[0] && d <= w[1] {
			p.line(mid-s.halfAt(d)-1.5, at(d), mid+s.halfAt(d)+1.5, at(d), thin)
			p.Marks = append(p.Marks, Mark{Strip: s.title, Title: "", At: d, Y: at(d), Datum: at(0)})
		}
	}
	all, _ := s.labels(w, wide-stripNames)
	for _, l := range all {
		k := l.mark
		half := s.halfAt(k.at)
		reach := 1.5
		if k.cut {
			reach = 3
		}
		p.line(mid-half-reach, at(k.at), mid+half+reach, at(k.at), thin)
		if k.wide > 0 {
			top, low := min(k.at+k.wide/2, w[1]), max(k.at-k.wide/2, w[0])
			p.Shapes = append(p.Shapes, Shape{Points: [][2]float64{{mid - half - 0.6, at(top)}, {mid + half + 0.6, at(top)}, {mid + half + 0.6, at(low)}, {mid - half - 0.6, at(low)}}, Wide: thin})
		}
		if k.high > k.low {
			lx := mid - half - reach - 0.8
			top, low := min(k.high, w[1]), max(k.low, w[0])
			p.line(lx, at(top), lx, at(low), thick)
		}
		p.Marks = append(p.Marks, Mark{Strip: s.title, Title: k.name, At: k.at, Y: at(k.at), Datum: at(0)})
		ty := y + l.y + strong.up() + 0.4
		p.line(mid+half+reach, at(k.at), x+stripNames-1.5, ty-strong.up()/2, thin)
		for i, h := range l.head {
			p.text(x+stripNames, ty+float64(i)*strong.height(), strong, h)
		}
		for i, h := range l.more {
			p.text(x+stripNames, ty+float64(len(l.head))*strong.height()+float64(i)*body.height(), body, h)
		}
	}
	join := func(d float64, letter string) {
		p.Lines = append(p.Lines, Line{X1: mid - s.half - 3, Y1: at(d), X2: mid + s.half + 3, Y2: at(d), Wide: thick, Dashed: true})
		p.text(mid-s.half-3-strong.width(letter)-1, at(d)+strong.up()/2, strong, letter)
	}
	if w[0] > s.low {
		join(w[0]+overlap/2, joinLetter(n))
	}
	if w[1] < s.high {
		join(w[1]-overlap/2, joinLetter(n-1))
	}
}

// outline draws what of it lies in the window.
func (s *strip) outline(p *Page, o [][2]float64, mid float64, w [2]float64, at func(float64) float64) {
	var part [][2]float64
	for i, a := range o {
		if i > 0 {
			for _, edge := range w {
				if b := o[i-1]; b[0] < edge && edge < a[0] {
					part = append(part, [2]float64{edge, b[1] + (a[1]-b[1])*(edge-b[0])/(a[0]-b[0])})
				}
			}
		}
		if a[0] >= w[0] && a[0] <= w[1] {
			part = append(part, a)
		}
	}
	if len(part) < 2 {
		return
	}
	for _, side := range []float64{-1, 1} {
		for i := 1; i < len(part); i++ {
			a, b := part[i-1], part[i]
			p.Lines = append(p.Lines, Line{X1: mid + side*a[1], Y1: at(a[0]), X2: mid + side*b[1], Y2: at(b[0]), Wide: ruled, Dashed: s.dashed})
		}
	}
	for _, end := range []int{0, len(o) - 1} {
		if e := o[end]; e[0] >= w[0] && e[0] <= w[1] {
			p.line(mid-e[1], at(e[0]), mid+e[1], at(e[0]), ruled)
		}
	}
}

// halfAt is the half width of the widest part there.
func (s *strip) halfAt(d float64) float64 {
	half := 0.0
	for _, o := range s.halves {
		for i := 1; i < len(o); i++ {
			a, b := o[i-1], o[i]
			if d < a[0]-1e-9 || d > b[0]+1e-9 {
				continue
			}
			h := math.Max(a[1], b[1])
			if b[0] > a[0] {
				h = a[1] + (b[1]-a[1])*min(max((d-a[0])/(b[0]-a[0]), 0), 1)
			}
			half = max(half, h)
		}
	}
	if half == 0 {
		return s.half
	}
	return half
}
