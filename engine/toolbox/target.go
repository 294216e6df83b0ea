package toolbox

import (
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
