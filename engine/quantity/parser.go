package quantity

import (
	"math/big"
	"strings"
)

// longest is how many digits a number may have: more than any quantum needs,
// few enough that no number costs time.
const longest = 40

// finestPart is the largest denominator a fraction may have: rules are ruled
// in 64ths at the finest.
const finestPart = 128

type parser struct {
	src     []rune
	at      int
	style   Style
	many    bool    // several numbers may stand on the line
	target  bool    // reading a tolerance
	written []*term // the numbers of a tolerance, in their order
}

func isBlank(r rune) bool { return r == ' ' || r == '\t' || r == '\u00a0' || r == '\u202f' }
func isDigit(r rune) bool { return r >= '0' && r <= '9' }
func isSign(r rune) bool  { return r == '+' || r == '-' || r == '−' }

func (p *parser) peek() rune { return p.ahead(0) }
func (p *parser) ahead(n int) rune {
	if p.at+n < len(p.src) {
		return p.src[p.at+n]
	}
	return 0
}

func (p *parser) blanks() {
	for p.at < len(p.src) && isBlank(p.src[p.at]) {
		p.at++
	}
}

// end refuses what is left over.
func (p *parser) end() error {
	p.blanks()
	if p.at < len(p.src) {
		return p.trailing()
	}
	return nil
}

func (p *parser) trailing() *Error {
	rest := strings.TrimSpace(string(p.src[p.at:]))
	hint := ""
	switch c := p.peek(); {
	case c == ',' && p.many:
		hint = "separate numbers by blanks or semicolons"
	case c == ',' || c == '.' && p.ahead(1) != '.':
		hint = "write one decimal comma or point, and no thousands separator"
	case c == '.' || c == '…' || c == '-' || c == '−' || c == '–' || c == '—' || strings.HasPrefix(rest, "to "):
		if hint = "one number is wanted here, not a range"; p.target {
			hint = "a range is written with two points: 24 .. 26 mm"
		}
	case isDigit(c) && !p.target:
		hint = "one number is wanted here, without blanks or separators inside"
	}
	return fault(p.at, len(p.src), hint, "%q does not belong after the number", clip(rest))
}

func (p *parser) nothing() *Error {
	return fault(0, len(p.src), "type a number, such as "+example(p.style.Want), "there is no number here")
}

// number reads sign, then a decimal, a fraction, or a whole number and a
// fraction. step is one digit of the last place, or one part of the fraction.
func (p *parser) number() (n, step *big.Rat, err error) {
	start := p.at
	neg := false
	if isSign(p.peek()) {
		neg = p.peek() != '+'
		p.at++
		p.blanks()
	}
	whole := p.digits()
	if whole == "" && !((p.peek() == '.' || p.peek() == ',') && isDigit(p.ahead(1))) {
		return nil, nil, p.notNumber(start)
	}
	if len(whole) > longest {
		return nil, nil, fault(start, p.at, "", "this number is too long")
	}
	switch c := p.peek(); {
	case c == '.' && p.ahead(1) == '.': // 24..25 mm: a range, not a decimal
		n, step = rat(whole), big.NewRat(1, 1)
	case c == '.' || c == ',':
		n, step, err = p.decimal(start, whole)
	case (c == '\'' || c == '’') && isDigit(p.ahead(1)):
		err = fault(start, p.pastMarks(), "write one decimal comma or point, and no thousands separator", "this number has a thousands separator")
	case c == '/':
		n, step, err = p.fraction(start, whole)
	default:
		n, step, err = p.mixed(whole)
	}
	if err != nil {
		return nil, nil, err
	}
	if neg {
		n.Neg(n)
	}
	return n, step, nil
}

func (p *parser) notNumber(start int) *Error {
	end := start
	for end < len(p.src) && !isBlank(p.src[end]) {
		end++
	}
	if end == start {
		return fault(start, end, "type a number, such as "+example(p.style.Want), "there is no number here")
	}
	hint := ""
	if p.style.Want == Pitch {
		hint = "a note is written as in F4, with the letters A to G"
	}
	return fault(start, end, hint, "%q is not a number", clip(string(p.src[start:end])))
}

// decimal reads the point or comma after whole, and the digits behind it.
func (p *parser) decimal(start int, whole string) (n, step *big.Rat, err error) {
	c := p.peek()
	if c == ',' && p.style.Point {
		mark := p.at
		p.at++
		if d := p.digits(); d != "" {
			return nil, nil, fault(mark, mark+1, "write a point here: "+clip(whole+"."+d), "inside brackets and formulas a comma is not a decimal comma")
		}
		return nil, nil, fault(mark, mark+1, "write a decimal point", "inside brackets and formulas a comma is not a decimal comma")
	}
	p.at++
	frac := p.digits()
	switch c2 := p.peek(); {
	case frac == "" && isBlank(c2) || frac == "" && c2 == 0:
		return nil, nil, fault(start, p.at, "leave the mark out, or write the digits", "there are no digits after the decimal mark")
	case frac == "":
		return nil, nil, fault(start, p.at, "", "there are no digits after the decimal mark")
	case (c2 == '.' || c2 == ',' || c2 == '\'' || c2 == '’') && isDigit(p.ahead(1)):
		return nil, nil, fault(start, p.pastMarks(), "write one decimal comma or point, and no thousands separator", "this number has two decimal marks")
	case len(whole)+len(frac) > longest:
		return nil, nil, fault(start, p.at, "", "this number is too long")
	}
	den := new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(len(frac))), nil)
	step = new(big.Rat).SetFrac(big.NewInt(1), den)
	n = rat(whole + frac)
	return n.Mul(n, step), step, nil
}

// pastMarks is the place after a number with marks too many.
func (p *parser) pastMarks() int {
	to := p.at
	for to < len(p.src) && (isDigit(p.src[to]) || strings.ContainsRune(".,'’", p.src[to])) {
		to++
	}
	return to
}

// mixed reads a whole number; a fraction right behind it, after blanks, a
// hyphen or "and", belongs to it: 1 1/8, 1-1/8 and 1 and 1/8.
func (p *parser) mixed(whole string) (n, step *big.Rat, err error) {
	n = rat(whole)
	save := p.at
	if p.peek() == '-' && isDigit(p.ahead(1)) {
		p.at++
	} else {
		p.blanks()
		if p.at > save && p.word("and") != "" && !isBlank(p.peek()) {
			p.at = save // "android"
		}
		p.blanks()
	}
	if at := p.at; at > save && isDigit(p.peek()) {
		num := p.digits()
		if p.peek() == '/' && isDigit(p.ahead(1)) {
			f, step, err := p.fraction(at, num)
			if err != nil {
				return nil, nil, err
			}
			return n.Add(n, f), step, nil
		}
	}
	p.at = save
	return n, big.NewRat(1, 1), nil
}

// fraction reads /den after its numerator.
func (p *parser) fraction(start int, num string) (n, step *big.Rat, err error) {
	p.at++
	den := p.digits()
	if den == "" || len(den) > 6 || len(num) > 6 || num == "" || rat(den).Sign() == 0 {
		return nil, nil, fault(start, p.at, "write it as in 1 1/8 in", "this is not a fraction")
	}
	if rat(den).Cmp(big.NewRat(finestPart, 1)) > 0 {
		return nil, nil, fault(start, p.at, "write a decimal", "a fraction finer than 1/%d is not read here", finestPart)
	}
	step = new(big.Rat).Inv(rat(den))
	return new(big.Rat).Mul(rat(num), step), step, nil
}

func rat(digits string) *big.Rat {
	if digits == "" {
		return new(big.Rat)
	}
	r, _ := new(big.Rat).SetString(digits)
	return r
}

func (p *parser) digits() string {
	start := p.at
	for p.at < len(p.src) && isDigit(p.src[p.at]) {
		p.at++
	}
	return string(p.src[start:p.at])
}

// word consumes the first of the spellings that stands here; a spelling of
// letters is taken in any case.
func (p *parser) word(spellings ...string) string {
	for _, w := range spellings {
		n := len([]rune(w))
		if p.at+n <= len(p.src) && strings.EqualFold(string(p.src[p.at:p.at+n]), w) {
			p.at += n
			return w
		}
	}
	return ""
}

// unit reads the unit behind a number; the zero Unit when there is none.
func (p *parser) unit() (Unit, error) {
	save := p.at
	p.blanks()
	start := p.at
	end := start
	for end < len(p.src) && !endsUnit(p.src[end]) {
		end++
	}
	// Longest spelling first: "mm²" before "mm", "% RH" before "%".
	for to := min(len(p.src), start+longestUnit); to > start; to-- {
		if to < len(p.src) && !endsUnit(p.src[to]) || isBlank(p.src[to-1]) {
			continue
		}
		if d, ok := unitByName[string(p.src[start:to])]; ok {
			p.at = to
			return p.meant(Unit{d}), nil
		}
	}
	w := string(p.src[start:end])
	if start == end || isDigit(p.src[start]) || p.target && strings.EqualFold(w, "to") || p.style.Want == Pitch && p.many && noteAhead(p.src[start:end]) {
		p.at = save
		return Unit{}, nil
	}
	hint := ""
	if n := nearUnit(w, p.style.Want); n != "" {
		hint = "did you mean " + n + "?"
	}
	return Unit{}, fault(start, end, hint, "%q is not a unit known here", clip(w))
}

// noteAhead tells a note behind a bare frequency ("349 F4") from a unit.
func noteAhead(w []rune) bool {
	_, is := noteSteps[upper(w[0])]
	return is && len(w) <= 3 && isDigit(w[len(w)-1])
}

// meant settles a spelling that two kinds share: ″ is an inch among lengths
// and a second of arc among angles.
func (p *parser) meant(u Unit) Unit {
	if p.style.Want == Angle && u.d == unitByName["in"] {
		return Unit{unitByName["arcsec"]}
	}
	return u
}

func endsUnit(r rune) bool {
	return isBlank(r) || isSign(r) || strings.ContainsRune(";±.,…–—<>=≤≥", r)
}

// nearUnit guesses what a misspelt unit stands for: another case or a plural
// first, then one letter wrong.
func nearUnit(w string, want Kind) string {
	low := strings.ToLower(w)
	for _, near := range []func(a, b string) bool{
		func(a, b string) bool { return strings.TrimSuffix(a, "s") == strings.TrimSuffix(b, "s") },
		oneChange,
	} {
		for _, d := range unitDefs {
			if d.name == "" || !accepts(want, d.kind) && !(want == Pitch && d.kind == Frequency) {
				continue
			}
			for _, s := range append([]string{d.name}, d.also...) {
				if near(strings.ToLower(s), low) {
					return d.name
				}
			}
		}
	}
	if accepts(want, Length) {
		switch strings.TrimSuffix(low, "s") {
		case "millimeter", "millimetre":
			return "mm"
		case "micron":
			return "µm"
		case "thousandth":
			return "thou"
		}
	}
	return ""
}

// oneChange: one letter wrong, missing, added or swapped with its neighbour;
// words shorter than three letters are all near to each other and are not told.
func oneChange(a, b string) bool {
	x, y := []rune(a), []rune(b)
	if len(x) > len(y) {
		x, y = y, x
	}
	if len(x) < 3 || len(y)-len(x) > 1 {
		return false
	}
	i := 0
	for i < len(x) && x[i] == y[i] {
		i++
	}
	if len(y) > len(x) {
		return string(x[i:]) == string(y[i+1:])
	}
	if i >= len(x)-1 || string(x[i+1:]) == string(y[i+1:]) {
		return true
	}
	return x[i] == y[i+1] && x[i+1] == y[i] && string(x[i+2:]) == string(y[i+2:])
}
