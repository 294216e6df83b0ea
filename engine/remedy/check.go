package remedy

import (
	"fmt"
	"math"
	"slices"

	"canewright/engine/formula"
	"canewright/engine/quantity"
	"canewright/engine/recipe"
)

// known is what is known of a reed, with all that is worked out filled in.
type known struct {
	b      *recipe.Bound
	values []float64
	known  []bool
	u      []float64
	limits []Limit
	above  []string
}

func newKnown(b *recipe.Bound, c Case) *known {
	n := len(b.Slots)
	k := &known{b: b, values: make([]float64, n), known: make([]bool, n), u: make([]float64, n), limits: c.Lower, above: c.Over}
	for i := range n {
		if i < len(c.Values) && i < len(c.Known) && c.Known[i] && !math.IsNaN(c.Values[i]) && !math.IsInf(c.Values[i], 0) {
			k.values[i], k.known[i] = c.Values[i], true
		}
		if k.known[i] && i < len(c.U) && c.U[i] > 0 && !math.IsInf(c.U[i], 0) {
			k.u[i] = c.U[i]
		}
	}
	for _, s := range b.Settings { // a setting is always known
		k.values[s.Slot], k.known[s.Slot] = s.Value.Value.Float(), true
	}
	measured := slices.Clone(k.known)
	b.Work(k.values, k.known)
	// A derived dimension may rest on another, which may come later.
	for range b.Derived {
		again := false
		for _, d := range b.Derived {
			if measured[d.Slot] || !k.known[d.Slot] {
				continue
			}
			if u := k.spread(d.Formula.Number, d.Formula.Needs()); u != k.u[d.Slot] {
				k.u[d.Slot], again = u, true
			}
		}
		if !again {
			break
		}
	}
	return k
}

func (k *known) is(slot int) bool { return k.known[slot] }

// spread is the standard uncertainty of f (JCGM 100:2008, 5.1.2, with the
// inputs taken as independent; sensitivities by central differences over one
// standard uncertainty each way, 5.1.3 note 2).
func (k *known) spread(f func([]float64) (float64, error), needs []int) float64 {
	values := slices.Clone(k.values)
	sum := 0.0
	for _, i := range needs {
		if k.u[i] == 0 {
			continue
		}
		values[i] = k.values[i] + k.u[i]
		high, err := f(values)
		if err != nil {
			return 0
		}
		values[i] = k.values[i] - k.u[i]
		low, err := f(values)
		if err != nil {
			return 0
		}
		values[i] = k.values[i]
		sum += (high - low) * (high - low) / 4
	}
	return math.Sqrt(sum)
}

// check is what one formula of a remedy says.
type check struct {
	f     *formula.Formula
	known bool
	holds bool
	p     float64 // probability that it holds
	asks  []int   // slots to measure that are not known, or that make it unsure
	words string
}

// check works a formula out where all it reads is known.
func (k *known) check(f *formula.Formula) check {
	c := check{f: f}
	var have []string
	for _, n := range f.Needs() {
		if !k.known[n] {
			for _, m := range k.measurable(n, nil) {
				if !slices.Contains(c.asks, m) {
					c.asks = append(c.asks, m)
				}
			}
			continue
		}
		if !k.b.Slots[n].Setting {
			have = append(have, k.say(n))
		}
	}
	if len(c.asks) > 0 {
		var want []string
		for _, n := range c.asks {
			want = append(want, k.b.Slots[n].Title())
		}
		c.words = fmt.Sprintf("%s not measured (%s would tell)", join(want), f.Text())
		return c
	}
	holds, err := f.Holds(k.values)
	if err != nil {
		c.words = fmt.Sprintf("%s cannot be worked out", f.Text())
		return c
	}
	c.known, c.holds, c.p = true, holds, 0
	if holds {
		c.p = 1
	}
	margin := func(v []float64) (float64, error) {
		if m, ok := f.Margin(v); ok {
			return m, nil
		}
		return 0, fmt.Errorf("%q has no margin", f.Text())
	}
	if m, ok := f.Margin(k.values); ok {
		if u := k.spread(margin, f.Needs()); u > 0 {
			c.p = 0.5 * math.Erfc(-m/u/math.Sqrt2)
		}
	}
	sure := c.p
	if !holds {
		sure = 1 - c.p
	}
	how := ""
	if sure < 0.95 {
		how = fmt.Sprintf(", %.0f %% sure", 100*sure)
		for _, n := range f.Needs() {
			if k.u[n] > 0 {
				c.asks = append(c.asks, k.measurable(n, nil)...)
			}
		}
	}
	if holds {
		c.words = fmt.Sprintf("%s (%s%s)", join(have), f.Text(), how)
	} else {
		c.words = fmt.Sprintf("%s (not %s%s)", join(have), f.Text(), how)
	}
	return c
}

// measurable is what has to be measured for a slot: itself, or what it is
// worked out from. via keeps a circle from going round.
func (k *known) measurable(slot int, via []int) []int {
	for _, d := range k.b.Derived {
		if d.Slot != slot || slices.Contains(via, slot) {
			continue
		}
		var out []int
		for _, n := range d.Formula.Needs() {
			if !k.known[n] || k.known[slot] && k.u[n] > 0 {
				out = append(out, k.measurable(n, append(via, slot))...)
			}
		}
		return out
	}
	return []int{slot}
}

// say is a slot with its value, in the dimension's own unit, with no more
// digits than its uncertainty leaves.
func (k *known) say(slot int) string {
	s := &k.b.Slots[slot]
	kind := s.Dimension.Kind
	scale := kind.Scale() // 0 for a kind without a name, which no dimension has
	q := math.Round(k.values[slot] / scale)
	if scale == 0 || math.Abs(q) > 1<<53 {
		return s.Title()
	}
	step := int64(0)
	if u := k.u[slot] / scale; u >= 1 {
		step = int64(math.Pow(10, math.Floor(math.Log10(math.Min(u, 1e15)))))
	}
	return s.Title() + " " + quantity.Format(quantity.Value{Kind: kind, Q: int64(q)}, s.Dimension.Unit, step)
}

func millionths(x float64) int64 { return int64(math.Round(x * 1e6)) }
