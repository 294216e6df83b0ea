package bench

import (
	"slices"
	"strconv"
	"strings"

	"canewright/engine/recipe"
)

// Written is what stands in a piece's boxes at a stage, in the order of
// recipe.Bound.Boxes: readings as typed, the numbers of answers, "done", the
// pieces of a tube, "-" for what was left out. Empty are the boxes that are
// still to be filled; nil where all are. It is of the newest visit; where the
// piece is to do the stage again, of none.
func (s *State) Written(p *Piece, stage int) []string {
	boxes, key := s.b.Boxes(stage, p.Number), s.b.Stages[stage].Key
	newest := 0
	mine := func(e Event) bool {
		return !s.taken[e.Cause] && !e.Subject.Whole() && e.Subject.ID == p.Mark && e.Stage == key
	}
	for _, e := range s.events {
		switch e.Body.(type) {
		case ReadingTaken, Settled, Looked, Done, TubeSplit, Skipped:
			if mine(e) {
				newest = max(newest, e.Visit)
			}
		}
	}
	if newest == 0 || p.Stage == stage && p.Visit > newest {
		return nil
	}
	read, kept, left := map[int][]string{}, map[int]bool{}, map[string]bool{}
	look, work, pieces := "", "", ""
	for _, e := range s.events {
		if c, ok := e.Body.(ValueCorrected); ok && !s.taken[e.Cause] && e.Subject.ID == p.Mark && c.At == key && c.On == newest {
			if all := read[s.b.SlotOf(c.Slot)]; c.Repeat >= 1 && c.Repeat <= len(all) {
				all[c.Repeat-1] = c.Text
			}
		}
		if !mine(e) || e.Visit != newest {
			continue
		}
		switch b := e.Body.(type) {
		case ReadingTaken:
			read[s.b.SlotOf(b.Slot)] = append(read[s.b.SlotOf(b.Slot)], b.Text)
		case Settled:
			kept[s.b.SlotOf(b.Slot)] = b.Kept
		case Looked:
			look = s.answerNumbers(stage, b.Answers)
		case Done:
			work = "done"
		case TubeSplit:
			pieces = strconv.Itoa(b.Pieces)
		case Skipped:
			left[b.What+b.Slot] = true
		}
	}
	var out []string
	for _, box := range boxes {
		text := ""
		switch box.Kind {
		case recipe.BoxReading:
			slot := s.b.Stages[stage].Measures[box.Measure].Slot
			if all := read[slot]; box.Turn <= len(all) {
				text = all[box.Turn-1]
			} else if kept[slot] {
				text = "kept"
			} else if left["measurement"+s.b.Slots[slot].Name] {
				text = "-"
			}
		case recipe.BoxLook:
			if text = look; text == "" && left["look"] {
				text = "-"
			}
		case recipe.BoxPieces:
			text = pieces
		default:
			if text = work; text == "" && left["work"] {
				text = "-"
			}
		}
		out = append(out, text)
	}
	if !slices.ContainsFunc(out, func(t string) bool { return t != "" }) {
		return nil
	}
	return out
}

// answerNumbers are the numbers a look's answers have on the card: "1,3".
func (s *State) answerNumbers(stage int, answers []string) string {
	l := s.b.Stages[stage].Look
	var out []string
	for _, a := range answers {
		for i := range l.Answers {
			if l.Answers[i].Word == a {
				out = append(out, strconv.Itoa(i+1))
			}
		}
	}
	return strings.Join(out, ",")
}
