package recipe

import (
	"canewright/engine/diagnostic"
	"canewright/engine/dimension"
	"canewright/engine/quantity"
	"canewright/engine/yamldoc"
)

func (b *binder) sure(n *yamldoc.Node) {
	b.Bound.Sure = Sure{0.80, 0.80}
	if n == nil {
		return
	}
	read := func(t diagnostic.Text) float64 {
		e, err := quantity.Parse(t.Value, quantity.Style{Want: quantity.Ratio})
		if err != nil {
			b.fault("recipe/sure", t, err)
			return 0.80
		}
		v := e.Value.Float()
		if v <= 0.5 || v >= 1 {
			b.list.Hinted("recipe/sure", t.Whole, "80 % is usual; 95 % asks for more repeats", "how sure a verdict must be lies between 50 %% and 100 %%")
			return 0.80
		}
		return v
	}
	if n.Shape() == yamldoc.Scalar {
		v := read(n.Text())
		b.Bound.Sure = Sure{v, v}
		return
	}
	l := loader{&b.list}
	l.fields(n, "sure",
		need("to pass", func(_, v *yamldoc.Node) { b.Bound.Sure.Pass = read(l.word(v, "to pass")) }),
		need("to cut", func(_, v *yamldoc.Node) { b.Bound.Sure.Cut = read(l.word(v, "to cut")) }))
}

// cells makes a slot for every station of every grid in the recipe, before any
// formula is compiled.
func (b *binder) cells(targets []target, stages []*stage) {
	for _, t := range targets {
		if t.grid == nil {
			continue
		}
		i, ok := b.byName[t.name.Value]
		if !ok || b.Slots[i].Dimension == nil || b.Slots[i].Dimension.Grid == nil {
			continue // reported by targets
		}
		d := b.Slots[i].Dimension
		at, err := quantity.ParseMany(t.grid.at.Value, quantity.Style{Want: quantity.Length})
		if err != nil {
			continue
		}
		for _, blade := range d.Grid.Blades {
			for _, ln := range t.grid.lanes {
				for _, e := range at {
					b.cell(d, t.grid.from.Value, ln.name.Value, blade, e)
				}
			}
		}
	}
	for _, s := range stages {
		b.cells(s.targets, s.stages)
	}
}

func (b *binder) cell(d *dimension.Dimension, from, lane, blade string, at quantity.Entered) int {
	text := quantity.Format(at.Value, at.Unit, 0)
	name := d.Name + " " + text + " " + lane + " " + blade
	if from != d.Grid.From[0] {
		name += " from " + from
	}
	if i, ok := b.byName[name]; ok {
		return i
	}
	return b.newSlot(Slot{Name: name, Dimension: d, Cell: &Cell{From: from, Lane: lane, Blade: blade, At: at.Value.Q, AtText: text}})
}

func (b *binder) targets(all []target) {
	for _, t := range all {
		i, ok := b.dimension(t.name)
		if !ok {
			continue
		}
		d := b.Slots[i].Dimension
		above, below := b.outcome(t.above), b.outcome(t.below)
		switch {
		case t.grid != nil && d.Grid == nil:
			b.list.Hinted("recipe/not-a-grid", t.name.Whole, "write it as in "+d.Name+": 27.0 ± 0.5 mm", "%s is one number, not a grid", d.Name)
		case t.grid == nil && d.Grid != nil:
			b.list.Hinted("recipe/needs-grid", t.name.Whole, "write from, at, one row a lane, and within", "%s is measured at stations", d.Name)
		case t.grid != nil:
			b.gridTargets(t, d, above, below)
		default:
			tol, err := quantity.ParseTolerance(t.tolerance.Value, quantity.Style{Want: d.Kind, Point: t.flow})
			if err != nil {
				b.fault("recipe/bad-tolerance", t.tolerance, err)
				continue
			}
			b.inForce[i] = &Target{tol, above, below}
		}
	}
}

func (b *binder) gridTargets(t target, d *dimension.Dimension, above, below Outcome) {
	g := t.grid
	if !contains(d.Grid.From, g.from.Value) {
		b.list.Hinted("recipe/grid", g.from.Whole, "write "+orList(d.Grid.From), "%s is not measured from %q", d.Name, g.from.Value)
		return
	}
	at, err := quantity.ParseMany(g.at.Value, quantity.Style{Want: quantity.Length})
	if err != nil {
		b.fault("recipe/grid", g.at, err)
		return
	}
	for _, ln := range g.lanes {
		if !contains(d.Grid.Lanes, ln.name.Value) {
			hint := "the lanes are " + orList(d.Grid.Lanes)
			if n := diagnostic.Near(ln.name.Value, d.Grid.Lanes); n != "" {
				hint = "did you mean " + n + "?"
			}
			b.list.Hinted("recipe/grid", ln.name.Whole, hint, "%q is not a lane of %s", ln.name.Value, d.Name)
			continue
		}
		row, err := quantity.ParseMany(ln.values.Value, quantity.Style{Want: d.Kind})
		if err != nil {
			b.fault("recipe/grid", ln.values, err)
			continue
		}
		if len(row) != len(at) {
			b.list.Hinted("recipe/grid", ln.values.Whole, "write one number for each place in at", "%s has %d numbers for %d places", ln.name.Value, len(row), len(at))
			continue
		}
		for k, v := range row {
			tol, err := quantity.ParseTolerance(v.Text+unitGap(v)+" "+g.within.Value, quantity.Style{Want: d.Kind, Bare: v.Unit})
			if err != nil {
				b.list.Hinted("recipe/bad-tolerance", g.within.Whole, "write it as in within: ± 0.03 mm", "%q is no tolerance for %s", g.within.Value, v)
				return
			}
			for _, blade := range d.Grid.Blades {
				b.inForce[b.cell(d, g.from.Value, ln.name.Value, blade, at[k])] = &Target{tol, above, below}
			}
		}
	}
}

// unitGap is what to put between a row's number and the deviation so that the
// number keeps the row's unit.
func unitGap(v quantity.Entered) string {
	if v.Bare && v.Unit.Name() != "" {
		return " " + v.Unit.Name()
	}
	return ""
}

func contains(list []string, s string) bool {
	for _, v := range list {
		if v == s {
			return true
		}
	}
	return false
}

func orList(words []string) string {
	s := ""
	for i, w := range words {
		switch {
		case i == 0:
			s = w
		case i == len(words)-1:
			s += " or " + w
		default:
			s += ", " + w
		}
	}
	return s
}
