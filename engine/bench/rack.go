package bench

import (
	"time"

	"canewright/engine/recipe"
)

// Rack lists where each piece is and since when; pieces that stand alike are
// drawn together: "pieces 1 to 8: rest the blank, waiting, since 14 d".
func Rack(s *State, now time.Time) []string {
	var order []string
	marks, kind := map[string][]string{}, map[string]string{}
	for _, p := range s.Pieces {
		if p.Kind == ofTube && p.Place == Finished {
			continue // it lives on in its pieces
		}
		line := s.stands(p, now)
		key := p.Kind + line
		if marks[key] == nil {
			order = append(order, key)
			kind[key] = p.Kind
		}
		marks[key] = append(marks[key], p.Mark)
	}
	var out []string
	for _, key := range order {
		who := kind[key] + " "
		if len(marks[key]) > 1 {
			who = kind[key] + "s "
		}
		out = append(out, who+joinRuns(marks[key])+": "+key[len(kind[key]):])
	}
	return out
}

// stands says where a piece is.
func (s *State) stands(p *Piece, now time.Time) string {
	if p.Place == Finished {
		return "finished " + Since(p.Since, now)
	}
	line := s.b.Stages[p.Stage].Name
	if p.Place == AtWork {
		return line + ", come " + Since(p.Since, now)
	}
	line += ", " + string(p.Place) + " " + Since(p.Since, now)
	if (p.Place == Aside || p.Place == Thrown) && p.Why != "" {
		line += " (" + p.Why + ")"
	}
	return line
}

// NextEnd is when the next running wait reaches its least time, or where none
// is stated its usual one, after now, and what to say then. It is no gate: the
// player says when a wait is over.
func (s *State) NextEnd(now time.Time) (at time.Time, say string, ok bool) {
	var marks []string
	var stage int
	for _, p := range s.Pieces {
		if p.Place != InWait {
			continue
		}
		w := s.b.Stages[p.Stage].Wait
		ms := w.Least
		if ms == 0 {
			ms = w.Usual
		}
		end := p.Since.Add(time.Duration(ms) * time.Millisecond)
		if ms == 0 || !end.After(now) {
			continue
		}
		switch {
		case !ok || end.Before(at):
			at, ok, stage, marks = end, true, p.Stage, []string{p.Mark}
		case end.Equal(at) && p.Stage == stage:
			marks = append(marks, p.Mark)
		}
	}
	if !ok {
		return at, "", false
	}
	st := s.b.Stages[stage]
	text := st.Wait.LeastText
	if st.Wait.Least == 0 {
		text = st.Wait.UsualText
	}
	who := ""
	if len(s.Pieces) > 1 {
		kind := s.Piece(marks[0]).Kind
		who = ", " + kind + " " + marks[0]
		if len(marks) > 1 {
			who = ", " + kind + "s " + joinRuns(marks)
		}
	}
	if st.Wait.Least == recipe.Overnight && text == "overnight" {
		text = "the night"
	}
	return at, upperFirst(st.Name) + who + ": " + text + " is over.", true
}
