package formula

// Signs that mean something to the parser or to a programmer, and nothing in a
// formula. Longer ones first.
var refused = []struct{ sign, hint string }{
	{"//", "write a comment outside the formula"},
	{"/*", "write a comment outside the formula"},
	{"==", "measured values are never quite equal: write near(a, b, 0.01 mm)"},
	{"!=", "measured values are never quite equal: write not near(a, b, 0.01 mm)"},
	{"<>", "measured values are never quite equal: write not near(a, b, 0.01 mm)"},
	{"=<", "write <="},
	{"=>", "write >="},
	{"=", "write >= or <=, or near(a, b, 0.01 mm)"},
	{"≤", "write <="},
	{"≥", "write >="},
	{"≠", "measured values are never quite equal: write not near(a, b, 0.01 mm)"},
	{"±", "write near(a, b, 0.01 mm)"},
	{"**", "write a product: a * a"},
	{"^", "write a product: a * a"},
	{"²", "write a product: a * a"},
	{"³", "write a product: a * a * a"},
	{"%", "a percentage is written behind its number: 45 %"},
	{"..", "write between(x, 24 mm, 26 mm)"},
	{"??", "write: test ? this : that"},
	{"?.", ""},
	{"::", "write one colon"},
	{"|", "write or"},
	{"&", "write and"},
	{";", "a formula is one question or one number"},
	{"\"", "a formula holds no text"},
	{"'", "a formula holds no text"},
	{"`", "a formula holds no text"},
	{"[", "write round brackets"},
	{"]", "write round brackets"},
	{"{", "write round brackets"},
	{"}", "write round brackets"},
	{"#", "a sharp stands between the note and its octave: F#4"},
	{".", "a point stands inside a name or a number"},
}

// sign reads an operator, a bracket or a comma.
func (s *scanner) sign(r rune) {
	for _, two := range []string{"<=", ">=", "&&", "||"} {
		if rune(two[0]) == r && s.ahead(1) == rune(two[1]) {
			s.copy(2, true)
			return
		}
	}
	for _, x := range refused {
		sign := []rune(x.sign)
		if sign[0] == r && (len(sign) == 1 || s.ahead(1) == sign[1]) {
			s.refuse(NotAllowed, s.at, s.at+len(sign), x.hint, "%s has no place in a formula", x.sign)
			return
		}
	}
	switch r {
	case '(':
		if !s.prefix {
			s.refuse(Syntax, s.at, s.at+1, "", "an operator is missing before (")
			return
		}
		s.open = append(s.open, s.at)
		if len(s.open) > deepest {
			s.refuse(TooLong, s.at, s.at+1, "", "brackets are nested more than %d deep", deepest)
			return
		}
		s.copy(1, true)
	case ')':
		if len(s.open) == 0 {
			s.refuse(Syntax, s.at, s.at+1, "", "this bracket was never opened")
			return
		}
		s.open = s.open[:len(s.open)-1]
		s.copy(1, false)
	case '?':
		if s.rune(s.skipBlanks(s.at+1)) == ':' {
			s.refuse(Syntax, s.at, s.at+1, "write: test ? this : that", "an answer is missing behind ?")
			return
		}
		s.copy(1, true)
	case '+', '-', '*', '/', '<', '>', ':', ',', '!':
		s.copy(1, true)
	case '−', '×', '÷':
		// One rune each, so places stay.
		s.twin = append(s.twin, map[rune]rune{'−': '-', '×': '*', '÷': '/'}[r])
		s.at++
		s.prefix = true
	default:
		s.refuse(NotAllowed, s.at, s.at+1, "", "%q has no place in a formula", r)
	}
}
