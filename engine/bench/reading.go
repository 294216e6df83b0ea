package bench

import (
	"math"
	"strings"

	"canewright/engine/gauging"
	"canewright/engine/quantity"
	"canewright/engine/recipe"
)

// reading takes one or more numbers for the measurement that is asked.
func (d *decider) reading(f focus, m *recipe.Measure, text string, w words) error {
	slot := d.b.Slots[m.Slot]
	switch w.verb {
	case "keep":
		return d.keep(f, m)
	case "":
		if f.step == stepSettle {
			for _, p := range f.pieces {
				d.settle(p, m, true)
			}
			return nil
		}
		return refuse("Type the number, or skip to leave it out.", "No reading yet.")
	case "skip":
		for _, p := range f.pieces {
			d.of(p, Skipped{What: "measurement", Slot: slot.Name, Why: w.rest})
			d.afterMeasure(p, m)
		}
		return nil
	case "go on", "done":
		return refuse("Type the number, or skip to leave it out.", "This question wants a reading.")
	}
	line, meant := strings.CutSuffix(strings.TrimSpace(text), "!")
	style := quantity.Style{Want: slot.Dimension.Kind, Bare: slot.Dimension.Unit}
	all, err := quantity.ParseMany(line, style)
	if err != nil {
		e, ok := err.(*quantity.Error)
		if !ok {
			return err
		}
		message := sentence(e.Message)
		if first, _, _ := strings.Cut(e.Message, " "); isUnit(first) {
			message = e.Message + "." // "g is a mass", not "G"
		}
		return refuse(sentence(e.Hint), "%s", message)
	}
	if !meant {
		if err := plausible(all, slot, style); err != nil {
			return err
		}
	}
	for _, p := range f.pieces {
		d.take(p, m, all)
	}
	return nil
}

func isUnit(word string) bool {
	_, ok := quantity.UnitNamed(word)
	return ok
}

// plausible challenges a number the hand can hardly have meant.
func plausible(all []quantity.Entered, slot recipe.Slot, style quantity.Style) error {
	for _, e := range all {
		t := slot.Dimension.Plausible
		if t.Kind != slot.Dimension.Kind || t.Side(e.Value.Q) == quantity.Inside {
			continue
		}
		again := "Type it again with ! if it is right: " + e.Text + "!"
		if s, ok := quantity.Suggest(e, t, style); ok {
			return refuse(again, "%s? Did you mean %s?", e, s)
		}
		return refuse(again, "%s? That is outside %s.", e, t.Limits())
	}
	return nil
}

// take records readings and, once there are enough, says the verdict.
func (d *decider) take(p *Piece, m *recipe.Measure, all []quantity.Entered) {
	slot := d.b.Slots[m.Slot]
	stage := p.Stage
	quiet := d.st.Coarse[stage] // "cannot tell" was said at this stage before
	var said *Said
	for i, e := range all {
		r := ReadingTaken{
			Slot: slot.Name, Text: e.Text, Unit: e.Unit.Name(), Bare: e.Bare, Step: e.Step, Q: e.Value.Q,
			Tool: d.b.ToolFor(m, p.Swaps).Name, Condition: d.st.condition(p, m), Repeat: len(p.Open[m.Slot]) + 1,
		}
		if i == len(all)-1 && r.Repeat >= m.Repeat && m.Target != nil {
			said = d.judge(p, m, append(readings(p, m.Slot, slot), e), quiet)
			r.Said = said
		}
		d.of(p, r)
	}
	if len(p.Open[m.Slot]) < m.Repeat {
		return
	}
	if m.Target == nil || said.Sure || said.Coarse && quiet || d.row != nil {
		d.settle(p, m, false)
	}
}

func readings(p *Piece, slot int, s recipe.Slot) []quantity.Entered {
	var out []quantity.Entered
	for _, r := range p.Open[slot] {
		out = append(out, entered(r, s.Dimension.Kind))
	}
	return out
}

func (d *decider) judge(p *Piece, m *recipe.Measure, all []quantity.Entered, quiet bool) *Said {
	est := gauging.Of(all, d.b.ToolFor(m, p.Swaps), nil)
	t := m.Target.Tolerance
	v := gauging.Judge(est, t, d.sure(t.SideOfSum(est.Sum, est.N)))
	dim := d.b.Slots[m.Slot].Dimension
	shown := v
	if quiet {
		shown.Coarse = false
	}
	return &Said{
		Side: v.Side.String(), OnLimit: v.OnLimit, Probability: v.Probability, Sure: v.Sure, Coarse: v.Coarse, More: v.More, N: est.N,
		Target: t.Text, U: round(est.U), Scatter: round(est.A), Tool: round(est.B),
		Sentence: gauging.Say(shown, est, t, gauging.Words{More: dim.More, Less: dim.Less, Blade: dim.More == "thick" && knifeAtHand(&d.b.Stages[p.Stage]),
			Unit: all[len(all)-1].Unit, Step: all[len(all)-1].Step}),
	}
}

func round(x float64) int64 { return int64(math.Floor(x + 0.5)) }

// keep lets the readings of an earlier visit count at this one.
func (d *decider) keep(f focus, m *recipe.Measure) error {
	for _, p := range f.pieces {
		last, ok := p.Last[m.Slot]
		if !ok || len(p.Open[m.Slot]) > 0 {
			return refuse("Type the number, or skip to leave it out.", "There is no earlier reading of %s to keep.", d.b.Slots[m.Slot].Title())
		}
		s := Settled{Slot: d.b.Slots[m.Slot].Name, N: len(last.List), Kept: true}
		kind := d.b.Slots[m.Slot].Dimension.Kind
		var all []quantity.Entered
		for _, r := range last.List {
			s.Sum += r.Q
			all = append(all, entered(r, kind))
		}
		if m.Target != nil {
			said := d.judge(p, m, all, true)
			s.Side, s.Sure = said.Side, said.Sure
		}
		d.of(p, s)
		d.afterMeasure(p, m)
	}
	return nil
}

// knifeAtHand: cane comes off here by a knife, so a thin reading says to put
// it down.
func knifeAtHand(st *recipe.Stage) bool {
	for _, t := range st.Use.Tools {
		if t.Name == "knife" {
			return true
		}
	}
	return false
}

// sure is the demand for a side: above is where cane would come off.
func (d *decider) sure(side quantity.Side) float64 {
	if side == quantity.Above {
		return d.b.Sure.Cut
	}
	return d.b.Sure.Pass
}

// settle closes a measurement and lets its side move the piece.
func (d *decider) settle(p *Piece, m *recipe.Measure, accepted bool) {
	slot := d.b.Slots[m.Slot]
	all := p.Open[m.Slot]
	s := Settled{Slot: slot.Name, N: len(all), Accepted: accepted}
	for _, r := range all {
		s.Sum += r.Q
	}
	if last := all[len(all)-1]; last.Said != nil {
		s.Side, s.Sure = last.Said.Side, last.Said.Sure
	}
	if o, _ := d.follows(p, m, s.Side); o.How == recipe.GoingOn {
		s.Do = o.Do
	}
	d.of(p, s)
	d.afterMeasure(p, m)
}

// afterMeasure acts on the side of a closed measurement; the stations of one
// grid act together when the last of them is closed.
func (d *decider) afterMeasure(p *Piece, m *recipe.Measure) {
	st := &d.b.Stages[p.Stage]
	best, why := d.follows(p, m, p.Closed[m.Slot])
	if m.Group > 0 {
		for i := range st.Measures {
			o := &st.Measures[i]
			if o.Group != m.Group || !o.Each.For(p.Number) {
				continue
			}
			if _, closed := p.Closed[o.Slot]; !closed {
				d.advance(p)
				return
			}
			if f, w := d.follows(p, o, p.Closed[o.Slot]); weight(f.How) > weight(best.How) {
				best, why = f, w
			}
		}
	}
	d.follow(p, best, why)
}

// follows is what the recipe says after the side of a measurement.
func (d *decider) follows(p *Piece, m *recipe.Measure, side string) (recipe.Outcome, string) {
	slot := d.b.Slots[m.Slot]
	if m.Target != nil {
		switch side {
		case "above":
			return m.Target.Above, slot.Title() + " too " + slot.Dimension.More
		case "below":
			return m.Target.Below, slot.Title() + " too " + slot.Dimension.Less
		}
	}
	return recipe.Outcome{How: recipe.GoingOn}, ""
}

func sentence(s string) string {
	if s == "" {
		return ""
	}
	r := []rune(s)
	s = strings.ToUpper(string(r[:1])) + string(r[1:])
	if !strings.HasSuffix(s, ".") && !strings.HasSuffix(s, "?") {
		s += "."
	}
	return s
}
