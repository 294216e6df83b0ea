package formula

import (
	"errors"
	"fmt"
	"math"

	"github.com/expr-lang/expr/ast"
)

var (
	errNotFinite = errors.New("the result is no finite number")
	errByZero    = errors.New("division by zero")
)

type action uint8

const (
	put action = iota
	load
	negate
	add
	subtract
	multiply
	divide
	absolute
	smaller
	larger
	below
	atMost
	above
	atLeast
	both
	either
	opposite
	choose
	call
)

// step is one node of a checked tree. A yes is 1, a no 0.
type step struct {
	do      action
	a, b, c int32 // steps it works on; load: a is the place of the value; call: a is the function, args[b:c] its steps
	x, y    float64
	// put: x is the number. Comparisons: x and y are the absolute and the
	// relative slack; within it the two sides count as equal.
}

// program works a formula out over the values it needs, in the order of Needs.
// It has no loops: it takes at most as many turns as it has steps.
type program struct {
	steps []step // the last one is the result
	args  []int32
	calls []*Function
}

// machine is one evaluation. After a fault what is worked out means nothing.
// The values are handed on beside it, so that they can stay on the stack.
type machine struct {
	*program
	fault error
}

func (p *program) run(in []float64) (float64, error) {
	m := machine{program: p}
	v := m.step(in, int32(len(p.steps)-1))
	return v, m.fault
}

func (m *machine) step(in []float64, i int32) float64 {
	s := &m.steps[i]
	switch s.do {
	case put:
		return s.x
	case load:
		return in[s.a]
	case negate:
		return -m.step(in, s.a)
	case add:
		return m.step(in, s.a) + m.step(in, s.b)
	case subtract:
		return m.step(in, s.a) - m.step(in, s.b)
	case multiply:
		return m.step(in, s.a) * m.step(in, s.b)
	case divide:
		a, b := m.step(in, s.a), m.step(in, s.b)
		if b == 0 {
			m.failed(errByZero)
			return 0
		}
		return a / b
	case absolute:
		return math.Abs(m.step(in, s.a))
	case smaller:
		return min(m.step(in, s.a), m.step(in, s.b))
	case larger:
		return max(m.step(in, s.a), m.step(in, s.b))
	case below, atMost, above, atLeast:
		return m.compare(in, s)
	case both:
		if m.step(in, s.a) == 0 {
			return 0
		}
		return m.step(in, s.b)
	case either:
		if m.step(in, s.a) != 0 {
			return 1
		}
		return m.step(in, s.b)
	case opposite:
		return 1 - m.step(in, s.a)
	case choose:
		if m.step(in, s.a) != 0 {
			return m.step(in, s.b)
		}
		return m.step(in, s.c)
	case call:
		return m.call(in, s)
	}
	panic(fmt.Sprintf("step %d", s.do))
}

func (m *machine) failed(err error) {
	if m.fault == nil {
		m.fault = err
	}
}

func (m *machine) compare(in []float64, s *step) float64 {
	a, b := m.step(in, s.a), m.step(in, s.b)
	d := a - b
	if d-d != 0 {
		m.failed(errNotFinite)
		return 0
	}
	slack := s.x
	if s.y > 0 {
		slack = max(slack, s.y*max(math.Abs(a), math.Abs(b)))
	}
	yes := false
	switch s.do {
	case below:
		yes = d < -slack
	case atMost:
		yes = d <= slack
	case above:
		yes = d > slack
	case atLeast:
		yes = d >= -slack
	}
	if yes {
		return 1
	}
	return 0
}

func (m *machine) call(in []float64, s *step) float64 {
	args := make([]float64, s.c-s.b)
	for i, n := range m.args[s.b:s.c] {
		args[i] = m.step(in, n)
	}
	if m.fault != nil {
		return 0
	}
	f := m.calls[s.a]
	v, err := f.safely(args)
	if err == nil && v-v != 0 {
		err = errNotFinite
	}
	if err != nil {
		m.failed(fmt.Errorf("%s: %w", f.Name, err))
		return 0
	}
	return v
}

// safely turns a panic of a function into an error: a formula must not end the
// program, whatever numbers it is given.
func (f *Function) safely(args []float64) (v float64, err error) {
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("it stopped: %v", r)
		}
	}()
	return f.Run(args)
}

// lower turns a checked tree into steps. With margin, a comparison becomes left
// minus right, positive where it holds.
type lower struct {
	program
	checker *checker
	margin  bool
}

func (c *checker) program(root ast.Node, margin bool) *program {
	l := &lower{checker: c, margin: margin}
	l.node(root)
	return &l.program
}

func (l *lower) add(s step) int32 {
	l.steps = append(l.steps, s)
	return int32(len(l.steps) - 1)
}

func (l *lower) node(n ast.Node) int32 {
	if place, ok := l.checker.loads[n]; ok {
		return l.add(step{do: load, a: place})
	}
	switch x := n.(type) {
	case *ast.FloatNode:
		return l.add(step{do: put, x: x.Value})
	case *ast.BoolNode:
		s := step{do: put}
		if x.Value {
			s.x = 1
		}
		return l.add(s)
	case *ast.UnaryNode:
		a := l.node(x.Node)
		switch {
		case x.Operator == "+":
			return a
		case x.Operator == "-" || l.margin:
			return l.add(step{do: negate, a: a})
		}
		return l.add(step{do: opposite, a: a})
	case *ast.BinaryNode:
		a, b := l.node(x.Left), l.node(x.Right)
		s := step{do: actions[x.Operator], a: a, b: b}
		if slack, compares := l.checker.slacks[n]; compares {
			s.x, s.y = slack[0], slack[1]
		}
		if l.margin {
			s = asMargin(s)
		}
		return l.add(s)
	case *ast.ConditionalNode:
		a, b, c := l.node(x.Cond), l.node(x.Exp1), l.node(x.Exp2)
		return l.add(step{do: choose, a: a, b: b, c: c})
	case *ast.BuiltinNode:
		a := l.node(x.Arguments[0])
		if x.Name == "abs" {
			return l.add(step{do: absolute, a: a})
		}
		do := smaller
		if x.Name == "max" {
			do = larger
		}
		for _, arg := range x.Arguments[1:] {
			b := l.node(arg)
			a = l.add(step{do: do, a: a, b: b})
		}
		return a
	case *ast.CallNode:
		var args []int32
		for _, arg := range x.Arguments {
			args = append(args, l.node(arg))
		}
		if f := l.checker.functions[n]; f != nil {
			s := step{do: call, a: int32(len(l.calls)), b: int32(len(l.args)), c: int32(len(l.args) + len(args))}
			l.args = append(l.args, args...)
			l.calls = append(l.calls, f)
			return l.add(s)
		}
	}
	panic(fmt.Sprintf("%T has no place in a checked formula", n))
}

var actions = map[string]action{
	"+": add, "-": subtract, "*": multiply, "/": divide, "<": below, "<=": atMost, ">": above, ">=": atLeast,
	"and": both, "&&": both, "or": either, "||": either,
}

// asMargin: an "and" holds with the smallest of its margins, an "or" with the
// largest.
func asMargin(s step) step {
	switch s.do {
	case above, atLeast:
		return step{do: subtract, a: s.a, b: s.b}
	case below, atMost:
		return step{do: subtract, a: s.b, b: s.a}
	case both:
		s.do = smaller
	case either:
		s.do = larger
	}
	return s
}
