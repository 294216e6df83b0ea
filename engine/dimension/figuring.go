package dimension

import (
	"fmt"
	"math"
	"slices"

	"canewright/engine/diagnostic"
	"canewright/engine/formula"
	"canewright/engine/quantity"
)

// Each value of figuring.known.
const (
	unseen byte = iota
	underway
	known
	unknown
)

type figuring struct {
	set   *Set
	own   map[string]quantity.Entered
	slots []float64
	known []byte
	used  map[int]Used     // by slot: numbers that were looked up
	drawn map[int]bool     // slots of what is drawn
	names map[int][]string // by slot without a number: why
	sides []*gathering     // of the parts
}

// value fills a slot; false where there is no number.
func (w *figuring) value(slot int) bool {
	if w.known[slot] == unseen {
		w.known[slot] = underway
		if w.known[slot] = unknown; w.fill(slot) {
			w.known[slot] = known
		}
	}
	return w.known[slot] == known
}

func (w *figuring) fill(slot int) bool {
	s, u := w.set, Used{}
	var plausible quantity.Tolerance
	if slot < len(s.Dimensions) {
		d := &s.Dimensions[slot]
		if d.Formula != "" {
			n, _, lacks, err := w.number(d.Formula, scope{s})
			if err != nil || len(lacks) > 0 {
				return false
			}
			w.slots[slot] = n
			return true
		}
		u.Name, u.Title, u.Kind, plausible = d.Name, d.Title, d.Kind, d.Plausible
	} else {
		v := &s.Outline.Values[slot-len(s.Dimensions)]
		u.Name, u.Title, u.Kind = v.Name, v.Title, quantity.Length
	}
	usual := slices.IndexFunc(s.Outline.Values, func(v OutlineValue) bool { return v.Name == u.Name })
	if e, ok := w.own[u.Name]; ok {
		u.Basis, u.Q, u.Text = BasisChosen, e.Value.Q, e.String()
	} else if usual >= 0 {
		v := &s.Outline.Values[usual]
		u.Basis, u.Q, u.Text, u.Source = BasisUsual, v.Q, v.Text, v.Source
	} else if plausible.Low.Set && plausible.High.Set {
		u.Basis, u.Q = BasisMiddle, plausible.Low.Q+(plausible.High.Q-plausible.Low.Q)/2
		u.Text = quantity.Format(quantity.Value{Kind: u.Kind, Q: u.Q}, quantity.Unit{}, 0)
		if u.Kind == quantity.Length {
			u.Text = quantity.Format(quantity.Value{Kind: u.Kind, Q: u.Q}, quantity.Main(u.Kind), 0)
		}
	} else {
		return false
	}
	w.used[slot] = u
	w.slots[slot] = quantity.Value{Kind: u.Kind, Q: u.Q}.Float()
	return true
}

// number works a formula out. needs are the slots it reads, lacks the names that
// have no number.
func (w *figuring) number(text string, in formula.Scope) (n float64, needs []int, lacks []string, err error) {
	f, found := formula.Compile(diagnostic.Plain("outline", text), in)
	if f == nil || f.Truth() {
		return 0, nil, nil, fmt.Errorf("read the formula %q of the outline: %v", text, found.Sorted())
	}
	needs = f.Needs()
	for _, slot := range needs {
		if !w.value(slot) {
			lacks = joined(lacks, w.without(slot))
		}
	}
	if len(lacks) > 0 {
		return 0, needs, lacks, nil
	}
	n, err = f.Number(w.slots)
	return n, needs, nil, err
}

// without is the names that keep a slot from having a number: what a player can
// say one for.
func (w *figuring) without(slot int) []string {
	if names, done := w.names[slot]; done {
		return names
	}
	w.names[slot] = nil
	d := &w.set.Dimensions[slot] // words of the outline's own always have one
	names := []string{d.Name}
	if d.Formula != "" {
		if _, _, lacks, err := w.number(d.Formula, scope{w.set}); err == nil && len(lacks) > 0 {
			names = lacks
		}
	}
	w.names[slot] = names
	return names
}

// keepSides: the side is drawn when every part of it is known.
func (w *figuring) keepSides(f *Figure) {
	for _, p := range f.Parts {
		if p.Points[0].Deep < 0 {
			return
		}
	}
	for _, g := range w.sides {
		g.keep()
	}
}

// gathering collects the numbers of one thing.
type gathering struct {
	w     *figuring
	slots []int
	lacks []string
	err   error
}

// keep: the thing is drawn.
func (g *gathering) keep() {
	for _, slot := range g.slots {
		g.w.keep(slot)
	}
}

// rests are the names of the numbers behind the thing, in the set's order.
func (g *gathering) rests() []string {
	behind := map[int]bool{}
	for _, slot := range g.slots {
		g.w.behind(slot, behind)
	}
	var out []string
	for slot := range g.w.slots {
		if u, typed := g.w.used[slot]; typed && behind[slot] {
			out = append(out, u.Name)
		}
	}
	return out
}

// behind collects a slot, which has a number, and all it is worked out from.
func (w *figuring) behind(slot int, into map[int]bool) {
	if into[slot] {
		return
	}
	into[slot] = true
	if _, typed := w.used[slot]; typed {
		return
	}
	f, _ := formula.Compile(diagnostic.Plain("outline", w.set.Dimensions[slot].Formula), scope{w.set})
	for _, more := range f.Needs() {
		w.behind(more, into)
	}
}

// keep the numbers behind a slot, which has one.
func (w *figuring) keep(slot int) {
	w.behind(slot, w.drawn)
}

// number of a formula; 0 where that is not known, and lacks or err says so.
func (g *gathering) number(text string) float64 {
	if g.err != nil {
		return 0
	}
	n, needs, lacks, err := g.w.number(text, outlineScope{scope{g.w.set}})
	if err != nil {
		g.err = err
		return 0
	}
	g.slots = append(g.slots, needs...)
	g.lacks = joined(g.lacks, lacks)
	return n
}

func (g *gathering) length(text string) int64 {
	n := math.Round(g.number(text))
	if g.err == nil && math.Abs(n) > largestDrawn {
		g.err = fmt.Errorf("%s is %s: longer than can be drawn", text, drawnLength(int64(n)))
	}
	return int64(n)
}

// joined adds what is not there yet.
func joined(all, more []string) []string {
	for _, m := range more {
		if !slices.Contains(all, m) {
			all = append(all, m)
		}
	}
	return all
}
