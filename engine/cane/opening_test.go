package cane

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"
	"pgregory.net/rapid"
)

// MatheAss, Circular sections (matheass.eu, help): the segment of chord 21 and
// height 6 has 89.254148; an opening is two of them.
func TestOpeningIsTwoSegments(t *testing.T) {
	t.Parallel()
	within(t, "area", must[float64](t)(OpeningArea(21, 12)), 2*89.254148, 1e-6)
	within(t, "circle", must[float64](t)(OpeningArea(15, 15)), math.Pi*15*15/4, 1e-12)
	within(t, "closed", must[float64](t)(OpeningArea(15, 0)), 0, 0)
}

// Reference: gonum's quadrature of the height across the opening.
func TestOpeningAreaAgainstQuadrature(t *testing.T) {
	t.Parallel()
	for _, h := range []float64{1e-6, 0.01, 0.5, 1.2, 2, 7} {
		const width = 15.0
		r := must[float64](t)(Radius(width, h/2))
		under := func(x float64) float64 { // height of one arc over the chord, without cancellation
			return (width/2 - x) * (width/2 + x) / (math.Sqrt((r-x)*(r+x)) + r - h/2)
		}
		near(t, "area", must[float64](t)(OpeningArea(width, h)), 2*quad.Fixed(under, -width/2, width/2, 300, nil, 0), 1e-9)
	}
}

func TestOpeningComesBackAndGrows(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(r *rapid.T) {
		width := rapid.Float64Range(3, 20).Draw(r, "width")
		height := width * rapid.Float64Range(1e-6, 0.999).Draw(r, "share")
		a, err := OpeningArea(width, height)
		if err != nil {
			r.Fatal(err)
		}
		h, err := OpeningHeight(width, a)
		if err != nil || math.Abs(h-height) > 1e-10*width {
			r.Fatalf("height %v comes back as %v (%v)", height, h, err)
		}
		if more, err := OpeningArea(width, height*1.001); err != nil || more <= a {
			r.Fatalf("area %v at %v, %v a little higher (%v)", a, height, more, err)
		}
		// Two thirds of width times height is a parabola's area: never more than
		// the arc's, and all of it for low openings.
		if two := 2 * width * height / 3; a < two*(1-1e-12) || a > two*(1+height/width) {
			r.Fatalf("area %v beside a parabola's %v", a, two)
		}
		flat, err := NewSegment(width, height/2)
		if err != nil {
			r.Fatal(err)
		}
		w, err := OpeningWidth(flat.Arc, height)
		if err != nil || math.Abs(w-width) > 1e-9*width {
			r.Fatalf("width %v comes back as %v (%v)", width, w, err)
		}
	})
}

func TestOpeningsRefuse(t *testing.T) {
	t.Parallel()
	_, err := OpeningArea(10, 10.01)
	refused(t, "higher than wide", err, false)
	_, err = OpeningArea(10, -0.01)
	refused(t, "less than closed", err, false)
	_, err = OpeningArea(10, math.NaN())
	refused(t, "a height of NaN", err, false)
	_, err = OpeningHeight(10, 78.54)
	refused(t, "more than a circle", err, true)
	_, err = OpeningHeight(10, -1)
	refused(t, "an area below zero", err, false)
	_, err = OpeningWidth(10, 6.37)
	refused(t, "opened beyond a circle", err, true)
	_, err = OpeningWidth(10, -1)
	refused(t, "opened below closed", err, false)
	within(t, "shut width", must[float64](t)(OpeningWidth(10, 0)), 10, 0)
	within(t, "height of nothing", must[float64](t)(OpeningHeight(10, 0)), 0, 0)
}
