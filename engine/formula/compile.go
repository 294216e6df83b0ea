package formula

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/expr-lang/expr/ast"
	"github.com/expr-lang/expr/builtin"
	"github.com/expr-lang/expr/conf"
	"github.com/expr-lang/expr/file"
	"github.com/expr-lang/expr/parser"

	"canewright/engine/quantity"
)

func compile(text string, scope Scope) (*Formula, findings) {
	var early findings
	switch {
	case len(text) > longestText:
		early.add(TooLong, 0, len([]rune(text)), "make two formulas of it", "a formula has at most %d bytes, not %d", longestText, len(text))
		return nil, early
	case strings.TrimSpace(text) == "":
		early.add(Syntax, 0, len([]rune(text)), "", "the formula is empty")
		return nil, early
	}
	s := scan(text, scope)
	if !s.found.onlyNames() || s.stop {
		return nil, s.found
	}
	return s.compile(text)
}

// compile turns the scanned twin into programs.
func (s *scanner) compile(text string) (*Formula, findings) {
	f := &Formula{text: text}
	for i := range s.operands {
		if o := &s.operands[i]; !o.literal && !o.unknown && o.function == nil {
			f.needs = append(f.needs, o.slot)
			f.names = append(f.names, name{o.from, o.to, o.slot})
		}
	}
	slices.Sort(f.needs)
	f.needs = slices.Compact(f.needs)
	tree, c, err := s.check(f.needs)
	found := s.found
	for _, x := range c.found {
		found.add(x.code, x.from, x.to, x.hint, "%s", x.message)
	}
	if err != nil && len(found) == 0 {
		x := s.plain(err)
		found.add(x.code, x.from, x.to, x.hint, "%s", x.message)
	}
	if len(found) > 0 {
		return nil, found
	}
	root := c.values[tree]
	f.value, f.truth, f.kind = c.program(tree, false), root.truth, root.kind
	if f.condition = root.condition; root.way > 0 {
		f.datum = root.datum
	}
	if f.truth {
		f.kind = quantity.Kind{}
		if c.lone && c.compared {
			f.margin, f.kind = c.program(tree, true), c.marginKind
		}
	}
	return f, nil
}

// check parses the twin and judges its tree. The parser is a library that was
// given a stranger's text: a panic in it is an error of the text.
func (s *scanner) check(slots []int) (tree ast.Node, c *checker, err error) {
	c = &checker{scan: s, slots: slots, values: map[ast.Node]value{}, own: map[ast.Node]bool{}, loads: map[ast.Node]int32{}, slacks: map[ast.Node][2]float64{}, lone: true}
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("parse the formula: %v", r)
		}
	}()
	t, err := parser.ParseWithConfig(string(s.twin), &conf.Config{MaxNodes: mostNodes, Disabled: disabled})
	if err != nil {
		return nil, c, err
	}
	ast.Walk(&t.Node, c)
	return t.Node, c, nil
}

// disabled are the calls the parser knows and a formula does not.
var disabled = func() map[string]bool {
	out := map[string]bool{}
	for _, f := range builtin.Builtins {
		out[f.Name] = f.Name != "abs" && f.Name != "min" && f.Name != "max"
	}
	return out
}()

func place(slots []int, slot int) int32 {
	i, _ := slices.BinarySearch(slots, slot)
	return int32(i)
}

// plain puts what the parser says in plain words, at its place in what was
// typed. It never shows a placeholder.
func (s *scanner) plain(err error) finding {
	end := len(s.twin)
	var e *file.Error
	if !errors.As(err, &e) {
		return finding{Syntax, 0, end, "the formula cannot be read", ""}
	}
	if strings.Contains(e.Message, "maximum allowed nodes") {
		return finding{TooLong, 0, end, fmt.Sprintf("the formula has more than %d parts", mostNodes), "make two formulas of it"}
	}
	if strings.Contains(e.Message, "EOF") || strings.Contains(e.Message, "unexpected end") {
		for end > 0 && blank(s.src[end-1]) {
			end--
		}
		return finding{Syntax, end, end, "the formula ends too early", "something is missing at its end"}
	}
	from := min(max(e.From, 0), end)
	to := min(max(e.To, from), end)
	for _, o := range s.operands {
		if o.from == from {
			return finding{Syntax, o.from, o.to, "an operator is missing before " + clip(o.text), ""}
		}
	}
	token := s.text(from, to)
	before := from - 1
	for before >= 0 && blank(s.twin[before]) {
		before--
	}
	valueMissing := before < 0 || strings.ContainsRune("(,+-*/<>=?:&|!", s.twin[before])
	for _, w := range operators {
		valueMissing = valueMissing || before >= 0 && s.lastWord(before+1) == w
	}
	switch {
	case token == "":
		return finding{Syntax, from, to, "the formula cannot be read from here on", ""}
	case valueMissing:
		return finding{Syntax, from, to, "a value is missing before " + clip(token), ""}
	case token == "," && len(s.operands) > 0:
		return finding{Syntax, from, to, "a comma stands only between the values of a call", callsHint}
	case wordly(s.src[from]):
		return finding{Syntax, from, to, "an operator is missing before " + clip(token), ""}
	}
	return finding{Syntax, from, to, clip(token) + " is not expected here", ""}
}

// lastWord is the word that ends before rune i of the twin.
func (s *scanner) lastWord(i int) string {
	j := i
	for j > 0 && wordly(s.twin[j-1]) {
		j--
	}
	return string(s.twin[j:i])
}
