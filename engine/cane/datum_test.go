package cane

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestFromOtherEnd(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(r *rapid.T) {
		length := rapid.Float64Range(1, 150).Draw(r, "length")
		at := length * rapid.Float64Range(0, 1).Draw(r, "share")
		there, err := FromOtherEnd(length, at)
		if err != nil {
			r.Fatal(err)
		}
		back, err := FromOtherEnd(length, there)
		if err != nil || math.Abs(back-at) > 1e-12*length {
			r.Fatalf("%v comes back as %v (%v)", at, back, err)
		}
	})
	e, err := FromOtherEndU(Estimate{55, 0.03}, Estimate{27, 0.04}, 0.5)
	if err != nil {
		t.Fatal(err)
	}
	within(t, "place", e.Value, 28, 1e-12)
	within(t, "u, the ruler's zero left out", e.U, 0.05, 1e-15)
	_, err = FromOtherEnd(55, 55.001)
	refused(t, "off the end", err, false)
	_, err = FromOtherEnd(55, -0.001)
	refused(t, "before the start", err, false)
	_, err = FromOtherEndU(Estimate{55, -1}, Estimate{27, 0}, 0)
	refused(t, "an uncertainty below zero", err, false)
}

// The inch is 25.4 mm exactly (NIST SP 811, B.6). A fraction printed to 1/16 in
// means ±1/32 in, 0.79 mm; the finest to offer is 1/64 in, 0.397 mm.
func TestInchesOnPaper(t *testing.T) {
	t.Parallel()
	within(t, "1/32 in", 25.4/32, 0.79, 5e-3)
	n, left, err := SixtyFourths(0.397)
	if err != nil || n != 1 || math.Abs(left) > 5e-4 {
		t.Errorf("0.397 mm is %d/64 in and %v (%v)", n, left, err)
	}
	n, left, err = SixtyFourths(28.575) // 1 1/8 in
	if err != nil || n != 72 || math.Abs(left) > 1e-12 {
		t.Errorf("28.575 mm is %d/64 in and %v (%v)", n, left, err)
	}
	rapid.Check(t, func(r *rapid.T) {
		x := rapid.Float64Range(-200, 200).Draw(r, "x")
		n, left, err := SixtyFourths(x)
		if err != nil || math.Abs(left) > 25.4/128+1e-9 || math.Abs(float64(n)*25.4/64+left-x) > 1e-9 {
			r.Fatalf("%v is %d and %v (%v)", x, n, left, err)
		}
	})
	_, _, err = SixtyFourths(math.Inf(1))
	refused(t, "an endless length", err, false)
}

// A printed page (paulabrusky.com, Reed measurements) has 7.5 mm beside 5/16 in,
// 7.94 mm: no clash while the fraction may mean ±1/32 in. Read strictly it is one.
func TestColumnsOfAPage(t *testing.T) {
	t.Parallel()
	const sixteenth = 25.4 / 16
	if Disagree(7.5, 0.1, 5*sixteenth, sixteenth, false) {
		t.Error("7.5 mm and 5/16 in may mean the same")
	}
	if !Disagree(7.5, 0.1, 5*sixteenth, sixteenth, true) {
		t.Error("read strictly 7.5 mm and 5/16 in differ")
	}
	if !Disagree(7.0, 0.1, 5*sixteenth, sixteenth, false) {
		t.Error("7.0 mm and 5/16 in cannot mean the same")
	}
	if Disagree(1, 0.5, 1.5, 0.5, false) {
		t.Error("columns that just meet do not disagree")
	}
}
