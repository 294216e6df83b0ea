package bench

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"canewright/engine/quantity"
	"canewright/engine/recipe"
)

// Report is what to tell the player about the events of an answer; s is the
// state before them, asked the pieces the question was for: what is said of
// another piece names it.
func Report(s *State, evs []Event, asked []string) []string {
	var began []string
	several := len(s.Pieces) > 1
	subjects := map[Subject]bool{}
	for _, e := range evs {
		if !e.Subject.Whole() {
			subjects[e.Subject] = true
		}
	}
	type told struct {
		kind  string
		marks []string // empty: no name is needed
		line  string
	}
	var lines []told
	say := func(e Event, line string, always bool) {
		t := told{kind: e.Subject.Kind, line: line}
		if several && !e.Subject.Whole() && (always || len(subjects) > 1 || len(asked) != 1 || asked[0] != e.Subject.ID) {
			t.marks = []string{e.Subject.ID}
		}
		for i := range lines { // what is said alike of several is said once
			if lines[i].line == line && lines[i].kind == t.kind && len(lines[i].marks) > 0 == (len(t.marks) > 0) {
				if len(t.marks) > 0 && !slices.Contains(lines[i].marks, e.Subject.ID) {
					lines[i].marks = append(lines[i].marks, e.Subject.ID)
				}
				return
			}
		}
		lines = append(lines, t)
	}
	plain := func(line string) { lines = append(lines, told{line: line}) }
	came := map[string][]string{} // pieces, by the tube they were split from
	for _, e := range evs {
		if b, ok := e.Body.(PieceAdded); ok && b.Tube != "" {
			came[b.Tube] = append(came[b.Tube], b.Mark)
		}
	}
	for _, e := range evs {
		switch b := e.Body.(type) {
		case ReadingTaken:
			named := len(asked) != 1 || asked[0] != e.Subject.ID
			title := s.b.Slots[s.b.SlotOf(b.Slot)].Title()
			switch {
			case b.Said != nil && named:
				line := title + " " + b.Text + ". " + b.Said.Sentence
				if !b.Said.Sure && b.Said.Side != quantity.Inside.String() && !closes(evs, e) {
					line += " It waits: " + e.Subject.ID + " pass counts it as right, " + e.Subject.ID + " done as it is."
				}
				say(e, line, false)
			case b.Said != nil:
				say(e, b.Said.Sentence, false)
			case named || !s.asks(e):
				say(e, title+" "+b.Text+", written down.", false)
			}
		case Settled:
			switch {
			case b.Kept:
				say(e, "the earlier reading counts.", false)
			case b.Passed:
				say(e, "it counts as right.", false)
			}
			if b.Do != "" {
				say(e, sentence(b.Do), true)
			}
		case Skipped:
			if b.What != "work" {
				what := ""
				if i := s.b.SlotOf(b.Slot); b.Slot != "" && i >= 0 {
					what = ": " + s.b.Slots[i].Title()
				}
				say(e, "Left out"+what+"."+s.lastRead(e.Subject, b.Slot), false)
			}
		case Looked:
			if len(subjects) > 1 || len(asked) != 1 || asked[0] != e.Subject.ID {
				say(e, strings.Join(b.Answers, ", ")+".", false)
			}
			if b.Do != "" {
				say(e, sentence(b.Do), true)
			}
		case RuleJudged:
			switch {
			case len(b.Missing) > 0:
				// Of what nobody was to measure, or was measured elsewhere, nothing is
				// said; the record has it.
				if s.leftOut(e.Subject, b.Missing, evs) {
					say(e, fmt.Sprintf("Not judged: %s. Left out: %s.", b.That, strings.Join(b.Missing, ", ")), false)
				}
			case b.Said != "":
				say(e, b.Said, false)
			}
		case NoteAcknowledged:
			if len(lines) == 0 && e.Seq == e.Cause && len(evs) > 0 && evs[len(evs)-1].Body.Kind() == b.Kind() {
				plain("Noted.")
			}
		case TubeSplit:
			line := "Tube " + e.Subject.ID + " gave no piece."
			if c := came[e.Subject.ID]; len(c) > 0 {
				line = "From tube " + e.Subject.ID + ": " + ofPiece + "s " + joinRuns(c) + ". Write the number on each."
			}
			plain(line)
		case PieceMoved:
			if e.Subject.Kind == ofTube && b.To == "" && recipe.How(b.How) == recipe.GoingOn {
				break // its pieces are told
			}
			if line := moved(s, b); line != "" {
				if recipe.How(b.How) == recipe.ThrownAway {
					line += " Not so? " + e.Subject.ID + " undo."
				}
				say(e, line, true)
			}
		case Chosen:
			say(e, chosenLine(b), false)
		case StrokesMade:
			say(e, strokesLine(b)+": written down.", false)
		case RemedyTried:
			say(e, "Trying: "+sentence(b.Do), false)
		case RemedyJudged:
			if b.Helped == "yes" {
				say(e, "Good. Written down.", false)
			} else {
				say(e, "Written down; it will not be advised again for this piece.", false)
			}
		case ValueCorrected:
			say(e, s.correctedLine(b, s.Piece(e.Subject.ID)), true)
		case WaitBegun:
			began = append(began, e.Subject.ID)
		case Remark:
			say(e, "written down.", false)
		case AnswerTakenBack:
			plain("Taken back: " + strings.TrimSuffix(s.described(b.Cause), ".") + ".")
		case BatchClosed:
			plain("That was the last one. The batch is closed.")
		}
	}
	switch {
	case len(began) == 0:
	case several && len(began) == 1:
		plain(upperFirst(s.called(s.Piece(began[0]))) + ": the wait has begun.")
	case several && len(began) < len(s.Pieces):
		plain(upperFirst(s.Piece(began[0]).Kind) + "s " + joinRuns(began) + ": the wait has begun.")
	default:
		plain("The wait has begun.")
	}
	var out []string
	for _, t := range lines {
		switch len(t.marks) {
		case 0:
			out = append(out, t.line)
		case 1:
			out = append(out, upperFirst(t.kind)+" "+t.marks[0]+": "+t.line)
		default:
			out = append(out, upperFirst(t.kind)+"s "+joinRuns(t.marks)+": "+t.line)
		}
	}
	return out
}

// asks reports whether the stage of an event asks for its reading.
func (s *State) asks(e Event) bool {
	r := e.Body.(ReadingTaken)
	stage, ok := s.keys[e.Stage]
	return ok && slices.ContainsFunc(s.b.Stages[stage].Measures, func(m recipe.Measure) bool { return s.b.Slots[m.Slot].Name == r.Slot })
}

// closes reports whether an answer also settles the reading of one of its events.
func closes(evs []Event, reading Event) bool {
	r := reading.Body.(ReadingTaken)
	return slices.ContainsFunc(evs, func(e Event) bool {
		b, ok := e.Body.(Settled)
		return ok && e.Subject == reading.Subject && b.Slot == r.Slot
	})
}

// lastRead is what a skipped slot read at an earlier visit, where that was not
// right.
func (s *State) lastRead(sub Subject, slot string) string {
	p := s.Piece(sub.ID)
	i := s.b.SlotOf(slot)
	if p == nil || i < 0 || len(p.Last[i].List) == 0 || wasRight(p.Last[i]) {
		return ""
	}
	last := p.Last[i].List[len(p.Last[i].List)-1]
	if last.Said == nil || last.Said.Sentence == "" {
		return ""
	}
	return " It last read " + last.Text + ": " + strings.ToLower(last.Said.Sentence[:1]) + strings.TrimSuffix(last.Said.Sentence[1:], ".") + ". " + sub.ID + " aside holds it."
}

// leftOut reports whether one of these slots was skipped on purpose.
func (s *State) leftOut(sub Subject, slots []string, now []Event) bool {
	for _, evs := range [][]Event{s.events, now} {
		for _, e := range evs {
			if b, ok := e.Body.(Skipped); ok && e.Subject == sub && slices.Contains(slots, b.Slot) && !s.taken[e.Cause] {
				return true
			}
		}
	}
	return false
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

// described says in a few words what an answer was, and for whom.
func (s *State) described(cause uint64) string {
	var who []string
	kind, what := "", ""
	for _, e := range s.events {
		if _, note := e.Body.(NoteAcknowledged); e.Cause != cause || note {
			continue
		}
		if !e.Subject.Whole() && (kind == "" || kind == e.Subject.Kind) && !slices.Contains(who, e.Subject.ID) {
			who, kind = append(who, e.Subject.ID), e.Subject.Kind
		}
		if what == "" {
			what = s.inWords(e)
		}
	}
	switch {
	case what == "":
		return "the last answer"
	case len(who) == 0 || len(s.Pieces) == 1:
		return what
	case len(who) > 1:
		kind += "s"
	}
	return kind + " " + joinRuns(who) + ", " + what
}

// inWords is one event of an answer that is taken back.
func (s *State) inWords(e Event) string {
	title := func(slot string) string {
		if i := s.b.SlotOf(slot); i >= 0 {
			return s.b.Slots[i].Title()
		}
		return slot
	}
	switch b := e.Body.(type) {
	case ReadingTaken:
		return title(b.Slot) + " " + b.Text
	case Settled:
		if b.Kept {
			return title(b.Slot) + " kept"
		}
		if b.Passed {
			return title(b.Slot) + " taken as right"
		}
		return title(b.Slot) + " let stand"
	case Skipped:
		if b.Slot != "" {
			return title(b.Slot) + " left out"
		}
		return e.Stage + ", left out"
	case Looked:
		return b.Question + " " + strings.Join(b.Answers, ", ")
	case PieceMoved:
		return b.How
	case Remark:
		return "a remark"
	case Chosen:
		return "using " + b.Name
	case StrokesMade:
		return strokesLine(b)
	case SymptomsNoted:
		return "what is wrong"
	case RemedyTried:
		return "trying " + b.Name
	case RemedyJudged:
		return b.Name + ", whether it helped"
	case ValueCorrected:
		return title(b.Slot) + " corrected to " + b.Text
	case TubeSplit:
		return "split into " + strconv.Itoa(b.Pieces)
	case Done:
		return e.Stage + ", done"
	case WaitEnded:
		return "the wait is over"
	}
	return e.Stage + ", " + e.Body.Kind()
}
