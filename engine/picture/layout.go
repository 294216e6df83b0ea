package picture

import (
	"fmt"
	"math"
	"strconv"
)

// All measures are mm on paper.
const (
	pageWidth = 210.0 // A4 upright, ISO 216
	margin    = 12.0
	axisWidth = 24.0 // the stations' names, left of the blades
	barWidth  = 16.0 // the scale bar, right of them
	bladeGap  = 6.0
	lanePad   = 1.2 // between a box and its lane's edge
	boxHigh   = 11.0
	boxLow    = 7.0 // a box that still holds two lines
	boxGap    = 1.0
	laneLeast = 19.0
	plotMost  = 160.0 // of the blade's length: one page holds it
)

// rect is a place on the page, from its upper left corner.
type rect struct{ x, y, w, h float64 }

func (r rect) right() float64  { return r.x + r.w }
func (r rect) bottom() float64 { return r.y + r.h }

// label is a line of text. at.x and at.w are what it takes at most.
type label struct {
	at     rect
	text   string
	size   float64
	anchor string // "start", "middle", "end": of at
	bold   bool
	plate  bool // on white, over hatching
}

// box is one cell.
type box struct {
	at                   rect
	mark                 Mark
	blade, station, lane int // -1: in the legend
}

type line struct {
	x1, y1, x2, y2, width float64
	dashed                bool
}

// layout is where everything lies; the file is written from it.
type layout struct {
	width, height float64
	labels        []label
	boxes         []box
	lines         []line
	frames        []rect
	scale         float64 // mm on paper a mm of blade
	ticks         []float64
	barLength     float64 // on paper
	barWorth      float64 // mm of blade
}

// lay lays the picture out.
func (b Blades) lay() (*layout, error) {
	switch {
	case len(b.Names) == 0 || len(b.Stations) == 0 || len(b.Lanes) == 0:
		return nil, fmt.Errorf("draw blades: there is no station")
	case len(b.Cells) != len(b.Names)*len(b.Stations)*len(b.Lanes):
		return nil, fmt.Errorf("draw blades: %d cells for %d blades, %d stations and %d lanes", len(b.Cells), len(b.Names), len(b.Stations), len(b.Lanes))
	}
	for i := 1; i < len(b.Stations); i++ {
		if b.Stations[i].At <= b.Stations[i-1].At {
			return nil, fmt.Errorf("draw blades: station %q does not come after %q", b.Stations[i].Text, b.Stations[i-1].Text)
		}
	}
	l := &layout{width: pageWidth}
	lane := (pageWidth - 2*margin - axisWidth - barWidth - float64(len(b.Names)-1)*bladeGap) / float64(len(b.Names)*len(b.Lanes))
	if lane < laneLeast {
		l.width += (laneLeast - lane) * float64(len(b.Names)*len(b.Lanes))
		lane = laneLeast
	}
	y := l.head(b.Title, b.Under)
	y = b.plot(l, y+4, lane)
	y = b.legend(l, y+6)
	for _, n := range b.Notes {
		y = l.paragraph(y, n, 3.4, false) + 0.6
	}
	l.height = math.Ceil(y + margin)
	return l, nil
}

// head writes the title and the lines under it, and says where they end.
func (l *layout) head(title string, under []string) float64 {
	y := l.paragraph(margin, title, 5.5, true) + 1
	for _, u := range under {
		y = l.paragraph(y, u, 3.6, false)
	}
	return y
}

// paragraph writes text in lines across the page and returns where the next
// may begin.
func (l *layout) paragraph(y float64, text string, size float64, bold bool) float64 {
	w := l.width - 2*margin
	for _, t := range broken(text, size, w) {
		l.labels = append(l.labels, label{at: rect{margin, y, w, size * 1.35}, text: t, size: size, anchor: "start", bold: bold})
		y += size * 1.35
	}
	return y
}

// scales that a ruler on the paper can be read in.
func scales() []float64 { return []float64{20, 10, 8, 5, 4, 2, 1, 0.5, 0.2, 0.1} }

// plot draws the blades from y on and returns where it ends.
func (b Blades) plot(l *layout, y, lane float64) float64 {
	first, last := mm(b.Stations[0].At), mm(b.Stations[len(b.Stations)-1].At)
	// The datum is drawn too, unless the stations lie far from it.
	origin, shown := 0.0, true
	if span := last - first; first > 2*span+20 || first < 0 {
		origin, shown = first, false
	}
	for _, s := range scales() {
		if l.scale = s; (last-origin)*s <= plotMost {
			break
		}
	}
	tipOnTop := b.From != "tip"
	places, wide := make([]float64, len(b.Stations)), math.Inf(1)
	for i, s := range b.Stations {
		places[i] = (mm(s.At) - origin) * l.scale // from the datum
		if i > 0 {
			wide = min(wide, places[i]-places[i-1])
		}
	}
	high := max(boxLow, min(boxHigh, wide-boxGap))
	spots := spread(places, high+boxGap)
	// The plot reaches from the lowest to the highest of ticks and boxes.
	low, top := min(0, spots[0]-high/2-2), max(places[len(places)-1], spots[len(spots)-1]+high/2)+2
	if shown {
		low = min(low, -2)
	}
	head := y
	y += 15 // blade and lane names
	at := func(along float64) float64 {
		if tipOnTop {
			return y + top - along
		}
		return y + along - low
	}
	bottom := y + top - low
	x0 := margin + axisWidth
	l.lines = append(l.lines, line{x0 - 3, min(at(low), at(top)), x0 - 3, max(at(low), at(top)), 0.3, false})
	for i, s := range b.Stations {
		tick, spot := at(places[i]), at(spots[i])
		l.ticks = append(l.ticks, tick)
		l.lines = append(l.lines, line{x0 - 4.5, tick, x0 - 2.5, tick, 0.4, false}, line{x0 - 2.5, tick, x0, spot, 0.2, false})
		h := min(4.6, high)
		l.labels = append(l.labels, fitted(rect{margin, spot - h/2, axisWidth - 5.5, h}, s.Text, 3.6, "end"))
	}
	for n, name := range b.Names {
		x := x0 + float64(n)*(lane*float64(len(b.Lanes))+bladeGap)
		w := lane * float64(len(b.Lanes))
		title := fitted(rect{x, head, w, 6.5}, "Blade "+name, 4.6, "middle")
		title.bold = true
		l.labels = append(l.labels, title)
		l.frames = append(l.frames, rect{x, y, w, bottom - y})
		for i, spot := range spots {
			l.lines = append(l.lines, line{x, at(spot), x + w, at(spot), 0.15, true})
			for k := range b.Lanes {
				if c := b.cell(n, i, k); c.Mark != NotAsked {
					b.box(l, rect{x + float64(k)*lane + lanePad, at(spot) - high/2, lane - 2*lanePad, high}, c, n, i, k)
				}
			}
		}
		for k, name := range b.Lanes {
			l.labels = append(l.labels, fitted(rect{x + float64(k)*lane, head + 7.5, lane, 5}, name, 3.6, "middle"))
			if k > 0 {
				l.lines = append(l.lines, line{x + float64(k)*lane, y, x + float64(k)*lane, bottom, 0.15, false})
			}
		}
		if shown && spots[0] >= places[0] { // else it would lie among boxes that were moved
			l.lines = append(l.lines, line{x, at(0), x + w, at(0), 0.9, false})
		}
	}
	if shown && spots[0] > 5 {
		l.labels = append(l.labels, fitted(rect{margin, at(0) - 2.3, axisWidth - 5.5, 4.6}, b.From, 3.6, "end"))
		l.lines = append(l.lines, line{x0 - 4.5, at(0), x0, at(0), 0.6, false})
	}
	l.bar(b, x0+float64(len(b.Names))*(lane*float64(len(b.Lanes))+bladeGap)-bladeGap+5, y, bottom)
	where := "Stations are counted from the " + b.From + "; "
	if tipOnTop {
		where += "the tip is on top."
	} else {
		where += "it is on top."
	}
	where += " Along the blade the picture is " + ratio(l.scale) + "; lanes are drawn equally wide."
	for i := range spots {
		if spots[i] != places[i] {
			where += " Boxes that are too near are moved apart; the marks on the line at the left are where they belong."
			break
		}
	}
	return l.paragraph(bottom+2, where, 3.2, false)
}

func ratio(scale float64) string {
	if scale >= 1 {
		return strconv.FormatFloat(scale, 'f', -1, 64) + " : 1"
	}
	return "1 : " + strconv.FormatFloat(1/scale, 'f', -1, 64)
}

// bar draws the scale bar, upright as the blades are.
func (l *layout) bar(b Blades, x, y, bottom float64) {
	for _, worth := range []float64{100, 50, 20, 10, 5, 2, 1, 0.5, 0.2} {
		l.barWorth, l.barLength = worth, worth*l.scale
		if l.barLength <= min(60, bottom-y) {
			break
		}
	}
	end := bottom - l.barLength
	l.lines = append(l.lines, line{x, end, x, bottom, 0.6, false}, line{x - 1.5, end, x + 1.5, end, 0.6, false}, line{x - 1.5, bottom, x + 1.5, bottom, 0.6, false})
	l.labels = append(l.labels, fitted(rect{x + 2, (end+bottom)/2 - 2.3, barWidth - 7, 4.6}, strconv.FormatFloat(l.barWorth, 'f', -1, 64)+" mm", 3.2, "start"))
}

// box places a cell and its texts.
func (b Blades) box(l *layout, at rect, c Cell, blade, station, lane int) {
	l.boxes = append(l.boxes, box{at, c.Mark, blade, station, lane})
	left := at.x + 0.6
	if signOf(c.Mark) != noSign {
		left += signWide
	}
	text := rect{left, at.y + 0.4, at.right() - 0.6 - left, at.h - 0.8}
	main, small := text, text
	switch {
	case c.Main != "" && c.Small != "":
		main.h = text.h * 0.58
		small.y, small.h = text.y+main.h, text.h-main.h
	case c.Main == "" && c.Small == "":
		return
	}
	if c.Main != "" {
		t := fitted(main, c.Main, 4.1, "middle")
		t.bold, t.plate = true, true
		l.labels = append(l.labels, t)
	}
	if c.Small != "" {
		t := fitted(small, c.Small, 3.1, "middle")
		t.plate = true
		l.labels = append(l.labels, t)
	}
}

// legend explains the marks that are used, two abreast.
func (b Blades) legend(l *layout, y float64) float64 {
	column := (l.width - 2*margin) / 2
	n := 0
	for _, m := range drawn() {
		if !b.uses(m) {
			continue
		}
		at := rect{margin + float64(n%2)*column, y + float64(n/2)*8.5, 14, 6.5}
		l.boxes = append(l.boxes, box{at, m, -1, -1, -1})
		if m == Inside { // else it would look as a blank one
			l.labels = append(l.labels, fitted(at, "+ −", 4, "middle"))
		}
		l.labels = append(l.labels, fitted(rect{at.right() + 2.5, at.y + 1, column - 14 - 4, 4.6}, b.meaning(m), 3.6, "start"))
		n++
	}
	y += float64((n+1)/2) * 8.5
	legend := "Numbers are " + b.Unit + "; large: off the target, small: what was read."
	if b.Unit == "" {
		legend = "Large: off the target, small: what was read."
	}
	return l.paragraph(y+1, legend, 3.2, false) + 2
}

func mm(nm int64) float64 { return float64(nm) / 1e6 }

// spread moves places apart so that neighbours are at least gap from each other,
// and as little as can be (least squares): runs that are too near are moved
// together about their middle. places ascend.
func spread(places []float64, gap float64) []float64 {
	type run struct {
		sum  float64 // of places less what their turn takes
		n    int
		from int
	}
	var runs []run
	for i, p := range places {
		runs = append(runs, run{p - float64(i)*gap, 1, i})
		for len(runs) > 1 {
			a, z := runs[len(runs)-2], runs[len(runs)-1]
			if a.sum/float64(a.n) < z.sum/float64(z.n) {
				break
			}
			runs = append(runs[:len(runs)-2], run{a.sum + z.sum, a.n + z.n, a.from})
		}
	}
	out := make([]float64, len(places))
	for _, r := range runs {
		for k := range r.n {
			out[r.from+k] = r.sum/float64(r.n) + float64(r.from+k)*gap
		}
		if r.n == 1 {
			out[r.from] = places[r.from] // exactly where it is
		}
	}
	return out
}
