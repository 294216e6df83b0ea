package bench

import (
	"slices"

	"canewright/engine/quantity"
	"canewright/engine/recipe"
)

// Line is a number line to draw beside a reading. Places are in quanta of the
// dimension's kind; faces map them to columns and round nothing: labels are
// ready. A mark that is nil is not stated.
type Line struct {
	Low    *Mark    `json:"low,omitempty"`
	Target *Mark    `json:"target,omitempty"`
	High   *Mark    `json:"high,omitempty"`
	Value  *Mark    `json:"value,omitempty"`   // the mean of the readings
	U      int64    `json:"u,omitempty"`       // its standard uncertainty
	ULabel string   `json:"u_label,omitempty"` // "± 0.01", the expanded uncertainty (k = 2)
	Side   string   `json:"side,omitempty"`    // of Value: inside, below, above
	Sure   bool     `json:"sure,omitempty"`
	Budget []string `json:"budget,omitempty"` // where its uncertainty comes from, in lines
}

// Mark is a place on a Line and what is written there.
type Mark struct {
	At    int64  `json:"at"`
	Label string `json:"label"`
}

// Grid is a blade being measured station by station.
type Grid struct {
	Title    string     `json:"title"`    // "blade thickness"
	From     string     `json:"from"`     // "collar": where Stations are counted from
	Unit     string     `json:"unit"`     // of the readings
	Blades   []string   `json:"blades"`   // "A", "B"
	Lanes    []string   `json:"lanes"`    // across the blade, in the set's order
	Stations []string   `json:"stations"` // "3 mm", from the datum towards the tip
	Cells    []GridCell `json:"cells"`    // by blade, then station, then lane
}

// Cell is the cell of a blade, a station and a lane, by their places in the lists.
func (g *Grid) Cell(blade, station, lane int) GridCell {
	return g.Cells[(blade*len(g.Stations)+station)*len(g.Lanes)+lane]
}

// GridCell is one station: what was read there, and what of it.
type GridCell struct {
	State  CellState `json:"state,omitempty"`
	Text   string    `json:"text,omitempty"` // the reading as typed
	Target string    `json:"target,omitempty"`
}

// CellState is how a station stands.
type CellState string

const (
	CellNotAsked CellState = ""        // this stage does not ask for it
	CellOpen     CellState = "open"    // still to be measured
	CellNext     CellState = "next"    // the one the question is for
	CellRight    CellState = "right"   // inside
	CellMore     CellState = "more"    // above: too thick
	CellLess     CellState = "less"    // below: too thin
	CellRead     CellState = "read"    // measured, no target
	CellSkipped  CellState = "skipped" // left out
)

// line draws a target and the readings so far; nil where there is no target.
func (s *State) line(m *recipe.Measure, taken []ReadingTaken) *Line {
	if m.Target == nil {
		return nil
	}
	t := m.Target.Tolerance
	label := func(q int64) string { return quantity.Number(quantity.Value{Kind: t.Kind, Q: q}, t.Unit, t.Step) }
	l := &Line{}
	if t.Low.Set {
		l.Low = &Mark{t.Low.Q, label(t.Low.Q)}
	}
	if t.High.Set {
		l.High = &Mark{t.High.Q, label(t.High.Q)}
	}
	if t.Nominal.Set && (!t.Low.Set || t.Nominal.Q != t.Low.Q) && (!t.High.Set || t.Nominal.Q != t.High.Q) {
		l.Target = &Mark{t.Nominal.Q, label(t.Nominal.Q)}
	}
	if len(taken) == 0 {
		return l
	}
	sum := int64(0)
	for _, r := range taken {
		sum += r.Q
	}
	n := int64(len(taken))
	mean := sum / n
	last := taken[len(taken)-1]
	if l.Value = (&Mark{mean, last.Text}); n > 1 {
		unit, ok := quantity.UnitNamed(last.Unit)
		if !ok {
			unit = t.Unit
		}
		l.Value.Label = quantity.Number(quantity.Value{Kind: t.Kind, Q: mean}, unit, last.Step)
	}
	if said := last.Said; said != nil {
		l.Side, l.Sure, l.U = said.Side, said.Sure, said.U
		if said.U > 0 {
			unit := t.Unit
			if t.Kind == quantity.Pitch {
				unit = quantity.Main(quantity.Interval)
			}
			amount := func(q int64) string {
				return quantity.Format(quantity.Value{Kind: t.Kind.Difference(), Q: q}, unit, fine(q))
			}
			l.ULabel = "± " + amount(2*said.U)
			l.Budget = []string{"Uncertainty " + amount(said.U) + ": scatter " + amount(said.Scatter) + ", tool " + amount(said.Tool) + "."}
			if n == 1 {
				l.Budget = []string{"Uncertainty " + amount(said.U) + ", all from the tool: one reading has no scatter."}
			}
		}
	}
	return l
}

// fine is the place of the second figure of a quantity: more of an uncertainty
// is not worth saying (JCGM 100, 7.2.6).
func fine(q int64) int64 {
	step := int64(1)
	for q >= 100 {
		q, step = q/10, step*10
	}
	return step
}

// Drawn is the number line of the one reading that an answer had judged; nil
// where several pieces or none were judged. s is the state before the answer.
func Drawn(s *State, evs []Event) *Line {
	var found *Event
	for i, e := range evs {
		if r, ok := e.Body.(ReadingTaken); ok && r.Said != nil {
			if found != nil {
				return nil
			}
			found = &evs[i]
		}
	}
	if found == nil {
		return nil
	}
	r := found.Body.(ReadingTaken)
	p, slot := s.Piece(found.Subject.ID), s.b.SlotOf(r.Slot)
	if p == nil {
		return nil
	}
	var taken []ReadingTaken
	if p.Visit == found.Visit {
		taken = append(taken, p.Open[slot]...)
	}
	for _, e := range evs {
		if b, ok := e.Body.(ReadingTaken); ok && e.Subject == found.Subject && b.Slot == r.Slot {
			taken = append(taken, b)
		}
	}
	for i := range s.b.Stages[s.keys[found.Stage]].Measures {
		if m := &s.b.Stages[s.keys[found.Stage]].Measures[i]; m.Slot == slot {
			return s.line(m, taken)
		}
	}
	return nil
}

// grid draws the blade where a station is asked for; nil elsewhere.
func (s *State) grid(p *Piece, at *recipe.Measure) *Grid {
	if at.Group == 0 {
		return nil
	}
	d := s.b.Slots[at.Slot].Dimension
	g := &Grid{Title: d.Title, From: s.b.Slots[at.Slot].Cell.From, Unit: d.Unit.Name(), Blades: d.Grid.Blades}
	station := map[int64]int{}
	st := &s.b.Stages[p.Stage]
	mine := func(m *recipe.Measure) bool {
		return m.Group == at.Group && m.Each.For(p.Number)
	}
	for _, lane := range d.Grid.Lanes { // only what is read now
		if slices.ContainsFunc(st.Measures, func(m recipe.Measure) bool { return mine(&m) && s.b.Slots[m.Slot].Cell.Lane == lane }) {
			g.Lanes = append(g.Lanes, lane)
		}
	}
	for i := range st.Measures {
		if m := &st.Measures[i]; mine(m) {
			c := s.b.Slots[m.Slot].Cell
			if _, known := station[c.At]; !known {
				station[c.At] = len(g.Stations)
				g.Stations = append(g.Stations, c.AtText)
			}
		}
	}
	g.Cells = make([]GridCell, len(g.Blades)*len(g.Stations)*len(g.Lanes))
	for i := range st.Measures {
		m := &st.Measures[i]
		if !mine(m) {
			continue
		}
		c := s.b.Slots[m.Slot].Cell
		cell := &g.Cells[(place(g.Blades, c.Blade)*len(g.Stations)+station[c.At])*len(g.Lanes)+place(g.Lanes, c.Lane)]
		cell.State = CellOpen
		if m.Target != nil {
			cell.Target = m.Target.Tolerance.Text
		}
		if taken := p.Open[m.Slot]; len(taken) > 0 {
			cell.Text = taken[len(taken)-1].Text
			if n := len(taken); n > 1 { // the mean is judged
				cell.Text = quantity.Number(quantity.Value{Kind: d.Kind, Q: round(mean(taken))}, d.Unit, taken[n-1].Step)
			}
		}
		side, closed := p.Closed[m.Slot]
		if last := p.Last[m.Slot]; closed && cell.Text == "" && side != "skipped" && len(last.List) > 0 {
			cell.Text = last.List[len(last.List)-1].Text // kept
		}
		switch {
		case m.Slot == at.Slot:
			cell.State = CellNext
		case !closed:
		case side == "inside":
			cell.State = CellRight
		case side == "above":
			cell.State = CellMore
		case side == "below":
			cell.State = CellLess
		case side == "skipped":
			cell.State = CellSkipped
		default:
			cell.State = CellRead
		}
	}
	return g
}

func place(words []string, w string) int {
	for i, x := range words {
		if x == w {
			return i
		}
	}
	return 0
}
