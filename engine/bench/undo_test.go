package bench_test

import (
	"testing"

	"canewright/engine/bench"
)

func TestUndoTakesBackTheLastAnswer(t *testing.T) {
	t.Parallel()
	b := begin(t, 1, plain)
	b.no("undo", "There is no answer to take back.")
	b.say("", "")
	b.say("27.8", "Too far by 0.3. / once more. (first wire too far)")
	b.say("undo", "Taken back: first wire 27.8.")
	b.asks("reading, measure, piece 1: first wire, from the butt")
	if p := b.State.Piece("1"); p.Visit != 1 || len(p.Open) != 0 || len(p.Held) != 0 {
		t.Errorf("%+v", p)
	}
	// Undo of undo does not exist: the answer before is taken back.
	b.say("take back", "Taken back: bind, done.")
	b.asks("work, bind, piece 1: Done?")
	b.no("undo", "There is no answer to take back.")
	if n := len(b.State.Events()); b.State.Last != uint64(n) || n < 9 {
		t.Errorf("%d events are kept", n)
	}
}

func TestUndoTakesBackEveryEventOfTheAnswer(t *testing.T) {
	t.Parallel()
	b := begin(t, 2, plain)
	b.say("", "")
	b.say("undo", "Taken back: pieces 1 and 2, bind, done.")
	b.asks("work, bind, pieces 1 and 2: Done?")
	b.Mark = "2"
	b.say("throw away", "Piece 2: thrown away. Not so? 2 undo.")
	b.Mark = ""
	b.say("", "")
	b.say("27", "Right. / Piece 1: finished. / That was the last one. The batch is closed.")
	b.say("undo", "Taken back: piece 1, first wire 27.")
	if b.State.Done {
		t.Error("the batch is still closed")
	}
	b.Last = "2"
	b.say("undo", "Taken back: piece 2, thrown away.")
	b.asks("work, bind, piece 2: Done?")
}

func TestUndoIsOfThePieceLastAnsweredForInThisWindow(t *testing.T) {
	t.Parallel()
	b := begin(t, 2, plain)
	b.say("", "")
	b.Mark, b.Last = "2", "2"
	b.say("27.1", "Right. / Piece 2: finished.")
	b.Mark = "1"
	b.say("27.2", "Right. / Piece 1: finished. / That was the last one. The batch is closed.")
	b.Last = "2"
	b.say("undo", "Taken back: piece 2, first wire 27.1.")
}

// An answer for several pieces stands while a later one for any of them rests
// on it.
func TestUndoIsRefusedWhileLaterAnswersRestOnIt(t *testing.T) {
	t.Parallel()
	b := begin(t, 2, plain)
	b.say("", "")
	b.say("27.0", "Right. / Piece 1: finished.")
	b.Last = "2"
	b.no("undo", "A later answer for piece 1 rests on this one. Take that back first: 1 undo.")
	b.Last = "1"
	b.say("undo", "Taken back: piece 1, first wire 27.0.")
	b.Last = "2"
	b.say("undo", "Taken back: pieces 1 and 2, bind, done.")
	b.asks("work, bind, pieces 1 and 2: Done?")
}

func TestUndoOfALetStandAndOfARemark(t *testing.T) {
	t.Parallel()
	b := begin(t, 1, plain)
	b.say("", "")
	b.say("27.5", "On the limit. Counts as right.")
	b.say("remark hm", "written down.")
	b.say("undo", "Taken back: a remark.")
	b.say("", "finished. / That was the last one. The batch is closed.")
	b.say("undo", "Taken back: first wire let stand.")
	b.asks("settle, measure, piece 1: first wire, from the butt")
	b.say("aside", "set aside.")
	b.say("undo", "Taken back: set aside.")
	b.asks("settle, measure, piece 1: first wire, from the butt")
}

func TestTakenBackIsMarked(t *testing.T) {
	t.Parallel()
	b := begin(t, 1, plain)
	evs, _ := b.give("")
	cause := evs[0].Cause
	if b.State.TakenBack(cause) {
		t.Error("taken back before it was")
	}
	back, _ := b.give("undo")
	if a, ok := back[0].Body.(bench.AnswerTakenBack); !ok || a.Cause != cause || !b.State.TakenBack(cause) {
		t.Errorf("%+v", back)
	}
}
