package bench_test

import (
	"slices"
	"testing"

	"canewright/engine/bench"
)

const two = `targets:
  wire.first: {target: 27.0 ± 0.5 mm, above: once more}
  wire.second: 19.0 ± 0.5 mm
stages:
  - stage: bind
    do: Bind it.
  - stage: measure
    measure: [wire.first, wire.second, wire.turns]
    look:
      question: How is it?
      several: yes
      answers: {good: going on, odd: going on, bad: set aside}
  - stage: rest
    wait: {at least: 1 h}
  - stage: end
    do: rest
`

func TestAnswersBeginWithTheirPieces(t *testing.T) {
	t.Parallel()
	b := begin(t, 6, two)
	b.say("2 4 done", "")
	b.asks("work, bind, pieces 1, 3, 5 and 6: Done?")
	b.say("5-6", "")
	b.say("all but 3", "")
	b.asks("work, bind, piece 3: Done?")
	b.say("all done", "")
	b.asks("reading, measure, piece 1: first wire, from the butt")
	b.say("4 27.1", "Piece 4: first wire 27.1. Right.")
	b.say("4 19,1", "Piece 4: second wire 19,1. Right.")
	b.say("2: 27.8", "Piece 2: first wire 27.8. Too far by 0.3. / Piece 2: once more. (first wire too far)")
	b.say("27.2", "Right.")
	b.say("19.0 19.1", "Right.")
	b.asks("reading, measure, piece 1: turns")
	b.say("1 2", "") // piece 1 has 2 turns: nothing else is asked of it but the look
	b.asks("look, measure, piece 1: How is it?")
	b.no("4 2", "Piece 4 is asked something else: turns. Turn to it first: piece 4.")
	b.say("1, 2", "")
	b.say("2 aside it split", "Piece 2: set aside. (it split)")
	b.say("bring back 2", "Piece 2: brought back.")
	b.no("9 27", "There is no piece 9. If these are readings, put ; between them.")
}

func TestAPieceOrAReading(t *testing.T) {
	t.Parallel()
	b := begin(t, 30, `targets: {wire.first: 27.0 ± 0.5 mm}
stages:
  - stage: measure
    measure: [wire.first]
`)
	b.no("27 27", "Is 27 the piece, or a reading? For the piece write 27: 27 and for readings put ; between them.")
	b.say("27: 27", "Piece 27: first wire 27. Right. / Piece 27: finished.")
	b.say("27; 27", "Right. / Piece 1: finished.")
	b.no("2 1/16 in", "Is 2 the piece, or part of the number? For the piece write 2: 1/16 in and for the one number 2-1/16 in.")
	b.say("2: 1 1/16 in", "Right. / Piece 2: finished.")
	b.say("3 1 1/16 in", "Right. / Piece 3: finished.")
	b.say("1-1/16 in", "Right. / Piece 4: finished.")
	b.no("2 27", "Piece 2 is finished.")
}

func TestMarksMayBeWordsOfAnyScript(t *testing.T) {
	t.Parallel()
	b := beginWith(t, bench.Beginning{Pieces: []string{"Lotte", "葦", "B12"}}, two)
	b.say("all", "")
	b.say("葦 27.1", "Piece 葦: first wire 27.1. Right.")
	b.say("lotte 27.0", "Right.")
	b.say("b12 remark hard", "Piece B12: written down.")
	if p := b.State.Piece("葦"); len(p.Held) != 1 {
		t.Errorf("%+v", p)
	}
}

func TestAllIsWhoIsAtThisQuestion(t *testing.T) {
	t.Parallel()
	b := begin(t, 3, two)
	b.say("3 skip it is bound already", "")
	evs := b.say("all", "")
	var who []string
	for _, e := range evs {
		if _, ok := e.Body.(bench.Done); ok {
			who = append(who, e.Subject.ID)
		}
	}
	if !slices.Equal(who, []string{"1", "2"}) {
		t.Errorf("done: %v", who)
	}
	b.no("all but", "All but which pieces? Write them behind it: all but 4 9.")
	b.no("all but 1 2 3", "No piece is at this question. rack shows where each piece is.")
}

func TestALooksAnswersComeBeforeTheWordsOfTheBench(t *testing.T) {
	t.Parallel()
	b := begin(t, 3, `stages:
  - stage: feel
    look:
      question: How does it feel?
      answers: {dry: going on, all wet: set aside, 2 soft ends: thrown away}
  - stage: end
    do: rest
`)
	b.say("all wet", "Piece 1: set aside. (How does it feel? all wet)")
	b.say("2 soft ends", "Piece 2: thrown away. (How does it feel? 2 soft ends) Not so? 2 undo.")
	b.say("3 dry", "")
	if p := b.State.Piece("3"); p.Condition != "" || p.Stage != 1 {
		t.Errorf("%+v", p)
	}
}
