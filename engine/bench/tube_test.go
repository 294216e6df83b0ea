package bench_test

import (
	"strings"
	"testing"

	"canewright/engine/bench"
)

const tubes = `targets: {wire.first: 25 ± 1 mm}
stages:
  - stage: choose
    for: each tube
    measure: [wire.first]
    expect:
      - {that: wire.first >= 10 mm, otherwise: thrown away}
  - stage: soak the tubes
    for: the batch
    wait: {at least: 1 h}
  - stage: split
    for: each tube
    into: 4 pieces
    tools: [knife]
  - stage: sort
    look: {question: 'Straight?', answers: {straight: going on, bent: thrown away}}
  - stage: gouge
    measure: [wire.second]
    expect:
      - {that: wire.first - wire.second >= 1 mm, otherwise: set aside}
`

func TestTubesAreSplitIntoPieces(t *testing.T) {
	t.Parallel()
	b := beginWith(t, bench.Beginning{Tubes: []string{"A", "B", "C"}}, tubes)
	b.asks("reading, choose, tube A: first wire, from the butt")
	b.say("25.1", "Right.")
	b.say("b 25,2", "Right.")
	b.say("9.5 9.4", "Too close by 14.6. / Not so: wire.first >= 10 mm (wire.first = 9.45 mm). / Tube C: thrown away. (wire.first >= 10 mm does not hold) Not so? C undo.")
	b.asks("work, soak the tubes, tubes A and B: Begun?")
	b.say("", "Tubes A and B: the wait has begun.")
	b.say("go on", "")
	b.asks("into, split, tube A: How many pieces came out of tube A?")
	b.no("13", `"13" is not a number of pieces. Type how many, 0 to 12, or Enter for 4.`)
	b.say("B 3", "From tube B: pieces 1 to 3. Write the number on each.")
	b.asks("into, split, tube A: How many pieces came out of tube A?")
	b.say("", "From tube A: pieces 4 to 7. Write the number on each.")
	b.asks("look, sort, piece 1: Straight?")
	p := b.State.Piece("5")
	if p.Tube != "A" || p.Number != 5 || len(p.Held) != 1 {
		t.Errorf("%+v", p)
	}
	if got := strings.Join(bench.Rack(b.State, b.Now), " / "); got != "tube C: choose, thrown away 1 min ago (wire.first >= 10 mm does not hold) / pieces 1 to 7: sort, come just now" {
		t.Errorf("rack: %s", got)
	}
	b.say("all but 6 straight", "Pieces 1 to 5 and 7: straight.")
	b.say("6 bent", "Piece 6: thrown away. (Straight? bent) Not so? 6 undo.")
	// What was read of the tube is known of its pieces.
	b.say("4 24.5", "Piece 4: second wire 24.5, written down. / Piece 4: Not so: wire.first - wire.second >= 1 mm (wire.first = 25.1 mm, wire.second = 24.5 mm). / Piece 4: set aside. (wire.first - wire.second >= 1 mm does not hold)")
}

func TestTakingBackASplitTakesBackItsPieces(t *testing.T) {
	t.Parallel()
	b := beginWith(t, bench.Beginning{Tubes: []string{"A"}}, tubes)
	b.say("25", "Right.")
	b.say("", "The wait has begun.")
	b.say("go on", "")
	b.say("4", "From tube A: pieces 1 to 4. Write the number on each.")
	b.say("1 straight", "")
	b.no("A undo", "A later answer for piece 1 rests on this one. Take that back first: 1 undo.")
	b.say("1 undo", "Taken back: piece 1, Straight? straight.")
	b.say("A undo", "Taken back: tube A, split into 4.")
	b.asks("into, split, tube A: How many pieces came out of tube A?")
	if len(b.State.Pieces) != 1 {
		t.Errorf("%d pieces are left", len(b.State.Pieces))
	}
	b.say("0", "Tube A gave no piece. / That was the last one. The batch is closed.")
}

func TestPiecesBegunElsewhere(t *testing.T) {
	t.Parallel()
	b := beginWith(t, bench.Beginning{Pieces: []string{"1", "2"}, From: "gouge"}, tubes)
	b.asks("reading, gouge, piece 1: second wire, from the butt")
	b.say("24", "Piece 1: finished.")
	if _, err := bench.Begin(b.Bound, bench.Beginning{Pieces: []string{"1"}, From: "nowhere"}, "s", bench.Moment{}); err == nil {
		t.Error("a stage that is not there is taken")
	}
	b = beginWith(t, bench.Beginning{Pieces: []string{"1"}}, tubes)
	b.asks("look, sort, piece 1: Straight?")
}
