package bench_test

import (
	"testing"

	"canewright/engine/bench"
)

func TestASplitEnteredLaterGivesItsPieces(t *testing.T) {
	t.Parallel()
	b := beginWith(t, bench.Beginning{Tubes: []string{"A"}}, "stages: [{stage: split, for: each tube, into: 4 pieces}, {stage: end, do: rest}]\n")
	b.Later = true
	b.say("A 4", "From tube A: pieces 1 to 4. Write the number on each.")
	if len(b.State.Pieces) != 5 || b.State.Done {
		t.Errorf("%d subjects, closed: %v", len(b.State.Pieces), b.State.Done)
	}
}

func TestASkipAfterStrokesIsNoPanic(t *testing.T) {
	t.Parallel()
	b := begin(t, 1, `targets: {blade.thickness: {from: collar, at: 3 9 mm, spine: 0.90 0.70 mm, within: ± 0.03 mm}}
stages: [{stage: scrape, measure: [{take: blade.thickness, repeat: 2}]}]
`)
	b.give("0.90")
	b.give("+8 spine A")
	b.give("skip")
}

func TestSeveralAnswersAreNoPiece(t *testing.T) {
	t.Parallel()
	b := begin(t, 3, `stages:
  - stage: look
    look: {question: 'How?', several: yes, answers: {dark: going on, spotted: going on, cracked: thrown away, dry: set aside}}
`)
	b.give("1, 2")
	if p := b.State.Piece("1"); p.Place != bench.Finished {
		t.Errorf("%s", p.Place)
	}
	b.say("1, 3", "Piece 2: thrown away. (How? dark, cracked) Not so? 2 undo.")
}

func TestMarksMayStandBehindAWord(t *testing.T) {
	t.Parallel()
	b := begin(t, 4, two)
	b.say("done 3", "")
	b.asks("work, bind, pieces 1, 2 and 4: Done?")
	b.say("all", "")
	b.say("throw away 3", "Piece 3: thrown away. Not so? 3 undo.")
	b.say("aside 4 too loose", "Piece 1: set aside. (4 too loose)") // a reason may begin with a number
	b.give("2: 27")
	b.no("2 4 undo", "One piece's answer is taken back at a time. Begin with it: 2 undo.")
	b.no("2-9 done", `"-9 done" does not belong after the number. One number is wanted here, not a range.`)
}

func TestStrokesAndFurtherReadingsAreOfOnePiece(t *testing.T) {
	t.Parallel()
	b := begin(t, 2, two)
	b.no("+8 left rail A", "This question is for pieces 1 and 2. Say which: 1 +8 left rail A.")
	b.no("measure weight 5.1", "This question is for pieces 1 and 2. Say which: 1 measure weight 5.1.")
	b.say("2 measure weight 5.1", "Piece 2: weight 5.1, written down.")
	b.say("2 measure weight 4.0", "Piece 2: weight 4.0, written down.")
	slot := b.Bound.SlotOf("cane.weight")
	if h := b.State.Piece("2").Held[slot]; h.N != 2 || h.Sum != 9_100_000_000 {
		t.Errorf("%+v", h)
	}
	b.give("2 correct 5.1 to 6.0")
	if h := b.State.Piece("2").Held[slot]; h.Sum != 10_000_000_000 {
		t.Errorf("after the correction: %+v", h)
	}
}

func TestACorrectionOfAKeptReadingReachesTheRules(t *testing.T) {
	t.Parallel()
	b := begin(t, 1, `targets: {wire.first: 27.0 ± 0.5 mm}
stages:
  - stage: wires
    measure: [wire.first, wire.second]
    expect: [{that: wire.first - wire.second >= 8 mm, otherwise: set aside}]
    look: {question: 'Good?', answers: {good: going on, odd: once more}}
  - stage: end
    do: rest
`)
	b.give("27.0")
	b.give("18")
	b.give("odd")
	b.give("keep")
	b.give("1 correct wire.first 20.0!")
	if h := b.State.Piece("1").Held[b.Bound.SlotOf("wire.first")]; h.Sum != 20_000_000 {
		t.Errorf("%+v", h)
	}
	b.say("18", "Not so: wire.first - wire.second >= 8 mm (wire.first = 20 mm, wire.second = 18 mm). / set aside. (wire.first - wire.second >= 8 mm does not hold)")
}

func TestStrokesMakeAnOpenReadingOldAndNameTheirStation(t *testing.T) {
	t.Parallel()
	b := begin(t, 1, `targets: {blade.thickness: {from: collar, at: 2.5 5 9 mm, spine: 0.90 0.70 0.5 mm, rails: 0.6 0.5 0.4 mm, within: ± 0.03 mm}}
stages: [{stage: scrape, measure: [blade.thickness]}]
`)
	b.give("0.93") // on the limit: asked again
	b.give("+8 spine A at 2.5 mm")
	evs, _ := b.give("0.90")
	if r := evs[0].Body.(bench.ReadingTaken); r.Said == nil || r.Said.N != 1 {
		t.Errorf("%+v", r)
	}
	if last := b.State.Piece("1").Last[b.Bound.SlotOf("blade.thickness 2.5 mm spine A")]; last.Struck {
		t.Error("it was read again, and still counts as struck")
	}
	b.give("+8 a rail at 5 mm")
	for i, s := range b.Bound.Slots {
		if last := b.State.Piece("1").Last[i]; last.Struck {
			t.Errorf("%s is struck by strokes on a rail", s.Name)
		}
	}
}

func TestACorrectedTubeCorrectsItsPieces(t *testing.T) {
	t.Parallel()
	b := beginWith(t, bench.Beginning{Tubes: []string{"A"}}, tubes)
	b.give("25.1")
	b.give("")
	b.give("go on")
	b.give("A 2")
	b.give("A correct 25.1 to 24.1")
	if h := b.State.Piece("1").Held[b.Bound.SlotOf("wire.first")]; h.Sum != 24_100_000 {
		t.Errorf("%+v", h)
	}
	// Two splits, one taken back: no two pieces have one number.
	if n := b.State.Piece("2").Number; n != 2 {
		t.Errorf("number %d", n)
	}
}

func TestWhatTheCaneReallyIsWins(t *testing.T) {
	t.Parallel()
	b := begin(t, 1, "stages: [{stage: a, condition: wet, measure: [wire.first, wire.second]}, {stage: b, condition: wet, measure: [wire.first]}]\n")
	b.give("dry")
	evs, _ := b.give("27")
	if r := evs[0].Body.(bench.ReadingTaken); r.Condition != "dry" {
		t.Errorf("read %s", r.Condition)
	}
	b.give("19")
	b.no("keep", "It was read dry, and the cane is wet now. Measure it.")
}

func TestACorrectionLeavesAPassAlone(t *testing.T) {
	t.Parallel()
	b := begin(t, 1, `targets: {blade.thickness: {from: collar, at: 3 mm, spine: 0.90 mm, within: ± 0.03 mm, above: once more}}
stages: [{stage: scrape, measure: [blade.thickness]}, {stage: end, do: rest}]
`)
	b.give("0.935")
	b.give("pass")
	b.give("1 correct 0.935 to 0.936")
	b.say("0.90", "Right.")
	b.asks("work, end, piece 1: Done?")
}

func TestACorrectionIsJudgedByTheToolItWasReadWith(t *testing.T) {
	t.Parallel()
	b := begin(t, 1, two)
	b.give("")
	b.give("using ruler instead of caliper")
	b.give("27.2")
	if b.Question().Asked == bench.AskSettle {
		b.give("")
	}
	evs, _ := b.give("1 correct 27.2 to 27.3")
	if c := evs[0].Body.(bench.ValueCorrected); c.Said == nil || c.Said.U < 100_000 {
		t.Errorf("judged as by a caliper: %+v", c.Said)
	}
}

func TestANotesAnswerMayBeginWithAWordOfTheBench(t *testing.T) {
	t.Parallel()
	b := noted(t, 1, map[string][]bench.Note{"knife": {knife}}, scraping)
	evs := b.say("dry hands, behind the edge", "Noted.")
	if _, ok := evs[0].Body.(bench.NoteAcknowledged); !ok {
		t.Errorf("%+v", evs[0].Body)
	}
}

func TestReadyPiecesDoNotWaitForTheOthers(t *testing.T) {
	t.Parallel()
	b := begin(t, 2, "stages: [{stage: rest, wait: {at least: 1 h}}, {stage: end, do: rest}]\n")
	b.say("1", "Piece 1: the wait has begun.")
	b.wait(90 * 60 * 1e9)
	b.say("2", "Piece 2: the wait has begun.")
	b.give("")
	if a, z := b.State.Piece("1"), b.State.Piece("2"); a.Stage != 1 || z.Place != bench.InWait {
		t.Errorf("piece 1 at %d, piece 2 %s", a.Stage, z.Place)
	}
}
