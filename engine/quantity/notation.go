package quantity

import (
	"math/big"
	"strings"
)

// ParseTolerance reads the notation of engineering drawings:
//
//	120 ± 0.5 mm      1.30 +0.03 -0.02 mm     24 .. 25.5 mm
//	at most 1 mm      at least 24 mm          <= 1 mm    >= 24 mm
//	E4 .. F4          F4 ± 20 cents           5          (a count: exactly 5)
//
// "+-" and "+/-" read as "±". A unit at the end holds for all numbers without
// one. The error is an *Error.
func ParseTolerance(text string, s Style) (Tolerance, error) {
	return (&parser{src: []rune(text), style: s, target: true}).tolerance(text)
}

func (p *parser) tolerance(text string) (Tolerance, error) {
	s := p.style
	p.blanks()
	t := Tolerance{Text: strings.TrimSpace(text), Kind: s.Want}
	if p.at == len(p.src) {
		return t, p.nothing()
	}
	start := p.at
	if w := p.word("at most", "<=", "≤", "at least", ">=", "≥"); w != "" {
		return p.oneSided(t, w == "at least" || w == ">=" || w == "≥")
	}
	if w := p.word("<", ">"); w != "" {
		return t, fault(start, p.at, `write "at most" or "at least"; a limit is always inside`, "%q has no place in a target", w)
	}
	a, err := p.loose() // its unit may come at the very end
	if err != nil {
		return t, err
	}
	p.blanks()
	switch {
	case p.word("±", "+-", "+/-", "+−") != "":
		p.blanks()
		if c := p.peek(); !isDigit(c) && c != '.' && c != ',' {
			if isSign(c) {
				return t, fault(p.at, p.at+1, "", "a deviation after ± has no sign")
			}
			return t, fault(p.at, len(p.src), "write it as in 1.30 ± 0.02 mm", "there is no number after ±")
		}
		d, err := p.deviation()
		if err != nil {
			return t, err
		}
		down := *d
		return p.around(t, a, d, &down)
	case isSign(p.peek()):
		return p.twoDeviations(t, a)
	case p.word("..", "…") != "":
		return p.between(t, a)
	}
	if p.at < len(p.src) {
		at := p.at
		if w := p.word("–", "—", "to "); w != "" {
			return t, fault(at, p.at, "write a range with two points: 24 .. 26 mm", "%q does not make a range", strings.TrimSpace(w))
		}
		return t, p.trailing()
	}
	v, err := p.settle(a)
	if err != nil {
		return t, err
	}
	if s.Want != Count {
		shown := clip(strings.TrimSpace(string(p.src[a.from:a.to])))
		return t, fault(a.from, a.to, "write "+shown+" ± …, a range 24 .. 26 mm, at most or at least", "this target has no tolerance")
	}
	b, err := bound(v, v.exact)
	t.Nominal, t.Low, t.High = b, b, b
	p.show(&t, v)
	return t, err
}

func (p *parser) oneSided(t Tolerance, low bool) (Tolerance, error) {
	p.blanks()
	l, err := p.loose()
	if err != nil {
		return t, err
	}
	if err := p.end(); err != nil {
		return t, err
	}
	v, err := p.settle(l)
	if err != nil {
		return t, err
	}
	b, err := bound(v, v.exact)
	if err != nil {
		return t, err
	}
	if low {
		t.Low = b
	} else {
		t.High = b
	}
	p.show(&t, v)
	return t, nil
}

// twoDeviations reads "+0.03 -0.02 mm" after the nominal; either may come
// first, and a second one of nought needs no sign.
func (p *parser) twoDeviations(t Tolerance, a *loose) (Tolerance, error) {
	first := p.peek() == '+'
	d1, err := p.deviation()
	if err != nil {
		return t, err
	}
	p.blanks()
	if p.at == len(p.src) {
		hint := "write both: 1.30 +0.03 -0.02 mm, with 0 where there is none"
		if !first {
			hint = "a range is written with two points: 24 .. 26 mm; deviations both: 1.30 +0.03 -0.02 mm"
		}
		return t, fault(a.from, p.at, hint, "one deviation is missing")
	}
	at := p.at
	second := p.peek()
	wrong := fault(at, len(p.src), "write one + and one -: 1.30 +0.03 -0.02 mm", "the second deviation is not of the other sign")
	if !isSign(second) && !isDigit(second) || isSign(second) && first == (second == '+') {
		return t, wrong
	}
	d2, err := p.deviation()
	if err != nil {
		return t, err
	}
	if isDigit(second) && d2.num.Sign() != 0 {
		wrong.To = p.at
		return t, wrong
	}
	up, down := d1, d2
	if !first {
		up, down = d2, d1
	}
	down.num = new(big.Rat).Neg(down.num)
	return p.around(t, a, up, down)
}

// between reads the second number of a range.
func (p *parser) between(t Tolerance, a *loose) (Tolerance, error) {
	if p.peek() == '.' {
		return t, fault(p.at-2, p.at+1, "write a range with two points: 24 .. 26 mm", "three points do not make a range")
	}
	p.blanks()
	b, err := p.loose()
	if err != nil {
		return t, err
	}
	if err := p.end(); err != nil {
		return t, err
	}
	a.unitFrom(b)
	b.unitFrom(a)
	va, err := p.settle(a)
	if err != nil {
		return t, err
	}
	vb, err := p.settle(b)
	if err != nil {
		return t, err
	}
	if va.exact.Cmp(vb.exact) > 0 {
		hint := "write the smaller first"
		if va.unit == vb.unit && va.unit.Quanta() == nil {
			hint += "; a higher gauge is a thinner wire"
		}
		return t, fault(a.from, b.to, hint, "the limits are the wrong way round")
	}
	if t.Low, err = bound(va, va.exact); err != nil {
		return t, err
	}
	if t.High, err = bound(vb, vb.exact); err != nil {
		return t, err
	}
	p.show(&t, va, vb)
	return t, nil
}

// around sets limits nominal + up and nominal - down.
func (p *parser) around(t Tolerance, a, up, down *loose) (Tolerance, error) {
	if err := p.end(); err != nil {
		return t, err
	}
	// A unit at the end holds for what stands before it.
	if last := laterOf(up, down); !last.unit.IsZero() {
		up.unitFrom(last)
		down.unitFrom(last)
		if a.whole == nil && accepts(p.style.Want, last.unit.d.kind) {
			a.unitFrom(last)
		}
	}
	up.unitFrom(a)
	down.unitFrom(a)
	u, err := p.settleDeviation(up)
	if err != nil {
		return t, err
	}
	d, err := p.settleDeviation(down)
	if err != nil {
		return t, err
	}
	v, err := p.settle(a)
	if err != nil {
		return t, err
	}
	if t.Nominal, err = bound(v, v.exact); err != nil {
		return t, err
	}
	if t.High, err = bound(v, new(big.Rat).Add(v.exact, u.exact)); err != nil {
		return t, err
	}
	if t.Low, err = bound(v, new(big.Rat).Sub(v.exact, d.exact)); err != nil {
		return t, err
	}
	p.show(&t, v, u, d)
	return t, nil
}

func laterOf(a, b *loose) *loose {
	if b.from > a.from {
		return b
	}
	return a
}

// deviation reads the number after ±, + or -.
func (p *parser) deviation() (*loose, error) {
	q := *p
	q.style.Want = p.style.Want.Difference()
	l, err := q.loose()
	p.at = q.at
	return l, err
}

// settleDeviation gives a deviation its quanta: a difference, never a point.
func (p *parser) settleDeviation(l *loose) (*term, error) {
	q := *p
	q.style.Want = p.style.Want.Difference()
	if l.unit.IsZero() && p.style.Want == Pitch {
		return nil, fault(l.from, l.to, "write cents: F4 ± 20 cents", "this deviation has no unit")
	}
	if !l.unit.IsZero() && l.unit.Quanta() == nil {
		return nil, fault(l.from, l.to, "write it in mm or in: 22 AWG ± 0.02 mm", "a deviation cannot be a wire gauge")
	}
	return q.settle(l)
}

// show keeps the unit of the first number and the finest last place. A gauge
// is shown in mm, with the three decimals of the gauge tables.
func (p *parser) show(t *Tolerance, vs ...*term) {
	p.written = vs
	t.Unit = vs[0].unit
	if t.Unit.Quanta() == nil {
		t.Unit = Main(t.Kind)
	}
	for _, v := range vs {
		n := v.steps()
		if v.unit.Quanta() == nil {
			n = 1000
		}
		if n > 0 && (t.Step == 0 || n < t.Step) {
			t.Step = n
			if t.Kind == Time { // 2 h .. 2 h 30 min is shown in min
				t.Unit = v.unit
			}
		}
	}
}

func bound(v *term, exact *big.Rat) (Bound, error) {
	q, ok := round(exact)
	if !ok {
		return Bound{}, tooLarge(v)
	}
	return Bound{q, true}, nil
}
