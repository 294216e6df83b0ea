package bench

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"canewright/engine/recipe"
)

// Answer is what the player typed, and what they had seen.
type Answer struct {
	Seen  uint64 // Question.Seq: a stale answer is refused
	Mark  string // the piece the player picked; "" for none
	Last  string // the piece last answered for in this window, for undo; "" for any
	Text  string
	Later bool // what was done before is entered now: a line is a row of the card
}

// Moment is when and where an answer is given, and by whom.
type Moment struct {
	At      time.Time // when it happened
	Entered time.Time // when it was typed; zero: the same
	Zone    string
	Here    *time.Location // in which times are told; nil: UTC
	Who     string
}

// NotesFor selects the safety notes for what is taken in hand. An error stops
// the answer. nil selects none.
type NotesFor func(now recipe.Use) ([]Note, error)

func (m Moment) entered() time.Time {
	if m.Entered.IsZero() {
		return m.At
	}
	return m.Entered
}

// Refusal says why an answer was not taken and what to type instead. Nothing
// was recorded.
type Refusal struct {
	Message, Hint string
	Offer         string // what to answer instead, if the player says yes
}

func (r *Refusal) Error() string {
	if r.Hint == "" {
		return r.Message
	}
	return r.Message + " " + r.Hint
}

func refuse(hint, format string, a ...any) error {
	return &Refusal{Message: fmt.Sprintf(format, a...), Hint: hint}
}

// StaleError: the answer was given to a question that another answer has
// overtaken.
type StaleError struct{ Seen, Last uint64 }

func (e *StaleError) Error() string {
	return "this question has been answered meanwhile; here is the new one"
}

// decider collects the events of one answer. It steps a scratch copy of the
// state with each, so that what follows sees what went before.
type decider struct {
	st    *State
	b     *recipe.Bound
	cause uint64
	now   Moment
	out   []Event
	row   *row // of a card, while one is entered
	notes NotesFor
}

func (s *State) decider(now Moment) *decider {
	return &decider{st: s.scratch(), b: s.b, cause: s.Last + 1, now: now}
}

func (d *decider) event(sub Subject, stage string, visit int, body Body) Event {
	return Event{Head: Head{
		Seq: d.st.Last + 1, Cause: d.cause, At: d.now.At, Entered: d.now.entered(), Zone: d.now.Zone, Who: d.now.Who,
		Session: d.st.Session, Subject: sub, Stage: stage, Visit: visit,
	}, Body: body}
}

func (d *decider) emit(sub Subject, stage string, visit int, body Body) {
	e := d.event(sub, stage, visit, body)
	if err := d.st.step(e); err != nil {
		panic(err) // an event made here is at a stage of this recipe
	}
	d.out = append(d.out, e)
}

// of emits an event of a piece at its stage.
func (d *decider) of(p *Piece, body Body) {
	d.emit(Subject{p.Kind, p.Mark}, d.b.Stages[p.Stage].Key, p.Visit, body)
}

// apart emits an event of a piece that is none of its stage's work: ending a
// wait, putting the piece away. No tool is in the hand, so no note precedes it.
func (d *decider) apart(p *Piece, body Body) {
	d.emit(Subject{p.Kind, p.Mark}, "", 0, body)
}

// Beginning is what a batch begins with: tubes, or pieces, the pieces perhaps
// at a later stage.
type Beginning struct {
	Pieces []string // marks
	Tubes  []string
	From   string // stage key of pieces begun elsewhere; "" for the first
}

// Begin makes the first events of a batch.
func Begin(b *recipe.Bound, with Beginning, session string, now Moment) ([]Event, error) {
	s, err := Fold(b, nil)
	if err != nil {
		return nil, err
	}
	if _, known := s.keys[with.From]; with.From != "" && !known {
		return nil, fmt.Errorf("begin batch: the recipe has no stage %q", with.From)
	}
	d := s.decider(now)
	d.emit(wholeBatch, "", 0, BatchStarted{Recipe: b.File.ID, Version: b.File.Version, Pieces: len(with.Pieces), Tubes: len(with.Tubes)})
	d.emit(wholeBatch, "", 0, SessionOpened{ID: session})
	for i, mark := range with.Tubes {
		d.emit(Subject{ofTube, mark}, "", 0, PieceAdded{Mark: mark, Number: i + 1})
	}
	for i, mark := range with.Pieces {
		d.emit(Subject{ofPiece, mark}, "", 0, PieceAdded{Mark: mark, Number: i + 1, At: with.From})
	}
	return d.out, nil
}

// OpenSession makes the event that begins an evening.
func OpenSession(s *State, id string, now Moment) []Event {
	d := s.decider(now)
	d.emit(wholeBatch, "", 0, SessionOpened{ID: id})
	return d.out
}

// CloseSession makes the event that ends it; nil when it is ended already.
func CloseSession(s *State, now Moment) []Event {
	if s.Left {
		return nil
	}
	d := s.decider(now)
	d.emit(wholeBatch, "", 0, SessionClosed{})
	return d.out
}

// Decide turns an answer into events. The error is a *Refusal or a *StaleError,
// or that of notes.
func Decide(s *State, a Answer, notes NotesFor, now Moment) ([]Event, error) {
	if a.Seen != s.Last {
		return nil, &StaleError{a.Seen, s.Last}
	}
	d := s.decider(now)
	d.notes = notes
	f := d.st.focusOn(a.Mark)
	shown, err := d.dueFor(f) // what stands on the screen
	if err != nil {
		return nil, err
	}
	if len(shown.ask) > 0 && shown.ask[0].Accepts(a.Text) {
		return d.acknowledge(f, shown, a.Text) // whatever word it begins with
	}
	marks, text, w, err := d.parse(f, a, len(shown.ask) > 0)
	if err != nil {
		return nil, err
	}
	switch {
	case w.verb == "undo" && len(marks) > 1:
		return nil, refuse("Begin with it: "+marks[0]+" undo.", "One piece's answer is taken back at a time.")
	case w.verb == "undo":
		if len(marks) == 1 {
			return d.undo(s, marks[0], true)
		}
		return d.undo(s, a.Last, false)
	case w.verb == "bring back":
		return d.bringBack(w.rest)
	case w.verb == "correct":
		return d.correct(f, marks, a.Last, w.rest)
	case len(shown.ask) > 0 && !w.anywhere():
		return d.acknowledge(f, shown, a.Text)
	}
	if p := d.st.rowPiece(a, marks, w); p != nil {
		return d.enterRow(f, p, text)
	}
	screen := f.stage
	if marks != nil {
		to, err := d.st.turnTo(f, marks, w, a.Later)
		if err != nil {
			return nil, err
		}
		screen, f = f.stage, to
	} else if f.stage < 0 {
		return nil, refuse("Type bring back and a piece, or quit.", "Nothing is under way.")
	}
	return d.answer(f, screen, marks, text, w)
}

// parse tells which pieces an answer names and what it says of them. At a note
// only what is about a piece whatever is asked of it may name one: the answer to
// the note is in the player's own words.
func (d *decider) parse(f focus, a Answer, atNote bool) (marks []string, text string, w words, err error) {
	if atNote {
		marks, text = d.st.leading(strings.Replace(a.Text, ":", " ", 1))
		if w = parseWords(text); len(marks) > 0 && w.anywhere() {
			return marks, text, w, nil
		}
		return nil, a.Text, parseWords(a.Text), nil
	}
	if marks, text = d.st.rowOf(a); marks == nil {
		if marks, text, err = d.st.addressed(f, a.Text); err != nil {
			return nil, "", w, err
		}
	}
	if p := d.st.byMark(strings.TrimSpace(a.Text)); a.Later && p != nil {
		return nil, "", w, refuse("Its boxes stand behind the mark: "+p.Mark+" 1.31 - 2.", "What of %s?", d.st.called(p))
	}
	w = parseWords(text)
	if behind, left := d.st.leading(w.rest); marks == nil && len(behind) > 0 && left == "" && w.takesMarks() {
		marks, w.rest = behind, "" // aside 3, as well as 3 aside
	}
	if a.Later && len(marks) > 0 && (text == "-" || text == "−") {
		w = words{"?", text} // an empty box; alone on a line it takes back
	}
	if d.st.saidHere(f, text) {
		w = words{"?", text} // dry is an answer here, not the cane
	}
	return marks, text, w, nil
}

// dueFor are the notes that come before an answer for f.
func (d *decider) dueFor(f focus) (dues, error) {
	if f.stage < 0 || d.notes == nil {
		return dues{}, nil
	}
	notes, err := d.notes(d.st.useOf(f))
	if err != nil || f.step == stepWait || f.step == stepRest {
		return dues{}, err
	}
	return d.st.due(notes, d.b.Stages[f.stage].Key, f.pieces), nil
}

// answer is an answer to the question of f.
func (d *decider) answer(f focus, screen int, marks []string, text string, w words) ([]Event, error) {
	if err := d.inOrder(f.pieces); err != nil {
		return nil, err
	}
	switch w.verb {
	case "aside", "throw away":
		return d.putAway(f, w, marks != nil)
	case "using", "wet", "dry":
		return d.chosen(f, w)
	case "advise":
		return d.advise(f, w.rest)
	case "try":
		return d.try(f, w.rest)
	case "helped":
		return d.helped(f, w.rest)
	}
	st := &d.b.Stages[f.stage]
	due, err := d.dueFor(f)
	switch {
	case err != nil:
		return nil, err
	case w.verb == "remark":
		return d.remark(f, w.rest, len(due.ask)+len(due.show) > 0)
	case len(due.ask) > 0, marks != nil && len(due.show) > 0 && !d.onScreen(f, screen):
		// The screen shows the notes of another piece, which takes up something else.
		return nil, refuse("Turn to it first: piece "+f.first()+".", "A safety note comes first for %s.", d.st.called(f.pieces[0]))
	}
	for _, n := range due.show {
		d.noted(f, n, "shown; the answer to "+n.Under+" counts for it")
	}
	if w.verb == "measure" {
		return d.further(f, w.rest, marks != nil)
	}
	if n, where, ok := d.strokes(f, text); ok {
		if len(f.pieces) > 1 && marks == nil {
			return nil, refuse("Say which: "+f.first()+" "+text+".", "This question is for %s.", d.st.forWhom(f))
		}
		for _, p := range f.pieces {
			d.of(p, StrokesMade{N: n, Where: where})
		}
		return d.out, nil
	}
	if err := d.step(f, st, text, w); err != nil {
		return nil, err
	}
	d.closeBatch()
	return d.out, nil
}

// onScreen reports whether the notes for f are those that stand on the screen:
// of its stage, with what is listed there.
func (d *decider) onScreen(f focus, screen int) bool {
	return f.stage == screen && !slices.ContainsFunc(f.pieces, func(p *Piece) bool { return len(p.Swaps) > 0 })
}

// step answers what is asked next of the pieces of f.
func (d *decider) step(f focus, st *recipe.Stage, text string, w words) error {
	switch f.step {
	case stepMeasure, stepSettle:
		return d.reading(f, &st.Measures[f.measure], text, w)
	case stepLook:
		return d.looked(f, st, text, w)
	case stepInto:
		return d.split(f, st, text, w)
	case stepWork:
		return d.worked(f, w)
	case stepWait:
		return d.waited(f, st, w)
	case stepRest:
		return d.rested(f, w)
	}
	return refuse("", "Nothing is asked of %s.", d.st.forWhom(f))
}

// inOrder refuses an answer that is said to have happened before the piece came
// to where it is.
func (d *decider) inOrder(pieces []*Piece) error {
	for _, p := range pieces {
		if p.Moved && d.now.At.Before(p.Since) && !d.now.entered().Equal(d.now.At) {
			return refuse("Give the later time, or take the earlier answer back.", "%s came to %s only at %s.",
				upperFirst(d.st.called(p)), d.b.Stages[p.Stage].Name, clock(p.Since, d.here()))
		}
	}
	return nil
}

// here is when it is typed, in the zone times are told in.
func (d *decider) here() time.Time {
	if d.now.Here == nil {
		return d.now.entered()
	}
	return d.now.entered().In(d.now.Here)
}

// clock is a time of day, with its day where that is another than of near, in
// the zone of near.
func clock(t, near time.Time) string {
	t = t.In(near.Location())
	switch t.Format(time.DateOnly) {
	case near.Format(time.DateOnly):
		return t.Format("15:04")
	case near.AddDate(0, 0, 1).Format(time.DateOnly):
		return "tomorrow " + t.Format("15:04")
	case near.AddDate(0, 0, -1).Format(time.DateOnly):
		return "yesterday " + t.Format("15:04")
	}
	return t.Format("2006-01-02 15:04")
}

func (d *decider) remark(f focus, text string, beforeNotes bool) ([]Event, error) {
	if text == "" {
		return nil, refuse("Write it behind the word: remark a little too dark.", "This remark is empty.")
	}
	for _, p := range f.pieces {
		if f.step == stepWait || f.step == stepRest || beforeNotes {
			d.apart(p, Remark{text}) // no note was answered for it
			continue
		}
		d.of(p, Remark{text})
	}
	return d.out, nil
}

// acknowledge takes the answer to the gravest note for all that stood on the
// screen with it.
func (d *decider) acknowledge(f focus, due dues, text string) ([]Event, error) {
	if !due.ask[0].Accepts(text) {
		return nil, refuse(due.ask[0].Ask, "That does not answer the note; nothing is recorded. Say what protects you.")
	}
	for i, n := range append(due.ask, due.show...) {
		answer := strings.TrimSpace(text)
		if i > 0 {
			answer = "shown; the answer to " + due.ask[0].ID + " counts for it"
		}
		d.noted(f, n, answer)
	}
	return d.out, nil
}

func (d *decider) noted(f focus, n Note, answer string) {
	done := d.now
	d.now.At = d.now.entered() // a note is answered when it is, whenever the work was done
	defer func() { d.now = done }()
	ack := NoteAcknowledged{ID: n.ID, Revision: n.Revision, Signal: n.Signal.String(), Answer: answer}
	if n.Signal != Danger { // it holds for the session
		d.emit(wholeBatch, d.b.Stages[f.stage].Key, f.pieces[0].Visit, ack)
		return
	}
	for _, p := range f.pieces {
		ack.Piece = p.Mark
		d.emit(wholeBatch, d.b.Stages[f.stage].Key, p.Visit, ack)
	}
}

func (d *decider) worked(f focus, w words) error {
	for _, p := range f.pieces {
		switch w.verb {
		case "", "done", "go on":
			d.of(p, Done{})
		case "skip":
			d.of(p, Skipped{What: "work", Why: w.rest})
		default:
			hint := "Enter when it is done, skip to leave it out, ? for help."
			if len(d.b.Stages[f.stage].Measures) > 0 {
				hint = "Others are measured here, this one is not: Enter when it is done."
			}
			if d.b.Stages[f.stage].Wait != nil {
				hint = "Enter when it has begun, skip to leave it out, ? for help."
			}
			return refuse(hint, "This stage asks for no reading.")
		}
		d.advance(p)
	}
	return nil
}

func (d *decider) waited(f focus, st *recipe.Stage, w words) error {
	if w.verb != "" && w.verb != "go on" && w.verb != "done" {
		return refuse("Enter when the wait is over, ? for help.", "This is a wait.")
	}
	var over []*Piece // whose wait may end
	var early *Piece
	for _, p := range f.pieces {
		elapsed := d.now.At.Sub(p.Since).Milliseconds()
		switch {
		case w.verb == "go on" || elapsed >= st.Wait.Least:
			over = append(over, p)
		case early == nil || elapsed < -clockSlack:
			early = p
		}
	}
	if len(over) == 0 {
		if d.now.At.Sub(early.Since).Milliseconds() < -clockSlack {
			return refuse("Type go on when it is over.", "This clock stands before the wait began, so it cannot say how long it was.")
		}
		rested := "It has rested " + strings.TrimSuffix(Since(early.Since, d.now.At), " ago")
		if d.now.At.Sub(early.Since) < time.Minute {
			rested = "It has hardly begun"
		}
		return refuse("Type go on to end the wait now, or quit and come back.", "%s; the recipe says at least %s.", rested, st.Wait.LeastText)
	}
	for _, p := range over {
		d.apart(p, WaitEnded{Stage: st.Key, Early: tooEarly(d.now.At.Sub(p.Since).Milliseconds(), st.Wait.Least), Why: w.rest})
		d.apart(p, d.leaving(p, recipe.Outcome{How: recipe.GoingOn}, ""))
	}
	return nil
}

// tooEarly: a clock that was set back says nothing of how long it was.
func tooEarly(elapsed, least int64) bool { return elapsed >= -clockSlack && elapsed < least }

func (d *decider) rested(f focus, w words) error {
	if w.verb != "" && w.verb != "go on" && w.verb != "done" {
		return refuse("Enter when you take it up again, ? for help.", "This piece rests.")
	}
	for _, p := range f.pieces {
		d.apart(p, WaitEnded{Stage: d.b.Stages[p.Stage].Key})
		d.apart(p, d.leaving(p, recipe.Outcome{How: recipe.OnceMore, Because: p.Why}, ""))
	}
	return nil
}

func (d *decider) looked(f focus, st *recipe.Stage, text string, w words) error {
	if w.verb == "skip" {
		for _, p := range f.pieces {
			d.of(p, Skipped{What: "look", Why: w.rest})
			d.advance(p)
		}
		return nil
	}
	chosen, err := choose(st.Look, text)
	if err != nil {
		return err
	}
	var found []string
	best := recipe.Outcome{How: recipe.GoingOn}
	var do []string
	for _, a := range chosen {
		found = append(found, a.Word)
		if a.Outcome.How == recipe.GoingOn {
			do = append(do, nonEmpty(a.Outcome.Do)...)
		}
		best = stronger(best, a.Outcome)
	}
	for _, p := range f.pieces {
		d.of(p, Looked{Question: st.Look.Question, Answers: found, Do: strings.Join(do, "; ")})
		d.follow(p, best, st.Look.Question+" "+strings.Join(found, ", "))
	}
	return nil
}

// follow does what follows, or lets the piece go as far as it can. In a row of
// the card the rest of the row comes first.
func (d *decider) follow(p *Piece, o recipe.Outcome, why string) {
	switch {
	case d.row != nil:
		d.row.stash(o, why)
	case o.How != recipe.GoingOn:
		d.move(p, o, why)
	default:
		d.advance(p)
	}
}

// weight orders outcomes: where several follow at once, the gravest wins.
func weight(h recipe.How) int {
	return slices.Index([]recipe.How{recipe.GoingOn, recipe.Resting, recipe.OnceMore, recipe.BackTo, recipe.SetAside, recipe.ThrownAway}, h)
}

func stronger(a, b recipe.Outcome) recipe.Outcome {
	if weight(b.How) > weight(a.How) {
		return b
	}
	return a
}

// advance takes a piece as far as it goes without another answer.
func (d *decider) advance(p *Piece) {
	if d.row != nil {
		return
	}
	at, _ := d.st.stepOf(p)
	st := &d.b.Stages[p.Stage]
	if at == stepMeasure || at == stepSettle || at == stepWork || p.Place != AtWork {
		return
	}
	if !p.Ruled && len(st.Rules)+len(st.Derived) > 0 {
		if o, why := d.rules(p, st); o.How != recipe.GoingOn {
			d.move(p, o, why)
			return
		}
	}
	if at == stepLook || at == stepInto {
		return
	}
	if st.Wait != nil {
		d.of(p, WaitBegun{})
		return
	}
	d.move(p, recipe.Outcome{How: recipe.GoingOn}, "")
}

// move ends the visit of a piece.
func (d *decider) move(p *Piece, o recipe.Outcome, why string) {
	d.of(p, d.leaving(p, o, why))
}

// leaving is where a piece goes after an outcome.
func (d *decider) leaving(p *Piece, o recipe.Outcome, why string) PieceMoved {
	from := d.b.Stages[p.Stage].Key
	if o.How == recipe.BackTo && p.Returns[returnKey(from, d.b.Stages[o.To].Key)] >= o.AtMost {
		if why != "" {
			why += "; "
		}
		why += "back at " + d.b.Stages[o.To].Name + " " + often(o.AtMost) + " already"
		o = *o.Then
	}
	m := PieceMoved{How: string(o.How), Do: o.Do, Why: strings.Join(nonEmpty(why, o.Because), ": ")}
	switch o.How {
	case recipe.GoingOn:
		if i := d.st.next(p, p.Stage+1); i < len(d.b.Stages) {
			m.To = d.b.Stages[i].Key
		}
	case recipe.BackTo:
		m.To = d.b.Stages[o.To].Key
	default:
		m.To = from
	}
	return m
}

func often(n int) string {
	switch n {
	case 1:
		return "once"
	case 2:
		return "twice"
	}
	return strconv.Itoa(n) + " times"
}

func (d *decider) closeBatch() {
	if d.st.Done {
		return
	}
	for _, p := range d.st.Pieces {
		if p.Place != Finished && p.Place != Thrown {
			return
		}
	}
	d.emit(wholeBatch, "", 0, BatchClosed{})
}
