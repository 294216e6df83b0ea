package cane

import (
	"math"

	"gonum.org/v1/gonum/mathext"
)

// ellipse is the outside of a tube with half diameters a ≥ b. A place on it is
// the parameter t of (a cos t, b sin t), counted from the end of the long
// diameter; t is the angle at the centre only where a = b.
type ellipse struct {
	a, b    float64
	m       float64 // 1 - b²/a², the parameter of the elliptic integrals
	quarter float64 // arc length of a quarter
}

func newEllipse(a, b float64) ellipse {
	m := (a - b) / a * ((a + b) / a)
	return ellipse{a, b, m, a * mathext.EllipticE(math.Pi/2, m)}
}

func (e ellipse) point(t float64) (x, y float64) {
	sin, cos := math.Sincos(t)
	return e.a * cos, e.b * sin
}

// speed is ds/dt.
func (e ellipse) speed(t float64) float64 {
	sin, cos := math.Sincos(t)
	return math.Hypot(e.a*sin, e.b*cos)
}

// radius of curvature at t, speed³/ab: b²/a at the ends of the long diameter,
// a²/b at those of the short one.
func (e ellipse) radius(t float64) float64 {
	v := e.speed(t)
	return v * v / e.a * (v / e.b)
}

// arc length from t = 0, for any t. The elliptic integral of the second kind
// counts from the end of the short diameter (NIST DLMF 19.2.5, 19.30.2).
func (e ellipse) arc(t float64) float64 {
	phi := math.Pi/2 - t
	turns := math.Round(phi / math.Pi)
	return e.quarter - (2*e.quarter*turns + e.a*mathext.EllipticE(phi-turns*math.Pi, e.m))
}

func (e ellipse) around() float64 {
	return 4 * e.quarter
}

// at is the inverse of arc: Newton's steps, kept inside a bracket that shrinks
// at every step, so that a very flat oval cannot throw it out.
func (e ellipse) at(s float64) float64 {
	around := e.around()
	turns := math.Floor(s / around)
	s -= turns * around
	if s == 0 {
		return 2 * math.Pi * turns
	}
	low, high := 0.0, 2*math.Pi
	t := high * s / around
	for range 100 {
		off := e.arc(t) - s
		if off > 0 {
			high = t
		} else {
			low = t
		}
		next := t - off/e.speed(t)
		if !(next > low && next < high) {
			next = (low + high) / 2
		} else if math.Abs(next-t) < 1e-10 {
			return next + 2*math.Pi*turns // the step after this one would be its square
		}
		t = next
	}
	return t + 2*math.Pi*turns
}

// bent is the integral of the radius of curvature over the arc from t = 0:
// ∫ speed⁴/ab dt, with speed² = m - d cos 2t, in closed form.
func (e ellipse) bent(t float64) float64 {
	a2, b2 := e.a*e.a, e.b*e.b
	m, d := (a2+b2)/2, (a2-b2)/2
	return ((m*m+d*d/2)*t - m*d*math.Sin(2*t) + d*d/8*math.Sin(4*t)) / (e.a * e.b)
}
