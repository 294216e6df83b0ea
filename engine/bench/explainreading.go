package bench

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"canewright/engine/gauging"
	"canewright/engine/quantity"
	"canewright/engine/recipe"
)

// reading explains the verdict of a measurement.
func (x *explainer) reading(e Event, p *Piece, r ReadingTaken) {
	slot := x.then.b.SlotOf(r.Slot)
	stage := x.stageOf(e.Stage, p)
	list := append(slices.Clip(p.Open[slot]), r)
	quiet := x.then.Coarse[stage] && !saidCoarse(p.Open[slot])
	it := Explained{What: OfReading, slot: r.Slot, Then: judgementOf(r.Said), Readings: x.readings(slot, stage, e.Visit, list, e)}
	x.judged(&it, p, stage, slot, list, quiet, r.Said)
	x.add(e, stage, e.Visit, it)
}

// kept explains that earlier readings count: the side was judged, nothing was
// said.
func (x *explainer) kept(e Event, p *Piece, s Settled) {
	slot := x.then.b.SlotOf(s.Slot)
	last := p.Last[slot]
	stage := x.stageOf(e.Stage, p)
	it := Explained{What: OfKept, slot: s.Slot, Then: Judgement{Side: s.Side, Sure: s.Sure}, Readings: x.readings(slot, last.Stage, last.Visit, last.List)}
	x.judged(&it, p, stage, slot, last.List, true, nil)
	x.add(e, stage, e.Visit, it)
}

// correction explains the verdict with a value put right, and marks the one that
// was said of the wrong value.
func (x *explainer) correction(e Event, p *Piece, c ValueCorrected) {
	slot, stage := x.then.b.SlotOf(c.Slot), x.stageOf(c.At, p)
	now := entered(ReadingTaken{Text: c.Text, Unit: c.Unit, Bare: c.Bare}, x.then.b.Slots[slot].Dimension.Kind).String()
	if !x.end.taken[e.Cause] {
		for i := range x.items {
			o := &x.items[i]
			by, rests := o.rests[slot]
			if o.slot == c.Slot && o.stage == stage && o.visit == c.On && o.had >= c.Repeat || rests && by.Stage == stage && by.Visit == c.On {
				o.Corrected = append(o.Corrected, c.Was+" was corrected to "+now+" later; this was said before")
			}
		}
	}
	it := Explained{What: OfCorrection, slot: c.Slot, Then: judgementOf(c.Said), Corrected: []string{c.Was + " is corrected to " + now}}
	if c.WasSaid != "" {
		it.Corrected = append(it.Corrected, "before it was said: "+c.WasSaid)
	}
	it.Corrected = append(it.Corrected, c.Changes...)
	last := p.Last[slot]
	list := slices.Clone(last.List)
	if c.Repeat < 1 || c.Repeat > len(list) {
		list = nil // read again since
	} else {
		r := &list[c.Repeat-1]
		r.Text, r.Unit, r.Bare, r.Step, r.Q = c.Text, c.Unit, c.Bare, c.Step, c.Q
		it.Readings = x.readings(slot, last.Stage, last.Visit, list)
	}
	x.judged(&it, p, stage, slot, list, true, c.Said)
	x.add(e, stage, c.On, it)
}

func judgementOf(s *Said) Judgement {
	if s == nil {
		return Judgement{}
	}
	return Judgement{Side: s.Side, Probability: s.Probability, Sure: s.Sure, Sentence: s.Sentence}
}

// judged works a verdict out afresh and compares it with what was said; said is
// nil where only the side was recorded.
func (x *explainer) judged(it *Explained, p *Piece, stage, slot int, list []ReadingTaken, quiet bool, said *Said) {
	it.Title, it.had = x.then.b.Slots[slot].Title(), len(list)
	m := x.measureOf(stage, slot)
	if m == nil || m.Target == nil || len(list) == 0 {
		if said != nil {
			it.Differs = append(it.Differs, "it cannot be worked out again: the target, or a reading, is no longer there")
		}
		return
	}
	all := make([]quantity.Entered, len(list))
	for i, r := range list {
		all[i] = entered(r, x.then.b.Slots[slot].Dimension.Kind)
	}
	d := x.decide()
	there := *p
	there.Stage = stage // the words of the stage it was read at
	with := x.then.readBy(list[len(list)-1].Tool)
	now := d.judge(&there, m, all, with, quiet)
	j := judgementOf(now)
	it.Now, it.Target, it.Limits = &j, m.Target.Tolerance.Text, m.Target.Tolerance.Limits()
	x.work(it, m, all, with)
	it.Differs = append(it.Differs, differences(it.Then, j, said != nil)...)
	if said != nil {
		r := rulerOf(all[0].Value.Kind, m.Target.Tolerance.Unit)
		if said.U != now.U {
			it.Differs = append(it.Differs, "u: then "+r.with(float64(said.U)/r.per, someFigures)+", now "+r.with(float64(now.U)/r.per, someFigures))
		}
		if said.Target != now.Target {
			it.Differs = append(it.Differs, "target: then "+said.Target+", now "+now.Target)
		}
	}
}

// differences names what came out otherwise. words: sentence and probability
// were recorded too.
func differences(then, now Judgement, words bool) []string {
	var out []string
	add := func(what, then, now string) { out = append(out, what+": then "+then+", now "+now) }
	if then.Side != now.Side {
		add("side", then.Side, now.Side)
	}
	if then.Sure != now.Sure {
		add("sure", yesOrNo(then.Sure), yesOrNo(now.Sure))
	}
	if !words {
		return out
	}
	if math.Abs(then.Probability-now.Probability) > 1e-9 {
		add("probability", percent(then.Probability), percent(now.Probability))
	}
	if then.Sentence != now.Sentence {
		add("sentence", orNothing(then.Sentence), orNothing(now.Sentence))
	}
	if then.Advice != now.Advice {
		add("advice", orNothing(then.Advice), orNothing(now.Advice))
	}
	return out
}

func yesOrNo(b bool) string {
	if b {
		return "yes"
	}
	return "no"
}

func orNothing(s string) string {
	if s == "" {
		return "nothing"
	}
	return s
}

// work writes down the arithmetic of a verdict (JCGM 100:2008).
func (x *explainer) work(it *Explained, m *recipe.Measure, all []quantity.Entered, t recipe.Tool) {
	tol := m.Target.Tolerance
	est := gauging.Of(all, t, nil)
	demand := x.decide().sure(tol.SideOfSum(est.Sum, est.N))
	v := gauging.Judge(est, tol, demand)
	r := rulerOf(est.Kind, tol.Unit)
	say := func(format string, a ...any) { it.Working = append(it.Working, fmt.Sprintf(format, a...)) }
	figure := func(name string, value float64, unit string) {
		it.Figures = append(it.Figures, Figure{name, value, unit})
	}

	if est.Kind == quantity.Pitch {
		say("Notes are counted in cents from A4.")
	}
	mean := r.at(est.Best)
	figure("mean", mean, r.unit)
	x.scatter(say, figure, r, all, est)
	u := est.Input("", 0, t) // its parts, in products of base quanta
	scale := est.Kind.Scale()
	step, own := u.Step/scale/r.per, u.ToolError/scale/r.per
	terms := []string{}
	if est.A > 0 {
		terms = append(terms, digits(est.A/r.per, someFigures)+"²")
	}
	if step > 0 {
		whose := "the last digit typed"
		if t.Step.Q > 0 && math.Abs(step*math.Sqrt(12)*r.per-float64(t.Step.Q)) < 0.5 {
			whose = "that of the " + t.Name
		}
		say("step: %s (%s); step/√12 = %s (4.3.7)", r.with(step*math.Sqrt(12), someFigures), whose, r.with(step, someFigures))
		figure("step/√12", step, r.unit)
		terms = append(terms, digits(step, someFigures)+"²")
	}
	if own > 0 {
		say("own error of the %s: %s (%s)", t.Name, r.with(own, someFigures), t.Source)
		figure("tool's own error", own, r.unit)
		terms = append(terms, digits(own, someFigures)+"²")
	}
	total := est.U / r.per
	figure("u", total, r.unit)
	switch len(terms) {
	case 0:
		say("nothing is uncertain: u = 0")
	case 1:
		say("u = %s", r.with(total, someFigures))
	default:
		say("u = √(%s) = %s (5.1.2)", strings.Join(terms, " + "), r.with(total, someFigures))
	}
	if est.A > 0 {
		say("degrees of freedom: u⁴ / ((s/√n)⁴ / %d) = %s (G.4.1)", est.N-1, digits(est.Freedom, 4))
		figure("degrees of freedom", est.Freedom, "")
	} else if est.U > 0 {
		say("step and tool are taken as known: degrees of freedom without end")
	}
	figure("probability", v.Probability, "")
	say("limits: %s (%s)", tol.Limits(), tol.Text)
	say("side: %s", sideOfSum(r, tol, est))
	limits(say, r, tol, est.Best, est.U, est.Freedom, v.Probability)
	sureness(say, v.Side.String(), v.SideProbability, demand, v.Sure, v.OnLimit && est.U > 0, v.Side == quantity.Above)
	switch {
	case v.Sure || v.OnLimit:
	case v.Coarse:
		say("without scatter it would still not be sure: step and tool are too coarse, readings cannot settle it")
	case v.More > 0:
		say("if mean and s stay, %d more would settle it", v.More)
	}
}

// scatter writes down mean, s and s/√n.
func (x *explainer) scatter(say func(string, ...any), figure func(string, float64, string), r ruler, all []quantity.Entered, est gauging.Estimate) {
	if est.N == 1 {
		say("one reading: %s. One shows no scatter, and none is counted.", r.with(r.at(est.Best), manyFigures))
		return
	}
	var numbers, squares []string
	sum := 0.0
	for _, e := range all {
		at := r.at(float64(e.Value.Q))
		sum += at
		numbers = append(numbers, bracketed(at, manyFigures))
		squares = append(squares, bracketed((float64(e.Value.Q)-est.Best)/r.per, someFigures)+"²")
	}
	say("mean = (%s) / %d = %s (4.2.1)", strings.Join(numbers, " + "), est.N, r.with(r.at(est.Best), manyFigures))
	say("s = √((%s) / %d) = %s (4.2.2)", strings.Join(squares, " + "), est.N-1, r.with(est.S/r.per, someFigures))
	say("s/√n = %s / √%d = %s (4.2.3)", digits(est.S/r.per, someFigures), est.N, r.with(est.A/r.per, someFigures))
	figure("s", est.S/r.per, r.unit)
	figure("s/√n", est.A/r.per, r.unit)
}

// sideOfSum is the side as it is decided, by whole numbers: the sum of n
// readings against n times the limit.
func sideOfSum(r ruler, t quantity.Tolerance, est gauging.Estimate) string {
	n := float64(est.N)
	sum := float64(est.Sum)/r.per - n*r.zero/r.per
	times := func(q int64) string {
		if est.N == 1 {
			return digits(r.at(float64(q)), manyFigures)
		}
		return fmt.Sprintf("%d × %s = %s", est.N, digits(r.at(float64(q)), manyFigures), digits(n*r.at(float64(q)), manyFigures))
	}
	what := digits(sum, manyFigures)
	if est.N > 1 {
		what = "the sum " + what
	}
	side := t.SideOfSum(est.Sum, est.N)
	switch {
	case side == quantity.Below:
		return fmt.Sprintf("below: %s is less than %s", what, times(t.Low.Q))
	case side == quantity.Above:
		return fmt.Sprintf("above: %s is more than %s", what, times(t.High.Q))
	}
	var room []string
	if t.Low.Set {
		room = append(room, "not less than "+times(t.Low.Q))
	}
	if t.High.Set {
		room = append(room, "not more than "+times(t.High.Q))
	}
	return fmt.Sprintf("inside: %s is %s; a limit counts as inside", what, strings.Join(room, ", "))
}

// limits writes down the probability of each side, in the ruler's unit; best and
// u are in quanta.
func limits(say func(string, ...any), r ruler, t quantity.Tolerance, best, u, freedom, probability float64) {
	if u == 0 {
		say("probability of conformity: %s", percent(probability))
		return
	}
	name, letter := distribution(freedom)
	spread := digits(u/r.per, someFigures)
	var off []string
	part := func(word string, limit int64, distance float64) {
		p := chance(-distance/u, freedom)
		which, first, second := "low limit", r.at(best), r.at(float64(limit))
		if word == "above" {
			which, first, second = "high limit", second, first
		}
		say("%s: %s = (%s − %s) / %s = %s; chance of being %s the limit %s", which, letter, digits(first, manyFigures), bracketed(second, manyFigures), spread, digits(distance/u, someFigures), word, percent(p))
		off = append(off, percent(p))
	}
	if t.Low.Set {
		part("below", t.Low.Q, best-float64(t.Low.Q))
	}
	if t.High.Set {
		part("above", t.High.Q, float64(t.High.Q)-best)
	}
	say("probability of conformity (JCGM 106): 100 %% − %s = %s, by %s", strings.Join(off, " − "), percent(probability), name)
}

// sureness compares the side's own probability with what the recipe asks for.
func sureness(say func(string, ...any), side string, p, demand float64, sure, onLimit, cut bool) {
	act := "to pass"
	if cut {
		act = "to cut"
	}
	switch {
	case onLimit:
		say("it lies on a limit, and so it is never sure")
	case sure:
		say("%s: %s; the recipe asks for %s %s: sure", side, percentBeside(p, demand), percent(demand), act)
	default:
		say("%s: %s; the recipe asks for %s %s: not sure", side, percentBeside(p, demand), percent(demand), act)
	}
}
