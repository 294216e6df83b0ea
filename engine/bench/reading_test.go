package bench_test

import (
	"slices"
	"strings"
	"testing"

	"canewright/engine/bench"
)

const one = `
stages:
  - stage: measure
    targets:
      wire.first: {target: 27.0 ± 0.5 mm, above: once more, below: {then: going on, do: leave it there}}
    measure: [wire.first]
  - {stage: end, do: rest}
`

func TestReadingsAreTakenAsTyped(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]string{
		"27,0": "27,0  27000000", "27.0 mm": "27.0 mm mm 27000000", "1 1/16 in": "1 1/16 in in 26987500",
		"1063 thou": "1063 thou thou 27000200", " 27 ": "27  27000000",
	} {
		b := begin(t, 1, one)
		evs, _ := b.give(text)
		r := evs[0].Body.(bench.ReadingTaken)
		got := strings.Join([]string{r.Text, r.Unit, quantityText(r.Q)}, " ")
		if r.Bare {
			got = strings.Join([]string{r.Text, "", quantityText(r.Q)}, " ")
		}
		if got != want || r.Slot != "wire.first" || r.Tool != "caliper" || r.Repeat != 1 || r.Said.Side != "inside" {
			t.Errorf("%q: %q, %+v", text, got, r)
		}
	}
	b := begin(t, 1, one)
	b.no("", "No reading yet. Type the number, or skip to leave it out.")
	b.no("done", "This question wants a reading. Type the number, or skip to leave it out.")
	b.no("27 g", "g is a mass, and a length is wanted here. Write it as in 1.30 mm.")
	b.no("about 27", "\"about\" is not a number.")
}

func quantityText(q int64) string {
	var out []byte
	for ; q > 0; q /= 10 {
		out = append(out, byte('0'+q%10))
	}
	slices.Reverse(out)
	return string(out)
}

func TestImplausibleReadingsAreChallenged(t *testing.T) {
	t.Parallel()
	b := begin(t, 1, one)
	b.no("270", "270 mm? Did you mean 270 thou? y if so; if it is right as it stands: 270!")
	b.no("0.5 mm", "0.5 mm? Did you mean 0.5 in? y if so; if it is right as it stands: 0.5 mm!")
	b.no("27 270", "270 mm? Did you mean 270 thou? y if so; if it is right as it stands: 270!")
	b.no("99999 mm", "99999 mm? That is outside 1 to 60 mm. Type it again with ! if it is right: 99999 mm!")
	evs := b.say("61.0!", "Too far by 33.5. / once more. (first wire too far)")
	if r := evs[0].Body.(bench.ReadingTaken); r.Text != "61.0" || r.Q != 61_000_000 {
		t.Errorf("%+v", r)
	}
	b.say("27.0 !", "Right.")
}

func TestOnALimitIsInsideAndUnsure(t *testing.T) {
	t.Parallel()
	for _, text := range []string{"27.5", "26.5"} {
		b := begin(t, 1, one)
		evs := b.say(text, "On the limit. Counts as right.")
		if r := evs[0].Body.(bench.ReadingTaken); r.Said.Side != "inside" || !r.Said.OnLimit || r.Said.Sure {
			t.Errorf("%+v", r.Said)
		}
		b.asks("settle, measure, piece 1: first wire, from the butt")
		evs = b.say("", "")
		if s := evs[0].Body.(bench.Settled); s.Side != "inside" || !s.Accepted || s.N != 1 {
			t.Errorf("%+v", s)
		}
		b.asks("work, end, piece 1: Done?")
	}
}

// The side moves the piece; unsure never does, nor holds it: the player lets it
// stand, and then the side counts.
func TestUnsureMovesNothingUntilItIsLetStand(t *testing.T) {
	t.Parallel()
	b := begin(t, 1, one)
	evs := b.say("27.505", "This gauge cannot tell. You decide.")
	if len(evs) != 1 {
		t.Fatalf("%+v", evs)
	}
	b.asks("settle, measure, piece 1: first wire, from the butt")
	if q := b.Question(); q.Keys != "Enter: it counts as too far; pass: it counts as right" || !slices.Equal(q.Taken, []string{"27.505 mm"}) {
		t.Errorf("%+v", q)
	}
	b.say("go on", "once more. (first wire too far)")
	b.asks("reading, measure, piece 1: first wire, from the butt")
}

func TestGoingOnOutsideSaysWhatToDo(t *testing.T) {
	t.Parallel()
	b := begin(t, 1, one)
	evs := b.say("26.2", "Too close by 0.3. / Leave it there.")
	if s := evs[1].Body.(bench.Settled); s.Do != "leave it there" || s.Side != "below" {
		t.Errorf("%+v", s)
	}
	b.asks("work, end, piece 1: Done?")
}

// That a gauge cannot tell is said once a stage and session; from then on
// it holds nobody up.
func TestCoarseIsSaidOnceAStage(t *testing.T) {
	t.Parallel()
	b := begin(t, 3, one)
	b.say("27.495", "This gauge cannot tell. You decide.")
	b.say("", "")
	b.say("27.495", "Probably right. Measure once more if unhappy.")
	b.asks("reading, measure, piece 3: first wire, from the butt")
	if err := b.Reopen(); err != nil {
		t.Fatal(err)
	}
	b.say("27.495", "This gauge cannot tell. You decide.")
	b.asks("settle, measure, piece 3: first wire, from the butt")
}

const repeated = `
stages:
  - stage: measure
    targets: {wire.first: {target: 27.0 ± 0.5 mm, above: once more}}
    measure: [{take: wire.first, repeat: 3, at: the same spot}]
  - {stage: end, do: rest}
`

func TestATargetInAnotherUnitIsSaidWithTheQuestion(t *testing.T) {
	t.Parallel()
	for target, want := range map[string]string{
		"27.0 ± 0.5 mm":    "type the reading in mm",
		"1 1/16 ± 1/64 in": "type the reading in mm, or with in behind it",
		"1063 ± 16 thou":   "type the reading in mm, or with thou behind it",
	} {
		b := begin(t, 1, "targets: {wire.first: "+target+"}\nstages:\n  - stage: measure\n    measure: [wire.first]\n")
		if q := b.Question(); q.Keys != want {
			t.Errorf("%s: %q", target, q.Keys)
		}
	}
}

func TestSeveralReadingsOnALine(t *testing.T) {
	t.Parallel()
	b := begin(t, 1, repeated)
	b.asks("reading, measure, piece 1: first wire, from the butt, at the same spot")
	if q := b.Question(); q.Keys != "type the reading in mm, 3 more" || q.Target != "27.0 ± 0.5 mm (26.5 to 27.5 mm)" || q.How != "caliper, to the twist" {
		t.Errorf("%+v", q)
	}
	evs := b.say("27,02 27.01", "")
	if len(evs) != 2 || evs[1].Body.(bench.ReadingTaken).Repeat != 2 || evs[1].Body.(bench.ReadingTaken).Said != nil {
		t.Errorf("%+v", evs)
	}
	if q := b.Question(); q.Keys != "type the reading in mm, 1 more" || !slices.Equal(q.Taken, []string{"27,02 mm", "27.01 mm"}) {
		t.Errorf("%+v", q)
	}
	evs = b.say("27.00; 26.99 mm", "Right.")
	s := evs[2].Body.(bench.Settled)
	if s.N != 4 || s.Sum != 108_020_000 || !s.Sure || s.Accepted {
		t.Errorf("%+v", s)
	}
	b.asks("work, end, piece 1: Done?")
}

func TestUnsureByScatterAsksForMore(t *testing.T) {
	t.Parallel()
	b := begin(t, 1, repeated)
	evs := b.say("27.20 27.60 27.45", "Probably right. Measure once more if unhappy.")
	said := evs[2].Body.(bench.ReadingTaken).Said
	if said.Side != "inside" || said.Sure || said.Coarse || said.More == 0 || said.N != 3 || said.Target != "27.0 ± 0.5 mm" {
		t.Errorf("%+v", said)
	}
	b.asks("settle, measure, piece 1: first wire, from the butt, at the same spot")
	b.say("27.30 27.35 27.30 27.35 27.30 27.30", "Right.")
	b.asks("work, end, piece 1: Done?")
}

func TestSkippedMeasurementIsNotMeasured(t *testing.T) {
	t.Parallel()
	b := begin(t, 1, `
stages:
  - {stage: measure, measure: [wire.first, wire.second], expect: [{that: wire.first - wire.second >= 7 mm, otherwise: once more}]}
  - {stage: end, do: rest}
`)
	evs := b.say("skip no light", "Left out: first wire.")
	if s := evs[0].Body.(bench.Skipped); s.What != "measurement" || s.Slot != "wire.first" || s.Why != "no light" {
		t.Errorf("%+v", s)
	}
	evs = b.say("19.0", "Not judged: wire.first - wire.second >= 7 mm. Left out: wire.first.")
	if j := evs[2].Body.(bench.RuleJudged); j.Holds || !slices.Equal(j.Missing, []string{"wire.first"}) || !slices.Equal(j.Inputs, []string{"wire.second = 19 mm"}) {
		t.Errorf("%+v", j)
	}
	b.asks("work, end, piece 1: Done?")
}

const gridded = `
stages:
  - stage: scrape
    targets:
      blade.thickness: {from: collar, at: 3 9 mm, spine: 0.90 0.70 mm, rails: 0.60 0.50 mm, within: ± 0.03 mm,
        above: {then: once more, do: a few strokes}, below: {then: going on, do: keep off there}}
    measure:
      - {take: blade.thickness, lanes: spine}
      - {take: blade.thickness, lanes: rails, for: 1 piece in 2}
    expect: ["blade(9 mm, spine, A) >= blade(9 mm, spine, B)"]
  - {stage: end, do: rest}
`

// What follows outside a grid waits for its last station.
func TestGridOutcomeWaitsForTheLastStation(t *testing.T) {
	t.Parallel()
	b := begin(t, 2, gridded)
	b.Mark = "2" // spine only
	b.asks("reading, scrape, piece 2: blade, blade A, spine, 3 mm from the collar")
	b.say("0.99", "Too thick by 0.06.")
	b.asks("reading, scrape, piece 2: blade, blade A, spine, 9 mm from the collar")
	b.say("0.60", "Too thin by 0.07. / Piece 2: Keep off there.")
	b.say("skip", "Left out: blade, blade B, spine, 3 mm from the collar.")
	b.say("0.70", "Right. / Piece 2: once more: a few strokes. (too thick: A spine 3 mm; too thin, knife off: A spine 9 mm)")
	b.asks("reading, scrape, piece 2: blade, blade A, spine, 3 mm from the collar")
	b.say("0.90", "Right.")
	b.no("0.70", "0.70 after 0.60: cane does not get thicker. If it is right: 0.70!")
	for _, r := range []string{"0.70!", "0.90"} {
		b.say(r, "Right.")
	}
	b.say("0.71", "Right. / Not so: blade(9 mm, spine, A) >= blade(9 mm, spine, B) (blade.thickness 9 mm spine A = 0.7 mm, blade.thickness 9 mm spine B = 0.71 mm).")
	b.Mark = "1"
	for range 7 {
		b.give("skip")
	}
	b.asks("reading, scrape, piece 1: blade, blade B, rails, 9 mm from the collar")
	b.say("skip", "Left out: blade, blade B, rails, 9 mm from the collar. / Not judged: blade(9 mm, spine, A) >= blade(9 mm, spine, B). Left out: blade.thickness 9 mm spine A, blade.thickness 9 mm spine B.")
	b.Mark = ""
	b.asks("work, end, pieces 1 and 2: Done?")
}

// The knife is said to go down where there is one.
func TestThinSaysKnifeDownWhereAKnifeIs(t *testing.T) {
	t.Parallel()
	b := begin(t, 1, strings.Replace(gridded, "stage: scrape\n", "stage: scrape\n    tools: [knife]\n", 1))
	b.say("0.80", "Too thin by 0.07. Knife down. / Keep off there.")
}

func TestRulesJudgeWhatThePieceHolds(t *testing.T) {
	t.Parallel()
	const body = `
settings: {least: 7.5 mm}
stages:
  - {stage: a, measure: [wire.first]}
  - stage: b
    measure: [wire.second]
    expect:
      - {that: wire.first - wire.second >= least, because: the throat needs room, otherwise: {then: once more, do: move it}}
      - {that: wire.first >= 20 mm, otherwise: {then: going on, do: look at it}}
`
	b := begin(t, 1, body)
	b.say("27.0", "")
	evs := b.say("19.6", "Not so: wire.first - wire.second >= least (wire.first = 27 mm, wire.second = 19.6 mm, least = 7.5 mm). The throat needs room. / once more: move it. (wire.first - wire.second >= least does not hold)")
	if j := evs[2].Body.(bench.RuleJudged); !slices.Equal(j.Inputs, []string{"wire.first = 27 mm", "wire.second = 19.6 mm", "least = 7.5 mm"}) || j.Holds {
		t.Errorf("%+v", j)
	}
	b.say("19.5", "finished. / That was the last one. The batch is closed.") // exactly on the rule's limit
	b = begin(t, 1, body)
	b.say("19.0", "")
	b.say("10.0", "Not so: wire.first >= 20 mm (wire.first = 19 mm). Look at it. / finished. / That was the last one. The batch is closed.")
}

func TestDerivedTargets(t *testing.T) {
	t.Parallel()
	const body = `
targets: {wire.gap: {target: 8.0 ± 0.5 mm, above: {then: once more, do: bring them closer}, below: {then: going on, do: mark it}}}
stages:
  - {stage: a, measure: [wire.first, wire.second]}
`
	b := begin(t, 1, body)
	b.say("27.0", "")
	evs := b.say("18.0", "Gap 9.0 mm: too wide. / once more: bring them closer. (gap too wide)")
	if j := evs[2].Body.(bench.RuleJudged); j.That != "wire.gap: 8.0 ± 0.5 mm" || !slices.Equal(j.Inputs, []string{"wire.gap = 9.0 mm"}) {
		t.Errorf("%+v", j)
	}
	b.say("27.0", "")
	b.say("20.0", "Gap 7.0 mm: too narrow. Mark it. / finished. / That was the last one. The batch is closed.")
	b = begin(t, 1, body)
	b.say("27.0", "")
	b.say("18.5", "finished. / That was the last one. The batch is closed.") // on the limit
	b = begin(t, 1, body)
	b.say("skip", "Left out: first wire.")
	b.say("18.5", "Not judged: wire.gap: 8.0 ± 0.5 mm. Left out: wire.first. / finished. / That was the last one. The batch is closed.")
}

// What comes off is not measured from the beginning of the stage that takes it
// off; what that stage puts on again and measures, is.
func TestTakesOff(t *testing.T) {
	t.Parallel()
	b := begin(t, 1, `
stages:
  - {stage: a, measure: [wire.first, wire.second]}
  - {stage: b, do: look, expect: [wire.first >= 20 mm]}
  - {stage: c, takes off: [wire.first, wire.second], measure: [wire.second], expect: [wire.first >= 20 mm, wire.second >= 20 mm]}
  - {stage: d, do: look, expect: [wire.second >= 15 mm]}
`)
	b.say("27.0", "")
	b.say("19.0", "")
	b.say("", "")
	b.say("19.5", "Not so: wire.second >= 20 mm (wire.second = 19.5 mm).")
	b.say("", "finished. / That was the last one. The batch is closed.")
}

// A stage with rules alone asks whether it is done, then judges.
func TestAStageOfRulesAloneAndAnEmptyOne(t *testing.T) {
	t.Parallel()
	b := begin(t, 1, `
stages:
  - {stage: a, measure: [wire.first]}
  - {stage: b, expect: [{that: wire.first >= 28 mm, otherwise: set aside}]}
`)
	b.say("27.0", "")
	b.asks("work, b, piece 1: Done?")
	b.say("", "Not so: wire.first >= 28 mm (wire.first = 27 mm). / set aside. (wire.first >= 28 mm does not hold)")
	b = begin(t, 1, "stages: [{stage: nothing}, {stage: a wait, wait: 2 d}]\n")
	b.asks("work, nothing, piece 1: Done?")
	b.say("", "")
	b.asks("work, a wait, piece 1: Begun?")
}

// Rules use the mean of several readings.
func TestRulesUseTheMean(t *testing.T) {
	t.Parallel()
	b := begin(t, 1, "stages: [{stage: a, measure: [{take: wire.first, repeat: 3}], expect: [wire.first >= 27.01 mm, wire.first >= 27.02 mm]}]\n")
	evs := b.say("27.00 27.01 27.02", "Maybe not so: wire.first >= 27.02 mm (wire.first = 27.010 mm). This gauge cannot tell. / finished. / That was the last one. The batch is closed.")
	if j := evs[4].Body.(bench.RuleJudged); !j.Holds || !slices.Equal(j.Inputs, []string{"wire.first = 27.010 mm"}) {
		t.Errorf("%+v", j)
	}
}

// A rule that cannot be worked out with these numbers moves nothing and says so.
func TestARuleThatCannotBeWorkedOut(t *testing.T) {
	t.Parallel()
	b := begin(t, 1, "stages: [{stage: a, measure: [wire.first], expect: [{that: 1 mm / (wire.first - 27 mm) >= 1, otherwise: set aside}]}]\n")
	evs, told := b.give("27")
	if j := evs[2].Body.(bench.RuleJudged); j.Holds || j.Said == "" || !strings.HasPrefix(told, j.Said) {
		t.Errorf("%+v, told %q", j, told)
	}
	if p := b.State.Piece("1"); p.Place != bench.Finished {
		t.Errorf("the piece is %s", p.Place)
	}
}

func TestPitchesAndCounts(t *testing.T) {
	t.Parallel()
	b := begin(t, 1, `
stages:
  - stage: crow
    targets: {crow.pitch: {target: E4 .. F4, above: once more}, wire.turns: {target: 2 .. 3, below: once more}}
    measure: [crow.pitch, wire.turns]
`)
	if q := b.Question(); q.Prompt != "crow" || q.Keys != "type the reading" || q.Target != "E4 .. F4" {
		t.Errorf("%+v", q)
	}
	b.say("F4 +60 cents", "Too sharp by 60 cents. / once more. (crow too sharp)")
	b.say("E4 +50 cents", "Right.")
	if q := b.Question(); q.Prompt != "turns" || q.Keys != "type the reading" {
		t.Errorf("%+v", q)
	}
	b.no("2.5", "A count is a whole number.")
	b.say("1", "Too few by 1. / once more. (turns too few)")
}

// A rule near its edge says which reading to take again; the side alone moves
// the piece.
func TestARuleNearItsEdgeSaysWhatWouldSettleIt(t *testing.T) {
	t.Parallel()
	b := begin(t, 1, `stages:
  - stage: a
    measure: [{take: wire.first, repeat: 3}, {take: wire.second, repeat: 3}]
    expect:
      - {that: wire.first - wire.second >= 7 mm, otherwise: once more}
`)
	b.give("27.00 27.06 26.98")
	evs := b.say("20.00 20.02 19.99", "Probably so: wire.first - wire.second >= 7 mm. Measure first wire again. / finished. / That was the last one. The batch is closed.")
	for _, e := range evs {
		if j, ok := e.Body.(bench.RuleJudged); ok && (j.Sure || j.Probability < 0.5 || j.Probability > 0.8 || !j.Holds) {
			t.Errorf("%+v", j)
		}
	}
}

func TestWetAndDryAreNotCompared(t *testing.T) {
	t.Parallel()
	b := begin(t, 1, `stages:
  - {stage: a, becomes: wet, condition: dry, measure: [wire.first]}
  - {stage: b, condition: wet, measure: [wire.second], expect: [{that: wire.first - wire.second >= 7 mm, otherwise: set aside}]}
`)
	b.say("27", "")
	b.say("25", "Not judged: first wire was read dry and second wire wet. Measure both alike. / finished. / That was the last one. The batch is closed.")
}
