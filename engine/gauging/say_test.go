package gauging

import (
	"math"
	"strings"
	"testing"

	"canewright/engine/quantity"
	"canewright/engine/tool"
)

func TestSay(t *testing.T) {
	t.Parallel()
	mm, _ := quantity.UnitNamed("mm")
	in, _ := quantity.UnitNamed("in")
	thick := Words{More: "thick", Less: "thin", Blade: true, Unit: mm, Step: 10000}
	long := Words{More: "long", Less: "short", Unit: mm, Step: 100000}
	sharp := Words{More: "sharp", Less: "flat", Step: 1000000}
	many := Words{More: "many", Less: "few"}
	gouge, blade := "1.30 +0.03 -0.02 mm", "27.0 ± 0.5 mm"
	dial, wide := tool.Tool{Step: length(10000)}, tool.Tool{Step: length(500000)}
	own := func(µm float64) *Repeatability { return &Repeatability{S: µm * 1000, N: 20} }
	for _, c := range []struct {
		target, readings string
		kind             quantity.Kind
		tool             tool.Tool
		own              *Repeatability
		words            Words
		want             string
	}{
		{gouge, "1.31 mm", quantity.Length, dial, nil, thick, "Right."},
		{gouge, "1.32 mm", quantity.Length, dial, own(20), thick, "Probably right. Measure once more if unhappy."},
		{gouge, "1.33 mm", quantity.Length, dial, nil, thick, "On the limit. Counts as right."},
		{gouge, "1.33 mm", quantity.Length, wide, nil, thick, "On the limit. Counts as right."},
		{gouge, "1.37 mm", quantity.Length, dial, nil, thick, "Too thick by 0.04."},
		{gouge, "1.34 mm", quantity.Length, dial, own(20), thick, "Maybe too thick. Measure before you cut."},
		{gouge, "1.25 mm", quantity.Length, dial, nil, thick, "Too thin by 0.03. Knife down."},
		{gouge, "1.27 mm", quantity.Length, dial, own(20), thick, "Maybe too thin. Knife down, measure again."},
		{gouge, "1.31 mm", quantity.Length, wide, nil, thick, "This gauge cannot tell. You decide."},
		{gouge, "1.34 mm", quantity.Length, wide, nil, thick, "This gauge cannot tell. You decide."},
		{blade, "28.2 mm", quantity.Length, dial, nil, long, "Too long by 0.7."},
		{blade, "26.0 mm", quantity.Length, dial, nil, long, "Too short by 0.5."},
		{blade, "27.6 mm", quantity.Length, dial, own(300), long, "Maybe too long. Measure again."},
		{blade, "26.4 mm", quantity.Length, dial, own(300), long, "Maybe too short. Measure again."},
		// never nought: one digit more, or as many as it takes
		{blade, "27.53 mm", quantity.Length, tool.Tool{Step: length(1000)}, nil, long, "Too long by 0.03."},
		{blade, "27.502 mm", quantity.Length, tool.Tool{Step: length(1)}, nil, long, "Too long by 0.002."},
		// a mean: 1.37 and a third is 0.0433 too thick
		{gouge, "1.37 mm;1.37 mm;1.38 mm", quantity.Length, dial, nil, thick, "Too thick by 0.04."},
		{"51.2 ± 1 thou", "53.2 thou", quantity.Length, tool.Tool{Step: length(2540)}, nil, Words{More: "thick", Less: "thin", Blade: true, Unit: in, Step: 2540}, "Too thick by 0.0010."},
		{"F4 ± 20 cents", "F4 +32 cents", quantity.Pitch, tool.Tool{}, nil, sharp, "Too sharp by 12 cents."},
		{"F4 ± 20 cents", "F4 -25 cents", quantity.Pitch, tool.Tool{}, nil, sharp, "Too flat by 5 cents."},
		{"E4 .. F4", "F#4 +3 cents", quantity.Pitch, tool.Tool{}, nil, sharp, "Too sharp by 103 cents."},
		{"68 ± 2 °F", "72 °F", quantity.Temperature, tool.Tool{}, nil, Words{More: "warm", Less: "cold", Unit: unitNamed(t, "°F"), Step: 5000}, "Too warm by 2."},
		{"5 .. 7", "9", quantity.Count, tool.Tool{}, nil, many, "Too many by 2."},
		{"5 .. 7", "4", quantity.Count, tool.Tool{}, nil, many, "Too few by 1."},
	} {
		tol := tolerance(t, c.target, c.kind)
		e := Of(readings(t, c.kind, strings.Split(c.readings, ";")...), c.tool, c.own)
		v := Judge(e, tol, 0.8)
		got := Say(v, e, tol, c.words)
		if got != c.want {
			t.Errorf("%s against %s: %q, want %q\n%+v\n%+v", c.readings, c.target, got, c.want, e, v)
		}
		if n := len(strings.Fields(got)); n > 8 {
			t.Errorf("%q has %d words", got, n)
		}
	}
}

func unitNamed(t *testing.T, name string) quantity.Unit {
	t.Helper()
	u, ok := quantity.UnitNamed(name)
	if !ok {
		t.Fatalf("no unit %q", name)
	}
	return u
}

// Too coarse is said once a stage: the caller clears it, and the side is said.
func TestSayOnceThatTheGaugeIsCoarse(t *testing.T) {
	t.Parallel()
	tol := tolerance(t, "1.30 +0.03 -0.02 mm", quantity.Length)
	e := Of(readings(t, quantity.Length, "1.34 mm"), tool.Tool{Step: length(500000)}, nil)
	v := Judge(e, tol, 0.8)
	if !v.Coarse {
		t.Fatalf("%+v", v)
	}
	v.Coarse = false
	w := Words{More: "thick", Less: "thin", Blade: true, Step: 10000}
	if got, want := Say(v, e, tol, w), "Maybe too thick. Measure before you cut."; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

func TestAmountIsNeverNought(t *testing.T) {
	t.Parallel()
	w := Words{Step: 100000000}
	for quanta, want := range map[float64]string{0.2: "0.000001", 1: "0.000001", 40: "0.00004", 4e5: "0.4", 6e5: "1", 2.4e7: "24"} {
		if got := amount(quanta, quantity.Length, w); got != want {
			t.Errorf("%v quanta are said as %q, want %q", quanta, got, want)
		}
	}
	if got := amount(math.Pow(2, 53), quantity.Length, w); got == "0" {
		t.Error("a large amount reads as nought")
	}
}
