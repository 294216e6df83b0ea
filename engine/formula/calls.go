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
	if !v.truth {
		if v.origin, ok = c.joined(a, b, answering); !ok {
			v.bad = true
			return v
		}
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
			v.kind, v.bare, v.whole, v.exact, v.scaled, v.origin = av.kind, av.bare, av.whole, av.exact, av.scaled, av.origin
		default:
			k, ok := alike(v, av)
			if !ok {
				v.bad = true
				code, hint := advice(v, av)
				c.found.add(code, c.values[x.Arguments[0]].from, av.to, hint, "%s and %s cannot stand in one %s", v, av, name)
				break
			}
			sofar := v
			sofar.from = c.values[x.Arguments[0]].from
			if v.origin, ok = c.joined(sofar, av, standing(name)); !ok {
				v.bad = true
				break
			}
			v.kind = k
			v.bare, v.whole, v.exact = v.bare && av.bare, v.whole && av.whole, v.exact && av.exact
			v.scaled = v.scaled || av.scaled
		}
	}
	return v
}

// call judges a call that is not the parser's own. near(a, b, t) and
// between(x, low, high) get their meaning put in their place; wet(x), dry(x) and
// length(x) are x.
func (c *checker) call(n *ast.Node, x *ast.CallNode, v value) value {
	_, v.to = c.around(v.from, c.closing(v.to))
	name, ok := x.Callee.(*ast.IdentifierNode)
	if !ok {
		c.deny(&v, "this call")
		return v
	}
	if f := c.functionOf(name.Value); f != nil {
		return c.function(*n, x, f, v)
	}
	want, known := map[string]string{
		"near": "three values: near(a, b, largest difference)", "between": "three values: between(x, low, high)",
		"wet": "one value: wet(a)", "dry": "one value: dry(a)", "length": "one value: length(a)",
	}[name.Value]
	if !known {
		c.deny(&v, "this call")
		return v
	}
	takes := 3
	if name.Value != "near" && name.Value != "between" {
		takes = 1
	}
	switch {
	case len(x.Arguments) != takes:
		v.bad = true
		c.found.add(Syntax, v.from, v.to, "", "%s takes %s", name.Value, want)
		return v
	case takes == 1:
		return c.declared(n, x, name.Value, v)
	}
	v.truth = true
	if name.Value == "near" {
		return c.near(n, x, v)
	}
	return c.within(n, x, v)
}

// declared takes the writer's word for it that x was converted, or that a length
// is meant and no place.
func (c *checker) declared(n *ast.Node, x *ast.CallNode, word string, v value) value {
	a := c.values[x.Arguments[0]]
	switch {
	case a.bad:
	case a.truth:
		c.found.add(UnitMismatch, a.from, a.to, "", "%s cannot be taken of %s", word, a)
		a.bad = true
	case word == "length" && a.kind != quantity.Length:
		code, hint := advice(a, value{kind: quantity.Length})
		c.found.add(code, a.from, a.to, hint, "%s cannot be taken of %s", word, a)
		a.bad = true
	}
	a.from, a.to = v.from, v.to
	a.literal, a.symbol = nil, nil
	if word == "length" {
		a.origin = a.noDatum()
	} else {
		a.condition, a.wetted = word, &operand{from: v.from, to: v.to, text: c.scan.text(v.from, v.to)}
	}
	ast.Patch(n, c.mine(&ast.UnaryNode{Operator: "+", Node: x.Arguments[0]}, x.Location()))
	return a
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
	both, ok := c.comparable(value{from: l.from, to: r.to}, l, r)
	if !ok {
		v.bad = true
		return v
	}
	k, _ := alike(l, r)
	difference := c.sum(value{from: l.from, to: r.to}, value{kind: k, exact: l.exact, whole: l.whole, bare: l.bare}, value{kind: k, exact: r.exact, whole: r.whole, bare: r.bare}, "-")
	difference.origin = both.noDatum()
	minus := c.mine(&ast.BinaryNode{Operator: "-", Left: *a, Right: *b}, at)
	distance := ast.Node(c.mine(&ast.BuiltinNode{Name: "abs", Arguments: []ast.Node{minus}}, at))
	c.values[distance] = difference
	if difference.kind == quantity.Score {
		c.fit(&distance, t)
	}
	limit := c.values[*t]
	if limit.bad {
		v.bad = true
		return v
	}
	if _, ok := c.comparable(limit, difference, limit); !ok {
		v.bad = true
		return v
	}
	ast.Patch(n, c.mine(&ast.BinaryNode{Operator: "<=", Left: distance, Right: *t}, at))
	c.compare(*n, distance, *t)
	return v
}

func (c *checker) within(n *ast.Node, x *ast.CallNode, v value) value {
	it, low, high := &x.Arguments[0], &x.Arguments[1], &x.Arguments[2]
	at := x.Location()
	c.fit(it, low, high)
	l := c.values[*it]
	for _, limit := range []*ast.Node{low, high} {
		r := c.values[*limit]
		if l.bad || r.bad {
			v.bad = true
			continue
		}
		both, ok := c.comparable(r, l, r)
		if !ok {
			v.bad = true
			continue
		}
		// Both limits must fit what is between them, and each other.
		l.origin = both
	}
	if v.bad {
		return v
	}
	above := c.mine(&ast.BinaryNode{Operator: "<=", Left: *low, Right: *it}, at)
	below := c.mine(&ast.BinaryNode{Operator: "<=", Left: *it, Right: *high}, at)
	c.compare(above, *low, *it)
	c.compare(below, *it, *high)
	ast.Patch(n, c.mine(&ast.BinaryNode{Operator: "and", Left: above, Right: below}, at))
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
