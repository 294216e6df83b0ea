package recipe

import (
	"math"

	"canewright/engine/cane"
	"canewright/engine/formula"
	"canewright/engine/quantity"
)

// Functions are what formulas may call: the geometry and mechanics of cane,
// whose units are joined to those of formulas here. One whose kind or unit is
// not known is left out, which a test refuses.
func Functions() []formula.Function {
	var out []formula.Function
	for _, f := range cane.Functions() {
		result, to, ok := worth(f.Kind, f.Unit)
		if !ok {
			continue
		}
		g := formula.Function{Name: f.Name, Result: result, Help: f.Help}
		factors := make([]float64, len(f.Params))
		for i, p := range f.Params {
			k, worth, known := worth(p.Kind, p.Unit)
			ok = ok && known
			g.Params, g.Words, factors[i] = append(g.Params, k), append(g.Words, p.Name), worth
		}
		if !ok {
			continue
		}
		run := f.Run
		g.Run = func(args []float64) (float64, error) {
			own := make([]float64, len(args))
			for i, a := range args {
				own[i] = a / factors[i]
			}
			v, err := run(own)
			return v * to, err
		}
		out = append(out, g)
	}
	return out
}

// radian in the base quanta of angles: 180·3600·1000/π thousandths of an arc
// second.
const radian = 180 * 3600 * 1000 / math.Pi

// worth is a kind and what one of a unit is in its products of base quanta.
func worth(kind, unit string) (quantity.Kind, float64, bool) {
	k, ok := quantity.KindNamed(kind)
	switch {
	case !ok:
		return k, 0, false
	case unit == "1":
		return k, 1, true
	case unit == "rad":
		return k, radian, true
	}
	e, err := quantity.Parse("1 "+unit, quantity.Style{Want: k, Point: true})
	if err != nil {
		return k, 0, false
	}
	return k, e.Value.Float(), true
}

// Functions makes the binder offer them to formulas.
func (b *binder) Functions() []formula.Function {
	if b.functions == nil {
		b.functions = Functions()
	}
	return b.functions
}
