package formula

import (
	"slices"
	"strings"
	"unicode"

	"canewright/engine/diagnostic"
	"canewright/engine/quantity"
)

// placeholder is the first of a block of letters that stand for operands. The
// block is one the parser takes for letters and that has no use in a recipe; a
// typed one is a name nobody knows and never reaches the parser.
const placeholder = 0xA000

// operand is a literal or a name, and where it was typed.
type operand struct {
	from, to int // runes
	text     string
	kind     quantity.Kind
	literal  bool
	bare     bool    // a number without a unit
	whole    bool    // a whole number without a unit, or a count
	value    float64 // of a literal
	slot     int     // of a name
	function *Function
	unknown  bool // reported already
	origin   origin
}

// scanner rewrites a formula into its twin: of the same length in runes, made
// only of placeholders, blanks, operators, brackets and known words.
type scanner struct {
	src      []rune
	twin     []rune
	at       int
	scope    Scope
	operands []operand
	open     []int // places of brackets not closed yet
	prefix   bool  // a value may come next, so that - is a sign
	stop     bool
	found    findings
	offered  []Function // by the scope, once it was asked
	asked    bool
}

func scan(text string, scope Scope) *scanner {
	s := &scanner{src: []rune(text), scope: scope, prefix: true}
	for s.at < len(s.src) && !s.stop {
		switch r := s.src[s.at]; {
		case blank(r):
			s.twin = append(s.twin, ' ')
			s.at++
		case digit(r) || r == '.' && digit(s.ahead(1)):
			s.number(s.at)
		case (r == '-' || r == '−') && s.prefix && s.signedPoint():
		case s.note():
		case letter(r):
			s.word()
		default:
			s.sign(r)
		}
	}
	if !s.stop && len(s.open) > 0 {
		i := s.open[len(s.open)-1]
		s.found.add(Syntax, i, i+1, "", "this bracket is not closed")
	}
	return s
}

func blank(r rune) bool {
	return r == ' ' || r == '\t' || r == '\n' || r == '\u00a0' || r == '\u202f'
}
func digit(r rune) bool  { return r >= '0' && r <= '9' }
func letter(r rune) bool { return r == '_' || r == '$' || unicode.IsLetter(r) }
func wordly(r rune) bool { return letter(r) || unicode.IsDigit(r) }

func (s *scanner) ahead(n int) rune { return s.rune(s.at + n) }

func (s *scanner) rune(i int) rune {
	if i >= 0 && i < len(s.src) {
		return s.src[i]
	}
	return 0
}

func (s *scanner) skipBlanks(i int) int {
	for i < len(s.src) && blank(s.src[i]) {
		i++
	}
	return i
}

func (s *scanner) skipDigits(i int) int {
	for digit(s.rune(i)) {
		i++
	}
	return i
}

// text is what stands between two places, with plain blanks.
func (s *scanner) text(from, to int) string {
	return strings.Map(func(r rune) rune {
		if blank(r) {
			return ' '
		}
		return r
	}, string(s.src[from:to]))
}

// put overwrites everything from the current place up to o.to.
func (s *scanner) put(o operand) {
	o.from = s.at
	if o.text == "" {
		o.text = s.text(o.from, o.to)
	}
	if n := len(s.twin); n > 0 && wordly(s.twin[n-1]) {
		s.found.add(Syntax, o.from, o.to, "", "put a blank or an operator before %s", clip(o.text))
	}
	s.twin = append(s.twin, rune(placeholder+len(s.operands)))
	for i := o.from + 1; i < o.to; i++ {
		s.twin = append(s.twin, ' ')
	}
	s.operands = append(s.operands, o)
	s.at = o.to
	s.prefix = false
}

// copy hands n runes to the parser as they are.
func (s *scanner) copy(n int, prefix bool) {
	s.twin = append(s.twin, s.src[s.at:s.at+n]...)
	s.at += n
	s.prefix = prefix
}

// refuse ends the scan: what follows something not allowed means nothing.
func (s *scanner) refuse(code string, from, to int, hint, format string, a ...any) {
	s.found.add(code, from, to, hint, format, a...)
	s.stop = true
}

// wordEnd is where the dotted name that starts at i ends.
func (s *scanner) wordEnd(i int) int {
	for wordly(s.rune(i)) || s.rune(i) == '.' && wordly(s.rune(i+1)) {
		i++
	}
	return i
}

// Words that are operators, words that are calls, and words the parser knows
// but a formula may not use.
var (
	operators = []string{"and", "or", "not"}
	calls     = []string{"abs", "max", "min", "near", "between", "wet", "dry", "length"}
	foreign   = []string{"in", "matches", "contains", "startsWith", "endsWith", "let", "if", "else", "nil"}
)

const callsHint = "what can be written with brackets: abs, min, max, near, between, wet, dry, length"

func (s *scanner) word() {
	end := s.wordEnd(s.at)
	w := string(s.src[s.at:end])
	next := s.rune(s.skipBlanks(end))
	switch {
	case slices.Contains(operators, w):
		s.copy(end-s.at, true)
	case w == "true" || w == "false":
		s.copy(end-s.at, false)
	case slices.Contains(foreign, w):
		hint := ""
		if w == "if" {
			hint = "write: test ? this : that"
		}
		s.refuse(NotAllowed, s.at, end, hint, "%s has no place in a formula", w)
	case slices.Contains(calls, w) && next == '(':
		s.copy(end-s.at, true)
	case next == '(' && s.scope.Grid(w):
		s.cell(w, end)
	case next == '(' && s.function(w) != nil:
		s.put(operand{to: end, text: w, function: s.function(w)})
		s.prefix = true
	case next == '(':
		hint := s.callHint(w)
		if _, ok := s.scope.Lookup(w); ok {
			hint = "leave out the bracket, or write an operator before it"
		}
		s.refuse(NotAllowed, s.at, end, hint, "%s cannot be called", clip(w))
	default:
		s.name(w, end)
	}
}

// is makes a name of the operand.
func (o *operand) is(y Symbol) {
	o.kind, o.slot, o.whole = y.Kind, y.Slot, y.Kind == quantity.Count
	o.origin = originOf(y)
}

// function is the one the scope offers by this name, or nil.
func (s *scanner) function(w string) *Function {
	s.ask()
	for i := range s.offered {
		if s.offered[i].Name == w {
			return &s.offered[i]
		}
	}
	return nil
}

func (s *scanner) ask() {
	if f, ok := s.scope.(Functions); ok && !s.asked {
		s.offered = f.Functions()
	}
	s.asked = true
}

// callHint is what may have been meant by a call of something unknown.
func (s *scanner) callHint(w string) string {
	s.ask()
	known := slices.Clone(calls)
	for i := range s.offered {
		known = append(known, s.offered[i].Name)
	}
	if n := diagnostic.Near(w, known); n != "" {
		if f := s.function(n); f != nil {
			n = f.Form()
		}
		return "did you mean " + n + "?"
	}
	return callsHint
}

func (s *scanner) name(w string, end int) {
	o := operand{to: end, text: w}
	y, ok := s.scope.Lookup(w)
	switch {
	case ok:
		o.is(y)
	case slices.Contains(calls, w):
		s.found.add(Syntax, s.at, end, w+"(…)", "%s needs its values in brackets", w)
		o.unknown = true
	case s.function(w) != nil:
		s.found.add(Syntax, s.at, end, s.function(w).Form(), "%s needs its values in brackets", clip(w))
		o.unknown = true
	case s.scope.Grid(w):
		_, hint, _ := s.scope.Cell(w, nil)
		s.found.add(UnknownName, s.at, end, hint, "%s has many stations; say which", clip(w))
		o.unknown = true
	default:
		hint := ""
		if low := strings.ToLower(w); slices.Contains(operators, low) || low == "true" || low == "false" {
			hint = "write " + low
		} else if n := s.scope.Near(w); n != "" {
			hint = "did you mean " + n + "?"
		}
		s.found.add(UnknownName, s.at, end, hint, "unknown name %s", clip(w))
		o.unknown = true
	}
	s.put(o)
}

// cell reads blade(3 mm, spine, A): from the name to the bracket that closes.
func (s *scanner) cell(grid string, end int) {
	open := s.skipBlanks(end)
	depth, last := 0, open+1
	type part struct{ from, to int }
	var parts []part
	cut := func(to int) {
		from := s.skipBlanks(last)
		for to > from && blank(s.src[to-1]) {
			to--
		}
		parts = append(parts, part{from, max(from, to)})
	}
	i := open
	for ; i < len(s.src); i++ {
		r := s.src[i]
		if r == '(' {
			depth++
		}
		if r == ')' {
			if depth--; depth == 0 {
				break
			}
		}
		if r == ',' && depth == 1 {
			if digit(s.rune(i-1)) && digit(s.rune(i+1)) {
				s.refuse(BadNumber, i, i+1, "write a point, or a blank behind the comma", "a formula has no decimal comma")
				return
			}
			cut(i)
			last = i + 1
		}
	}
	if i == len(s.src) {
		s.refuse(Syntax, open, open+1, "", "this bracket is not closed")
		return
	}
	cut(i)
	args := make([]string, len(parts))
	for j, p := range parts {
		args[j] = s.text(p.from, p.to)
	}
	o := operand{to: i + 1}
	y, hint, ok := s.scope.Cell(grid, args)
	if ok {
		o.is(y)
	} else {
		o.unknown = true
		from, to := s.at, i+1
		// The hint may say which of the parts it is about.
		named := -1
		for j, a := range args {
			if a != "" && strings.Contains(hint, `"`+a+`"`) {
				if named >= 0 {
					named = -1
					break
				}
				named = j
			}
		}
		if named >= 0 {
			from, to = parts[named].from, parts[named].to
		}
		s.found.add(UnknownName, from, to, hint, "%s has no station (%s)", clip(grid), clip(strings.Join(args, ", ")))
	}
	s.put(o)
}
