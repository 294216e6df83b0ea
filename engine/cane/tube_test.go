package cane

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/mathext"
	"pgregory.net/rapid"
)

// Textbook: arc 2πR/n, chord 2R sin(π/n), sagitta R(1 - cos(π/n)).
func TestSplitRoundTube(t *testing.T) {
	t.Parallel()
	for n := 2; n <= MostPieces; n++ {
		for i, p := range must[[]Part](t)(Split(Tube{25, 25}, n, 0.3)) {
			k := math.Pi / float64(n)
			near(t, "arc", p.Arc, 25*k, 1e-13)
			near(t, "chord", p.Chord, 25*math.Sin(k), 1e-13)
			near(t, "sagitta", p.Sagitta, 12.5*(1-math.Cos(k)), 1e-12)
			near(t, "mean radius", p.MeanRadius, 12.5, 1e-12)
			near(t, "middle radius", p.MiddleRadius, 12.5, 1e-12)
			within(t, "lopsided", p.Lopsided, 0, 1e-11)
			within(t, "first edge", p.From, 0.3+2*k*float64(i), 1e-12)
		}
	}
}

// Textbook: b²/a at the pointed ends, a²/b on the flat sides.
func TestRadiiAtTheEndsOfTheDiameters(t *testing.T) {
	t.Parallel()
	e := newEllipse(13, 12)
	near(t, "pointed", e.radius(0), 144.0/13, 1e-14)
	near(t, "pointed", e.radius(math.Pi), 144.0/13, 1e-14)
	near(t, "flat", e.radius(math.Pi/2), 169.0/12, 1e-14)
	parts := must[[]Part](t)(Split(Tube{24, 26}, 2, 0)) // either order of the diameters
	near(t, "middle of a half", parts[0].MiddleRadius, 169.0/12, 1e-12)
}

// Reference: gonum's Gauss–Legendre quadrature of the speed and of the radius
// of curvature, and the complete elliptic integral of gonum's mathext.
func TestEllipseAgainstQuadrature(t *testing.T) {
	t.Parallel()
	for _, e := range []ellipse{newEllipse(12.5, 12.5), newEllipse(13, 12), newEllipse(5.3, 4.9), newEllipse(10, 2)} {
		near(t, "around", e.around(), 4*e.a*mathext.CompleteE(1-e.b*e.b/(e.a*e.a)), 1e-14)
		for _, at := range []float64{0.1, 1, math.Pi / 2, 2, 3.5, 6, 8} {
			near(t, "arc", e.arc(at), quad.Fixed(e.speed, 0, at, 400, nil, 0), 1e-12)
			bent := func(t float64) float64 { return e.radius(t) * e.speed(t) }
			near(t, "integral of the radius", e.bent(at), quad.Fixed(bent, 0, at, 400, nil, 0), 1e-12)
			within(t, "place of an arc", e.at(e.arc(at)), at, 1e-12)
		}
		within(t, "place before the start", e.at(e.arc(-0.7)), -0.7, 1e-12)
	}
}

// The height over the chord, found by walking along the arc.
func TestSagittaOfAnOvalPiece(t *testing.T) {
	t.Parallel()
	e := newEllipse(13, 12)
	for _, p := range e.split(3, 4) {
		from, to := e.at(e.arcOfAngle(p.From)), e.at(e.arcOfAngle(p.To))
		x1, y1 := e.point(from)
		x2, y2 := e.point(to)
		highest := 0.0
		const steps = 20000
		for i := range steps {
			x, y := e.point(from + (to-from)*float64(i)/steps)
			highest = max(highest, ((x2-x1)*(y1-y)-(x1-x)*(y2-y1))/p.Chord)
		}
		within(t, "sagitta", p.Sagitta, highest, 1e-6)
	}
}

// arcOfAngle: arc length to an angle at the centre, of any number of turns.
func (e ellipse) arcOfAngle(angle float64) float64 {
	sin, cos := math.Sincos(angle)
	t := math.Atan2(e.a*sin, e.b*cos)
	return e.arc(t + 2*math.Pi*math.Round((angle-t)/(2*math.Pi)))
}

func TestSplitGivesEqualArcsThatGoRound(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(r *rapid.T) {
		tube := Tube{rapid.Float64Range(9, 28).Draw(r, "wide"), 0}
		tube.Narrow = tube.Wide * rapid.Float64Range(0.3, 1).Draw(r, "share")
		n := rapid.IntRange(2, MostPieces).Draw(r, "n")
		turn := rapid.Float64Range(-7, 7).Draw(r, "turn")
		parts, err := Split(tube, n, turn)
		if err != nil {
			r.Fatal(err)
		}
		e := newEllipse(tube.Wide/2, tube.Narrow/2)
		bark, arc := 0.0, 0.0
		for i, p := range parts {
			// Each arc again, by quadrature between the edges' own angles.
			t0, t1 := e.arcOfAngle(p.From), e.arcOfAngle(p.To)
			if math.Abs(t1-t0-p.Arc) > 1e-9 {
				r.Fatalf("piece %d spans %v, want %v", i, t1-t0, p.Arc)
			}
			if p.Chord >= p.Arc || p.Sagitta <= 0 || p.Sagitta >= p.Arc {
				r.Fatalf("piece %d: %+v", i, p)
			}
			low, high := e.radius(0), e.radius(math.Pi/2)
			for _, radius := range []float64{p.MeanRadius, p.MiddleRadius} {
				if radius < low*(1-1e-9) || radius > high*(1+1e-9) {
					r.Fatalf("piece %d: radius %v is outside %v to %v", i, radius, low, high)
				}
			}
			bark, arc = bark+p.MeanRadius*p.Arc, arc+p.Arc
		}
		if math.Abs(arc-e.around()) > 1e-9 || math.Abs(bark-e.bent(2*math.Pi)) > 1e-7 {
			r.Fatalf("the pieces make up %v of %v round, and %v of %v", arc, e.around(), bark, e.bent(2*math.Pi))
		}
	})
}

func TestBestTurnOfFourAndThree(t *testing.T) {
	t.Parallel()
	tube := Tube{25.6, 24.4}
	// Four: the ends of the diameters, by symmetry; each piece is lopsided.
	turn, spread, err := BestTurn(tube, 4)
	if err != nil || turn != 0 || spread > 1e-9 {
		t.Errorf("four pieces: turn %v, spread %v (%v), want 0 and 0", turn, spread, err)
	}
	for _, p := range must[[]Part](t)(Split(tube, 4, turn)) {
		if math.Abs(p.Lopsided) < 1 {
			t.Errorf("a quarter between the ends of two diameters is lopsided, not by %v", p.Lopsided)
		}
	}
	// Turned by half a piece they are even, two flat and two round.
	even := must[[]Part](t)(Split(tube, 4, math.Atan2(24.4, 25.6)))
	if RadiusSpread(even) < 1 {
		t.Errorf("half a piece further the spread is %v", RadiusSpread(even))
	}
	// Three: to first order in the ovalness the mean radii are three places a
	// third of a turn apart on one cosine, whose range is 3/2 at best and √3 at
	// worst. A slight oval shows that ratio.
	slight := newEllipse(12.5005, 12.4995)
	_, best, err := BestTurn(Tube{25.001, 24.999}, 3)
	if err != nil {
		t.Fatal(err)
	}
	worst := 0.0
	for i := range 400 {
		worst = max(worst, slight.spread(3, slight.around()*float64(i)/400))
	}
	within(t, "best over worst of three", best/worst, math.Sqrt(3)/2, 1e-4)
	// Two are always alike, and a round tube may lie as it will.
	for _, c := range []struct {
		tube Tube
		n    int
	}{{tube, 2}, {Tube{25, 25}, 3}, {Tube{10.5, 10.5}, 7}} {
		turn, spread, err := BestTurn(c.tube, c.n)
		if err != nil || turn != 0 || spread > 1e-9 {
			t.Errorf("%+v into %d: turn %v, spread %v (%v)", c.tube, c.n, turn, spread, err)
		}
	}
}

// No turn of a fine comb beats the best one, and the spread is that of the
// pieces that Split makes there.
func TestNoTurnBeatsTheBest(t *testing.T) {
	t.Parallel()
	for _, share := range []float64{0.5, 0.7, 0.9, 0.97} {
		for n := 2; n <= 9; n++ {
			tube := Tube{25, 25 * share}
			turn, best, err := BestTurn(tube, n)
			if err != nil {
				t.Fatal(err)
			}
			within(t, "spread of the pieces at the best turn", RadiusSpread(must[[]Part](t)(Split(tube, n, turn))), best, 1e-9)
			e := newEllipse(12.5, 12.5*share)
			for i := range 300 {
				if d := e.spread(n, e.around()/float64(n)*float64(i)/300); d < best-2e-5 {
					t.Errorf("%d pieces of %v: spread %v at step %d beats %v", n, tube, d, i, best)
					break
				}
			}
		}
	}
}

func TestSplitRefuses(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		what string
		tube Tube
		n    int
		turn float64
	}{
		{"one piece", Tube{25, 25}, 1, 0},
		{"too many pieces", Tube{25, 25}, MostPieces + 1, 0},
		{"no tube", Tube{0, 25}, 3, 0},
		{"a tube of NaN", Tube{25, math.NaN()}, 3, 0},
		{"an endless turn", Tube{25, 24}, 3, math.Inf(1)},
	} {
		_, err := Split(c.tube, c.n, c.turn)
		refused(t, c.what, err, false)
		if c.turn == 0 {
			_, _, err = BestTurn(c.tube, c.n)
			refused(t, c.what, err, false)
		}
	}
}
