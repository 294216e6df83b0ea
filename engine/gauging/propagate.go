package gauging

import (
	"math"
)

// Share is one line of an uncertainty budget.
type Share struct {
	Name        string
	Slot        int
	Sensitivity float64 // change of the result by that of the input; 0, and not worked out, for an exact one
	Part        float64 // |Sensitivity| × the input's standard uncertainty
	Share       float64 // of u²: they add up to 1, and one may be negative where a shared error cancels
	// Scatter is the part further readings make smaller, on the scale of the
	// result; Readings and Freedom are what it rests on now.
	Scatter  float64
	Readings int
	Freedom  float64
}

// Combined is what a formula makes of its inputs.
type Combined struct {
	Value   float64
	U       float64 // combined standard uncertainty
	Freedom float64 // effective degrees of freedom (Welch–Satterthwaite, JCGM 100 G.4)
	Shares  []Share // in the order of the inputs
	// SecondOrder is U with the terms of second order (JCGM 100, 5.1.2 note), and
	// Bias how far the mean of the result lies from Value for their sake.
	SecondOrder, Bias float64
	// Nonlinear: these differ from U and nought by over a tenth of U, or the
	// formula does not go on straight for two U in the direction it changes most,
	// as at a bend, a kink (abs, min, max), or the end of what it can work out.
	// Value and U then say little about probabilities; MonteCarlo does.
	Nonlinear bool
}

// nonlinear is from which part of U on the second order counts.
const nonlinear = 0.1

// rounding is what floating point may leave of something that cancels, beside
// what it was made of.
const rounding = 1e-12

// Propagate works out a formula and its uncertainty (JCGM 100, clause 5). The
// sensitivities are taken numerically over one standard uncertainty each way
// (5.1.3, note 2). f must not keep its argument.
func Propagate(f func([]float64) (float64, error), inputs []Input) (Combined, error) {
	return propagate(f, inputs, nil)
}

// propagate also takes covariances that are not those of shared tools; nil for
// none. covariance(i, j) is asked for i ≠ j.
func propagate(f func([]float64) (float64, error), inputs []Input, covariance func(i, j int) float64) (Combined, error) {
	p, err := probe(f, inputs)
	if err != nil {
		return Combined{}, err
	}
	c := Combined{Value: p.at, Freedom: math.Inf(1), Shares: p.shares, Bias: p.bias}
	sum, whole := 0.0, 0.0
	for i := range inputs {
		in, s := &inputs[i], &c.Shares[i]
		// What the result is off by for the tool's sake, with all that share it.
		shared := s.Sensitivity * in.ToolError
		other := 0.0
		for j := range inputs {
			if j == i {
				continue
			}
			if in.Tool != "" && inputs[j].Tool == in.Tool {
				shared += c.Shares[j].Sensitivity * inputs[j].ToolError
			}
			if covariance != nil {
				other += c.Shares[j].Sensitivity * covariance(i, j)
			}
		}
		s.Share = square(s.Sensitivity)*(square(in.Scatter)+square(in.Step)) + s.Sensitivity*(in.ToolError*shared+other)
		sum += s.Share
		whole += s.Part
	}
	if sum <= square(rounding*whole) {
		sum = 0 // all of it cancels
	}
	c.U = math.Sqrt(sum)
	for i := range c.Shares {
		if s := &c.Shares[i]; sum > 0 {
			s.Share /= sum
		} else {
			s.Share = 0
		}
	}
	c.Freedom = c.freedom()
	c.SecondOrder = math.Hypot(c.U, p.second)
	c.Nonlinear = p.broken || bent(f, inputs, &c) || c.SecondOrder > (1+nonlinear)*c.U || math.Abs(c.Bias) > nonlinear*c.U
	return c, nil
}

// bent: two U along the likeliest way to a change, the result is off by what a
// bend of a tenth of U on average (see Bias) makes there.
func bent(f func([]float64) (float64, error), inputs []Input, c *Combined) bool {
	if c.U == 0 {
		return false
	}
	x := make([]float64, len(inputs))
	for _, far := range []float64{-2, 2} {
		for i, s := range c.Shares {
			x[i] = inputs[i].Value
			if s.Sensitivity != 0 { // the covariance of input and result, by U
				x[i] += far * s.Share * c.U / s.Sensitivity
			}
		}
		y, err := f(x)
		if err != nil || math.Abs(y-c.Value-far*c.U) > 4*nonlinear*c.U {
			return true
		}
	}
	// And two of its own along each input: one that a max or a min leaves out now
	// has no sensitivity, and may take over a little further on.
	for i := range inputs {
		x[i] = inputs[i].Value
	}
	for i, s := range c.Shares {
		u := inputs[i].u()
		if u == 0 {
			continue
		}
		for _, far := range []float64{-2, 2} {
			x[i] = inputs[i].Value + far*u
			y, err := f(x)
			if err != nil || math.Abs(y-c.Value-far*u*s.Sensitivity) > 4*nonlinear*c.U {
				return true
			}
		}
		x[i] = inputs[i].Value
	}
	return false
}

// freedom: ν = u⁴ / Σ (uᵢ⁴/νᵢ), over the scatter of each input; steps and tools
// are taken as known.
func (c *Combined) freedom() float64 {
	sum := 0.0
	for _, s := range c.Shares {
		if s.Scatter > 0 {
			sum += square(square(s.Scatter)) / s.Freedom
		}
	}
	if sum == 0 {
		return math.Inf(1)
	}
	return square(square(c.U)) / sum
}

// probed is what trying a formula around its inputs tells.
type probed struct {
	at     float64
	shares []Share
	second float64 // standard deviation of the terms of second order
	bias   float64
	broken bool // on one side of an input it cannot be worked out
}

func probe(f func([]float64) (float64, error), inputs []Input) (probed, error) {
	n := len(inputs)
	buffer := make([]float64, 3*n)
	x, u, both := buffer[:n], buffer[n:2*n], buffer[2*n:]
	for i := range inputs {
		x[i], u[i] = inputs[i].Value, inputs[i].u()
	}
	at, err := f(x)
	if err != nil {
		return probed{}, err
	}
	p := probed{at: at, shares: make([]Share, n)}
	scale := math.Abs(at)
	for i := range inputs {
		in := &inputs[i]
		s := &p.shares[i]
		*s = Share{Name: in.Name, Slot: in.Slot, Readings: int(in.readings()), Freedom: in.freedom()}
		if u[i] == 0 {
			continue
		}
		x[i] = in.Value + u[i]
		above, errUp := f(x)
		x[i] = in.Value - u[i]
		below, errDown := f(x)
		x[i] = in.Value
		switch {
		case errUp != nil && errDown != nil:
			return probed{}, errUp
		case errUp != nil:
			above, p.broken = 2*at-below, true
		case errDown != nil:
			below, p.broken = 2*at-above, true
		}
		change := (above - below) / 2
		s.Sensitivity = change / u[i]
		s.Part = math.Abs(change)
		s.Scatter = math.Abs(s.Sensitivity) * in.Scatter
		both[i] = above + below
		scale += s.Part
		if bend := above - 2*at + below; math.Abs(bend) > rounding*scale {
			p.bias += bend / 2
			p.second += square(bend) / 2
		}
	}
	for i := range inputs {
		for j := range i {
			if u[i] == 0 || u[j] == 0 {
				continue
			}
			x[i], x[j] = inputs[i].Value+u[i], inputs[j].Value+u[j]
			corner, err := f(x)
			x[i], x[j] = inputs[i].Value-u[i], inputs[j].Value-u[j]
			opposite, err2 := f(x)
			x[i], x[j] = inputs[i].Value, inputs[j].Value
			if err != nil || err2 != nil {
				p.broken = true
				continue
			}
			// Opposite corners, so that terms of third order cancel.
			if twist := (corner + opposite - both[i] - both[j] + 2*at) / 2; math.Abs(twist) > rounding*scale {
				p.second += square(twist)
			}
		}
	}
	p.second = math.Sqrt(p.second)
	return p, nil
}
