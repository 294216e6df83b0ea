package formula

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"canewright/engine/diagnostic"
)

func compiled(t testing.TB, text string) *Formula {
	t.Helper()
	f, list := Compile(diagnostic.Plain("test", text), bench{})
	if f == nil {
		t.Fatalf("%s: %v", text, list.Sorted())
	}
	return f
}

func TestSum(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		text     string
		constant float64
		factors  map[string]float64 // nil: it is no sum
	}{
		{"overall - wire.first", 0, map[string]float64{"overall": 1, "wire.first": -1}},
		{"2 mm + overall - (wire.first - wire.second)", 2e6, map[string]float64{"overall": 1, "wire.first": -1, "wire.second": 1}},
		{"-gouge.side * 2 + 3 * gouge.centre", 0, map[string]float64{"gouge.centre": 3, "gouge.side": -2}},
		{"gouge.centre - gouge.centre + gouge.side", 0, map[string]float64{"gouge.side": 1}},
		{"length(gouge.centre) + gouge.side", 0, map[string]float64{"gouge.centre": 1, "gouge.side": 1}},
		{"gouge.centre * gouge.side", 0, nil},
		{"gouge.centre / 2", 0, nil},
		{"abs(gouge.centre - gouge.side)", 0, nil},
		{"max(gouge.centre, gouge.side)", 0, nil},
		{"gouge.centre > 1 mm ? gouge.centre : gouge.side", 0, nil},
	} {
		got, ok := compiled(t, c.text).Sum()
		if ok != (c.factors != nil) {
			t.Errorf("%s: a sum: %v", c.text, ok)
			continue
		}
		n := 0
		for name, f := range c.factors {
			n++
			if got.Factor(slot(name)) != f {
				t.Errorf("%s: %s counts %v times, want %v", c.text, name, got.Factor(slot(name)), f)
			}
		}
		if ok && (got.Constant != c.constant || len(got.Slots) != n) {
			t.Errorf("%s: %+v", c.text, got)
		}
	}
	if _, ok := compiled(t, "gouge.centre > 1 mm").Sum(); ok {
		t.Error("a question is a sum")
	}
}

// A sum gives what the formula gives.
func TestASumIsTheFormula(t *testing.T) {
	t.Parallel()
	f := compiled(t, "3 mm - 2 * (wire.first - wire.second) + overall * 3 - -wire.first")
	sum, ok := f.Sum()
	if !ok {
		t.Fatal("no sum")
	}
	rapid.Check(t, func(t *rapid.T) {
		values := make([]float64, len(dimensions)+len(cells))
		for i := range values {
			values[i] = float64(rapid.IntRange(-60_000_000, 60_000_000).Draw(t, "value"))
		}
		want, err := f.Number(values)
		if err != nil {
			t.Fatal(err)
		}
		got := sum.Constant
		for i, s := range sum.Slots {
			got += sum.Factors[i] * values[s]
		}
		if got != want {
			t.Fatalf("%v, want %v", got, want)
		}
	})
}

func TestNeverAll(t *testing.T) {
	t.Parallel()
	wide := lies(t, "gouge.centre", "0.5 mm", "2 mm", "gouge.side", "0.5 mm", "2 mm", "wire.first", "20 mm", "33 mm", "wire.second", "12 mm", "26 mm")
	none := lies(t)
	for _, c := range []struct {
		a, b   string
		of     Ranges
		wanted bool
	}{
		// Farkas: the margins add up to a number below nought.
		{"gouge.centre - gouge.side >= 0.10 mm", "gouge.centre - gouge.side <= 0.05 mm", none, true},
		{"gouge.centre - gouge.side >= 0.10 mm", "2 * gouge.side - 2 * gouge.centre > -0.1 mm", none, true},
		{"gouge.centre - gouge.side >= 0.10 mm", "gouge.centre - gouge.side <= 0.10 mm", none, false}, // the limit is in both
		{"gouge.centre - gouge.side > 0.10 mm", "gouge.centre - gouge.side < 0.10 mm", none, false},   // true, and not proved without ranges
		{"gouge.centre - gouge.side >= 0.10 mm", "gouge.centre - gouge.side >= 0.05 mm", none, false},
		{"gouge.centre >= 1 mm", "gouge.side <= 0.5 mm", none, false},
		// Only with what is plausible.
		{"wire.first - wire.second >= 9 mm", "wire.first <= 20 mm and wire.second >= 12 mm", wide, true},
		{"wire.first - wire.second >= 9 mm", "wire.first <= 20 mm and wire.second >= 12 mm", none, false},
		{"abs(wire.first - 27 mm) <= 1 mm", "wire.first >= 29 mm", wide, true},
		{"abs(wire.first - 27 mm) <= 1 mm", "wire.first >= 28 mm", wide, false},
	} {
		a, b := compiled(t, c.a), compiled(t, c.b)
		if got := NeverAll(c.of, a, b); got != c.wanted {
			t.Errorf("%s, %s: never %v", c.a, c.b, got)
		}
		if NeverAll(c.of, a, b) != NeverAll(c.of, b, a) {
			t.Errorf("%s, %s: the order matters", c.a, c.b)
		}
	}
	if NeverAll(none, compiled(t, "gouge.centre + gouge.side")) {
		t.Error("a number never holds")
	}
}

// Where two rules are said never to hold together, no values make both hold.
func TestNoValuesContradictNeverAll(t *testing.T) {
	t.Parallel()
	proved := 0
	rapid.Check(t, func(rt *rapid.T) {
		rule := func(name string) *Formula {
			form := rapid.SampledFrom([]string{"gouge.centre - gouge.side >= ", "gouge.centre - gouge.side < ", "2 * gouge.side - 2 * gouge.centre >= ", "abs(gouge.centre - gouge.side) <= ", "gouge.centre + gouge.side <= "}).Draw(rt, name)
			return compiled(t, form+rapid.SampledFrom([]string{"0.05 mm", "0.1 mm", "0.2 mm", "-0.1 mm", "1 mm"}).Draw(rt, name+" limit"))
		}
		a, b := rule("a"), rule("b")
		of := lies(t, "gouge.centre", "0.5 mm", "2 mm", "gouge.side", "0.5 mm", "2 mm")
		if !NeverAll(of, a, b) {
			return
		}
		proved++
		values := make([]float64, len(dimensions)+len(cells))
		for range 50 {
			values[slot("gouge.centre")] = float64(rapid.IntRange(500, 2000).Draw(rt, "centre")) * 1000
			values[slot("gouge.side")] = float64(rapid.IntRange(500, 2000).Draw(rt, "side")) * 1000
			x, _ := a.Holds(values)
			y, _ := b.Holds(values)
			if x && y {
				rt.Fatalf("%s and %s both hold with %v and %v", a.Text(), b.Text(), values[0], values[1])
			}
		}
	})
	if proved == 0 {
		t.Error("nothing was proved")
	}
}

// Renumbered, a formula gives the same of values that were moved with it.
func TestRenumber(t *testing.T) {
	t.Parallel()
	n := len(dimensions) + len(cells)
	for _, text := range []string{"wire.first - wire.second >= 7 mm", "overall * 2 - blade(3 mm, spine, A) > gouge.centre or gouge.side < 1 mm"} {
		f := compiled(t, text)
		rapid.Check(t, func(t *rapid.T) {
			to := rapid.Permutation(seq(n)).Draw(t, "to")
			g := f.Renumber(func(slot int) int { return to[slot] })
			values, moved := make([]float64, n), make([]float64, n)
			for i := range values {
				values[i] = float64(rapid.IntRange(0, 60_000_000).Draw(t, "value"))
				moved[to[i]] = values[i]
			}
			want, err := f.Holds(values)
			if err != nil {
				t.Fatal(err)
			}
			if got, err := g.Holds(moved); err != nil || got != want {
				t.Fatalf("%v %v, want %v", got, err, want)
			}
			if !slices.IsSorted(g.Needs()) || g.Text() != f.Text() {
				t.Fatalf("needs %v of %s", g.Needs(), g.Text())
			}
		})
	}
}

func seq(n int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = i
	}
	return out
}
