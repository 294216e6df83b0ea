package formula

import (
	"errors"
	"fmt"
)

// most formulas read few values; for these no memory is asked for.
const fewValues = 16

// run works out a program over the slots it needs.
func (f *Formula) run(p *program, slots []float64) (float64, error) {
	var few [fewValues]float64
	in := few[:]
	if n := len(f.needs); n > fewValues {
		in = make([]float64, n)
	}
	for i, n := range f.needs {
		if n < 0 || n >= len(slots) {
			return 0, f.failed(fmt.Errorf("value %d of %d is missing", n, len(slots)))
		}
		v := slots[n]
		if v-v != 0 { // NaN or infinite
			return 0, f.failed(fmt.Errorf("value %d is no finite number", n))
		}
		in[i] = v
	}
	v, err := p.run(in)
	if err != nil {
		return 0, f.failed(err)
	}
	return v, nil
}

func (f *Formula) failed(err error) error {
	return fmt.Errorf("work out %q: %w", f.text, err)
}

// Number evaluates; slots hold quantity.Value.Float of each value. NaN and
// infinities are errors.
func (f *Formula) Number(slots []float64) (float64, error) {
	if f.truth {
		return 0, f.failed(errors.New("it yields yes or no, not a number"))
	}
	return f.number(f.value, slots)
}

func (f *Formula) number(p *program, slots []float64) (float64, error) {
	n, err := f.run(p, slots)
	if err == nil && n-n != 0 {
		err = f.failed(errNotFinite)
	}
	if err != nil {
		return 0, err
	}
	return n, nil
}

// Holds evaluates a yes-or-no formula.
func (f *Formula) Holds(slots []float64) (bool, error) {
	if !f.truth {
		return false, f.failed(errors.New("it yields a number, not yes or no"))
	}
	yes, err := f.run(f.value, slots)
	return yes != 0, err
}

// Margin is left minus right of the deciding comparison, positive when the
// comparison holds with room to spare, in products of base quanta; ok is false
// when the formula is not one comparison (or an "and"/"or" of such, where the
// deciding one counts: the smallest margin of an "and", the largest of an "or").
// It is also false when the comparisons are of different kinds, for then no
// margin is larger than another. Kind is the kind of the margin.
func (f *Formula) Margin(slots []float64) (float64, bool) {
	if f.margin == nil {
		return 0, false
	}
	n, err := f.number(f.margin, slots)
	return n, err == nil
}

// NumberFunc is Number over the needed values alone, in the order of Needs. It
// keeps nothing of its argument and asks for no memory of its own; it may be
// called by several at once. Nil for a yes-or-no formula.
func (f *Formula) NumberFunc() func(needed []float64) (float64, error) {
	if f.truth {
		return nil
	}
	return f.dense(f.value)
}

// MarginFunc is Margin over the needed values alone, as NumberFunc; nil where
// there is no margin.
func (f *Formula) MarginFunc() func(needed []float64) (float64, error) {
	if f.margin == nil {
		return nil
	}
	return f.dense(f.margin)
}

// TruthFunc is +1 where the formula holds and -1 where not, for a formula
// without a margin: how often it is positive can be counted. Nil for a formula
// that yields a number.
func (f *Formula) TruthFunc() func(needed []float64) (float64, error) {
	if !f.truth {
		return nil
	}
	holds := f.dense(f.value)
	return func(needed []float64) (float64, error) {
		yes, err := holds(needed)
		return 2*yes - 1, err
	}
}

func (f *Formula) dense(p *program) func([]float64) (float64, error) {
	return func(needed []float64) (float64, error) {
		if len(needed) != len(f.needs) {
			return 0, f.failed(fmt.Errorf("%d values are given, %d are needed", len(needed), len(f.needs)))
		}
		v, err := p.run(needed)
		if err == nil && v-v != 0 {
			err = errNotFinite
		}
		if err != nil {
			return 0, f.failed(err)
		}
		return v, nil
	}
}
