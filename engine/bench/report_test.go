package bench_test

import (
	"encoding/json"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"canewright/engine/bench"
)

func TestRack(t *testing.T) {
	t.Parallel()
	b := begin(t, 6, `
stages:
  - stage: bind
    look: {question: how, answers: {well: going on, loose: {then: resting, because: it settles}, bad: {then: thrown away, because: it leaks}, so so: set aside}}
  - {stage: dry, for: 1 piece in 2, wait: 1 d}
`)
	for _, x := range [][2]string{{"1", "well"}, {"2", "loose"}, {"3", "bad"}, {"4", "so so"}, {"6", "well"}} {
		b.Mark = x[0]
		b.give(x[1])
	}
	b.Mark = "1"
	b.say("", "Piece 1: the wait has begun.")
	b.wait(26*time.Hour + 10*time.Minute)
	want := []string{
		"piece 1: dry, resting, begun 1 d 2 h ago", "piece 2: bind, resting 1 d 2 h ago", "piece 3: bind, thrown away 1 d 2 h ago (how bad: it leaks)",
		"piece 4: bind, set aside 1 d 2 h ago (how so so)", "piece 5: bind, come 1 d 2 h ago", "piece 6: finished 1 d 2 h ago",
	}
	if got := bench.Rack(b.State, b.Now); !slices.Equal(got, want) {
		t.Errorf("rack\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

func TestSince(t *testing.T) {
	t.Parallel()
	now := time.Date(2026, 1, 12, 19, 0, 0, 0, time.UTC)
	for ago, want := range map[time.Duration]string{
		0: "just now", 59 * time.Second: "just now", -30 * time.Second: "just now", -time.Hour: "at 2026-01-12 20:00, which this clock has not reached", time.Minute: "1 min ago", 61 * time.Second: "1 min ago", 3 * time.Hour: "3 h ago",
		3*time.Hour + 5*time.Minute + 40*time.Second: "3 h 5 min ago", 24 * time.Hour: "1 d ago", 52*time.Hour + 59*time.Minute: "2 d 4 h ago", 15 * 24 * time.Hour: "15 d ago",
	} {
		if got := bench.Since(now.Add(-ago), now); got != want {
			t.Errorf("%v: %q, want %q", ago, got, want)
		}
	}
}

func TestTold(t *testing.T) {
	t.Parallel()
	said := &bench.Said{Side: "above", Sentence: "Too far by 0.3."}
	for _, c := range []struct {
		body bench.Body
		want string
	}{
		{bench.BatchStarted{Recipe: "a-reed", Version: 3, Pieces: 1}, "begun with 1 piece, recipe a-reed version 3"},
		{bench.BatchStarted{Recipe: "a-reed", Version: 3, Pieces: 2}, "begun with 2 pieces, recipe a-reed version 3"},
		{bench.SessionOpened{ID: "x"}, ""}, {bench.SessionClosed{}, ""}, {bench.PieceAdded{Mark: "1"}, ""},
		{bench.NoteAcknowledged{ID: "N-1", Signal: "CAUTION", Answer: "behind"}, "CAUTION N-1 answered: behind"},
		{bench.ReadingTaken{Slot: "wire.first", Text: "27,8", Unit: "mm", Bare: true, Tool: "caliper", Said: said}, "wire.first 27,8 mm, caliper: Too far by 0.3."},
		{bench.ReadingTaken{Slot: "wire.first", Text: "1 1/16 in", Unit: "in"}, "wire.first 1 1/16 in"},
		{bench.Settled{Slot: "wire.first", Side: "above", Accepted: true}, "wire.first let stand, above"},
		{bench.Settled{Slot: "wire.first", Side: "above"}, ""},
		{bench.Skipped{What: "measurement", Slot: "wire.first", Why: "no light"}, "left out: measurement wire.first no light"},
		{bench.Skipped{What: "work"}, "left out: work"},
		{bench.RuleJudged{That: "a >= b", Missing: []string{"a", "b"}}, "not judged: a >= b (not measured: a, b)"},
		{bench.RuleJudged{That: "a >= b", Holds: true}, "holds: a >= b"},
		{bench.RuleJudged{That: "a >= b", Inputs: []string{"a = 1 mm", "b = 2 mm"}}, "does not hold: a >= b (a = 1 mm, b = 2 mm)"},
		{bench.Done{}, "done"},
		{bench.Looked{Question: "How?", Answers: []string{"well", "fast"}}, "How? well, fast"},
		{bench.WaitBegun{}, "wait begun"},
		{bench.WaitEnded{Stage: "dry"}, "wait ended"}, {bench.WaitEnded{Stage: "dry", Early: true}, "wait ended early, on purpose"},
		{bench.PieceMoved{How: "going on", To: "dry"}, "going on: dry"}, {bench.PieceMoved{How: "once more", To: "bind", Why: "loose"}, "once more (loose)"},
		{bench.PieceMoved{How: "going on"}, "finished"},
		{bench.Remark{Text: "dark"}, "remark: dark"}, {bench.AnswerTakenBack{Cause: 7}, "took back answer 7"}, {bench.BatchClosed{}, "closed"},
	} {
		if got := bench.Told(bench.Event{Head: bench.Head{Stage: "bind"}, Body: c.body}); got != c.want {
			t.Errorf("%#v: %q, want %q", c.body, got, c.want)
		}
	}
}

// What goes to disk comes back the same, for every kind of event.
func TestEventsComeBackFromJSON(t *testing.T) {
	t.Parallel()
	for _, body := range []bench.Body{
		bench.BatchStarted{Recipe: "a", Version: 2, Pieces: 3}, bench.SessionOpened{ID: "s"}, bench.SessionClosed{}, bench.PieceAdded{Mark: "7", Number: 2},
		bench.NoteAcknowledged{ID: "N-1", Revision: 2, Signal: "CAUTION", Answer: "behind"},
		bench.ReadingTaken{Slot: "a", Text: "27,0", Unit: "mm", Bare: true, Step: 100_000, Q: 27_000_000, Tool: "ruler", Condition: "wet", Repeat: 2,
			Said: &bench.Said{Side: "inside", OnLimit: true, Probability: 0.123456789012345, Sure: true, Coarse: true, More: 3, N: 2, Sentence: "Right.", Target: "27 mm"}},
		bench.ReadingTaken{Slot: "a", Text: "-1", Q: -1 << 53, Repeat: 1},
		bench.Settled{Slot: "a", Sum: 1 << 60, N: 30, Side: "below", Sure: true, Accepted: true, Do: "leave it"},
		bench.Skipped{What: "measurement", Slot: "a", Why: "no \x00 \" light"},
		bench.RuleJudged{That: "a >= b", Inputs: []string{"a = 1"}, Missing: []string{"b"}, Holds: true, Said: "no"},
		bench.Done{}, bench.Looked{Question: "q", Answers: []string{"a", "b"}, Do: "x"}, bench.WaitBegun{}, bench.WaitEnded{Stage: "dry", Early: true},
		bench.PieceMoved{How: "once more", To: "bind", Do: "wet it", Why: "loose"}, bench.Remark{Text: "ä"}, bench.AnswerTakenBack{Cause: 1 << 40}, bench.BatchClosed{},
	} {
		data, err := json.Marshal(body)
		if err != nil {
			t.Fatal(err)
		}
		back, err := bench.DecodeBody(body.Kind(), data)
		if err != nil || !reflect.DeepEqual(back, body) {
			t.Errorf("%#v came back as %#v, %v", body, back, err)
		}
	}
	if _, err := bench.DecodeBody("reed played", []byte("{}")); err == nil || err.Error() != `read event: unknown kind "reed played", written by a newer version` {
		t.Errorf("%v", err)
	}
	if _, err := bench.DecodeBody("remark", []byte("{")); err == nil {
		t.Error("half an event is read")
	}
}

// Every event carries when, where and by whom.
func TestEventsCarryTheirHead(t *testing.T) {
	t.Parallel()
	b := begin(t, 1, plain)
	at := time.Date(2026, 2, 3, 4, 5, 6, 0, time.UTC)
	evs, err := bench.Decide(b.State, bench.Answer{Seen: b.State.Last}, nil, bench.Moment{At: at, Zone: "Europe/Vienna", Who: "me"})
	if err != nil {
		t.Fatal(err)
	}
	first := b.State.Last + 1
	for i, e := range evs {
		want := bench.Head{Seq: first + uint64(i), Cause: first, At: at, Entered: at, Zone: "Europe/Vienna", Session: "session-1", Who: "me", Subject: bench.Subject{Kind: "piece", ID: "1"}, Stage: "bind", Visit: 1}
		if e.Head != want {
			t.Errorf("%+v, want %+v", e.Head, want)
		}
	}
}

func TestReportOfTheRest(t *testing.T) {
	t.Parallel()
	b := begin(t, 1, plain)
	for _, c := range []struct {
		body bench.Body
		want string
	}{
		{bench.Done{}, ""}, {bench.WaitEnded{}, ""}, {bench.PieceMoved{How: "going on", To: "x"}, ""}, {bench.PieceMoved{How: "thrown away"}, "thrown away. Not so? 1 undo."},
		{bench.PieceMoved{How: "once more", Do: "wet it."}, "once more: wet it."}, {bench.PieceMoved{How: "go back to", To: "bind", Why: "loose"}, "back to bind. (loose)"},
		{bench.AnswerTakenBack{Cause: 99}, "Taken back: the last answer."},
	} {
		got := strings.Join(bench.Report(b.State, []bench.Event{{Body: c.body, Head: bench.Head{Subject: bench.Subject{Kind: "piece", ID: "1"}}}}, []string{"1"}), " / ")
		if got != c.want {
			t.Errorf("%#v: %q, want %q", c.body, got, c.want)
		}
	}
}
