package comparison

import (
	"canewright/engine/dimension"
	"canewright/engine/quantity"
	"canewright/engine/recipe"
)

// Row is one thing both recipes may say: a target, a setting, a wait.
type Row struct {
	Name  string `json:"name"`
	Title string `json:"title"`
	Unit  string `json:"unit,omitempty"`         // of all numbers of the row
	From  string `json:"counted_from,omitempty"` // of all numbers of the row
	Class Class  `json:"class"`
	Why   string `json:"why,omitempty"` // it cannot be compared, or is said once only
	A     *Says  `json:"a,omitempty"`
	B     *Says  `json:"b,omitempty"`
	// Difference is B's middle less A's, in Unit.
	Difference string `json:"difference,omitempty"`
	Share      *Share `json:"in_common,omitempty"`

	unit  quantity.Unit
	apart int64 // the difference, quanta
	slotA int   // of A; -1
	slotB int
}

// Says is what one recipe says. Numbers are in the row's unit, with all their
// digits.
type Says struct {
	Written   string   `json:"written,omitempty"` // as typed; "" where it is worked out
	Low       string   `json:"low,omitempty"`
	High      string   `json:"high,omitempty"`
	Middle    string   `json:"middle,omitempty"`
	Stages    []string `json:"stages,omitempty"` // that set or judge it; none: it holds from the start
	Line      int      `json:"line,omitempty"`
	Condition string   `json:"condition,omitempty"`
	Tool      string   `json:"tool,omitempty"`
	Repeat    int      `json:"repeat,omitempty"`
	Because   string   `json:"because,omitempty"`
	// Formula and Of say how it was carried over; empty where it is said itself.
	Formula string    `json:"formula,omitempty"`
	Of      []Carried `json:"of,omitempty"`

	band  band
	stage int // that it is read at; -1
	setAt int // stage that sets it; -1
}

// Carried is a statement that another was worked out from.
type Carried struct {
	Name    string `json:"name"`
	Title   string `json:"title"`
	From    string `json:"counted_from,omitempty"`
	Written string `json:"written"`
	Stage   string `json:"stage,omitempty"` // "": from the start
	Line    int    `json:"line,omitempty"`
	Less    bool   `json:"taken_away,omitempty"` // else it is added
}

// judge classifies the row and fills in its numbers.
func (r *Row) judge() {
	a, b := r.A.band, r.B.band
	r.Class = classify(a, b)
	r.fill()
	r.apart = b.middle.Q - a.middle.Q
	r.Difference = plus(difference(a.kind, r.apart, r.unit, exactly))
	if r.Class == Overlapping {
		r.Share = shared(a, b, func(q int64) string { return number(a.kind, q, r.unit, exactly) }, func(low, high string) string {
			lo, hi := quantity.Bound{}, quantity.Bound{}
			lo.Set, hi.Set = low != "", high != ""
			lo.Q, hi.Q = inner(a.low, b.low, 1), inner(a.high, b.high, -1)
			return limits(band{kind: a.kind, low: lo, high: hi}, r.unit)
		})
	}
}

// inner is the limit of the common range.
func inner(a, b quantity.Bound, way int64) int64 {
	switch {
	case !a.Set:
		return b.Q
	case !b.Set || way*a.Q > way*b.Q:
		return a.Q
	}
	return b.Q
}

// fill writes the numbers of both sides in the row's unit.
func (r *Row) fill() {
	r.Unit = r.unit.Name()
	for _, s := range []*Says{r.A, r.B} {
		if s == nil {
			continue
		}
		show := func(b quantity.Bound) string {
			if !b.Set {
				return ""
			}
			return number(s.band.kind, b.Q, r.unit, exactly)
		}
		s.Low, s.High, s.Middle = show(s.band.low), show(s.band.high), show(s.band.middle)
	}
}

// says is what a recipe says in a statement, read at a stage.
func (s *side) says(x *said, stage int) *Says {
	out := &Says{Written: x.target.Tolerance.Text, Line: x.target.Place().From.Line, band: x.band, stage: stage, setAt: x.from}
	for _, i := range x.events {
		out.Stages = append(out.Stages, s.stageName(i))
	}
	s.reader(out, x.slot, stage)
	return out
}

func (s *side) reader(out *Says, slot, stage int) {
	out.Condition = string(s.condition(slot, stage))
	if m := s.reading(slot, stage); m != nil {
		out.Tool = m.Tool.Name
		if m.Repeat > 1 {
			out.Repeat = m.Repeat
		}
	}
}

// saysCarried is a statement that was worked out.
func (s *side) saysCarried(c carried, slot int) *Says {
	out := &Says{Formula: c.formula, band: c.band, stage: c.stage}
	if c.stage >= 0 {
		out.Stages = []string{s.stageName(c.stage)}
	}
	s.reader(out, slot, c.stage)
	for _, way := range []int64{1, -1} { // what is added first
		for i, x := range c.from {
			if c.ways[i] != way {
				continue
			}
			d := s.b.Slots[x.slot].Dimension
			x.used = true
			out.Of = append(out.Of, Carried{d.Name, d.Title, d.Datum, x.target.Tolerance.Text, s.stageName(x.from), x.target.Place().From.Line, way < 0})
		}
	}
	return out
}

// unlike says why numbers of two dimensions of one name are not of one thing.
func unlike(a, b *dimension.Dimension) string {
	count := func(d *dimension.Dimension) string {
		if d.Datum == "" {
			return "from nowhere"
		}
		return "from " + d.Datum
	}
	switch {
	case a.Kind != b.Kind:
		return "A's is " + a.Kind.String() + ", B's " + b.Kind.String()
	case (a.Grid == nil) != (b.Grid == nil):
		return "one is read at stations, the other is not"
	case a.Across != b.Across:
		return "one is a size across, the other a length"
	case a.Datum != b.Datum:
		return "A's is counted " + count(a) + ", B's " + count(b)
	case (a.Formula == "") != (b.Formula == ""):
		return "one is measured, the other worked out"
	case a.Formula != b.Formula:
		return "they are worked out in two ways: " + a.Formula + "; " + b.Formula
	}
	return ""
}

// hinder says why two statements of one dimension cannot be compared where
// their numbers differ; "" where they can. Slots are each side's own.
func (c *Comparison) hinder(slotA, stageA, slotB, stageB int) string {
	da, db := c.a.b.Slots[slotA].Dimension, c.b.b.Slots[slotB].Dimension
	if why := unlike(da, db); why != "" {
		return why
	}
	if da.Kind == quantity.Length && da.Datum == "" && !da.Across && da.Formula == "" && da.Grid == nil {
		return "nothing says where it is counted from"
	}
	if da.Kind == quantity.Score {
		return "a score is on its player's own list"
	}
	if da.Kind == quantity.Count || da.Kind == quantity.Time {
		return ""
	}
	if why := c.unlikeTools(slotA, stageA, slotB, stageB); why != "" {
		return why
	}
	ca, cb := c.a.condition(slotA, stageA), c.b.condition(slotB, stageB)
	if ca != "" && cb != "" && ca != cb && (c.a.swells(slotA) || c.b.swells(slotB)) {
		return "A reads it " + string(ca) + ", B " + string(cb) + "; cane swells"
	}
	return ""
}

// unlikeTools says why what two tools read cannot be compared.
func (c *Comparison) unlikeTools(slotA, stageA, slotB, stageB int) string {
	ma, mb := c.a.reading(slotA, stageA), c.b.reading(slotB, stageB)
	for _, m := range []*recipe.Measure{ma, mb} {
		if m == nil || !ownUnits(m.Tool) {
			continue
		}
		if ma == nil || mb == nil || ma.Tool.Name == mb.Tool.Name {
			if m.Tool.Name != "eye" {
				return "a " + m.Tool.Name + " reads in units of its own; another one's are others"
			}
			continue
		}
		return "A reads it with " + ma.Tool.Name + ", B with " + mb.Tool.Name + "; the two do not read alike"
	}
	if ma == nil && mb == nil && c.ownUnitsByDefault(slotA) {
		return "a " + c.a.b.Slots[c.a.inputs(slotA)[0]].Dimension.Tool + " reads in units of its own; another one's are others"
	}
	return ""
}

// ownUnitsByDefault: nobody reads it, and the tool the set names for it reads in
// units of its own. A ratio without a plausible unit is such a number.
func (c *Comparison) ownUnitsByDefault(slot int) bool {
	for _, i := range c.a.inputs(slot) {
		d := c.a.b.Slots[i].Dimension
		if d == nil || d.Kind != quantity.Ratio {
			return false
		}
		t, ok := c.a.b.Tool(d.Tool)
		if !ok || !ownUnits(t) || t.Name == "eye" {
			return false
		}
	}
	return true
}
