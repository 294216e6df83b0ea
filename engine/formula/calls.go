package formula

import (
	"github.com/expr-lang/expr/ast"

	"canewright/engine/quantity"
)

// conditional judges test ? this : that.
func (c *checker) conditional(x *ast.ConditionalNode) value {
	c.fit(&x.Exp1, &x.Exp2)
	q, a, b := c.values[x.Cond], c.values[x.Exp1], c.values[x.Exp2]
	v := value{truth: a.truth}
	v.from, v.to = c.around(q.from, b.to)
	c.lone = false
	ok := c.question(q, "?")
	v.bad = !ok || a.bad || b.bad
	if a.bad || b.bad {
		return v
	}
	k, same := alike(a, b)
	if !same {
		v.bad = true
		code, hint := advice(a, b)
		c.found.add(code, a.from, b.to, hint, "the two answers are %s and %s, and must be alike", a, b)
		return v
	}
	v.kind = k
	v.bare = a.bare && b.bare
	v.whole = a.whole && b.whole
	v.scaled = a.scaled || b.scaled
	v.exact = a.exact && b.exact
	return v
}

// builtin judges abs, min and max.
func (c *checker) builtin(x *ast.BuiltinNode, v value) value {
	name := x.Name
	_, v.to = c.around(v.from, c.closing(v.to))
	if name != "abs" && name != "min" && name != "max" {
		c.deny(&v, name)
		return v
	}
	n := len(x.Arguments)
	if name == "abs" && n != 1 || name != "abs" && n < 2 {
		v.bad = true
		want := "two values or more: " + name + "(a, b)"
		if name == "abs" {
			want = "one value: abs(a)"
		}
		c.found.add(Syntax, v.from, v.to, "", "%s takes %s", name, want)
		return v
	}
	args := make([]*ast.Node, n)
	for i := range x.Arguments {
		args[i] = &x.Arguments[i]
	}
	c.fit(args...)
	for i, a := range x.Arguments {
		av := c.values[a]
		switch {
		case av.bad || v.bad:
			v.bad = true
		case av.truth || name == "abs" && av.kind.Point:
			v.bad = true
			c.found.add(UnitMismatch, av.from, av.to, "", "%s cannot be taken of %s", name, av)
		case i == 0:
			v.kind, v.bare, v.whole, v.exact, v.scaled = av.kind, av.bare, av.whole, av.exact, av.scaled
		default:
			k, ok := alike(v, av)
			if !ok {
				v.bad = true
				code, hint := advice(v, av)
				c.found.add(code, c.values[x.Arguments[0]].from, av.to, hint, "%s and %s cannot stand in one %s", v, av, name)
				break
			}
			v.kind = k
			v.bare, v.whole, v.exact = v.bare && av.bare, v.whole && av.whole, v.exact && av.exact
			v.scaled = v.scaled || av.scaled
		}
	}
	return v
}

// call judges near(a, b, t) and between(x, low, high) and puts their meaning in
// their place.
func (c *checker) call(n *ast.Node, x *ast.CallNode, v value) value {
	_, v.to = c.around(v.from, c.closing(v.to))
	v.truth = true
	name, ok := x.Callee.(*ast.IdentifierNode)
	if !ok || name.Value != "near" && name.Value != "between" {
		c.deny(&v, "this call")
		return v
	}
	if len(x.Arguments) != 3 {
		v.bad = true
		c.found.add(Syntax, v.from, v.to, "", "%s takes three values: %s", name.Value, map[string]string{"near": "near(a, b, largest difference)", "between": "between(x, low, high)"}[name.Value])
		return v
	}
	if name.Value == "near" {
		return c.near(n, x, v)
	}
	return c.between(n, x, v)
}

func (c *checker) near(n *ast.Node, x *ast.CallNode, v value) value {
	a, b, t := &x.Arguments[0], &x.Arguments[1], &x.Arguments[2]
	at := x.Location()
	c.fit(a, b)
	l, r := c.values[*a], c.values[*b]
	v.bad = l.bad || r.bad || c.values[*t].bad
	if v.bad {
		return v
	}
	if span := (value{from: l.from, to: r.to}); !c.comparable(span, l, r) {
		v.bad = true
		return v
	}
	k, _ := alike(l, r)
	difference := c.sum(value{from: l.from, to: r.to}, value{kind: k, exact: l.exact, whole: l.whole, bare: l.bare}, value{kind: k, exact: r.exact, whole: r.whole, bare: r.bare}, "-")
	minus := c.mine(&ast.BinaryNode{Operator: "-", Left: *a, Right: *b}, at)
	distance := ast.Node(c.mine(&ast.BuiltinNode{Name: "abs", Arguments: []ast.Node{minus}}, at))
	c.values[distance] = difference
	if difference.kind == quantity.Score {
		c.fit(&distance, t)
	}
	if limit := c.values[*t]; limit.bad || !c.comparable(limit, difference, limit) {
		v.bad = true
		return v
	}
	c.compare(n, "<=", distance, *t)
	return v
}

func (c *checker) between(n *ast.Node, x *ast.CallNode, v value) value {
	it, low, high := &x.Arguments[0], &x.Arguments[1], &x.Arguments[2]
	at := x.Location()
	c.fit(it, low, high)
	for _, limit := range []*ast.Node{low, high} {
		l, r := c.values[*it], c.values[*limit]
		if l.bad || r.bad {
			v.bad = true
		} else if !c.comparable(r, l, r) {
			v.bad = true
		}
	}
	if v.bad {
		return v
	}
	above := ast.Node(c.mine(&ast.BinaryNode{Operator: "<="}, at))
	below := ast.Node(c.mine(&ast.BinaryNode{Operator: "<="}, at))
	c.compare(&above, "<=", *low, *it)
	c.compare(&below, "<=", *it, *high)
	both := ast.Node(&ast.BinaryNode{Operator: "and", Left: above, Right: below})
	if c.margin {
		both = &ast.BuiltinNode{Name: "min", Arguments: []ast.Node{above, below}}
	}
	ast.Patch(n, c.mine(both, at))
	return v
}

// closing is the place behind the bracket that closes the first one at or after
// from.
func (c *checker) closing(from int) int {
	depth := 0
	for i := from; i < len(c.scan.twin); i++ {
		switch c.scan.twin[i] {
		case '(':
			depth++
		case ')':
			if depth--; depth <= 0 {
				return i + 1
			}
		}
	}
	return len(c.scan.twin)
}

// around widens a stretch until its brackets are whole: the places of a tree
// leave them out.
func (c *checker) around(from, to int) (int, int) {
	twin := c.scan.twin
	depth, lowest := 0, 0
	for i := from; i < to && i < len(twin); i++ {
		switch twin[i] {
		case '(':
			depth++
		case ')':
			depth--
			lowest = min(lowest, depth)
		}
	}
	for i := from - 1; i >= 0 && lowest < 0; i-- {
		if twin[i] == '(' {
			from = i
			lowest++
			depth++
		}
	}
	for i := to; i < len(twin) && depth > 0; i++ {
		if twin[i] == ')' {
			to = i + 1
			depth--
		}
	}
	return from, to
}
