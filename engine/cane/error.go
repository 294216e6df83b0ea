package cane

import (
	"errors"
	"fmt"
	"math"
)

// ErrNoSolution is wrapped by every error that says no such thing exists: no
// blade gives these two thicknesses, no opening of this width has this area.
var ErrNoSolution = errors.New("no solution")

// input is a number handed in, with the words an error needs.
type input struct {
	name  string
	value float64
	unit  string
}

func (q input) String() string {
	if q.unit == "" {
		return fmt.Sprintf("%s %.6g", q.name, q.value)
	}
	return fmt.Sprintf("%s %.6g %s", q.name, q.value, q.unit)
}

func mm(name string, v float64) input { return input{name, v, "mm"} }

// above refuses any of qs that is not a finite number above zero.
func above(doing string, qs ...input) error {
	for _, q := range qs {
		if !(q.value > 0) || math.IsInf(q.value, 0) {
			return fmt.Errorf("%s: %s is not above zero", doing, q)
		}
	}
	return nil
}

// known refuses any of qs that is not a finite number.
func known(doing string, qs ...input) error {
	for _, q := range qs {
		if math.IsNaN(q.value) || math.IsInf(q.value, 0) {
			return fmt.Errorf("%s: %s is not a number", doing, q)
		}
	}
	return nil
}
