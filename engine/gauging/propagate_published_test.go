package gauging

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"
)

// Sources: the GUM is JCGM 100:2008, its supplement on Monte Carlo is JCGM
// 101:2008. Where a clause is named, the expected number is as printed there
// and the tolerance half its last digit, unless the line says what the printed
// rounding does. H.1.7 and the correlations of H.2 are from memory, and so are
// JCGM 101, 9.3 and 9.4; each of them stands beside a value worked out again.

func mustPropagate(t *testing.T, f func([]float64) (float64, error), inputs []Input, covariance func(i, j int) float64) Combined {
	t.Helper()
	c, err := propagate(f, inputs, covariance)
	if err != nil {
		t.Fatal(err)
	}
	sum := 0.0
	for _, s := range c.Shares {
		sum += s.Share
	}
	if c.U > 0 && math.Abs(sum-1) > 1e-12 {
		t.Errorf("the shares add up to %v", sum)
	}
	return c
}

// endGauge is GUM H.1.2: l = l_S + d - l_S(δα·θ + α_S·δθ), in nm, °C.
func endGauge(x []float64) (float64, error) {
	return x[0] + x[1] - x[0]*(x[2]*x[3]+x[4]*x[5]), nil
}

// The limits behind the standard uncertainties the guide prints rounded: 0.58e-6
// is 1e-6/√3, 1.2e-6 is 2e-6/√3, 0.029 is 0.05/√3, 0.41 is that of 0.2 and
// 0.5/√2, 9.7 is that of 13/√5, 10/t95(5) and 20/3.
func endGaugeInputs(t *testing.T) []Input {
	t.Helper()
	ten := 10 / distuv.StudentsT{Mu: 0, Sigma: 1, Nu: 5}.Quantile(0.975)
	d := mustPropagate(t, func(x []float64) (float64, error) { return x[0] + x[1] + x[2], nil },
		[]Input{{Scatter: 13 / math.Sqrt(5), Freedom: 24}, {Scatter: ten, Freedom: 5}, {Scatter: 20.0 / 3, Freedom: 8}}, nil)
	within(t, "u(d)", d.U, 9.7, 0.05)
	within(t, "u(d)", d.U, 9.66322, 5e-6)
	// The guide divides the rounded 9.7⁴: 25.6. Unrounded it is 25.5.
	within(t, "ν(d)", d.Freedom, 25.6, 0.15)
	return []Input{
		{Name: "standard", Value: 50000623, Scatter: 25, Freedom: 18},
		{Name: "difference", Value: 215, Scatter: d.U, Freedom: 25.6},
		{Name: "δα", Value: 0, Scatter: 1e-6 / math.Sqrt(3), Freedom: 50},
		{Name: "θ", Value: -0.1, Scatter: math.Hypot(0.2, 0.5/math.Sqrt2)},
		{Name: "α", Value: 11.5e-6, Scatter: 2e-6 / math.Sqrt(3)},
		{Name: "δθ", Value: 0, Scatter: 0.05 / math.Sqrt(3), Freedom: 2},
	}
}

// GUM H.1, end-gauge calibration.
func TestEndGauge(t *testing.T) {
	t.Parallel()
	c := mustPropagate(t, endGauge, endGaugeInputs(t), nil)
	within(t, "l", c.Value, 50000838, 0.5)
	within(t, "uc²", square(c.U), 1002, 0.5)
	within(t, "uc²", square(c.U), 1002.239, 5e-4) // worked out again in other software
	within(t, "uc", c.U, 32, 0.5)
	for i, printed := range []struct{ part, tolerance float64 }{{25, 0.5}, {9.7, 0.05}, {2.9, 0.05}, {0, 0.5}, {0, 0.5}, {16.6, 0.05}} {
		within(t, "part of "+c.Shares[i].Name, c.Shares[i].Part, printed.part, printed.tolerance)
	}
	within(t, "ν", c.Freedom, 16.7, 0.05)
	within(t, "ν", c.Freedom, 16.7411, 5e-5)
	// The guide multiplies the rounded 32 nm by 2.92 and prints 93 nm; unrounded
	// it is 92.47, which rounds to 92.
	nu := math.Floor(c.Freedom)
	k := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: nu}.Quantile(0.995)
	within(t, "t99(16)", k, 2.92, 0.005)
	within(t, "U99 of the guide", k*math.Round(c.U), 93, 0.5)
	within(t, "U99", k*c.U, 92.4666, 5e-5)
	k = distuv.StudentsT{Mu: 0, Sigma: 1, Nu: nu}.Quantile(0.975)
	within(t, "U95 of the guide", k*math.Round(c.U), 68, 0.5)

	// H.1.7: two terms of second order, 11.7 and 1.7 nm, make 34 nm of it.
	within(t, "u with second order", c.SecondOrder, 34, 0.5)
	within(t, "the terms of second order", math.Sqrt(square(c.SecondOrder)-square(c.U)), math.Hypot(11.7, 1.7), 0.05)
	// By hand: l_S u(δα) u(θ) and l_S u(α_S) u(δθ).
	in := endGaugeInputs(t)
	terms := math.Hypot(in[2].Scatter*in[3].Scatter, in[4].Scatter*in[5].Scatter) * in[0].Value
	within(t, "u with second order", c.SecondOrder, math.Hypot(c.U, terms), 1e-5)
	if c.Nonlinear {
		t.Error("7 % more is called nonlinear")
	}
	// By trials, where nothing is left out: 34 nm too. Here δα and δθ stay
	// normal: with two degrees of freedom a t has no standard deviation.
	known := endGaugeInputs(t)
	for i := range known {
		known[i].Freedom = 0
	}
	trials, err := MonteCarlo(endGauge, known, 200_000, rand.NewPCG(1, 1))
	if err != nil {
		t.Fatal(err)
	}
	within(t, "l by trials", trials.Mean, c.Value, 0.5)
	within(t, "u by trials", trials.U, c.SecondOrder, 0.2)
}

// GUM H.1.2 says why the differences are inputs: α and α_S, θ and θ_S are
// correlated. With these instead, and their covariances, u is the same.
func TestEndGaugeWithCorrelatedInputs(t *testing.T) {
	t.Parallel()
	in := endGaugeInputs(t)
	want := mustPropagate(t, endGauge, in, nil).U
	uAlpha, uTheta := math.Hypot(in[4].Scatter, in[2].Scatter), math.Hypot(in[3].Scatter, in[5].Scatter)
	inputs := []Input{in[0], in[1],
		{Name: "α_S", Value: 11.5e-6, Scatter: in[4].Scatter}, {Name: "α", Value: 11.5e-6, Scatter: uAlpha},
		{Name: "θ", Value: -0.1, Scatter: in[3].Scatter}, {Name: "θ_S", Value: -0.1, Scatter: uTheta},
	}
	covariance := func(i, j int) float64 {
		switch {
		case min(i, j) == 2 && max(i, j) == 3: // α = α_S + δα
			return square(in[4].Scatter)
		case min(i, j) == 4 && max(i, j) == 5: // θ_S = θ - δθ
			return square(in[3].Scatter)
		}
		return 0
	}
	// (H.2) of the guide: l(1 + αθ) = l_S(1 + α_S θ_S) + d.
	model := func(x []float64) (float64, error) {
		return (x[0]*(1+x[2]*x[5]) + x[1]) / (1 + x[3]*x[4]), nil
	}
	c := mustPropagate(t, model, inputs, covariance)
	within(t, "uc", c.U, want, 0.001) // δα·θ and the like are of second order here
	// Forgetting the correlation makes it over seven times as much.
	if alone := mustPropagate(t, model, inputs, nil); alone.U < 7*c.U {
		t.Errorf("without correlation u is %v", alone.U)
	}
	negative := false
	for _, s := range c.Shares {
		negative = negative || s.Share < 0
	}
	if !negative && c.Shares[4].Share+c.Shares[5].Share > 1 {
		t.Errorf("nothing cancels: %+v", c.Shares)
	}
}

// GUM H.2: resistance, reactance and impedance from simultaneous readings.
func TestImpedance(t *testing.T) {
	t.Parallel()
	data, err := os.ReadFile("../../testdata/checks/gum_h2.tsv")
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimSpace(string(data)), "\n")[2:]
	if len(lines) != 5 {
		t.Fatalf("%d readings", len(lines))
	}
	var read [3][]float64
	for _, l := range lines {
		for i, cell := range strings.Split(l, "\t") {
			v, err := strconv.ParseFloat(cell, 64)
			if err != nil {
				t.Fatal(err)
			}
			read[i] = append(read[i], v)
		}
	}
	var inputs []Input
	for i, name := range []string{"V", "I", "φ"} {
		mean, s := stat.MeanStdDev(read[i], nil)
		inputs = append(inputs, Input{Name: name, Value: mean, Scatter: s / math.Sqrt(5), Freedom: 4, Readings: 5})
	}
	inputs[1].Value, inputs[1].Scatter = inputs[1].Value/1000, inputs[1].Scatter/1000 // mA
	for i, printed := range []struct{ mean, digit, s, sDigit float64 }{{4.9990, 5e-5, 0.0032, 5e-5}, {19.6610e-3, 5e-8, 0.0095e-3, 5e-8}, {1.04446, 5e-6, 0.00075, 5e-6}} {
		within(t, "mean of "+inputs[i].Name, inputs[i].Value, printed.mean, printed.digit)
		within(t, "s of the mean of "+inputs[i].Name, inputs[i].Scatter, printed.s, printed.sDigit)
	}
	r := func(i, j int) float64 { return stat.Correlation(read[i], read[j], nil) }
	within(t, "r(V, I)", r(0, 1), -0.36, 0.005)
	within(t, "r(V, φ)", r(0, 2), 0.86, 0.005)
	within(t, "r(I, φ)", r(1, 2), -0.65, 0.005)
	covariance := func(i, j int) float64 { return r(i, j) * inputs[i].Scatter * inputs[j].Scatter }

	var out [3]Combined
	for i, model := range []struct {
		name                string
		f                   func([]float64) (float64, error)
		value, u            float64 // as printed, in thousandths of an ohm
		again, uAgain, half float64
	}{
		{"R", func(x []float64) (float64, error) { return x[0] / x[1] * math.Cos(x[2]), nil }, 127.732, 0.071, 127.73217, 0.0710714, 5e-4},
		// The guide's tables print 0.295 and 0.296 for u(X); 0.29558 is between.
		{"X", func(x []float64) (float64, error) { return x[0] / x[1] * math.Sin(x[2]), nil }, 219.847, 0.2955, 219.84651, 0.2955817, 1e-3},
		{"Z", func(x []float64) (float64, error) { return x[0] / x[1], nil }, 254.260, 0.236, 254.25970, 0.2363361, 5e-4},
	} {
		c := mustPropagate(t, model.f, inputs, covariance)
		within(t, model.name, c.Value, model.value, 5e-4)
		within(t, "u of "+model.name, c.U, model.u, model.half)
		within(t, model.name, c.Value, model.again, 5e-6)
		within(t, "u of "+model.name, c.U, model.uAgain, 2e-6)
		if c.Nonlinear {
			t.Errorf("%s is called nonlinear: %+v", model.name, c)
		}
		out[i] = c
	}
	between := func(a, b Combined) float64 {
		sum := 0.0
		for i := range inputs {
			for j := range inputs {
				cov := square(inputs[i].Scatter)
				if i != j {
					cov = covariance(i, j)
				}
				sum += a.Shares[i].Sensitivity * b.Shares[j].Sensitivity * cov
			}
		}
		return sum / (a.U * b.U)
	}
	for _, c := range []struct {
		a, b           int
		printed, again float64
	}{{0, 1, -0.588, -0.588430}, {0, 2, -0.485, -0.485259}, {1, 2, 0.993, 0.992512}} {
		within(t, fmt.Sprintf("r(%d, %d)", c.a, c.b), between(out[c.a], out[c.b]), c.printed, 6e-4)
		within(t, fmt.Sprintf("r(%d, %d)", c.a, c.b), between(out[c.a], out[c.b]), c.again, 2e-5)
	}
}

// JCGM 101, 9.2.3, Table 3: the sum of four rectangles of u = 1. u = 2.00; by
// trials 95 % lie within ±3.88, where the GUM has ±3.92.
func TestSumOfRectangles(t *testing.T) {
	t.Parallel()
	sum := func(x []float64) (float64, error) { return x[0] + x[1] + x[2] + x[3], nil }
	inputs := []Input{{Step: 1}, {Step: 1}, {Step: 1}, {Step: 1}}
	c := mustPropagate(t, sum, inputs, nil)
	within(t, "u", c.U, 2, 1e-12)
	within(t, "k u", distuv.UnitNormal.Quantile(0.975)*c.U, 3.92, 0.005)
	if c.Nonlinear || !math.IsInf(c.Freedom, 1) {
		t.Errorf("%+v", c)
	}
	trials, err := MonteCarlo(sum, inputs, 1_000_000, rand.NewPCG(9, 23))
	if err != nil {
		t.Fatal(err)
	}
	within(t, "u by trials", trials.U, 2.00, 0.005)
	within(t, "mean by trials", trials.Mean, 0, 0.01)
	low, high := trials.Interval(0.95)
	within(t, "low", low, -3.88, 0.015) // a million trials leave ±0.006
	within(t, "high", high, 3.88, 0.015)
	within(t, "P(sum >= 0)", trials.Probability, 0.5, 0.002)
	// 9.2.2, Table 2: four normals, ±3.92 both ways.
	trials, err = MonteCarlo(sum, []Input{{Scatter: 1}, {Scatter: 1}, {Scatter: 1}, {Scatter: 1}}, 1_000_000, rand.NewPCG(9, 22))
	if err != nil {
		t.Fatal(err)
	}
	low, high = trials.Interval(0.95)
	within(t, "low, normal", low, -3.92, 0.02)
	within(t, "high, normal", high, 3.92, 0.02)
}

// JCGM 101, 9.3: mass calibration. First order gives u = 0.0539 mg, second order
// 0.0750 mg, trials 0.0754 mg with 95 % within 1.0834 to 1.3825 mg.
func TestMassCalibration(t *testing.T) {
	t.Parallel()
	const nominal = 100000.0 // mg
	model := func(x []float64) (float64, error) {
		return (x[0]+x[1])*(1+(x[2]-1.2)*(1/x[3]-1/x[4])) - nominal, nil
	}
	inputs := []Input{
		{Name: "reference", Value: nominal, Scatter: 0.050},
		{Name: "difference", Value: 1.234, Scatter: 0.020},
		{Name: "air", Value: 1.20, Step: 0.10 / math.Sqrt(3)},
		{Name: "density", Value: 8000, Step: 1000 / math.Sqrt(3)},
		{Name: "reference density", Value: 8000, Step: 50 / math.Sqrt(3)},
	}
	c := mustPropagate(t, model, inputs, nil)
	within(t, "δm", c.Value, 1.2340, 5e-5)
	within(t, "u, first order", c.U, 0.0539, 5e-5)
	// Second order by hand: the twist of air and density, 1e5·u(a)·u(ρ)/ρ²,
	// and with the reference's density: 0.05217 mg in all, so 0.07500 mg.
	twist := 1e5 * math.Hypot(1000, 50) / math.Sqrt(3) * 0.10 / math.Sqrt(3) / 8000 / 8000
	within(t, "u, second order by hand", math.Hypot(c.U, twist), 0.0750, 5e-5)
	// Differences over a whole u see some of the higher orders too.
	within(t, "u, second order", c.SecondOrder, 0.0750, 3e-4)
	if !c.Nonlinear {
		t.Error("it is not called nonlinear")
	}
	trials, err := MonteCarlo(model, inputs, 1_000_000, rand.NewPCG(9, 3))
	if err != nil {
		t.Fatal(err)
	}
	within(t, "δm by trials", trials.Mean, 1.2341, 3e-4)
	within(t, "u by trials", trials.U, 0.0754, 2e-4)
	// The supplement gives the shortest interval. Where it lies is ill determined
	// by trials (both ends may move together); its length and what it holds are not.
	low, high := shortest(trials, 0.95)
	within(t, "length of the interval", high-low, 1.3825-1.0834, 1e-3)
	held := 0
	for _, y := range trials.results {
		if y >= 1.0834 && y <= 1.3825 {
			held++
		}
	}
	within(t, "share within the printed interval", float64(held)/float64(len(trials.results)), 0.95, 1e-3)
}

func shortest(t Trials, share float64) (low, high float64) {
	ys := slices.Sorted(slices.Values(t.results))
	n := int(share * float64(len(ys)))
	low, high = ys[0], ys[len(ys)-1]
	for i := 0; i+n < len(ys); i++ {
		if ys[i+n]-ys[i] < high-low {
			low, high = ys[i], ys[i+n]
		}
	}
	return low, high
}

// JCGM 101, 9.4: comparison loss x1² + x2² with u = 0.005 each. By hand: the mean
// is x1² + 2u², the variance 4x1²u² + 4u⁴ (in 1e-6: 50 and 50, 150 and 112, 2550
// and 502; first order has 0, 100, 500).
func TestComparisonLoss(t *testing.T) {
	t.Parallel()
	model := func(x []float64) (float64, error) { return x[0]*x[0] + x[1]*x[1], nil }
	for _, c := range []struct {
		x1, first, mean, u float64
		nonlinear          bool
	}{{0, 0, 50, 50, true}, {0.010, 100, 150, 112, true}, {0.050, 500, 2550, 502, false}} {
		inputs := []Input{{Value: c.x1, Scatter: 0.005}, {Scatter: 0.005}}
		p := mustPropagate(t, model, inputs, nil)
		within(t, "u, first order", p.U*1e6, c.first, 1e-6)
		within(t, "mean, second order", (p.Value+p.Bias)*1e6, c.mean, 1e-6)
		within(t, "u, second order", p.SecondOrder*1e6, c.u, 0.5)
		if !p.Nonlinear && c.nonlinear {
			t.Errorf("%v is not called nonlinear", c.x1)
		}
		trials, err := MonteCarlo(model, inputs, 200_000, rand.NewPCG(9, 4))
		if err != nil {
			t.Fatal(err)
		}
		within(t, "mean by trials", trials.Mean*1e6, c.mean, 4)
		within(t, "u by trials", trials.U*1e6, c.u, 3)
	}
	// At 0: 95 % within 0 and 150, the shortest interval (printed); as many above
	// as below are within 1.3 and 184: quantiles of 25e-6 × χ²(2).
	trials, err := MonteCarlo(model, []Input{{Scatter: 0.005}, {Scatter: 0.005}}, 200_000, rand.NewPCG(9, 4))
	if err != nil {
		t.Fatal(err)
	}
	low, high := trials.Interval(0.95)
	from, to := shortest(trials, 0.95)
	within(t, "shortest, from", from*1e6, 0, 1)
	within(t, "shortest, to", to*1e6, 150, 3)
	chi := distuv.ChiSquared{K: 2}
	within(t, "low", low*1e6, 25*chi.Quantile(0.025), 0.1)
	within(t, "high", high*1e6, 25*chi.Quantile(0.975), 3)
}

// gonum's Student's t and normal against the tail used by verdicts, and against
// the draws of trials.
func TestDistributionsAgainstGonum(t *testing.T) {
	t.Parallel()
	for _, nu := range []float64{1, 2, 3, 4.5, 10, 16.7, 100, 1e4} {
		ref := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: nu}
		for _, z := range []float64{-8, -3, -1, -0.1, 0, 0.5, 1.96, 4} {
			within(t, fmt.Sprintf("P(t(%v) <= %v)", nu, z), lowerTail(z, nu), ref.CDF(z), 1e-11)
		}
	}
	for _, z := range []float64{-8, -3, -1, -0.1, 0, 0.5, 1.96, 4} {
		within(t, fmt.Sprintf("P(z <= %v)", z), lowerTail(z, math.Inf(1)), distuv.UnitNormal.CDF(z), 1e-14)
	}
	for _, nu := range []float64{1, 3, 10, math.Inf(1)} {
		for _, z := range []float64{-2, -0.5, 1, 3} {
			trials, err := MonteCarlo(func(x []float64) (float64, error) { return z - x[0], nil }, []Input{{Scatter: 1, Freedom: nu}}, 200_000, rand.NewPCG(5, 5))
			if err != nil {
				t.Fatal(err)
			}
			within(t, fmt.Sprintf("share of t(%v) below %v", nu, z), trials.Probability, lowerTail(z, nu), 0.004)
		}
	}
}
