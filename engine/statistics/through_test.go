package statistics_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"

	"canewright/engine/statistics"
)

// digits is how many digits of got agree with want: the log relative error.
func digits(got, want float64) float64 {
	if got == want {
		return 16
	}
	return -math.Log10(math.Abs(got-want) / math.Abs(want))
}

// Source: NIST/ITL StRD, linear regression, NoInt1 and NoInt2 (K. Eberhardt,
// NIST; "average" difficulty), model y = B1·x + e. Certified values are printed
// to 15 digits, the slope of NoInt1 to 15, its deviation to 15.
func TestThroughAgreesWithCertifiedValues(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name         string
		x, y         []float64
		slope, se, s float64
	}{
		{"NoInt1",
			[]float64{60, 61, 62, 63, 64, 65, 66, 67, 68, 69, 70},
			[]float64{130, 131, 132, 133, 134, 135, 136, 137, 138, 139, 140},
			2.07438016528926, 0.165289256198347e-01, 3.56753034006338},
		{"NoInt2", []float64{4, 5, 6}, []float64{3, 4, 4}, 0.727272727272727, 0.420827318078432e-01, 0.369274472937998},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			l, err := statistics.Through(c.x, c.y)
			if err != nil {
				t.Fatal(err)
			}
			for what, v := range map[string][2]float64{"slope": {l.Slope, c.slope}, "its error": {l.SE, c.se}, "residual": {l.S, c.s}} {
				if d := digits(v[0], v[1]); d < 13 {
					t.Errorf("%s is %.16g, certified %.16g: %.1f digits", what, v[0], v[1], d)
				}
			}
			if l.N != len(c.x) || l.Largest != c.x[len(c.x)-1] {
				t.Errorf("%d pairs up to %v", l.N, l.Largest)
			}
		})
	}
}

// NoInt2 in whole numbers: Σx² = 77, Σxy = 56, b = 8/11, s² = (1 + 16 + 16)/121/2
// from the residuals 1/11, 4/11, -4/11. Source of t: JCGM 100:2008,
// table G.2, 95 %: 4.30 for 2 degrees of freedom (4.302653 to more digits).
func TestPredictAgreesWithNumbersWorkedByHand(t *testing.T) {
	t.Parallel()
	l, err := statistics.Through([]float64{4, 5, 6}, []float64{3, 4, 4})
	if err != nil {
		t.Fatal(err)
	}
	const t95 = 4.30265273
	s := math.Sqrt((1.0 + 16 + 16) / 121 / 2)
	for _, x := range []float64{0, 5, 11} {
		half := t95 * s * math.Sqrt(1+x*x/77)
		got := l.Predict(x, 0.95)
		for what, v := range map[string][2]float64{"low": {got.Low, 8*x/11 - half}, "at": {got.At, 8 * x / 11}, "high": {got.High, 8*x/11 + half}} {
			if math.Abs(v[0]-v[1]) > 1e-7 {
				t.Errorf("at %v %s is %.9f, want %.9f", x, what, v[0], v[1])
			}
		}
	}
}

// Source: JCGM 100:2008, table G.2, p = 95 %, to its two decimals. A line of
// n pairs whose residuals and Σx² are 1 shows t itself: at x = 0 the interval is ± t s.
func TestPredictUsesStudentsFactor(t *testing.T) {
	t.Parallel()
	for nu, want := range map[int]float64{1: 12.71, 2: 4.30, 3: 3.18, 4: 2.78, 5: 2.57, 10: 2.23, 20: 2.09, 50: 2.01} {
		x, y := make([]float64, nu+1), make([]float64, nu+1)
		for i := range x {
			x[i], y[i] = float64(i+1), float64(2*(i+1))+math.Pow(-1, float64(i))
		}
		l, err := statistics.Through(x, y)
		if err != nil {
			t.Fatal(err)
		}
		if got := l.Predict(0, 0.95).High / l.S; math.Abs(got-want) > 0.005 {
			t.Errorf("%d degrees of freedom: t is %.4f, want %.2f", nu, got, want)
		}
	}
}

// Of many fresh values the stated share must fall inside, and a wanted y must be
// overshot at Low no more often than half of what lies outside.
func TestIntervalsHoldTheirShare(t *testing.T) {
	t.Parallel()
	const tries = 20_000
	for _, p := range []float64{0.80, 0.95} {
		random := rand.New(rand.NewPCG(1, 2))
		inside, over := 0, 0
		for range tries {
			var x, y [6]float64
			for i := range x {
				x[i] = float64(4 + 2*i)
				y[i] = 3*x[i] + 2*random.NormFloat64()
			}
			l, err := statistics.Through(x[:], y[:])
			if err != nil {
				t.Fatal(err)
			}
			fresh := 3*10 + 2*random.NormFloat64()
			if i := l.Predict(10, p); fresh >= i.Low && fresh <= i.High {
				inside++
			}
			n, ok := l.Needed(40, p)
			if !ok {
				t.Fatal("no x is certain to do")
			}
			if 3*n.Low+2*random.NormFloat64() > 40 {
				over++
			}
		}
		// Four standard errors of a share.
		if got, room := float64(inside)/tries, 4*math.Sqrt(p*(1-p)/tries); math.Abs(got-p) > room {
			t.Errorf("p %.2f: %.4f lie inside", p, got)
		}
		if got, want := float64(over)/tries, (1-p)/2; math.Abs(got-want) > 4*math.Sqrt(want*(1-want)/tries) {
			t.Errorf("p %.2f: %.4f overshoot at the lower end, want %.4f", p, got, want)
		}
	}
}

func TestNeededIsPredictReadTheOtherWay(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 12).Draw(t, "n")
		x, y := make([]float64, n), make([]float64, n)
		for i := range x {
			x[i] = float64(rapid.IntRange(1, 40).Draw(t, "x"))
			y[i] = 5*x[i] + float64(rapid.IntRange(-9, 9).Draw(t, "scatter"))
		}
		l, err := statistics.Through(x, y)
		if err != nil {
			t.Fatal(err)
		}
		want := float64(rapid.IntRange(1, 400).Draw(t, "wanted"))
		in, ok := l.Needed(want, 0.95)
		if !ok {
			return
		}
		if in.Low > in.At || in.At > in.High {
			t.Fatalf("ends out of order: %+v", in)
		}
		scale := want + math.Abs(l.Predict(in.High, 0.95).High)
		if got := l.Predict(in.Low, 0.95).High; math.Abs(got-want) > 1e-9*scale {
			t.Fatalf("at %v the upper end is %v, want %v", in.Low, got, want)
		}
		if got := l.Predict(in.High, 0.95).Low; math.Abs(got-want) > 1e-9*scale {
			t.Fatalf("at %v the lower end is %v, want %v", in.High, got, want)
		}
	})
}

func TestNothingIsSaidWhereThereIsNothingToSay(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		x, y []float64
		want string
	}{
		"one pair":      {[]float64{1}, []float64{1}, "fit a line through the origin: at least two pairs are needed, not 1"},
		"unlike counts": {[]float64{1, 2}, []float64{1}, "fit a line through the origin: 2 values of x, 1 of y"},
		"no strokes":    {[]float64{0, 0}, []float64{1, 2}, "fit a line through the origin: every x is nought"},
		"no number":     {[]float64{1, math.NaN()}, []float64{1, 2}, "fit a line through the origin: pair 2 is no number"},
		"too large":     {[]float64{1e200, 1e200}, []float64{1, 2}, "fit a line through the origin: the numbers are too large"},
	} {
		if _, err := statistics.Through(c.x, c.y); fmt.Sprint(err) != c.want {
			t.Errorf("%s: %v", name, err)
		}
	}
	// The slope may be nought: it is 1 with a standard error above 1.
	l, err := statistics.Through([]float64{1, 1, 1}, []float64{-1, 0, 4})
	if err != nil {
		t.Fatal(err)
	}
	if in, ok := l.Needed(5, 0.95); ok {
		t.Errorf("a slope of %v ± %v says how much is needed: %+v", l.Slope, l.SE, in)
	}
	down, err := statistics.Through([]float64{1, 2, 3}, []float64{-1, -2, -3})
	if err != nil {
		t.Fatal(err)
	}
	if _, ok := down.Needed(5, 0.95); ok {
		t.Error("a slope below nought says how much is needed")
	}
}
