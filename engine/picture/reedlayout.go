package picture

import (
	"math"
	"sort"
	"strconv"
	"strings"
)

// All measures are mm on paper.
const (
	reedMost    = 172.0 // of the reed's length: one page holds it, with its numbers
	rulerWide   = 11.0
	partsWide   = 22.0 // names of the parts, left of the reed
	marksWide   = 46.0 // names of the marks, right of it
	leaderRoom  = 6.0
	sideGap     = 4.0
	sideHead    = 28.0
	labelSize   = 3.2
	labelHigh   = 4.3
	heavy       = 0.45
	fine        = 0.18
	tableSize   = 2.7
	tableHigh   = 3.6
	endViewHead = 5.0
)

// reedScales that a ruler on the paper can be read in.
func reedScales() []float64 {
	return []float64{10, 8, 5, 4, 3, 2, 1, 0.5, 0.2, 0.1, 0.05, 0.02, 0.01}
}

// view is one side of the reed: where its middle is, and how to find a place.
type view struct {
	name        string
	middle      float64
	low, bottom float64 // mm of reed at the bottom of the view, and where that is
	scale       float64
	profiles    []profile
	deep        bool
	reed        *Reed
}

func (v *view) y(at float64) float64           { return v.bottom - (at-v.low)*v.scale }
func (v *view) at(along, across float64) point { return point{v.middle + across*v.scale, v.y(along)} }

func (r *Reed) newView(name string, deep bool, middle, low, bottom, scale float64) *view {
	v := &view{name: name, middle: middle, low: low, bottom: bottom, scale: scale, deep: deep, reed: r}
	for i := range r.Parts {
		v.profiles = append(v.profiles, r.Parts[i].profile(deep))
	}
	return v
}

// lay lays the reed out on a page of A4, longer where there is much to say.
func (r *Reed) lay() (*drawing, error) {
	if err := r.check(); err != nil {
		return nil, err
	}
	d := &drawing{layout: layout{width: pageWidth}}
	y := d.head(r.Title, r.Under)
	low, high, wide, deep := r.extent()
	room := pageWidth - 2*margin - rulerWide - partsWide - marksWide - 2*leaderRoom
	side := func(float64) float64 { return 0 }
	if r.sided() {
		room -= sideGap
		side = func(scale float64) float64 { return max(deep*scale, sideHead) }
	}
	for _, s := range reedScales() {
		if d.scale = s; (high-low)*s <= reedMost && wide*s+side(s) <= room {
			break
		}
	}
	x := margin + rulerWide + partsWide + leaderRoom
	middle := x + wide*d.scale/2
	marksAt := x + wide*d.scale + leaderRoom
	y += 3
	heads := rect{middle - 25, y, 50, labelHigh}
	d.labels = append(d.labels, fitted(heads, "from the flat", labelSize, "middle"))
	y += labelHigh + 1
	if r.Tip != nil {
		y += 1.5
		y = r.endView(d, y, middle, marksAt)
	}
	top := r.tipWidth(d, y, middle)
	bottom := top + (high-low)*d.scale
	flat := r.newView("flat", false, middle, low, bottom, d.scale)
	r.drawView(d, flat)
	d.ruler(r, flat, low, high)
	end := r.nameParts(d, flat, x-leaderRoom, top)
	end = max(end, r.nameMarks(d, flat, marksAt, top, marksWide))
	if r.sided() {
		sideMiddle := marksAt + marksWide + sideGap + side(d.scale)/2
		d.labels = append(d.labels, fitted(rect{sideMiddle - sideHead/2, heads.y, sideHead, labelHigh}, "from the side", labelSize, "middle"))
		r.drawView(d, r.newView("side", true, sideMiddle, low, bottom, d.scale))
	}
	y = d.reedBar(r, max(bottom, end)+5)
	for _, t := range r.Tables {
		y = d.table(y+1, t)
	}
	for _, n := range r.Notes {
		y = d.paragraph(y+1, n, labelSize, false)
	}
	d.height = max(297, math.Ceil(y+margin))
	return d, nil
}

// endView draws the tip from its end, over the flat.
func (r *Reed) endView(d *drawing, y, middle, marksAt float64) float64 {
	t := r.Tip
	open, thick := mm(t.Opening)/2*d.scale, mm(t.Thickness)*d.scale
	c := mm(t.Width) / 2 * d.scale
	y += open + thick
	outer := append(arc(middle, y, c, open+thick, -1), arc(middle, y, c, open+thick, 1)[1:]...)
	inner := append(arc(middle, y, c, open, -1), arc(middle, y, c, open, 1)[1:]...)
	d.shapes = append(d.shapes,
		shape{points: outer, closed: true, fill: white, width: heavy, name: "tip from its end"},
		shape{points: inner, closed: true, width: fine, name: "opening"})
	for i, l := range broken(t.Text, labelSize, marksWide) {
		d.labels = append(d.labels, fitted(rect{marksAt, y - labelHigh/2 + float64(i)*labelHigh, marksWide, labelHigh}, l, labelSize, "start"))
	}
	return y + max(open+thick, float64(len(broken(t.Text, labelSize, marksWide)))*labelHigh-labelHigh/2) + endViewHead - 3
}

// arc of a circle over a chord from -c to c about x, with its height s; up is -1
// on paper. The way back is from right to left.
func arc(x, y, c, s, up float64) []point {
	const steps = 40
	half := 2 * math.Atan2(s, c)
	var out []point
	for i := range steps + 1 {
		phi := half * (2*float64(i)/steps - 1)
		if up > 0 {
			phi = -phi
		}
		p := point{x + c*(2*float64(i)/steps-1), y}
		if up > 0 {
			p.x = x - c*(2*float64(i)/steps-1)
		}
		if s > 1e-9 {
			radius := (c*c + s*s) / (2 * s)
			p = point{x + radius*math.Sin(phi), y + up*(s-radius+radius*math.Cos(phi))}
		}
		out = append(out, p)
	}
	return out
}

// tipWidth measures the top of the reed across, and returns where the reed begins.
func (r *Reed) tipWidth(d *drawing, y, middle float64) float64 {
	var top place
	for i := range r.Parts {
		p := r.Parts[i].profile(false)
		if e := p[len(p)-1]; i == 0 || e.at >= top.at {
			top = e
		}
	}
	half := top.half * d.scale
	text := strconv.FormatFloat(math.Round(top.half*200)/100, 'f', -1, 64) + " mm"
	d.labels = append(d.labels, fitted(rect{middle - 20, y, 40, labelHigh}, text, labelSize, "middle"))
	y += labelHigh + 1
	d.stroke(fine, point{middle - half, y}, point{middle + half, y})
	for _, side := range []float64{-1, 1} {
		x := middle + side*half
		d.stroke(fine, point{x, y - 1}, point{x, y + 3})
	}
	return y + 4.5
}

// ruler counts from the datum.
func (d *drawing) ruler(r *Reed, v *view, low, high float64) {
	x := margin + rulerWide
	d.stroke(fine, point{x, v.y(low)}, point{x, v.y(high)})
	step := 1
	for float64(step)*d.scale < 1 {
		step *= 10
	}
	first, last := int(math.Ceil(low/float64(step)-1e-9)), int(math.Floor(high/float64(step)+1e-9))
	for i := first; i <= last; i++ {
		long := 1.2
		switch {
		case i%10 == 0:
			long = 3
		case i%5 == 0:
			long = 2
		}
		y := v.y(float64(i * step))
		d.stroke(fine, point{x - long, y}, point{x, y})
		if i%10 == 0 {
			d.labels = append(d.labels, fitted(rect{margin, y - 2, rulerWide - 4, 4}, strconv.Itoa(i*step), 2.8, "end"))
			d.ticks = append(d.ticks, y)
		}
	}
}

// named is something a leader goes to.
type named struct {
	from  point
	lines []string
}

// nameParts writes what the parts are, left of the reed, and returns how far
// down it went.
func (r *Reed) nameParts(d *drawing, v *view, right, top float64) float64 {
	var all []named
	for i := range r.Parts {
		if at, ok := v.seen(i); ok {
			h, _ := v.profiles[i].half(at)
			all = append(all, named{v.at(at, -h*0.7), broken(r.Parts[i].Title, labelSize, partsWide-3)})
		}
	}
	return d.leaders(all, right, v.middle-v.widest()-2, top, partsWide-3, "end")
}

// nameMarks writes what the marks are, right of the reed.
func (r *Reed) nameMarks(d *drawing, v *view, left, top, wide float64) float64 {
	var all []named
	for _, m := range r.Marks {
		h := r.across(m, false)/2 + m.outside()
		all = append(all, named{v.at(mm(m.At), h), broken(m.Text, labelSize, wide)})
	}
	return d.leaders(all, left, v.middle+v.widest()+2, top, wide, "start")
}

// leaders lead from places to their names, which are moved apart where they are
// too near: level to the knee, then to the name.
func (d *drawing) leaders(all []named, edge, knee, top, wide float64, anchor string) float64 {
	if len(all) == 0 {
		return top
	}
	sort.SliceStable(all, func(i, j int) bool { return all[i].from.y < all[j].from.y })
	lines := 1
	var places []float64
	for _, n := range all {
		lines = max(lines, len(n.lines))
		places = append(places, n.from.y)
	}
	high := float64(lines) * labelHigh
	spots := spread(places, high+0.6)
	if first := spots[0] - high/2; first < top-2 { // not into what is above
		for i := range spots {
			spots[i] = max(spots[i], top-2+high/2+float64(i)*(high+0.6))
		}
	}
	end := 0.0
	for i, n := range all {
		y := spots[i]
		d.stroke(fine, n.from, point{knee, n.from.y}, point{edge, y})
		at := y - float64(len(n.lines))*labelHigh/2
		for k, l := range n.lines {
			place := rect{edge + 1, at + float64(k)*labelHigh, wide - 1, labelHigh}
			if anchor == "end" {
				place.x = edge - 1 - place.w
			}
			d.labels = append(d.labels, fitted(place, l, labelSize, anchor))
		}
		end = max(end, at+float64(len(n.lines))*labelHigh)
	}
	return end
}

// reedBar draws the scale bar.
func (d *drawing) reedBar(r *Reed, y float64) float64 {
	for _, worth := range []float64{500, 200, 100, 50, 20, 10, 5} {
		if d.barWorth, d.barLength = worth, worth*d.scale; d.barLength <= 60 {
			break
		}
	}
	x := margin + rulerWide
	d.stroke(heavy, point{x, y}, point{x + d.barLength, y})
	for _, at := range []float64{x, x + d.barLength} {
		d.stroke(heavy, point{at, y - 1.5}, point{at, y + 1.5})
	}
	text := strconv.FormatFloat(d.barWorth, 'f', -1, 64) + " mm; the picture is " + ratio(d.scale) + "; the ruler counts from " + r.From + ", mm"
	d.labels = append(d.labels, fitted(rect{x + d.barLength + 3, y - 2.15, d.width - margin - x - d.barLength - 3, labelHigh}, text, labelSize, "start"))
	return y + 2.5
}

// table writes rows one after another across the page.
func (d *drawing) table(y float64, t ReedTable) float64 {
	w := d.width - 2*margin
	for _, l := range broken(t.Head+": "+strings.Join(t.Rows, "; ")+".", tableSize, w) {
		d.labels = append(d.labels, fitted(rect{margin, y, w, tableHigh}, l, tableSize, "start"))
		y += tableHigh
	}
	return y
}
