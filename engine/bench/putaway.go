package bench

import (
	"strings"

	"canewright/engine/recipe"
)

// putAway sets a piece aside or throws it away. No note is asked for it: the
// hand lets go of the piece.
func (d *decider) putAway(f focus, w words, named bool) ([]Event, error) {
	if len(f.pieces) > 1 && !named {
		return nil, refuse("Say which: 7 "+w.verb+".", "This question is for %s.", d.st.forWhom(f))
	}
	how := recipe.SetAside
	if w.verb == "throw away" {
		how = recipe.ThrownAway
	}
	for _, p := range f.pieces {
		d.apart(p, PieceMoved{How: string(how), To: d.b.Stages[p.Stage].Key, Why: w.rest})
	}
	d.closeBatch()
	return d.out, nil
}

func (d *decider) bringBack(mark string) ([]Event, error) {
	p := d.st.byMark(strings.TrimPrefix(mark, "piece "))
	if p != nil && p.Place == Thrown {
		return nil, refuse(p.Mark+" undo takes that back.", "%s was thrown away.", upperFirst(d.st.called(p)))
	}
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
