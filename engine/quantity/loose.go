package quantity

import (
	"math"
	"math/big"
)

// loose is a number whose unit may still come from another one.
type loose struct {
	num, step *big.Rat
	whole     *term // a pitch written as a note: complete already
	unit      Unit
	from, to  int
}

// unitFrom takes over the unit of o where l has none.
func (l *loose) unitFrom(o *loose) {
	if l.unit.IsZero() && l.whole == nil {
		l.unit = o.unit
	}
}

// term is a value before rounding: exact quanta where the unit is a multiple,
// else whole ones.
type term struct {
	exact    *big.Rat // quanta, with a point's zero added
	unit     Unit
	bare     bool
	step     *big.Rat // nil: cannot be told
	from, to int
}

// steps is the step in quanta, at least one; 0 when it cannot be told.
func (t *term) steps() int64 {
	if t.step == nil {
		return 0
	}
	n, ok := round(t.step)
	if !ok {
		return 0
	}
	return max(n, 1)
}

// loose reads a number and the unit behind it, if there is one.
func (p *parser) loose() (*loose, error) {
	start := p.at
	if p.style.Want == Pitch {
		if t, err, ok := p.note(); ok {
			if err != nil {
				return nil, err
			}
			return &loose{whole: t, from: t.from, to: t.to}, nil
		}
	}
	n, step, err := p.number()
	if err != nil {
		return nil, err
	}
	u, err := p.unit()
	if err != nil {
		return nil, err
	}
	l := &loose{num: n, step: step, unit: u, from: start, to: p.at}
	if p.style.Want == Time {
		if err := p.parts(l); err != nil {
			return nil, err
		}
	}
	return l, nil
}

// parts adds the shorter parts of a time: "1 h 30 min" is 90 min.
func (p *parser) parts(l *loose) error {
	for l.unit.d != nil && l.unit.d.kind == Time {
		save := p.at
		p.blanks()
		if !isDigit(p.peek()) {
			p.at = save
			return nil
		}
		n, step, err := p.number()
		if err != nil {
			return err
		}
		u, err := p.unit()
		if err != nil {
			return err
		}
		if u.IsZero() || u.d.kind != Time || p.many && u.d.num >= l.unit.d.num {
			p.at = save
			return nil
		}
		if u.d.num >= l.unit.d.num {
			return fault(l.from, p.at, "write the longer unit first: 1 h 30 min", "these parts of a time are the wrong way round")
		}
		l.num = new(big.Rat).Mul(l.num, big.NewRat(l.unit.d.num, u.d.num))
		if p.src[l.from] == '-' || p.src[l.from] == '−' {
			n.Neg(n)
		}
		l.num.Add(l.num, n)
		l.unit, l.step, l.to = u, step, p.at
	}
	return nil
}

// settle gives a loose number its unit and its quanta of the wanted kind.
func (p *parser) settle(l *loose) (*term, error) {
	if l.whole != nil {
		return l.whole, nil
	}
	want := p.style.Want
	t := &term{unit: l.unit, from: l.from, to: l.to}
	if t.unit.IsZero() {
		t.bare = true
		if t.unit = p.style.Bare; t.unit.IsZero() {
			t.unit = Bare(want)
		}
		if t.unit.IsZero() {
			return nil, fault(l.from, l.to, "write the unit, as in "+example(want), "this number has no unit")
		}
	}
	u := t.unit
	if want == Pitch && u.d.kind == Frequency {
		return p.hertz(t, l.num, l.step)
	}
	if !accepts(want, u.d.kind) {
		return nil, fault(l.from, l.to, "write it as in "+example(want), "%s is %s, and %s is wanted here", unitShown(u), aKind(u.d.kind), aKind(want))
	}
	if want == Count && !l.num.IsInt() {
		return nil, fault(l.from, l.to, "", "a count is a whole number")
	}
	if u.d.num == 0 {
		return p.gauge(t, l)
	}
	t.exact = new(big.Rat).Mul(l.num, u.Quanta())
	if want.Point {
		t.exact.Add(t.exact, big.NewRat(u.d.off, 1))
	}
	if l.step != nil {
		t.step = new(big.Rat).Mul(l.step, u.Quanta())
		if !t.step.IsInt() && t.step.Cmp(big.NewRat(finestUneven, 1)) < 0 && isPart(l.step) {
			return nil, fault(l.from, l.to, "write a decimal", "a fraction of %s as fine as this is not read here", unitShown(u))
		}
	}
	return t, nil
}

// gauge is a wire gauge in whole quanta; it has no step.
func (p *parser) gauge(t *term, l *loose) (*term, error) {
	if !l.num.IsInt() || l.num.Sign() < 0 || l.num.Cmp(big.NewRat(thinnest, 1)) > 0 {
		return nil, fault(l.from, l.to, "", "a wire gauge is a whole number from 0 to %d", thinnest)
	}
	if l.from+1 < len(p.src) && p.src[l.from] == '0' && isDigit(p.src[l.from+1]) {
		return nil, fault(l.from, l.to, "write the diameter in mm or in", "wire thicker than gauge 0 is not known here") // 00 is thicker than 0
	}
	t.exact = big.NewRat(gaugeQuanta(l.num.Num().Int64()), 1)
	return t, nil
}

// thinnest is the last gauge ASTM B258 tabulates that a maker could meet.
const thinnest = 40

// gaugeQuanta is the diameter of wire of gauge g to the nearest nm: ASTM B258,
// d = 0.127 mm × 92^((36-g)/39).
func gaugeQuanta(g int64) int64 {
	return int64(math.Round(127000 * math.Pow(92, (36-float64(g))/39)))
}

func unitShown(u Unit) string {
	if u.Name() == "" {
		return "a bare number"
	}
	return u.Name()
}

// finestUneven: a part of a unit that is no whole number of quanta, and fewer
// than these, would be mistaken for a decimal place once it is rounded
// (1/33 µm is 30 nm).
const finestUneven = 100

// isPart tells the step of a fraction from that of a decimal, whose denominator
// is a power of ten.
func isPart(step *big.Rat) bool {
	d := new(big.Int).Set(step.Denom())
	ten, rest := big.NewInt(10), new(big.Int)
	for d.Cmp(ten) >= 0 {
		if d.QuoRem(d, ten, rest); rest.Sign() != 0 {
			return true
		}
	}
	return d.Cmp(big.NewInt(1)) != 0
}
