package picture

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"math"
	"sort"
)

// dots to the millimetre of a PNG file: 200 to the inch.
const dots = 200 / 25.4

// PNG draws the reed as one file (PNG, ISO/IEC 15948), in greys.
func (r Reed) PNG() ([]byte, error) {
	d, err := r.lay()
	if err != nil {
		return nil, err
	}
	return d.png()
}

func (d *drawing) png() ([]byte, error) {
	c := newCanvas(d.width, d.height)
	for i := range d.shapes {
		c.shape(&d.shapes[i])
	}
	for _, t := range d.labels {
		c.label(t)
	}
	var w bytes.Buffer
	if err := png.Encode(&w, c.page); err != nil {
		return nil, fmt.Errorf("write a picture: %w", err)
	}
	return w.Bytes(), nil
}

// canvas is a page of dots.
type canvas struct {
	page *image.Gray
	row  []float64 // how much of each dot of a row is inside, while it is filled
}

func newCanvas(width, height float64) *canvas {
	page := image.NewGray(image.Rect(0, 0, int(math.Round(width*dots)), int(math.Round(height*dots))))
	for i := range page.Pix {
		page.Pix[i] = 0xff
	}
	return &canvas{page: page, row: make([]float64, page.Rect.Dx())}
}

func (c *canvas) shape(s *shape) {
	switch s.fill {
	case white:
		c.fill([][]point{s.points}, color.Gray{0xff})
	case black:
		c.fill([][]point{s.points}, color.Gray{})
	}
	if s.width <= 0 {
		return
	}
	line := s.points
	if s.closed {
		line = append(append([]point{}, line...), line[0])
	}
	lines := [][]point{line}
	if s.dashed {
		lines = dashed(line)
	}
	var pens [][]point
	for _, l := range lines {
		pens = append(pens, pen(l, s.width)...)
	}
	c.fill(pens, color.Gray{})
}

// pen is the area a round pen of this width draws along a line.
func pen(line []point, width float64) [][]point {
	const corners = 12
	var out [][]point
	for i, p := range line {
		out = append(out, around(p, width/2, corners))
		if i == 0 {
			continue
		}
		q := line[i-1]
		long := math.Hypot(p.x-q.x, p.y-q.y)
		if long == 0 {
			continue
		}
		dx, dy := (p.y-q.y)/long*width/2, -(p.x-q.x)/long*width/2
		// The way round is that of around, so that areas join.
		out = append(out, []point{{q.x + dx, q.y + dy}, {p.x + dx, p.y + dy}, {p.x - dx, p.y - dy}, {q.x - dx, q.y - dy}})
	}
	return out
}

// dashed is a line in pieces.
func dashed(line []point) [][]point {
	var out [][]point
	on, left := true, dash
	piece := []point{line[0]}
	for i := 1; i < len(line); i++ {
		from, to := line[i-1], line[i]
		for long := math.Hypot(to.x-from.x, to.y-from.y); long > left; long = math.Hypot(to.x-from.x, to.y-from.y) {
			from = point{from.x + (to.x-from.x)*left/long, from.y + (to.y-from.y)*left/long}
			if piece = append(piece, from); on {
				out = append(out, piece)
			}
			on, left, piece = !on, dash, []point{from}
		}
		left -= math.Hypot(to.x-from.x, to.y-from.y)
		piece = append(piece, to)
	}
	if on {
		out = append(out, piece)
	}
	return out
}

// crossing is where an edge meets a scan line, and which way it goes.
type crossing struct {
	x   float64
	way int
}

// fill paints areas, in mm, that are inside any of the contours (nonzero
// winding): scan lines, four to a dot, with exact ends.
func (c *canvas) fill(contours [][]point, ink color.Gray) {
	const lines = 4
	low, high := math.Inf(1), math.Inf(-1)
	for _, k := range contours {
		for _, p := range k {
			low, high = min(low, p.y*dots), max(high, p.y*dots)
		}
	}
	first, last := max(int(math.Floor(low)), 0), min(int(math.Ceil(high)), c.page.Rect.Dy())
	rows := make([][]crossing, max(last-first, 0)*lines)
	for _, k := range contours {
		for i, p := range k {
			q, way := k[(i+1)%len(k)], 1
			if p.y > q.y {
				p, q, way = q, p, -1
			}
			from := int(math.Ceil(p.y*dots*lines - 0.5))
			to := int(math.Ceil(q.y*dots*lines - 0.5)) // the lower end is outside
			for s := max(from, first*lines); s < min(to, last*lines); s++ {
				y := (float64(s) + 0.5) / lines / dots
				x := p.x + (q.x-p.x)*(y-p.y)/(q.y-p.y)
				rows[s-first*lines] = append(rows[s-first*lines], crossing{x * dots, way})
			}
		}
	}
	for y := first; y < last; y++ {
		left, right := len(c.row), 0
		for s := range lines {
			found := rows[(y-first)*lines+s]
			sort.Slice(found, func(i, j int) bool { return found[i].x < found[j].x })
			winding := 0
			for i, at := range found {
				if winding != 0 {
					a, b := c.span(found[i-1].x, at.x, 1.0/lines)
					left, right = min(left, a), max(right, b)
				}
				winding += at.way
			}
		}
		for x := left; x < right; x++ {
			share := min(c.row[x], 1)
			c.row[x] = 0
			i := y*c.page.Stride + x
			c.page.Pix[i] = uint8(math.Round(float64(c.page.Pix[i])*(1-share) + float64(ink.Y)*share))
		}
	}
}

// span adds a stretch of a scan line to the row and returns the dots it touches.
func (c *canvas) span(from, to, weight float64) (first, end int) {
	from, to = max(from, 0), min(to, float64(len(c.row)))
	if to <= from {
		return len(c.row), 0
	}
	first, end = int(from), min(int(math.Ceil(to)), len(c.row))
	for x := first; x < end; x++ {
		c.row[x] += weight * (min(to, float64(x+1)) - max(from, float64(x)))
	}
	return first, end
}
