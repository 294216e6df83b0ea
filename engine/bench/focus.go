package bench

import "canewright/engine/recipe"

// step is what is asked of a piece next.
type step int

const (
	stepNone    step = iota // nothing: the stage can be finished
	stepMeasure             // a reading is missing
	stepSettle              // enough readings, unsure: another one, or let it stand
	stepLook
	stepInto // into how many pieces the tube was split
	stepWork // the stage only says do
	stepWait
	stepRest
)

// step of a piece that is still under way, and the measurement it is at.
func (s *State) stepOf(p *Piece) (step, int) {
	switch p.Place {
	case InWait:
		return stepWait, -1
	case AtRest:
		return stepRest, -1
	case AtWork:
	default:
		return stepNone, -1
	}
	st := &s.b.Stages[p.Stage]
	measured := false
	for i, m := range st.Measures {
		if !m.Each.For(p.Number) {
			continue
		}
		measured = true
		if _, closed := p.Closed[m.Slot]; closed {
			continue
		}
		if len(p.Open[m.Slot]) >= m.Repeat {
			return stepSettle, i
		}
		if j := offFirst(p, st, i); j >= 0 {
			return stepMeasure, j
		}
		return stepMeasure, i
	}
	switch {
	case st.Look != nil && !p.Looked:
		return stepLook, -1
	case st.Into > 0 && !p.Worked:
		return stepInto, -1
	case st.Look == nil && !measured && !p.Worked:
		return stepWork, -1
	}
	return stepNone, -1
}

// offFirst is the first open station of a blade that was off at the visit
// before: what was worked on is measured first. -1 where there is none.
func offFirst(p *Piece, st *recipe.Stage, from int) int {
	if st.Measures[from].Group == 0 || p.Visit < 2 {
		return -1
	}
	for i := from; i < len(st.Measures); i++ {
		m := &st.Measures[i]
		_, closed := p.Closed[m.Slot]
		last, read := p.Last[m.Slot]
		if m.Group == st.Measures[from].Group && !closed && len(p.Open[m.Slot]) == 0 && m.Each.For(p.Number) && read && wasOff(last) {
			return i
		}
	}
	return -1
}

// Asking is the slot the question wants a reading of.
func (s *State) Asking(mark string) (slot int, ok bool) {
	f := s.focusOn(mark)
	if f.stage < 0 || f.measure < 0 {
		return -1, false
	}
	return s.b.Stages[f.stage].Measures[f.measure].Slot, true
}

func (p *Piece) underWay() bool {
	return p.Place == AtWork || p.Place == InWait || p.Place == AtRest
}

// focus is the pieces the next question is for. They are at one stage and at
// one step. Empty when nothing is under way.
type focus struct {
	pieces  []*Piece
	stage   int
	step    step
	measure int
}

// focusOn picks the piece the player named, or the one furthest behind among
// those that can be worked; then adds the others that one answer serves too: a
// stage that only says do, a wait, a stage of the whole batch.
func (s *State) focusOn(mark string) focus {
	var first *Piece
	if p := s.byMark(mark); p != nil && p.underWay() {
		first = p
	}
	if first == nil {
		for _, working := range []bool{true, false} {
			for _, p := range s.Pieces {
				if p.underWay() && (p.Place == AtWork) == working && (first == nil || p.Stage < first.Stage) {
					first = p
				}
			}
			if first != nil {
				break
			}
		}
		mark = ""
	}
	if first == nil {
		return focus{stage: -1, measure: -1}
	}
	f := focus{stage: first.Stage}
	f.step, f.measure = s.stepOf(first)
	batch := s.b.Stages[f.stage].Each.Batch
	shared := mark == "" && (batch || f.step == stepWork || f.step == stepWait)
	for _, p := range s.Pieces {
		if p == first {
			f.pieces = append(f.pieces, p)
			continue
		}
		if !shared || !p.underWay() || p.Stage != f.stage {
			continue
		}
		if st, m := s.stepOf(p); st == f.step && m == f.measure {
			f.pieces = append(f.pieces, p)
		}
	}
	return f
}

func (f focus) marks() []string {
	var out []string
	for _, p := range f.pieces {
		out = append(out, p.Mark)
	}
	return out
}

// UnderWay lists the marks of pieces that are neither finished nor away.
func (s *State) UnderWay() []string {
	var out []string
	for _, p := range s.Pieces {
		if p.underWay() {
			out = append(out, p.Mark)
		}
	}
	return out
}

// all reports whether f is for every piece under way.
func (s *State) all(f focus) bool {
	n := 0
	for _, p := range s.Pieces {
		if p.underWay() && p.Kind == f.pieces[0].Kind {
			n++
		}
	}
	return len(f.pieces) == n
}
