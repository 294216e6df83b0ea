package cane

import (
	"fmt"
	"math"
)

// Taper of a cone: change of diameter per mm of length (mm per mm), from two
// diameters (mm) and the length between them (mm).
//
// Source: textbook; checked against the Morse and Jarno tapers.
func Taper(large, small, length float64) (float64, error) {
	const doing = "taper of a cone"
	if err := above(doing, mm("large diameter", large), mm("length", length)); err != nil {
		return 0, err
	}
	if err := known(doing, mm("small diameter", small)); err != nil {
		return 0, err
	}
	if small < 0 || small > large {
		return 0, fmt.Errorf("%s: small diameter %.6g mm is not between 0 and the large one, %.6g mm", doing, small, large)
	}
	return (large - small) / length, nil
}

// ConeAngle is the included angle (rad) of a cone with this taper (mm of
// diameter per mm of length): 2 atan(k/2).
func ConeAngle(taper float64) (float64, error) {
	if err := above("angle of a cone", input{"taper", taper, ""}); err != nil {
		return 0, err
	}
	return 2 * math.Atan(taper/2), nil
}

// SeatChange is how much further a reed goes on to a cone of this taper when its
// inside diameter grows by change (mm; below zero for less): Δz = Δd/k, mm.
//
// Source: textbook; a bassoonist's own sum agrees (bassoonoperator.blogspot.com,
// Reed log, January 2010). Whether the pitch follows is doubted there: check, do
// not assume.
func SeatChange(change, taper float64) (float64, error) {
	const doing = "change of seat"
	if err := known(doing, mm("change of diameter", change)); err != nil {
		return 0, err
	}
	if err := above(doing, input{"taper", taper, ""}); err != nil {
		return 0, err
	}
	return change / taper, nil
}

// SeatChangeOfWidth is SeatChange for a change of width of both blades (mm each,
// along the bark): two widths go round, so Δd = 2Δw/π.
func SeatChangeOfWidth(change, taper float64) (float64, error) {
	return SeatChange(2*change/math.Pi, taper)
}

// Cone is a mandrel or a bocal: the diameter of its small end (mm) and its
// change of diameter per mm.
type Cone struct{ Tip, Taper float64 }

// Bore is the inside of a reed at the butt: the diameter of its mouth (mm) and
// how much it narrows per mm inward, 0 where it was not reamed.
type Bore struct{ Mouth, Taper float64 }

// Touch is where a reed bears on a cone.
type Touch uint8

// A bore that narrows less than the cone bears on its mouth, one that narrows
// more bears on the cone's small end, one that was reamed alike bears all along.
const (
	AtTheMouth Touch = iota
	AtTheTip
	AllAlong
)

func (t Touch) String() string {
	return [...]string{"at the mouth", "at the tip", "all along"}[t]
}

// Fit is how a reed sits on a cone, lengths in mm.
type Fit struct {
	Depth   float64 // how far the small end goes in
	Touches Touch
	Contact float64 // over what length the gap stays within the play
}

// Seat is how far a reed goes on to a cone before it stops: (mouth - tip) over
// the greater of the two tapers. play (mm, of diameter, 0 or more) is the gap
// still counted as touching: the wedge is play/|difference of tapers| long, at
// most the depth. The bore is taken to keep its taper all the way and the cane
// not to give; a wet butt gives.
//
// Source: textbook.
func Seat(bore Bore, cone Cone, play float64) (Fit, error) {
	const doing = "seat a reed"
	if err := above(doing, mm("mouth", bore.Mouth), mm("tip", cone.Tip), input{"taper", cone.Taper, ""}); err != nil {
		return Fit{}, err
	}
	if err := known(doing, input{"taper of the bore", bore.Taper, ""}, mm("play", play)); err != nil {
		return Fit{}, err
	}
	if bore.Taper < 0 || play < 0 {
		return Fit{}, fmt.Errorf("%s: taper of the bore %.6g and play %.6g mm must not be below zero", doing, bore.Taper, play)
	}
	if bore.Mouth < cone.Tip {
		return Fit{}, fmt.Errorf("%s: %w: the mouth %.6g mm is narrower than the tip %.6g mm", doing, ErrNoSolution, bore.Mouth, cone.Tip)
	}
	f := Fit{Depth: (bore.Mouth - cone.Tip) / max(bore.Taper, cone.Taper), Touches: AllAlong}
	f.Contact = f.Depth
	if gap := math.Abs(cone.Taper - bore.Taper); gap > 0 {
		f.Touches = AtTheMouth
		if bore.Taper > cone.Taper {
			f.Touches = AtTheTip
		}
		f.Contact = min(f.Depth, play/gap)
	}
	return f, nil
}

// TubeOfWidths is the outside diameter (mm) of the round tube that two blades
// of these widths (mm, along the bark, at one place) close to: (a + b)/π.
//
// Source: textbook. The edges are taken to meet without bevel or gap.
func TubeOfWidths(a, b float64) (float64, error) {
	if err := above("tube of two widths", mm("width", a), mm("width", b)); err != nil {
		return 0, err
	}
	return (a + b) / math.Pi, nil
}

// BoreOfWidths is the inside diameter (mm) of that tube: (a + b)/π - 2t, with a
// wall of thickness t (mm) all round.
func BoreOfWidths(a, b, wall float64) (float64, error) {
	const doing = "bore of two widths"
	if err := above(doing, mm("width", a), mm("width", b), mm("wall", wall)); err != nil {
		return 0, err
	}
	d := (a+b)/math.Pi - 2*wall
	if d < 0 {
		return 0, fmt.Errorf("%s: %w: two walls of %.6g mm fill a tube of %.6g mm", doing, ErrNoSolution, wall, (a+b)/math.Pi)
	}
	return d, nil
}
