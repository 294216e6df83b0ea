package recipe

import (
	"fmt"
	"math"
	"strings"

	"canewright/engine/diagnostic"
	"canewright/engine/formula"
	"canewright/engine/quantity"
)

// sums asks of every dimension that is worked out whether the targets of what
// it is worked out from can give it: its own target, or else its plausible
// range. A dimension set says by such dimensions that parts add up to a whole,
// and in which order things lie on the reed.
func (c *paperCheck) sums() {
	if len(c.Bound.Derived) == 0 {
		return
	}
	k := &sumCheck{paperCheck: c, inForce: map[int]*Target{}, at: make([]float64, len(c.Slots)), worked: map[int][]worked{}, said: map[int]bool{}}
	for _, d := range c.Bound.Derived {
		f := c.unfold(d.Formula)
		w := worked{d.Slot, f}
		k.worked[d.Slot] = append(k.worked[d.Slot], w)
		for _, n := range f.Needs() {
			k.worked[n] = append(k.worked[n], w)
		}
	}
	for i := 0; i < len(c.Aims); {
		stage := c.Aims[i].Stage
		var again []worked // what rests on a target that is set here
		once := map[int]bool{}
		for ; i < len(c.Aims) && c.Aims[i].Stage == stage; i++ {
			k.inForce[c.Aims[i].Slot] = c.Aims[i].Target
			for _, w := range k.worked[c.Aims[i].Slot] {
				if !once[w.slot] {
					once[w.slot] = true
					again = append(again, w)
				}
			}
		}
		for _, w := range again {
			if c.full() || k.done > mostProofs {
				return
			}
			k.check(w)
		}
	}
}

type worked struct {
	slot    int
	formula *formula.Formula
}

type sumCheck struct {
	*paperCheck
	inForce map[int]*Target
	worked  map[int][]worked // by what it rests on
	at      []float64
	said    map[int]bool // dimensions that were reported
	done    int
}

// wanted is what a dimension should come to, and whether it is exact enough to
// judge the numbers without their tolerances by: its own target, or a plausible
// range around nought, which is how a set says that the rest should be none.
func (k *sumCheck) wanted(slot int) (t quantity.Tolerance, exact, ok bool) {
	if own := k.inForce[slot]; own != nil {
		return own.Tolerance, true, true
	}
	t = plausibleOf(&k.Slots[slot])
	return t, t.Low.Set && t.High.Set && t.Low.Q == -t.High.Q, t.Low.Set || t.High.Set
}

func (k *sumCheck) check(w worked) {
	want, exact, ok := k.wanted(w.slot)
	if !ok || k.said[w.slot] {
		return
	}
	for _, n := range w.formula.Needs() {
		if !k.Slots[n].Setting && k.inForce[n] == nil {
			return
		}
	}
	k.done++
	got := k.lies(w, nil)
	if !(got.Low <= got.High) {
		return
	}
	wide := interval(want)
	gap := max(wide.Low-got.High, got.Low-wide.High)
	nominal, off, spread, plain := k.nominal(w, nil, want)
	d := &k.Slots[w.slot]
	kind := d.Dimension.Kind
	shown := func(v float64) string { return amount(kind, int64(math.Round(v/kind.Scale()))) }
	should := ", and " + d.Title() + " should be " + want.Limits()
	var message string
	switch {
	case gap > 0:
		number, _, _ := strings.Cut(shown(got.Low), " ")
		comes := number + " to " + shown(got.High)
		switch {
		case math.IsInf(got.Low, 0):
			comes = "at most " + shown(got.High)
		case math.IsInf(got.High, 0):
			comes = "at least " + shown(got.Low)
		case got.Low == got.High:
			comes = shown(got.Low)
		}
		by := " too little"
		if got.Low > wide.High {
			by = " too much"
		}
		if plain && got.Low != got.High {
			comes += ", " + shown(nominal) + " in the middle"
		}
		message = "the targets do not meet: " + w.formula.Text() + " comes to " + comes + should + ": at least " + shown(gap) + by
	case exact && plain && off > spread:
		message = "the targets hardly meet: " + w.formula.Text() + " comes to " + shown(nominal) + " with the numbers as they stand" + should
	default:
		return
	}
	k.said[w.slot] = true
	place, hint := k.mend(w, want)
	var related []diagnostic.Related
	for _, n := range w.formula.Needs() {
		if t := k.inForce[n]; t != nil && targetPlace(t).From != place.From {
			related = append(related, diagnostic.Related{Message: k.Slots[n].Name, Span: targetPlace(t)})
		}
	}
	if gap > 0 {
		k.warn("recipe/sum", place, hint, message, related...)
	} else {
		k.remark("recipe/sum", place, hint, message, related...)
	}
}

func interval(t quantity.Tolerance) formula.Interval {
	in := formula.Everything()
	if t.Low.Set {
		in.Low = quantity.Value{Kind: t.Kind, Q: t.Low.Q}.Float()
	}
	if t.High.Set {
		in.High = quantity.Value{Kind: t.Kind, Q: t.High.Q}.Float()
	}
	return in
}

// lies is what the dimension can come to; other takes the place of some
// targets.
func (k *sumCheck) lies(w worked, other map[int]quantity.Tolerance) formula.Interval {
	return w.formula.Range(func(slot int) (formula.Interval, bool) {
		if k.Slots[slot].Setting {
			v := k.setting(slot)
			return formula.Interval{Low: v, High: v}, true
		}
		return interval(k.target(slot, other)), true
	})
}

func (k *sumCheck) target(slot int, other map[int]quantity.Tolerance) quantity.Tolerance {
	if t, ok := other[slot]; ok {
		return t
	}
	return k.inForce[slot].Tolerance
}

func (c *paperCheck) setting(slot int) float64 {
	for _, s := range c.Settings {
		if s.Slot == slot {
			return s.Value.Value.Float()
		}
	}
	return 0
}

// nominal is what the numbers come to without their tolerances, how far off the
// wanted middle that is, and how far tolerances that are independent of each
// other would let it be: the root of the sum of their squares (JCGM 100:2008,
// 5.1.2, for sums). Of a dimension with one limit, off is how far beyond it.
// plain is false where that does not hold: a limit of a part is open, or it is
// no plain sum.
func (k *sumCheck) nominal(w worked, other map[int]quantity.Tolerance, want quantity.Tolerance) (value, off, spread float64, plain bool) {
	squares, all := 0.0, 0.0
	for _, n := range w.formula.Needs() {
		if k.Slots[n].Setting {
			k.at[n] = k.setting(n)
			continue
		}
		mid, half, ok := middle(k.target(n, other))
		if !ok {
			return 0, 0, 0, false
		}
		k.at[n] = mid
		squares += half * half
		all += half
	}
	value, err := w.formula.Number(k.at)
	if err != nil {
		return 0, 0, 0, false
	}
	mid, half, ok := middle(want)
	if !ok {
		wide := interval(want)
		return value, max(wide.Low-value, value-wide.High, 0), math.Sqrt(squares), true
	}
	in := k.lies(w, other)
	if math.Abs((in.High-in.Low)-2*all) > 1e-6*(1+all) {
		return value, 0, 0, false
	}
	return value, math.Abs(value - mid), math.Sqrt(squares + half*half), true
}

func middle(t quantity.Tolerance) (mid, half float64, ok bool) {
	if !t.Low.Set || !t.High.Set {
		return 0, 0, false
	}
	in := interval(t)
	mid, half = (in.Low+in.High)/2, (in.High-in.Low)/2
	if t.Nominal.Set {
		mid = quantity.Value{Kind: t.Kind, Q: t.Nominal.Q}.Float()
	}
	return mid, half, true
}

// mend looks for the one slip that would set the sum right: a misprint in one
// number, or two numbers that changed places. It says where to look.
func (k *sumCheck) mend(w worked, want quantity.Tolerance) (diagnostic.Span, string) {
	place := diagnostic.Span{}
	best, found := math.Inf(1), ""
	needs := w.formula.Needs()
	if t := k.inForce[w.slot]; t != nil {
		place = targetPlace(t)
	}
	try := func(other map[int]quantity.Tolerance, rank float64, at diagnostic.Span, text string) {
		if _, off, spread, plain := k.nominal(w, other, want); plain && off <= spread/2 && rank+off/(spread+1) < best {
			best, place, found = rank+off/(spread+1), at, text
		}
	}
	for i, n := range needs {
		t := k.inForce[n]
		if t == nil {
			continue
		}
		if place.Source == nil {
			place = targetPlace(t)
		}
		first, _, _ := quantity.Columns(t.raw.tolerance.Value)
		style := quantity.Style{Want: t.Tolerance.Kind, Point: t.raw.flow}
		printed, err := quantity.PrintedIn(first, style)
		if err != nil || len(printed) != 1 {
			continue
		}
		odd := printed[0].Odd()
		for r, s := range slips(printed[0].Text) {
			if s.guess {
				continue
			}
			text := string([]rune(first)[:printed[0].From]) + s.text + string([]rune(first)[printed[0].To:])
			tol, err := quantity.ParseTolerance(text, style)
			if err != nil {
				continue
			}
			rank := float64(10 + r) // a wrong fraction before any wrong digit
			if odd {
				rank = float64(r) / 10
			}
			try(map[int]quantity.Tolerance{n: tol}, rank, t.raw.tolerance.Span(printed[0].From, printed[0].To),
				fmt.Sprintf("%s for %s would mend it", s.text, clip(printed[0].Text)))
		}
		for _, m := range needs[i+1:] {
			if o := k.inForce[m]; o != nil && o.Tolerance.Kind == t.Tolerance.Kind {
				try(map[int]quantity.Tolerance{n: o.Tolerance, m: t.Tolerance}, 5, targetPlace(t),
					fmt.Sprintf("have %s and %s changed places?", k.Slots[n].Name, k.Slots[m].Name))
			}
		}
	}
	if found == "" {
		return place, "look at the numbers of " + strings.Join(k.namesOf(needs), ", ") + "; one that holds at another time belongs at the stage that measures it"
	}
	return place, found
}

func (c *paperCheck) namesOf(slots []int) []string {
	var out []string
	for _, n := range slots {
		out = append(out, c.Slots[n].Name)
	}
	return out
}
