package formula

import (
	"testing"

	"canewright/engine/diagnostic"
	"canewright/engine/quantity"
)

// What a value brings along, and what it may stand beside.
func TestConditionAndDatum(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ text, condition, datum, code string }{
		// condition
		{"gouge.wet", "wet", "", ""},
		{"gouge.both", "", "", ""},
		{"gouge.wet + 1 mm", "wet", "", ""},
		{"gouge.side - gouge.wet", "wet", "", ""},
		{"gouge.both + gouge.dry", "dry", "", ""},
		{"gouge.wet - gouge.dry", "", "", ConditionMismatch},
		{"2 * gouge.wet / 3", "wet", "", ""},
		{"gouge.wet / gouge.wet", "wet", "", ""},
		{"mass.dry / gouge.wet", "", "", ""}, // of neither: a dry mass by a wet length
		{"mass.dry / gouge.both", "dry", "", ""},
		{"mass.dry / gouge.dry", "dry", "", ""},
		{"mass.dry / gouge.wet + mass.wet / gouge.dry", "", "", ""},
		{"mass.dry / gouge.wet / mass.wet", "wet", "", ""},
		{"gouge.wet * gouge.dry", "", "", ConditionMismatch},
		{"share.wet * share.dry", "", "", ""}, // ratios scale; they are no quantity of the cane's own
		{"share.wet - share.dry", "", "", ConditionMismatch},
		{"gouge.dry * share.wet", "", "", ""},
		{"abs(-gouge.wet)", "wet", "", ""},
		{"max(gouge.side, 1 mm, gouge.wet)", "wet", "", ""},
		{"max(gouge.dry, 1 mm, gouge.wet)", "", "", ConditionMismatch},
		{"tone > 3 ? gouge.wet : gouge.side", "wet", "", ""},
		{"(tone > 3 ? gouge.wet : gouge.side) - gouge.dry", "", "", ConditionMismatch},
		{"gouge.wet > 1 mm and gouge.dry > 1 mm", "", "", ""},
		{"gouge.wet > 1 mm ? gouge.dry : 1 mm", "dry", "", ""},
		{"wet(gouge.dry)", "wet", "", ""},
		{"wet(gouge.dry * 1.04) - gouge.wet", "wet", "", ""},
		{"wet(gouge.dry) - gouge.dry", "", "", ConditionMismatch},
		{"dry(1 mm) + gouge.dry", "dry", "", ""},
		{"wet(wire.first)", "wet", "the butt", ""},
		{"near(gouge.wet, gouge.wet, gouge.dry)", "", "", ConditionMismatch},
		{"near(gouge.side, gouge.wet, 1 mm)", "", "", ""},
		{"between(1 mm, gouge.wet, gouge.dry)", "", "", ConditionMismatch},
		{"radius(gouge.wet, gouge.side)", "wet", "", ""},
		{"radius(gouge.wet, gouge.dry)", "", "", ConditionMismatch},
		{"swelling(gouge.wet, gouge.dry)", "", "", ""},
		// datum
		{"wire.first", "", "the butt", ""},
		{"wire.first + 3 mm", "", "the butt", ""},
		{"3 mm + wire.first", "", "the butt", ""},
		{"wire.first - gouge.side", "", "the butt", ""},
		{"wire.first - wire.second", "", "", ""},
		{"wire.first + wire.second", "", "", ""},
		{"(wire.first + wire.second) / 2", "", "", ""},
		{"2 * wire.first", "", "", ""},
		{"-wire.first", "", "", ""},
		{"--wire.first", "", "the butt", ""},
		{"-wire.first + wire.second", "", "", ""},
		{"abs(wire.first)", "", "the butt", ""},
		{"120 mm - wire.first", "", "", ""},
		{"120 mm - wire.first - spot", "", "", ""}, // what is left between both
		{"120 mm - (120 mm - wire.first)", "", "the butt", ""},
		{"120 mm - wire.first >= spot", "", "", ""}, // converted by a number
		{"wire.first - spot", "", "", DatumMismatch},
		{"wire.first + spot", "", "", ""},
		{"wire.first + spot <= overall", "", "", ""},
		{"wire.first + (1 mm - spot)", "", "", DatumMismatch},
		{"wire.first - wire.second >= spot - spot", "", "", ""},
		{"min(wire.first, 3 mm)", "", "the butt", ""},
		{"min(wire.first, wire.second) - wire.second", "", "", ""},
		{"max(wire.first, spot)", "", "", DatumMismatch},
		{"near(wire.first, wire.second, spot)", "", "", ""}, // a difference beside a distance
		{"near(wire.first, spot, 1 mm)", "", "", DatumMismatch},
		{"between(20 mm, wire.first, spot)", "", "", DatumMismatch},
		{"tone > 3 ? wire.first : spot", "", "", DatumMismatch},
		{"radius(wire.first, spot)", "", "", ""},
		{"length(wire.first)", "", "", ""},
		{"length(wire.first) >= spot", "", "", ""},
		{"length(bevel.dry) - spot", "dry", "", ""}, // less a distance from the tip
		{"length(bevel.dry + 1 mm) >= wire.first", "", "", ""},
		{"wire.first / spot", "", "", ""},
		// places that lie to each other as is known
		{"overall - spot", "", "the butt", ""},
		{"overall - spot - wire.first", "", "", ""},
		{"overall + 1 mm - spot", "", "", DatumMismatch}, // no longer the length from place to place
		{"wire.second - spot", "", "", DatumMismatch},
		{"wire.first + collar.above", "", "the butt", ""},
		{"collar.above + wire.first", "", "the butt", ""},
		{"wire.second + collar.above", "", "", ""},
		{"wire.first + collar.above - wire.second >= 1 mm", "", "", ""},
	} {
		f, list := Compile(diagnostic.Plain("test", c.text), placed{})
		if c.code != "" {
			if all := list.Sorted(); f != nil || len(all) != 1 || all[0].Code != c.code {
				t.Errorf("%s: want %s\n%s", c.text, c.code, listed(list))
			}
			continue
		}
		if f == nil {
			t.Errorf("%s:\n%s", c.text, listed(list))
			continue
		}
		if f.Condition() != c.condition || f.Datum() != c.datum {
			t.Errorf("%s is %q from %q, want %q from %q", c.text, f.Condition(), f.Datum(), c.condition, c.datum)
		}
	}
}

func TestFunctionsAreWorkedOut(t *testing.T) {
	t.Parallel()
	share := 0.6 // no constant: the division is to round as it does at run time
	have := []string{"gouge.centre", "21 mm", "gouge.side", "6 mm", "air", "60 %", "wires", "3", "crow.pitch", "A5", "tone", "2", "gouge.wet", "1.04 mm", "gouge.dry", "1 mm"}
	for _, c := range []struct {
		text string
		kind quantity.Kind
		want float64
	}{
		// chord 21, height 6: r = 12.1875 (matheass.eu, circular segments)
		{"radius(gouge.centre, gouge.side)", quantity.Length, 12.1875e6},
		{"radius( gouge.centre+0 mm ,(gouge.side))", quantity.Length, 12.1875e6},
		{"2 * radius(gouge.centre, gouge.side) - 1 mm", quantity.Length, 23.375e6},
		{"radius(radius(gouge.centre, gouge.side), gouge.side)", quantity.Length, (12.1875*12.1875/4 + 36) / 12 * 1e6},
		{"radius(21 mm, 6 mm)", quantity.Length, 12.1875e6},
		{"min(radius(21 mm, 6 mm), 1 in)", quantity.Length, 12.1875e6},
		{"share.of(air, wires)", quantity.Ratio, share / 3},
		{"share.of(0.5, 2)", quantity.Ratio, 0.25},
		{"share.of(wires, 2)", quantity.Ratio, 1.5},
		{"brightness(crow.pitch, tone)", quantity.Interval, 1200e6 * 2000},
		{"brightness(880 Hz, 2)", quantity.Interval, 1200e6 * 2000}, // a frequency for a pitch, a number for a score
		{"swelling(gouge.wet, gouge.dry)", quantity.Ratio, 1.04},
		{"seven() + 1", quantity.Count, 8},
	} {
		f := mustCompile(t, c.text)
		got, err := f.Number(slots(t, have...))
		if err != nil || got != c.want || f.Kind() != c.kind {
			t.Errorf("%s: %v %v of kind %v, want %v of kind %v", c.text, got, err, f.Kind(), c.want, c.kind)
		}
	}
	// A function's result near a limit is on it.
	if yes, err := mustCompile(t, "radius(21 mm, 6 mm) >= 12.1875 mm").Holds(nil); !yes || err != nil {
		t.Errorf("%v %v", yes, err)
	}
	for text, want := range map[string]string{
		"radius(gouge.centre, 0 mm) > 1 mm":                   `work out "radius(gouge.centre, 0 mm) > 1 mm": radius: the height is not above zero`,
		"lost(gouge.centre) > 1 mm":                           `work out "lost(gouge.centre) > 1 mm": lost: the result is no finite number`,
		"gouge.side > 1 mm or lost(gouge.centre) > 1 mm":      "",
		"gouge.side > 1 mm ? 1 mm > 0 mm : lost(1 mm) > 1 mm": "",
	} {
		_, err := mustCompile(t, text).Holds(slots(t, have...))
		if (err == nil) != (want == "") || err != nil && err.Error() != want {
			t.Errorf("%s: %v, want %s", text, err, want)
		}
	}
}

// A dimension of the same name is read, a function of that name is called.
func TestFunctionsAndNamesKeepApart(t *testing.T) {
	t.Parallel()
	f := mustCompile(t, "radius(gouge.side, gouge.side) > gouge.side and swelling(1 mm, 2 mm) < 1")
	if got, want := f.Shown(func(int) string { return "6 mm" }), "radius(6 mm, 6 mm) > 6 mm and swelling(1 mm, 2 mm) < 1"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if got := f.Needs(); len(got) != 1 || got[0] != slot("gouge.side") {
		t.Errorf("needs %v", got)
	}
}

func TestShown(t *testing.T) {
	t.Parallel()
	f := mustCompile(t, "blade(3 mm, spine, A) − gouge.centre/2 >= 0.10 mm and max(gouge.centre,d) < 1 d / 1 d * 1 mm")
	values := map[int]string{slot("3 mm, spine, A"): "0.90 mm", slot("gouge.centre"): "1.30 mm"}
	want := "0.90 mm − 1.30 mm/2 >= 0.10 mm and max(1.30 mm,d) < 1 d / 1 d * 1 mm"
	if got := f.Shown(func(slot int) string { return values[slot] }); got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

func TestUnfold(t *testing.T) {
	t.Parallel()
	all := map[int]string{
		slot("tip.width"): "gouge.centre - gouge.side", slot("d"): "tip.width * 2 + radius(tip.width, A)", slot("bevel.dry"): "gouge.centre",
	}
	derived := map[int]*Formula{}
	for n, text := range all {
		derived[n] = mustCompile(t, text)
	}
	of := func(n int) *Formula { return derived[n] }
	have := slots(t, "gouge.centre", "1.30 mm", "gouge.side", "1.10 mm", "A", "1 mm", "cane.mass", "2 g")
	full := append([]float64(nil), have...)
	for _, name := range []string{"tip.width", "d", "bevel.dry"} {
		v, err := derived[slot(name)].Number(full)
		if err != nil {
			t.Fatal(err)
		}
		full[slot(name)] = v
	}
	for _, text := range []string{
		"d >= 0.1 mm", "d - tip.width", "tip.width", "bevel.dry", "bevel.dry > 1 mm", "cane.mass > 1 g", "max(d, tip.width, A) / 2 > 0.3 mm and not (d < 1 mm)",
		"tip.width > 1 mm ? d : bevel.dry", "near(d, tip.width, 1 mm)", "radius(d, radius(tip.width, A))",
	} {
		f := mustCompile(t, text)
		u, err := f.Unfold(of)
		if err != nil {
			t.Errorf("%s: %v", text, err)
			continue
		}
		for _, n := range u.Needs() {
			if derived[n] != nil {
				t.Errorf("%s still needs slot %d", text, n)
			}
		}
		if u.Text() != text || u.Kind() != f.Kind() || u.Truth() != f.Truth() {
			t.Errorf("%s became %s", text, u.Text())
		}
		if f.Truth() {
			a, errA := f.Holds(full)
			b, errB := u.Holds(have)
			ma, okA := f.Margin(full)
			mb, okB := u.Margin(have)
			if a != b || errA != nil || errB != nil || ma != mb || okA != okB {
				t.Errorf("%s: %v %v %v, unfolded %v %v %v", text, a, ma, errA, b, mb, errB)
			}
			continue
		}
		a, errA := f.Number(full)
		b, errB := u.Number(have)
		if a != b || errA != nil || errB != nil {
			t.Errorf("%s: %v %v, unfolded %v %v", text, a, errA, b, errB)
		}
	}
	// One that leads back to itself, and one that would grow without end.
	if _, err := mustCompile(t, "A > 1 mm").Unfold(func(int) *Formula { return mustCompile(t, "A + d") }); err == nil {
		t.Error("a circle was unfolded")
	}
	if _, err := mustCompile(t, "A > 1 mm").Unfold(func(n int) *Formula {
		if n == slot("A") {
			return mustCompile(t, "d > 1 mm")
		}
		return nil
	}); err == nil {
		t.Error("a yes or no was put in for a number")
	}
}

// The functions over the needed values ask for no memory. Not parallel: others
// would be counted too.
func TestDenseFunctions(t *testing.T) {
	f := mustCompile(t, "tip.width / 2 - gouge.centre >= gouge.side - 0.10 mm")
	in := []float64{1.3e6, 1.1e6, 9e6} // centre, side, width: in the order of Needs
	margin := f.MarginFunc()
	if m, err := margin(in); err != nil || m != 4.5e6-1.3e6-1.1e6+1e5 {
		t.Errorf("%v, %v", m, err)
	}
	if n := testing.AllocsPerRun(100, func() { _, _ = margin(in) }); n != 0 {
		t.Errorf("%v allocations", n)
	}
	if _, err := margin(in[:2]); err == nil || err.Error() != `work out "tip.width / 2 - gouge.centre >= gouge.side - 0.10 mm": 2 values are given, 3 are needed` {
		t.Errorf("%v", err)
	}
	if v, err := f.TruthFunc()(in); v != 1 || err != nil {
		t.Errorf("%v, %v", v, err)
	}
	if f.NumberFunc() != nil || mustCompile(t, "1 mm").MarginFunc() != nil || mustCompile(t, "1 mm").TruthFunc() != nil || mustCompile(t, "true").MarginFunc() != nil {
		t.Error("there are functions for what a formula does not give")
	}
	if v, err := mustCompile(t, "gouge.centre / gouge.side").NumberFunc()([]float64{1, 0}); err == nil {
		t.Errorf("%v by nought", v)
	}
}
