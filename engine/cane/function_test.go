package cane

import (
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"

	"canewright/engine/quantity"

	"pgregory.net/rapid"
)

// One call of every function, in the table's units, with a value known from
// elsewhere: the source stands with the test of the function beneath, or the sum
// is written out here.
var calls = []struct {
	name      string
	args      []float64
	want, tol float64
}{
	{"arc_of_tube", []float64{25, 4}, 25 * math.Pi / 4, 1e-12},
	{"chord_of_tube", []float64{25, 4}, 25 / math.Sqrt2, 1e-12},
	{"sagitta_of_tube", []float64{25, 3}, 6.25, 1e-12},
	{"arc_of_oval", []float64{25, 25, 3}, 25 * math.Pi / 3, 1e-12},
	{"roundest_radius", []float64{26, 24}, 144.0 / 13, 1e-12},
	{"flattest_radius", []float64{26, 24}, 169.0 / 12, 1e-12},
	{"turn_of_oval", []float64{26, 24, 4}, 0, 1e-12},
	{"radius_spread", []float64{26, 24, 4}, 0, 1e-9},
	{"radius_spread_at", []float64{26, 24, 4, 0}, 0, 1e-9},
	{"radius_of", []float64{21, 6}, 12.1875, 1e-12},
	{"sagitta_of", []float64{12.1875, 21}, 6, 1e-12},
	{"chord_of", []float64{12.1875, 6}, 21, 1e-12},
	{"gouge_side", []float64{10.5, 2 * 5.51234, 0.60, 3.4}, 0.45, 1e-5},
	{"gouge_side_double", []float64{10.5, 9.5, 0, 0.60, 0}, 0.60, 1e-12},
	{"gouge_blade", []float64{10.5, 0.60, 0.45, 3.4}, 11.0, 0.05},
	{"gouge_offset", []float64{10.5, 0.60, 0.45, 3.4}, -0.862, 5e-4},
	{"tube_of_widths", []float64{15, 15}, 30 / math.Pi, 1e-12},
	{"bore_of_widths", []float64{15, 15, 1.2}, 30/math.Pi - 2.4, 1e-12},
	{"taper_of", []float64{0.938, 0.778, 3.1875}, 0.0502, 5e-5},
	{"cone_angle", []float64{0.60235 / 12}, 2.8754058 * degree, 1e-9},
	{"seat_depth", []float64{1, 0.8, 0.05}, 4, 1e-12}, // Jarno 8
	{"seat_depth_reamed", []float64{1, 0.05, 0.8, 0.05}, 4, 1e-12},
	{"seat_change", []float64{0.637, 0.07}, 9.1, 5e-3},
	{"seat_change_of_width", []float64{1, 0.07}, 9.09, 5e-3},
	{"opening_area", []float64{21, 12}, 2 * 89.254148, 1e-6},
	{"opening_height", []float64{21, 2 * 89.254148}, 12, 1e-6},
	{"opening_width", []float64{25.308373, 12}, 21, 1e-6},
	{"blade_difference", []float64{0.50, 0.52, 0.47, 0.47}, 0.04, 1e-12},
	{"side_difference", []float64{0.50, 0.52, 0.47, 0.47}, -0.01, 1e-12},
	{"twist_of", []float64{0.50, 0.52, 0.47, 0.47}, -0.01, 1e-12},
	{"from_other_end", []float64{55, 27}, 28, 0},
	{"cents_between", []float64{440, 442}, 7.851, 5e-4},
	{"cents_of_warmth", []float64{20, 21}, 2.95, 5e-3},
	{"modulus_of_flat", []float64{2, 40, 10, 1}, 2 * 64000 / 40.0, 1e-9},
	{"modulus_of_gouged", []float64{1, 60, 25, 1.25, 16}, 60 * 60 * 60 / (48 * 11.60), 0.2},
	{"modulus_of_held", []float64{2, 40, 10, 1}, 2 * 64000 * 12 / 30.0, 1e-9},
	{"slope_of_gouged", []float64{8000, 60, 25, 1.25, 16}, 48 * 8000 * 11.60 / 216000, 1e-2},
	{"arching_of", []float64{25, 1.25, 16}, 11.60 / 2.474, 3e-3},
	{"thickness_cubed", []float64{0.10, 0.11}, 1.331, 1e-12},
	{"density_afloat", []float64{100, 80, 1}, 0.8, 1e-12},
	{"density_in_water", []float64{8.630, 7.800, 1}, 10.3976, 5e-5},
	{"density_with_sinker", []float64{4, 10, 8, 1}, 4.0 / 6, 1e-12},
	{"water_density", []float64{20}, 0.998206746, 5e-10},
	{"wood_moisture", []float64{21, 0.65}, 0.12, 5e-4},
	{"indoor_humidity", []float64{0, 0.80, 21}, 0.20, 5e-3},
}

func byName(t *testing.T, name string) Function {
	t.Helper()
	for _, f := range Functions() {
		if f.Name == name {
			return f
		}
	}
	t.Fatalf("no function %s", name)
	return Function{}
}

func TestEveryFunctionAnswersAKnownValue(t *testing.T) {
	t.Parallel()
	called := map[string]bool{}
	for _, c := range calls {
		called[c.name] = true
		got, err := byName(t, c.name).Run(c.args)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		within(t, c.name, got, c.want, c.tol)
	}
	for _, f := range Functions() {
		if !called[f.Name] {
			t.Errorf("%s is never called here", f.Name)
		}
	}
}

func TestFunctionsAreDescribed(t *testing.T) {
	t.Parallel()
	word := regexp.MustCompile(`^[a-z]+(_[a-z]+)*$`)
	all := Functions()
	if !slices.IsSortedFunc(all, func(a, b Function) int { return strings.Compare(a.Name, b.Name) }) {
		t.Error("not in order of names")
	}
	for i, f := range all {
		if i > 0 && f.Name == all[i-1].Name {
			t.Errorf("%s stands twice", f.Name)
		}
		if !word.MatchString(f.Name) || f.Help == "" || f.Source == "" || f.Unit == "" || strings.HasSuffix(f.Help, ".") || strings.Contains(f.Help, "\n") {
			t.Errorf("%s is not described well: %+v", f.Name, f)
		}
		if len(f.Params) == 0 {
			t.Errorf("%s takes nothing", f.Name)
		}
		if _, ok := quantity.KindNamed(f.Kind); !ok {
			t.Errorf("%s: no kind is called %s", f.Name, f.Kind)
		}
		for k, p := range f.Params {
			if _, ok := quantity.KindNamed(p.Kind); !ok {
				t.Errorf("%s: no kind is called %s", f.Name, p.Kind)
			}
			if !word.MatchString(p.Name) || p.Unit == "" || p.Unit != unitOf(p.Kind) {
				t.Errorf("%s: parameter %+v", f.Name, p)
			}
			if slices.ContainsFunc(f.Params[:k], func(q Param) bool { return q.Name == p.Name }) {
				t.Errorf("%s: two parameters are called %s", f.Name, p.Name)
			}
		}
	}
	if s := byName(t, "radius_spread_at").Signature(); s != "radius_spread_at(widest length, narrowest length, pieces count, turn angle) length" {
		t.Errorf("signature reads %q", s)
	}
	// The list is the caller's own.
	all[0].Params[0].Name = "changed"
	if Functions()[0].Params[0].Name == "changed" {
		t.Error("two callers share one list")
	}
}

func TestFunctionsRefuse(t *testing.T) {
	t.Parallel()
	f := byName(t, "arc_of_tube")
	for _, args := range [][]float64{nil, {25}, {25, 4, 1}, {math.NaN(), 4}, {25, math.Inf(1)}, {25, 3.5}, {25, 1}, {25, 1e300}, {25, -1e300}} {
		_, err := f.Run(args)
		refused(t, "arc_of_tube", err, false)
	}
	_, err := byName(t, "gouge_blade").Run([]float64{10.5, 0.60, 3, 3.4})
	refused(t, "gouge_blade", err, true)
	_, err = byName(t, "radius_of").Run([]float64{1e300, 1e-300})
	refused(t, "a radius beyond numbers", err, false)
}

// Whatever a formula hands in, a function answers a finite number or an error,
// the same twice.
func TestFunctionsNeverPanic(t *testing.T) {
	t.Parallel()
	all := Functions()
	odd := []float64{0, 1, -1, 2, 24, 1e-300, 1e300, -1e300, math.MaxFloat64, math.SmallestNonzeroFloat64, math.NaN(), math.Inf(1), math.Inf(-1)}
	rapid.Check(t, func(r *rapid.T) {
		f := all[rapid.IntRange(0, len(all)-1).Draw(r, "function")]
		args := make([]float64, len(f.Params))
		for i := range args {
			if rapid.Bool().Draw(r, "odd") {
				args[i] = rapid.SampledFrom(odd).Draw(r, "arg")
			} else {
				args[i] = rapid.Float64Range(0, 30).Draw(r, "arg")
			}
		}
		v, err := f.Run(args)
		if err == nil && (math.IsNaN(v) || math.IsInf(v, 0)) {
			r.Fatalf("%s%v = %v", f.Name, args, v)
		}
		if again, err2 := f.Run(args); again != v || (err == nil) != (err2 == nil) {
			r.Fatalf("%s%v = %v, then %v (%v, %v)", f.Name, args, v, again, err, err2)
		}
	})
}

// Lengths in any one unit: a result that is a length grows with them, an area
// with their square, a ratio stays, where nothing but lengths and counts go in.
func TestFunctionsOfLengthsScale(t *testing.T) {
	t.Parallel()
	const inch = 1 / 25.4
	power := map[string]float64{"length": 1, "area": 2, "ratio": 0, "angle": 0, "count": 0}
	tested := 0
	for _, c := range calls {
		f := byName(t, c.name)
		if _, ok := power[f.Kind]; !ok || slices.ContainsFunc(f.Params, func(p Param) bool { _, ok := power[p.Kind]; return !ok }) {
			continue
		}
		args := slices.Clone(c.args)
		for i, p := range f.Params {
			args[i] *= math.Pow(inch, power[p.Kind])
		}
		here := must[float64](t)(f.Run(c.args))
		there := must[float64](t)(f.Run(args))
		within(t, c.name+" in inches", there, here*math.Pow(inch, power[f.Kind]), 1e-11*math.Max(1, math.Abs(here)))
		tested++
	}
	if tested < 25 {
		t.Errorf("only %d functions take nothing but lengths", tested)
	}
}

func BenchmarkBestTurnOfThree(b *testing.B) {
	for b.Loop() {
		if _, _, err := BestTurn(Tube{25.6, 24.4}, 3); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkGougedSection(b *testing.B) {
	for b.Loop() {
		if _, err := GougedSection(12.5, 1.25, 16); err != nil {
			b.Fatal(err)
		}
	}
}

// Every kind's unit is one that package quantity reads as that kind.
func TestUnitsAreThoseOfTheKinds(t *testing.T) {
	t.Parallel()
	for _, f := range Functions() {
		for _, p := range append(slices.Clone(f.Params), Param{Kind: f.Kind, Unit: f.Unit}) {
			if p.Unit == "1" || p.Unit == "rad" { // plain numbers, and the angle no maker writes
				continue
			}
			kind, _ := quantity.KindNamed(p.Kind)
			u, ok := quantity.UnitNamed(p.Unit)
			if !ok || u.Kind() != kind {
				t.Errorf("%s: %s is no unit of %s", f.Name, p.Unit, p.Kind)
			}
		}
	}
}
