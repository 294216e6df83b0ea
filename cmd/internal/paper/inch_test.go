package paper

import (
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"canewright/engine/quantity"
)

func tolerance(t interface{ Fatalf(string, ...any) }, text string) quantity.Tolerance {
	tol, err := quantity.ParseTolerance(text, quantity.Style{Want: quantity.Length})
	if err != nil {
		t.Fatalf("%q: %v", text, err)
	}
	return tol
}

// Worked by hand with 25.4 mm to the inch (NIST SP 811 (2008), B.6). By the
// formula of ASTM B258, 23 AWG is 0.022571 in and 21 AWG 0.028462 in.
func TestTheOtherSystem(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		text                   string
		ruler                  bool
		nominal, limits, marks string
	}{
		{"27.0 ± 0.5 mm", true, "about 1.063 in", "1.044 to 1.082 in", "1 3/64 to 1 5/64 in"},
		{"1.30 +0.03 -0.02 mm", false, "about 0.0512 in", "0.0504 to 0.0523 in", ""},
		{"120 ± 0.5 mm", true, "about 4.724 in", "4.705 to 4.744 in", "4 23/32 to 4 47/64 in"},
		{"24 .. 26 mm", false, "", "0.945 to 1.023 in", ""},
		{"at most 1.0 mm", true, "", "at most 0.039 in", "at most 1/32 in"},
		{"at least 7.5 mm", true, "", "at least 0.296 in", "at least 19/64 in"},
		{"0 .. 1.0 mm", true, "", "0 to 0.039 in", "0 to 1/32 in"},
		{"0 ± 1 mm", true, "0 in", "−0.039 to 0.039 in", "−1/32 to 1/32 in"},
		{"1 1/8 ± 1/64 in", true, "about 28.58 mm", "28.18 to 28.97 mm", ""},
		{"51.2 ± 0.4 thou", false, "about 1.300 mm", "1.291 to 1.310 mm", ""},
		{"46.0 ± 0.2 mm", false, "about 1.811 in", "1.804 to 1.818 in", ""},
		{"0.10 ± 0.01 mm", true, "about 0.0039 in", "0.00355 to 0.00433 in", "no mark of 1/64 in lies inside"},
		{"1.0 ± 0.3 mm", true, "about 0.039 in", "0.028 to 0.051 in", "1/32 to 3/64 in"},
		{"0.4 ± 0.1 mm", true, "about 0.016 in", "0.0119 to 0.0196 in", "1/64 in alone"},
		{"23 .. 21 AWG", false, "", "0.02258 to 0.02846 in", ""},
	} {
		t.Run(c.text, func(t *testing.T) {
			t.Parallel()
			got := other(tolerance(t, c.text), c.ruler)
			if want := (said{c.nominal, c.limits, c.marks}); got != want {
				t.Errorf("got %q, want %q", got, want)
			}
		})
	}
}

// What lies inside as printed lies inside as written. At most a fifth of the
// tolerance is lost where a figure more could be had.
func TestRoundedLimitsLetNothingIn(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(rt *rapid.T) {
		unit := rapid.SampledFrom([]string{"mm", "in", "thou"}).Draw(rt, "unit")
		d := rapid.IntRange(0, 4).Draw(rt, "decimals")
		draw := func(name string, low, high int) string {
			n := rapid.IntRange(low, high).Draw(rt, name)
			text := strings.Repeat("0", 5) + strconv.Itoa(n)
			whole, part := text[:len(text)-d], text[len(text)-d:]
			whole = strings.TrimLeft(whole, "0")
			if whole == "" {
				whole = "0"
			}
			if d == 0 {
				return whole
			}
			return whole + "." + part
		}
		tol := tolerance(rt, draw("nominal", 1, 99_999)+" ± "+draw("off", 0, 999)+" "+unit)
		got := other(tol, true)
		if got.Limits == "" {
			return
		}
		back := "mm"
		if unit == "mm" {
			back = "in"
		}
		low, high, ok := strings.Cut(strings.TrimSuffix(got.Limits, " "+back), " to ")
		if !ok {
			rt.Fatalf("%q gives %q", tol.Text, got.Limits)
		}
		worth := func(text string) int64 {
			e, err := quantity.Parse(text, quantity.Style{Want: quantity.Length})
			if err != nil {
				rt.Fatalf("%q gives %q: %v", tol.Text, got.Limits, err)
			}
			return e.Value.Q
		}
		l, h := worth(low+" "+back), worth(high+" "+back)
		for _, q := range []int64{l, h, (l + h) / 2} {
			if tol.Side(q) != quantity.Inside {
				rt.Errorf("%q gives %q, of which %d nm is outside", tol.Text, got.Limits, q)
			}
		}
		_, part, _ := strings.Cut(high, ".")
		if lost := l - tol.Low.Q + tol.High.Q - h; lost*5 > tol.High.Q-tol.Low.Q+20 && len(part) < finest && !moreTaken(tol, len(part)) {
			rt.Errorf("%q gives %q and loses %d nm", tol.Text, got.Limits, lost)
		}
		if l, h, ok := strings.Cut(strings.TrimSuffix(got.Marks, " in"), " to "); ok {
			for _, m := range []string{l, h} {
				if q := worth(m + " in"); tol.Side(q) != quantity.Inside {
					rt.Errorf("%q gives %q, of which %s is outside", tol.Text, got.Marks, m)
				}
			}
		}
	})
}

// moreTaken: one figure more than the rule of figures was given already.
func moreTaken(t quantity.Tolerance, decimals int) bool {
	one := int64(inch)
	if t.Unit.Name() != "mm" {
		one = millimetre
	}
	return decimals > max(places(t.Low.Q, t.Unit, t.Step, one), places(t.High.Q, t.Unit, t.Step, one))
}
