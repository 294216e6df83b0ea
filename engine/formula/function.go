package formula

import (
	"strconv"

	"github.com/expr-lang/expr/ast"

	"canewright/engine/quantity"
)

// Function is something a formula may call by name, beside the words that are
// built in. It is the joiner's own: a recipe cannot bring one.
type Function struct {
	// Name is small letters, digits, _ and points; not the name of a dimension,
	// nor a word formulas have already.
	Name   string
	Params []quantity.Kind // what it takes, in order
	Words  []string        // what each value is, for messages and lists: "chord"; may be shorter than Params
	Result quantity.Kind
	Help   string // one line
	// Mixed: it takes wet and dry readings together, as a swelling does; else
	// values of one kind must be read in one condition.
	Mixed bool
	// Run takes and gives products of base quanta, as quantity.Value.Float has
	// them (a length in nm, an area in nm², a ratio as it is). It must be safe
	// for concurrent use, end soon, and keep args no longer than the call.
	Run func(args []float64) (float64, error)
}

// Functions is what a Scope may offer besides: functions to call. The list is
// read once for each formula that calls something; it is not changed.
type Functions interface {
	Functions() []Function
}

// Form is how it is written: radius(chord, sagitta).
func (f *Function) Form() string {
	s := f.Name + "("
	for i, k := range f.Params {
		if i > 0 {
			s += ", "
		}
		if i < len(f.Words) {
			s += f.Words[i]
		} else {
			s += k.String()
		}
	}
	return s + ")"
}

// param is how messages name the i-th value it takes.
func (f *Function) param(i int) string {
	if i < len(f.Words) {
		return "the " + f.Words[i] + " of " + f.Name
	}
	return "value " + strconv.Itoa(i+1) + " of " + f.Name
}

func (c *checker) functionOf(callee string) *Function {
	r := []rune(callee)
	if i := int(r[0]) - placeholder; len(r) == 1 && i >= 0 && i < len(c.scan.operands) {
		return c.scan.operands[i].function
	}
	return nil
}

// function judges a call of one the Scope offers.
func (c *checker) function(n ast.Node, x *ast.CallNode, f *Function, v value) value {
	v.kind, v.scaled = f.Result, true
	if len(x.Arguments) != len(f.Params) {
		v.bad = true
		values := "values"
		if len(f.Params) == 1 {
			values = "value"
		}
		c.found.add(Syntax, v.from, v.to, f.Form(), "%s takes %d %s, not %d", f.Name, len(f.Params), values, len(x.Arguments))
		return v
	}
	var read []value // to be in one condition
	for i := range x.Arguments {
		like := ast.Node(c.mine(&ast.FloatNode{}, x.Location()))
		c.values[like] = value{kind: f.Params[i]}
		c.fit(&like, &x.Arguments[i])
		a := c.values[x.Arguments[i]]
		switch want := (value{kind: f.Params[i]}); {
		case a.bad:
			v.bad = true
		case a.truth || a.kind != want.kind && !takes(want.kind, a):
			v.bad = true
			code, hint := advice(a, want)
			if a.truth {
				hint = ""
			}
			if hint == "" {
				hint = f.Form()
			}
			c.found.add(code, a.from, a.to, hint, "%s is %s, not %s", f.param(i), want, a)
		default:
			read = append(read, a)
		}
	}
	for i, a := range read {
		for _, b := range read[:i] {
			if v.bad || f.Mixed || a.kind != b.kind {
				continue
			}
			if _, ok := c.sameCondition(b, a, standing(f.Name)); !ok {
				v.bad = true
			}
		}
	}
	if !f.Mixed {
		v.origin = oneCondition(read)
	}
	if c.functions == nil {
		c.functions = map[ast.Node]*Function{}
	}
	c.functions[n] = f
	return v
}

// takes: may a value stand where a plain kind is wanted? A count and a humidity
// are ratios, and a bare number is any of them.
func takes(want quantity.Kind, a value) bool {
	return want.IsPlain() && a.kind.IsPlain() && (a.bare || want == quantity.Ratio)
}

// oneCondition is that of all values that have one, if they agree.
func oneCondition(all []value) origin {
	var out origin
	for _, a := range all {
		switch {
		case a.condition == "":
		case out.condition == "":
			out = a.noDatum()
		case out.condition != a.condition:
			return origin{}
		}
	}
	return out
}
