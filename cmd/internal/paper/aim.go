package paper

import (
	"math"
	"slices"

	"canewright/engine/dimension"
	"canewright/engine/quantity"
	"canewright/engine/recipe"
)

// aim is a target as a place on a strip.
type aim struct {
	d    *dimension.Dimension
	t    quantity.Tolerance
	q    int64  // what is drawn
	how  string // "middle of it" where the target has no nominal
	from string // the stage that states it; "": before all stages
}

// aimsOf are the targets on lengths that a strip can show, in the recipe's
// order, each value once; one names those with a single limit.
func aimsOf(b *recipe.Bound) (all []aim, one []string) {
	for _, a := range b.Aims {
		d := b.Slots[a.Slot].Dimension
		if d == nil || d.Formula != "" || d.Grid != nil {
			continue
		}
		x := aim{d: d, t: a.Target.Tolerance}
		switch t := x.t; {
		case t.Nominal.Set:
			x.q = t.Nominal.Q
		case t.Low.Set && t.High.Set:
			x.q, x.how = t.Low.Q+(t.High.Q-t.Low.Q)/2, "the middle of its limits"
		default:
			if d.Kind == quantity.Length && !d.Across && d.Datum != "" {
				one = joined(one, []string{d.Title + " " + t.Text})
			}
			continue
		}
		if a.Stage >= 0 {
			x.from = b.Stages[a.Stage].Name
		}
		if !slices.ContainsFunc(all, func(y aim) bool { return y.d == x.d && y.q == x.q }) {
			all = append(all, x)
		}
	}
	return all, one
}

// own are the first or last targets as the numbers of a drawing.
func own(all []aim, last bool) map[string]quantity.Entered {
	out := map[string]quantity.Entered{}
	for _, a := range all {
		if _, known := out[a.d.Name]; known && !last {
			continue
		}
		out[a.d.Name] = quantity.Entered{Text: a.t.Text, Unit: a.t.Unit, Step: a.t.Step, Value: quantity.Value{Kind: a.d.Kind, Q: a.q}}
	}
	return out
}

func at(a *aim) float64 {
	if a == nil {
		return 0
	}
	return mm(a.q)
}

func first(aims []aim, name string) *aim {
	for i := range aims {
		if aims[i].d.Name == name {
			return &aims[i]
		}
	}
	return nil
}

func mm(nm int64) float64 { return float64(nm) / millimetre }

// hundredths writes a place to 0.01 mm.
func hundredths(nm int64) string {
	return quantity.Format(quantity.Value{Kind: quantity.Length, Q: int64(math.Round(float64(nm)/10_000)) * 10_000}, quantity.Main(quantity.Length), 0)
}

// inchOf is a place of a drawing in inches.
func inchOf(nm int64) string {
	const step = 100_000 // as a ruler is read
	return other(quantity.Tolerance{Kind: quantity.Length, Unit: quantity.Main(quantity.Length), Step: step, Nominal: quantity.Bound{Q: nm, Set: true}}, false).Nominal
}
