package gauging

import (
	"fmt"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"canewright/engine/quantity"
	"canewright/engine/tool"
)

// Sources: the GUM is JCGM 100:2008; JCGM 106:2012 is the guide on conformity
// assessment. Where a clause is named, the expected number is as printed there,
// and the tolerance is half its last digit. The printed numbers of JCGM 106, of
// GUM 4.4.5, 4.4.6, F.2.2.1 and most cells of Table G.2, of ILAC-G8 Table 1 (all
// but r = 1 and 0) and the factor of ISO 14253-1 are from memory: the text was
// not at hand. Each of them stands beside a value with more digits, worked out
// in other software.

func within(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s = %v, want %v ± %v", what, got, want, tolerance)
	}
}

func readings(t *testing.T, kind quantity.Kind, texts ...string) []quantity.Entered {
	t.Helper()
	var rs []quantity.Entered
	for _, s := range texts {
		e, err := quantity.Parse(s, quantity.Style{Want: kind})
		if err != nil {
			t.Fatal(err)
		}
		rs = append(rs, e)
	}
	return rs
}

func tolerance(t *testing.T, text string, kind quantity.Kind) quantity.Tolerance {
	t.Helper()
	tol, err := quantity.ParseTolerance(text, quantity.Style{Want: kind})
	if err != nil {
		t.Fatal(err)
	}
	return tol
}

// known is an estimate with a known standard uncertainty, in quanta.
func known(best int64, u float64) Estimate {
	return Estimate{N: 1, Kind: quantity.Length, Sum: best, Best: float64(best), B: u, U: u, Freedom: math.Inf(1)}
}

func limits(low, high int64) quantity.Tolerance {
	return quantity.Tolerance{Kind: quantity.Length, Low: quantity.Bound{Q: low, Set: true}, High: quantity.Bound{Q: high, Set: true}}
}

func atMost(high int64) quantity.Tolerance {
	return quantity.Tolerance{Kind: quantity.Length, High: quantity.Bound{Q: high, Set: true}}
}

// GUM 4.4.3, Table 1: twenty temperatures. Mean 100.145 °C (printed 100.14),
// s = 1.489 (1.49), s/√20 = 0.333 (0.33), ν = 19.
func TestRepeatedReadings(t *testing.T) {
	t.Parallel()
	texts := strings.Fields("96.90 98.18 98.25 98.61 99.03 99.49 99.56 99.74 99.89 100.07 100.33 100.42 100.68 100.95 101.11 101.20 101.57 101.84 102.36 102.72")
	for i := range texts {
		texts[i] += " °C"
	}
	e := Of(readings(t, quantity.Temperature, texts...), tool.Tool{}, nil)
	const kelvin = 9000
	within(t, "mean", e.Best/kelvin, 100.145, 1e-9)
	within(t, "s", e.S/kelvin, 1.489, 0.0005)
	within(t, "s", e.S/kelvin, 1.48884448, 5e-9) // recomputed from the same data in other software
	within(t, "u of the mean", e.A/kelvin, 0.333, 0.0005)
	within(t, "u of the mean", e.A/kelvin, 0.33291575, 5e-9)
	// The step is one hundredth: it adds 0.0029 K and hardly any freedom.
	within(t, "u of the step", e.B/kelvin, 0.01/math.Sqrt(12), 1e-12)
	within(t, "degrees of freedom", e.Freedom, 19, 0.01)
}

// Type B evaluations of the GUM: a step is a rectangle of half its width.
func TestTypeB(t *testing.T) {
	t.Parallel()
	one := readings(t, quantity.Temperature, "100 °C")
	kelvin := func(x float64) quantity.Value {
		return quantity.Value{Kind: quantity.TempDiff, Q: int64(math.Floor(x*9000 + 0.5))}
	}
	// GUM 4.4.5: half-width 4 °C, a step of 8 °C: u = 2.3 °C (a²/3 = 5.3).
	e := Of(one, tool.Tool{Step: kelvin(8)}, nil)
	within(t, "rectangular, a = 4 °C", e.U/9000, 2.3, 0.05)
	within(t, "a²/3", square(e.U/9000), 5.3, 0.05)
	// GUM F.2.2.1: resolution δx gives u = 0.29 δx.
	e = Of(one, tool.Tool{Step: kelvin(1)}, nil)
	within(t, "u of one step", e.U/9000, 0.29, 0.005)
	// The next four are evaluations the tool's maker has done: u is given, and
	// must come through unchanged beside a step of nought. GUM 4.4.6, triangular
	// a/√6 = 1.6 °C; H.1.3.4, arcsine 0.5/√2 = 0.35 °C.
	for want, u := range map[float64]float64{1.6: 4 / math.Sqrt(6), 0.35: 0.5 / math.Sqrt2} {
		e = Of([]quantity.Entered{{Value: one[0].Value}}, tool.Tool{Error: kelvin(u)}, nil)
		within(t, "u of the tool", e.U/9000, want, 0.05)
		within(t, "u of the tool", e.U/9000, u, 1e-4) // the quantum is 1/9000 K
	}
	// GUM H.1.3.1: U = 0.075 µm at k = 3 is 25 nm. H.1.3.2: 0.01 µm at 95 %
	// with five degrees of freedom (t = 2.57) is 3.9 nm.
	nm := quantity.Value{Kind: quantity.Length, Q: 75 / 3}
	e = Of([]quantity.Entered{{Value: nm}}, tool.Tool{Error: nm}, nil)
	within(t, "U = 75 nm, k = 3", e.U, 25, 0)
	within(t, "0.01 µm / t95(5)", 10/quantile(0.975, 5), 3.9, 0.05)
	within(t, "0.01 µm / t95(5)", 10/quantile(0.975, 5), 3.8901699, 5e-8)
}

// quantile inverts the probability used by verdicts, by halving.
func quantile(p, freedom float64) float64 {
	lo, hi := -1000.0, 1000.0
	for range 200 {
		mid := (lo + hi) / 2
		if lowerTail(mid, freedom) < p {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2
}

// GUM Table G.2 (t factors for two-sided 68.27 … 99.73 %) against the table
// recomputed in testdata/checks, and against the printed digits. Printed 235.80
// for ν = 1 at 99.73 % is a known misprint: the exact value is 235.784.
func TestStudentTable(t *testing.T) {
	t.Parallel()
	data, err := os.ReadFile("../../testdata/checks/student_t_two_sided.tsv")
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSpace(string(data)), "\n")
	head := strings.Split(lines[1], "\t")
	if len(lines) != 2+28 { // 1 to 20, 25 to 50 by fives, 100, inf
		t.Fatalf("%d rows, want 28", len(lines)-2)
	}
	parse := func(s string) float64 {
		f, err := strconv.ParseFloat(s, 64)
		if err != nil {
			t.Fatal(err)
		}
		return f
	}
	for _, l := range lines[2:] {
		cells := strings.Split(l, "\t")
		freedom := parse(cells[0]) // "inf" too
		for i, cell := range cells[1:] {
			p := parse(head[i+1][1:])
			factor := parse(cell)
			within(t, fmt.Sprintf("t(%v) for %v", freedom, p), quantile((1+p)/2, freedom), factor, 6e-7*max(1, factor/10))
			// and forwards: P(|T| <= t) is the two-sided probability
			o := oddsOf(factor, factor, 1, freedom)
			within(t, fmt.Sprintf("P(|t(%v)| <= %v)", freedom, factor), o.inside, p, 1e-6)
		}
	}
	for freedom, printed := range map[float64][6]string{
		1:           {"1.84", "6.31", "12.71", "13.97", "63.66", ""}, // 235.80 is a misprint
		2:           {"1.32", "2.92", "4.30", "4.53", "9.92", "19.21"},
		5:           {"1.11", "2.02", "2.57", "2.65", "4.03", "5.51"},
		10:          {"1.05", "1.81", "2.23", "2.28", "3.17", "3.96"},
		16:          {"1.03", "1.75", "2.12", "2.17", "2.92", "3.54"},
		20:          {"1.03", "1.72", "2.09", "2.13", "2.85", "3.42"},
		50:          {"1.01", "1.68", "2.01", "2.05", "2.68", "3.16"},
		math.Inf(1): {"1.000", "1.645", "1.960", "2.000", "2.576", "3.000"},
	} {
		for i, p := range []float64{0.6827, 0.90, 0.95, 0.9545, 0.99, 0.9973} {
			if printed[i] == "" {
				continue
			}
			decimals := len(printed[i]) - strings.Index(printed[i], ".") - 1
			if got := strconv.FormatFloat(quantile((1+p)/2, freedom), 'f', decimals, 64); got != printed[i] {
				t.Errorf("t(%v) for %v is %s, Table G.2 prints %s", freedom, p, got, printed[i])
			}
		}
	}
	within(t, "t(1) for 99.73 %, exact", quantile((1+0.9973)/2, 1), 235.784, 0.0005)
}

// JCGM 106 7.3, Table 1: z for a one-sided probability of conformity.
func TestOneSidedFactors(t *testing.T) {
	t.Parallel()
	for p, z := range map[float64]float64{0.80: 0.84, 0.90: 1.28, 0.95: 1.64, 0.99: 2.33, 0.999: 3.09} {
		within(t, fmt.Sprintf("z for %v", p), quantile(p, math.Inf(1)), z, 0.005)
	}
	for p, z := range map[float64]float64{0.80: 0.841621, 0.90: 1.28155, 0.95: 1.64485, 0.99: 2.32635, 0.999: 3.09023} {
		within(t, fmt.Sprintf("z for %v", p), quantile(p, math.Inf(1)), z, 5e-6)
	}
	// Eurachem/CITAC, Use of uncertainty information in compliance assessment:
	// guard bands of 1.64 u and 2.33 u for 5 % and 1 %.
	within(t, "z for 5 %", quantile(0.95, math.Inf(1)), 1.64, 0.005)
	within(t, "z for 1 %", quantile(0.99, math.Inf(1)), 2.33, 0.005)
}

func TestProbabilityOfConformity(t *testing.T) {
	t.Parallel()
	// JCGM 106 7.3.3 example 1: at most -5.40 V, y = -5.47 V, u = 0.05 V: 0.92.
	v := Judge(known(-547, 5), atMost(-540), 0.9)
	within(t, "one upper limit", v.Probability, 0.92, 0.005)
	within(t, "one upper limit", v.Probability, 0.91924334, 5e-9)
	if !v.Sure || v.Side != quantity.Inside {
		t.Errorf("-5.47 V against at most -5.40 V at 90 %%: %+v", v)
	}
	// JCGM 106 7.4: 12.5 to 16.3 mm²/s, y = 13.6, u = 1.8: 0.66 (0.93 - 0.27).
	v = Judge(known(136, 18), limits(125, 163), 0.8)
	within(t, "two limits", v.Probability, 0.66, 0.005)
	within(t, "two limits", v.Probability, 0.66262979, 5e-9)
	if v.Sure || v.Side != quantity.Inside {
		t.Errorf("13.6 against 12.5 to 16.3 at 80 %%: %+v", v)
	}
	// JCGM 106 8.3.3.2 example 1: P(V > 100 km/h) >= 99.9 % with u = 2 % of v
	// from about 107 km/h on (106.5876 by the formula).
	smallest := 0.0
	for v := int64(1000000); v < 1100000; v++ { // 1e-4 km/h
		if j := Judge(known(v, 0.02*float64(v)), atMost(1000000), 0.999); j.Side == quantity.Above && j.Sure {
			smallest = float64(v) / 1e4
			break
		}
	}
	within(t, "guarded rejection", smallest, 107, 0.5)
	within(t, "guarded rejection", smallest, 106.5876, 1.5e-4) // one step of the search and half a digit
	// JCGM 106 9.5: Y ~ N(1500, 0.12), 1499.80 to 1500.20: about 0.90.
	v = Judge(known(150000, 12), limits(149980, 150020), 0.8)
	within(t, "process without inspection", v.Probability, 0.90, 0.005)
	within(t, "process without inspection", v.Probability, 0.90441930, 5e-9)
	// Worked out: one u below the limit with four degrees of freedom is
	// 0.813050, not the normal 0.841345.
	e := known(9, 1)
	e.Freedom = 4
	within(t, "Student's t, four degrees", Judge(e, atMost(10), 0.8).Probability, 0.813050, 5e-7)
	within(t, "normal", Judge(known(9, 1), atMost(10), 0.8).Probability, 0.841345, 5e-7)
}

// JCGM 106 9.5: global risks. The process is N(1500, 0.12), the measurement
// adds u = 0.04; with acceptance from 1499.82 to 1500.18 about 1 % of all is
// wrongly passed and 7 % wrongly refused. Without a guard band 1.8942207 % and
// 3.7207800 % (worked out by quadrature in other software).
func TestGlobalRisks(t *testing.T) {
	t.Parallel()
	const scale = 1e6 // quanta a unit
	risks := func(guard float64) (consumer, producer float64) {
		accept := limits(int64(math.Round((1499.80+guard)*scale)), int64(math.Round((1500.20-guard)*scale)))
		require := limits(1499.80*scale, 1500.20*scale)
		const steps = 16000 // of 0.1 per 1000: the trapezium is good to 1e-8 here
		width := 1.6 / steps
		for i := 0; i <= steps; i++ {
			y := 1499.2 + float64(i)*width
			density := math.Exp(-square((y-1500)/0.12)/2) / (0.12 * math.Sqrt(2*math.Pi)) * width
			q := int64(math.Round(y * scale))
			passed := Judge(known(q, 0.04*scale), accept, 0.8).Probability
			side := require.Side(q)
			switch {
			case require.OnLimit(q, 1): // the edge belongs half to each
				consumer += density * passed / 2
				producer += density * (1 - passed) / 2
			case side == quantity.Inside:
				producer += density * (1 - passed)
			default:
				consumer += density * passed
			}
		}
		return consumer, producer
	}
	c, p := risks(0.02)
	within(t, "consumer's risk", c, 0.01, 0.005)
	within(t, "producer's risk", p, 0.07, 0.005)
	within(t, "consumer's risk", c, 0.0098782915, 1e-7)
	within(t, "producer's risk", p, 0.069026510, 1e-7)
	c, p = risks(0)
	within(t, "consumer's risk without guard", c, 0.018942207, 1e-7)
	within(t, "producer's risk without guard", p, 0.037207800, 1e-7)
}

func TestGuardBands(t *testing.T) {
	t.Parallel()
	// ILAC-G8:09/2019, Table 1: a reading at the limit less r × 2u is wrong with
	// less than this probability.
	for _, c := range []struct{ r, published, exact, tolerance float64 }{
		{3, 1e-6, 9.87e-10, 5e-13}, {1.5, 0.0016, 0.0013499, 5e-8}, {1, 0.025, 0.0227501, 5e-8}, {0.83, 0.05, 0.0484572, 5e-8},
	} {
		v := Judge(known(1000000-int64(math.Round(c.r*2*10000)), 10000), atMost(1000000), 0.8)
		o := oddsOf(math.Inf(1), c.r*2, 1, math.Inf(1))
		if risk := 1 - v.Probability; risk >= c.published {
			t.Errorf("r = %v: risk %v, ILAC-G8 says below %v", c.r, risk, c.published)
		}
		within(t, fmt.Sprintf("risk at r = %v", c.r), o.above, c.exact, c.tolerance)
	}
	// r = 0: 50 %, by nature.
	if v := Judge(known(1000000, 10000), atMost(1000000), 0.8); v.Probability != 0.5 || !v.OnLimit || v.Sure || v.Side != quantity.Inside {
		t.Errorf("on the limit: %+v", v)
	}
	// ILAC-G8 4.2.3: four statements with a guard band w = 0.2 below and above
	// TL = 10: pass, conditional pass, conditional fail, fail. Here w is 1.65 u
	// and the demand 95 %.
	u := 20.0 / 1.65
	for _, c := range []struct {
		reading int64
		side    quantity.Side
		sure    bool
	}{{980, quantity.Inside, true}, {990, quantity.Inside, false}, {1010, quantity.Above, false}, {1030, quantity.Above, true}} {
		if v := Judge(known(c.reading, u), atMost(1000), 0.95); v.Side != c.side || v.Sure != c.sure {
			t.Errorf("%d against at most 1000: %v, sure %v; want %v, %v", c.reading, v.Side, v.Sure, c.side, c.sure)
		}
	}
	// ISO 14253-1:2017: 95 % by default, guard factor 1.65 (Φ(1.65) = 0.95052853).
	within(t, "Φ(1.65)", lowerTail(1.65, math.Inf(1)), 0.95052853, 5e-9)
	// Worked out from it: at most 1.200 mm, u = 0.020 mm: accepted up to 1.167 mm.
	last := int64(0)
	for q := int64(1100); q <= 1200; q++ {
		if v := Judge(known(q, 20), atMost(1200), 0.95); v.Side == quantity.Inside && v.Sure {
			last = q
		}
	}
	if last != 1167 {
		t.Errorf("accepted up to 1.%d mm, want 1.167 mm", last-1000)
	}
}
