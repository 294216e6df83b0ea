package bench

import (
	"fmt"
	"strings"
)

// Told is an event in a few words, for the record; "" for those that say
// nothing to a reader.
func Told(e Event) string {
	switch b := e.Body.(type) {
	case BatchStarted:
		return fmt.Sprintf("begun with %s, recipe %s version %d", begunWith(b), b.Recipe, b.Version)
	case NoteAcknowledged:
		return fmt.Sprintf("%s %s answered: %s", b.Signal, b.ID, b.Answer)
	case ReadingTaken:
		s := b.Slot + " " + b.Text
		if b.Bare && b.Unit != "" {
			s += " " + b.Unit
		}
		if b.Tool != "" {
			s += ", " + b.Tool
		}
		if b.Said != nil {
			s += ": " + b.Said.Sentence
		}
		return s
	case Settled:
		switch {
		case b.Passed:
			return b.Slot + " taken as right by the player, though " + b.Side
		case b.Accepted:
			return b.Slot + " let stand, " + b.Side
		case b.Kept:
			return b.Slot + " kept from an earlier visit"
		}
	case Skipped:
		return strings.TrimSpace("left out: " + strings.TrimSpace(b.What+" "+b.Slot) + " " + b.Why)
	case RuleJudged:
		switch {
		case len(b.Missing) > 0:
			return "not judged: " + b.That + " (not measured: " + strings.Join(b.Missing, ", ") + ")"
		case b.Holds:
			return "holds: " + b.That
		}
		return "does not hold: " + b.That + " (" + strings.Join(b.Inputs, ", ") + ")"
	case Done:
		return "done"
	case Looked:
		return b.Question + " " + strings.Join(b.Answers, ", ")
	case WaitBegun:
		return "wait begun"
	case WaitEnded:
		s := "wait ended"
		if b.Early {
			s += " early, on purpose"
		}
		if b.Why != "" {
			s += " (" + b.Why + ")"
		}
		return s
	case PieceMoved:
		s := b.How
		if b.To != "" && b.To != e.Stage {
			s += ": " + b.To
		}
		if b.To == "" {
			s = "finished"
		}
		if b.Why != "" {
			s += " (" + b.Why + ")"
		}
		return s
	case PieceAdded:
		switch {
		case b.Tube != "":
			return "from tube " + b.Tube
		case b.At != "":
			return "begun elsewhere, taken up at " + b.At
		}
	case TubeSplit:
		return fmt.Sprintf("split into %d", b.Pieces)
	case Chosen:
		switch {
		case b.What == "condition":
			return "counted as " + b.Name + " at " + b.At
		case b.Instead == "":
			return "using " + b.Name + " too at " + b.At
		}
		return "using " + b.Name + " instead of " + b.Instead + " at " + b.At
	case SymptomsNoted:
		return "what is wrong: " + strings.Join(b.Symptoms, ", ")
	case RemedyTried:
		return "tried: " + b.Do + " (" + b.Name + ")"
	case RemedyJudged:
		return b.Name + " helped: " + b.Helped
	case StrokesMade:
		return strokesLine(b)
	case ValueCorrected:
		s := b.Slot + " corrected from " + b.Was + " to " + b.Text
		if b.Said != nil {
			s += ": " + b.Said.Sentence
		}
		return s
	case Remark:
		return "remark: " + b.Text
	case AnswerTakenBack:
		return fmt.Sprintf("took back answer %d", b.Cause)
	case BatchClosed:
		return "closed"
	}
	return ""
}

func begunWith(b BatchStarted) string {
	var parts []string
	for _, c := range []struct {
		n    int
		word string
	}{{b.Tubes, ofTube}, {b.Pieces, ofPiece}} {
		switch {
		case c.n == 1:
			parts = append(parts, "1 "+c.word)
		case c.n > 1:
			parts = append(parts, fmt.Sprintf("%d %ss", c.n, c.word))
		}
	}
	if len(parts) == 0 {
		return "no pieces"
	}
	return strings.Join(parts, " and ")
}
