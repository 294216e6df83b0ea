package paper

import "canewright/engine/recipe"

// Size is a sheet of paper, mm.
type Size struct {
	Name          string
	Width, Height float64
}

// Sizes lists the sheets there are: ISO 216 A4, and ANSI/ASME Y14.1 letter, 8.5
// by 11 inches.
func Sizes() []Size { return []Size{{"A4", 210, 297}, {"letter", 215.9, 279.4}} }

// Page is one side of paper. Lengths are mm from the upper left corner, sizes
// of letters are points; everything is black.
type Page struct {
	Size
	Texts  []Text
	Lines  []Line
	Shapes []Shape
	Boxes  []Box
	Bars   []Bar
	Marks  []Mark
}

// Text stands on its baseline, from X to the right.
type Text struct {
	X, Y, Points float64
	Bold         bool
	Text         string
}

// Line is Wide mm thick.
type Line struct {
	X1, Y1, X2, Y2, Wide float64
	Dashed               bool
}

// Shape is an outline, or full where Full.
type Shape struct {
	Points [][2]float64
	Wide   float64
	Full   bool
}

// Box is a ruled box to write in; one of the recipe's where Row is set.
type Box struct {
	X, Y, W, H float64
	Stage      int    // index
	Row        string // the mark of its row
	Box        recipe.Box
}

// Bar is a length to be measured before a strip is used.
type Bar struct {
	X, Y   float64 // where it begins
	Long   float64 // to the right, or downward where it stands
	Stands bool
}

// Mark is a place on a strip: At mm from the strip's datum, drawn at Y.
type Mark struct {
	Strip, Title string
	At, Y        float64
	Datum        float64 // Y of the datum on this page, which may lie beyond it
}

func (p *Page) line(x1, y1, x2, y2, wide float64) {
	p.Lines = append(p.Lines, Line{X1: x1, Y1: y1, X2: x2, Y2: y2, Wide: wide})
}

func (p *Page) text(x, y float64, a letters, s string) {
	if s != "" {
		p.Texts = append(p.Texts, Text{x, y, a.points, a.bold, s})
	}
}

// right sets text that ends at x.
func (p *Page) right(x, y float64, a letters, s string) { p.text(x-a.width(s), y, a, s) }
