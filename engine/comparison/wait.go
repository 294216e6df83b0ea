package comparison

import (
	"strings"

	"canewright/engine/quantity"
	"canewright/engine/recipe"
)

// waits side by side: at least and at most are limits, usual is what is aimed
// at. A wait that gives only the usual time allows no other.
func (c *Comparison) waits(x, y *recipe.Stage) *Row {
	if x.Wait == nil && y.Wait == nil {
		return nil
	}
	r := &Row{Name: "wait", Title: x.Name, unit: quantity.Unit{}, slotA: -1, slotB: -1}
	if x.Wait != nil {
		r.A = waitSays(x.Wait)
	}
	if y.Wait != nil {
		r.B = waitSays(y.Wait)
	}
	switch {
	case r.B == nil:
		r.Class = OnlyA
	case r.A == nil:
		r.Class = OnlyB
	case !r.A.band.middle.Set && !r.B.band.middle.Set:
		if r.Class = Same; x.Wait.Until != y.Wait.Until {
			r.Class, r.Why = NotComparable, "both last until something is seen"
		}
		return r
	case !r.A.band.middle.Set || !r.B.band.middle.Set:
		r.Class, r.Why = NotComparable, "one says how long, the other until when"
		return r
	default:
		r.judge()
	}
	return r
}

func waitSays(w *recipe.Wait) *Says {
	s := &Says{Because: w.Because, band: band{kind: quantity.Time}}
	var parts []string
	set := func(lead, text string, ms int64, to *quantity.Bound, step *int64) {
		if text == "" {
			return
		}
		parts = append(parts, lead+text)
		*to = quantity.Bound{Q: ms, Set: true}
		if e, err := quantity.Parse(text, quantity.Style{Want: quantity.Time}); err == nil {
			*step = e.Step
		}
	}
	if w.Until != "" {
		parts = append(parts, "until "+w.Until)
	}
	b := &s.band
	set("at least ", w.LeastText, w.Least, &b.low, &b.steps.Low)
	set("usually ", w.UsualText, w.Usual, &b.middle, &b.steps.Nominal)
	set("at most ", w.MostText, w.Most, &b.high, &b.steps.High)
	if b.middle.Set && !b.low.Set && !b.high.Set {
		b.low, b.high = b.middle, b.middle
		b.steps.Low, b.steps.High = b.steps.Nominal, b.steps.Nominal
	}
	if !b.middle.Set {
		b.steps.Nominal = max(b.steps.Low, b.steps.High)
	}
	b.aim()
	s.Written = strings.Join(parts, ", ")
	return s
}
