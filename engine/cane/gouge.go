package cane

import (
	"fmt"
	"math"
)

// Gouge is a gouging blade as it stands over the bed, all in mm. The piece lies
// with its bark on a circle about the bed's centre and touches on the mid-line;
// if the bark does not fit the bed, the bark's own circle is what counts.
type Gouge struct {
	Blade    float64 // radius of the blade's circle
	Offset   float64 // its centre moved toward the bark along the mid-line; below zero thins the sides, zero is concentric
	Sideways float64 // its centre moved sideways, cut once from each end: a double radius. 0 for a single one
}

// Thickness that the gouge leaves at an arc distance from the mid-line, along
// the bark, mm: t = R - max over both cuts of [c·u + √(ρ² - |c|² + (c·u)²)],
// where u points from the bark's centre to the place, c is a centre of the blade
// and ρ its radius. With one centre that is R - [e cos θ + √(ρ² - e² sin²θ)],
// and R - ρ - e on the mid-line.
//
// bark is the radius of the bark's circle, mm; at may have either sign and
// reaches a quarter of the circle to each side. It is an error if the blade does
// not reach that place or comes out through the bark there.
//
// A double radius leaves a ridge along the mid-line.
//
// Source: own geometry; the tests find the same by laying a ray across the blade.
func (g Gouge) Thickness(bark, at float64) (float64, error) {
	const doing = "gouge thickness"
	if err := above(doing, mm("bark radius", bark), mm("blade radius", g.Blade)); err != nil {
		return 0, err
	}
	if err := known(doing, mm("offset", g.Offset), mm("sideways", g.Sideways), mm("arc distance", at)); err != nil {
		return 0, err
	}
	theta := at / bark
	if math.Abs(theta) > math.Pi/2 {
		return 0, fmt.Errorf("%s: arc distance %.6g mm is beyond a quarter of the circle, %.6g mm", doing, at, bark*math.Pi/2)
	}
	sin, cos := math.Sincos(theta)
	along := g.Offset*cos + math.Abs(g.Sideways*sin)
	under := g.Blade*g.Blade - g.Offset*g.Offset - g.Sideways*g.Sideways + along*along
	if under < 0 {
		return 0, fmt.Errorf("%s: blade radius %.6g mm does not reach the place %.6g mm from the mid-line", doing, g.Blade, at)
	}
	t := bark - (along + math.Sqrt(under))
	if t < 0 {
		return 0, fmt.Errorf("%s: the blade is through the bark by %.6g mm, %.6g mm from the mid-line", doing, -t, at)
	}
	return t, nil
}

// Set is a blade of this radius brought down until it leaves the centre
// thickness on the mid-line, mm: what a maker does who has one blade.
func Set(bark, blade, sideways, centre float64) (Gouge, error) {
	const doing = "set a gouge"
	if err := above(doing, mm("bark radius", bark), mm("blade radius", blade), mm("centre thickness", centre)); err != nil {
		return Gouge{}, err
	}
	if err := known(doing, mm("sideways", sideways)); err != nil {
		return Gouge{}, err
	}
	if centre >= bark {
		return Gouge{}, fmt.Errorf("%s: centre thickness %.6g mm is not below the bark radius %.6g mm", doing, centre, bark)
	}
	if math.Abs(sideways) >= blade {
		return Gouge{}, fmt.Errorf("%s: sideways %.6g mm is not below the blade radius %.6g mm", doing, sideways, blade)
	}
	reach := math.Sqrt((blade - sideways) * (blade + sideways))
	return Gouge{Blade: blade, Offset: bark - centre - reach, Sideways: sideways}, nil
}

// Find is the gouge that leaves these two thicknesses: centre on the mid-line
// and side at an arc distance from it, all in mm, with the blade's centre moved
// sideways by a given distance (0 for a single radius). The inner surface passes
// through two known places and its circle has its centre on a known line, which
// leaves one: the offset comes out in closed form.
//
// A side without its arc distance means nothing: "the sides" are read at the
// edge of the shaped piece, and so move with the shaper.
//
// Source: own geometry, the inverse of Thickness; the tests find it by bisection too.
func Find(bark, sideways, centre, side, at float64) (Gouge, error) {
	const doing = "find a gouge"
	if err := above(doing, mm("bark radius", bark), mm("centre thickness", centre), mm("side thickness", side), mm("arc distance", at)); err != nil {
		return Gouge{}, err
	}
	if err := known(doing, mm("sideways", sideways)); err != nil {
		return Gouge{}, err
	}
	theta := at / bark
	if theta > math.Pi/2 {
		return Gouge{}, fmt.Errorf("%s: arc distance %.6g mm is beyond a quarter of the circle, %.6g mm", doing, at, bark*math.Pi/2)
	}
	none := func(why string, v ...any) (Gouge, error) {
		return Gouge{}, fmt.Errorf("%s: %w: %s", doing, ErrNoSolution, fmt.Sprintf(why, v...))
	}
	if centre >= bark || side >= bark {
		return none("centre %.6g mm and side %.6g mm must be below the bark radius %.6g mm", centre, side, bark)
	}
	sideways = math.Abs(sideways)
	sin, cos := math.Sincos(theta)
	mid, edge := bark-centre, bark-side // distances of the inner surface from the bark's centre
	under := mid - edge*cos
	flat := bark - mid/cos // what a blade without curve would leave
	if under == 0 || under < 0 && sideways == 0 {
		return none("side %.6g mm at %.6g mm is no thicker than a flat cut leaves, %.6g mm", side, at, flat)
	}
	g := Gouge{
		Offset:   ((mid-edge)*(mid+edge) + 2*edge*sideways*sin) / (2 * under),
		Sideways: sideways,
	}
	g.Blade = math.Hypot(sideways, mid-g.Offset)
	// Both places must lie on the far side of the circle, seen from the bark's
	// centre; else it passes through them and cuts the cane the wrong way round.
	if mid-g.Offset <= 0 || edge-(g.Offset*cos+sideways*sin) < 0 {
		return none("no blade leaves %.6g mm in the centre and %.6g mm at %.6g mm", centre, side, at)
	}
	return g, nil
}
