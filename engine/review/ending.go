package review

import (
	"math"
	"slices"

	"canewright/engine/bench"
	"canewright/engine/quantity"
)

// pieces tells what became of each, and what it has not come to.
func (w *walk) pieces() {
	for _, p := range w.st.Pieces {
		x := Piece{Kind: p.Kind, Mark: p.Mark, Tube: p.Tube, Place: string(p.Place), Since: p.Since, Why: p.Why, Split: p.Pieces}
		if p.Stage < len(w.b.Stages) {
			x.Stage = w.b.Stages[p.Stage].Name
		}
		w.out.Pieces = append(w.out.Pieces, x)
		who := Subjects{p.Kind, []string{p.Mark}}
		mine := func(i int) bool {
			st := &w.b.Stages[i]
			return st.Tube == (p.Kind == "tube") && st.Each.For(p.Number)
		}
		if begun, ok := w.stages[p.From]; ok && p.From != "" {
			a := Ahead{Stage: w.b.Stages[begun].Name}
			for i := range begun {
				if mine(i) {
					a.Stages++
				}
			}
			same := func(o Ahead) bool { return o.Stage == a.Stage && o.Stages == a.Stages }
			w.out.Before, _ = join(w.out.Before, a, who, same, func(o *Ahead) *Subjects { return &o.Subjects })
		}
		if p.Place == bench.Finished || p.Place == bench.Thrown {
			continue
		}
		a := Ahead{Place: string(p.Place)}
		for i := p.Stage + 1; i < len(w.b.Stages); i++ {
			if !mine(i) {
				continue
			}
			if a.Stages == 0 {
				a.Stage = w.b.Stages[i].Name
			}
			a.Stages++
		}
		if a.Stages > 0 {
			same := func(o Ahead) bool { return o.Stage == a.Stage && o.Stages == a.Stages && o.Place == a.Place }
			w.out.NotReached, _ = join(w.out.NotReached, a, who, same, func(o *Ahead) *Subjects { return &o.Subjects })
		}
	}
}

// deviations are the readings the recipe had a target for, the farthest first.
func (w *walk) deviations(limit int) {
	var all []Deviation
	for _, g := range w.order {
		m := w.measure(g.stage, g.slot)
		if m == nil || m.Target == nil {
			continue
		}
		d, t := w.dim(g.slot), m.Target.Tolerance
		sum := int64(0)
		for _, r := range g.list {
			sum += r.Q
		}
		n := len(g.list)
		x := Deviation{
			Subjects: Subjects{g.kind, []string{g.piece}}, Stage: w.name(g.stage), Visit: g.visit, Slot: g.slot, Title: w.title(g.slot),
			Readings: texts(g.list, d), Target: t.Text, Halves: Measure(float64(sum)/float64(n), t, d.Plausible), OnLimit: t.OnLimit(sum, n),
			Tool: g.list[n-1].Tool, seq: g.seq, cause: g.cause,
		}
		s, word := side(sum, n, t, d)
		x.Side, x.Word = s.String(), word
		if n > 1 {
			last := g.list[n-1]
			unit, ok := quantity.UnitNamed(last.Unit)
			if !ok {
				unit = d.Unit
			}
			mean := quantity.Value{Kind: d.Kind, Q: int64(math.Floor(float64(sum)/float64(n) + 0.5))}
			x.Mean = quantity.Format(mean, unit, max(last.Step/10, 1))
		}
		if g.said != nil {
			x.Sure, x.Said = g.said.Sure, true
		}
		if !slices.Equal(g.typed, x.Readings) {
			x.Typed = g.typed
		}
		w.out.Judged++
		if s != quantity.Inside {
			w.out.Outside++
		}
		if x.Halves == 0 {
			continue
		}
		// One answer may be for several pieces.
		if last := len(all) - 1; last >= 0 && all[last].cause == x.cause && all[last].Slot == x.Slot && all[last].Kind == x.Kind && slices.Equal(all[last].Readings, x.Readings) && all[last].Halves == x.Halves {
			all[last].Marks = append(all[last].Marks, x.Marks...)
			continue
		}
		all = append(all, x)
	}
	slices.SortStableFunc(all, func(a, b Deviation) int {
		switch {
		case a.Halves > b.Halves:
			return -1
		case a.Halves < b.Halves:
			return 1
		}
		return 0
	})
	w.out.Deviations = append(w.out.Deviations, all[:min(len(all), max(limit, 0))]...)
}
