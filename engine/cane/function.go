package cane

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// Param is one input of a Function. Kind is a kind's name as package quantity
// knows it, Unit the unit in which Run takes it.
type Param struct{ Name, Kind, Unit string }

// Function describes a function of this package that formulas may use.
type Function struct {
	Name   string // lower-case words joined by underscores
	Params []Param
	Kind   string // of the result
	Unit   string // in which Run answers
	Help   string // one line
	Source string

	// Run answers for one number per parameter. A wrong number of them, one
	// that is not finite, or one outside what the function can answer is an
	// error; so is an answer that is not finite.
	Run func(args []float64) (float64, error)
}

// unitOf is the unit Run uses for each kind in the table. A kind that is missing
// here has no unit, which a test refuses.
func unitOf(kind string) string {
	switch kind {
	case "length":
		return "mm"
	case "area":
		return "mm²"
	case "mass":
		return "g"
	case "density":
		return "g/cm³"
	case "stiffness":
		return "N/mm"
	case "pressure":
		return "N/mm²"
	case "angle":
		return "rad"
	case "frequency":
		return "Hz"
	case "interval":
		return "cents"
	case "temperature":
		return "°C"
	case "ratio", "humidity", "count":
		return "1"
	}
	return ""
}

// Signature is how the function is written in a formula, with kinds.
func (f Function) Signature() string {
	words := make([]string, len(f.Params))
	for i, p := range f.Params {
		words[i] = p.Name + " " + p.Kind
	}
	return f.Name + "(" + strings.Join(words, ", ") + ") " + f.Kind
}

// Functions lists what formulas may use, by name. The list is the caller's own.
func Functions() []Function {
	all := slices.Concat(tubeFunctions(), reedFunctions(), mechanicsFunctions())
	slices.SortFunc(all, func(a, b Function) int { return strings.Compare(a.Name, b.Name) })
	return all
}

// function reads a signature such as "radius_of(chord length, sagitta length)
// length" and guards run.
func function(signature, help, source string, run func(x []float64) (float64, error)) Function {
	name, rest, _ := strings.Cut(signature, "(")
	params, kind, _ := strings.Cut(rest, ") ")
	f := Function{Name: name, Kind: kind, Unit: unitOf(kind), Help: help, Source: source}
	for p := range strings.SplitSeq(params, ", ") {
		word, kind, _ := strings.Cut(p, " ")
		f.Params = append(f.Params, Param{word, kind, unitOf(kind)})
	}
	f.Run = func(args []float64) (float64, error) {
		if len(args) != len(f.Params) {
			return 0, fmt.Errorf("%s: %d values, want %d", f.Name, len(args), len(f.Params))
		}
		for i, p := range f.Params {
			if math.IsNaN(args[i]) || math.IsInf(args[i], 0) {
				return 0, fmt.Errorf("%s: %s is not a number", f.Name, p.Name)
			}
			if p.Kind == "count" && args[i] != math.Trunc(args[i]) {
				return 0, fmt.Errorf("%s: %s %.6g is not a whole number", f.Name, p.Name, args[i])
			}
		}
		v, err := run(args)
		if err != nil {
			return 0, fmt.Errorf("%s: %w", f.Name, err)
		}
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return 0, fmt.Errorf("%s: the result is beyond numbers", f.Name)
		}
		return v, nil
	}
	return f
}

// pieces is a count as Split takes it; one beyond int stays out of its range.
func pieces(x float64) int {
	return int(max(-1, min(MostPieces+1, x)))
}
