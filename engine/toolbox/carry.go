package toolbox

import (
	"math"
	"strings"

	"canewright/engine/dimension"
	"canewright/engine/quantity"
	"canewright/engine/recipe"
)

// Carry says of every setting and target of a recipe, and of its rules about the
// gouge, what becomes of it with these tools. It computes only from numbers that
// the toolbox or the recipe states: settings named like the numbers of a toolbox
// (shaper.fold, shaper.butt, mandrel.tip, bocal.taper, gouger.bed …; shaper.width
// and bed.length too) and targets.
func Carry(b *recipe.Bound, box *Box) Result {
	c := &carrier{b: b, mine: box.For(b.File.Instrument), firsts: map[string]quantity.Tolerance{}}
	written := b.File.Written()
	c.theirs = stated(b, written)
	for _, w := range written {
		d := b.Dimension(w.Name.Value)
		if w.Setting || w.Grid || d == nil {
			continue
		}
		if t, err := quantity.ParseTolerance(w.Value.Value, quantity.Style{Want: d.Kind, Point: w.Flow}); err == nil {
			if _, seen := c.firsts[d.Name]; !seen {
				c.firsts[d.Name] = t
			}
		}
	}
	c.tube = c.tubeChange()
	for _, w := range written {
		e := Entry{Stage: w.Stage, Name: w.Name.Value, Was: w.Value.Value, Line: w.Name.Whole.From.Line, Verdict: Carries}
		switch {
		case w.Setting:
			e.What = OfSetting
			c.setting(&e)
		case w.Grid:
			e.What = OfTarget
			d := b.Dimension(w.Name.Value)
			if d != nil {
				e.Name, e.Title = d.Name, d.Title
			}
			e.Was = "a grid of stations"
			c.grid(&e)
		default:
			d := b.Dimension(w.Name.Value)
			e.What = OfTarget
			if d == nil {
				break // bound recipes have none
			}
			e.Name, e.Title = d.Name, d.Title
			if t, err := quantity.ParseTolerance(w.Value.Value, quantity.Style{Want: d.Kind, Point: w.Flow}); err == nil {
				c.about = d
				c.target(&e, d, t)
			}
		}
		c.out = append(c.out, e)
	}
	c.rules()
	states := map[string]string{}
	for name, v := range c.theirs {
		states[name] = v.String()
	}
	return Result{Entries: c.out, States: states}
}

// carrier holds both toolboxes while a recipe is gone through.
type carrier struct {
	b            *recipe.Bound
	mine, theirs Set
	firsts       map[string]quantity.Tolerance // the first target of each dimension
	tube         tubeChange
	out          []Entry
	about        *dimension.Dimension // of the target at hand
}

// called are names of settings that mean a number of a toolbox.
var called = map[string]string{
	"shaper.width": "shaper.fold", "shaper.widest": "shaper.fold", "shaper.first_wire": "shaper.collar", "shaper.end": "shaper.butt",
	"bed.length": "gouger.length", "bed.diameter": "gouger.bed", "blade.diameter": "gouger.blade",
}

// fieldOf is the number of a toolbox that a setting of this name states.
func fieldOf(setting string) (Field, bool) {
	if f, ok := FieldNamed(setting); ok {
		return f, true
	}
	return FieldNamed(called[setting])
}

// stated are the tools a recipe says it was made with: its settings, and the
// taper of the mandrel where that is a dimension with a target.
func stated(b *recipe.Bound, written []recipe.Written) Set {
	out := Set{}
	for _, s := range b.Settings {
		f, ok := fieldOf(s.Name)
		if !ok || s.Value.Value.Kind != f.Kind || s.Value.Value.Q <= 0 {
			continue
		}
		if _, twice := out[f.Name()]; !twice {
			out[f.Name()] = s.Value
		}
	}
	for _, w := range written {
		f, ok := FieldNamed(w.Name.Value)
		if w.Setting || w.Grid || !ok || f.Kind != quantity.Ratio {
			continue
		}
		t, err := quantity.ParseTolerance(w.Value.Value, quantity.Style{Want: quantity.Ratio, Point: w.Flow})
		if err != nil || !t.Low.Set || !t.High.Set || t.Low.Q <= 0 {
			continue
		}
		mid := t.Low.Q + (t.High.Q-t.Low.Q)/2
		if t.Nominal.Set {
			mid = t.Nominal.Q
		}
		// A range is even over its width, as a last place is over its step.
		out[f.Name()] = quantity.Entered{Text: t.Text, Step: t.High.Q - t.Low.Q, Value: quantity.Value{Kind: quantity.Ratio, Q: mid}, Unit: t.Unit}
	}
	return out
}

// setting: a number of a tool is the player's own, everything else stays.
func (c *carrier) setting(e *Entry) {
	f, ok := fieldOf(e.Name)
	if !ok {
		e.Note = "no tool of yours decides it"
		if e.Name == "side.arc" {
			e.Note = "a place you choose; keep it, or the number read there means something else"
		}
		return
	}
	var their quantity.Entered
	for _, s := range c.b.Settings {
		if s.Name == e.Name {
			their = s.Value
			if s.Why != "" {
				e.Note = "the recipe says of it: " + s.Why
			}
		}
	}
	if their.Value.Kind != f.Kind {
		e.Verdict, e.Note = Unknown, "it is no "+f.Kind.String()+" in this recipe"
		e.Ask = []string{"ask the recipe's author what " + e.Name + " means"}
		return
	}
	mine, has := c.mine[f.Name()]
	if !has {
		e.Verdict = Unknown
		e.Ask = []string{measure(f)}
		return
	}
	if mine.Value.Q == their.Value.Q {
		return
	}
	e.Verdict = Changes
	if f.Kind == quantity.Length {
		e.Now, e.Typed = exact(mine.Value, their.Unit), mine.String()
		u, step := other(their.Unit)
		e.Also = quantity.Format(mine.Value, u, step)
		diff := numberOf(mine).minus(numberOf(their))
		e.Change, e.Uncertain = signed(diff.v), spread(diff.u)
	} else {
		e.Now = quantity.Format(mine.Value, quantity.Bare(quantity.Ratio), 0)
		e.Change = "from " + short(numberOf(their).v) + " to " + short(numberOf(mine).v)
	}
	e.Why = []string{"your " + f.Tool + ": " + mine.String()}
	if r := numberOf(mine).v / numberOf(their).v; r > muchMore || r < 1/muchMore {
		e.Note = "that is much: is this " + f.Tool + " for the instrument of the recipe?"
	}
}

// muchMore: two tools of one instrument hardly differ by more.
const muchMore = 1.5

// measure tells a player what to measure.
func measure(f Field) string {
	return "measure " + f.Name() + " (" + f.Title + "): " + f.How
}

// author is what to ask who wrote the recipe.
func author(f Field) string {
	return "ask the recipe's author for " + f.Name() + " (" + f.Tool + ": " + f.Title + ")"
}

// both is the difference of a number, mine less theirs; where one is missing,
// what would have to be known.
func (c *carrier) both(name string) (d number, ok bool, ask []string) {
	f, _ := FieldNamed(name)
	m, hasMine := c.mine.get(name)
	t, hasTheirs := c.theirs.get(name)
	if !hasMine {
		ask = append(ask, measure(f))
	}
	if !hasTheirs {
		ask = append(ask, author(f))
	}
	return m.minus(t), hasMine && hasTheirs, ask
}

// asks names what is missing on the one side and on the other.
func (c *carrier) asks(mine, theirs []string) []string {
	var out []string
	for _, n := range mine {
		f, _ := FieldNamed(n)
		out = append(out, measure(f))
	}
	for _, n := range theirs {
		f, _ := FieldNamed(n)
		out = append(out, author(f))
	}
	return out
}

// shift moves a target by a difference that is not nothing.
func (c *carrier) shift(e *Entry, t quantity.Tolerance, d number, why ...string) {
	by := d.v * 1e6
	c.move(e, t, func(q float64) float64 { return q + by }, d, why...)
}

func (c *carrier) move(e *Entry, t quantity.Tolerance, f func(q float64) float64, d number, why ...string) {
	text, now, ok := moved(t, f)
	if !ok {
		e.Verdict = Unknown
		e.Note = "the sum leads to no tolerance that could be written"
		return
	}
	if q := int64(math.Round(centre(now) * 1e6)); c.about != nil && c.about.Plausible.Kind == quantity.Length && c.about.Plausible.Side(q) != quantity.Inside {
		e.Verdict, e.Why = Unknown, why
		e.Note = "it would come to " + text + ", and " + c.about.Title + " is hardly outside " + c.about.Plausible.Limits()
		e.Ask = []string{"look whether these tools are for this instrument, and measure again"}
		return
	}
	if now.Low == t.Low && now.High == t.High {
		e.Note = "the difference is lost in the last place written"
		return
	}
	e.Verdict, e.Now, e.Also = Changes, text, also(now)
	e.Change, e.Uncertain, e.Why = signed(d.v), spread(d.u), why
}

// fits holds a number of a tool against a target: inside it carries over,
// outside the target moves there.
func (c *carrier) fits(e *Entry, t quantity.Tolerance, name, says, otherwise string) {
	f, _ := FieldNamed(name)
	mine, ok := c.mine[name]
	if !ok {
		return
	}
	if t.Side(mine.Value.Q) == quantity.Inside {
		e.Why = []string{"your " + f.Tool + " " + says + " " + mine.String() + ", which is inside"}
		return
	}
	d := numberOf(mine).minus(number{v: centre(t)})
	c.shift(e, t, d, "your "+f.Tool+" "+says+" "+mine.String(), "the recipe asks for "+t.Limits())
	e.remember(otherwise)
}

// remember notes what to keep in mind of a change; where none came about, the
// note says why not, and stays.
func (e *Entry) remember(note string) {
	if e.Verdict == Changes {
		e.Note = note
	}
}

// onStaple reports a place counted from the bottom of the staple.
func onStaple(d *dimension.Dimension) bool {
	return d.Kind == quantity.Length && d.Formula == "" && d.Datum == "the bottom of the staple" && d.Name != "staple.length"
}

// tubeDiameter reports a diameter of a tube of cane.
func tubeDiameter(d *dimension.Dimension) bool {
	return d.Kind == quantity.Length && d.Formula == "" && d.Subject == "tube" && d.Across && strings.HasPrefix(d.Name, "tube.") && d.Name != "tube.wall"
}
