package cane

import (
	"fmt"
	"math"
)

// Radius of a circle from a chord and the height of the arc over its middle
// (the spherometer rule): R = c²/8s + s/2, mm. Both above zero. A hollow or
// warped piece has no one radius: the answer is that of the circle through the
// three points touched.
//
// Source: Lobben, Machinists' and Draftsmen's Handbook, 1900, p. 200.
func Radius(chord, sagitta float64) (float64, error) {
	if err := above("radius from a chord", mm("chord", chord), mm("sagitta", sagitta)); err != nil {
		return 0, err
	}
	return chord*(chord/sagitta)/8 + sagitta/2, nil
}

// RadiusPartials are the sensitivities of Radius: ∂R/∂c = c/4s and
// ∂R/∂s = 1/2 - c²/8s², both mm per mm. A flat arc makes the second large: an
// error of the depth gauge is what a radius is lost by.
func RadiusPartials(chord, sagitta float64) (toChord, toSagitta float64, err error) {
	if err := above("radius from a chord", mm("chord", chord), mm("sagitta", sagitta)); err != nil {
		return 0, 0, err
	}
	slope := chord / sagitta
	return slope / 4, 0.5 - slope*slope/8, nil
}

// Sagitta is the height of an arc of this radius over a chord, mm, for the
// lesser of the two arcs. The chord is at most the diameter.
func Sagitta(radius, chord float64) (float64, error) {
	const doing = "sagitta from a radius"
	if err := above(doing, mm("radius", radius), mm("chord", chord)); err != nil {
		return 0, err
	}
	h := chord / 2
	if h > radius {
		return 0, fmt.Errorf("%s: %w: chord %.6g mm is wider than the diameter %.6g mm", doing, ErrNoSolution, chord, 2*radius)
	}
	return h * (h / (radius + math.Sqrt((radius-h)*(radius+h)))), nil
}

// Chord is the width straight across an arc of this radius and height, mm. The
// height is at most the diameter.
func Chord(radius, sagitta float64) (float64, error) {
	const doing = "chord from a radius"
	if err := above(doing, mm("radius", radius), mm("sagitta", sagitta)); err != nil {
		return 0, err
	}
	if sagitta > 2*radius {
		return 0, fmt.Errorf("%s: %w: sagitta %.6g mm is more than the diameter %.6g mm", doing, ErrNoSolution, sagitta, 2*radius)
	}
	return 2 * math.Sqrt(sagitta) * math.Sqrt(2*radius-sagitta), nil
}

// Segment is what one arc and its chord enclose.
type Segment struct {
	Radius float64 // mm
	Angle  float64 // of the arc at the centre, rad
	Arc    float64 // mm
	Area   float64 // between arc and chord, mm²
}

// NewSegment is the segment over a chord (mm) with this height (mm), which may
// be more than half a circle.
//
// Source: textbook; tan(angle/4) = 2s/c.
func NewSegment(chord, sagitta float64) (Segment, error) {
	r, err := Radius(chord, sagitta)
	if err != nil {
		return Segment{}, err
	}
	angle := 4 * math.Atan2(2*sagitta, chord)
	return Segment{Radius: r, Angle: angle, Arc: r * angle, Area: r * r * lessSine(angle) / 2}, nil
}

// lessSine is x - sin x, without loss for small x.
func lessSine(x float64) float64 {
	if math.Abs(x) > 0.3 {
		return x - math.Sin(x)
	}
	x2 := x * x
	return x * x2 / 6 * (1 - x2/20*(1-x2/42*(1-x2/72*(1-x2/110))))
}
