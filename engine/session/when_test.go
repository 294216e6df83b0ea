package session_test

import (
	"errors"
	"strings"
	"testing"
	"time"

	"canewright/engine/bench"
	"canewright/engine/session"
)

func vienna(t *testing.T) *time.Location {
	t.Helper()
	z, err := time.LoadLocation("Europe/Vienna")
	if err != nil {
		t.Skip("no time zones here:", err)
	}
	return z
}

// lastEvent is the event kept last.
func lastEvent(e *evening) bench.Event {
	all := e.keep.events["batch"]
	return all[len(all)-1]
}

func TestWhenALineHappened(t *testing.T) {
	t.Parallel()
	z := vienna(t)
	const layout = "2006-01-02 15:04:05 -07:00"
	// Summer time in the Union begins on the last Sunday of March and ends on the
	// last of October, at 01:00 UTC: Directive 2000/84/EC, articles 2 and 3.
	for _, c := range []struct {
		now, typed, want, no string
	}{
		{"2026-01-12 20:00", "@19:40", "2026-01-12 19:40:00 +01:00", ""},
		{"2026-01-12 20:00", "@20:00", "2026-01-12 20:00:00 +01:00", ""},
		{"2026-01-12 20:00", "@20:01", "", "20:01 is still to come. If it was last night: @yesterday 20:01."},
		{"2026-01-12 20:00", "@yesterday 23:10", "2026-01-11 23:10:00 +01:00", ""},
		{"2026-01-01 00:10", "@yesterday 23:10", "2025-12-31 23:10:00 +01:00", ""},
		{"2026-03-01 10:00", "@yesterday 10:00", "2026-02-28 10:00:00 +01:00", ""},
		{"2026-01-12 20:00", "@2025-11-24 19:40", "2025-11-24 19:40:00 +01:00", ""},
		{"2026-01-12 20:00", "@2027-11-24 19:40", "", "2027-11-24 19:40 is still to come. Write a day that has been: @2026-01-12 19:40."},
		{"2026-01-12 20:00", "@2026-02-30 19:40", "", "This is no time: @2026-02-30 19:40. Write @19:40, @yesterday 19:40, or @2026-11-24 19:40."},
		{"2026-01-12 20:00", "@25:00", "", "This is no time: @25:00. Write @19:40, @yesterday 19:40, or @2026-11-24 19:40."},
		{"2026-01-12 20:00", "@", "", "This is no time: @. Write @19:40, @yesterday 19:40, or @2026-11-24 19:40."},
		{"2026-01-12 20:00", "@ 19:40", "", "This is no time: @ 19:40. Write @19:40, @yesterday 19:40, or @2026-11-24 19:40."},
		// The hour that no clock showed.
		{"2026-03-29 12:00", "@02:30", "", "No clock showed 02:30 on 2026-03-29: it was put forward. Write what the clock showed, before or after."},
		{"2026-03-29 12:00", "@02:00", "", "No clock showed 02:00 on 2026-03-29: it was put forward. Write what the clock showed, before or after."},
		{"2026-03-29 12:00", "@01:59", "2026-03-29 01:59:00 +01:00", ""},
		{"2026-03-29 12:00", "@03:00", "2026-03-29 03:00:00 +02:00", ""},
		{"2026-03-30 12:00", "@yesterday 02:30", "", "No clock showed 02:30 on 2026-03-29: it was put forward. Write what the clock showed, before or after."},
		{"2026-03-30 02:30", "@yesterday 01:30", "2026-03-29 01:30:00 +01:00", ""},
		// The hour that clocks showed twice: the later one, unless it is still to come.
		{"2026-10-25 12:00", "@02:30", "2026-10-25 02:30:00 +01:00", ""},
		{"2026-10-25 12:00", "@01:59", "2026-10-25 01:59:00 +02:00", ""},
		{"2026-10-25 12:00", "@03:00", "2026-10-25 03:00:00 +01:00", ""},
		{"2026-10-26 12:00", "@yesterday 02:00", "2026-10-25 02:00:00 +01:00", ""},
	} {
		t.Run(c.now+" "+c.typed, func(t *testing.T) {
			t.Parallel()
			now, err := time.ParseInLocation("2006-01-02 15:04", c.now, z)
			if err != nil {
				t.Fatal(err)
			}
			for _, alone := range []bool{true, false} {
				e := newEvening()
				e.now = now
				s := e.start(t, "1")
				s.Later(true)
				kept := len(e.keep.events["batch"])
				lines := []string{"1 " + c.typed + " x"}
				if alone {
					lines = []string{c.typed, "1 x"}
				}
				_, err = s.Answer(ctx, question(t, s).Seq, lines[0])
				if c.no != "" {
					var r *bench.Refusal
					if !errors.As(err, &r) || strings.TrimSpace(err.Error()) != c.no {
						t.Errorf("refused with\n  %v, want\n  %s", err, c.no)
					}
					if n := len(e.keep.events["batch"]); n != kept {
						t.Errorf("%d events were kept", n-kept)
					}
					continue
				}
				if err != nil {
					t.Fatal(err)
				}
				if alone {
					if n := len(e.keep.events["batch"]); n != kept {
						t.Errorf("a time alone kept %d events", n-kept)
					}
					give(t, s, lines[1])
				}
				last := lastEvent(e)
				if got := last.At.In(z).Format(layout); got != c.want || !last.Entered.Equal(now) {
					t.Errorf("it happened at %s and was entered at %v, want %s", got, last.Entered, c.want)
				}
				if want := last.At.In(z).Format("-07:00 MST"); last.Zone != want {
					t.Errorf("in the zone %s, want %s", last.Zone, want)
				}
			}
		})
	}
}

// At half past two, the first time: the second is still to come.
func TestTheHourThatComesTwiceWhileItIsThere(t *testing.T) {
	t.Parallel()
	z := vienna(t)
	first := time.Date(2026, 10, 25, 0, 45, 0, 0, time.UTC).In(z) // 02:45 in summer time
	for _, c := range []struct {
		now  time.Time
		want string
		turn string
	}{
		{first, "2026-10-25 00:30", "first"},
		{first.Add(time.Hour), "2026-10-25 01:30", "second"},
		{first.Add(30 * time.Minute), "2026-10-25 00:30", "first"}, // 02:15 again
	} {
		e := newEvening()
		e.now = c.now
		s := e.start(t, "1")
		s.Later(true)
		r, err := s.Answer(ctx, question(t, s).Seq, "@02:30")
		if err != nil {
			t.Fatal(err)
		}
		if want := "The lines from here on happened 2026-10-25 at 02:30, the " + c.turn + " time the clock showed it."; len(r.Said) != 1 || r.Said[0] != want {
			t.Errorf("says %q, want %q", r.Said, want)
		}
		give(t, s, "1 x")
		if got := lastEvent(e).At.Format("2006-01-02 15:04"); got != c.want {
			t.Errorf("at %s it happened at %s UTC, want %s", c.now, got, c.want)
		}
	}
}

func TestATimeBeforeThePieceCameThere(t *testing.T) {
	t.Parallel()
	e := newEvening()
	e.now = time.Date(2026, 1, 12, 22, 0, 0, 0, time.UTC)
	s := e.start(t, "1", "2")
	s.Later(true)
	give(t, s, "@19:00", "1 x", "2 x", "@21:10", "all go on")
	kept := len(e.keep.events["batch"])
	if _, err := s.Answer(ctx, question(t, s).Seq, "behind"); err != nil {
		t.Fatal(err)
	}
	var r *bench.Refusal
	if _, err := s.Answer(ctx, question(t, s).Seq, "1 @20:00 1.31 straight"); !errors.As(err, &r) ||
		r.Message != "Piece 1 came to gouge only at 21:10." {
		t.Errorf("got %v", err)
	}
	if n := len(e.keep.events["batch"]); n != kept+1 {
		t.Errorf("%d events were kept beside the note", n-kept-1)
	}
	give(t, s, "1 @21:10 1.31 straight")
	// Lines from here on happen now again.
	give(t, s, "@now", "2 1.31 straight")
	if last := lastEvent(e); !last.At.Equal(e.now) {
		t.Errorf("it happened at %v", last.At)
	}
}

// Outside of entering later, @ is no word.
func TestNoTimesAtTheBench(t *testing.T) {
	t.Parallel()
	e := newEvening()
	s := e.start(t, "1")
	toGouge(t, s)
	var r *bench.Refusal
	if _, err := s.Answer(ctx, question(t, s).Seq, "@19:40"); !errors.As(err, &r) {
		t.Errorf("got %v", err)
	}
	give(t, s, "remark seen @19:40")
	if b, ok := lastEvent(e).Body.(bench.Remark); !ok || b.Text != "seen @19:40" {
		t.Errorf("kept %+v", lastEvent(e))
	}
}

// Four hours in the middle of a card: the notes come first, nothing of the line
// is kept, and the time that was set holds on.
func TestIdleWhileEnteringLater(t *testing.T) {
	t.Parallel()
	e := newEvening()
	e.now = time.Date(2026, 1, 12, 12, 0, 0, 0, time.UTC)
	s := e.start(t, "1", "2")
	s.Later(true)
	give(t, s, "@08:00", "1 x", "2 x", "@10:30", "all go on", "behind", "1 1.31 straight")
	kept, first := len(e.keep.events["batch"]), s.State().Session
	e.now = e.now.Add(session.Idle + time.Second)
	var again *session.NewSessionError
	if _, err := s.Answer(ctx, question(t, s).Seq, "2 1.30 straight"); !errors.As(err, &again) {
		t.Fatalf("got %v", err)
	}
	if n := len(e.keep.events["batch"]); n != kept+1 || s.State().Session == first {
		t.Errorf("%d events were kept, session %q", n-kept, s.State().Session)
	}
	if q := question(t, s); q.Asked != bench.AskNote {
		t.Fatalf("asks %s", q.Asked)
	}
	give(t, s, "behind")
	if q := question(t, s); q.Asked != bench.AskRow {
		t.Fatalf("asks %s", q.Asked)
	}
	// The time that was set is of the evening before.
	if said := s.LinesHappened(); said != "" {
		t.Errorf("still: %s", said)
	}
	give(t, s, "2 @10:30 1.30 straight")
	if last := lastEvent(e); last.At.Format("15:04") != "10:30" || !last.Entered.Equal(e.now) || last.Session != s.State().Session {
		t.Errorf("kept %+v", last.Head)
	}
}

// A clock that was set back, or a wait begun on a computer whose clock is ahead:
// it is said, never guessed, and the wait can be ended.
func TestAWaitBegunInTheFuture(t *testing.T) {
	t.Parallel()
	e := newEvening()
	s := e.start(t, "1", "2")
	give(t, s, "")
	e.now = e.now.Add(-3 * time.Hour)
	q := question(t, s)
	if q.Asked != bench.AskWait || !strings.Contains(q.Prompt, "this clock has not reached") || !strings.Contains(q.Keys, "go on") {
		t.Errorf("asks %+v", q)
	}
	for _, l := range bench.Rack(s.State(), e.now) {
		if !strings.Contains(l, "this clock has not reached") {
			t.Errorf("the rack says %s", l)
		}
	}
	var r *bench.Refusal
	if _, err := s.Answer(ctx, q.Seq, ""); !errors.As(err, &r) || !strings.Contains(r.Message, "stands before the wait began") {
		t.Errorf("Enter: %v", err)
	}
	back, fresh, err := session.Resume(ctx, e.out(nil), "batch")
	if err != nil || fresh {
		t.Fatal(fresh, err)
	}
	back.Later(true)
	if _, err := back.Answer(ctx, question(t, back).Seq, "1 @15:00 go on"); err == nil {
		t.Error("ended before it began")
	}
	back.Later(false)
	give(t, back, "1 go on")
	if err := back.Pick("2"); err != nil {
		t.Fatal(err)
	}
	give(t, back, "go on")
	if err := back.Pick(""); err != nil {
		t.Fatal(err)
	}
	give(t, back, "behind", "1.31")
	if p := back.State().Piece("1"); p.Place != bench.AtWork || len(p.Last) != 1 {
		t.Errorf("piece 1: %+v", p)
	}
}
