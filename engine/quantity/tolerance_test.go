package quantity

import (
	"math/big"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestParseTolerance(t *testing.T) {
	t.Parallel()
	open := int64(-1 << 62)
	for _, c := range []struct {
		text       string
		kind       Kind
		nom, lo, h int64
		step       int64
		limits     string
	}{
		{"120 ± 0.5 mm", Length, 120e6, 119500e3, 120500e3, 1e5, "119.5 to 120.5 mm"},
		{"120 +- 0.5 mm", Length, 120e6, 119500e3, 120500e3, 1e5, "119.5 to 120.5 mm"},
		{"120 mm +/- 0,5", Length, 120e6, 119500e3, 120500e3, 1e5, "119.5 to 120.5 mm"},
		{"1.30 +0.03 -0.02 mm", Length, 1300e3, 1280e3, 1330e3, 1e4, "1.28 to 1.33 mm"},
		{"1.30 -0.02 +0.03 mm", Length, 1300e3, 1280e3, 1330e3, 1e4, "1.28 to 1.33 mm"},
		{"1.30mm+0.03-0.02", Length, 1300e3, 1280e3, 1330e3, 1e4, "1.28 to 1.33 mm"},
		{"1.30 +0.03 -0 mm", Length, 1300e3, 1300e3, 1330e3, 1e4, "1.30 to 1.33 mm"},
		{"1.30 -0.02 0 mm", Length, 1300e3, 1280e3, 1300e3, 1e4, "1.28 to 1.30 mm"},
		{"24 .. 25.5 mm", Length, open, 24e6, 25500e3, 1e5, "24.0 to 25.5 mm"},
		{"24..25.5 mm", Length, open, 24e6, 25500e3, 1e5, "24.0 to 25.5 mm"},
		{"24mm…25.5mm", Length, open, 24e6, 25500e3, 1e5, "24.0 to 25.5 mm"},
		{"at most 1.0 mm", Length, open, open, 1e6, 1e5, "at most 1.0 mm"},
		{"<= 1 mm", Length, open, open, 1e6, 1e6, "at most 1 mm"},
		{"At Least 24 mm", Length, open, 24e6, open, 1e6, "at least 24 mm"},
		{">= 24 mm", Length, open, 24e6, open, 1e6, "at least 24 mm"},
		{"≥24 mm", Length, open, 24e6, open, 1e6, "at least 24 mm"},
		{"-0.5 .. 0 mm", Length, open, -5e5, 0, 1e5, "-0.5 to 0.0 mm"},
		{"0 ± 1 mm", Length, 0, -1e6, 1e6, 1e6, "-1 to 1 mm"},
		{"22 AWG ± 0.02 mm", Length, 643803, 623803, 663803, 1000, "0.624 to 0.664 mm"},
		{"22 .. 20 AWG", Length, open, 643803, 811821, 1000, "0.644 to 0.812 mm"},
		{"27 mm ± 1/64 in", Length, 27e6, 26603125, 27396875, 396875, "26.603 to 27.397 mm"},
		{"1 1/16 ± 1/64 in", Length, 26987500, 26590625, 27384375, 396875, "1 3/64 to 1 5/64 in"},
		{"27 mm +1/64 -1/32 in", Length, 27e6, 26206250, 27396875, 396875, "26.206 to 27.397 mm"},
		{"E4 .. F4", Pitch, open, -500e6, -400e6, 100e6, "E4 to F4"},
		{"F4 ± 20 cents", Pitch, -400e6, -420e6, -380e6, 1e6, "F4 -20 cents to F4 +20 cents"},
		{"F4 +20 -10 cents", Pitch, -400e6, -410e6, -380e6, 1e6, "F4 -10 cents to F4 +20 cents"},
		{"F4 +20 cents -10 cents", Pitch, -400e6, -410e6, -380e6, 1e6, "F4 -10 cents to F4 +20 cents"},
		{"F4 -10 cents +/- 20 cents", Pitch, -410e6, -430e6, -390e6, 1e6, "F4 -30 cents to F4 +10 cents"},
		{"at least F4 -10 cents", Pitch, open, -410e6, open, 1e6, "at least F4 -10 cents"},
		{"20 ± 2 °C", Temperature, 180000, 162000, 198000, 9000, "18 to 22 °C"},
		{"68 ± 2 °F", Temperature, 180000, 170000, 190000, 5000, "66 to 70 °F"},
		{"20 °C ± 2 K", Temperature, 180000, 162000, 198000, 9000, "18 to 22 °C"},
		{"5 .. 7", Count, open, 5, 7, 1, "5 to 7"},
		{"5 ± 1", Count, 5, 4, 6, 1, "4 to 6"},
		{"5", Count, 5, 5, 5, 1, "exactly 5"},
		{"45 ± 5 %", Humidity, 450e6, 400e6, 500e6, 10e6, "40 to 50 %"},
		{"30 ± 2°", Angle, 108e6, 100800e3, 115200e3, 3600e3, "28 to 32°"},
		{"at most 1 h 30 min", Time, open, open, 5400e3, 60e3, "at most 90 min"},
		{"2 h .. 2 h 30 min", Time, open, 7200e3, 9000e3, 60e3, "120 to 150 min"},
		{"1 h 30 min ± 5 min", Time, 5400e3, 5100e3, 5700e3, 60e3, "85 to 95 min"},
	} {
		got, err := ParseTolerance(c.text, Style{Want: c.kind})
		if err != nil {
			t.Errorf("ParseTolerance(%q): %v", c.text, err)
			continue
		}
		bound := func(q int64) Bound {
			if q == open {
				return Bound{}
			}
			return Bound{q, true}
		}
		if got.Nominal != bound(c.nom) || got.Low != bound(c.lo) || got.High != bound(c.h) || got.Step != c.step || got.Limits() != c.limits {
			t.Errorf("ParseTolerance(%q) = %v [%v, %v] step %d, %q\nwant %v [%v, %v] step %d, %q", c.text, got.Nominal, got.Low, got.High, got.Step, got.Limits(),
				bound(c.nom), bound(c.lo), bound(c.h), c.step, c.limits)
		}
		if got.String() != c.text {
			t.Errorf("ParseTolerance(%q) keeps %q", c.text, got)
		}
	}
}

func TestToleranceRefusals(t *testing.T) {
	t.Parallel()
	twoPoints := "write a range with two points: 24 .. 26 mm"
	both := "write both: 1.30 +0.03 -0.02 mm, with 0 where there is none"
	oneEach := "write one + and one -: 1.30 +0.03 -0.02 mm"
	for _, c := range []refusal{
		{"", Style{Want: Length}, 0, 0, "there is no number here", "type a number, such as 1.30 mm"},
		{"1.30 mm", Style{Want: Length}, 0, 7, "this target has no tolerance", "write 1.30 mm ± …, a range 24 .. 26 mm, at most or at least"},
		{"1.30", Style{Want: Length}, 0, 4, "this number has no unit", "write the unit, as in 1.30 mm"},
		{"24 ± 2", Style{Want: Length}, 5, 6, "this number has no unit", "write the unit, as in 1.30 mm"},
		{"24 .. 26", Style{Want: Length}, 0, 2, "this number has no unit", "write the unit, as in 1.30 mm"},
		{"24 ± 2 g", Style{Want: Length}, 5, 8, "g is a mass, and a length is wanted here", "write it as in 1.30 mm"},
		{"at most 2 g", Style{Want: Length}, 8, 11, "g is a mass, and a length is wanted here", "write it as in 1.30 mm"},
		{"20 ± 2 K", Style{Want: Temperature}, 0, 2, "this number has no unit", "write the unit, as in 21 °C"},
		{"24-26 mm", Style{Want: Length}, 0, 8, "one deviation is missing", "a range is written with two points: 24 .. 26 mm; deviations both: 1.30 +0.03 -0.02 mm"},
		{"24–26 mm", Style{Want: Length}, 2, 3, `"–" does not make a range`, twoPoints},
		{"24 mm to 26 mm", Style{Want: Length}, 6, 9, `"to" does not make a range`, twoPoints},
		{"24 to 26 mm", Style{Want: Length}, 3, 6, `"to" does not make a range`, twoPoints},
		{"24...26 mm", Style{Want: Length}, 2, 5, "three points do not make a range", twoPoints},
		{"1.30 ± mm", Style{Want: Length}, 7, 9, "there is no number after ±", "write it as in 1.30 ± 0.02 mm"},
		{"1.30 ±", Style{Want: Length}, 6, 6, "there is no number after ±", "write it as in 1.30 ± 0.02 mm"},
		{"1.30 ± -0.02 mm", Style{Want: Length}, 7, 8, "a deviation after ± has no sign", ""},
		{"1.30 +0.03 mm", Style{Want: Length}, 0, 13, "one deviation is missing", both},
		{"1.30 +0.03 +0.02 mm", Style{Want: Length}, 11, 19, "the second deviation is not of the other sign", oneEach},
		{"1.30 +0.03 0.02 mm", Style{Want: Length}, 11, 18, "the second deviation is not of the other sign", oneEach},
		{"26 .. 24 mm", Style{Want: Length}, 0, 11, "the limits are the wrong way round", "write the smaller first"},
		{"1 in .. 1 mm", Style{Want: Length}, 0, 12, "the limits are the wrong way round", "write the smaller first"},
		{"20 .. 22 AWG", Style{Want: Length}, 0, 12, "the limits are the wrong way round", "write the smaller first; a higher gauge is a thinner wire"},
		{"F4 .. E4", Style{Want: Pitch}, 0, 8, "the limits are the wrong way round", "write the smaller first"},
		{"22 ± 1 AWG", Style{Want: Length}, 5, 10, "a deviation cannot be a wire gauge", "write it in mm or in: 22 AWG ± 0.02 mm"},
		{"1,234.5 ± 1 mm", Style{Want: Length}, 0, 7, "this number has two decimal marks", "write one decimal comma or point, and no thousands separator"},
		{"1.30 ± 0,02 mm", Style{Want: Length, Point: true}, 8, 9, "inside brackets and formulas a comma is not a decimal comma", "write a point here: 0.02"},
		{"24 ± 2 millimetres", Style{Want: Length}, 7, 18, `"millimetres" is not a unit known here`, "did you mean mm?"},
		{"F .. G4", Style{Want: Pitch}, 0, 1, "this note has no octave from 0 to 9", "write the octave: F4 is the F above middle C"},
		{"F4 ± 20", Style{Want: Pitch}, 5, 7, "this deviation has no unit", "write cents: F4 ± 20 cents"},
		{" < 1 mm", Style{Want: Length}, 1, 2, `"<" has no place in a target`, `write "at most" or "at least"; a limit is always inside`},
		{"at most 9007200 m", Style{Want: Length}, 8, 17, "this number is too large", ""},
		{"9007 m ± 9007190 m", Style{Want: Length}, 0, 6, "this number is too large", ""},
		{"24 .. 26 mm wide", Style{Want: Length}, 12, 16, `"wide" does not belong after the number`, ""},
		{"5.5 .. 7", Style{Want: Count}, 0, 3, "a count is a whole number", ""},
	} {
		_, err := ParseTolerance(c.text, c.style)
		c.check(t, err)
	}
}

// The two traps of float64 that design notes name, and the edges of every
// notation: a value typed as the limit is never outside.
func TestExactAtTheEdge(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		tolerance, reading string
		kind               Kind
		want               Side
		on                 bool
	}{
		{"10.01 +0.04 -0.00 mm", "10.05 mm", Length, Inside, true}, // 10.01 + 0.04 < 10.05 as float64
		{"10.01 +0.04 -0.00 mm", "10.050001 mm", Length, Above, false},
		{"10.01 +0.04 -0.00 mm", "10.009999 mm", Length, Below, false},
		{"0.3 ± 0.1 mm", "0.2 mm", Length, Inside, true},
		{"at most 25.4 mm", "1 in", Length, Inside, true},
		{"at most 1 in", "25.4 mm", Length, Inside, true},
		{"at most 1 in", "2,54 cm", Length, Inside, true},
		{"at most 1/64 in", "0.396875 mm", Length, Inside, true},
		{"at least 1/64 in", "0.396874 mm", Length, Below, false},
		{"at least 51.2 thou", "0.0512 in", Length, Inside, true},
		{"at most 22 AWG", "22 AWG", Length, Inside, true},
		{"at most 22 AWG", "0.643803 mm", Length, Inside, true},
		{"68 ± 2 °F", "70 °F", Temperature, Inside, true},
		{"18 .. 20 °C", "68 °F", Temperature, Inside, true},
		{"at most 70 °F", "21.11 °C", Temperature, Inside, false},
		{"at most 349.2 Hz", "0.3492 kHz", Pitch, Inside, true},
		{"at most F4 -20 cents", "E4 +80 cents", Pitch, Inside, true},
		{"at most 1 h 30 min", "90 min", Time, Inside, true},
		{"at most 1 lbf", "4.4482216152605 N", Force, Inside, true},
		{"at most 45.0 %", "45 %", Humidity, Inside, true},
	} {
		tol, err := ParseTolerance(c.tolerance, Style{Want: c.kind})
		if err != nil {
			t.Errorf("ParseTolerance(%q): %v", c.tolerance, err)
			continue
		}
		e, err := Parse(c.reading, Style{Want: c.kind})
		if err != nil {
			t.Errorf("Parse(%q): %v", c.reading, err)
			continue
		}
		if got, on := tol.Side(e.Value.Q), tol.OnLimit(e.Value.Q, 1); got != c.want || on != c.on {
			t.Errorf("%s against %s is %v, on a limit %v; want %v, %v", c.reading, c.tolerance, got, on, c.want, c.on)
		}
	}
	// A difference of readings is exact too: 16.014 - 16.013 >= 0.001.
	a, _ := Parse("16.014 mm", Style{Want: Length})
	b, _ := Parse("16.013 mm", Style{Want: Length})
	tol, err := ParseTolerance("at least 0.001 mm", Style{Want: Length})
	if err != nil || tol.Side(a.Value.Q-b.Value.Q) != Inside || !tol.OnLimit(a.Value.Q-b.Value.Q, 1) {
		t.Errorf("16.014 - 16.013 mm against at least 0.001 mm is %v, want inside (%v)", tol.Side(a.Value.Q-b.Value.Q), err)
	}
}

// floorHalf is the rounding promised, floor(x + 1/2), written independently of
// the package's own.
func floorHalf(x *big.Rat) *big.Int {
	y := new(big.Rat).Add(x, big.NewRat(1, 2))
	q, r := new(big.Int).QuoRem(y.Num(), y.Denom(), new(big.Int))
	if r.Sign() < 0 {
		q.Sub(q, big.NewInt(1))
	}
	return q
}

// For random limits in one unit and readings in every other unit, at the two
// steps next to the limit: the side is the one math/big finds, and nothing
// that is inside exactly is refused.
func TestReadingOnALimitIsInsideInEveryUnit(t *testing.T) {
	t.Parallel()
	kinds := []Kind{Length, Mass, Force, Angle, Time, Temperature, TempDiff, Frequency, Humidity, Ratio, Volume, Density, Pressure}
	rapid.Check(t, func(rt *rapid.T) {
		kind := rapid.SampledFrom(kinds).Draw(rt, "kind")
		us := UnitsOf(kind)
		lu := rapid.SampledFrom(us).Draw(rt, "limit unit")
		nominal := rapid.StringMatching(`-?[0-9]{1,3}(\.[0-9]{1,6})?`).Draw(rt, "nominal")
		deviation := rapid.StringMatching(`[0-9]{1,2}(\.[0-9]{1,6})?`).Draw(rt, "deviation")
		text := nominal + " ± " + deviation + " " + lu.Name()
		zero := func(u Unit) *big.Rat {
			if kind.Point {
				return big.NewRat(u.Zero(), 1)
			}
			return new(big.Rat)
		}
		n, _ := new(big.Rat).SetString(nominal)
		d, _ := new(big.Rat).SetString(deviation)
		tol, err := ParseTolerance(text, Style{Want: kind})
		if err != nil {
			// Refused only where the further limit does not fit: 920 kgf, 10 kg.
			furthest := new(big.Rat).Add(new(big.Rat).Abs(n), d)
			furthest.Mul(furthest, lu.Quanta())
			if furthest.Cmp(big.NewRat(largest-200000, 1)) < 0 {
				rt.Fatalf("%q: %v", text, err)
			}
			return
		}
		for _, up := range []bool{true, false} {
			limit := new(big.Rat)
			if up {
				limit.Add(n, d)
			} else {
				limit.Sub(n, d)
			}
			limit.Mul(limit, lu.Quanta()).Add(limit, zero(lu))
			for _, u := range us {
				decimals := rapid.IntRange(0, 7).Draw(rt, "decimals")
				scale := new(big.Rat).SetInt(new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(decimals)), nil))
				inUnit := new(big.Rat).Sub(limit, zero(u))
				inUnit.Quo(inUnit, u.Quanta()).Mul(inUnit, scale)
				below := new(big.Int).Div(inUnit.Num(), inUnit.Denom())
				for _, k := range []*big.Int{below, new(big.Int).Add(below, big.NewInt(1))} {
					typed := new(big.Rat).Quo(new(big.Rat).SetInt(k), scale)
					reading := strings.TrimSpace(typed.FloatString(decimals)) + " " + u.Name()
					exact := new(big.Rat).Mul(typed, u.Quanta())
					exact.Add(exact, zero(u))
					e, err := Parse(reading, Style{Want: kind})
					if err != nil && new(big.Rat).Abs(exact).Cmp(big.NewRat(largest, 1)) > 0 {
						continue
					}
					if err != nil {
						rt.Fatalf("%q: %v", reading, err)
					}
					q, l := floorHalf(exact), floorHalf(limit)
					if q.Int64() != e.Value.Q {
						rt.Fatalf("%q is %d quanta, want %v", reading, e.Value.Q, q)
					}
					want := q.Cmp(l)
					one := Tolerance{Kind: kind, High: tol.High}
					if !up {
						one = Tolerance{Kind: kind, Low: tol.Low}
					}
					got := int(one.Side(e.Value.Q))
					switch {
					case up && got != max(want, 0), !up && got != min(want, 0):
						rt.Fatalf("%q against %q (upper: %v): side %d, want %d", reading, text, up, got, want)
					case up && exact.Cmp(limit) <= 0 && got != 0, !up && exact.Cmp(limit) >= 0 && got != 0:
						rt.Fatalf("%q lies inside %q exactly and is refused", reading, text)
					case exact.Cmp(limit) == 0 && !one.OnLimit(e.Value.Q, 1):
						rt.Fatalf("%q equals a limit of %q and is not on it", reading, text)
					}
				}
			}
		}
	})
}

func TestSideOfSumIsExact(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(rt *rapid.T) {
		n := rapid.IntRange(1, 1000).Draw(rt, "n")
		limit := rapid.Int64Range(-largest, largest).Draw(rt, "limit")
		sum := limit*int64(min(n, 512)) + rapid.Int64Range(-2, 2).Draw(rt, "off")
		want := big.NewInt(sum).Cmp(new(big.Int).Mul(big.NewInt(limit), big.NewInt(int64(n))))
		high := Tolerance{High: Bound{limit, true}}
		low := Tolerance{Low: Bound{limit, true}}
		if got := high.SideOfSum(sum, n); int(got) != max(want, 0) {
			rt.Fatalf("sum %d of %d against at most %d: %v", sum, n, limit, got)
		}
		if got := low.SideOfSum(sum, n); int(got) != min(want, 0) {
			rt.Fatalf("sum %d of %d against at least %d: %v", sum, n, limit, got)
		}
		if got := high.OnLimit(sum, n); got != (want == 0) {
			rt.Fatalf("sum %d of %d against %d: on the limit %v", sum, n, limit, got)
		}
	})
}

func TestLimitsInAnotherUnit(t *testing.T) {
	t.Parallel()
	tol, err := ParseTolerance("1.30 +0.03 -0.02 mm", Style{Want: Length})
	if err != nil {
		t.Fatal(err)
	}
	// 1.28/25.4 and 1.33/25.4 in
	if got, want := tol.LimitsIn(unit(t, "thou")), "50.393701 to 52.362205 thou"; got != want {
		t.Errorf("limits in thou: %q, want %q", got, want)
	}
	if got, want := tol.LimitsIn(unit(t, "µm")), "1280 to 1330 µm"; got != want {
		t.Errorf("limits in µm: %q, want %q", got, want)
	}
}

func TestParseAnyTolerance(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]Kind{
		"1.30 ± 0.02 mm": Length, "0.85 ± 0.05 g": Mass, "20 ± 2 °C": Temperature, "F4 ± 20 cents": Pitch,
		"349 ± 2 Hz": Frequency, "at most 45 %": Ratio, "1 h ± 5 min": Time, "5": Count,
	} {
		if tol, err := ParseAnyTolerance(text); err != nil || tol.Kind != want {
			t.Errorf("%q is a %v (%v), want a %v", text, tol.Kind, err, want)
		}
	}
	_, err := ParseAnyTolerance("24 ± 2 furlongs")
	refusal{"24 ± 2 furlongs", Style{}, 7, 15, `"furlongs" is not a unit known here`, ""}.check(t, err)
}
