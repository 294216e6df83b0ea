package formula

import "slices"

// Sum is a formula that only adds and takes away: a constant and, for each slot
// it reads, how often its value is added. In products of base quanta.
type Sum struct {
	Constant float64
	Slots    []int // ascending
	Factors  []float64
}

// Factor is how often the value of a slot is added; 0 where it is not read.
func (s Sum) Factor(slot int) float64 {
	if i, ok := slices.BinarySearch(s.Slots, slot); ok {
		return s.Factors[i]
	}
	return 0
}

// Sum is the number of the formula as a sum. False where it is none: a product
// of two readings, a quotient, a function, a choice.
func (f *Formula) Sum() (Sum, bool) {
	if f.truth {
		return Sum{}, false
	}
	return f.value.sum(f.needs)
}

// MarginSum is how far a yes-or-no formula is from failing, as a sum: not
// below nought where the formula holds. False also where it has no such number.
// A formula that fails at its limit is among them; its sum is then above nought.
func (f *Formula) MarginSum() (Sum, bool) {
	if f.margin == nil {
		return Sum{}, false
	}
	return f.margin.sum(f.needs)
}

func (p *program) sum(needs []int) (Sum, bool) {
	type terms struct {
		constant float64
		factors  []float64 // by place in needs; nil: a constant
	}
	scaled := func(t terms, by float64) terms {
		out := terms{constant: t.constant * by}
		for _, f := range t.factors {
			out.factors = append(out.factors, f*by)
		}
		return out
	}
	done := make([]terms, len(p.steps))
	for i := range p.steps {
		s := &p.steps[i]
		switch s.do {
		case put:
			done[i] = terms{constant: s.x}
		case load:
			t := terms{factors: make([]float64, len(needs))}
			t.factors[s.a] = 1
			done[i] = t
		case negate:
			done[i] = scaled(done[s.a], -1)
		case add, subtract:
			way := 1.0
			if s.do == subtract {
				way = -1
			}
			a, b := done[s.a], scaled(done[s.b], way)
			t := terms{constant: a.constant + b.constant}
			if a.factors != nil || b.factors != nil {
				t.factors = make([]float64, len(needs))
				for k := range t.factors {
					if a.factors != nil {
						t.factors[k] += a.factors[k]
					}
					if b.factors != nil {
						t.factors[k] += b.factors[k]
					}
				}
			}
			done[i] = t
		case multiply:
			a, b := done[s.a], done[s.b]
			switch {
			case a.factors == nil:
				done[i] = scaled(b, a.constant)
			case b.factors == nil:
				done[i] = scaled(a, b.constant)
			default:
				return Sum{}, false
			}
		default:
			return Sum{}, false
		}
	}
	t := done[len(done)-1]
	out := Sum{Constant: t.constant}
	for k, f := range t.factors {
		if f != 0 {
			out.Slots, out.Factors = append(out.Slots, needs[k]), append(out.Factors, f)
		}
	}
	return out, true
}
