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
		pieces := "pieces"
		if b.Pieces == 1 {
			pieces = "piece"
		}
		return fmt.Sprintf("begun with %d %s, recipe %s version %d", b.Pieces, pieces, b.Recipe, b.Version)
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
		if b.Accepted {
			return b.Slot + " let stand, " + b.Side
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
		if b.Early {
			return "wait ended early, on purpose"
		}
		return "wait ended"
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
	case Remark:
		return "remark: " + b.Text
	case AnswerTakenBack:
		return fmt.Sprintf("took back answer %d", b.Cause)
	case BatchClosed:
		return "closed"
	}
	return ""
}
