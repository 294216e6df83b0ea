package folder

import (
	"fmt"
	"math"

	"canewright/engine/diagnostic"
	"canewright/engine/dimension"
	"canewright/engine/formula"
	"canewright/engine/quantity"
	"canewright/engine/yamldoc"
)

// mostCases keeps a stranger's file from costing time.
const mostCases = 500

// cases tries what the author expects of the instrument: readings that are
// plausible or not, and what is worked out from readings.
func (l *loader) cases() {
	if l.caseList == nil {
		return
	}
	w := &worker{scope: scope{l.out.Set}, formulas: map[int]*formula.Formula{}}
	for _, it := range l.each(l.caseList, "cases", "plausible: {gouge.centre: 1.3 mm}", mostCases) {
		if l.list.Len() > diagnostic.Most {
			return
		}
		l.out.Cases++
		var given, then []reading
		it.Fields("a case", l.list,
			want("plausible", func(_, v *yamldoc.Node) { l.plausible(l.readings(v), true) }),
			want("not plausible", func(_, v *yamldoc.Node) { l.plausible(l.readings(v), false) }),
			want("given", func(_, v *yamldoc.Node) { given = l.readings(v) }),
			want("then", func(_, v *yamldoc.Node) { then = l.readings(v) }))
		if len(given) > 0 && len(then) == 0 {
			l.list.Hinted("instrument/case", it.Span(), "write then: and what is worked out from it: {wire.gap: 7 mm}", "this case expects nothing")
		}
		l.workedOut(w, given, then)
	}
}

// reading is one value of a case.
type reading struct {
	dim   *dimension.Dimension
	value quantity.Entered
	at    diagnostic.Text
}

func (l *loader) readings(n *yamldoc.Node) []reading {
	if n.Shape() != yamldoc.Map {
		l.list.Hinted("instrument/wrong-shape", n.Span(), "write {gouge.centre: 1.3 mm}", "this is not a list of dimensions and readings")
		return nil
	}
	var out []reading
	for _, e := range n.Entries() {
		name, t := e.Key.Text(), l.word(e.Value, "a reading")
		d, ok := l.out.Set.Find(name.Value)
		if !ok {
			l.list.Hinted("instrument/case", name.Whole, nearOr(name.Value, []string{l.out.Set.Near(name.Value)}, "write it under dimensions: to make it one"), "%q is no dimension of this instrument", clip(name.Value))
			continue
		}
		v, err := quantity.Parse(t.Value, quantity.Style{Want: d.Kind, Bare: d.Unit, Point: e.Value.Flow()})
		if err != nil {
			l.fault("instrument/case", t, err, "write a reading of "+d.Name)
			continue
		}
		out = append(out, reading{d, v, t})
	}
	return out
}

func (l *loader) plausible(all []reading, want bool) {
	for _, r := range all {
		p := r.dim.Plausible
		if !p.Low.Set && !p.High.Set {
			l.list.Hinted("instrument/case", r.at.Whole, "write plausible: and a range for it", "%s has no plausible range", r.dim.Name)
			continue
		}
		if inside := p.Side(r.value.Value.Q) == quantity.Inside; inside != want {
			says := "is not plausible"
			if inside {
				says = "is plausible"
			}
			l.list.Hinted("instrument/case", r.at.Whole, "the plausible range is "+p.Limits(), "%s of %s %s", clip(r.value.String()), r.dim.Name, says)
		}
	}
}

func (l *loader) workedOut(w *worker, given, then []reading) {
	slots := make([]float64, len(l.out.Set.Dimensions))
	known := make([]bool, len(slots))
	for _, r := range given {
		slots[w.scope.slot(r.dim)], known[w.scope.slot(r.dim)] = r.value.Value.Float(), true
	}
	for _, r := range then {
		i := w.scope.slot(r.dim)
		if err := w.workOut(i, slots, known); err != nil {
			l.list.Hinted("instrument/case", r.at.Whole, "write its readings after given:", "%s cannot be worked out: %s", r.dim.Name, err.Error())
			continue
		}
		// Right to half of the last place written.
		one := (quantity.Value{Kind: r.dim.Kind, Q: 1}).Float()
		room := max(float64(r.value.Step)/2, 0.5) * one
		if math.Abs(slots[i]-r.value.Value.Float()) > room {
			got := quantity.Value{Kind: r.dim.Kind, Q: int64(math.Round(slots[i] / one))}
			l.list.Hinted("instrument/case", r.at.Whole, "look at the formula, or at the case", "%s is worked out to %s", r.dim.Name, quantity.Format(got, r.dim.Unit, r.value.Step))
		}
	}
}

// worker compiles each formula once.
type worker struct {
	scope    scope
	formulas map[int]*formula.Formula
}

// workOut fills slot i, and before it what its formula needs. Check has refused
// formulas that lead back to themselves.
func (w *worker) workOut(i int, slots []float64, known []bool) error {
	if known[i] {
		return nil
	}
	d := &w.scope.set.Dimensions[i]
	if d.Formula == "" {
		return fmt.Errorf("%s is not given", d.Name)
	}
	f := w.formulas[i]
	if f == nil {
		var list diagnostic.List
		if f, list = formula.Compile(diagnostic.Plain(d.Name, d.Formula), w.scope); f == nil {
			return fmt.Errorf("its formula has %d findings", list.Len())
		}
		w.formulas[i] = f
	}
	for _, n := range f.Needs() {
		if err := w.workOut(n, slots, known); err != nil {
			return err
		}
	}
	v, err := f.Number(slots)
	if err != nil {
		return err
	}
	slots[i], known[i] = v, true
	return nil
}
