package gauging

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"
)

// Trials is what a Monte Carlo run of a formula gave (JCGM 101).
type Trials struct {
	Mean, U     float64
	Probability float64 // that the result is at least 0; one that could not be worked out is not
	Failed      int     // how many could not be worked out
	results     []float64
}

// mostFailed of a hundred trials may fail.
const mostFailed = 1

// MonteCarlo draws n sets of inputs and works the formula out for each. Scatter
// is drawn from Student's t with its degrees of freedom (JCGM 101, 6.4.9), the
// step from a rectangle, the error of each tool once for all its inputs from a
// normal distribution. The same source gives the same trials.
func MonteCarlo(f func([]float64) (float64, error), inputs []Input, n int, source rand.Source) (Trials, error) {
	if n < 1 {
		return Trials{}, errors.New("run the formula by chance: no trials are asked for")
	}
	r := rand.New(source)
	x, errs := make([]float64, len(inputs)), make([]float64, len(inputs))
	first := make([]int, len(inputs)) // the first input of the same tool
	for i := range inputs {
		first[i] = i
		for j := range i {
			if inputs[i].Tool != "" && inputs[j].Tool == inputs[i].Tool {
				first[i] = j
				break
			}
		}
	}
	out := Trials{results: make([]float64, 0, n)}
	var last error
	held := 0
	for range n {
		for i := range inputs {
			in := &inputs[i]
			x[i] = in.Value
			if in.Scatter > 0 {
				x[i] += in.Scatter * student(r, source, in.freedom())
			}
			if in.Step > 0 {
				x[i] += in.Step * math.Sqrt(3) * (2*r.Float64() - 1)
			}
			if first[i] == i {
				errs[i] = r.NormFloat64()
			}
			x[i] += in.ToolError * errs[first[i]]
		}
		y, err := f(x)
		if err != nil {
			out.Failed, last = out.Failed+1, err
			continue
		}
		if y >= 0 {
			held++
		}
		out.results = append(out.results, y)
	}
	if out.Failed*100 > mostFailed*n || len(out.results) == 0 {
		return Trials{}, fmt.Errorf("run the formula by chance: %d of %d trials failed: %w", out.Failed, n, last)
	}
	out.Probability = float64(held) / float64(n)
	out.Mean, out.U = spread(out.results)
	return out, nil
}

func student(r *rand.Rand, source rand.Source, freedom float64) float64 {
	z := r.NormFloat64()
	if freedom > almostNormal {
		return z
	}
	return z / math.Sqrt(distuv.ChiSquared{K: freedom, Src: source}.Rand()/freedom)
}

func spread(ys []float64) (mean, s float64) {
	// From the first value, so that large ones lose no digits.
	sum := 0.0
	for _, y := range ys {
		sum += y - ys[0]
	}
	mean = ys[0] + sum/float64(len(ys))
	squares := 0.0
	for _, y := range ys {
		squares += square(y - mean)
	}
	return mean, math.Sqrt(squares / max(float64(len(ys)-1), 1))
}

// Interval is the stretch that holds this share of the results, as many below
// as above it (JCGM 101, 7.7).
func (t Trials) Interval(share float64) (low, high float64) {
	ys := slices.Sorted(slices.Values(t.results))
	at := func(p float64) float64 {
		return ys[min(max(int(math.Ceil(p*float64(len(ys))))-1, 0), len(ys)-1)]
	}
	return at((1 - share) / 2), at((1 + share) / 2)
}
