package quantity

import (
	"math/big"
	"slices"
	"strings"
)

// Columns splits a number that is written twice, as papers have it in two
// columns: "27.0 ± 0.5 mm (1 1/16 in)" is the first, which counts, and the
// second, in brackets at its end. at is where the second begins, in runes. A
// number written once has no second.
func Columns(text string) (first, second string, at int) {
	r := []rune(strings.TrimRight(text, " \t"))
	if len(r) == 0 || r[len(r)-1] != ')' {
		return text, "", 0
	}
	open := slices.Index(r, '(')
	if open < 0 {
		return text, "", 0
	}
	at = open + 1
	for at < len(r)-1 && isBlank(r[at]) {
		at++
	}
	return strings.TrimRight(string(r[:open]), " \t"), strings.TrimSpace(string(r[open+1 : len(r)-1])), at
}

// Printed is a number as it stands on paper; From and To count runes of the
// text it stands in.
type Printed struct {
	Entered
	From, To int
	parts    int64 // of the fraction it is; 0: it is none
}

// The parts of an inch that rulers are marked in.
var marked = []int64{2, 4, 8, 16, 32, 64}

// Inch reports a number in inches, not in thousandths of one.
func (n Printed) Inch() bool { return n.Unit.d == unitByName["in"] }

// Odd reports a fraction of an inch that no ruler is marked in, such as 1/18.
func (n Printed) Odd() bool { return n.Inch() && n.parts > 0 && !slices.Contains(marked, n.parts) }

// Rounding is the step the number was rounded to when it was printed, in
// quanta: a decimal's last digit; of whole inches, halves, quarters and eighths
// a sixteenth, since 1/8 is also how 2/16 is written. A fraction of another
// unit is a decimal said aloud, to a tenth. 0: it cannot be told.
func (n Printed) Rounding() int64 {
	whole := n.parts == 0 && !strings.ContainsAny(n.Text, ".,")
	switch {
	case n.Inch() && (whole || n.parts > 0):
		return min(n.Step, 25_400_000/16)
	case n.parts > 0 && n.Unit.Quanta() != nil:
		tenth, _ := round(new(big.Rat).Quo(n.Unit.Quanta(), big.NewRat(10, 1)))
		return min(n.Step, max(tenth, 1))
	}
	return n.Step
}

func (p *parser) printed(l *loose) (Printed, error) {
	e, err := p.entered(l)
	if err != nil {
		return Printed{}, err
	}
	n := Printed{Entered: e, From: l.from, To: l.to}
	if l.step != nil && strings.Contains(e.Text, "/") && l.step.Num().IsInt64() && l.step.Num().Int64() == 1 {
		n.parts = l.step.Denom().Int64()
	}
	return n, nil
}

// PrintedIn are the numbers of a tolerance, or of a single value, as they
// stand on paper: one, the nominal or the only limit, or the two ends of a
// range. Deviations are left out. The error is an *Error.
func PrintedIn(text string, s Style) ([]Printed, error) {
	p := &parser{src: []rune(text), style: s, target: true}
	p.blanks()
	p.word("at most", "<=", "≤", "at least", ">=", "≥")
	p.blanks()
	a, err := p.loose()
	if err != nil {
		return nil, err
	}
	ls := []*loose{a}
	p.blanks()
	switch {
	case p.word("..", "…") != "":
		p.blanks()
		b, err := p.loose()
		if err != nil {
			return nil, err
		}
		b.unitFrom(a)
		a.unitFrom(b)
		ls = append(ls, b)
		if err := p.end(); err != nil {
			return nil, err
		}
	case p.at < len(p.src):
		if _, err := ParseTolerance(text, s); err != nil {
			return nil, err
		}
		p.word("±", "+-", "+/-", "+−")
		for p.at < len(p.src) { // the last deviation may bring the unit
			p.blanks()
			d, err := p.deviation()
			if err != nil {
				return nil, err
			}
			p.blanks()
			if !d.unit.IsZero() && accepts(s.Want, d.unit.d.kind) {
				a.unitFrom(d)
			}
		}
	}
	var out []Printed
	for _, l := range ls {
		n, err := p.printed(l)
		if err != nil {
			return nil, err
		}
		out = append(out, n)
	}
	return out, nil
}
