package toolbox

import (
	"canewright/engine/cane"
	"canewright/engine/dimension"
	"canewright/engine/quantity"
)

// untouched is said of targets that are what one listens, looks or works for.
const untouched = "no tool of yours decides it"

func (c *carrier) target(e *Entry, d *dimension.Dimension, t quantity.Tolerance) {
	switch {
	case d.Name == "shape.fold" || d.Name == "shape.widest":
		c.shape(e, t, "shaper.fold")
	case d.Name == "shape.first_wire":
		c.shape(e, t, "shaper.collar")
	case d.Name == "shape.butt":
		c.shape(e, t, "shaper.butt")
	case d.Name == "shape.tip" || d.Name == "tip.width":
		c.nearFold(e)
	case d.Name == "gouge.centre":
		c.fits(e, t, "gouger.centre", "leaves", "if its blade can be set to the recipe's number, set it, and this and what follows from the wall carries over")
		if _, has := c.mine["gouger.centre"]; !has {
			e.Note = "a gouger is set to it"
		}
	case d.Name == "gouge.side":
		c.gougeSide(e, t)
	case d.Name == "profile.collar":
		c.fits(e, t, "profiler.collar", "leaves", "if its guide can be set, set it, and this carries over")
		if _, has := c.mine["profiler.collar"]; !has {
			e.Note = "a profiler is set to it, or the knife takes the rest; what yours leaves is not given"
		}
	case d.Name == "cane.length":
		c.fits(e, t, "gouger.length", "takes", "")
		if _, has := c.mine["gouger.length"]; !has {
			e.Note = "cut to it, if the bed of your gouger takes it"
		}
	case tubeDiameter(d):
		c.tubeOfCane(e, t)
	case d.Name == "staple.length":
		if _, has := c.mine["staple.length"]; !has {
			f, _ := FieldNamed("staple.length")
			e.Verdict, e.Ask = Unknown, []string{measure(f)}
			return
		}
		c.fits(e, t, "staple.length", "is", "")
	case onStaple(d):
		c.fromStaple(e, d, t)
	case d.Name == "tie.fold_above_staple" || d.Name == "cane.above_staple":
		c.shapeTied(e)
	case d.Name == "mandrel.line":
		c.mandrelLine(e, t)
	case d.Name == "mandrel.taper":
		c.taper(e, t, "mandrel")
	case d.Name == "reed.on_bocal":
		c.onBocal(e, t)
	case d.Name == "butt.bore":
		c.bore(e, t)
	case d.Name == "blade.length":
		c.profileLength(e, t, 1)
	case d.Name == "reed.tube" || d.Name == "collar.above_first_wire":
		c.profileLength(e, t, -1)
	default:
		e.Note = untouched
	}
}

// shape: the cane's width is not the metal's, but two metals differ as the cane
// cut on them does.
func (c *carrier) shape(e *Entry, t quantity.Tolerance, name string) {
	d, ok, ask := c.both(name)
	if ok {
		if d.v == 0 {
			e.Why = []string{"your shaper is as wide as the recipe's"}
			return
		}
		c.shift(e, t, d, "your shaper is "+more(d.v, "wider", "narrower")+" than the recipe's", "cane shaped on it comes out as much "+moreWord(d.v, "wider", "narrower"))
		e.remember("the cane's width is not the metal's; what differs is taken to differ alike")
		return
	}
	if _, has := c.mine["shaper.cane"]; has && name == "shaper.fold" {
		c.fits(e, t, "shaper.cane", "makes cane of", "")
		return
	}
	e.Verdict, e.Ask = Unknown, ask
	if _, has := c.mine.get(name); has && name == "shaper.fold" {
		f, _ := FieldNamed("shaper.cane")
		e.Ask = append(e.Ask, "or "+measure(f))
	}
}

func moreWord(v float64, up, down string) string {
	if v < 0 {
		return down
	}
	return up
}

// nearFold is a width close to the widest one, which no number here tells: it
// carries over where the shaper is the same.
func (c *carrier) nearFold(e *Entry) {
	d, ok, ask := c.both("shaper.fold")
	switch {
	case !ok:
		e.Verdict, e.Ask = Unknown, ask
	case d.v == 0:
		e.Why = []string{"your shaper is as wide as the recipe's"}
	default:
		e.Verdict = Unknown
		e.Why = []string{"your shaper is " + more(d.v, "wider", "narrower") + " at its widest"}
		e.Ask = []string{"measure the cane there: how two shapers run beside their widest place is not told by their widths"}
	}
}

// taper of the mandrel as a target: it describes the author's.
func (c *carrier) taper(e *Entry, t quantity.Tolerance, tool string) {
	k, ok := c.mine.Taper(tool)
	if !ok {
		f, _ := FieldNamed(tool + ".taper")
		e.Verdict, e.Ask = Unknown, []string{measure(f), "or measure two diameters and the length between (" + tool + ".tip, .diameter, .at)"}
		return
	}
	q := int64(k*1e9 + 0.5)
	if t.Side(q) == quantity.Inside {
		e.Why = []string{"your " + tool + " has " + short(k) + ", which is inside"}
		return
	}
	e.Verdict = Changes
	half := (t.High.Q - t.Low.Q) / 2
	if !t.Low.Set || !t.High.Set {
		e.Verdict, e.Why, e.Ask = Unknown, []string{"your " + tool + " has " + short(k)}, []string{"ask the recipe's author which taper is meant"}
		return
	}
	lo, hi := quantity.Value{Kind: quantity.Ratio, Q: max(q-half, 1)}, quantity.Value{Kind: quantity.Ratio, Q: q + half}
	bare := quantity.Bare(quantity.Ratio)
	e.Now = quantity.Format(lo, bare, 0) + " .. " + quantity.Format(hi, bare, 0)
	e.Change = "from " + short(float64(t.Low.Q+half)*1e-9) + " to " + short(k)
	e.Why = []string{"your " + tool + " has " + short(k)}
}

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

// profileLength: where the collar comes. way is +1 for what grows with a longer
// cut, -1 for what shrinks: x from the butt is the length less x from the tip.
func (c *carrier) profileLength(e *Entry, t quantity.Tolerance, way float64) {
	d, ok, ask := c.both("profiler.length")
	_, mine := c.mine["profiler.length"]
	_, theirs := c.theirs["profiler.length"]
	switch {
	case !mine && !theirs:
		e.Note = "where the collar comes is cut, not carried; neither profiler is described by its length"
	case !ok:
		e.Verdict, e.Ask = Unknown, ask
	case d.v == 0:
		e.Why = []string{"your profiler cuts as far as the recipe's"}
	default:
		c.shift(e, t, d.times(way), "your profiler cuts "+more(d.v, "further", "less far")+" from the fold", "the collar comes "+more(-d.v, "nearer to the fold", "nearer to the butt"))
	}
}

// grid: thicknesses at stations are what the reed should have, whatever made
// it; but a station counted from the collar moves with it.
func (c *carrier) grid(e *Entry) {
	d, ok, _ := c.both("profiler.length")
	if ok && d.v != 0 {
		e.Verdict = Unknown
		e.Why = []string{"your profiler cuts " + more(d.v, "further", "less far") + " from the fold", "a place counted from the collar is not the same place of the blade"}
		e.Ask = []string{"count the stations from the tip, or add " + short(d.v) + " mm to each place counted from the collar"}
		return
	}
	e.Note = "a thickness is the same on every tool; measure it where the recipe says"
}

// fromStaple: everything counted from the bottom of the staple moves with its
// length, so that the cane above it stays as it was.
func (c *carrier) fromStaple(e *Entry, d *dimension.Dimension, t quantity.Tolerance) {
	theirs, told := c.firsts["staple.length"]
	mine, has := c.mine["staple.length"]
	f, _ := FieldNamed("staple.length")
	switch {
	case !has:
		e.Verdict, e.Ask = Unknown, []string{measure(f)}
		return
	case !told:
		e.Verdict, e.Ask = Unknown, []string{author(f)}
		return
	}
	if d.Name == "tie.length" {
		if c.shapeTied(e); e.Verdict == Unknown {
			return
		}
	}
	if theirs.Side(mine.Value.Q) == quantity.Inside {
		e.Why = append(e.Why, "your staple is as long as the recipe's, within its tolerance")
		return
	}
	diff := numberOf(mine).minus(number{v: centre(theirs)})
	c.shift(e, t, diff, "your staple is "+more(diff.v, "longer", "shorter")+" than the recipe's", "counted from its bottom, the same cane lies as much "+moreWord(diff.v, "further up", "lower"))
	e.remember("this keeps the cane above the staple. Some keep the whole length instead, and tie to 74 to 75 mm on staples of 46 and 47 mm alike; check the pitch")
}

// shapeTied: where the sides close depends on the width of the shape at the
// staple and on the staple's end.
func (c *carrier) shapeTied(e *Entry) {
	d, ok, ask := c.both("shaper.fold")
	if !ok {
		e.Verdict, e.Ask = Unknown, append(ask, "or tie one and look where the sides close")
		return
	}
	for _, name := range []string{"shaper.butt", "staple.small", "staple.oval"} {
		if n, both, _ := c.both(name); both && n.v != 0 {
			d = n
			break
		}
	}
	if d.v != 0 {
		e.Verdict = Unknown
		e.Why = []string{"your shape or staple is another at the tie (" + signed(d.v) + ")", "a wide shape is tied longer, a narrow one shorter"}
		e.Ask = []string{"tie one and look where the sides close; how a shape runs at the staple is not told by its widths"}
		return
	}
	e.Why = []string{"your shaper is as wide as the recipe's"}
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
