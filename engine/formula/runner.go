package formula

import (
	"errors"
	"fmt"
	"math"

	"github.com/expr-lang/expr/file"
	"github.com/expr-lang/expr/vm"
)

// runner is what one evaluation needs; runners are kept for the next one, and
// so are the values that stay the same, for putting one in costs memory.
type runner struct {
	machine vm.VM
	names   []string
	values  []float64
	env     map[string]any // name to value
}

// memoryBudget is far above what numbers need and far below what hurts.
const memoryBudget = 1e4

func newRunner(n int) *runner {
	r := &runner{names: make([]string, n), values: make([]float64, n), env: make(map[string]any, n)}
	r.machine.MemoryBudget = memoryBudget
	for i := range r.names {
		r.names[i] = slotName(i)
		r.env[r.names[i]] = r.values[i]
	}
	return r
}

var (
	errNotFinite = errors.New("the result is no finite number")
	errByZero    = errors.New("division by zero")
)

// run works out a program over the slots it needs.
func (f *Formula) run(p *vm.Program, slots []float64) (any, error) {
	r := f.pool.Get().(*runner)
	defer f.pool.Put(r)
	for i, n := range f.needs {
		if n < 0 || n >= len(slots) {
			return nil, f.failed(fmt.Errorf("value %d of %d is missing", n, len(slots)))
		}
		v := slots[n]
		if v-v != 0 { // NaN or infinite
			return nil, f.failed(fmt.Errorf("value %d is no finite number", n))
		}
		if r.values[i] != v {
			r.values[i] = v
			r.env[r.names[i]] = v
		}
	}
	out, err := r.machine.Run(p, r.env)
	if err != nil {
		return nil, f.failed(cause(err))
	}
	return out, nil
}

func (f *Formula) failed(err error) error {
	return fmt.Errorf("work out %q: %w", f.text, err)
}

// cause drops the place and the excerpt the machine adds: it would show
// placeholders.
func cause(err error) error {
	switch {
	case errors.Is(err, errByZero):
		return errByZero
	case errors.Is(err, errNotFinite):
		return errNotFinite
	}
	var e *file.Error
	if errors.As(err, &e) {
		return errors.New(e.Message)
	}
	return err
}

// Number evaluates; slots hold quantity.Value.Float of each value. NaN and
// infinities are errors.
func (f *Formula) Number(slots []float64) (float64, error) {
	if f.truth {
		return 0, f.failed(errors.New("it yields yes or no, not a number"))
	}
	return f.number(f.value, slots)
}

func (f *Formula) number(p *vm.Program, slots []float64) (float64, error) {
	out, err := f.run(p, slots)
	if err != nil {
		return 0, err
	}
	n, ok := out.(float64)
	if !ok || n-n != 0 {
		return 0, f.failed(errNotFinite)
	}
	return n, nil
}

// Holds evaluates a yes-or-no formula.
func (f *Formula) Holds(slots []float64) (bool, error) {
	if !f.truth {
		return false, f.failed(errors.New("it yields a number, not yes or no"))
	}
	out, err := f.run(f.value, slots)
	if err != nil {
		return false, err
	}
	b, ok := out.(bool)
	if !ok {
		return false, f.failed(errors.New("it yields neither yes nor no"))
	}
	return b, nil
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

// comparisons are the names of the comparisons with slack inside programs.
var comparisons = map[string]string{"<": "below", "<=": "atMost", ">": "above", ">=": "atLeast"}

// compareWithSlack takes left, right, absolute and relative slack. Within the
// slack the two sides count as equal.
func compareWithSlack(op string) func(...any) (any, error) {
	return func(p ...any) (any, error) {
		a, b := p[0].(float64), p[1].(float64)
		d := a - b
		if d-d != 0 {
			return nil, errNotFinite
		}
		slack := max(p[2].(float64), p[3].(float64)*max(math.Abs(a), math.Abs(b)))
		switch op {
		case "<":
			return d < -slack, nil
		case "<=":
			return d <= slack, nil
		case ">":
			return d > slack, nil
		}
		return d >= -slack, nil
	}
}

func quotient(p ...any) (any, error) {
	a, b := p[0].(float64), p[1].(float64)
	if b == 0 {
		return nil, errByZero
	}
	return a / b, nil
}
