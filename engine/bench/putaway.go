package bench

import "canewright/engine/recipe"

// putAway sets a piece aside or throws it away. No note is asked for it: the
// hand lets go of the piece.
func (d *decider) putAway(f focus, w words) ([]Event, error) {
	if len(f.pieces) > 1 {
		return nil, refuse("Type piece and its number first, then "+w.verb+".", "This question is for %s.", d.st.forWhom(f))
	}
	p := f.pieces[0]
	how := recipe.SetAside
	if w.verb == "throw away" {
		how = recipe.ThrownAway
	}
	d.apart(p, PieceMoved{How: string(how), To: d.b.Stages[p.Stage].Key, Why: w.rest})
	d.closeBatch()
	return d.out, nil
}

func (d *decider) bringBack(mark string) ([]Event, error) {
	p := d.st.Piece(mark)
	if p == nil || p.Place != Aside {
		var away []string
		for _, p := range d.st.Pieces {
			if p.Place == Aside {
				away = append(away, p.Mark)
			}
		}
		if len(away) == 0 {
			return nil, refuse("", "No piece is set aside.")
		}
		return nil, refuse("Set aside: "+join(away)+".", "Say which piece to bring back.")
	}
	d.apart(p, PieceMoved{How: broughtBack, To: d.b.Stages[p.Stage].Key})
	return d.out, nil
}
