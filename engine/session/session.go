package session

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"
	"unicode"

	"canewright/engine/bench"
	"canewright/engine/dimension"
	"canewright/engine/recipe"
)

// Keeper keeps batches on disk. Append fails with ErrOvertaken when the batch
// has events after `after`: another window was faster.
type Keeper interface {
	Start(ctx context.Context, b Batch, evs []bench.Event) error
	Append(ctx context.Context, batch string, after uint64, evs []bench.Event) error
	Load(ctx context.Context, batch string) (Batch, []bench.Event, error)
}

// ErrOvertaken: the batch was changed by another window.
var ErrOvertaken = errors.New("the batch was changed in another window")

// Notes selects safety notes. An error stops the stage.
type Notes interface {
	For(now, evening recipe.Use) ([]bench.Note, error)
}

// Instruments serves dimension sets.
type Instruments interface {
	Set(ctx context.Context, name string, major int) (*dimension.Set, error)
}

// Snapshot is all a batch needs to be read when recipe file, plugin and note
// file are gone.
type Snapshot struct {
	RecipeName         string // the file's name, for findings
	Recipe, Set, Notes []byte
}

// Batch is what is kept of a batch beside its events.
type Batch struct {
	Name    string
	Title   string // of the recipe
	Started time.Time
	Snapshot
}

// Outside is what a session needs from outside; all passed in.
type Outside struct {
	Keep  Keeper
	Notes Notes
	// Bind reads a snapshot's recipe and set again.
	Bind func(Snapshot) (*recipe.Bound, error)
	Now  func() time.Time
	// NewID makes an identity for an evening at the bench.
	NewID func() string
	Who   string
}

// Idle: after so long without an answer a new session begins, and notes are
// shown again.
const Idle = 4 * time.Hour

// Session is one window on one batch.
type Session struct {
	out   Outside
	batch Batch
	bound *recipe.Bound
	state *bench.State
	mark  string // the piece the player picked
	last  string // the piece last answered for

	through bool      // one piece right through, until it rests
	later   bool      // what was done before is entered now
	at      time.Time // when it happened, where it is entered later; zero: now
}

// Start begins a batch and opens a session on it.
func Start(ctx context.Context, out Outside, b Batch, with bench.Beginning) (*Session, error) {
	bound, err := out.Bind(b.Snapshot)
	if err != nil {
		return nil, fmt.Errorf("start batch %q: %w", b.Name, err)
	}
	s := &Session{out: out, batch: b, bound: bound}
	s.batch.Started = s.moment().At
	evs, err := bench.Begin(bound, with, out.NewID(), s.moment())
	if err != nil {
		return nil, err
	}
	if err := out.Keep.Start(ctx, s.batch, evs); err != nil {
		return nil, err
	}
	s.state, err = bench.Fold(bound, evs)
	return s, err
}

// Resume goes on with a batch that was begun before. After a kill it is the same
// session and the same question; after the player left, or after Idle, a new
// session begins, fresh is true, and notes are shown again.
func Resume(ctx context.Context, out Outside, name string) (s *Session, fresh bool, err error) {
	s, err = Look(ctx, out, name)
	if err != nil {
		return nil, false, err
	}
	if s.state.Left || s.idle() {
		return s, true, s.open(ctx)
	}
	return s, false, nil
}

// Close ends the session: the player leaves on purpose. The Session can still
// be read, and an answer to it opens a new one.
func (s *Session) Close(ctx context.Context) error {
	evs := bench.CloseSession(s.state, s.moment())
	if len(evs) == 0 {
		return nil
	}
	err := s.keep(ctx, evs)
	if errors.Is(err, ErrOvertaken) {
		return nil // another window goes on with it
	}
	return err
}

func (s *Session) idle() bool { return s.out.Now().Sub(s.state.LastAt) > Idle }

// Look reads a batch without writing anything.
func Look(ctx context.Context, out Outside, name string) (*Session, error) {
	b, evs, err := out.Keep.Load(ctx, name)
	if err != nil {
		return nil, err
	}
	bound, err := out.Bind(b.Snapshot)
	if err != nil {
		return nil, fmt.Errorf("open batch %q: %w", name, err)
	}
	state, err := bench.Fold(bound, evs)
	if err != nil {
		return nil, fmt.Errorf("open batch %q: %w", name, err)
	}
	return &Session{out: out, batch: b, bound: bound, state: state}, nil
}

// open begins a new session, unless another window does so first.
func (s *Session) open(ctx context.Context) error {
	for s.state.Left || s.idle() {
		err := s.keep(ctx, bench.OpenSession(s.state, s.out.NewID(), s.moment()))
		if !errors.Is(err, ErrOvertaken) {
			return err
		}
	}
	return nil
}

func (s *Session) moment() bench.Moment {
	t := s.out.Now()
	// Kept to the millisecond and without a place, so that a state read back
	// from disk equals the live one; the zone stands beside it.
	return bench.Moment{At: t.Truncate(time.Millisecond).UTC(), Zone: t.Format("-07:00 MST"), Here: t.Location(), Who: s.out.Who}
}

// keep writes events, then folds them.
func (s *Session) keep(ctx context.Context, evs []bench.Event) error {
	err := s.out.Keep.Append(ctx, s.batch.Name, s.state.Last, evs)
	if errors.Is(err, ErrOvertaken) {
		if again := s.reload(ctx); again != nil {
			return again
		}
		return err
	}
	if err != nil {
		return err
	}
	return s.state.Apply(evs)
}

func (s *Session) reload(ctx context.Context) error {
	_, evs, err := s.out.Keep.Load(ctx, s.batch.Name)
	if err != nil {
		return err
	}
	state, err := bench.Fold(s.bound, evs)
	if err == nil {
		s.state = state
	}
	return err
}

// Batch, Bound and State are for showing; do not change them.
func (s *Session) Batch() Batch         { return s.batch }
func (s *Session) Bound() *recipe.Bound { return s.bound }
func (s *Session) State() *bench.State  { return s.state }

// notesFor are the notes for what is taken in hand now.
func (s *Session) notesFor(use recipe.Use) ([]bench.Note, error) {
	notes, err := s.out.Notes.For(use, s.state.Evening())
	if err == nil {
		return notes, nil
	}
	if _, stage, ok := s.state.InHand(s.mark); ok {
		return nil, fmt.Errorf("show safety notes for stage %q: %w", s.bound.Stages[stage].Name, err)
	}
	return nil, fmt.Errorf("show safety notes: %w", err)
}

// Question is the question as it stands.
func (s *Session) Question() (bench.Question, error) {
	var notes []bench.Note
	if use, _, ok := s.state.InHand(s.mark); ok {
		var err error
		if notes, err = s.notesFor(use); err != nil {
			return bench.Question{}, err
		}
	}
	if s.later {
		return bench.AskLater(s.state, s.mark, notes, s.out.Now()), nil
	}
	return bench.Ask(s.state, s.mark, notes, s.out.Now()), nil
}

// Advise is what could be tried with the piece at hand; nothing is recorded.
func (s *Session) Advise() ([]string, error) {
	q, err := s.Question()
	if err != nil {
		return nil, err
	}
	mark := s.last
	if len(q.Pieces) == 1 {
		mark = q.Pieces[0]
	}
	if mark == "" && len(q.Pieces) > 0 {
		mark = q.Pieces[0]
	}
	return s.state.Advise(mark), nil
}

// Through turns to working one piece right through, until it rests, and back to
// working stage by stage.
func (s *Session) Through(on bool) {
	s.through = on
	if !on {
		s.mark = ""
	}
}

// SetWho says who is at the bench from here on: a teacher and a pupil may share
// one. It stands in every event.
func (s *Session) SetWho(ctx context.Context, name string) error {
	name = strings.TrimSpace(name)
	if n := len([]rune(name)); n == 0 || n > longestWho || strings.ContainsFunc(name, unicode.IsControl) {
		return &bench.Refusal{Message: "This cannot be a name.", Hint: "who Anna, for example."}
	}
	if name == s.out.Who {
		return nil
	}
	was := s.out.Who
	s.out.Who = name
	for len(s.state.Acks) > 0 && !s.state.Left && !s.idle() {
		// Who takes up the knife has answered no note yet.
		err := s.keep(ctx, bench.OpenSession(s.state, s.out.NewID(), s.moment()))
		if err == nil {
			return nil
		}
		if !errors.Is(err, ErrOvertaken) { // else another window was faster: once more
			s.out.Who = was
			return err
		}
	}
	return nil
}

// longestWho, in letters: it stands in every event.
const longestWho = 40

// Later turns to entering what was done before, a line a piece in the card's
// order, and back.
func (s *Session) Later(on bool) { s.later, s.at = on, time.Time{} }

// LinesHappened says when the lines entered later happened; "" where that is now.
func (s *Session) LinesHappened() string {
	if s.at.IsZero() {
		return ""
	}
	return s.timeSaid()
}

// Pick turns to one piece; "" turns back to the engine's own order.
func (s *Session) Pick(mark string) error {
	if mark != "" && s.state.Piece(mark) == nil {
		return &bench.Refusal{Message: fmt.Sprintf("There is no piece %q.", mark), Hint: "Under way: " + joined(s.state.UnderWay()) + "."}
	}
	if p := s.state.Piece(mark); p != nil && (p.Place == bench.Finished || p.Place == bench.Aside || p.Place == bench.Thrown) {
		hint := ""
		if p.Place == bench.Aside {
			hint = "Fetch it first: bring back " + mark + "."
		}
		return &bench.Refusal{Message: fmt.Sprintf("%s %s is %s.", p.Kind, p.Mark, p.Place), Hint: hint}
	}
	s.mark = mark
	return nil
}

// Reply is what to say to an answer.
type Reply struct {
	Said   []string
	Events []bench.Event
	Line   *bench.Line // of the reading just judged; nil where several pieces or none were judged
}

// Answer takes what was typed to the question with number seen. When it
// returns without error the answer is on disk. A *bench.Refusal or
// *bench.StaleError means nothing was recorded.
func (s *Session) Answer(ctx context.Context, seen uint64, text string) (Reply, error) {
	if s.state.Left || s.idle() {
		now, err := s.again(ctx, seen)
		if err != nil {
			return Reply{}, err
		}
		seen = now
	}
	now, text, err := s.when(text)
	if err != nil {
		return Reply{}, err
	}
	if text == "" && now.At.IsZero() {
		return Reply{Said: []string{s.timeSaid()}}, nil
	}
	before, err := s.Question()
	if err != nil {
		return Reply{}, err
	}
	evs, err := bench.Decide(s.state, bench.Answer{Seen: seen, Mark: s.mark, Last: s.last, Text: text, Later: s.later}, s.notesFor, now)
	if err != nil {
		return Reply{}, err
	}
	asked := before.Pieces
	if s.later {
		asked = nil // of each line it is said whom it was for
	}
	stage := s.stageOf(s.mark)
	r := Reply{Said: bench.Report(s.state, evs, asked), Events: evs, Line: bench.Drawn(s.state, evs)}
	if err := s.keep(ctx, evs); err != nil {
		if errors.Is(err, ErrOvertaken) {
			return Reply{}, &bench.StaleError{Seen: seen, Last: s.state.Last}
		}
		return Reply{}, err
	}
	for _, e := range evs {
		switch b := e.Body.(type) {
		case bench.SymptomsNoted:
			r.Said = append(r.Said, s.state.Advise(e.Subject.ID)...)
		case bench.RemedyJudged:
			if b.Helped == "no" {
				r.Said = append(r.Said, s.state.Advise(e.Subject.ID)...)
			}
		}
	}
	s.follow(evs)
	if p := s.state.Piece(s.mark); !s.through && p != nil && (p.Stage != stage || p.Place == bench.InWait || !about(evs, s.mark)) {
		s.mark = "" // the piece has moved on, or the hand has; the others are behind it
	}
	return r, nil
}

// about reports whether events are about a piece, or about none.
func about(evs []bench.Event, mark string) bool {
	none := true
	for _, e := range evs {
		none = none && e.Subject.Whole()
		if e.Subject.ID == mark {
			return true
		}
	}
	return none
}

func (s *Session) stageOf(mark string) int {
	if p := s.state.Piece(mark); p != nil {
		return p.Stage
	}
	return -1
}

// again begins a new session under an answer to question seen, and returns that
// question's new number. When notes come first now, which the player has not
// seen, it fails with a *NewSessionError.
func (s *Session) again(ctx context.Context, seen uint64) (uint64, error) {
	before, err := s.Question()
	if err != nil {
		return 0, err
	}
	last := s.state.Last
	if err := s.open(ctx); err != nil {
		return 0, err
	}
	s.at = time.Time{} // of the evening before
	if seen != last || s.state.Last != last+1 {
		return 0, &bench.StaleError{Seen: seen, Last: s.state.Last}
	}
	after, err := s.Question()
	if err != nil {
		return 0, err
	}
	same := slices.EqualFunc(before.Notes, after.Notes, func(x, y bench.Note) bool { return x.ID == y.ID && x.Revision == y.Revision })
	if after.Asked == bench.AskNote && (before.Asked != bench.AskNote || !same) {
		return 0, &NewSessionError{bench.StaleError{Seen: seen, Last: s.state.Last}}
	}
	return s.state.Last, nil
}

// NewSessionError: the answer opened a new session, whose notes come before it.
// It is a *bench.StaleError too: the answer was not taken.
type NewSessionError struct{ Stale bench.StaleError }

func (e *NewSessionError) Error() string {
	return "some hours have passed, so the safety notes come first"
}

func (e *NewSessionError) Unwrap() error { return &e.Stale }

// follow remembers the piece answered for, and lets go of a picked piece that
// is no longer under way.
func (s *Session) follow(evs []bench.Event) {
	marks := map[string]bool{}
	for _, e := range evs {
		if _, back := e.Body.(bench.AnswerTakenBack); !e.Subject.Whole() && !back {
			marks[e.Subject.ID] = true
			s.last = e.Subject.ID
		}
	}
	if len(marks) > 1 {
		s.last = "" // an answer for several: the last of all is the one to take back
	}
	if s.through {
		s.mark = ""
		if p := s.state.Piece(s.last); p != nil && p.Place == bench.AtWork {
			s.mark = s.last
		}
	}
	if p := s.state.Piece(s.mark); p != nil && (p.Place == bench.Finished || p.Place == bench.Aside || p.Place == bench.Thrown) {
		s.mark = ""
	}
}

func joined(words []string) string {
	s := ""
	for i, w := range words {
		if i > 0 {
			s += ", "
		}
		s += w
	}
	return s
}
