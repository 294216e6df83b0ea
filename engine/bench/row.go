package bench

import (
	"strconv"
	"strings"
	"time"

	"canewright/engine/recipe"
)

// row is a line of the paper card being entered: what follows its readings
// waits until the whole line is read.
type row struct {
	best recipe.Outcome
	why  string
}

func (r *row) stash(o recipe.Outcome, why string) {
	if weight(o.How) > weight(r.best.How) {
		r.best, r.why = o, why
	}
}

// enterRow enters a row of the card for one piece: its boxes at its stage, in
// the card's order. All of it or nothing.
func (d *decider) enterRow(screen focus, p *Piece, text string) ([]Event, error) {
	st := &d.b.Stages[p.Stage]
	f := focus{pieces: []*Piece{p}, stage: p.Stage}
	due, err := d.dueFor(f)
	if err != nil {
		return nil, err
	}
	if len(due.ask) > 0 || len(due.show) > 0 && (screen.stage != p.Stage || len(p.Swaps) > 0) {
		return nil, refuse("Turn to it first: piece "+p.Mark+".", "A safety note comes first for %s.", d.st.called(p))
	}
	for _, n := range due.show {
		d.noted(f, n, "shown; the answer to "+n.Under+" counts for it")
	}
	if err := d.inOrder(f.pieces); err != nil {
		return nil, err
	}
	boxes := d.b.Boxes(p.Stage, p.Number)
	fields := rowFields(text)
	if len(fields) > len(boxes) {
		return nil, refuse("The boxes here: "+strings.Join(d.st.boxNames(p, boxes), ", ")+". Of an answer of several words type the number, or put ; between the boxes.",
			"%d boxes are filled, %s has %d at %s.", len(fields), d.st.called(p), len(boxes), st.Name)
	}
	d.row = &row{best: recipe.Outcome{How: recipe.GoingOn}}
	for i, text := range fields {
		f.step, f.measure = d.st.stepOf(p)
		if err := d.box(f, st, boxes[i], text); err != nil {
			if r, ok := err.(*Refusal); ok {
				r.Message = "Box " + strconv.Itoa(i+1) + ", " + d.st.boxName(st, boxes[i], false) + ": " + r.Message
				r.Hint = strings.TrimSpace(r.Hint + " Nothing of this line is kept.")
			}
			return nil, err
		}
	}
	if len(d.out) == 0 {
		return nil, refuse("The boxes here: "+strings.Join(d.st.boxNames(p, boxes), ", ")+".", "There is nothing new in this line.")
	}
	ended := d.row
	d.row = nil
	if ended.best.How != recipe.GoingOn {
		d.move(p, ended.best, ended.why)
	} else if p.Place == AtWork && d.b.Stages[p.Stage].Key == st.Key {
		d.advance(p)
	}
	d.closeBatch()
	return d.out, nil
}

// rowOf takes the piece a row of the card is for: its mark stands first, before
// a blank, a colon or a semicolon.
func (s *State) rowOf(a Answer) (marks []string, rest string) {
	if !a.Later {
		return nil, a.Text
	}
	text := strings.TrimSpace(a.Text)
	end := strings.IndexAny(text, " :;")
	if end < 0 {
		return nil, a.Text
	}
	if p := s.byMark(text[:end]); p != nil {
		return []string{p.Mark}, strings.TrimSpace(text[end+1:])
	}
	return nil, a.Text
}

// rowFields are the fields of a line: between blanks, or between semicolons
// where there are any, so that a fraction can hold a blank.
func rowFields(text string) []string {
	if !strings.Contains(text, ";") {
		return strings.Fields(text)
	}
	var out []string
	for _, f := range strings.Split(text, ";") {
		out = append(out, strings.TrimSpace(f))
	}
	return out
}

// box enters one box.
func (d *decider) box(f focus, st *recipe.Stage, b recipe.Box, text string) error {
	p := f.pieces[0]
	empty := text == "-" || text == "−" || text == ""
	switch b.Kind {
	case recipe.BoxReading:
		m := &st.Measures[b.Measure]
		if _, closed := p.Closed[m.Slot]; closed || len(p.Open[m.Slot]) >= b.Turn {
			if empty {
				return nil
			}
			return refuse("Put - in its box, or use correct.", "It is read already.")
		}
		if !empty {
			return d.reading(focus{f.pieces, f.stage, stepMeasure, b.Measure}, m, text, words{"?", text})
		}
		if b.Turn < m.Repeat {
			return nil // a repeat that was left out
		}
		if len(p.Open[m.Slot]) > 0 {
			return refuse("Give all its readings, or none.", "%d of %d readings are there.", len(p.Open[m.Slot]), m.Repeat)
		}
		return d.reading(focus{f.pieces, f.stage, stepMeasure, b.Measure}, m, "", words{verb: "skip"})
	case recipe.BoxLook:
		if p.Looked {
			if empty {
				return nil
			}
			return refuse("Put - in its box.", "It is answered already.")
		}
		if empty {
			return d.looked(f, st, "", words{verb: "skip"})
		}
		return d.looked(f, st, text, words{"?", text})
	case recipe.BoxPieces:
		if d.row.best.How != recipe.GoingOn {
			return nil // the tube goes elsewhere, and gave no pieces
		}
		r := d.row
		d.row = nil // the last box: the tube leaves, and its pieces come
		err := d.split(f, st, text, parseWords(text))
		d.row = r
		return err
	}
	switch strings.ToLower(text) {
	case "done", "x", "v", "✓", "1", "yes", "y", "ok", "+", "begun":
		d.of(p, Done{})
		return nil
	}
	return refuse("Put done, x or 1 in it, or leave the line out until it is done.", "This box is for a tick.")
}

// rowPiece is the piece a row of the card is for; nil where the answer is none:
// a wait that is over, a word about the piece.
func (s *State) rowPiece(a Answer, marks []string, w words) *Piece {
	if !a.Later || len(marks) != 1 {
		return nil
	}
	p := s.Piece(marks[0])
	at, _ := s.stepOf(p)
	if strings.HasPrefix(w.rest, "+") {
		return nil // strokes
	}
	if p.Place != AtWork || w.verb != "?" && w.verb != "done" || at == stepSettle && w.verb == "done" {
		return nil
	}
	return p
}

// boxNames say what each box takes.
func (s *State) boxNames(p *Piece, boxes []recipe.Box) []string {
	var out []string
	for _, b := range boxes {
		out = append(out, s.boxName(&s.b.Stages[p.Stage], b, true))
	}
	return out
}

func (s *State) boxName(st *recipe.Stage, b recipe.Box, choices bool) string {
	switch b.Kind {
	case recipe.BoxReading:
		m := st.Measures[b.Measure]
		name := s.b.Slots[m.Slot].Title()
		if m.Repeat > 1 {
			name += " (" + strconv.Itoa(b.Turn) + " of " + strconv.Itoa(m.Repeat) + ")"
		}
		return name
	case recipe.BoxLook:
		if choices {
			return st.Look.Question + " " + numbered(st.Look)
		}
		return st.Look.Question
	case recipe.BoxPieces:
		return "how many pieces"
	}
	return "done"
}

// boxGroups draws together the pieces that have the same boxes.
func (s *State) boxGroups(pieces []*Piece) [][]*Piece {
	var out [][]*Piece
	at := map[string]int{}
	for _, p := range pieces {
		key := strings.Join(s.boxNames(p, s.b.Boxes(p.Stage, p.Number)), "\n")
		i, ok := at[key]
		if !ok {
			i = len(out)
			at[key] = i
			out = append(out, nil)
		}
		out[i] = append(out[i], p)
	}
	return out
}

// AskLater is the question where lines of the card are entered: a row of boxes
// for any piece of the stage.
func AskLater(s *State, mark string, notes []Note, now time.Time) Question {
	q := Ask(s, mark, notes, now)
	f := s.focusOn(mark)
	if q.Asked == AskNote || q.Asked == AskNothing || f.pieces[0].Place != AtWork {
		return q
	}
	p := f.pieces[0]
	f.pieces = nil
	for _, o := range s.Pieces {
		if o.Place == AtWork && o.Stage == f.stage {
			f.pieces = append(f.pieces, o)
		}
	}
	q.Asked, q.Pieces, q.For = AskRow, f.marks(), s.forWhom(f)
	q.Prompt, q.Target, q.How, q.Line, q.Grid, q.Taken = "A line for "+q.For+": the mark, then the boxes", "", "", nil, nil, nil
	q.Before, q.Keep, q.Choices = "", false, nil
	// Pieces of one stage may have other boxes: one in four is measured.
	for _, group := range s.boxGroups(f.pieces) {
		lead := ""
		if len(group) < len(f.pieces) {
			lead = group[0].Kind + " " + joinRuns(focus{pieces: group}.marks()) + ": "
		}
		for i, name := range s.boxNames(group[0], s.b.Boxes(p.Stage, group[0].Number)) {
			q.Choices = append(q.Choices, lead+"box "+strconv.Itoa(i+1)+", "+name)
		}
	}
	q.Keys = "for example " + p.Mark + " and its boxes; - for an empty box; @19:40 sets the time"
	return q
}
