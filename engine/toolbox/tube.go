package toolbox

import (
	"math"
	"slices"

	"canewright/engine/quantity"
)

// tubeChange is how much wider inside the closed tube of a reed comes out with
// the player's tools than with the recipe's.
type tubeChange struct {
	known bool
	bore  number   // change of the inner diameter, mm
	why   []string // the links of the sum
	ask   []string
	// guess are the links of the sum where the width at the butt is not told,
	// but that at the fold is: it shows what would follow, and decides nothing.
	guess   []string
	guessed float64 // mm of bore
}

// tubeChange: two widths go round, so the outer diameter changes by 2Δw/π, and
// the bore by two walls less.
func (c *carrier) tubeChange() tubeChange {
	var out tubeChange
	wall, hasWall := c.wall()
	w, ok, ask := c.both("shaper.butt")
	if ok {
		out.known = true
		outer := w.times(2 / math.Pi)
		if w.v != 0 {
			out.why = []string{more(w.v, "wider", "narrower") + " on both blades at the butt", more(outer.v, "more tube diameter", "less tube diameter")}
		}
		out.bore = outer
		if hasWall && wall.v != 0 {
			out.bore = outer.minus(wall.times(2))
			out.why = append(out.why, "a wall "+more(wall.v, "thicker", "thinner")+", which leaves a bore "+more(out.bore.v, "wider", "narrower"))
		}
		return out
	}
	out.ask = ask
	if f, both, _ := c.both("shaper.fold"); both && f.v != 0 {
		outer := f.v * 2 / math.Pi
		out.guessed = outer
		out.guess = []string{"if both blades are " + more(f.v, "wider", "narrower") + " at the butt too, as they are at the fold", more(outer, "more tube diameter", "less tube diameter")}
	}
	return out
}

// wall is how much thicker the player's gouge leaves the wall, where it leaves
// another one than the recipe lets on.
func (c *carrier) wall() (number, bool) {
	t, asked := c.firsts["gouge.centre"]
	own, has := c.mine["gouger.centre"]
	if !asked || !has || t.Side(own.Value.Q) == quantity.Inside {
		return number{}, false
	}
	return numberOf(own).minus(number{v: centre(t)}), true
}

// bore at the butt.
func (c *carrier) bore(e *Entry, t quantity.Tolerance) {
	switch {
	case !c.tube.known:
		e.Verdict, e.Ask, e.Why = Unknown, c.tube.ask, c.tube.guess
	case c.tube.bore.v == 0:
		e.Why = []string{"your tube comes out as wide as the recipe's"}
	default:
		c.shift(e, t, c.tube.bore, c.tube.why...)
		e.remember("this is how wide the tube comes out with the same work; the mandrel and the reamer have a say too")
	}
}

// onBocal: how far the reed goes on to the bocal. A bore of tip + taper·z sits
// at z; on another bocal, and with another bore, it sits at
// (tip' + taper'·z + Δbore - tip)/taper, where ' are the recipe's.
func (c *carrier) onBocal(e *Entry, t quantity.Tolerance) {
	const note = "this is where the reed comes to stand with the same work, not where it should: whether the pitch follows is doubted. To have it stand where it stood, the bore must come out as it was. Check, do not assume; never ream to reach a number"
	c.seat(e, t, "bocal", 0, 0, nil)
	e.remember(note)
}

// mandrelLine: how far the butt stands past the mandrel's line.
func (c *carrier) mandrelLine(e *Entry, t quantity.Tolerance) {
	mine, hasMine := c.mine.get("mandrel.line_at")
	theirs, hasTheirs := c.theirs.get("mandrel.line_at")
	f, _ := FieldNamed("mandrel.line_at")
	var ask []string
	if !hasMine {
		ask = append(ask, measure(f))
	}
	if !hasTheirs {
		ask = append(ask, author(f))
	}
	c.seat(e, t, "mandrel", theirs.v, mine.v, ask)
}

// seat places a reed on a cone, its place counted from a line so many mm from
// the small end: theirLine on the recipe's, myLine on the player's. ask is what
// has to be known besides.
func (c *carrier) seat(e *Entry, t quantity.Tolerance, tool string, theirLine, myLine float64, ask []string) {
	tip, k, lackMine := c.mine.cone(tool)
	theirTip, theirK, lackTheirs := c.theirs.cone(tool)
	if !c.tube.known || lackMine != nil || lackTheirs != nil || ask != nil {
		e.Verdict = Unknown
		if !c.tube.known {
			e.Ask = append(e.Ask, c.tube.ask...)
		}
		e.Ask = append(append(e.Ask, c.asks(lackMine, lackTheirs)...), ask...)
		c.partly(e, tool)
		return
	}
	same := tip.v == theirTip.v && k.v == theirK.v && myLine == theirLine
	switch {
	case same && c.tube.bore.v == 0:
		e.Why = []string{"your tube and your " + tool + " are the recipe's"}
		return
	case same:
		d := c.tube.bore.over(k)
		c.shift(e, t, d, append(slices.Clone(c.tube.why), more(d.v, further, lessFar)+" a "+taperText(k.v)+" taper")...)
		return
	}
	middle := centre(t)
	bore := theirTip.v + theirK.v*(middle+theirLine) + c.tube.bore.v
	at := (bore - tip.v) / k.v
	why := append(slices.Clone(c.tube.why), "a bore of "+short(bore)+" mm sits where your "+tool+" is as thick",
		"("+short(bore)+" - "+short(tip.v)+") / "+taperText(k.v)+" = "+short(at)+" mm from its small end")
	if at < 0 {
		e.Verdict, e.Why = Unknown, append(why, "which is before its small end: it does not go on")
		e.Ask = []string{"make the tube wider, or use another " + tool}
		return
	}
	// Uncertainties of both cones and of the bore, through the formula above.
	u := number{bore - tip.v, math.Hypot(math.Hypot(theirTip.u, tip.u), math.Hypot(theirK.u*(middle+theirLine), c.tube.bore.u))}.over(k).u
	c.move(e, t, func(q float64) float64 { // nm
		return (theirTip.v+theirK.v*(q*1e-6+theirLine)+c.tube.bore.v-tip.v)/k.v*1e6 - myLine*1e6
	}, number{at - myLine - middle, u}, why...)
}

const further, lessFar = "further on", "less far on"

// partly shows as much of the sum as can be made, where not all can.
func (c *carrier) partly(e *Entry, tool string) {
	links, bore := c.tube.why, c.tube.bore.v
	if !c.tube.known {
		links, bore = c.tube.guess, c.tube.guessed
	}
	if len(links) == 0 || bore == 0 {
		return
	}
	e.Why = slices.Clone(links)
	if k, ok := c.mine.Taper(tool); ok {
		e.Why = append(e.Why, more(bore/k, further, lessFar)+" your taper of "+taperText(k)+", if the recipe's "+tool+" is like yours")
	}
}

func taperText(k float64) string { return significant(k, 3) }
