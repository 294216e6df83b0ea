package bench_test

import (
	"errors"
	"testing"
	"time"

	"canewright/engine/bench"
)

const plain = `
stages:
  - stage: bind
    do: wind the wire
  - stage: measure
    targets:
      wire.first: {target: 27.0 ± 0.5 mm, above: once more, below: {then: set aside, because: it cannot be moved}}
    measure: [wire.first]
`

func TestDoneSkipAndGoOn(t *testing.T) {
	t.Parallel()
	for _, word := range []string{"", "done", "go on", "skip", "skip no wire left"} {
		b := begin(t, 2, plain)
		b.asks("work, bind, pieces 1 and 2: Done?")
		b.say(word, "")
		b.asks("reading, measure, piece 1: first wire, from the butt")
	}
	b := begin(t, 1, plain)
	b.no("27.0", "This stage asks for no reading. Enter when it is done, skip to leave it out, ? for help.")
}

func TestAReadingMovesThePieceByItsSide(t *testing.T) {
	t.Parallel()
	b := begin(t, 3, plain)
	b.say("", "")
	b.say("27.0", "Right. / Piece 1: finished.")
	b.say("27.8", "Too far by 0.3. / Piece 2: once more. (first wire too far)")
	b.asks("reading, measure, piece 2: first wire, from the butt")
	b.say("26.2", "Too close by 0.3. / Piece 2: set aside. (first wire too close: it cannot be moved)")
	b.asks("reading, measure, piece 3: first wire, from the butt")
}

func TestSetAsideBringBackThrowAway(t *testing.T) {
	t.Parallel()
	b := begin(t, 2, plain)
	b.no("aside", "This question is for pieces 1 and 2. Say which: 7 aside.")
	b.no("bring back 1", "No piece is set aside.")
	b.Mark = "2"
	b.say("set aside it is dark", "Piece 2: set aside. (it is dark)")
	b.Mark = ""
	b.no("bring back", "Say which piece to bring back. Set aside: 2.")
	b.no("bring back 1", "Say which piece to bring back. Set aside: 2.")
	b.asks("work, bind, piece 1: Done?")
	b.say("", "")
	b.say("throw away: split", "Piece 1: thrown away. (split) Not so? 1 undo.")
	b.asks("nothing: Nothing left to do: set aside: 2; thrown away: 1.")
	b.no("27", "Nothing is under way. Type bring back and a piece, or quit.")
	if b.State.Done {
		t.Error("the batch is closed while a piece is set aside")
	}
	b.say("bring back 2", "Piece 2: brought back.")
	b.asks("work, bind, piece 2: Done?")
	if p := b.State.Piece("2"); p.Visit != 1 || p.Place != bench.AtWork {
		t.Errorf("brought back: visit %d, %s", p.Visit, p.Place)
	}
	b.say("done", "")
	b.say("27", "Right. / Piece 2: finished. / That was the last one. The batch is closed.")
	if !b.State.Done {
		t.Error("the batch is not closed")
	}
	b.asks("nothing: Nothing left to do: finished: 2; thrown away: 1.")
}

// A piece that was put away in the middle of a stage goes on where it was; one
// that the recipe set aside begins its stage anew.
func TestBroughtBack(t *testing.T) {
	t.Parallel()
	b := begin(t, 1, `
stages:
  - {stage: a, measure: [wire.first]}
  - {stage: b, measure: [wire.second, cane.weight], expect: [{that: wire.first - wire.second >= 7 mm, otherwise: set aside}]}
  - {stage: c, wait: {at least: 1 d}}
`)
	b.say("27.0", "")
	b.say("21.0", "")
	b.say("aside", "set aside.")
	b.say("bring back 1", "brought back.")
	b.asks("reading, b, piece 1: weight")
	b.say("1.5", "Not so: wire.first - wire.second >= 7 mm (wire.first = 27 mm, wire.second = 21 mm). / set aside. (wire.first - wire.second >= 7 mm does not hold)")
	b.say("bring back 1", "brought back.")
	b.asks("reading, b, piece 1: second wire, from the butt")
	b.say("19", "")
	b.say("1.5", "")
	b.say("", "The wait has begun.")
	b.wait(2 * time.Hour)
	b.say("aside", "set aside.")
	b.wait(3 * time.Hour)
	b.say("bring back 1", "brought back.")
	b.asks("wait, c, piece 1: Resting, begun 5 h ago.")
}

func TestRemark(t *testing.T) {
	t.Parallel()
	b := begin(t, 2, plain)
	b.no("remark", "This remark is empty. Write it behind the word: remark a little too dark.")
	evs := b.say("Remark: a little Dark", "Pieces 1 and 2: written down.")
	if r, ok := evs[0].Body.(bench.Remark); !ok || r.Text != "a little Dark" || evs[1].Subject.ID != "2" {
		t.Errorf("%+v", evs)
	}
	b.asks("work, bind, pieces 1 and 2: Done?")
}

// A remark while a piece waits is none of its stage's work.
func TestARemarkInAWaitIsNotAtItsStage(t *testing.T) {
	t.Parallel()
	b := begin(t, 1, "stages: [{stage: glue, materials: [household cement], wait: overnight}]\n")
	b.say("", "The wait has begun.")
	if evs := b.say("remark it smells", "written down."); evs[0].Stage != "" {
		t.Errorf("at %q", evs[0].Stage)
	}
}

func TestStaleAnswersAreRefused(t *testing.T) {
	t.Parallel()
	b := begin(t, 1, plain)
	for _, seen := range []uint64{0, b.State.Last - 1, b.State.Last + 1} {
		_, err := bench.Decide(b.State, bench.Answer{Seen: seen}, nil, bench.Moment{})
		var stale *bench.StaleError
		if !errors.As(err, &stale) || stale.Seen != seen || stale.Last != b.State.Last {
			t.Errorf("seen %d: %v", seen, err)
		}
		if err != nil && err.Error() != "this question has been answered meanwhile; here is the new one" {
			t.Errorf("%v", err)
		}
	}
}

func TestTheMakerPicksThePiece(t *testing.T) {
	t.Parallel()
	b := begin(t, 3, plain)
	b.say("", "")
	b.Mark = "3"
	b.asks("reading, measure, piece 3: first wire, from the butt")
	b.say("27", "Right. / Piece 3: finished.")
	b.asks("reading, measure, piece 1: first wire, from the butt") // 3 is finished: the one furthest behind
	b.Mark = "7"
	b.asks("reading, measure, piece 1: first wire, from the butt")
}

func TestLookAnswersByNumberWordsAndBeginnings(t *testing.T) {
	t.Parallel()
	const body = `
stages:
  - stage: form
    look:
      question: How did it form?
      answers: {round and straight: going on, rough: going on, twisted: {then: once more, do: wet it}, split: {then: thrown away, because: it leaks}}
`
	for answer, want := range map[string]string{
		"1": "finished. / That was the last one. The batch is closed.", "Round And  straight": "finished. / That was the last one. The batch is closed.",
		"rou g": "", "ro": "", "5": "", "0": "", "": "", "roundish": "", "t": "once more: wet it. (How did it form? twisted)", "3": "once more: wet it. (How did it form? twisted)", "straight": "finished. / That was the last one. The batch is closed.",
		"SPLIT": "thrown away. (How did it form? split: it leaks) Not so? 1 undo. / That was the last one. The batch is closed.",
		"skip":  "Left out. / finished. / That was the last one. The batch is closed.",
	} {
		b := begin(t, 1, body)
		b.asks("look, form, piece 1: How did it form?")
		switch {
		case want != "":
			b.say(answer, want)
		case answer == "":
			b.no(answer, "This question wants an answer. Type its number: 1 round and straight, 2 rough, 3 twisted, 4 split.")
		default:
			b.no(answer, `"`+answer+`" is not one of the answers. Type its number: 1 round and straight, 2 rough, 3 twisted, 4 split.`)
		}
	}
}

// Where several are true, the gravest moves the piece.
func TestLookWithSeveralAnswers(t *testing.T) {
	t.Parallel()
	const body = `
stages:
  - stage: crow
    look:
      question: What sounds?
      several: yes
      answers: {octaves: going on, one pitch: once more, air only: {then: resting, do: look for a leak}, "3": set aside, dull: {then: going on, do: play it in}}
`
	for answer, want := range map[string]string{
		"1,2": "once more. (What sounds? octaves, one pitch)", "octaves; air": "rests: look for a leak. (What sounds? octaves, air only)", "2, 3": "set aside. (What sounds? one pitch, 3)",
		"1": "finished. / That was the last one. The batch is closed.", "1, dull": "Play it in. / finished. / That was the last one. The batch is closed.",
	} {
		b := begin(t, 1, body)
		b.say(answer, want)
	}
	b := begin(t, 1, body)
	b.no(" , ;", "This question wants an answer. Type its number: 1 octaves, 2 one pitch, 3 air only, 4 3, 5 dull.")
	b.no("1, what", `"what" is not one of the answers. Type its number: 1 octaves, 2 one pitch, 3 air only, 4 3, 5 dull.`)
	if q := b.Question(); q.Keys != "type the number or the words; several with a comma" || len(q.Choices) != 5 {
		t.Errorf("%+v", q)
	}
}

func TestRestingComesBackToItsStage(t *testing.T) {
	t.Parallel()
	b := begin(t, 2, `
stages:
  - stage: crow
    look: {question: what, answers: {air: {then: resting, do: look for a leak, because: the knife is not the cure}, octaves: going on}}
`)
	b.say("air", "Piece 1: rests: look for a leak. (what air: the knife is not the cure)")
	b.asks("look, crow, piece 2: what")
	b.Mark = "1"
	b.wait(3 * time.Hour)
	b.asks("wait, crow, piece 1: Resting, begun 3 h ago.")
	if q := b.Question(); len(q.Do) != 1 || q.Do[0] != "Look for a leak." || q.Keys != "Enter when you take it up again" {
		t.Errorf("%+v", q)
	}
	b.no("27", "This piece rests. Enter when you take it up again, ? for help.")
	b.say("", "Piece 1: once more. (what air: the knife is not the cure)")
	b.asks("look, crow, piece 1: what")
	if q := b.Question(); q.Visit != 2 || q.Again != "What air: the knife is not the cure." {
		t.Errorf("visit %d, again %q", q.Visit, q.Again)
	}
}
