package formula

import (
	"fmt"
	"math"
	"math/big"
	"testing"

	"pgregory.net/rapid"

	"canewright/engine/quantity"
)

// lies makes ranges of what hands type: "gouge.centre" "1 mm" "2 mm".
func lies(t testing.TB, triples ...string) Ranges {
	t.Helper()
	in := map[int]Interval{}
	for i := 0; i+2 < len(triples); i += 3 {
		n := slot(triples[i])
		in[n] = Interval{slots(t, triples[i], triples[i+1])[n], slots(t, triples[i], triples[i+2])[n]}
	}
	return func(slot int) (Interval, bool) {
		v, ok := in[slot]
		return v, ok
	}
}

func TestProve(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		text   string
		ranges []string
		want   Proof
	}{
		{"gouge.centre >= 1 mm", []string{"gouge.centre", "1 mm", "2 mm"}, Always}, // the limit is inside
		{"gouge.centre > 1 mm", []string{"gouge.centre", "1 mm", "2 mm"}, Unproved},
		{"gouge.centre > 2 mm", []string{"gouge.centre", "1 mm", "2 mm"}, Never},
		{"gouge.centre < 2 mm", []string{"gouge.centre", "2 mm", "3 mm"}, Never},
		{"gouge.centre <= 2 mm", []string{"gouge.centre", "2 mm", "3 mm"}, Unproved},
		{"gouge.centre >= 1 mm", nil, Unproved},
		{"gouge.centre >= 1 mm or gouge.side >= 1 mm", []string{"gouge.side", "1 mm", "2 mm"}, Always},
		{"gouge.centre >= 1 mm and gouge.side >= 1 mm", []string{"gouge.side", "0.1 mm", "0.9 mm"}, Never},
		{"gouge.centre - gouge.side >= 0.10 mm", []string{"gouge.centre", "1.28 mm", "1.33 mm", "gouge.side", "1.00 mm", "1.18 mm"}, Always},
		{"gouge.centre - gouge.side >= 0.10 mm", []string{"gouge.centre", "1.28 mm", "1.33 mm", "gouge.side", "1.00 mm", "1.19 mm"}, Unproved},
		{"gouge.centre - gouge.side > 0.33 mm", []string{"gouge.centre", "1.28 mm", "1.33 mm", "gouge.side", "1.00 mm", "1.19 mm"}, Never},
		{"abs(gouge.centre - gouge.side) <= 0.05 mm", []string{"gouge.centre", "1.0 mm", "1.1 mm", "gouge.side", "1.2 mm", "1.3 mm"}, Never},
		{"between(gouge.centre, 1 mm, 2 mm)", []string{"gouge.centre", "1 mm", "2 mm"}, Always},
		{"near(gouge.centre, 3 mm, 1 mm)", []string{"gouge.centre", "2 mm", "4 mm"}, Always},
		{"min(gouge.centre, gouge.side) >= 1 mm", []string{"gouge.centre", "1 mm", "4 mm", "gouge.side", "0.5 mm", "0.9 mm"}, Never},
		{"max(gouge.centre, gouge.side) >= 1 mm", []string{"gouge.centre", "1 mm", "4 mm"}, Always},
		{"not (gouge.centre < 1 mm)", []string{"gouge.centre", "1 mm", "2 mm"}, Always},
		{"gouge.centre / 3 <= 1 mm", []string{"gouge.centre", "1 mm", "3 mm"}, Always}, // a third lands on the limit
		{"gouge.centre * gouge.side >= 1 mm * 1 mm", []string{"gouge.centre", "1 mm", "2 mm", "gouge.side", "1 mm", "2 mm"}, Always},
		{"gouge.centre / gouge.side >= 0.5", []string{"gouge.centre", "1 mm", "2 mm", "gouge.side", "0.5 mm", "2 mm"}, Always},
		{"gouge.centre / gouge.side <= 1", []string{"gouge.centre", "0 mm", "1 mm", "gouge.side", "0 mm", "2 mm"}, Unproved},
		{"gouge.centre / gouge.side >= 0.5", []string{"gouge.centre", "1 mm", "2 mm", "gouge.side", "0 mm", "2 mm"}, Always}, // where there is a quotient at all
		{"gouge.centre / (gouge.side - gouge.side) >= 1", []string{"gouge.centre", "1 mm", "2 mm", "gouge.side", "1 mm", "2 mm"}, Unproved},
		{"gouge.centre >= 2 mm ? gouge.side >= 1 mm : gouge.side >= 0.5 mm", []string{"gouge.centre", "1 mm", "2 mm", "gouge.side", "1 mm", "2 mm"}, Always},
		{"gouge.centre >= 1 mm ? gouge.side >= 1 mm : gouge.side >= 9 mm", []string{"gouge.centre", "1 mm", "2 mm", "gouge.side", "1 mm", "2 mm"}, Always},
		// One slot twice: only cutting its range shows it.
		{"gouge.centre * gouge.centre - gouge.centre * 1 mm >= -0.3 mm * 1 mm", []string{"gouge.centre", "0 mm", "1 mm"}, Always},
		{"gouge.centre - gouge.centre / 2 <= 1.01 mm", []string{"gouge.centre", "0 mm", "2 mm"}, Always},
		{"gouge.centre < 1.5 mm and gouge.centre > 1.7 mm", []string{"gouge.centre", "1 mm", "2 mm"}, Never},
		// It fails in the middle of either half.
		{"(gouge.centre - 1.7 mm) * (gouge.centre - 1.9 mm) >= -0.005 mm * 1 mm", []string{"gouge.centre", "1 mm", "2 mm"}, Unproved},
		{"(gouge.centre - 1.1 mm) * (gouge.centre - 1.3 mm) >= -0.005 mm * 1 mm", []string{"gouge.centre", "1 mm", "2 mm"}, Unproved},
		{"crow.pitch >= E4", []string{"crow.pitch", "E4", "A4"}, Always},
		{"crow.pitch - F4 <= 400 cents", []string{"crow.pitch", "E4", "A4"}, Always},
		// A function is known where its values are, and nowhere else.
		{"radius(8 mm, 2 mm) <= 6 mm", nil, Always},
		{"radius(gouge.centre, 2 mm) >= 1 mm", []string{"gouge.centre", "8 mm", "8 mm"}, Always},
		{"radius(gouge.centre, 2 mm) >= 0.01 mm", []string{"gouge.centre", "7 mm", "8 mm"}, Unproved},
		{"radius(8 mm, 0 mm) >= 1 mm", nil, Unproved},
		{"boom(gouge.centre) >= 1 mm", []string{"gouge.centre", "8 mm", "8 mm"}, Unproved},
		{"true", nil, Always},
	} {
		f := mustCompile(t, c.text)
		if got := f.Prove(lies(t, c.ranges...)); got != c.want {
			t.Errorf("%s with %v: %v, want %v", c.text, c.ranges, got, c.want)
		}
	}
}

func TestRangeOfANumber(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		text   string
		ranges []string
		want   Interval // nm
		spare  float64  // how much wider it may be, at each end
	}{
		{"gouge.centre - gouge.side", []string{"gouge.centre", "1 mm", "2 mm", "gouge.side", "0.5 mm", "0.75 mm"}, Interval{0.25e6, 1.5e6}, 0},
		{"gouge.centre", nil, Everything(), 0},
		{"gouge.centre - gouge.centre / 2", []string{"gouge.centre", "0 mm", "2 mm"}, Interval{0, 1e6}, 0.01e6},
		{"abs(gouge.centre - 2 mm)", []string{"gouge.centre", "1 mm", "5 mm"}, Interval{0, 3e6}, 0},
		{"gouge.centre / 3", []string{"gouge.centre", "1 mm", "3 mm"}, Interval{1e6 / 3.0, 1e6}, 1e-9},
	} {
		got := mustCompile(t, c.text).Range(lies(t, c.ranges...))
		if got.Low > c.want.Low || got.High < c.want.High || got.Low < c.want.Low-c.spare || got.High > c.want.High+c.spare {
			t.Errorf("%s: %v, want %v", c.text, got, c.want)
		}
	}
}

func whole(_ int, v float64) float64 { return math.Round(v) }

func TestAnExampleIsOne(t *testing.T) {
	t.Parallel()
	thick, thin := mustCompile(t, "gouge.centre <= 1.9 mm"), mustCompile(t, "gouge.centre - gouge.side >= 0.10 mm")
	of := lies(t, "gouge.centre", "1 mm", "2 mm", "gouge.side", "1 mm", "2 mm")
	at, ok := Example(of, whole, thick.No(), thin.No())
	if !ok {
		t.Fatal("no example, though 2 mm and 2 mm is one")
	}
	values := make([]float64, len(dimensions)+len(cells))
	for slot, v := range at {
		values[slot] = v
	}
	for _, f := range []*Formula{thick, thin} {
		if holds, err := f.Holds(values); holds || err != nil {
			t.Errorf("%s: %v %v at %v", f.Text(), holds, err, at)
		}
	}
	// A narrow corner, far from the middle and the ends.
	band := mustCompile(t, "between(gouge.centre, 1.371 mm, 1.373 mm)")
	if _, ok := Example(of, whole, band.Yes()); !ok {
		t.Error("a narrow band is not found")
	}
	// Between two values that can be read lies no example.
	if at, ok := Example(of, whole, mustCompile(t, "gouge.centre > 1.5 mm and gouge.centre * 2 < 3.000001 mm").Yes()); ok {
		t.Errorf("nothing lies between two quanta, and not %v", at)
	}
	// A number beyond a limit.
	gap := mustCompile(t, "gouge.centre - gouge.side")
	if at, ok := Example(of, whole, Claim{gap, Interval{0.95e6, math.Inf(1)}}); !ok || at[slot("gouge.centre")]-at[slot("gouge.side")] < 0.95e6 {
		t.Errorf("%v %v", at, ok)
	}
	if at, ok := Example(of, whole, Claim{gap, Interval{1.01e6, math.Inf(1)}}); ok {
		t.Errorf("%v gives no 1.01 mm", at)
	}
}

// forms of rules for the properties; each %s is a limit.
var forms = []string{
	"gouge.centre - gouge.side >= %s",
	"gouge.centre > %s and gouge.side <= %s",
	"abs(gouge.centre - gouge.side) <= %s",
	"gouge.centre * gouge.side > %s * %s",
	"gouge.centre - gouge.side * 2 < %s",
	"(gouge.centre + gouge.side) / 2 >= %s",
	"gouge.centre / gouge.side > 1 or gouge.centre > %s",
	"between(gouge.centre, %s, gouge.side)",
	"near(gouge.centre, gouge.side, %s)",
	"max(gouge.centre, %s) - min(gouge.side, tip.width) >= %s",
	"gouge.centre > %s ? gouge.side > %s : tip.width > %s",
	"not (gouge.centre - gouge.centre * gouge.side / tip.width > %s)",
	"(gouge.centre - %s) * (gouge.centre - %s) >= -1 mm * %s",
	"radius(gouge.centre, gouge.side) > %s",
}

// grid is up to n whole values of an interval, both ends among them.
func gridOf(v Interval, n int) []float64 {
	out := []float64{v.Low, v.High}
	for i := 1; i < n-1; i++ {
		out = append(out, math.Round(v.Low+(v.High-v.Low)*float64(i)/float64(n-1)))
	}
	return out
}

// No point of a grid inside the ranges contradicts a proof.
func TestNoGridContradictsAProof(t *testing.T) {
	t.Parallel()
	names := []string{"gouge.centre", "gouge.side", "tip.width"}
	proved := map[Proof]int{}
	rapid.Check(t, func(rt *rapid.T) {
		f, ranges := drawn(rt, names)
		proof := f.Prove(func(slot int) (Interval, bool) { v, ok := ranges[slot]; return v, ok })
		proved[proof]++
		values := make([]float64, len(dimensions)+len(cells))
		a, b, c := slot(names[0]), slot(names[1]), slot(names[2])
		for _, values[a] = range gridOf(ranges[a], 9) {
			for _, values[b] = range gridOf(ranges[b], 9) {
				for _, values[c] = range gridOf(ranges[c], 5) {
					holds, err := f.Holds(values)
					if err != nil {
						continue
					}
					if proof == Always && !holds || proof == Never && holds {
						rt.Fatalf("%s is said to be %v; with %v it is %v", f.Text(), proof, values[:3], holds)
					}
				}
			}
		}
	})
	if proved[Always] == 0 || proved[Never] == 0 || proved[Unproved] == 0 {
		t.Errorf("too tame: %v", proved)
	}
}

func drawn(rt *rapid.T, names []string) (*Formula, map[int]Interval) {
	form := rapid.SampledFrom(forms).Draw(rt, "form")
	f := mustCompile(rt, put2(form, func(i int) string {
		return fmt.Sprintf("%d.%02d mm", rapid.IntRange(0, 4).Draw(rt, "mm"), rapid.IntRange(0, 99).Draw(rt, "hundredths"))
	}))
	ranges := map[int]Interval{}
	for _, n := range names {
		low := float64(rapid.IntRange(-50, 300).Draw(rt, n)) * 1e4
		ranges[slot(n)] = Interval{low, low + float64(rapid.SampledFrom([]int{0, 1, 10, 100, 300}).Draw(rt, n+" width"))*1e4}
	}
	return f, ranges
}

// put2 puts a text for each %s.
func put2(form string, with func(i int) string) string {
	out, n := "", 0
	for i := 0; i < len(form); i++ {
		if form[i] == '%' {
			out += with(n)
			n++
			i++
			continue
		}
		out += form[i : i+1]
	}
	return out
}

// The unit a limit is written in changes no proof: tenths of an inch are whole
// nanometres (1 in = 25.4 mm, ISO 80000-3).
func TestInchesProveWhatMillimetresDo(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(rt *rapid.T) {
		form := rapid.SampledFrom(forms).Draw(rt, "form")
		var tenths [4]int
		for i := range tenths {
			tenths[i] = rapid.IntRange(0, 12).Draw(rt, "tenths")
		}
		mm := mustCompile(rt, put2(form, func(i int) string { return fmt.Sprintf("%d.%02d mm", tenths[i]*254/100, tenths[i]*254%100) }))
		in := mustCompile(rt, put2(form, func(i int) string { return fmt.Sprintf("%d.%d in", tenths[i]/10, tenths[i]%10) }))
		ranges := map[int]Interval{}
		for _, n := range []string{"gouge.centre", "gouge.side", "tip.width"} {
			low := float64(rapid.IntRange(0, 12).Draw(rt, n)) * 2.54e6
			ranges[slot(n)] = Interval{low, low + float64(rapid.IntRange(0, 8).Draw(rt, n+" width"))*2.54e6}
		}
		of := func(slot int) (Interval, bool) { v, ok := ranges[slot]; return v, ok }
		if a, b := mm.Prove(of), in.Prove(of); a != b {
			rt.Fatalf("%s is %v, %s is %v", mm.Text(), a, in.Text(), b)
		}
	})
}

// The bounds of the four operations against exact arithmetic.
func TestBoundsHoldTheTrueResult(t *testing.T) {
	t.Parallel()
	number := rapid.OneOf(rapid.Float64(), rapid.Float64Range(-1e9, 1e9), rapid.Map(rapid.IntRange(-1000, 1000), func(i int) float64 { return float64(i) }),
		rapid.SampledFrom([]float64{0, 1, -1, math.MaxFloat64, -math.MaxFloat64, math.SmallestNonzeroFloat64, 0x1p-600, 0x1p1000}))
	exact := func(x float64) *big.Rat { return new(big.Rat).SetFloat64(x) }
	rapid.Check(t, func(rt *rapid.T) {
		a, b := number.Draw(rt, "a"), number.Draw(rt, "b")
		va, vb := Interval{a, a}, Interval{b, b}
		check := func(what string, got Interval, want *big.Rat, float float64) {
			inside := got.Low <= float && float <= got.High
			if !math.IsInf(got.Low, 0) {
				inside = inside && exact(got.Low).Cmp(want) <= 0
			}
			if !math.IsInf(got.High, 0) {
				inside = inside && exact(got.High).Cmp(want) >= 0
			}
			if !inside {
				rt.Fatalf("%v %s %v: %v does not hold %v", a, what, b, got, float)
			}
			if f, is := want.Float64(); is && math.Abs(f) > 0x1p-400 && !got.point() && math.Abs(a) > 0x1p-400 {
				rt.Fatalf("%v %s %v is exactly %v, not %v", a, what, b, f, got)
			}
		}
		check("+", va.plus(vb), new(big.Rat).Add(exact(a), exact(b)), a+b)
		check("*", va.times(vb), new(big.Rat).Mul(exact(a), exact(b)), a*b)
		if b != 0 {
			check("/", va.over(vb), new(big.Rat).Quo(exact(a), exact(b)), a/b)
		}
	})
}

// A hostile formula costs no more than the bounded work.
func TestAProofOfALongFormulaEndsSoon(t *testing.T) {
	text := "gouge.centre * gouge.side"
	for len(text) < 440 {
		text += " - gouge.side * tip.width"
	}
	f := mustCompile(t, text+" > 1 mm * 1 mm")
	of := lies(t, "gouge.centre", "1 mm", "200 mm", "gouge.side", "1 mm", "200 mm", "tip.width", "1 mm", "200 mm")
	s := newSearch(of, f.No())
	s.run(true)
	if s.worked > mostWorked+10*len(f.value.steps) {
		t.Errorf("%d steps", s.worked)
	}
}

func FuzzProve(f *testing.F) {
	for _, form := range forms {
		f.Add(put2(form, func(int) string { return "1.20 mm" }), int64(1e6), uint32(5e5), int64(2e6), uint32(0), int64(0), uint32(1e6))
	}
	f.Add("gouge.centre / (gouge.side - 1 mm) > 3 or crow.pitch > F4", int64(0), uint32(2e6), int64(5e5), uint32(1e6), int64(-7), uint32(7))
	f.Add("tone >= 3 and share.wet < 40 %", int64(0), uint32(9), int64(1), uint32(9), int64(2), uint32(2))
	f.Fuzz(func(t *testing.T, text string, low0 int64, width0 uint32, low1 int64, width1 uint32, low2 int64, width2 uint32) {
		c, found := compile(text, bench{})
		if len(found) > 0 {
			return
		}
		lows, widths := [3]int64{low0, low1, low2}, [3]uint32{width0, width1, width2}
		ranges := make([]Interval, len(dimensions)+len(cells))
		for i := range ranges {
			low := float64(lows[i%3] % (1 << 50))
			ranges[i] = Interval{low, low + float64(widths[i%3])}
		}
		of := func(slot int) (Interval, bool) { return ranges[slot], true }
		proof, lies := c.Prove(of), c.Range(of)
		if lies.Low != lies.Low || lies.High != lies.High || lies.Low > lies.High {
			t.Fatalf("%q: the range is %v", text, lies)
		}
		values := make([]float64, len(ranges))
		for k := range 64 {
			for i, r := range ranges {
				part := float64((k*(i+3)*7)%64) / 63
				values[i] = min(max(math.Round(r.Low+part*(r.High-r.Low)), r.Low), r.High)
			}
			if !c.Truth() {
				if v, err := c.Number(values); err == nil && !lies.holds(v) {
					t.Fatalf("%q gives %v, outside %v", text, v, lies)
				}
				continue
			}
			holds, err := c.Holds(values)
			if err == nil && (proof == Always && !holds || proof == Never && holds) {
				t.Fatalf("%q is said to be %v, and is %v with %v", text, proof, holds, values)
			}
		}
	})
}

func BenchmarkProve(b *testing.B) {
	f := mustCompile(b, "gouge.centre - gouge.side >= 0.10 mm")
	of := lies(b, "gouge.centre", "1.28 mm", "1.33 mm", "gouge.side", "1.00 mm", "1.18 mm")
	if f.Kind() != quantity.Length {
		b.Fatal(f.Kind())
	}
	for b.Loop() {
		if f.Prove(of) != Always {
			b.Fatal("not proved")
		}
	}
}
