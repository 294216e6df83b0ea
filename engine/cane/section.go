package cane

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/integrate/quad"
)

// Section is the cross-section of a piece as a beam that bends about an axis
// parallel to its chord.
type Section struct {
	Area     float64 // mm²
	Centroid float64 // distance from the centre of the bark's circle, mm
	Second   float64 // second moment of area about the centroid, mm⁴
}

// ArcSection is the section between a bark of this radius (mm) and an inner
// surface at the thickness (mm) that the function gives for each angle from the
// mid-line (rad), over ±half (rad, at most a quarter turn), cut off along the
// radii. The integrals over the thickness are in closed form, those over the
// angle numeric (Gauss–Legendre, each half for itself, because a double radius
// has a ridge in the middle). The section is taken to keep its shape under load.
//
// Source: textbook; checked against annular sectors and circular segments.
func ArcSection(bark, half float64, thickness func(angle float64) (float64, error)) (Section, error) {
	const doing = "section of a piece"
	if err := above(doing, mm("bark radius", bark), input{"half angle", half, "rad"}); err != nil {
		return Section{}, err
	}
	if half > math.Pi/2 {
		return Section{}, fmt.Errorf("%s: half angle %.6g rad is beyond a quarter turn", doing, half)
	}
	var x, weight [32]float64
	var area, first, second float64
	for _, side := range [2][2]float64{{-half, 0}, {0, half}} {
		quad.Legendre{}.FixedLocations(x[:], weight[:], side[0], side[1])
		for i, angle := range x {
			t, err := thickness(angle)
			if err != nil {
				return Section{}, fmt.Errorf("%s: %w", doing, err)
			}
			if !(t >= 0 && t <= bark) {
				return Section{}, fmt.Errorf("%s: thickness %.6g mm is not between 0 and the bark radius, %.6g mm", doing, t, bark)
			}
			// Powers of the two radii, less the part that cancels.
			cos, inner := math.Cos(angle), bark-t
			area += weight[i] * t * (bark + inner) / 2
			first += weight[i] * cos * t * (bark*bark + bark*inner + inner*inner) / 3
			second += weight[i] * cos * cos * t * (bark + inner) * (bark*bark + inner*inner) / 4
		}
	}
	if area <= 0 {
		return Section{}, fmt.Errorf("%s: nothing is left of it", doing)
	}
	centroid := first / area
	return Section{Area: area, Centroid: centroid, Second: second - centroid*first}, nil
}

// GougedSection is the section of a piece gouged to one thickness (mm) under a
// bark of this radius (mm), this wide along the bark (mm).
func GougedSection(bark, thickness, arc float64) (Section, error) {
	if err := above("section of a piece", mm("bark radius", bark), mm("thickness", thickness), mm("arc", arc)); err != nil {
		return Section{}, err
	}
	return ArcSection(bark, arc/(2*bark), func(float64) (float64, error) { return thickness, nil })
}

// Section is the section of a piece that this gouge leaves, under a bark of
// this radius (mm), this wide along the bark (mm).
func (g Gouge) Section(bark, arc float64) (Section, error) {
	if err := above("section of a piece", mm("bark radius", bark), mm("arc", arc)); err != nil {
		return Section{}, err
	}
	return ArcSection(bark, arc/(2*bark), func(angle float64) (float64, error) { return g.Thickness(bark, angle*bark) })
}

// ThinArc is the second moment of area (mm⁴) of an even thin arc by the short
// sum r³t[α + sin α cos α - 2 sin²α/α] + bt³/12, r the radius of the middle of the
// thickness (mm), t the thickness (mm), α half the angle (rad), b = 2αr. It is a
// few per cent high for cane; GougedSection integrates.
//
// Source: textbook (thin circular arc), the second term the flat strip's.
func ThinArc(radius, thickness, half float64) (float64, error) {
	const doing = "thin arc"
	if err := above(doing, mm("radius", radius), mm("thickness", thickness), input{"half angle", half, "rad"}); err != nil {
		return 0, err
	}
	if half > math.Pi {
		return 0, fmt.Errorf("%s: half angle %.6g rad is beyond the whole circle", doing, half)
	}
	flat, err := FlatStrip(2*half*radius, thickness)
	return radius*radius*radius*thickness*thinBracket(half) + flat, err
}

// thinBracket is α + sin α cos α - 2 sin²α/α; its terms cancel to 2α⁵/45 for
// small α, where the power series is used.
func thinBracket(a float64) float64 {
	if a > 0.2 {
		sin, cos := math.Sincos(a)
		return a + sin*cos - 2*sin*sin/a
	}
	a2 := a * a
	return 2 * a * a2 * a2 / 45 * (1 - a2/7*(1-a2/15*(1-a2*4/99)))
}

// FlatStrip is the second moment of area (mm⁴) of a flat strip, bt³/12, width and
// thickness in mm. Source: textbook.
func FlatStrip(width, thickness float64) (float64, error) {
	err := above("flat strip", mm("width", width), mm("thickness", thickness))
	if err != nil {
		return 0, err
	}
	return width * thickness * thickness * thickness / 12, nil
}
