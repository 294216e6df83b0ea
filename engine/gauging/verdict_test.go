package gauging

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"canewright/engine/quantity"
	"canewright/engine/tool"
)

func TestJudge(t *testing.T) {
	t.Parallel()
	gouge := "1.30 +0.03 -0.02 mm"
	dial := tool.Tool{Step: length(10000)}
	fine := tool.Tool{Step: length(1000)}
	for _, c := range []struct {
		name     string
		target   string
		readings []string
		tool     tool.Tool
		own      *Repeatability
		sure     float64
		side     quantity.Side
		on, ok   bool
		coarse   bool
		more     int
	}{
		{"well inside", gouge, []string{"1.31 mm"}, dial, nil, 0.8, quantity.Inside, false, true, false, 0},
		{"on the upper limit", gouge, []string{"1.33 mm"}, dial, nil, 0.8, quantity.Inside, true, false, false, 0},
		{"on the lower limit", gouge, []string{"1.28 mm"}, dial, nil, 0.8, quantity.Inside, true, false, false, 0},
		{"on a limit is never sure, even if half would do", "at most 1.33 mm", []string{"1.33 mm"}, dial, nil, 0.5, quantity.Inside, true, false, false, 0},
		{"a mean on a limit", gouge, []string{"1.32 mm", "1.34 mm"}, dial, nil, 0.8, quantity.Inside, true, false, false, 0},
		{"a mean beside a limit by a third of a quantum", "at most 1.33 mm", []string{"1.33 mm", "1.33 mm", "1.330001 mm"}, fine, nil, 0.8, quantity.Above, false, false, true, 0},
		{"well above", gouge, []string{"1.37 mm"}, dial, nil, 0.8, quantity.Above, false, true, false, 0},
		{"well below", gouge, []string{"1.25 mm"}, dial, nil, 0.8, quantity.Below, false, true, false, 0},
		{"a wide gauge cannot tell", gouge, []string{"1.31 mm"}, tool.Tool{Step: length(200000)}, nil, 0.8, quantity.Inside, false, false, true, 0},
		{"above, and the gauge cannot tell", gouge, []string{"1.34 mm"}, tool.Tool{Step: length(200000)}, nil, 0.8, quantity.Above, false, false, true, 0},
		// u(A) = 10 µm/√1 own, 10 µm inside: Φ-like 0.83 at ν = 9; 0.95 needs
		// t(n-1)(0.95) ≤ √n: t(3) = 2.353 > 2, t(4) = 2.132 ≤ √5 = 2.236.
		{"four more would do", "at most 1.33 mm", []string{"1.32 mm"}, tool.Tool{Step: length(1)}, &Repeatability{S: 10000, N: 10}, 0.95, quantity.Inside, false, false, false, 4},
		{"no number of readings would do", "at most 1.33 mm", []string{"1.3299 mm"}, tool.Tool{Step: length(1)}, &Repeatability{S: 10000, N: 10}, 0.95, quantity.Inside, false, false, false, 0},
		// u(A) = 42.4 µm/√n, 40 µm above, at 90 %: t(2) = 1.886 > 40 √3/42.4, t(3) =
		// 1.638 <= 40 √4/42.4.
		{"scattered far above", "at most 1.33 mm", []string{"1.34 mm", "1.40 mm"}, dial, nil, 0.9, quantity.Above, false, false, false, 2},
		{"a count is sure", "5 .. 7", []string{"7"}, tool.Tool{}, nil, 0.99, quantity.Inside, true, true, false, 0},
		{"a count outside is sure", "5 .. 7", []string{"8"}, tool.Tool{}, nil, 0.99, quantity.Above, false, true, false, 0},
	} {
		kind := quantity.Length
		if c.target == "5 .. 7" {
			kind = quantity.Count
		}
		v := Judge(Of(readings(t, kind, c.readings...), c.tool, c.own), tolerance(t, c.target, kind), c.sure)
		if v.Side != c.side || v.OnLimit != c.on || v.Sure != c.ok || v.Coarse != c.coarse || v.More != c.more {
			t.Errorf("%s: %+v", c.name, v)
		}
	}
}

func TestNoUncertaintyIsCertain(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		q           int64
		side        quantity.Side
		probability float64
	}{{99, quantity.Below, 0}, {100, quantity.Inside, 1}, {150, quantity.Inside, 1}, {200, quantity.Inside, 1}, {201, quantity.Above, 0}} {
		v := Judge(known(c.q, 0), limits(100, 200), 0.99)
		if v.Side != c.side || v.Probability != c.probability || v.SideProbability != 1 || !v.Sure || v.Coarse || v.More != 0 {
			t.Errorf("%d in 100 to 200 without uncertainty: %+v", c.q, v)
		}
	}
}

// drawn is an estimate near the limits -1000 to 1000, of any quality.
func drawn(rt *rapid.T) Estimate {
	e := Estimate{N: rapid.IntRange(1, 10).Draw(rt, "n"), Kind: quantity.Length}
	e.Sum = rapid.Int64Range(-3000, 3000).Draw(rt, "sum") * int64(rapid.SampledFrom([]int{1, e.N}).Draw(rt, "times"))
	e.Best = float64(e.Sum) / float64(e.N)
	e.S = rapid.Float64Range(0, 500).Draw(rt, "s")
	e.B = rapid.Float64Range(0, 500).Draw(rt, "b")
	if e.N == 1 && !rapid.Bool().Draw(rt, "own") {
		e.S = 0
	}
	e.spread(float64(e.N), float64(max(e.N-1, 1)))
	return e
}

func TestVerdictProperties(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(rt *rapid.T) {
		e := drawn(rt)
		sure := rapid.Float64Range(0.5, 0.999).Draw(rt, "sure")
		low, high := rapid.Int64Range(-1500, 0).Draw(rt, "low"), rapid.Int64Range(0, 1500).Draw(rt, "high")
		tol := limits(low, high)
		v := Judge(e, tol, sure)

		lo, hi := e.rooms(tol)
		o := oddsOf(lo, hi, e.U, e.Freedom)
		for _, p := range []float64{v.Probability, v.SideProbability, o.below, o.above} {
			if !(p >= 0 && p <= 1) {
				rt.Fatalf("probability %v of %+v", p, e)
			}
		}
		if sum := o.inside + o.below + o.above; math.Abs(sum-1) > 1e-9 {
			rt.Fatalf("the three sides add up to %v", sum)
		}
		if v.Sure && !(v.OnLimit && e.U == 0) && v.SideProbability < sure {
			rt.Fatalf("sure at %v, asked for %v", v.SideProbability, sure)
		}
		if v.Sure && (v.Coarse || v.More != 0) || v.Coarse && v.More != 0 {
			rt.Fatalf("%+v", v)
		}
		if v.Side == quantity.Inside && v.Probability != v.SideProbability {
			rt.Fatalf("inside with %v, conformity %v", v.SideProbability, v.Probability)
		}
		if v.Side != quantity.Inside && v.SideProbability < 0.5-1e-9 {
			rt.Fatalf("%v with probability %v", v.Side, v.SideProbability)
		}
		if v.More > 0 {
			next := e
			next.N += v.More
			next.Sum = 0 // the mean stays; only the spread is needed
			next.spread(float64(next.N), float64(next.N-1))
			if got := oddsOf(lo, hi, next.U, next.Freedom).of(v.Side); got < sure {
				rt.Fatalf("%d more give %v, asked for %v", v.More, got, sure)
			}
			if v.More > 1 {
				next.spread(float64(next.N-1), float64(next.N-2))
				if got := oddsOf(lo, hi, next.U, next.Freedom).of(v.Side); got >= sure {
					rt.Fatalf("%d more are said, one fewer gives %v", v.More, got)
				}
			}
		}
		// More room, more conformity.
		wider := Judge(e, limits(low-rapid.Int64Range(0, 500).Draw(rt, "lower"), high+rapid.Int64Range(0, 500).Draw(rt, "higher")), sure)
		if wider.Probability < v.Probability-1e-12 {
			rt.Fatalf("more room, less conformity: %v, then %v", v.Probability, wider.Probability)
		}
		if open := Judge(e, atMost(high), sure); open.Probability < v.Probability-1e-12 {
			rt.Fatalf("without a lower limit conformity falls from %v to %v", v.Probability, open.Probability)
		}
		// The mirror image says the same of the other side.
		m := e
		m.Sum, m.Best = -e.Sum, -e.Best
		mirrored := Judge(m, limits(-high, -low), sure)
		if mirrored.Side != -v.Side || mirrored.Probability != v.Probability || mirrored.SideProbability != v.SideProbability ||
			mirrored.Sure != v.Sure || mirrored.Coarse != v.Coarse || mirrored.More != v.More || mirrored.OnLimit != v.OnLimit {
			rt.Fatalf("%+v, mirrored %+v", v, mirrored)
		}
	})
}

func BenchmarkJudge(b *testing.B) {
	tol, err := quantity.ParseTolerance("1.30 +0.03 -0.02 mm", quantity.Style{Want: quantity.Length})
	if err != nil {
		b.Fatal(err)
	}
	dial := tool.Tool{Step: length(10000)}
	one := []quantity.Entered{{Step: 10000, Value: length(1310000)}}
	three := []quantity.Entered{{Step: 10000, Value: length(1310000)}, {Step: 10000, Value: length(1320000)}, {Step: 10000, Value: length(1320000)}}
	b.Run("one estimate", func(b *testing.B) {
		e := Of(one, dial, nil)
		b.ReportAllocs()
		for b.Loop() {
			Judge(e, tol, 0.8)
		}
	})
	b.Run("one reading", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			Judge(Of(one, dial, nil), tol, 0.8)
		}
	})
	b.Run("three readings", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			Judge(Of(three, dial, nil), tol, 0.8)
		}
	})
	b.Run("three readings unsure", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			Judge(Of(three, dial, nil), tol, 0.99)
		}
	})
}
