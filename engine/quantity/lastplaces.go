package quantity

import "slices"

// LastPlaces is the last place each number of a tolerance was written to, in
// quanta: 0 where it cannot be told, as of a wire gauge, and where nothing was
// rounded: a count, a note. A number so printed may be half of it more or less
// (NIST SP 811, 2008, B.7): 1 1/16 in is printed to 1/16 in, and may be 1/32 in
// more or less.
type LastPlaces struct{ Nominal, Low, High int64 }

// LastPlaces tells it from the tolerance's text. A decimal or a whole number
// stands for as many places as its deviation has, for 27 ± 0.5 mm is 27.0 mm;
// a fraction stands for its own. A limit that is a sum has the places of both.
func (t Tolerance) LastPlaces() LastPlaces {
	p := &parser{src: []rune(t.Text), style: Style{Want: t.Kind, Bare: t.Unit}, target: true}
	if _, err := p.tolerance(t.Text); err != nil || t.Kind == Count {
		return LastPlaces{}
	}
	step := func(i int) int64 {
		if p.written[i].unit.Quanta() == nil {
			return 0
		}
		s := p.written[i].steps()
		if t.Kind == Pitch && s >= semitone {
			return 0 // a note's name is not rounded
		}
		return s
	}
	part := func(i int) bool {
		w := p.written[i]
		return slices.Contains(p.src[w.from:min(w.to, len(p.src))], '/')
	}
	finer := func(i int, others ...int) int64 {
		s := step(i)
		for _, o := range others {
			if d := step(o); d > 0 && d < s && !part(i) && p.written[o].exact.Sign() != 0 {
				s = d
			}
		}
		return s
	}
	switch {
	case len(p.written) == 3: // the number, what is added, what is taken off
		n := finer(0, 1, 2)
		dev := func(i int) int64 {
			if p.written[i].exact.Sign() == 0 {
				return 0 // +0.5 -0: nothing is taken off
			}
			return step(i)
		}
		return LastPlaces{n, n + dev(2), n + dev(1)}
	case len(p.written) == 2:
		low, high := finer(0, 1), finer(1, 0)
		return LastPlaces{(low + high) / 2, low, high}
	case len(p.written) == 1:
		n := step(0)
		return LastPlaces{n, n, n}
	}
	return LastPlaces{}
}
