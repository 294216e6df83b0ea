package cane

import (
	"fmt"
	"math"
)

// MostPieces is the largest number of pieces Split takes: more than any
// splitter has edges, and a bound on the work a formula can ask for.
const MostPieces = 24

// Tube is the outside of a tube of cane across, in mm: two diameters at right
// angles, equal where it is round. Which of them is the longer does not matter,
// because two readings of a round tube may come out either way.
type Tube struct{ Wide, Narrow float64 }

// Part is one piece of a split tube, before anything is taken off. Lengths and
// radii in mm, angles in rad at the tube's centre from the long diameter.
type Part struct {
	From, To     float64 // where its edges lie
	Arc          float64 // width along the bark
	Chord        float64 // width straight across, edge to edge
	Sagitta      float64 // greatest height of the bark over the chord
	MeanRadius   float64 // radius of curvature of the bark, mean over the arc
	MiddleRadius float64 // radius of curvature at the middle of the arc
	Lopsided     float64 // mean radius of the half towards From less that of the other half
}

func (t Tube) ellipse(doing string) (ellipse, error) {
	if err := above(doing, mm("diameter", t.Wide), mm("diameter", t.Narrow)); err != nil {
		return ellipse{}, err
	}
	return newEllipse(max(t.Wide, t.Narrow)/2, min(t.Wide, t.Narrow)/2), nil
}

func piecesAllowed(doing string, n int) error {
	if n < 2 || n > MostPieces {
		return fmt.Errorf("%s: %d pieces, want 2 to %d", doing, n, MostPieces)
	}
	return nil
}

// Split divides a tube into n pieces of equal arc, the first edge turned by an
// angle (rad, at the centre) from the long diameter. A round tube gives arc
// 2πR/n, chord 2R sin(π/n), sagitta R(1 - cos(π/n)) and radius R for every
// piece. n is 2 to MostPieces. The tube is taken to be an ellipse.
//
// Source: textbook; arc length of the ellipse NIST DLMF 19.30.
func Split(tube Tube, n int, turn float64) ([]Part, error) {
	const doing = "split a tube"
	e, err := tube.ellipse(doing)
	if err != nil {
		return nil, err
	}
	if err := piecesAllowed(doing, n); err != nil {
		return nil, err
	}
	if err := known(doing, input{"turn", turn, "rad"}); err != nil {
		return nil, err
	}
	sin, cos := math.Sincos(turn)
	return e.split(n, e.arc(math.Atan2(e.a*sin, e.b*cos))), nil
}

// split divides from the arc length s on.
func (e ellipse) split(n int, s float64) []Part {
	each := e.around() / float64(n)
	parts := make([]Part, n)
	from := e.at(s)
	for i := range parts {
		to := e.at(s + float64(i+1)*each)
		middle := e.at(s + (float64(i)+0.5)*each)
		x1, y1 := e.point(from)
		x2, y2 := e.point(to)
		chord := math.Hypot(x2-x1, y2-y1)
		half := (to - from) / 2
		parts[i] = Part{
			From: e.angle(from), To: e.angle(to),
			Arc: each, Chord: chord,
			// Stretched from a circle, the highest place stays halfway in t, and
			// the triangle over the chord grows by a·b.
			Sagitta:      2 * e.a * e.b * math.Sin(half) * (1 - math.Cos(half)) / chord,
			MeanRadius:   (e.bent(to) - e.bent(from)) / each,
			MiddleRadius: e.radius(middle),
			Lopsided:     (2*e.bent(middle) - e.bent(from) - e.bent(to)) / (each / 2),
		}
		from = to
	}
	return parts
}

// angle at the centre, for any t: the same quarter turn as t.
func (e ellipse) angle(t float64) float64 {
	turns := math.Round(t / (2 * math.Pi))
	x, y := e.point(t - turns*2*math.Pi)
	return math.Atan2(y, x) + turns*2*math.Pi
}

// RadiusSpread is the largest mean radius among the pieces less the smallest,
// in mm.
func RadiusSpread(parts []Part) float64 {
	low, high := math.Inf(1), math.Inf(-1)
	for _, p := range parts {
		low, high = min(low, p.MeanRadius), max(high, p.MeanRadius)
	}
	if low > high {
		return 0
	}
	return high - low
}

// spread is RadiusSpread for pieces that begin at arc length s.
func (e ellipse) spread(n int, s float64) float64 {
	each := e.around() / float64(n)
	low, high := math.Inf(1), math.Inf(-1)
	first := e.bent(e.at(s))
	for i := range n {
		next := e.bent(e.at(s + float64(i+1)*each))
		r := (next - first) / each
		low, high = min(low, r), max(high, r)
		first = next
	}
	return high - low
}

// BestTurn is how to turn an oval tube before it is split into n, so that the
// pieces come out as alike as they can: the angle (rad, at the centre, from the
// long diameter to the first edge) at which the mean radii differ least, and by
// how much they still differ (mm). The smallest such angle of 0 or more, to about
// a thousandth of a degree; 0 where turning changes nothing.
//
// Alike is not even: four pieces come out alike with the edges at the ends of
// the two diameters, but then each piece is rounder on one half (Part.Lopsided).
// Three pieces can never come out alike: the best turn leaves about 0.87 of the
// spread of the worst.
//
// Source: own computation from the ellipse; the claims above are tests.
func BestTurn(tube Tube, n int) (turn, spread float64, err error) {
	const doing = "turn an oval tube"
	e, err := tube.ellipse(doing)
	if err != nil {
		return 0, 0, err
	}
	if err := piecesAllowed(doing, n); err != nil {
		return 0, 0, err
	}
	// Mirrored in either diameter the ellipse is itself, so turns beyond half a
	// piece repeat.
	last := e.around() / float64(2*n)
	const steps = 8
	best, s := e.spread(n, 0), 0.0
	alike := 1e-9 * e.a // differences below this are rounding
	at := 0
	for i := 1; i <= steps; i++ {
		if d := e.spread(n, last*float64(i)/steps); d < best-alike {
			best, s, at = d, last*float64(i)/steps, i
		}
	}
	if best < alike {
		return e.angle(e.at(s)), best, nil
	}
	// Between the neighbours of the best step the spread has one lowest place:
	// a golden section closes in on it.
	low, high := last*float64(max(at-1, 0))/steps, last*float64(min(at+1, steps))/steps
	const golden = 0.6180339887498949
	for range 24 {
		p, q := high-golden*(high-low), low+golden*(high-low)
		if e.spread(n, p) <= e.spread(n, q) {
			high = q
		} else {
			low = p
		}
	}
	if d := e.spread(n, (low+high)/2); d < best-alike {
		best, s = d, (low+high)/2
	}
	return e.angle(e.at(s)), best, nil
}
