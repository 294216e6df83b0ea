package formula

import (
	"slices"

	"github.com/expr-lang/expr/ast"
	"github.com/expr-lang/expr/file"

	"canewright/engine/quantity"
)

// checker visits the tree from the leaves up, before anything is compiled. It
// holds the allow-list, gives every node its kind and origin, and puts in
// quanta and slots. It reports only the innermost of several faults.
type checker struct {
	scan   *scanner
	slots  []int // ascending; a name loads the value of its place in here
	values map[ast.Node]value
	own    map[ast.Node]bool // put in by the checker: not to be judged
	found  findings
	// What the program needs to know of nodes besides what they are.
	loads     map[ast.Node]int32
	slacks    map[ast.Node][2]float64 // of comparisons: absolute, relative
	functions map[ast.Node]*Function  // of calls; nil until there is one
	// lone: there is a margin. Its kind is that of all comparisons.
	lone       bool
	marginKind quantity.Kind
	compared   bool
}

// Visit is called for every node, its children first. The middle of a < b < c
// is visited twice, for it hangs in the tree twice.
func (c *checker) Visit(n *ast.Node) {
	if _, seen := c.values[*n]; seen || c.own[*n] {
		return
	}
	at := (*n).Location()
	v := value{from: at.From, to: at.To}
	switch x := (*n).(type) {
	case *ast.BoolNode:
		v.truth = true
		c.lone = false
	case *ast.IdentifierNode:
		v = c.identifier(n, x, v)
	case *ast.UnaryNode:
		v = c.unary(x, v)
	case *ast.BinaryNode:
		v = c.binary(n, x)
	case *ast.ConditionalNode:
		v = c.conditional(x)
	case *ast.BuiltinNode:
		v = c.builtin(x, v)
	case *ast.CallNode:
		v = c.call(n, x, v)
	default:
		c.deny(&v, "this")
	}
	c.values[*n] = v
}

func (c *checker) deny(v *value, what string) {
	v.bad = true
	c.found.add(NotAllowed, v.from, v.to, "", "%s has no place in a formula", what)
}

func (c *checker) mine(n ast.Node, at file.Location) ast.Node {
	n.SetLocation(at)
	c.own[n] = true
	return n
}

func (c *checker) identifier(n *ast.Node, x *ast.IdentifierNode, v value) value {
	if slices.Contains(calls, x.Value) {
		return v // judged with its call
	}
	r := []rune(x.Value)
	i := int(r[0]) - placeholder
	if len(r) != 1 || i < 0 || i >= len(c.scan.operands) {
		c.deny(&v, "this name")
		return v
	}
	o := &c.scan.operands[i]
	switch {
	case o.unknown, o.function != nil: // a function is judged with its call
	case o.literal:
		ast.Patch(n, &ast.FloatNode{Value: o.value})
	default:
		c.loads[*n] = place(c.slots, o.slot)
	}
	return leaf(o)
}

func (c *checker) unary(x *ast.UnaryNode, v value) value {
	a := c.values[x.Node]
	v.from, v.to = c.around(v.from, a.to)
	switch x.Operator {
	case "not", "!":
		v.truth = true
		v.bad = !c.question(a, x.Operator)
		return v
	case "-", "+":
		from := v.from
		v = a
		v.from = from
		switch {
		case a.bad:
		case a.truth:
			v.bad = true
			c.found.add(UnitMismatch, v.from, v.to, "write not", "a yes or no has no sign")
		case a.kind.Point && x.Operator == "-":
			v.bad = true
			c.found.add(UnitMismatch, v.from, v.to, "", "%s has no negative: it is a point on a scale", a)
		case x.Operator == "-":
			v.minus, v.way, v.symbol = !a.minus, -a.way, nil
		}
		return v
	}
	c.deny(&v, x.Operator)
	return v
}

// question reports whether v can stand beside and, or, not and before ?.
func (c *checker) question(v value, where string) bool {
	if !v.bad && !v.truth {
		hint := "compare it with something first"
		if where == "not" || where == "!" {
			hint = "put brackets around the comparison: not (a > b)"
		}
		c.found.add(NotAQuestion, v.from, v.to, hint, "%s needs a yes or no here, not %s", where, v)
	}
	return !v.bad && v.truth
}

func (c *checker) binary(n *ast.Node, x *ast.BinaryNode) value {
	if op := x.Operator; op != "*" && op != "/" { // a factor stays a number
		c.fit(&x.Left, &x.Right)
	}
	l, r := c.values[x.Left], c.values[x.Right]
	v := value{}
	v.from, v.to = c.around(l.from, r.to)
	v.bad = l.bad || r.bad
	switch op := x.Operator; op {
	case "and", "or", "&&", "||":
		v.truth = true
		okL, okR := c.question(l, op), c.question(r, op)
		v.bad = !okL || !okR
		return v
	case "+", "-":
		return c.sum(v, l, r, op)
	case "*", "/":
		return c.product(v, l, r, op)
	case "<", "<=", ">", ">=":
		v.truth = true
		if !v.bad {
			_, ok := c.comparable(v, l, r)
			v.bad = !ok
		}
		if !v.bad {
			c.compare(*n, x.Left, x.Right)
		}
		return v
	default:
		c.deny(&v, op)
		return v
	}
}

func (c *checker) sum(v, l, r value, op string) value {
	if v.bad {
		return v
	}
	k, ok := alike(l, r)
	switch {
	case l.truth || r.truth:
		ok = false
	case l.kind.Exp == r.kind.Exp && (l.kind.Point || r.kind.Point):
		// point - point is a difference; point ± difference a point.
		k = l.kind
		k.Point = l.kind.Point != r.kind.Point
		ok = l.kind.Point && (op == "-" || !r.kind.Point) || !l.kind.Point && op == "+"
	}
	if !ok {
		v.bad = true
		code, hint := advice(l, r)
		if l.kind.Point && r.kind == l.kind {
			hint = "add a difference, in K or cents"
		}
		if op == "+" {
			c.found.add(code, v.from, v.to, hint, "%s and %s cannot be added", l, r)
		} else {
			c.found.add(code, v.from, v.to, hint, "%s cannot be taken from %s", r, l)
		}
		return v
	}
	do := adding
	if op == "-" {
		do = subtracting
	}
	if v.origin, ok = c.joined(l, r, do); !ok {
		v.bad = true
		return v
	}
	v.kind = k
	v.bare = l.bare && r.bare
	v.whole = l.whole && r.whole
	v.scaled = l.scaled || r.scaled
	v.exact = l.exact && r.exact && (power(k) == 1 || v.whole)
	return v
}

func (c *checker) product(v, l, r value, op string) value {
	if v.bad {
		return v
	}
	divide := op == "/"
	k, ok := product(l, r, divide)
	switch {
	case l.truth || r.truth || l.kind.Point || r.kind.Point:
		v.bad = true
		hint := ""
		if !l.truth && !r.truth {
			hint = "a point on a scale has no multiple; take another away first"
		}
		if divide {
			c.found.add(UnitMismatch, v.from, v.to, hint, "%s cannot be divided by %s", l, r)
		} else {
			c.found.add(UnitMismatch, v.from, v.to, hint, "%s and %s cannot be multiplied", l, r)
		}
	case !ok:
		v.bad = true
		c.found.add(UnitMismatch, v.from, v.to, "", "this product has powers beyond %d", highestPower)
	case divide && r.literal != nil && r.literal.value == 0:
		v.bad = true
		c.found.add(BadNumber, v.from, v.to, "", "this divides by zero")
	}
	if !v.bad {
		v.origin, ok = c.multiplied(l, r, divide)
		v.bad = !ok
	}
	v.kind = k
	v.bare = l.bare && r.bare
	v.whole = l.whole && r.whole && !divide
	v.scaled = true
	v.exact = !divide && l.exact && r.exact && !l.scaled && !r.scaled && (v.whole || l.whole && power(r.kind) == 1 || r.whole && power(l.kind) == 1)
	return v
}

// multiplied is what a product or quotient brings along: the condition of its
// factors, unless they differ, and no datum.
func (c *checker) multiplied(l, r value, divide bool) (origin, bool) {
	do := multiplying
	if divide {
		do = dividing
	}
	switch {
	case l.kind.Exp == r.kind.Exp && !l.kind.IsPlain():
		o, ok := c.sameCondition(l, r, do)
		return o.noDatum(), ok
	case l.condition == "":
		return r.noDatum(), true
	case r.condition == "" || l.condition == r.condition:
		return l.noDatum(), true
	}
	return origin{}, true
}

// comparable reports unlike sides of a comparison; else it is what they bring
// along together.
func (c *checker) comparable(at, l, r value) (origin, bool) {
	if _, ok := alike(l, r); ok && !l.truth {
		return c.joined(l, r, comparing)
	}
	code, hint := advice(l, r)
	if l.truth {
		hint = "write between(x, low, high), or join two comparisons with and"
	}
	c.found.add(code, at.from, at.to, hint, "%s cannot be compared with %s", l, r)
	return origin{}, false
}

// compare gives a comparison its slack and its margin's kind.
func (c *checker) compare(n, left, right ast.Node) {
	l, r := c.values[left], c.values[right]
	k, _ := alike(l, r)
	k = k.Difference()
	if k.IsPlain() {
		k = quantity.Ratio
	}
	if c.compared && c.marginKind != k {
		c.lone = false
	}
	c.compared, c.marginKind = true, k
	var s [2]float64
	if !l.exact || !r.exact {
		s[0], s[1] = slack(k)
	}
	c.slacks[n] = s
}

// fit reads bare literals beside a score as scores, and frequency literals
// beside a pitch as pitches.
func (c *checker) fit(nodes ...*ast.Node) {
	var want quantity.Kind
	for _, n := range nodes {
		if v := c.values[*n]; !v.bad && !v.truth && (v.kind == quantity.Score || v.kind == quantity.Pitch) {
			want = v.kind
		}
	}
	if want.IsPlain() {
		return
	}
	for _, n := range nodes {
		v := c.values[*n]
		if v.bad || v.literal == nil || want == quantity.Score && !v.bare || want == quantity.Pitch && (v.kind != quantity.Frequency || v.minus) {
			continue
		}
		e, err := quantity.Parse(v.literal.text, quantity.Style{Want: want, Bare: quantity.Bare(want), Point: true})
		if err != nil {
			s := &scanner{}
			s.badNumber(v.from, v.to, err)
			f := s.found[0]
			c.found.add(f.code, f.from, f.to, f.hint, "%s", f.message)
			v.bad = true
			c.values[*n] = v
			continue
		}
		f := e.Value.Float()
		if v.minus {
			f = -f
		}
		ast.Patch(n, &ast.FloatNode{Value: f})
		v.kind, v.bare, v.whole, v.literal = want, false, false, nil
		c.values[*n] = v
	}
}
