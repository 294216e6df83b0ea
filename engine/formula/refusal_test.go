package formula

import (
	"strings"
	"testing"

	"canewright/engine/diagnostic"
)

// In each text the guillemets mark the stretch the finding must point at.
var refusals = []struct{ text, code, message, hint string }{
	// names
	{"«gouge.sied» > 1 mm", UnknownName, "unknown name gouge.sied", "did you mean gouge.side?"},
	{"«zzzzz» > 1 mm", UnknownName, "unknown name zzzzz", ""},
	{"«$env» > 1 mm", UnknownName, "unknown name $env", ""},
	{"«v» > 1 mm", UnknownName, "unknown name v", "did you mean d?"},
	{"«blade» > 1 mm", UnknownName, "blade has many stations; say which", "write blade(3 mm, spine, A)"},
	{"blade(3 mm, «spin», A) > 1 mm", UnknownName, "blade has no station (3 mm, spin, A)", `"spin" is no lane; write spine or rails`},
	{"«blade(4 mm, spine, A)» > 1 mm", UnknownName, "blade has no station (4 mm, spine, A)", "write blade(3 mm, spine, A)"},
	{"«blade()» > 1 mm", UnknownName, "blade has no station ()", "write blade(3 mm, spine, A)"},
	{"blade«(»3 mm, spine, A > 1 mm", Syntax, "this bracket is not closed", ""},
	{"blade(3«,»5 mm, spine, A) > 1 mm", BadNumber, "a formula has no decimal comma", "write a point, or a blank behind the comma"},

	// units and kinds
	{"«gouge.centre + cane.mass» > 1 mm", UnitMismatch, "a length and a mass cannot be added", ""},
	{"«gouge.centre > 1.2»", MissingUnit, "a length cannot be compared with a bare number", "write the unit, as in 1.2 mm"},
	{"«0 < gouge.centre»", MissingUnit, "a bare number cannot be compared with a length", "write the unit, as in 0 mm"},
	{"«gouge.centre + 1» > 2 mm", MissingUnit, "a length and a bare number cannot be added", "write the unit, as in 1 mm"},
	{"«crow.pitch > 3»", MissingUnit, "a pitch cannot be compared with a bare number", "write a note or its frequency, as in F4 or 349.2 Hz"},
	{"«tip.width * gouge.side > 3 mm»", UnitMismatch, "an area cannot be compared with a length", ""},
	{"2 * («gouge.side + cane.mass») > 1 mm", UnitMismatch, "a length and a mass cannot be added", ""},
	{"«(gouge.side + tip.width) * 2 > 1 g»", UnitMismatch, "a length cannot be compared with a mass", ""},
	{"«room + 2 °C» > 20 °C", UnitMismatch, "a temperature and a temperature cannot be added", "add a difference, in K or cents"},
	{"«room * 2» > 20 °C", UnitMismatch, "a temperature and a bare number cannot be multiplied", "a point on a scale has no multiple; take another away first"},
	{"«room / 2» > 20 °C", UnitMismatch, "a temperature cannot be divided by a bare number", "a point on a scale has no multiple; take another away first"},
	{"«-room» > 20 °C", UnitMismatch, "a temperature has no negative: it is a point on a scale", ""},
	{"«-F4» < crow.pitch", UnitMismatch, "a pitch has no negative: it is a point on a scale", ""},
	{"abs(«room») > 20 °C", UnitMismatch, "abs cannot be taken of a temperature", ""},
	{"«4 K - room» > 3 K", UnitMismatch, "a temperature cannot be taken from a temperature difference", "a difference of temperatures is written in K"},
	{"«room - 20 °C <= 4 °C»", UnitMismatch, "a temperature difference cannot be compared with a temperature", "a difference of temperatures is written in K"},
	{"«crow.pitch > 20 cents»", UnitMismatch, "a pitch cannot be compared with an interval", "take a note away first: its distance in cents is then left"},
	{"«crow.pitch > tap»", UnitMismatch, "a pitch cannot be compared with a frequency", "compare frequencies with frequencies, and pitches with notes"},
	{"max(«gouge.side, cane.mass») > 1 mm", UnitMismatch, "a length and a mass cannot stand in one max", ""},
	{"true ? «gouge.side : cane.mass»", UnitMismatch, "the two answers are a length and a mass, and must be alike", ""},
	{"near(«gouge.side, cane.mass», 1 mm)", UnitMismatch, "a length cannot be compared with a mass", ""},
	{"near(gouge.side, tip.width, «1 g»)", UnitMismatch, "a length cannot be compared with a mass", ""},
	{"near(room, 20 °C, «2 °C»)", UnitMismatch, "a temperature difference cannot be compared with a temperature", "a difference of temperatures is written in K"},
	{"between(gouge.side, «1», 2 mm)", MissingUnit, "a length cannot be compared with a bare number", "write the unit, as in 1 mm"},
	{"«(gouge.side < tip.width) < 3 mm»", UnitMismatch, "a yes or no cannot be compared with a length", "write between(x, low, high), or join two comparisons with and"},
	{"«(gouge.side < tip.width) + 3»", UnitMismatch, "a yes or no and a bare number cannot be added", "join questions with and, or; number each side of a comparison"},
	{"«gouge.side*gouge.side*gouge.side*gouge.side*gouge.side*gouge.side*gouge.side*gouge.side*gouge.side*gouge.side*gouge.side*gouge.side*gouge.side» > 1", UnitMismatch, "this product has powers beyond 12", ""},

	// questions
	{"«gouge.side» and true", NotAQuestion, "and needs a yes or no here, not a length", "compare it with something first"},
	{"true or «2»", NotAQuestion, "or needs a yes or no here, not a bare number", "compare it with something first"},
	{"not «gouge.side» > 1 mm", NotAQuestion, "not needs a yes or no here, not a length", "put brackets around the comparison: not (a > b)"},
	{"«gouge.side» ? 1 : 2", NotAQuestion, "? needs a yes or no here, not a length", "compare it with something first"},

	// numbers
	{"gouge.side > «0,20» mm", BadNumber, "a formula has no decimal comma", "write a point: 0.20 (or a blank behind the comma between two values)"},
	{"max(gouge.side, «0,20» mm) > 1 mm", BadNumber, "a formula has no decimal comma", "write a point: 0.20 (or a blank behind the comma between two values)"},
	{"gouge.side > 1 «zz»", BadNumber, "zz is not a unit", ""},
	{"gouge.side > 1 «MM»", BadNumber, "MM is not a unit", "did you mean mm?"},
	{"gouge.side > 2«x»", BadNumber, "x is not a unit", ""},
	{"gouge.side > 2«gouge.side»", Syntax, "put a blank or an operator before gouge.side", ""},
	{"gouge.side > 1 «m²»", BadNumber, "m² is not a unit", ""},
	{"shrinkage > 1«e9»", BadNumber, "e9 is not a unit", ""},
	{"shrinkage > 0«x10»", BadNumber, "x10 is not a unit", ""},
	{"gouge.side > «1.2.3» mm", BadNumber, "1.2.3 is not a number", ""},
	{"gouge.side > «1.»", BadNumber, "1. is not a number", ""},
	{"shrinkage > «99999999999999999999»", BadNumber, "this number is too large", ""},
	{"shrinkage > «9999999999999999999999999999999999999999999»", BadNumber, "this number is too long", ""},
	{"gouge.side > «99999999999 m»", BadNumber, "this number is too large", ""},
	{"gouge.side > «1/0» in", BadNumber, "this is not a fraction", "write it as in 1 1/8 in"},
	{"gouge.side > «22.5 AWG»", BadNumber, "a wire gauge is a whole number from 0 to 40", ""},
	{"soaked > «30 min 1 h»", BadNumber, "these parts of a time are the wrong way round", "write the longer unit first: 1 h 30 min"},
	{"crow.pitch > «0 Hz»", BadNumber, "a frequency is above zero", ""},
	{"«gouge.side / 0» > 1 mm", BadNumber, "this divides by zero", ""},

	// not allowed
	{"gouge.side «==» 1 mm", NotAllowed, "== has no place in a formula", "measured values are never quite equal: write near(a, b, 0.01 mm)"},
	{"gouge.side «!=» 1 mm", NotAllowed, "!= has no place in a formula", "measured values are never quite equal: write not near(a, b, 0.01 mm)"},
	{"gouge.side «=» 1 mm", NotAllowed, "= has no place in a formula", "write >= or <=, or near(a, b, 0.01 mm)"},
	{"gouge.side «=>» 1 mm", NotAllowed, "=> has no place in a formula", "write >="},
	{"gouge.side «≥» 1 mm", NotAllowed, "≥ has no place in a formula", "write >="},
	{"gouge.side «in» 1", NotAllowed, "in has no place in a formula", ""},
	{"1 in «in» 1..3", NotAllowed, "in has no place in a formula", ""},
	{"1«..»3", NotAllowed, ".. has no place in a formula", "write between(x, 24 mm, 26 mm)"},
	{"gouge.side «matches» 'x'", NotAllowed, "matches has no place in a formula", ""},
	{"not gouge.side «contains» 'x'", NotAllowed, "contains has no place in a formula", ""},
	{"«now»() > 1 mm", NotAllowed, "now cannot be called", callsHint},
	{"«len»(gouge.side) > 1", NotAllowed, "len cannot be called", callsHint},
	{"«filter»(gouge.side) > 1", NotAllowed, "filter cannot be called", callsHint},
	{"«gouge.side»(1) > 1 mm", NotAllowed, "gouge.side cannot be called", "leave out the bracket, or write an operator before it"},
	{"gouge.side«[»0] > 1", NotAllowed, "[ has no place in a formula", "write round brackets"},
	{"«{»a: 1}", NotAllowed, "{ has no place in a formula", "write round brackets"},
	{"«'»a' + 'b'", NotAllowed, "' has no place in a formula", "a formula holds no text"},
	{"«\"»a\"", NotAllowed, "\" has no place in a formula", "a formula holds no text"},
	{"gouge.side > 1 mm «//» why", NotAllowed, "// has no place in a formula", "write a comment outside the formula"},
	{"gouge.side > 1 mm «/*» why */", NotAllowed, "/* has no place in a formula", "write a comment outside the formula"},
	{"gouge.side > 1 mm«;» true", NotAllowed, "; has no place in a formula", "a formula is one question or one number"},
	{"«let» x = 1 mm; x > 1 mm", NotAllowed, "let has no place in a formula", ""},
	{"«if» true {1} else {2}", NotAllowed, "if has no place in a formula", "write: test ? this : that"},
	{"gouge.side «|» abs", NotAllowed, "| has no place in a formula", "write or"},
	{"gouge.side «**» 2 > 1", NotAllowed, "** has no place in a formula", "write a product: a * a"},
	{"gouge.side «^» 2 > 1", NotAllowed, "^ has no place in a formula", "write a product: a * a"},
	{"wires «%» 3 > 1", NotAllowed, "% has no place in a formula", "a percentage is written behind its number: 45 %"},
	{"gouge.side «?.»x", NotAllowed, "?. has no place in a formula", ""},
	{"gouge.side «??» 1 mm", NotAllowed, "?? has no place in a formula", "write: test ? this : that"},
	{"«#» > 1", NotAllowed, "# has no place in a formula", "a sharp stands between the note and its octave: F#4"},
	{"gouge.side«.» > 1", NotAllowed, ". has no place in a formula", "a point stands inside a name or a number"},
	{"gouge.side > 1 mm «\x1b»[31m", NotAllowed, `'\x1b' has no place in a formula`, ""},
	{"gouge.side > 1 mm «\u202e»", NotAllowed, `'\u202e' has no place in a formula`, ""},

	// syntax
	{"« »", Syntax, "the formula is empty", ""},
	{"gouge.side > «(»1 mm", Syntax, "this bracket is not closed", ""},
	{"gouge.side > 1 mm«)»", Syntax, "this bracket was never opened", ""},
	{"gouge.side >«»", Syntax, "the formula ends too early", "something is missing at its end"},
	{"gouge.side > 1 mm «2 mm»", Syntax, "an operator is missing before 2 mm", ""},
	{"gouge.side > 2 «gouge.side»", Syntax, "an operator is missing before gouge.side", ""},
	{"gouge.side > «*» 2 mm", Syntax, "a value is missing before *", ""},
	{"true and «and» true", Syntax, "a value is missing before and", ""},
	{"(«)»", Syntax, "a value is missing before )", ""},
	{"gouge.side«,» 1 mm", Syntax, "a comma stands only between the values of a call", callsHint},
	{"gouge.side > 1 mm «(»2)", Syntax, "an operator is missing before (", ""},
	{"gouge.side > 1 mm «true»", Syntax, "an operator is missing before true", ""},
	{"true «?» : 2", Syntax, "an answer is missing behind ?", "write: test ? this : that"},
	{"true ? 1 : 2 «:» 3", Syntax, ": is not expected here", ""},
	{"«min» > 1", Syntax, "min needs its values in brackets", "min(…)"},
	{"«min(gouge.side)» > 1 mm", Syntax, "min takes two values or more: min(a, b)", ""},
	{"«abs(1, 2)» > 1", Syntax, "abs takes one value: abs(a)", ""},
	{"«near(1, 2)»", Syntax, "near takes three values: near(a, b, largest difference)", ""},
	{"«between(1)»", Syntax, "between takes three values: between(x, low, high)", ""},
}

// marked takes the guillemets out of a text and tells where they stood.
func marked(s string) (text string, from, to int) {
	var out []rune
	for _, c := range s {
		switch c {
		case '«':
			from = len(out)
		case '»':
			to = len(out)
		default:
			out = append(out, c)
		}
	}
	return string(out), from, to
}

func TestRefusalsPointAtTheirPlace(t *testing.T) {
	t.Parallel()
	for _, c := range refusals {
		if c.code == "" {
			continue
		}
		text, from, to := marked(c.text)
		f, list := Compile(diagnostic.Plain("test", text), bench{})
		all := list.Sorted()
		if f != nil || len(all) != 1 {
			t.Errorf("%s: %d findings\n%s", text, len(all), listed(list))
			continue
		}
		d := all[0]
		if d.Code != c.code || d.Message != c.message || d.Hint != c.hint {
			t.Errorf("%s:\n got %s %q hint %q\nwant %s %q hint %q", text, d.Code, d.Message, d.Hint, c.code, c.message, c.hint)
		}
		if d.Span.From.Col != from+1 || d.Span.To.Col != to+1 {
			t.Errorf("%s: %s: columns %d to %d, want %d to %d", text, d.Message, d.Span.From.Col, d.Span.To.Col, from+1, to+1)
		}
	}
}

func TestSeveralFindingsAndNoneTwice(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		text string
		want []string
	}{
		{"gouge.sied > 1 mm and gouge.centre > 2", []string{UnknownName, MissingUnit}},
		{"cane.mass < gouge.centre < cane.mass", []string{UnitMismatch, UnitMismatch}},
		{"1 mm < gouge.centre + cane.mass < 2 mm", []string{UnitMismatch}},
		{"a.a + b.b + c.c + e.e + f.f + g.g > 1 mm", []string{UnknownName, UnknownName, UnknownName, UnknownName, UnknownName}},
		{"(gouge.side + cane.mass) * 2 + 1 g > 3 s", []string{UnitMismatch}},
		{"max(gouge.side + 1, cane.mass) > 1 mm", []string{MissingUnit}},
	} {
		_, list := Compile(diagnostic.Plain("test", c.text), bench{})
		var got []string
		for _, d := range list.Sorted() {
			got = append(got, d.Code)
		}
		if strings.Join(got, " ") != strings.Join(c.want, " ") || list.Len() != len(c.want) {
			t.Errorf("%s: %v, want %v\n%s", c.text, got, c.want, listed(list))
		}
	}
}
