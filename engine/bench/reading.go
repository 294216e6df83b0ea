package bench

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode"

	"canewright/engine/gauging"
	"canewright/engine/quantity"
	"canewright/engine/recipe"
)

// reading takes one or more numbers for the measurement that is asked.
func (d *decider) reading(f focus, m *recipe.Measure, text string, w words) error {
	slot := d.b.Slots[m.Slot]
	switch w.verb {
	case "keep":
		if w.rest != "" && w.rest != "all" {
			return refuse("keep, or keep all.", "Keep what?")
		}
		return d.keep(f, m, w.rest == "all")
	case "pass":
		if f.step != stepSettle {
			return refuse("pass takes an unsure reading as right.", "There is no unsure reading here.")
		}
		for _, p := range f.pieces {
			d.settle(p, m, true, true)
		}
		return nil
	case "":
		if f.step == stepSettle {
			for _, p := range f.pieces {
				d.settle(p, m, true, false)
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
		if f.step == stepSettle {
			return d.reading(f, m, "", words{})
		}
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
		if slot.Dimension.Kind == quantity.Pitch && !strings.ContainsFunc(line, unicode.IsLetter) {
			return refuse("Type it as F4, F4 +20 cents, or 349 Hz.", "This asks for a note: %s.", slot.Title())
		}
		return refuse(sentence(e.Hint), "%s", message)
	}
	if !meant {
		if err := plausible(all, slot, style); err != nil {
			return err
		}
	}
	if !meant {
		for _, p := range f.pieces {
			if err := d.together(p, m, all); err != nil {
				return err
			}
			if err := d.thatPlace(p, m, all); err != nil {
				return err
			}
		}
	}
	for _, p := range f.pieces {
		d.take(p, m, all)
	}
	return nil
}

// together challenges a repeat that lies far from the others: after an unsure
// reading the hand may have gone on to the next thing.
func (d *decider) together(p *Piece, m *recipe.Measure, all []quantity.Entered) error {
	slot := d.b.Slots[m.Slot]
	if k := slot.Dimension.Kind; k == quantity.Count || k == quantity.Score {
		return nil
	}
	before := readings(p, m.Slot, slot)
	for i, e := range all {
		others := append(slices.Clone(before), all[:i]...)
		if len(others) == 0 {
			continue
		}
		mean := int64(0)
		for _, o := range others {
			mean += o.Value.Q / int64(len(others))
		}
		if abs(e.Value.Q-mean) <= d.apartAtMost(m, p, e, mean) {
			continue
		}
		if len(all) > 1 {
			return refuse("One place at a time. If they are of one place, put ! behind: "+e.Text+"!", "%s and %s are far apart.", others[len(others)-1].Text, e.Text)
		}
		return refuse("If it is: "+e.Text+"!  To let "+others[len(others)-1].Text+" stand first: Enter.", "%s after %s: is it the same place?", e.Text, others[len(others)-1].Text)
	}
	return nil
}

// thatPlace challenges a reading that is the next station's rather than this
// one's, and one that says cane has grown, or halved, since it was last read.
func (d *decider) thatPlace(p *Piece, m *recipe.Measure, all []quantity.Entered) error {
	if len(all) != 1 || m.Group == 0 {
		return nil
	}
	v := all[0]
	if m.Target != nil && m.Target.Tolerance.Side(v.Value.Q) != quantity.Inside {
		st := &d.b.Stages[p.Stage]
		for i := range st.Measures {
			o := &st.Measures[i]
			_, closed := p.Closed[o.Slot]
			if o.Group != m.Group || o.Slot == m.Slot || closed || o.Target == nil {
				continue
			}
			if o.Target.Tolerance.Side(v.Value.Q) == quantity.Inside {
				c := d.b.Slots[o.Slot].Cell
				return refuse("If it is of this one: "+v.Text+"!", "%s is what another station wants: blade %s, %s, %s. Is it that one's?", v.Text, c.Blade, c.Lane, c.AtText)
			}
			if m.Target.Tolerance.Side(v.Value.Q) == quantity.Above {
				break // a blade that is thick all over reads like the station before: only the next one is asked about
			}
		}
	}
	last, ok := p.Last[m.Slot]
	if !ok || last.Stage == p.Stage && last.Visit == p.Visit || last.List[0].Condition != d.st.condition(p, m) {
		return nil
	}
	was := entered(last.List[len(last.List)-1], v.Value.Kind)
	switch {
	case v.Value.Q-was.Value.Q > 5*max(v.Step, was.Step):
		return refuse("If it is right: "+v.Text+"!", "%s after %s: cane does not get thicker.", v.Text, was.Text)
	case 10*v.Value.Q < 6*was.Value.Q:
		return refuse("If it is right: "+v.Text+"!", "%s after %s: that is much for a few strokes.", v.Text, was.Text)
	}
	return nil
}

// apartAtMost is how far a repeat may lie from the others unasked: five steps
// of the tool, or half the target's width, or a twentieth of the value where no
// width is known. common practice.
func (d *decider) apartAtMost(m *recipe.Measure, p *Piece, e quantity.Entered, mean int64) int64 {
	step := e.Step
	if t := d.b.ToolFor(m, p.Swaps); t.Step.Q > 0 && t.Step.Kind.Difference() == e.Value.Kind.Difference() {
		step = max(step, t.Step.Q)
	}
	far := 5 * step
	if m.Target != nil && m.Target.Tolerance.Low.Set && m.Target.Tolerance.High.Set {
		return max(far, (m.Target.Tolerance.High.Q-m.Target.Tolerance.Low.Q)/2)
	}
	if e.Value.Kind.Point {
		return max(far, 50*step)
	}
	return max(far, abs(mean)/20)
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
			return &Refusal{Message: fmt.Sprintf("%s? Did you mean %s?", e, s), Hint: "y if so; if it is right as it stands: " + e.Text + "!", Offer: s}
		}
		return refuse(again, "%s? That is outside %s.", e, t.Limits())
	}
	return nil
}

// take records readings and, once there are enough, says the verdict.
func (d *decider) take(p *Piece, m *recipe.Measure, all []quantity.Entered) {
	slot := d.b.Slots[m.Slot]
	stage := p.Stage
	quiet := d.st.Coarse[stage] && !saidCoarse(p.Open[m.Slot]) // "cannot tell" was said at this stage before, of something else
	var said *Said
	for i, e := range all {
		r := ReadingTaken{
			Slot: slot.Name, Text: e.Text, Unit: e.Unit.Name(), Bare: e.Bare, Step: e.Step, Q: e.Value.Q,
			Tool: d.b.ToolFor(m, p.Swaps).Name, Condition: d.st.condition(p, m), Repeat: len(p.Open[m.Slot]) + 1,
		}
		if i == len(all)-1 && r.Repeat >= m.Repeat && m.Target != nil {
			said = d.judge(p, m, append(readings(p, m.Slot, slot), e), d.b.ToolFor(m, p.Swaps), quiet)
			r.Said = said
		}
		d.of(p, r)
	}
	if len(p.Open[m.Slot]) < m.Repeat {
		return
	}
	if m.Target == nil || said.Sure || said.Coarse && quiet && said.Side == quantity.Inside.String() || d.row != nil && said.Side == quantity.Inside.String() {
		d.settle(p, m, false, false)
	}
}

func saidCoarse(taken []ReadingTaken) bool {
	return slices.ContainsFunc(taken, func(r ReadingTaken) bool { return r.Said != nil && r.Said.Coarse })
}

func readings(p *Piece, slot int, s recipe.Slot) []quantity.Entered {
	var out []quantity.Entered
	for _, r := range p.Open[slot] {
		out = append(out, entered(r, s.Dimension.Kind))
	}
	return out
}

func (d *decider) judge(p *Piece, m *recipe.Measure, all []quantity.Entered, with recipe.Tool, quiet bool) *Said {
	est := gauging.Of(all, with, nil)
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
func (d *decider) keep(f focus, m *recipe.Measure, all bool) error {
	if all {
		return d.keepAll(f)
	}
	for _, p := range f.pieces {
		last, ok := p.Last[m.Slot]
		if ok && last.Struck {
			return refuse("Measure it; keep all keeps those that were right elsewhere.", "Strokes were made there since it was read.")
		}
		if was, now := "", d.st.condition(p, m); ok {
			if was = last.List[0].Condition; wetOrDry(was) && wetOrDry(now) && was != now {
				return refuse("Measure it.", "It was read %s, and the cane is %s now.", was, now)
			}
		}
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
			said := d.judge(p, m, all, d.st.readBy(last.List[len(last.List)-1].Tool), true)
			s.Side, s.Sure = said.Side, said.Sure
		}
		d.of(p, s)
		d.afterMeasure(p, m)
	}
	return nil
}

// keepAll keeps what was right before of all that is left to measure here.
func (d *decider) keepAll(f focus) error {
	kept := 0
	for _, p := range f.pieces {
		stage, visit := p.Stage, p.Visit
		for i := range d.b.Stages[stage].Measures {
			m := &d.b.Stages[stage].Measures[i]
			_, closed := p.Closed[m.Slot]
			if p.Stage != stage || p.Visit != visit || p.Place != AtWork || closed || len(p.Open[m.Slot]) > 0 || !m.Each.For(p.Number) || !wasRight(p.Last[m.Slot]) {
				continue
			}
			if err := d.keep(focus{[]*Piece{p}, stage, stepMeasure, i}, m, false); err != nil {
				return err
			}
			kept++
		}
	}
	if kept == 0 {
		return refuse("Type the number, or skip to leave it out.", "No earlier reading here was right.")
	}
	return nil
}

// wasOff: what was read last was outside.
func wasOff(last Read) bool {
	if len(last.List) == 0 {
		return false
	}
	said := last.List[len(last.List)-1].Said
	return said != nil && said.Side != quantity.Inside.String()
}

// wasRight: what was read last was inside, or no target was in force.
func wasRight(last Read) bool {
	if len(last.List) == 0 || last.Struck {
		return false
	}
	said := last.List[len(last.List)-1].Said
	return said == nil || said.Side == quantity.Inside.String()
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
func (d *decider) settle(p *Piece, m *recipe.Measure, accepted, pass bool) {
	slot := d.b.Slots[m.Slot]
	all := p.Open[m.Slot]
	s := Settled{Slot: slot.Name, N: len(all), Accepted: accepted, Passed: pass}
	for _, r := range all {
		s.Sum += r.Q
	}
	if last := all[len(all)-1]; last.Said != nil {
		s.Side, s.Sure = last.Said.Side, last.Said.Sure
	}
	if o, _ := d.follows(p, m, s.Side); o.How == recipe.GoingOn && !pass {
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
		if best.How != recipe.GoingOn {
			why = d.stations(p, st, m.Group)
		}
	}
	d.follow(p, best, why)
}

// stations says where a blade is off, the thin places too: the knife stays off
// there.
func (d *decider) stations(p *Piece, st *recipe.Stage, group int) string {
	var more, less []string
	words := [2]string{}
	for i := range st.Measures {
		m := &st.Measures[i]
		if m.Group != group {
			continue
		}
		slot := d.b.Slots[m.Slot]
		words = [2]string{slot.Dimension.More, slot.Dimension.Less}
		at := slot.Cell.Blade + " " + slot.Cell.Lane + " " + slot.Cell.AtText
		switch p.Closed[m.Slot] {
		case "above":
			more = append(more, at)
		case "below":
			less = append(less, at)
		}
	}
	var out []string
	if len(more) > 0 {
		out = append(out, "too "+words[0]+": "+strings.Join(more, ", "))
	}
	if len(less) > 0 {
		out = append(out, "too "+words[1]+", knife off: "+strings.Join(less, ", "))
	}
	return strings.Join(out, "; ")
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
