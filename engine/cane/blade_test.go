package cane

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/interp"
	"pgregory.net/rapid"
)

var (
	stations = []float64{3, 9, 15, 21}
	spine    = []float64{0.90, 0.70, 0.47, 0.30}
	rails    = []float64{0.60, 0.46, 0.30, 0.17}
)

// Reference: gonum's own curve, and a straight line, which any of them must give
// back.
func TestAlongAgainstGonum(t *testing.T) {
	t.Parallel()
	var curve interp.FritschButland
	if err := curve.Fit(stations, spine); err != nil {
		t.Fatal(err)
	}
	for x := 3.0; x <= 21; x += 0.25 {
		within(t, "thickness", must[float64](t)(Along(stations, spine, x)), curve.Predict(x), 1e-15)
		within(t, "line", must[float64](t)(Along(stations, []float64{0.9, 0.7, 0.5, 0.3}, x)), 1-x/30, 1e-15)
		within(t, "two stations", must[float64](t)(Along([]float64{3, 21}, []float64{0.9, 0.3}, x)), 1-x/30, 1e-15)
	}
}

// Fritsch and Carlson (1980): with slopes d at the ends of a piece whose chord
// has the slope m, 0 ≤ d/m ≤ 3 at both is enough for monotony. The slopes are
// taken from the curve itself by differences.
func TestSlopesLieInsideTheMonotonySquare(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(r *rapid.T) {
		xs, ys := column(r)
		for i := 1; i < len(xs); i++ {
			h := xs[i] - xs[i-1]
			m := (ys[i] - ys[i-1]) / h
			value := func(x float64) float64 {
				v, err := Along(xs, ys, x)
				if err != nil {
					r.Fatal(err)
				}
				return v
			}
			const d = 1e-5
			first, last := (value(xs[i-1]+d*h)-ys[i-1])/(d*h), (ys[i]-value(xs[i]-d*h))/(d*h)
			for _, slope := range []float64{first, last} {
				if m == 0 && math.Abs(slope) > 1e-9 || slope*m < -1e-9 || math.Abs(slope) > 3*math.Abs(m)+1e-6 {
					r.Fatalf("slope %v beside a chord of %v in piece %d of %v %v", slope, m, i, xs, ys)
				}
			}
		}
	})
}

// column draws stations and thicknesses, some level, some rising.
func column(r *rapid.T) (xs, ys []float64) {
	n := rapid.IntRange(2, 9).Draw(r, "n")
	x := 0.0
	for range n {
		x += rapid.Float64Range(0.5, 6).Draw(r, "step")
		xs = append(xs, x)
		ys = append(ys, float64(rapid.IntRange(5, 100).Draw(r, "hundredths"))/100)
	}
	return xs, ys
}

// Between two stations the curve stays between their readings and goes one way.
func TestAlongGoesOneWayBetweenStations(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(r *rapid.T) {
		xs, ys := column(r)
		for i := 1; i < len(xs); i++ {
			before := ys[i-1]
			for k := range 41 {
				v, err := Along(xs, ys, min(xs[i], xs[i-1]+(xs[i]-xs[i-1])*float64(k)/40))
				if err != nil {
					r.Fatal(err)
				}
				if v < min(ys[i-1], ys[i]) || v > max(ys[i-1], ys[i]) {
					r.Fatalf("%v is not between %v and %v", v, ys[i-1], ys[i])
				}
				if (v-before)*(ys[i]-ys[i-1]) < -1e-15 {
					r.Fatalf("turns back from %v to %v between %v and %v", before, v, ys[i-1], ys[i])
				}
				before = v
			}
			if v, err := Along(xs, ys, xs[i]); err != nil || v != ys[i] {
				r.Fatalf("at a station %v (%v), read %v", v, err, ys[i])
			}
		}
	})
}

func TestBladeIsLinearAcross(t *testing.T) {
	t.Parallel()
	b := Blade{Along: stations, Across: []float64{-1, 0, 1}}
	for i := range stations {
		b.Thickness = append(b.Thickness, []float64{rails[i], spine[i], rails[i] + 0.01})
	}
	for x := 3.0; x <= 21; x += 1.5 {
		left, middle := must[float64](t)(Along(stations, rails, x)), must[float64](t)(Along(stations, spine, x))
		within(t, "rail", must[float64](t)(b.At(x, -1)), left, 0)
		within(t, "spine", must[float64](t)(b.At(x, 0)), middle, 0)
		within(t, "a quarter from the spine", must[float64](t)(b.At(x, -0.25)), 0.75*middle+0.25*left, 1e-15)
	}
	within(t, "right rail at a station", must[float64](t)(b.At(9, 1)), 0.47, 1e-15)
}

func TestBladesRefuse(t *testing.T) {
	t.Parallel()
	nan := math.NaN()
	for _, c := range []struct {
		what   string
		at, ts []float64
		x      float64
	}{
		{"before the first station", stations, spine, 2.999},
		{"beyond the last station", stations, spine, 21.001},
		{"a place of NaN", stations, spine, nan},
		{"beyond what is known", stations, []float64{0.9, 0.7, 0.47, nan}, 18},
		{"nothing known", stations, []float64{nan, nan, nan, nan}, 9},
		{"no station", nil, nil, 9},
		{"stations out of order", []float64{3, 9, 9}, []float64{1, 1, 1}, 5},
		{"an endless reading", []float64{3, 9}, []float64{1, math.Inf(1)}, 5},
		{"too few readings", stations, spine[:3], 9},
	} {
		_, err := Along(c.at, c.ts, c.x)
		refused(t, c.what, err, false)
	}
	within(t, "across a gap", must[float64](t)(Along([]float64{0, 3, 6}, []float64{0.9, nan, 0.3}, 3)), 0.6, 1e-15)
	within(t, "one station", must[float64](t)(Along([]float64{3}, []float64{0.9}, 3)), 0.9, 0)
	b := Blade{stations, []float64{0, 1}, [][]float64{{1, 1}, {1, 1}, {1, 1}, {1, 1}}}
	for _, across := range []float64{-0.01, 1.01, nan} {
		_, err := b.At(9, across)
		refused(t, "outside the lanes", err, false)
	}
	_, err := b.At(2, 0.5)
	refused(t, "outside the stations between lanes", err, false)
	_, err = Blade{stations, nil, [][]float64{{}, {}, {}, {}}}.At(9, 0)
	refused(t, "no lane", err, false)
	_, err = Blade{stations, []float64{0, 1}, [][]float64{{1, 1}}}.At(9, 0)
	refused(t, "too few rows", err, false)
	_, err = Blade{stations, []float64{0, 1}, [][]float64{{1, 1}, {1}, {1, 1}, {1, 1}}}.At(9, 0)
	refused(t, "a short row", err, false)
}
