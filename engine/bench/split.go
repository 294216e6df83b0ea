package bench

import (
	"strconv"
	"strings"

	"canewright/engine/recipe"
)

// split ends a tube's way: it says how many pieces came out, and they begin
// theirs.
func (d *decider) split(f focus, st *recipe.Stage, text string, w words) error {
	n := st.Into
	switch w.verb {
	case "", "done":
	case "?":
		v, err := strconv.Atoi(strings.TrimSuffix(strings.TrimSuffix(strings.TrimSpace(text), " pieces"), " piece"))
		if err != nil || v < 0 || v > recipe.MostPerTube {
			return refuse("Type how many, 0 to "+strconv.Itoa(recipe.MostPerTube)+", or Enter for "+strconv.Itoa(st.Into)+".", "%q is not a number of pieces.", clip(text))
		}
		n = v
	default:
		return refuse("Type how many, or Enter for "+strconv.Itoa(st.Into)+".", "How many pieces came out?")
	}
	for _, tube := range f.pieces {
		d.of(tube, TubeSplit{Pieces: n})
		d.advance(tube)
		if tube.Place != Finished {
			continue // a rule of the stage sent it elsewhere
		}
		number := d.st.count(ofPiece)
		for k := range n {
			mark := d.st.freeMark(number + k + 1)
			d.emit(Subject{ofPiece, mark}, "", 0, PieceAdded{Mark: mark, Number: number + k + 1, Tube: tube.Mark})
		}
	}
	return nil
}

// count is the highest number of a kind: one that was taken back is not given
// again while a later one stands.
func (s *State) count(kind string) int {
	n := 0
	for _, p := range s.Pieces {
		if p.Kind == kind {
			n = max(n, p.Number)
		}
	}
	return n
}

// freeMark is the number itself, or the next one that no piece bears.
func (s *State) freeMark(n int) string {
	for {
		if mark := strconv.Itoa(n); s.Piece(mark) == nil {
			return mark
		}
		n++
	}
}
