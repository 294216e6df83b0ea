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
			b.fault("recipe/sure", t, err, "write it as in 80 %")
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
		i, ok := b.find(t.name.Value)
		if !ok || b.Slots[i].Dimension == nil || b.Slots[i].Dimension.Grid == nil {
			continue // reported by targets
		}
		d := b.Slots[i].Dimension
		at, err := quantity.ParseMany(t.grid.at.Value, quantity.Style{Want: quantity.Length})
		if err != nil || len(at) > mostPlaces || len(t.grid.lanes) > len(d.Grid.Lanes) {
			continue
		}
		if len(b.Slots) > mostSlots {
			b.list.Hinted("recipe/too-long", t.grid.place, "use the same places in every grid", "this recipe has over %d different stations", mostSlots)
			b.tooLong = true
			return
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

// targets takes up the targets that stand in one place.
func (b *binder) targets(all []target) {
	first := map[int]diagnostic.Span{}
	for k := range all {
		t := &all[k]
		i, ok := b.dimension(t.name)
		if !ok {
			continue
		}
		if at, twice := first[i]; twice {
			b.list.Add(diagnostic.Diagnostic{Code: "recipe/twice", Span: t.name.Whole, Message: b.Slots[i].Name + " has two targets here", Hint: "keep one of the two",
				Related: []diagnostic.Related{{Message: "the first one", Span: at}}})
			continue
		}
		first[i] = t.name.Whole
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
			tol, err := b.tolerance(t, d.Kind)
			if err != nil {
				continue
			}
			b.place(i, &Target{tol, above, below, t})
			b.Aims = append(b.Aims, b.Placed[len(b.Placed)-1])
		}
	}
}

// place brings a target into force.
func (b *binder) place(slot int, t *Target) {
	b.inForce[slot] = t
	b.Placed = append(b.Placed, Placed{slot, b.placing, t})
}

// The limits of a blade grid: places along the blade, and stations of all
// grids of a recipe with their repeats. Nobody measures more; a hostile file
// must not cost memory.
const (
	mostPlaces   = 40
	mostSlots    = 5_000
	mostStations = 20_000
)

func repeats(at []quantity.Entered) bool {
	seen := map[int64]bool{}
	for _, e := range at {
		if seen[e.Value.Q] {
			return true
		}
		seen[e.Value.Q] = true
	}
	return false
}

// formOf shows how a tolerance of a kind is written.
func formOf(k quantity.Kind) string {
	if k == quantity.Pitch {
		return "write it as in E4 .. F4, F4 ± 20 cents, or at most F4"
	}
	unit := quantity.Main(k).Name()
	if unit == "" {
		return "write it as in 5 .. 7, or at most 7"
	}
	var units []string
	for _, u := range quantity.UnitsOf(k) {
		units = append(units, u.Name())
	}
	return "write it as in 27 ± 0.5 " + unit + ", 24 .. 25.5 " + unit + ", or at most 30 " + unit + "; the units are " + orList(units)
}

func (b *binder) gridTargets(t *target, d *dimension.Dimension, above, below Outcome) {
	g := t.grid
	if !contains(d.Grid.From, g.from.Value) {
		b.list.Hinted("recipe/grid", g.from.Whole, "write "+orList(d.Grid.From), "%s is not measured from %q", d.Name, clip(g.from.Value))
		return
	}
	at, err := quantity.ParseMany(g.at.Value, quantity.Style{Want: quantity.Length})
	if err != nil {
		b.fault("recipe/grid", g.at, err, "write distances with blanks between, the unit after the last: 3 9 15 mm")
		return
	}
	switch {
	case len(at) > mostPlaces:
		b.list.Errorf("recipe/grid", g.at.Whole, "a blade grid has at most %d places along the blade, not %d", mostPlaces, len(at))
		return
	case repeats(at):
		b.list.Hinted("recipe/grid", g.at.Whole, "write each distance once", "a place stands twice in at")
		return
	case len(g.lanes) == 0:
		b.list.Hinted("recipe/grid", g.place, "write one row a lane, as in "+d.Grid.Lanes[0]+": 0.90 0.70 mm; the lanes are "+orList(d.Grid.Lanes), "this grid has no rows")
		return
	}
	if b.stations += len(at) * len(g.lanes) * len(d.Grid.Blades); b.stations > mostStations {
		b.list.Errorf("recipe/too-long", g.place, "with its repeats this recipe has over %d stations", mostStations)
		b.tooLong = true
		return
	}
	// The new grid replaces the old one whole, whatever places that had.
	for _, k := range b.cellsOf[d] {
		delete(b.inForce, k)
	}
	for _, ln := range g.lanes {
		if !contains(d.Grid.Lanes, ln.name.Value) {
			hint := "the lanes are " + orList(d.Grid.Lanes)
			if n := diagnostic.Near(ln.name.Value, d.Grid.Lanes); n != "" {
				hint = "did you mean " + n + "?"
			}
			b.list.Hinted("recipe/grid", ln.name.Whole, hint, "%q is not a lane of %s", clip(ln.name.Value), d.Name)
			continue
		}
		row, err := quantity.ParseMany(ln.values.Value, quantity.Style{Want: d.Kind})
		if err != nil {
			b.fault("recipe/grid", ln.values, err, "write numbers with blanks between, the unit after the last: 0.90 0.70 mm")
			continue
		}
		if len(row) != len(at) {
			b.list.Hinted("recipe/grid", ln.values.Whole, "write one number for each place in at", "the row %s has %d numbers, at has %d places", clip(ln.name.Value), len(row), len(at))
			continue
		}
		for k, v := range row {
			tol, err := quantity.ParseTolerance(v.Text+unitGap(v)+" "+g.within.Value, quantity.Style{Want: d.Kind, Bare: v.Unit})
			if err != nil {
				b.list.Hinted("recipe/bad-tolerance", g.within.Whole, "write it as in within: ± 0.03 mm", "%q is no tolerance for %s", clip(g.within.Value), clip(v.String()))
				return
			}
			for _, blade := range d.Grid.Blades {
				b.place(b.cell(d, g.from.Value, ln.name.Value, blade, at[k]), &Target{tol, above, below, t})
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
