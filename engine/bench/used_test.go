package bench_test

import (
	"strings"
	"testing"
	"time"

	"canewright/engine/bench"
	"canewright/engine/bench/benchtest"
	"canewright/engine/recipe"
)

const gluing = `targets: {wire.first: 27.0 ± 0.5 mm}
stages:
  - stage: glue
    materials: [household cement, thread]
    tools: [brush]
    measure: [{take: wire.first, with: ruler}]
  - stage: end
    do: rest
`

func inUse(u recipe.Use) string {
	var out []string
	for _, t := range u.Tools {
		out = append(out, t.Name)
	}
	for _, m := range u.Materials {
		out = append(out, m.Name)
	}
	return strings.Join(out, ", ")
}

func TestUsingSomethingElse(t *testing.T) {
	t.Parallel()
	b := begin(t, 2, gluing)
	b.say("using nail polish", "Using nail varnish instead of household cement, at this stage.")
	use, _, _ := b.State.InHand("")
	if got := inUse(use); got != "brush, ruler, thread, glue, nail varnish" {
		t.Errorf("in hand: %s", got)
	}
	// Piece 2 is glued as listed.
	use, _, _ = b.State.InHand("2")
	if got := inUse(use); got != "brush, ruler, household cement, thread, glue" {
		t.Errorf("in hand for piece 2: %s", got)
	}
	if got := inUse(b.State.Evening()); got != "nail varnish" {
		t.Errorf("this evening: %s", got)
	}
	b.say("using caliper instead of ruler", "Using caliper instead of ruler, at this stage.")
	evs := b.say("27.02", "Right.")
	if r := evs[0].Body.(bench.ReadingTaken); r.Tool != "caliper" {
		t.Errorf("read with %q", r.Tool)
	}
	b.no("2 using glue for the knife", "In place of which: household cement, thread and glue? For example: using glue instead of household cement.")
	b.say("2 using moon dust for thread", "Using moon dust instead of thread, at this stage.")
	b.no("using", "Say what is used. using nail varnish; or: using nail varnish instead of cement.")
	b.say("2 dry", "The cane counts as dry here.")
	evs = b.say("2 27", "Right.")
	if r := evs[0].Body.(bench.ReadingTaken); r.Condition != "dry" || r.Tool != "ruler" {
		t.Errorf("%+v", r)
	}
	if p := b.State.Piece("1"); len(p.Swaps) != 0 {
		t.Errorf("what was used at one stage is used at the next: %v", p.Swaps)
	}
}

func TestStrokes(t *testing.T) {
	t.Parallel()
	b := begin(t, 2, plain)
	b.say("", "")
	b.say("+8 left rail A", "8 strokes, left rail A: written down.")
	b.say("2 +12", "Piece 2: 12 strokes: written down.")
	b.say("+1", "1 stroke: written down.")
	n := 0
	for _, e := range b.State.Events() {
		if s, ok := e.Body.(bench.StrokesMade); ok {
			n += s.N
		}
	}
	if n != 21 {
		t.Errorf("%d strokes", n)
	}
	b.say("undo", "Taken back: piece 1, 1 stroke.")
}

func TestCorrectingAnOldValue(t *testing.T) {
	t.Parallel()
	b := begin(t, 2, two)
	b.say("all", "")
	b.say("1 27.8", "Too far by 0.3. / Piece 1: once more. (first wire too far)")
	b.say("1: 27,2", "Right.")
	b.Last = "1"
	b.say("correct 27.2 to 27.6", "Piece 1: first wire 27,2 mm is now 27.6 mm. It was: Right. It is: Too far by 0.1. Nothing is moved by this.")
	p := b.State.Piece("1")
	if h := p.Held[b.Bound.SlotOf("wire.first")]; h.Sum != 27_600_000 || p.Stage != 1 {
		t.Errorf("%+v at stage %d", h, p.Stage)
	}
	b.say("correct first wire 27.1", "Piece 1: first wire 27.6 mm is now 27.1 mm. It was: Too far by 0.1. It is: Right. What was said to do then no longer holds. Nothing is moved by this.")
	b.no("correct 11 to 12", "Piece 1 has no reading 11. canewright batch shows its readings.")
	b.no("correct wire.first 2710", "2710 mm? Did you mean 2710 µm? y if so; if it is right as it stands: 2710!")
	b.no("correct", "Correct what? Write correct 1.13 to 1.31, or: correct wire.first 27.2.")
	b.say("undo", "Taken back: piece 1, first wire corrected to 27.1.")
	if h := b.State.Piece("1").Held[b.Bound.SlotOf("wire.first")]; h.Sum != 27_600_000 {
		t.Errorf("after taking it back: %+v", h)
	}
	s, err := bench.Fold(b.Bound, b.State.Events())
	if err != nil || asJSON(t, s.Pieces) != asJSON(t, b.State.Pieces) {
		t.Errorf("read back:\n%s\nlive:\n%s", asJSON(t, s.Pieces), asJSON(t, b.State.Pieces))
	}
}

func TestACorrectionSaysWhichRulesTurn(t *testing.T) {
	t.Parallel()
	b := begin(t, 1, `targets: {wire.gap: 6 .. 9 mm}
stages:
  - stage: wires
    measure: [wire.first, wire.second]
    expect:
      - {that: wire.first - wire.second >= 7.5 mm, otherwise: set aside}
  - stage: end
    do: rest
`)
	b.say("27", "")
	b.say("20", "Not so: wire.first - wire.second >= 7.5 mm (wire.first = 27 mm, wire.second = 20 mm). / set aside. (wire.first - wire.second >= 7.5 mm does not hold)")
	b.say("correct 20 to 19", "second wire 20 mm is now 19 mm. Wires: wire.first - wire.second >= 7.5 mm: did not hold before, held now. It stays set aside; to fetch it: bring back 1.")
}

func TestKeepingWhatWasMeasuredBefore(t *testing.T) {
	t.Parallel()
	b := begin(t, 1, two)
	b.say("", "")
	b.no("keep", "There is no earlier reading of first wire to keep. Type the number, or skip to leave it out.")
	b.say("27.2", "Right.")
	b.say("19", "Right.")
	b.say("2", "")
	b.say("bad", "set aside. (How is it? bad)")
	b.say("bring back 1", "brought back.")
	if q := b.Question(); q.Before != "27.2 mm" {
		t.Errorf("before: %q", q.Before)
	}
	b.say("keep", "the earlier reading counts.")
	b.asks("reading, measure, piece 1: second wire, from the butt")
	b.say("keep all", "the earlier reading counts.")
	b.asks("look, measure, piece 1: How is it?")
	b.no("keep", `"keep" is not one of the answers. Type its number: 1 good, 2 odd, 3 bad.`)
}

func TestARepeatFarFromTheOthersIsAskedAbout(t *testing.T) {
	t.Parallel()
	b := begin(t, 1, gridded)
	b.no("0.90 0.70", "0.90 and 0.70 are far apart. One place at a time. If they are of one place, put ! behind: 0.70!")
	b.give("0.93")
	b.no("0.70", "0.70 after 0.93: is it the same place? If it is: 0.70!  To let 0.93 stand first: Enter.")
	b.give("0.92")
}

func TestRowsOfTheCard(t *testing.T) {
	t.Parallel()
	b := begin(t, 4, two)
	b.Later = true
	b.say("all", "")
	b.say("2 27.1 19.2 2 1,2", "Piece 2: first wire 27.1. Right. / Piece 2: second wire 19.2. Right. / Piece 2: turns 2, written down. / Piece 2: good, odd.")
	b.say("1 27,1 - 2 1", "Piece 1: first wire 27,1. Right. / Piece 1: Left out: second wire. / Piece 1: turns 2, written down. / Piece 1: good.")
	b.no("3 27 19 2 4", `Box 4, How is it?: "4" is not one of the answers. Type its number: 1 good, 2 odd, 3 bad. Nothing of this line is kept.`)
	if p := b.State.Piece("3"); len(p.Held) != 0 {
		t.Errorf("of a refused line this is kept: %+v", p.Held)
	}
	b.no("3", "What of piece 3? Its boxes stand behind the mark: 3 1.31 - 2.")
	b.no("3 27 19 2 1 1", "5 boxes are filled, piece 3 has 4 at measure. The boxes here: first wire, second wire, turns, How is it? 1 good, 2 odd, 3 bad. Of an answer of several words type the number, or put ; between the boxes.")
	// What the hand wrote is all taken in, then the gravest follows.
	b.say("3 28.2 19 2 bad", "Piece 3: first wire 28.2. Too far by 0.7. / Piece 3: second wire 19. Right. / Piece 3: turns 2, written down. / Piece 3: bad. / Piece 3: set aside. (How is it? bad)")
	b.say("4; 1 1/16 in; 19", "Piece 4: first wire 1 1/16 in. Right. / Piece 4: second wire 19. Right.")
	if p := b.State.Piece("4"); p.Stage != 1 || len(p.Closed) != 2 {
		t.Errorf("half a row: %+v", p)
	}
}

func TestWhenTheNextWaitEnds(t *testing.T) {
	t.Parallel()
	b := begin(t, 3, two)
	if _, _, ok := b.State.NextEnd(b.Now); ok {
		t.Error("no wait is running")
	}
	b.say("all", "")
	for _, r := range []string{"27.1", "19", "2", "good"} {
		b.give(r)
	}
	b.no("1 done", "Piece 1 is at rest. Turn to it first: piece 1.")
	b.Mark = "1"
	b.say("", "Piece 1: the wait has begun.")
	b.Mark = ""
	at, say, ok := b.State.NextEnd(b.Now)
	if p := b.State.Piece("1"); !ok || !at.Equal(p.Since.Add(time.Hour)) || say != "Rest, piece 1: 1 h is over." {
		t.Errorf("%v %q %v", at, say, ok)
	}
	if _, _, ok := b.State.NextEnd(b.Now.Add(3 * time.Hour)); ok {
		t.Error("what is over ends no more")
	}
	b.say("1 go on", "")
	b.Mark = "1"
	b.asks("work, end, piece 1: Done?")
}

func TestAClockThatWasSetBack(t *testing.T) {
	t.Parallel()
	b := begin(t, 1, "stages:\n  - stage: dry\n    wait: {at least: 1 h}\n")
	b.say("", "The wait has begun.")
	b.wait(-5 * time.Hour)
	q := b.Question()
	if q.Keys != "the clock was set back: type go on when it is over" || !strings.Contains(q.Prompt, "which this clock has not reached") {
		t.Errorf("%+v", q)
	}
	b.no("", "This clock stands before the wait began, so it cannot say how long it was. Type go on when it is over.")
	b.give("go on")
}

// The wait is measured between instants: an evening before the clocks go
// forward or back, and a flight west, change nothing.
func TestWaitsAcrossTimeZones(t *testing.T) {
	t.Parallel()
	for name, zones := range map[string][2]string{"spring": {"Europe/Vienna", "Europe/Vienna"}, "flight": {"Europe/Vienna", "America/New_York"}} {
		from, err := time.LoadLocation(zones[0])
		if err != nil {
			t.Skip("no zone data here")
		}
		to, err := time.LoadLocation(zones[1])
		if err != nil {
			t.Skip("no zone data here")
		}
		for _, day := range []time.Time{time.Date(2026, 3, 28, 23, 0, 0, 0, from), time.Date(2026, 10, 24, 23, 0, 0, 0, from)} {
			b, err := benchtest.Begin(bound(t, "stages:\n  - stage: dry\n    wait: {at least: overnight}\n"), bench.Beginning{Pieces: []string{"1"}}, nil)
			if err != nil {
				t.Fatal(err)
			}
			b.Now = day
			if _, err := b.Answer(""); err != nil {
				t.Fatal(err)
			}
			began := b.Now
			b.Now = began.Add(8*time.Hour - time.Minute).In(to)
			if _, err := b.Answer(""); err == nil {
				t.Errorf("%s: 8 h less 40 s count as overnight", name)
			}
			b.Now = began.Add(8 * time.Hour).In(to)
			if _, err := b.Answer(""); err != nil {
				t.Errorf("%s: %v", name, err)
			}
		}
	}
}

func TestPassTakesAnUnsureReadingAsRight(t *testing.T) {
	t.Parallel()
	b := begin(t, 2, two)
	b.say("all", "")
	b.no("pass", "There is no unsure reading here. pass takes an unsure reading as right.")
	b.give("27.505")
	b.say("pass", "it counts as right.")
	b.asks("reading, measure, piece 1: second wire, from the butt")
	if h := b.State.Piece("1").Held[b.Bound.SlotOf("wire.first")]; h.Sum != 27_505_000 {
		t.Errorf("held: %+v", h)
	}
	b.give("2: 27.505")
	b.Mark = "2"
	b.say("", "Piece 2: once more. (first wire too far)")
}

func TestStrokesMakeAReadingOld(t *testing.T) {
	t.Parallel()
	b := begin(t, 1, gridded)
	for range 2 {
		for _, r := range []string{"0.99", "0.70", "0.90", "0.70"} {
			b.give(r)
			if b.Question().Asked == bench.AskSettle {
				b.give("")
			}
		}
		if b.Question().Visit == 2 {
			break
		}
	}
	for b.Question().Visit != 2 {
		b.give("skip")
	}
	// What was off is asked first; the rest may be kept, but not where strokes
	// were made.
	b.asks("reading, scrape, piece 1: blade, blade A, spine, 3 mm from the collar")
	b.give("+4 spine A")
	b.no("keep", "Strokes were made there since it was read. Measure it; keep all keeps those that were right elsewhere.")
	b.say("keep all", "the earlier reading counts.")
	p := b.State.Piece("1")
	for i, s := range b.Bound.Slots {
		if _, kept := p.Closed[i]; s.Cell != nil && kept && s.Cell.Blade == "A" && s.Cell.Lane == "spine" {
			t.Errorf("%s is kept though strokes were made there", s.Name)
		}
	}
}

func TestMeasuringWhatTheStageDoesNotAskFor(t *testing.T) {
	t.Parallel()
	b := begin(t, 1, plain)
	b.say("measure second wire 19,2", "second wire 19,2, written down.")
	if h := b.State.Piece("1").Held[b.Bound.SlotOf("wire.second")]; h.Sum != 19_200_000 {
		t.Errorf("%+v", h)
	}
	b.no("measure second wire 1920", "1920 mm? Did you mean 1920 thou? y if so; if it is right as it stands: 1920!")
	b.no("measure the moon 3", "Nothing of this instrument is called that: the moon 3. Write it as: measure tip opening 1.4.")
	b.asks("work, bind, piece 1: Done?")
	b.say("", "")
	b.no("measure first wire 27", "First wire is asked for at this stage. Type the number alone.")
}
