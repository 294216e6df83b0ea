package gauging

import (
	"math"

	"canewright/engine/tool"
)

// Input is one value a formula rests on, and how well it is known. The three
// parts of its uncertainty are standard uncertainties on the scale of Value.
// One that is exact, such as a setting, has none of them.
type Input struct {
	Name  string
	Slot  int
	Value float64
	// Scatter is that of the mean (s/√n) and its own, Step that of the last
	// digit and its own. ToolError is the tool's: all inputs of one Tool are off
	// by it together, in the same direction (JCGM 100, 5.2); where Tool is "",
	// it is this input's own.
	Scatter, Step, ToolError float64
	Tool                     string
	Freedom                  float64 // degrees of freedom of Scatter; +Inf, or 0, where it is taken as known
	Readings                 int     // Scatter is that of the mean of so many; 0 counts as 1
}

// u is the standard uncertainty of the input.
func (in *Input) u() float64 {
	return math.Sqrt(square(in.Scatter) + square(in.Step) + square(in.ToolError))
}

func (in *Input) freedom() float64 {
	if in.Freedom > 0 {
		return in.Freedom
	}
	return math.Inf(1)
}

func (in *Input) readings() float64 { return float64(max(in.Readings, 1)) }

// Input is the estimate as a formula takes it: in products of base quanta, as
// quantity.Value.Float has them, with B split into the step and the error of
// the tool it was read with.
func (e Estimate) Input(name string, slot int, t tool.Tool) Input {
	scale := e.Kind.Scale()
	own := ownError(e.Kind, t.Error)
	in := Input{
		Name: name, Slot: slot, Value: e.Best * scale, Readings: e.N, Tool: t.Name,
		Scatter: e.A * scale, ToolError: own * scale, Freedom: math.Inf(1),
		Step: math.Sqrt(max(square(e.B)-square(own), 0)) * scale,
	}
	if e.A > 0 {
		// What Of began with, a whole number.
		in.Freedom = math.Round(e.Freedom * square(square(e.A/e.U)))
	}
	return in
}
