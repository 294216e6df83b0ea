package session_test

import (
	"context"
	"encoding/json"
	"errors"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"canewright/engine/bench"
	"canewright/engine/session"
)

var ctx = context.Background()

func dump(t interface{ Fatal(...any) }, s *bench.State) string {
	b, err := json.Marshal(s)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// toGouge leads past the wait, to the first reading.
func toGouge(t *testing.T, s *session.Session) {
	t.Helper()
	give(t, s, "", "go on", "behind the edge")
}

func TestAnAnswerIsKeptBeforeTheStateMoves(t *testing.T) {
	t.Parallel()
	e := newEvening()
	s := e.start(t, "1", "2")
	called := 0
	e.keep.during = func() {
		called++
		if n := uint64(len(e.keep.events["batch"])); s.State().Last != n {
			t.Errorf("the state is at event %d while %d are kept", s.State().Last, n)
		}
	}
	toGouge(t, s)
	give(t, s, "1.31")
	if called != 4 {
		t.Errorf("%d answers were kept, 4 given", called)
	}
	if !reflect.DeepEqual(e.keep.events["batch"], s.State().Events()) {
		t.Error("what is kept is not what the state knows")
	}
}

func TestAnAnswerThatCannotBeKeptIsNotTaken(t *testing.T) {
	t.Parallel()
	e := newEvening()
	s := e.start(t, "1")
	toGouge(t, s)
	before, state := question(t, s), dump(t, s.State())
	e.keep.fail = errors.New("the disk is full")
	if r, err := s.Answer(ctx, before.Seq, "1.31"); !errors.Is(err, e.keep.fail) || len(r.Said) > 0 || len(r.Events) > 0 {
		t.Fatalf("got %+v, %v", r, err)
	}
	if after := question(t, s); !reflect.DeepEqual(before, after) {
		t.Errorf("the question is\n%+v\nbefore it was\n%+v", after, before)
	}
	if got := dump(t, s.State()); got != state {
		t.Errorf("the state is\n%s\nbefore it was\n%s", got, state)
	}
	e.keep.fail = nil
	give(t, s, "1.31")
	if q := question(t, s); q.Asked != bench.AskLook {
		t.Errorf("given again, it leads to %s", q.Asked)
	}
}

func TestABatchThatCannotBeKeptIsNotBegun(t *testing.T) {
	t.Parallel()
	e := newEvening()
	e.keep.fail = errors.New("the disk is full")
	if s, err := session.Start(ctx, e.out(nil), smallBatch("batch"), bench.Beginning{Pieces: []string{"1"}}); s != nil || !errors.Is(err, e.keep.fail) {
		t.Errorf("got %v, %v", s, err)
	}
}

func TestAnotherWindowWasFaster(t *testing.T) {
	t.Parallel()
	e := newEvening()
	a := e.start(t, "1", "2")
	toGouge(t, a)
	b, fresh, err := session.Resume(ctx, e.out(nil), "batch")
	if err != nil || fresh {
		t.Fatal(fresh, err)
	}
	q := question(t, b)
	give(t, a, "1.31")
	var stale *bench.StaleError
	if _, err := b.Answer(ctx, q.Seq, "1.25"); !errors.As(err, &stale) || stale.Seen != q.Seq || stale.Last != a.State().Last {
		t.Fatalf("got %v", err)
	}
	if x, y := question(t, a), question(t, b); !reflect.DeepEqual(x, y) {
		t.Errorf("one window asks\n%+v\nthe other\n%+v", x, y)
	}
	if dump(t, a.State()) != dump(t, b.State()) {
		t.Error("the windows' states differ")
	}
	give(t, b, "straight")
}

func TestAnAnswerToAnOldQuestionIsRefused(t *testing.T) {
	t.Parallel()
	e := newEvening()
	s := e.start(t, "1")
	toGouge(t, s)
	q := question(t, s)
	give(t, s, "1.31")
	n := len(e.keep.events["batch"])
	for _, seen := range []uint64{0, q.Seq, s.State().Last + 1} {
		var stale *bench.StaleError
		if _, err := s.Answer(ctx, seen, "straight"); !errors.As(err, &stale) {
			t.Errorf("seen %d: %v", seen, err)
		}
	}
	if len(e.keep.events["batch"]) != n {
		t.Error("something was kept")
	}
}

func TestAfterFourHoursTheNotesComeFirst(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		say   string
		pause time.Duration
		fresh bool
	}{
		{"four hours", session.Idle, false},
		{"more than four hours", session.Idle + time.Second, true},
	} {
		t.Run(c.say, func(t *testing.T) {
			t.Parallel()
			e := newEvening()
			s := e.start(t, "1")
			toGouge(t, s)
			q, first := question(t, s), s.State().Session
			e.now = e.now.Add(c.pause)
			_, err := s.Answer(ctx, q.Seq, "1.31")
			if !c.fresh {
				if err != nil || s.State().Session != first {
					t.Errorf("session %q, %v", s.State().Session, err)
				}
				return
			}
			var stale *bench.StaleError
			var again *session.NewSessionError
			if !errors.As(err, &stale) || !errors.As(err, &again) || s.State().Session == first {
				t.Fatalf("session %q, %v", s.State().Session, err)
			}
			if q := question(t, s); q.Asked != bench.AskNote || q.Notes[0].ID != "N-1" {
				t.Errorf("asked is %s", q.Asked)
			}
			give(t, s, "behind the edge", "1.31")
			if q := question(t, s); q.Asked != bench.AskLook {
				t.Errorf("then asked is %s", q.Asked)
			}
		})
	}
}

// Words that would answer the note do not, when the note was not on the screen.
func TestANoteIsNotAnsweredUnseen(t *testing.T) {
	t.Parallel()
	e := newEvening()
	s := e.start(t, "1")
	toGouge(t, s)
	q := question(t, s)
	e.now = e.now.Add(5 * time.Hour)
	if _, err := s.Answer(ctx, q.Seq, "behind"); err == nil {
		t.Error("taken")
	}
	if q := question(t, s); q.Asked != bench.AskNote {
		t.Errorf("asked is %s", q.Asked)
	}
	// The same note on the screen before and after the pause is answered by it.
	q = question(t, s)
	e.now = e.now.Add(5 * time.Hour)
	if _, err := s.Answer(ctx, q.Seq, "behind"); err != nil {
		t.Error(err)
	}
	if q := question(t, s); q.Asked != bench.AskReading {
		t.Errorf("then asked is %s", q.Asked)
	}
}

func TestWithoutNotesNothingIsRecorded(t *testing.T) {
	t.Parallel()
	for _, pause := range []time.Duration{0, 5 * time.Hour} {
		e := newEvening()
		s := e.start(t, "1")
		toGouge(t, s)
		seen, kept := question(t, s).Seq, len(e.keep.events["batch"])
		e.notes.fail = errors.New("the note file is gone")
		e.now = e.now.Add(pause)
		if _, err := s.Question(); !errors.Is(err, e.notes.fail) || !strings.Contains(err.Error(), `"gouge"`) {
			t.Errorf("the question: %v", err)
		}
		for _, later := range []bool{false, true} {
			s.Later(later)
			for _, a := range []string{"1.31", "skip", "remark dark", "", "1: 1.31", "1 1.31 straight", "all skip", "all but 2: 1.31", "using knife", "wet", "+8 left", "1 aside", "undo", "1 @18:00 1.31"} {
				if _, err := s.Answer(ctx, seen, a); !errors.Is(err, e.notes.fail) {
					t.Errorf("after %v, later %v, %q: %v", pause, later, a, err)
				}
			}
		}
		if n := len(e.keep.events["batch"]); n != kept {
			t.Errorf("after %v, %d events were kept", pause, n-kept)
		}
	}
}

func TestResumeAsksTheSame(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		say   string
		close bool
		pause time.Duration
		fresh bool
	}{
		{"after a kill", false, time.Minute, false},
		{"after leaving", true, time.Minute, true},
		{"after a fortnight", false, 14 * 24 * time.Hour, true},
	} {
		t.Run(c.say, func(t *testing.T) {
			t.Parallel()
			e := newEvening()
			s := e.start(t, "1", "2")
			toGouge(t, s)
			give(t, s, "1.36") // maybe too thick: wants another, or let it stand
			before, state := question(t, s), dump(t, s.State())
			if c.close {
				if err := s.Close(ctx); err != nil {
					t.Fatal(err)
				}
				if err := s.Close(ctx); err != nil || s.State().Last != before.Seq+1 {
					t.Errorf("closed twice: event %d, %v", s.State().Last, err)
				}
			}
			e.now = e.now.Add(c.pause)
			r, fresh, err := session.Resume(ctx, e.out(nil), "batch")
			if err != nil || fresh != c.fresh {
				t.Fatal(fresh, err)
			}
			if !c.fresh {
				if got := question(t, r); !reflect.DeepEqual(got, before) || dump(t, r.State()) != state {
					t.Errorf("asks\n%+v\nasked before\n%+v", got, before)
				}
				return
			}
			if q := question(t, r); q.Asked != bench.AskNote {
				t.Errorf("asked is %s", q.Asked)
			}
			give(t, r, "behind")
			q := question(t, r)
			q.Seq, q.Short, before.Seq, before.Short = 0, nil, 0, nil
			if !reflect.DeepEqual(q, before) {
				t.Errorf("asks\n%+v\nasked before\n%+v", q, before)
			}
		})
	}
}

func TestTwoWindowsResumeAtOnce(t *testing.T) {
	t.Parallel()
	e := newEvening()
	s := e.start(t, "1")
	toGouge(t, s)
	e.now = e.now.Add(5 * time.Hour)
	// While one window opens a session, another does so first.
	e.keep.during = func() {
		e.keep.during = nil
		if _, _, err := session.Resume(ctx, e.out(nil), "batch"); err != nil {
			t.Error(err)
		}
	}
	r, _, err := session.Resume(ctx, e.out(nil), "batch")
	if err != nil {
		t.Fatal(err)
	}
	opened := 0
	for _, ev := range e.keep.events["batch"] {
		if _, ok := ev.Body.(bench.SessionOpened); ok {
			opened++
		}
	}
	if opened != 2 || r.State().Last != uint64(len(e.keep.events["batch"])) {
		t.Errorf("%d sessions were opened, want the first and one more", opened)
	}
	// The same under an answer: it is stale, and not an error of the disk.
	seen := question(t, s).Seq
	e.now = e.now.Add(5 * time.Hour)
	e.keep.during = func() {
		e.keep.during = nil
		if _, _, err := session.Resume(ctx, e.out(nil), "batch"); err != nil {
			t.Error(err)
		}
	}
	var stale *bench.StaleError
	if _, err := s.Answer(ctx, seen, "1.31"); !errors.As(err, &stale) {
		t.Errorf("got %v", err)
	}
}

func TestLookWritesNothing(t *testing.T) {
	t.Parallel()
	e := newEvening()
	e.start(t, "1")
	n := len(e.keep.events["batch"])
	e.now = e.now.Add(24 * time.Hour)
	if _, err := session.Look(ctx, e.out(nil), "batch"); err != nil || len(e.keep.events["batch"]) != n {
		t.Errorf("%d events were kept, %v", len(e.keep.events["batch"])-n, err)
	}
}

func TestPick(t *testing.T) {
	t.Parallel()
	e := newEvening()
	s := e.start(t, "1", "2")
	toGouge(t, s)
	var refused *bench.Refusal
	if err := s.Pick("7"); !errors.As(err, &refused) || !strings.Contains(refused.Message, `"7"`) || refused.Hint != "Under way: 1, 2." {
		t.Errorf("an unknown piece: %v", err)
	}
	if q := question(t, s); !slices.Equal(q.Pieces, []string{"1"}) {
		t.Errorf("asked for %v", q.Pieces)
	}
	if err := s.Pick("2"); err != nil {
		t.Fatal(err)
	}
	if q := question(t, s); !slices.Equal(q.Pieces, []string{"2"}) {
		t.Errorf("asked for %v", q.Pieces)
	}
	// A picked piece that is set aside is let go.
	give(t, s, "aside cracked")
	if q := question(t, s); !slices.Equal(q.Pieces, []string{"1"}) {
		t.Errorf("asked for %v", q.Pieces)
	}
	if err := s.Pick(""); err != nil {
		t.Error(err)
	}
}

func TestUndoTakesBackThisWindowsLastAnswer(t *testing.T) {
	t.Parallel()
	e := newEvening()
	a := e.start(t, "1", "2")
	toGouge(t, a)
	b, _, err := session.Resume(ctx, e.out(nil), "batch")
	if err != nil {
		t.Fatal(err)
	}
	if err := b.Pick("2"); err != nil {
		t.Fatal(err)
	}
	give(t, b, "1.30") // piece 2, in the other window
	overtaken := func(s *session.Session) {
		t.Helper()
		var stale *bench.StaleError
		if _, err := s.Answer(ctx, question(t, s).Seq, "remark overtaken"); !errors.As(err, &stale) {
			t.Fatalf("got %v", err)
		}
	}
	overtaken(a)
	give(t, a, "1.31") // piece 1, here
	overtaken(b)
	give(t, b, "straight") // piece 2 again: the last answer of all
	overtaken(a)
	give(t, a, "undo")
	if p := a.State().Piece("1"); len(p.Open) != 0 || len(p.Closed) != 0 {
		t.Errorf("piece 1 has still a reading: %+v", p)
	}
	if p := a.State().Piece("2"); p.Stage != 2 {
		t.Errorf("piece 2 went back: %+v", p)
	}
}
