package picture

// drawing is a page as lines, areas and labels, from which each kind of file is
// written. All measures are mm on paper.
type drawing struct {
	layout
	shapes []shape
}

type point struct{ x, y float64 }

// ink fills or strokes.
type ink uint8

const (
	none ink = iota
	white
	black
)

// shape is a line or an area.
type shape struct {
	points []point
	closed bool
	fill   ink
	width  float64 // of its black line; 0: none
	dashed bool
	name   string // what it is of, for readers of the file
}

// dash and gap of a dashed line.
const dash = 0.9

func (d *drawing) stroke(width float64, points ...point) {
	d.shapes = append(d.shapes, shape{points: points, width: width})
}
