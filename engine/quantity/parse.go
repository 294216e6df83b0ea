package quantity

import (
	"math/big"
	"math/bits"
	"strings"
)

// Parse reads one value: a decimal with point or comma, a fraction or a whole
// number and a fraction (1 1/8 in), a wire gauge (22 AWG), a pitch (F4,
// F4 -10 cents, 349.2 Hz), a duration (1 h 30 min). The error is an *Error.
func Parse(text string, s Style) (Entered, error) {
	if e, ok := quick(text, s); ok {
		return e, nil
	}
	p := &parser{src: []rune(text), style: s}
	p.blanks()
	l, err := p.loose()
	if err != nil {
		return Entered{}, err
	}
	if err := p.end(); err != nil {
		return Entered{}, err
	}
	return p.entered(l)
}

// ParseAny reads a value whose unit tells its kind; a number without one is a
// ratio. The error is that of the kind the text comes closest to.
func ParseAny(text string, s Style) (Entered, error) {
	var best *Error
	for _, k := range []Kind{Length, Mass, Force, Angle, Time, Temperature, Pitch, Interval, Frequency, Ratio, Density} {
		s.Want = k
		e, err := Parse(text, s)
		if err == nil {
			return e, nil
		}
		if q, ok := err.(*Error); ok && (best == nil || q.From > best.From) {
			best = q
		}
	}
	return Entered{}, best
}

// ParseMany reads repeats on one line, separated by blanks or semicolons. A
// whole number followed by a fraction is one number: "1 1/8 in" is one value;
// so is a time in parts: "1 h 30 min". A unit typed once, after the last
// number, holds for the bare ones before it. The error is an *Error.
func ParseMany(line string, s Style) ([]Entered, error) {
	if e, ok := quick(line, s); ok {
		return []Entered{e}, nil
	}
	p := &parser{src: []rune(line), style: s, many: true}
	var ls []*loose
	for {
		p.blanks()
		for p.peek() == ';' {
			p.at++
			p.blanks()
		}
		if p.at == len(p.src) {
			break
		}
		l, err := p.loose()
		if err != nil {
			return nil, err
		}
		if r := p.peek(); p.at < len(p.src) && r != ';' && !isBlank(r) {
			return nil, p.trailing()
		}
		ls = append(ls, l)
	}
	if len(ls) == 0 {
		return nil, p.nothing()
	}
	last := ls[len(ls)-1]
	out := make([]Entered, 0, len(ls))
	for _, l := range ls {
		shared := l.unit.IsZero() && l.whole == nil && !last.unit.IsZero()
		if shared {
			l.unit = last.unit
		}
		e, err := p.entered(l)
		if err != nil {
			return nil, err
		}
		e.Bare = e.Bare || shared
		out = append(out, e)
	}
	return out, nil
}

// entered settles a number and rounds it.
func (p *parser) entered(l *loose) (Entered, error) {
	t, err := p.settle(l)
	if err != nil {
		return Entered{}, err
	}
	q, ok := round(t.exact)
	if !ok {
		return Entered{}, tooLarge(t)
	}
	return Entered{
		Text:  strings.TrimSpace(string(p.src[l.from:l.to])),
		Unit:  t.unit,
		Bare:  t.bare,
		Step:  t.steps(),
		Value: Value{p.style.Want, q},
	}, nil
}

func tooLarge(t *term) *Error { return fault(t.from, t.to, "", "this number is too large") }

var pow10 = [...]uint64{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9}

// quick reads the plain case, digits with at most one point or comma and a
// known unit, without allocating. It refuses what it is not sure of.
func quick(text string, s Style) (Entered, bool) {
	var m uint64
	decimals, seen, digits, i := 0, false, 0, 0
	for ; i < len(text); i++ {
		c := text[i]
		if c >= '0' && c <= '9' {
			if digits++; digits > 15 {
				return Entered{}, false
			}
			m = m*10 + uint64(c-'0')
			if seen {
				decimals++
			}
			continue
		}
		if (c == '.' || c == ',' && !s.Point) && !seen && digits > 0 {
			seen = true
			continue
		}
		break
	}
	if digits == 0 || seen && decimals == 0 || decimals > 9 {
		return Entered{}, false
	}
	rest := i
	for rest < len(text) && text[rest] == ' ' {
		rest++
	}
	u, bare := s.Bare, rest == len(text)
	if !bare {
		d, ok := unitByName[text[rest:]]
		if !ok {
			return Entered{}, false
		}
		u = Unit{d}
	} else if rest != i {
		return Entered{}, false
	}
	if u.d == nil || u.d.num == 0 || !accepts(s.Want, u.d.kind) {
		return Entered{}, false
	}
	if s.Want == Count && decimals > 0 {
		return Entered{}, false
	}
	den := pow10[decimals] * uint64(u.d.den)
	q, ok := mulDiv(m, uint64(u.d.num), den)
	if !ok {
		return Entered{}, false
	}
	step, ok := mulDiv(1, uint64(u.d.num), den)
	if !ok {
		return Entered{}, false
	}
	if s.Want.Point {
		q += u.d.off
	}
	if q > largest {
		return Entered{}, false
	}
	return Entered{Text: text, Unit: u, Bare: bare, Step: max(step, 1), Value: Value{s.Want, q}}, true
}

// mulDiv is a·b/c to the nearest whole number, halves up.
func mulDiv(a, b, c uint64) (int64, bool) {
	hi, lo := bits.Mul64(a, b)
	if hi >= c {
		return 0, false
	}
	q, r := bits.Div64(hi, lo, c)
	if q > largest {
		return 0, false
	}
	if r >= c-r {
		q++
	}
	return int64(q), q <= largest
}

// round is the nearest whole number, halves up: monotone, which is what keeps
// an inside reading inside.
func round(r *big.Rat) (int64, bool) {
	n := new(big.Int).Lsh(r.Num(), 1)
	n.Add(n, r.Denom())
	d := new(big.Int).Lsh(r.Denom(), 1)
	n.Div(n, d) // Euclidean, and d > 0: floor
	if !n.IsInt64() || n.Int64() > largest || n.Int64() < -largest {
		return 0, false
	}
	return n.Int64(), true
}
