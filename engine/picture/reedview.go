package picture

import "math"

// widest is the half width of the view, on paper.
func (v *view) widest() float64 {
	w := 0.0
	for _, p := range v.profiles {
		for _, x := range p {
			w = max(w, x.half*v.scale)
		}
	}
	for _, m := range v.reed.Marks {
		w = max(w, (v.reed.across(m, v.deep)/2+m.outside())*v.scale)
	}
	return w
}

// seen is a place in the middle of the longest stretch of a part that no later
// part covers.
func (v *view) seen(part int) (float64, bool) {
	const steps = 200
	p := v.profiles[part]
	first, last := p[0].at, p[len(p)-1].at
	best, run, end := 0, 0, 0
	for i := range steps + 1 {
		at := first + (last-first)*float64(i)/steps
		covered := false
		for _, later := range v.profiles[part+1:] {
			_, over := later.half(at)
			covered = covered || over
		}
		if run++; covered {
			run = 0
		}
		if run > best {
			best, end = run, i
		}
	}
	return first + (last-first)*(float64(end)-float64(best-1)/2)/steps, best > 1
}

func (r *Reed) drawView(d *drawing, v *view) {
	for i := range r.Parts {
		v.part(d, &r.Parts[i], v.profiles[i])
	}
	for _, m := range r.Marks {
		v.mark(d, m, r.across(m, v.deep)/2)
	}
}

func (v *view) part(d *drawing, p *ReedPart, along profile) {
	var left, right []point
	for _, x := range along {
		left, right = append(left, v.at(x.at, -x.half)), append(right, v.at(x.at, x.half))
	}
	outline := append([]point{}, left...)
	for i := range right {
		outline = append(outline, right[len(right)-1-i])
	}
	d.shapes = append(d.shapes, shape{points: outline, closed: true, fill: white, width: heavy, name: v.name + ": " + p.Title})
	switch p.Look {
	case "bark":
		v.lengthwise(d, along, fine*0.8, -0.72, -0.4, 0.4, 0.72)
		if !v.deep {
			v.lengthwise(d, along, fine*0.8, 0)
		}
	case "thread":
		v.turns(d, along)
	case "cork":
		v.dots(d, along)
	case "staple":
		v.lengthwise(d, along, fine, -0.6, -0.45)
	}
	if v.deep && (p.Look == "bark" || p.Look == "blade") {
		v.lengthwise(d, along, 0.3, 0) // where the blades meet
	}
}

// lengthwise draws lines along the part, at shares of its half width.
func (v *view) lengthwise(d *drawing, along profile, width float64, shares ...float64) {
	for _, s := range shares {
		var line []point
		for _, x := range along {
			line = append(line, v.at(x.at, s*x.half))
		}
		d.stroke(width, line...)
	}
}

// turns of thread, each a little slanted, as far apart as can be told apart.
func (v *view) turns(d *drawing, along profile) {
	const apart, slant = 1.1, 0.35 // on paper
	first, last := along[0].at, along[len(along)-1].at
	n := int((last - first) * v.scale / apart)
	for i := 1; i < n; i++ {
		a := first + float64(i)*apart/v.scale
		b := min(a+slant/v.scale, last)
		ha, _ := along.half(a)
		hb, _ := along.half(b)
		d.stroke(fine, v.at(a, -ha), v.at(b, hb))
	}
}

// dots are the grain of cork.
func (v *view) dots(d *drawing, along profile) {
	const apart, radius = 1.7, 0.16 // on paper
	first, last := along[0].at, along[len(along)-1].at
	rows := int((last - first) * v.scale / apart)
	for i := 1; i <= rows; i++ {
		at := first + (float64(i)-0.5)*apart/v.scale
		h, _ := along.half(at)
		shift := 0.0
		if i%2 == 1 {
			shift = apart / 2
		}
		for k := -int(h*v.scale/apart) - 1; k <= int(h*v.scale/apart)+1; k++ {
			x := float64(k)*apart + shift
			if math.Abs(x) > h*v.scale-0.7 {
				continue
			}
			c := v.at(at, 0)
			d.shapes = append(d.shapes, shape{points: around(point{c.x + x, c.y}, radius, 6), closed: true, fill: black})
		}
	}
}

// around is a regular polygon.
func around(c point, radius float64, corners int) []point {
	var out []point
	for i := range corners {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(corners))
		out = append(out, point{c.x + radius*cos, c.y + radius*sin})
	}
	return out
}

func (v *view) mark(d *drawing, m ReedMark, half float64) {
	at, thick := mm(m.At), mm(m.Thick)
	switch {
	case m.As == "wire" && thick > 0:
		turns := max(m.Turns, 1)
		for i := range turns {
			v.wire(d, at+(float64(i)-float64(turns-1)/2)*thick, half, thick, m)
		}
	case m.As == "band" && thick > 0:
		v.band(d, at, half, thick, m)
	case m.As == "cut":
		const past = 3.0
		p, q := v.at(at, -half), v.at(at, half)
		d.shapes = append(d.shapes, shape{points: []point{{p.x - past, p.y}, {q.x + past, q.y}}, width: 0.3, name: v.name + ": " + m.Text})
	default:
		const steps = 24
		var line []point
		for i := range steps + 1 {
			share := 2*float64(i)/steps - 1
			bend := 0.0
			if !v.deep {
				bend = (mm(m.Middle) - at) * (1 - share*share)
			}
			line = append(line, v.at(at+bend, share*half))
		}
		if m.Middle == m.At || v.deep {
			line = []point{line[0], line[steps]}
		}
		d.shapes = append(d.shapes, shape{points: line, width: 0.3, dashed: m.Covered, name: v.name + ": " + m.Text})
	}
}

// wire is one turn round the reed: it lies outside, with round ends.
func (v *view) wire(d *drawing, at, half, thick float64, m ReedMark) {
	const corners = 10
	var around []point
	reach := half + thick/2
	for _, side := range []float64{1, -1} {
		for i := range corners + 1 {
			sin, cos := math.Sincos(math.Pi * (float64(i)/corners - 0.5))
			around = append(around, v.at(at+side*sin*thick/2, side*(reach+cos*thick/2)))
		}
	}
	s := shape{points: around, closed: true, fill: white, width: 0.3, name: v.name + ": " + m.Text}
	if m.Covered {
		s.fill, s.dashed, s.width = none, true, fine
	}
	d.shapes = append(d.shapes, s)
}

// band lies flat on the reed, as wide as it at both its edges.
func (v *view) band(d *drawing, at, half, thick float64, m ReedMark) {
	wide := func(at float64) float64 {
		for i := len(v.profiles) - 1; i >= 0; i-- {
			if h, ok := v.profiles[i].half(at); ok {
				return h
			}
		}
		return half
	}
	low, high := at-thick/2, at+thick/2
	d.shapes = append(d.shapes, shape{
		points: []point{v.at(low, -wide(low)), v.at(high, -wide(high)), v.at(high, wide(high)), v.at(low, wide(low))},
		closed: true, fill: white, width: heavy, dashed: m.Covered, name: v.name + ": " + m.Text,
	})
	v.lengthwise(d, profile{{low, wide(low)}, {high, wide(high)}}, fine, -0.6, -0.45)
}
