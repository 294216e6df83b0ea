package formula

import (
	"cmp"
	"math"
	"slices"
)

// Proof is what is known of a yes-or-no formula whose values lie in ranges.
type Proof int8

const (
	Unproved Proof = iota // it may hold for some values and fail for others
	Always                // it holds
	Never                 // it fails
)

func (p Proof) String() string {
	switch p {
	case Always:
		return "always true"
	case Never:
		return "never true"
	}
	return "not proved"
}

// Ranges gives what the value of a slot lies in, both ends included, in
// products of base quanta. False: nothing is known of it.
type Ranges func(slot int) (Interval, bool)

// Claim says that a formula's value lies in an interval; of a yes-or-no
// formula, yes is 1 and no is 0.
type Claim struct {
	Formula *Formula
	Value   Interval
}

// Yes and No are claims about a yes-or-no formula.
func (f *Formula) Yes() Claim { return Claim{f, Interval{1, 1}} }

// No is the claim that the formula fails.
func (f *Formula) No() Claim { return Claim{f, Interval{0, 0}} }

// What a search may cost: boxes looked at, steps worked out in them, and slots
// whose ranges are cut.
const (
	mostBoxes   = 2000
	mostWorked  = 40_000
	mostCut     = 3
	mostRefined = 256 // boxes for the range of a number
)

// Prove says whether a yes-or-no formula always holds, or never, wherever it
// can be worked out. It never says what it has not proved. Where a slot stands
// more than once, its range is cut into pieces, as far as the work is bounded.
func (f *Formula) Prove(of Ranges) Proof {
	if !f.truth {
		return Unproved
	}
	if newSearch(of, f.No()).run(true) == impossible {
		return Always
	}
	if newSearch(of, f.Yes()).run(true) == impossible {
		return Never
	}
	return Unproved
}

// Range is what the number of a formula lies in, wherever it can be worked
// out; not always the narrowest. Of a yes-or-no formula yes is 1 and no is 0.
func (f *Formula) Range(of Ranges) Interval {
	s := newSearch(of, Claim{f, Everything()})
	boxes := [][]Interval{s.box}
	for len(boxes) < mostRefined && len(boxes)*len(f.value.steps) < mostWorked {
		var next [][]Interval
		for _, b := range boxes {
			i := s.widest(b, true)
			if i < 0 {
				break
			}
			low, high := halves(b, i)
			next = append(next, low, high)
		}
		if next == nil {
			break
		}
		boxes = next
	}
	out := Interval{math.Inf(1), math.Inf(-1)}
	for _, b := range boxes {
		out = out.hull(s.claims[0].over(b))
	}
	return out
}

// Example finds values within the ranges for which all claims are true, by
// slot; false where none was found, which proves nothing. Only values that read
// gives back are looked at: it rounds one to what can be read.
func Example(of Ranges, read func(slot int, v float64) float64, claims ...Claim) (map[int]float64, bool) {
	s := newSearch(of, claims...)
	s.read = read
	if s.run(false) != found {
		return nil, false
	}
	out := make(map[int]float64, len(s.slots))
	for i, slot := range s.slots {
		out[slot] = s.at[i]
	}
	return out, true
}

type result int8

const (
	unknown    result = iota
	found             // at holds an example
	impossible        // no values make the claims true
)

// search looks through the box of the ranges, cutting it.
type search struct {
	slots  []int
	box    []Interval // by place in slots
	full   []Interval // as it was at first
	loads  []int      // how often each is read
	claims []*claimed
	at     []float64
	read   func(slot int, v float64) float64 // nil: every value can be read
	worked int
}

// claimed is a claim ready to be worked out.
type claimed struct {
	Claim
	places []int // of its needs in the search's slots
	values []Interval
	in     []Interval
	point  []float64
}

func newSearch(of Ranges, claims ...Claim) *search {
	s := &search{}
	for _, c := range claims {
		s.slots = append(s.slots, c.Formula.needs...)
	}
	slices.Sort(s.slots)
	s.slots = slices.Compact(s.slots)
	s.loads, s.at = make([]int, len(s.slots)), make([]float64, len(s.slots))
	for _, slot := range s.slots {
		v, ok := of(slot)
		if !ok || !(v.Low <= v.High) || math.IsInf(v.Low, 1) || math.IsInf(v.High, -1) {
			v = Everything()
		}
		s.box = append(s.box, v)
	}
	s.full = s.box
	for _, c := range claims {
		n := len(c.Formula.needs)
		w := &claimed{Claim: c, values: make([]Interval, len(c.Formula.value.steps)), in: make([]Interval, n), point: make([]float64, n)}
		for _, slot := range c.Formula.needs {
			w.places = append(w.places, int(place(s.slots, slot)))
		}
		for _, x := range c.Formula.value.steps {
			if x.do == load {
				s.loads[w.places[x.a]]++
			}
		}
		s.claims = append(s.claims, w)
	}
	return s
}

// run looks for an example, or that there is none. With proving only the
// ranges of slots that stand more than once are cut: the bounds of the others
// are as narrow as can be.
func (s *search) run(proving bool) result {
	out := impossible
	open := [][]Interval{s.box}
	for n := 0; len(open) > 0; n++ {
		b := open[len(open)-1]
		open = open[:len(open)-1]
		if !s.possible(b) {
			continue
		}
		if s.example(b) {
			return found
		}
		if n >= mostBoxes || s.worked >= mostWorked {
			return unknown
		}
		i := s.widest(b, proving)
		switch {
		case i >= 0:
			low, high := halves(b, i)
			open = append(open, high, low)
		case proving:
			return unknown
		default:
			out = unknown
		}
	}
	return out
}

// possible is false where a claim is true of nothing in the box.
func (s *search) possible(b []Interval) bool {
	for _, c := range s.claims {
		s.worked += len(c.values)
		if !c.over(b).meets(c.Value) {
			return false
		}
	}
	return true
}

// example tries the ends and the middle of a box.
func (s *search) example(b []Interval) bool {
	for _, pick := range [3]func(Interval) float64{middle, func(v Interval) float64 { return v.Low }, func(v Interval) float64 { return v.High }} {
		for i, v := range b {
			s.at[i] = pick(v)
			if s.read != nil && !math.IsInf(s.at[i], 0) {
				s.at[i] = s.read(s.slots[i], s.at[i])
			}
		}
		if s.allTrue() {
			return true
		}
	}
	return false
}

func (s *search) allTrue() bool {
	for _, c := range s.claims {
		for i, p := range c.places {
			if v := s.at[p]; v-v != 0 {
				return false
			} else {
				c.point[i] = v
			}
		}
		s.worked += len(c.values)
		v, err := c.Formula.value.run(c.point)
		if err != nil || v-v != 0 || !c.Value.holds(v) {
			return false
		}
	}
	return true
}

// widest is the slot whose range is cut next, or -1: of the few that stand most
// often, the one that was cut least.
func (s *search) widest(b []Interval, repeated bool) int {
	var few []int
	for i, v := range b {
		m := middle(v)
		if s.full[i].point() || math.IsInf(v.Low, 0) || math.IsInf(v.High, 0) || repeated && s.loads[i] < 2 || m <= v.Low || m >= v.High {
			continue
		}
		few = append(few, i)
	}
	slices.SortStableFunc(few, func(i, j int) int { return cmp.Compare(s.loads[j], s.loads[i]) })
	few = few[:min(len(few), mostCut)]
	if len(few) == 0 {
		return -1
	}
	return slices.MaxFunc(few, func(i, j int) int { return cmp.Compare(s.share(b, i), s.share(b, j)) })
}

func (s *search) share(b []Interval, i int) float64 {
	return (b[i].High/2 - b[i].Low/2) / (s.full[i].High/2 - s.full[i].Low/2)
}

// middle is a whole number of quanta where the interval is wide enough.
func middle(v Interval) float64 {
	switch {
	case math.IsInf(v.Low, 0) && math.IsInf(v.High, 0):
		return 0
	case math.IsInf(v.Low, 0):
		return v.High
	case math.IsInf(v.High, 0):
		return v.Low
	}
	m := v.Low/2 + v.High/2
	if r := math.Round(m); v.Low < r && r < v.High {
		return r
	}
	return m
}

func halves(b []Interval, i int) (low, high []Interval) {
	low, high = slices.Clone(b), slices.Clone(b)
	m := middle(b[i])
	low[i].High, high[i].Low = m, m
	return low, high
}

// over bounds the claim's formula where its values lie in the box.
func (c *claimed) over(b []Interval) Interval {
	for i, p := range c.places {
		c.in[i] = b[p]
	}
	return c.Formula.value.over(c.in, c.values)
}

// over is run for intervals: every value that run can give for values in them
// lies in the result. The steps stand in order, so one turn is enough. out has
// room for every step.
func (p *program) over(in, out []Interval) Interval {
	for i := range p.steps {
		s := &p.steps[i]
		switch s.do {
		case put:
			out[i] = Interval{s.x, s.x}
		case load:
			out[i] = in[s.a]
		case negate:
			out[i] = out[s.a].negative()
		case add:
			out[i] = out[s.a].plus(out[s.b])
		case subtract:
			out[i] = out[s.a].plus(out[s.b].negative())
		case multiply:
			out[i] = out[s.a].times(out[s.b])
		case divide:
			out[i] = out[s.a].over(out[s.b])
		case absolute:
			out[i] = out[s.a].abs()
		case smaller, both:
			out[i] = Interval{min(out[s.a].Low, out[s.b].Low), min(out[s.a].High, out[s.b].High)}
		case larger, either:
			out[i] = Interval{max(out[s.a].Low, out[s.b].Low), max(out[s.a].High, out[s.b].High)}
		case below, atMost, above, atLeast:
			out[i] = s.compared(out[s.a], out[s.b])
		case opposite:
			out[i] = Interval{1 - out[s.a].High, 1 - out[s.a].Low}
		case choose:
			switch test := out[s.a]; {
			case test.Low == 1:
				out[i] = out[s.b]
			case test.High == 0:
				out[i] = out[s.c]
			default:
				out[i] = out[s.b].hull(out[s.c])
			}
		case call:
			out[i] = p.called(s, out)
		}
	}
	return out[len(p.steps)-1]
}

// compared: the difference of two float64 has the sign of the true one, and
// rounding keeps the order, so its ends need no widening.
func (s *step) compared(a, b Interval) Interval {
	low, high := a.Low-b.High, a.High-b.Low
	least, most := s.x, s.x
	if s.y > 0 {
		least = max(least, s.y*max(a.nearest(), b.nearest()))
		most = max(most, s.y*max(a.farthest(), b.farthest()))
	}
	var yes, no bool
	switch s.do {
	case below:
		yes, no = high < -most, low >= -least
	case atMost:
		yes, no = high <= least, low > most
	case above:
		yes, no = low > most, high <= least
	case atLeast:
		yes, no = low >= -least, high < -most
	}
	switch {
	case yes:
		return Interval{1, 1}
	case no:
		return Interval{0, 0}
	}
	return Interval{0, 1}
}

// called: of a function nothing is known but what it gives for given numbers.
func (p *program) called(s *step, out []Interval) Interval {
	args := make([]float64, 0, s.c-s.b)
	for _, n := range p.args[s.b:s.c] {
		v := out[n]
		if !v.point() {
			return Everything()
		}
		args = append(args, v.Low)
	}
	v, err := p.calls[s.a].safely(args)
	if err != nil || v-v != 0 {
		return Everything()
	}
	return Interval{v, v}
}
