package toolbox

import (
	"canewright/engine/cane"
	"canewright/engine/quantity"
)

// tubeOfCane: bark should fit the bed.
func (c *carrier) tubeOfCane(e *Entry, t quantity.Tolerance) {
	bed, has := c.mine["gouger.bed"]
	_, told := c.theirs["gouger.bed"]
	switch {
	case !has && !told:
		e.Note = "tubes are chosen; whether they fit the bed of your gouger is for you to see (gouger.bed)"
	case !has:
		f, _ := FieldNamed("gouger.bed")
		e.Verdict, e.Ask = Unknown, []string{measure(f)}
	case told:
		d, _, _ := c.both("gouger.bed")
		if d.v == 0 {
			e.Why = []string{"your bed is as wide as the recipe's"}
			return
		}
		c.shift(e, t, d, "the bed of your gouger is "+more(d.v, "wider", "narrower")+" than the recipe's", "bark should fit its bed")
		e.remember("a tube of another diameter opens or closes the reed: a small one opens, a large one closes")
	case t.Side(bed.Value.Q) == quantity.Inside:
		e.Why = []string{"your bed of " + bed.String() + " is inside"}
	default:
		f, _ := FieldNamed("gouger.bed")
		e.Verdict, e.Ask = Unknown, []string{author(f)}
		e.Why = []string{"your bed of " + bed.String() + " is outside " + t.Limits()}
	}
}

// gougeSide: the thickness at the sides from bed, blade, centre and place.
func (c *carrier) gougeSide(e *Entry, t quantity.Tolerance) {
	mine, lacking, whence := c.sideOf(c.mine)
	if lacking != nil {
		e.Verdict, e.Ask = Unknown, lacking
		return
	}
	theirs, theirLack, _ := c.sideOf(c.theirs)
	if theirLack == nil {
		d := mine.minus(theirs)
		if _, bed, _ := c.both("gouger.bed"); bed && mine.v == theirs.v {
			e.Why = []string{"your gouger has the recipe's bed and blade"}
			return
		}
		c.shift(e, t, number{d.v, 0}, whence, "the recipe's gouger leaves "+short(theirs.v)+" mm there, yours "+short(mine.v)+" mm")
		e.Uncertain = ""
		return
	}
	q := int64(mine.v*1e6 + 0.5)
	if t.Side(q) == quantity.Inside {
		e.Why = []string{whence, "it leaves " + short(mine.v) + " mm there, which is inside"}
		return
	}
	d := mine.minus(number{v: centre(t)})
	c.shift(e, t, number{d.v, 0}, whence, "it leaves "+short(mine.v)+" mm there, the recipe asks for "+t.Limits())
	e.Uncertain = ""
	e.remember("another blade would leave another side; bark is taken to fit the bed")
}

// sideOf is what a gouger leaves at the side, in mm, with the recipe's centre
// unless it leaves its own; what is missing for it; and the first link of the
// chain.
func (c *carrier) sideOf(s Set) (side number, lacking []string, whence string) {
	bed, hasBed := s.get("gouger.bed")
	blade, hasBlade := s.blade()
	at, hasAt := c.sidePlace()
	gouge, hasCentre := c.firsts["gouge.centre"]
	var names []string
	if !hasBed {
		names = append(names, "gouger.bed")
	}
	if !hasBlade {
		names = append(names, "gouger.blade")
	}
	if len(names) > 0 {
		lacking = c.asks(names, nil)
	}
	if !hasAt {
		lacking = append(lacking, "ask the recipe's author how far round from the centre line the side is read (a setting side.arc, or a target on gouge.side_at)")
	}
	if !hasCentre {
		lacking = append(lacking, "ask the recipe's author for the gouge at the centre")
	}
	if lacking != nil {
		return number{}, lacking, ""
	}
	middle := centre(gouge)
	if own, has := c.mine["gouger.centre"]; has && gouge.Side(own.Value.Q) != quantity.Inside {
		middle = numberOf(own).v
	}
	g, err := cane.Set(bed.v/2, blade.v/2, 0, middle)
	if err == nil {
		var v float64
		if v, err = g.Thickness(bed.v/2, at); err == nil {
			return number{v: v}, nil, "a blade of " + short(blade.v) + " mm over a bed of " + short(bed.v) + " mm, " + short(middle) + " mm at the centre, " + short(at) + " mm round"
		}
	}
	return number{}, []string{"measure the side on a gouged piece: " + err.Error()}, ""
}

// sidePlace is the arc distance at which the side is read, in mm.
func (c *carrier) sidePlace() (float64, bool) {
	for _, s := range c.b.Settings {
		if s.Name == "side.arc" && s.Value.Value.Kind == quantity.Length {
			return numberOf(s.Value).v, true
		}
	}
	if t, ok := c.firsts["gouge.side_at"]; ok {
		return centre(t), true
	}
	return 0, false
}

// rules judges the rules about centre and side that the numbers of a gouger
// decide.
func (c *carrier) rules() {
	centreSlot, sideSlot := c.b.SlotOf("gouge.centre"), c.b.SlotOf("gouge.side")
	if centreSlot < 0 || sideSlot < 0 {
		return
	}
	gouge, hasCentre := c.firsts["gouge.centre"]
	for i := range c.b.Stages {
		st := &c.b.Stages[i]
		for j := range st.Rules {
			r := &st.Rules[j]
			about, other := false, false
			for _, n := range r.Worked.Needs() {
				switch {
				case n == sideSlot:
					about = true
				case n != centreSlot && !c.b.Slots[n].Setting:
					other = true
				}
			}
			if !about || other {
				continue
			}
			e := Entry{Stage: st.Name, Name: r.That.Text(), What: OfRule, Was: r.That.Text()}
			side, lacking, whence := c.sideOf(c.mine)
			if lacking != nil || !hasCentre {
				e.Verdict, e.Ask = Unknown, lacking
				c.out = append(c.out, e)
				continue
			}
			values := make([]float64, len(c.b.Slots))
			for _, s := range c.b.Settings {
				values[s.Slot] = s.Value.Value.Float()
			}
			middle := centre(gouge)
			if own, has := c.mine["gouger.centre"]; has && gouge.Side(own.Value.Q) != quantity.Inside {
				middle = numberOf(own).v
			}
			values[centreSlot], values[sideSlot] = float64(int64(middle*1e6+0.5)), float64(int64(side.v*1e6+0.5))
			holds, err := r.Worked.Holds(values)
			e.Why = []string{whence, "it leaves " + short(side.v) + " mm there"}
			switch {
			case err != nil:
				e.Verdict, e.Ask = Unknown, []string{err.Error()}
			case holds:
				e.Verdict = Carries
			default:
				e.Verdict = Breaks
				e.Note = "set blade or bed, or ask for another difference; bark is taken to fit the bed"
			}
			c.out = append(c.out, e)
		}
	}
}
