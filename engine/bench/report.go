package bench

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"canewright/engine/recipe"
)

// Report is what to tell the player about the events of an answer; s is the
// state before them, asked the pieces the question was for: what is said of
// another piece names it.
func Report(s *State, evs []Event, asked []string) []string {
	var out, began []string
	several := len(s.Pieces) > 1
	after := s // the state while the events go by: a split adds pieces
	subjects := map[Subject]bool{}
	for _, e := range evs {
		if !e.Subject.Whole() {
			subjects[e.Subject] = true
		}
	}
	seen := map[string]int{} // lines said alike of several pieces are said once
	say := func(e Event, line string) {
		switch {
		case e.Subject.Whole() || !several:
		case len(subjects) > 1:
			if i, ok := seen[line]; ok {
				out[i] = strings.Replace(out[i], ": "+line, ", "+e.Subject.ID+": "+line, 1)
				return
			}
			seen[line] = len(out)
			line = upperFirst(e.Subject.Kind) + " " + e.Subject.ID + ": " + line
		case !slices.Contains(asked, e.Subject.ID) || len(asked) > 1:
			line = upperFirst(e.Subject.Kind) + " " + e.Subject.ID + ": " + line
		}
		out = append(out, line)
	}
	who := func(e Event) string {
		if several && !e.Subject.Whole() {
			return upperFirst(e.Subject.Kind) + " " + e.Subject.ID + ": "
		}
		return ""
	}
	came := map[string][]string{} // pieces, by the tube they were split from
	for _, e := range evs {
		if b, ok := e.Body.(PieceAdded); ok && b.Tube != "" {
			came[b.Tube] = append(came[b.Tube], b.Mark)
		}
	}
	for _, e := range evs {
		switch b := e.Body.(type) {
		case ReadingTaken:
			if b.Said != nil {
				line := b.Said.Sentence
				if !slices.Contains(asked, e.Subject.ID) || len(asked) > 1 {
					line = s.b.Slots[s.b.SlotOf(b.Slot)].Title() + " " + b.Text + ". " + line
				}
				say(e, line)
			}
		case Settled:
			if b.Kept {
				say(e, "The earlier reading counts.")
			}
			if b.Do != "" {
				out = append(out, who(e)+sentence(b.Do))
			}
		case Looked:
			if b.Do != "" {
				out = append(out, who(e)+sentence(b.Do))
			}
		case RuleJudged:
			switch {
			case len(b.Missing) > 0:
				say(e, fmt.Sprintf("Not judged: %s. Not measured: %s.", b.That, strings.Join(b.Missing, ", ")))
			case b.Said != "":
				say(e, b.Said)
			}
		case NoteAcknowledged:
			if len(out) == 0 && e.Seq == e.Cause && len(evs) > 0 && evs[len(evs)-1].Body.Kind() == b.Kind() {
				out = append(out, "Noted.")
			}
		case TubeSplit:
			line := "Tube " + e.Subject.ID + " gave no piece."
			if c := came[e.Subject.ID]; len(c) > 0 {
				line = "From tube " + e.Subject.ID + ": " + ofPiece + "s " + joinRuns(c) + ". Write the number on each."
			}
			out = append(out, line)
		case PieceMoved:
			if e.Subject.Kind == ofTube && b.To == "" && recipe.How(b.How) == recipe.GoingOn {
				break // its pieces are told
			}
			if line := moved(s, b); line != "" {
				out = append(out, who(e)+line)
			}
		case Chosen:
			say(e, chosenLine(b))
		case StrokesMade:
			say(e, strokesLine(b)+": written down.")
		case ValueCorrected:
			for _, l := range correctedLines(b, after.Piece(e.Subject.ID)) {
				out = append(out, who(e)+l)
			}
		case WaitBegun:
			began = append(began, e.Subject.ID)
		case Remark:
			if !slices.Contains(out, "Written down.") {
				out = append(out, "Written down.")
			}
		case AnswerTakenBack:
			out = append(out, "Taken back: "+s.described(b.Cause)+".")
		case BatchClosed:
			out = append(out, "That was the last one. The batch is closed.")
		}
	}
	switch {
	case len(began) == 0:
	case several && len(began) == 1:
		out = append(out, upperFirst(s.called(s.Piece(began[0])))+": the wait has begun.")
	case several && len(began) < len(s.Pieces):
		out = append(out, upperFirst(s.Piece(began[0]).Kind)+"s "+joinRuns(began)+": the wait has begun.")
	default:
		out = append(out, "The wait has begun.")
	}
	return out
}

func chosenLine(b Chosen) string {
	switch {
	case b.What == "condition":
		return "The cane counts as " + b.Name + " here."
	case b.Instead == "":
		return "Using " + b.Name + " too, at this stage."
	}
	return "Using " + b.Name + " instead of " + b.Instead + ", at this stage."
}

func strokesLine(b StrokesMade) string {
	s := strconv.Itoa(b.N) + " strokes"
	if b.N == 1 {
		s = "1 stroke"
	}
	if b.Where != "" {
		s += ", " + b.Where
	}
	return s
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
		if _, note := e.Body.(NoteAcknowledged); e.Cause != cause || note {
			continue
		}
		who := ""
		if !e.Subject.Whole() && len(s.Pieces) > 1 {
			who = e.Subject.Kind + " " + e.Subject.ID + ", "
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
		case Chosen:
			return who + "using " + b.Name
		case StrokesMade:
			return who + strokesLine(b)
		case ValueCorrected:
			return who + b.Slot + " corrected to " + b.Text
		case TubeSplit:
			return who + "split into " + strconv.Itoa(b.Pieces)
		default:
			return who + e.Stage + ", " + e.Body.Kind()
		}
	}
	return "the last answer"
}
