package bench_test

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"canewright/engine/bench"
	"canewright/engine/bench/benchtest"
	"canewright/engine/dimension"
)

func TestOnceMoreIsAnotherVisit(t *testing.T) {
	t.Parallel()
	b := begin(t, 1, one)
	b.say("27.8", "Too far by 0.3. / once more. (first wire too far)")
	q := b.Question()
	if q.Visit != 2 || q.Again != "First wire too far." || len(q.Taken) != 0 {
		t.Errorf("%+v", q)
	}
	evs := b.say("27.0", "Right.")
	for _, e := range evs {
		if e.Visit != 2 || e.Stage != "measure" {
			t.Errorf("%s at %s, visit %d", e.Body.Kind(), e.Stage, e.Visit)
		}
	}
	if q := b.Question(); q.Visit != 1 || q.Again != "" {
		t.Errorf("going on is no return: %+v", q)
	}
}

const round = `
stages:
  - {stage: scrape, measure: [wire.first]}
  - {stage: wind, measure: [wire.second]}
  - stage: crow
    look:
      question: Does it speak?
      answers:
        yes: going on
        no: {go back to: wind, at most: 2 times, then: {then: set aside, because: enough}, do: try again, because: it is stiff}
        squeaks: {go back to: scrape, at most: 1 time, then: thrown away}
    expect: [wire.second >= 10 mm, wire.first >= 10 mm]
`

func TestWayBackAtMostThenWhatFollows(t *testing.T) {
	t.Parallel()
	b := begin(t, 1, round)
	b.say("27.0", "")
	for n := 1; n <= 2; n++ {
		b.say("19.0", "")
		b.say("no", "back to wind: try again. (Does it speak? no: it is stiff)")
		b.asks("reading, wind, piece 1: second wire, from the butt")
		if q := b.Question(); q.Visit != n+1 || q.Again != "Does it speak? no: it is stiff. Try again." {
			t.Errorf("%+v", q)
		}
	}
	b.say("19.0", "")
	b.say("no", "set aside. (Does it speak? no; back at wind twice already: enough)")
}

// Each way back is counted by itself.
func TestWaysBackAreCountedEach(t *testing.T) {
	t.Parallel()
	b := begin(t, 1, round)
	b.say("27.0", "")
	b.say("19.0", "")
	b.say("no", "back to wind: try again. (Does it speak? no: it is stiff)")
	b.say("19.0", "")
	b.say("squeaks", "back to scrape. (Does it speak? squeaks)")
	b.say("27.0", "")
	b.say("19.0", "")
	b.say("no", "back to wind: try again. (Does it speak? no: it is stiff)")
	b.say("19.0", "")
	b.say("squeaks", "thrown away. (Does it speak? squeaks; back at scrape once already) Not so? 1 undo. / That was the last one. The batch is closed.")
}

// After going back to a stage, what was measured there or later is not used by
// rules until it is measured again; what was measured before it is.
func TestReadingsOfAnEarlierVisitAreNotUsed(t *testing.T) {
	t.Parallel()
	b := begin(t, 1, round)
	b.say("27.0", "")
	b.say("19.0", "")
	b.say("no", "back to wind: try again. (Does it speak? no: it is stiff)")
	b.say("skip", "Left out: second wire.")
	b.say("yes", "Not judged: wire.second >= 10 mm. Left out: wire.second. / finished. / That was the last one. The batch is closed.")
}

func TestGroupsAnswerTogether(t *testing.T) {
	t.Parallel()
	b := begin(t, 4, `
stages:
  - {stage: soak, for: the batch, materials: [water], wait: {at least: 2 h}, becomes: wet}
  - {stage: look, for: the batch, look: {question: 'Did they sink?', answers: {all: going on, none: once more}}}
  - {stage: weigh, for: the batch, measure: [cane.weight]}
  - {stage: bind, do: wind}
  - {stage: end, do: rest}
`)
	b.asks("work, soak, all 4 pieces: Begun?")
	b.say("", "The wait has begun.")
	b.wait(3 * time.Hour)
	b.asks("wait, soak, all 4 pieces: Resting, begun 3 h ago.")
	b.say("", "")
	for _, p := range b.State.Pieces {
		if p.Condition != dimension.Wet {
			t.Errorf("piece %s is %q", p.Mark, p.Condition)
		}
	}
	b.asks("look, look, all 4 pieces: Did they sink?")
	b.Mark = "3"
	b.say("aside", "Piece 3: set aside.")
	b.asks("look, look, pieces 1, 2 and 4: Did they sink?")
}

func TestAStageOfTheBatchAsksOnceForAll(t *testing.T) {
	t.Parallel()
	b := begin(t, 3, `
stages:
  - {stage: weigh, for: the batch, measure: [cane.weight]}
  - {stage: bind, do: wind}
`)
	b.asks("reading, weigh, pieces 1 to 3: weight")
	evs := b.say("2.5", "Pieces 1 to 3: weight 2.5, written down.")
	if len(evs) != 9 { // a reading, settled, moved, for each
		t.Errorf("%d events", len(evs))
	}
	b.asks("work, bind, pieces 1 to 3: Done?")
	b.Mark = "2" // an exception is named
	b.asks("work, bind, piece 2: Done?")
	b.say("skip", "Piece 2: finished.")
	b.Mark = ""
	b.asks("work, bind, pieces 1 and 3: Done?")
}

func TestStagesForSomePieces(t *testing.T) {
	t.Parallel()
	b := begin(t, 5, `
stages:
  - {stage: try, for: the first piece, becomes: wet, do: try it}
  - {stage: weigh, for: 1 piece in 2, measure: [{take: cane.weight}, {take: wire.first, for: the first piece}]}
  - {stage: bind, measure: [{take: wire.first, for: 1 piece in 4}]}
`)
	b.asks("work, try, piece 1: Done?")
	if p := b.State.Piece("2"); p.Stage != 2 || p.Visit != 1 || p.Condition != "" || p.Place != bench.AtWork {
		t.Errorf("piece 2 begins at stage %d, %s, %q", p.Stage, p.Place, p.Condition)
	}
	b.say("", "")
	b.asks("reading, weigh, piece 1: weight")
	b.say("2.5", "")
	b.asks("reading, weigh, piece 1: first wire, from the butt")
	b.say("27", "")
	b.asks("reading, weigh, piece 3: weight")
	b.say("2.5", "")
	b.asks("reading, weigh, piece 5: weight")
	b.say("2.5", "")
	b.asks("reading, bind, piece 1: first wire, from the butt")
	b.say("27", "Piece 1: finished.")
	b.asks("work, bind, pieces 2 to 4: Done?")
	b.say("", "Pieces 2 to 4: finished.")
	b.asks("reading, bind, piece 5: first wire, from the butt")
}

// A recipe in which nothing is for a piece has no work for it.
func TestAPieceNoStageIsFor(t *testing.T) {
	t.Parallel()
	b := begin(t, 2, "stages: [{stage: try, for: the first piece}]\n")
	if p := b.State.Piece("2"); p.Place != bench.Finished {
		t.Errorf("piece 2 is %s", p.Place)
	}
	b.say("", "Piece 1: finished. / That was the last one. The batch is closed.")
}

func TestWaitsEndEarlyOrLate(t *testing.T) {
	t.Parallel()
	const body = `
stages:
  - {stage: dry, do: hang it up, wait: {until: it is dry, at least: overnight, usual: 2 d, at most: 1 week, because: it settles}}
  - {stage: end, do: rest}
`
	b := begin(t, 2, body)
	b.asks("work, dry, pieces 1 and 2: Begun?")
	b.say("", "The wait has begun.")
	b.wait(3 * time.Hour)
	q := b.Question()
	if q.Target != "ready from tomorrow 03:00: until it is dry, at least overnight, usually 2 d, at most 1 week" || !slices.Equal(q.Warn, []string{"Because it settles."}) || q.Keys != "come back later, or type: go on" {
		t.Errorf("%+v", q)
	}
	b.no("", "It has rested 3 h; the recipe says at least overnight. Type go on to end the wait now, or quit and come back.")
	b.no("done", "It has rested 3 h; the recipe says at least overnight. Type go on to end the wait now, or quit and come back.")
	b.no("skip", "This is a wait. Enter when the wait is over, ? for help.")
	b.Mark = "1"
	evs := b.say("go on", "")
	if w := evs[0].Body.(bench.WaitEnded); !w.Early || w.Stage != "dry" || bench.Told(evs[0]) != "wait ended early, on purpose" {
		t.Errorf("%+v", w)
	}
	b.Mark = "2"
	b.wait(30 * 24 * time.Hour)
	if q := b.Question(); q.Keys != "Enter when the wait is over" {
		t.Errorf("%+v", q)
	}
	evs = b.say("", "")
	if w := evs[0].Body.(bench.WaitEnded); w.Early || bench.Told(evs[0]) != "wait ended" {
		t.Errorf("%+v", w)
	}
}

// Pieces at work come before pieces that wait; the one furthest behind first.
func TestTheOneFurthestBehindIsAskedFirst(t *testing.T) {
	t.Parallel()
	b := begin(t, 3, plain)
	b.Mark = "1"
	b.say("", "")
	b.Mark = ""
	b.asks("work, bind, pieces 2 and 3: Done?")
	b = begin(t, 2, "stages: [{stage: rest, wait: 1 d}, {stage: end}]\n")
	b.Mark = "1"
	b.say("", "Piece 1: the wait has begun.")
	b.Mark = ""
	b.asks("work, rest, piece 2: Begun?")
}

func TestWarningsStandAtTheFirstQuestionOfAVisit(t *testing.T) {
	t.Parallel()
	b := begin(t, 1, `
stages:
  - stage: ream
    because: it must fit
    no way back: yes
    mark again: in ink
    uses: [staple]
    do: [ream it, measure it]
    measure: [wire.first, wire.second]
`)
	q := b.Question()
	want := []string{"No way back from here: measure before you cut.", "Mark it again: in ink.", "Uses: staple.", "Because it must fit."}
	if !slices.Equal(q.Warn, want) || !slices.Equal(q.Do, []string{"ream it", "measure it"}) {
		t.Errorf("%q, %q", q.Warn, q.Do)
	}
	b.say("27", "")
	if q := b.Question(); len(q.Warn)+len(q.Do) != 0 {
		t.Errorf("said again: %+v", q)
	}
}

// A reading is taken in the condition the stage asks for, else in the piece's.
func TestTheConditionOfAReading(t *testing.T) {
	t.Parallel()
	b := begin(t, 1, `
stages:
  - {stage: a, measure: [wire.first], becomes: wet}
  - {stage: b, measure: [wire.first]}
  - {stage: c, condition: dry, measure: [wire.first]}
`)
	for _, want := range []string{"", "wet", "dry"} {
		evs, _ := b.give("27")
		if got := evs[0].Body.(bench.ReadingTaken).Condition; got != want {
			t.Errorf("at %s: %q, want %q", evs[0].Stage, got, want)
		}
	}
}

// What a piece is asked is the same after the program was closed and opened.
func TestFoldingTheEventsAgainAsksTheSame(t *testing.T) {
	t.Parallel()
	b := begin(t, 2, gridded)
	for _, answer := range []string{"0.99", "0.70", "skip", "0.70", "remark x", "undo", "0.885"} {
		b.give(answer)
		s, err := bench.Fold(b.Bound, slices.Clone(b.State.Events()))
		if err != nil {
			t.Fatal(err)
		}
		again := &benchtest.Driver{Bound: b.Bound, State: s, Now: b.Now}
		if x, y := asJSON(t, again.Question()), asJSON(t, b.Question()); x != y {
			t.Errorf("after %q:\n%s\nwas\n%s", answer, x, y)
		}
	}
}

func TestFoldRefusesGapsAndForeignStages(t *testing.T) {
	t.Parallel()
	b := begin(t, 1, plain)
	b.give("")
	evs := b.State.Events()
	if _, err := bench.Fold(b.Bound, evs[1:]); err == nil || err.Error() != "fold batch: event 2 stands where 1 should be" {
		t.Errorf("%v", err)
	}
	foreign := slices.Clone(evs)
	foreign[len(foreign)-1].Stage = "paint"
	want := fmt.Sprintf("fold batch: event %d is at stage \"paint\", which the recipe does not have", len(foreign))
	if _, err := bench.Fold(b.Bound, foreign); err == nil || err.Error() != want {
		t.Errorf("%v", err)
	}
	if err := b.State.Apply(evs[:1]); err == nil {
		t.Error("an old event is applied again")
	}
}

func TestASessionIsClosedOnce(t *testing.T) {
	t.Parallel()
	b := begin(t, 1, plain)
	evs := bench.CloseSession(b.State, bench.Moment{At: b.Now})
	if len(evs) != 1 || evs[0].Body != (bench.SessionClosed{}) || b.State.Left {
		t.Fatalf("%+v", evs)
	}
	if err := b.State.Apply(evs); err != nil || !b.State.Left {
		t.Fatalf("left %v, %v", b.State.Left, err)
	}
	if evs := bench.CloseSession(b.State, bench.Moment{At: b.Now}); evs != nil {
		t.Errorf("closed again: %+v", evs)
	}
	if err := b.Reopen(); err != nil || b.State.Left {
		t.Errorf("opened again: left %v, %v", b.State.Left, err)
	}
}
