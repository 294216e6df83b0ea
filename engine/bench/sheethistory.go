package bench

import (
	"math"
	"slices"
	"time"

	"canewright/engine/gauging"
	"canewright/engine/quantity"
	"canewright/engine/recipe"
)

// taking is the readings of one station that belong together: of one visit, and
// with no stroke made there between them.
type taking struct {
	slot, stage, visit int
	list               []ReadingTaken
	at                 time.Time
	who                string
	kept               bool  // no new readings: those of an earlier visit count
	split              bool  // a stroke was made within the visit: what was said then is of more readings
	cut                []int // strokes made there since, by their place in the history
	since              int   // how many they are
}

func (t *taking) final() ReadingTaken { return t.list[len(t.list)-1] }

func (t *taking) sum() (sum int64, n int) {
	for _, r := range t.list {
		sum += r.Q
	}
	return sum, len(t.list)
}

// uncertainty is the standard uncertainty of the mean, as it was said, else by
// the gauge's step and error; own is what is left without the gauge's own error,
// which all readings with it share. In quanta.
func (t *taking) uncertainty(b *recipe.Bound) (u, own float64) {
	last := t.final()
	kind := b.Slots[t.slot].Dimension.Kind
	var all []quantity.Entered
	for _, r := range t.list {
		all = append(all, entered(r, kind))
	}
	var m recipe.Measure // a tool of nothing where none is named
	if use, _ := b.Named(last.Tool, false); last.Tool != "" && len(use.Tools) > 0 {
		m.Tool = use.Tools[0]
	}
	shared := 0.0
	if e := m.Tool.Error; e.Q > 0 && e.Kind == kind.Difference() {
		shared = float64(e.Q)
	}
	u = gauging.Of(all, m.Tool, nil).U
	if last.Said != nil && last.Said.U > 0 && !t.split && last.Said.N == len(t.list) {
		u = float64(last.Said.U)
	}
	return u, math.Sqrt(max(0, u*u-shared*shared))
}

// visitOf names a station at a visit of a stage.
type visitOf struct{ slot, stage, visit int }

// strokes are some strokes on one piece, and where they went.
type strokes struct {
	n     int
	who   string
	tools []string // that take cane off, in use then
	where string
}

// history is all that happened to the blade of one piece, in order.
type history struct {
	b       *recipe.Bound
	rounds  []*taking
	newest  map[int]*taking // by slot
	strokes []strokes
	pairs   []rawPair
	skipped map[visitOf]bool
}

// rawPair is what came off one station between two readings of it.
type rawPair struct {
	slot      int
	strokes   []int
	off       int64
	condition string
}

// last is the newest of those that are meant; nil if there is none. The newest
// of a later visit comes before one that was only read later.
func (h *history) last(meant func(*taking) bool) *taking {
	for i := len(h.rounds) - 1; i >= 0; i-- {
		if meant(h.rounds[i]) {
			return h.rounds[i]
		}
	}
	return nil
}

func (s *State) isCell(slot int) bool { return slot >= 0 && s.b.Slots[slot].Cell != nil }

// history reads the events of a piece again: the state keeps the newest
// readings only.
func (s *State) history(p *Piece) *history {
	h := &history{b: s.b, newest: map[int]*taking{}, skipped: map[visitOf]bool{}}
	var swaps []recipe.Swap
	for _, e := range s.events {
		if s.taken[e.Cause] || e.Subject.ID != p.Mark || e.Subject.Whole() {
			continue
		}
		stage, known := s.keys[e.Stage]
		switch b := e.Body.(type) {
		case ReadingTaken:
			if slot := s.b.SlotOf(b.Slot); known && s.isCell(slot) {
				h.read(slot, stage, e, b)
			}
		case Settled:
			if slot := s.b.SlotOf(b.Slot); known && b.Kept && s.isCell(slot) && h.newest[slot] != nil {
				again := *h.newest[slot]
				again.stage, again.visit, again.kept, again.at = stage, e.Visit, true, e.At
				h.add(&again)
			}
		case Skipped:
			if slot := s.b.SlotOf(b.Slot); known && b.What == "measurement" && s.isCell(slot) {
				h.skipped[visitOf{slot, stage, e.Visit}] = true
			}
		case ValueCorrected:
			h.correct(s.b.SlotOf(b.Slot), s.keys[b.At], b)
		case StrokesMade:
			if known {
				h.stroke(e, b, cutters(s.b.Swapped(s.b.Stages[stage].Use, swaps)))
			}
		case Chosen:
			if b.What != "condition" {
				swaps = append(swaps, recipe.Swap{Instead: b.Instead, Name: b.Name})
			}
		case PieceMoved:
			if b.To != e.Stage {
				swaps = nil
			}
		}
	}
	h.settle()
	return h
}

func (h *history) add(t *taking) {
	h.rounds = append(h.rounds, t)
	h.newest[t.slot] = t
}

func (h *history) read(slot, stage int, e Event, r ReadingTaken) {
	old := h.newest[slot]
	if old != nil && !old.kept && old.stage == stage && old.visit == e.Visit && len(old.cut) == 0 {
		old.list, old.at = append(old.list, r), e.At
		return
	}
	fresh := &taking{slot: slot, stage: stage, visit: e.Visit, list: []ReadingTaken{r}, at: e.At, who: e.Who}
	if old != nil && old.stage == stage && old.visit == e.Visit {
		fresh.split = true
	}
	h.add(fresh)
}

// correct puts a reading right wherever it counts.
func (h *history) correct(slot, stage int, c ValueCorrected) {
	for _, t := range h.rounds {
		if t.slot != slot || t.stage != stage || t.visit != c.On {
			continue
		}
		for i, r := range t.list {
			if r.Repeat != c.Repeat {
				continue
			}
			list := slices.Clone(t.list)
			list[i].Text, list[i].Unit, list[i].Bare, list[i].Step, list[i].Q = c.Text, c.Unit, c.Bare, c.Step, c.Q
			if c.Said != nil {
				list[len(list)-1].Said = c.Said
			}
			t.list = list
		}
	}
}

// stroke notes strokes, and at which stations they took cane off. Strokes at no
// known place may have taken it off anywhere.
func (h *history) stroke(e Event, b StrokesMade, tools []string) {
	k := len(h.strokes)
	h.strokes = append(h.strokes, strokes{b.N, e.Who, tools, b.Where})
	for slot, t := range h.newest { // each apart from the others: their order is nothing
		if at := h.where(slot, b.Where); !at.known || h.covers(at, t) {
			t.cut = append(slices.Clip(t.cut), k)
			t.since += b.N
		}
	}
}

// covers reports whether strokes at a place were made at the station of a taking.
func (h *history) covers(at whereabouts, t *taking) bool {
	d, c := h.b.Slots[t.slot].Dimension, h.b.Slots[t.slot].Cell
	if len(at.blades) > 0 && !slices.Contains(at.blades, c.Blade) || len(at.lanes) > 0 && !slices.Contains(at.lanes, c.Lane) {
		return false
	}
	if at.station != "" {
		return at.station == bareStation(c.AtText)
	}
	if !at.tip {
		return true
	}
	for slot, o := range h.newest { // is another one nearer the tip?
		oc := h.b.Slots[slot].Cell
		if h.b.Slots[slot].Dimension == d && o.stage == t.stage && oc.Blade == c.Blade && oc.Lane == c.Lane && oc.From == c.From &&
			(oc.At < c.At) == (c.From == "tip") && oc.At != c.At {
			return false
		}
	}
	return true
}

// settle gathers what came off between readings, when all corrections are known.
func (h *history) settle() {
	previous := map[int]*taking{}
	for _, t := range h.rounds {
		if old := previous[t.slot]; !t.kept && old != nil && len(old.cut) > 0 {
			h.pair(old, t)
		}
		previous[t.slot] = t
	}
}

func (h *history) pair(old, now *taking) {
	a, b := old.final(), now.final()
	if a.Condition != b.Condition || a.Tool != b.Tool {
		return // the change of condition or gauge is in the difference too
	}
	was, n := old.sum()
	is, m := now.sum()
	off := float64(was)/float64(n) - float64(is)/float64(m)
	h.pairs = append(h.pairs, rawPair{now.slot, old.cut, round(off), b.Condition})
}

// cutters are the tools of a stage that take cane off a blade.
func cutters(u recipe.Use) []string {
	var out []string
	for _, t := range u.Tools {
		if slices.Contains(t.Classes, "blade") || slices.Contains(t.Classes, "dust") {
			out = append(out, t.Name)
		}
	}
	return out
}
