package cane

import (
	"fmt"
	"math"
)

// OpeningArea is the area (mm²) of a tip opening as two equal circular segments,
// r²(φ - sin φ) for both, from its width straight across and its height in the
// middle (mm). A height of 0 is closed; at most the width, where it is a circle.
// Blades that are not arcs of one circle, or unlike each other, open otherwise.
//
// Source: textbook.
func OpeningArea(width, height float64) (float64, error) {
	const doing = "area of an opening"
	if err := above(doing, mm("width", width)); err != nil {
		return 0, err
	}
	if !(height >= 0 && height <= width) {
		return 0, fmt.Errorf("%s: height %.6g mm is not between 0 and the width, %.6g mm", doing, height, width)
	}
	if height == 0 {
		return 0, nil
	}
	s, err := NewSegment(width, height/2)
	return 2 * s.Area, err
}

// OpeningHeight is the height (mm) an opening of this width (mm) must have for
// this area (mm², at most that of the circle): OpeningArea solved by bisection.
func OpeningHeight(width, area float64) (float64, error) {
	const doing = "height of an opening"
	if err := above(doing, mm("width", width)); err != nil {
		return 0, err
	}
	if !(area >= 0) {
		return 0, fmt.Errorf("%s: area %.6g mm² is below zero", doing, area)
	}
	if area == 0 {
		return 0, nil
	}
	whole, err := OpeningArea(width, width)
	if err != nil {
		return 0, err
	}
	if area > whole {
		return 0, fmt.Errorf("%s: %w: area %.6g mm² is more than the circle's, %.6g mm²", doing, ErrNoSolution, area, whole)
	}
	low, high := 0.0, width
	for {
		h := low + (high-low)/2
		if h <= low || h >= high {
			return h, nil
		}
		a, err := OpeningArea(width, h)
		if err != nil {
			return 0, err
		}
		if a < area {
			low = h
		} else {
			high = h
		}
	}
}

// OpeningWidth is the width straight across (mm) of a tip that opens to this
// height (mm), when the blades lie that wide flat (mm, along the arc): opening
// draws the corners in. At most a circle: height 2/π of the flat width.
//
// Source: textbook, by bisection.
func OpeningWidth(flat, height float64) (float64, error) {
	const doing = "width of an opening"
	if err := above(doing, mm("flat width", flat)); err != nil {
		return 0, err
	}
	if !(height >= 0) {
		return 0, fmt.Errorf("%s: height %.6g mm is below zero", doing, height)
	}
	if height == 0 {
		return flat, nil
	}
	if height > 2*flat/math.Pi {
		return 0, fmt.Errorf("%s: %w: blades %.6g mm wide open at most %.6g mm, to a circle", doing, ErrNoSolution, flat, 2*flat/math.Pi)
	}
	low, high := height, flat
	for {
		w := low + (high-low)/2
		if w <= low || w >= high {
			return w, nil
		}
		s, err := NewSegment(w, height/2)
		if err != nil {
			return 0, err
		}
		if s.Arc < flat {
			low = w
		} else {
			high = w
		}
	}
}
