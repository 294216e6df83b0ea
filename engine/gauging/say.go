package gauging

import (
	"math"
	"strings"

	"canewright/engine/quantity"
)

// Words are a dimension's own words, and how its numbers are shown.
type Words struct {
	More, Less string        // too much and too little: "thick" and "thin"
	Blade      bool          // a knife takes this off, and cannot put it back
	Unit       quantity.Unit // of amounts; zero: the kind's main unit
	Step       int64         // last place shown, quanta
}

// Say is the verdict in at most eight words. Amounts are how far the mean lies
// beyond the limit, in w.Unit without its name; a pitch is said in cents. Clear
// v.Coarse where that was said before: it is said once a stage.
func Say(v Verdict, e Estimate, t quantity.Tolerance, w Words) string {
	switch {
	case v.OnLimit:
		return "On the limit. Counts as right."
	case v.Coarse && !v.Sure:
		return "This gauge cannot tell. You decide."
	case v.Side == quantity.Inside && v.Sure:
		return "Right."
	case v.Side == quantity.Inside:
		return "Probably right. Measure once more if unhappy."
	case v.Side == quantity.Above && v.Sure:
		return "Too " + w.More + " by " + amount(-e.beyond(t.High.Q), e.Kind, w) + "."
	case v.Side == quantity.Above && w.Blade:
		return "Maybe too " + w.More + ". Measure before you cut."
	case v.Side == quantity.Above:
		return "Maybe too " + w.More + ". Measure again."
	}
	s := "Too " + w.Less + " by " + amount(e.beyond(t.Low.Q), e.Kind, w) + "."
	switch {
	case v.Sure && w.Blade:
		return s + " Knife down."
	case v.Sure:
		return s
	case w.Blade:
		return "Maybe too " + w.Less + ". Knife down, measure again."
	}
	return "Maybe too " + w.Less + ". Measure again."
}

// amount writes a distance with the step's decimals, with more where it would
// read as nought.
func amount(quanta float64, k quantity.Kind, w Words) string {
	v := quantity.Value{Kind: k.Difference(), Q: max(int64(math.Floor(quanta+0.5)), 1)}
	u, name := w.Unit, ""
	if k == quantity.Pitch {
		u = quantity.Main(quantity.Interval)
		name = " " + u.Name()
	}
	step := max(w.Step, 1)
	s := quantity.Number(v, u, step)
	for strings.Trim(s, "0.") == "" && step > 1 {
		step = max(step/10, 1)
		s = quantity.Number(v, u, step)
	}
	return s + name
}
