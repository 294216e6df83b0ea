package bench

import (
	"fmt"
	"strings"

	"canewright/engine/recipe"
)

// Report is what to tell the player about the events of an answer; s is the
// state before them.
func Report(s *State, evs []Event) []string {
	var out, began []string
	several := len(s.Pieces) > 1
	for _, e := range evs {
		who := ""
		if several && e.Subject.Kind == "piece" {
			who = "Piece " + e.Subject.ID + ": "
		}
		switch b := e.Body.(type) {
		case ReadingTaken:
			if b.Said != nil {
				out = append(out, b.Said.Sentence)
			}
		case Settled:
			if b.Do != "" {
				out = append(out, who+sentence(b.Do))
			}
		case Looked:
			if b.Do != "" {
				out = append(out, who+sentence(b.Do))
			}
		case RuleJudged:
			switch {
			case len(b.Missing) > 0:
				out = append(out, fmt.Sprintf("Not judged: %s. Not measured: %s.", b.That, strings.Join(b.Missing, ", ")))
			case b.Said != "":
				out = append(out, b.Said)
			}
		case NoteAcknowledged:
			if len(out) == 0 && e.Seq == e.Cause && len(evs) > 0 && evs[len(evs)-1].Body.Kind() == b.Kind() {
				out = append(out, "Noted.")
			}
		case PieceMoved:
			if line := moved(s, b); line != "" {
				out = append(out, who+line)
			}
		case WaitBegun:
			began = append(began, e.Subject.ID)
		case Remark:
			out = append(out, "Written down.")
		case AnswerTakenBack:
			out = append(out, "Taken back: "+s.described(b.Cause)+".")
		case BatchClosed:
			out = append(out, "That was the last one. The batch is closed.")
		}
	}
	switch {
	case len(began) == 0:
	case len(began) == 1 && several:
		out = append(out, "Piece "+began[0]+": the wait has begun.")
	default:
		out = append(out, "The wait has begun.")
	}
	return out
}

func moved(s *State, m PieceMoved) string {
	line := ""
	switch recipe.How(m.How) {
	case recipe.GoingOn:
		if m.To == "" {
			return "finished."
		}
		return ""
	case recipe.OnceMore:
		line = "once more"
	case recipe.BackTo:
		line = "back to " + m.To
	case recipe.Resting:
		line = "rests"
	default:
		line = m.How
	}
	if m.Do != "" {
		line += ": " + m.Do
	}
	if !strings.HasSuffix(line, ".") {
		line += "."
	}
	if m.Why != "" {
		line += " (" + m.Why + ")"
	}
	return line
}

// described says in a few words what an answer was.
func (s *State) described(cause uint64) string {
	for _, e := range s.events {
		if e.Cause != cause {
			continue
		}
		who := ""
		if e.Subject.Kind == "piece" && len(s.Pieces) > 1 {
			who = "piece " + e.Subject.ID + ", "
		}
		switch b := e.Body.(type) {
		case ReadingTaken:
			return who + b.Slot + " " + b.Text
		case Settled:
			return who + b.Slot + " let stand"
		case Looked:
			return who + strings.Join(b.Answers, ", ")
		case PieceMoved:
			return who + b.How
		case Remark:
			return who + "a remark"
		default:
			return who + e.Stage + ", " + e.Body.Kind()
		}
	}
	return "the last answer"
}
