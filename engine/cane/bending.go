package cane

import "math"

// ThreePoint is the modulus of elasticity E (N/mm²) of a piece laid on two edges
// and pressed in the middle: E = (F/δ) L³/48I, from the slope of load over
// deflection (N/mm), the span between the edges (mm) and the second moment of
// area (mm⁴: Section.Second, or FlatStrip). Shear and the dent under the edge
// are left out: the span should be 16 thicknesses or more.
//
// Source: textbook; span by ASTM D790, from memory.
func ThreePoint(slope, span, second float64) (float64, error) {
	if err := bend("three-point bending", slope, "slope", "N/mm", span, second); err != nil {
		return 0, err
	}
	return slope * span * span * span / (48 * second), nil
}

// Cantilever is the modulus of elasticity E (N/mm²) of a piece held at one end
// and pressed at a distance span (mm) from the hold: E = (F/δ) L³/3I.
// Source: textbook.
func Cantilever(slope, span, second float64) (float64, error) {
	if err := bend("cantilever", slope, "slope", "N/mm", span, second); err != nil {
		return 0, err
	}
	return slope * span * span * span / (3 * second), nil
}

// ThreePointSlope is the load over deflection (N/mm) in the middle of a span
// (mm) for a modulus (N/mm²) and a second moment of area (mm⁴): 48EI/L³.
// Source: textbook.
func ThreePointSlope(modulus, span, second float64) (float64, error) {
	if err := bend("three-point stiffness", modulus, "modulus", "N/mm²", span, second); err != nil {
		return 0, err
	}
	return 48 * modulus * second / (span * span * span), nil
}

func bend(doing string, v float64, name, unit string, span, second float64) error {
	return above(doing, input{name, v, unit}, mm("span", span), input{"second moment of area", second, "mm⁴"})
}

// ThreePointStress is the bending stress (N/mm²) at the surface of a flat strip
// in three-point bending: 3FL/2bt², force in N, the rest in mm. Source: textbook.
func ThreePointStress(force, span, width, thickness float64) (float64, error) {
	err := above("three-point stress", input{"force", force, "N"}, mm("span", span), mm("width", width), mm("thickness", thickness))
	if err != nil {
		return 0, err
	}
	return 3 * force * span / (2 * width * thickness * thickness), nil
}

// ModulusU is the relative standard uncertainty of E of a flat strip from the
// relative ones of its five inputs: √(u_F² + u_δ² + (3u_L)² + u_b² + (3u_t)²).
// The thickness counts three times. Source: JCGM 100:2008, 5.1.6.
func ModulusU(force, deflection, span, width, thickness float64) float64 {
	return math.Sqrt(force*force + deflection*deflection + 9*span*span + width*width + 9*thickness*thickness)
}

// Arching is how many times stiffer a gouged piece is than the same thickness
// of flat strip, as wide as the middle of its thickness: the factor by which the
// flat formula misstates E. Bark radius, thickness and arc along the bark in mm.
// Source: own computation.
func Arching(bark, thickness, arc float64) (float64, error) {
	s, err := GougedSection(bark, thickness, arc)
	if err != nil {
		return 0, err
	}
	flat, err := FlatStrip(arc*(1-thickness/(2*bark)), thickness)
	if err != nil {
		return 0, err
	}
	return s.Second / flat, nil
}

// ThicknessCubed is how many times stiffer a flat strip becomes when its
// thickness (mm) goes from one value to another: (to/from)³. Source: textbook.
func ThicknessCubed(from, to float64) (float64, error) {
	if err := above("thickness cubed", mm("thickness", from), mm("thickness", to)); err != nil {
		return 0, err
	}
	r := to / from
	return r * r * r, nil
}
