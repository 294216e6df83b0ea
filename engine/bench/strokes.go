package bench

import (
	"fmt"
	"strings"
)

// StrokePair is what some strokes took off a place, told by the readings before
// and after them.
type StrokePair struct {
	Piece     string `json:"piece"`
	Who       string `json:"who,omitempty"`
	Tool      string `json:"tool"`
	Dimension string `json:"dimension"`
	Condition string `json:"condition,omitempty"`
	Where     string `json:"where"`    // as written, of the last strokes
	Strokes   int    `json:"strokes"`  // at each station of the place
	Off       int64  `json:"off"`      // mean over the stations, quanta
	Stations  int    `json:"stations"` // read before and after
	Both      bool   `json:"both"`     // no blade was named, or both: they are on the blades together
}

// StrokePairs are all pairs of a batch that can be told, in order. Strokes at no
// known place, of two people, with one of several tools, or uneven on the two
// sides of a lane that is read as one, tell nothing.
func StrokePairs(s *State) []StrokePair {
	var out []StrokePair
	for _, p := range s.Pieces {
		out = append(out, s.history(p).strokePairs(p.Mark)...)
	}
	return out
}

// where reads a place with the words of a slot's grid.
func (h *history) where(slot int, text string) whereabouts {
	g := h.b.Slots[slot].Dimension.Grid
	return whereOn(g.Blades, g.Lanes, text)
}

func (h *history) strokePairs(mark string) []StrokePair {
	type place struct {
		pair StrokePair
		sum  int64
	}
	var places []*place
	byKey := map[string]*place{}
	for _, r := range h.pairs {
		d := h.b.Slots[r.slot].Dimension.Name
		key := fmt.Sprint(d, r.condition, r.strokes)
		at := byKey[key]
		if at == nil {
			pair, ok := h.counted(r)
			if !ok {
				continue
			}
			pair.Piece, pair.Dimension, pair.Condition = mark, d, r.condition
			at = &place{pair: pair}
			byKey[key] = at
			places = append(places, at)
		}
		at.sum += r.off
		at.pair.Stations++
	}
	var out []StrokePair
	for _, at := range places {
		at.pair.Off = round(float64(at.sum) / float64(at.pair.Stations))
		out = append(out, at.pair)
	}
	return out
}

// counted counts the strokes of a pair; ok is false where they tell nothing.
func (h *history) counted(r rawPair) (StrokePair, bool) {
	first := &h.strokes[r.strokes[0]]
	pair := StrokePair{Who: first.who, Tool: first.cutter(), Where: first.where}
	sides := map[string]int{}
	for i, k := range r.strokes {
		st := &h.strokes[k]
		at := h.where(r.slot, st.where)
		both := len(at.blades) != 1
		if !at.known || pair.Tool == "" || st.cutter() != pair.Tool || st.who != pair.Who || i > 0 && both != pair.Both {
			return pair, false
		}
		pair.Both, pair.Where = both, st.where
		if at.side == "both" {
			at.side = ""
		}
		sides[at.side] += st.n
	}
	left, right, whole := sides["left"], sides["right"], sides[""]
	switch {
	case whole > 0 && left+right > 0, left > 0 && right > 0 && left != right:
		return pair, false
	default:
		pair.Strokes = max(left, right, whole)
	}
	return pair, pair.Strokes > 0
}

// cutter is the tool some strokes were made with: the one their text names,
// else the only one in use; "" where that is not plain.
func (st *strokes) cutter() string {
	text := " " + strings.ToLower(st.where) + " "
	for _, t := range st.tools {
		if strings.Contains(text, " "+strings.ToLower(t)+" ") {
			return t
		}
	}
	if len(st.tools) == 1 {
		return st.tools[0]
	}
	return ""
}

// Cutter is the tool that takes cane off at the sheet's stage; "" where there is
// none or more than one.
func (sh *Sheet) Cutter() string {
	if len(sh.cutters) != 1 {
		return ""
	}
	return sh.cutters[0]
}
