package bench

import "slices"

// undo takes back the last answer about a piece (mark), or the last of all; where
// the mark is only that of the piece answered for last, and nothing of it is
// left, also the last of all. An answer on which later answers of other pieces rest is refused, and those are
// named.
func (d *decider) undo(s *State, mark string, named bool) ([]Event, error) {
	var cause uint64
	about := map[uint64][]string{} // pieces of each cause still standing
	var order []uint64
	for _, e := range s.events {
		if e.Subject.Whole() || s.taken[e.Cause] {
			continue
		}
		if _, back := e.Body.(AnswerTakenBack); back || e.Cause == 1 {
			continue // cause 1 is the beginning of the batch
		}
		if about[e.Cause] == nil {
			order = append(order, e.Cause)
		}
		if !slices.Contains(about[e.Cause], e.Subject.ID) {
			about[e.Cause] = append(about[e.Cause], e.Subject.ID)
		}
	}
	for _, c := range order {
		if mark == "" || slices.Contains(about[c], mark) {
			cause = c
		}
	}
	switch {
	case cause == 0 && named:
		return nil, refuse("undo alone takes back the last of all.", "There is no answer for %s to take back.", s.called(s.Piece(mark)))
	case cause == 0 && len(order) > 0:
		cause = order[len(order)-1]
	case cause == 0:
		return nil, refuse("", "There is no answer to take back.")
	}
	for _, c := range order {
		if c <= cause {
			continue
		}
		for _, m := range about[c] {
			if slices.Contains(about[cause], m) {
				return nil, refuse("Take that back first: "+m+" undo.", "A later answer for piece %s rests on this one.", m)
			}
		}
	}
	sub := wholeBatch
	if p := s.Piece(about[cause][0]); len(about[cause]) == 1 && p != nil {
		sub = Subject{p.Kind, p.Mark}
	}
	d.out = append(d.out, d.event(sub, "", 0, AnswerTakenBack{Cause: cause}))
	return d.out, nil
}
