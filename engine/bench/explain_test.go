package bench_test

import (
	"math"
	"strings"
	"testing"

	"canewright/engine/bench"
)

// The caliper of the catalogue reads in steps of 0.01 mm and is off by a
// standard uncertainty of 0.011547 mm of its own (0.02/√3).
const explained = `sure: 80 %
targets:
  wire.first: 27 ± 0.05 mm
  wire.gap: at least 6.2 mm
stages:
  - stage: wires
    measure: [{take: wire.first, repeat: 3}, wire.second]
    expect:
      - that: wire.first - wire.second >= 6.3 mm
        because: the tube would close
        otherwise: {then: going on, do: set the second wire back}
  - stage: play
    look: {question: 'Good?', answers: {good: going on, no: {go back to: wires, at most: 3 times, then: set aside}}}
`

func explain(t *testing.T, b *table, stage string, all bool) *bench.Explanation {
	t.Helper()
	x, err := bench.Explain(b.State, "1", stage, all)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// of finds what is explained of a kind, the last.
func of(t *testing.T, x *bench.Explanation, what, title string) bench.Explained {
	t.Helper()
	var found *bench.Explained
	for i := range x.Visits {
		for k := range x.Visits[i].Items {
			if it := &x.Visits[i].Items[k]; it.What == what && strings.HasPrefix(it.Title, title) {
				found = it
			}
		}
	}
	if found == nil {
		t.Fatalf("no %s %q is explained: %s", what, title, asJSON(t, x))
	}
	return *found
}

func figures(t *testing.T, it bench.Explained, want map[string]float64) {
	t.Helper()
	got := map[string]float64{}
	for _, f := range it.Figures {
		got[f.Name] = f.Value
	}
	for name, w := range want {
		if g, ok := got[name]; !ok || math.Abs(g-w) > 2e-5*math.Abs(w) {
			t.Errorf("%s: %s is %.8g, want %.8g", it.Title, name, g, w)
		}
	}
}

// By hand, JCGM 100:2008. Probabilities are integrals of Student's density
// (Simpson's rule, 400 000 steps).
func TestExplainedNumbersAreThoseDoneByHand(t *testing.T) {
	t.Parallel()
	b := begin(t, 1, explained)
	b.give("27.00 27.02 27.04")
	b.give("20.70")
	x := explain(t, b, "", false)

	// 4.2.1: (27.00 + 27.02 + 27.04)/3 = 27.02
	// 4.2.2: s = √((0.02² + 0 + 0.02²)/2) = 0.02
	// 4.2.3: 0.02/√3 = 0.0115470
	// 4.3.7: 0.01/√12 = 0.00288675
	// 5.1.2: √(0.0115470² + 0.00288675² + 0.011547²) = √0.000275 = 0.0165831
	// G.4.1: 0.0165831⁴ / (0.0115470⁴/2) = 7.5625e-8 / 8.8889e-9 = 8.5078
	// t = 0.07/0.0165831 = 4.22116 and 0.03/0.0165831 = 1.80907
	// P = 0.998732 + 0.947093 − 1
	reading := of(t, x, bench.OfReading, "first wire")
	figures(t, reading, map[string]float64{"mean": 27.02, "s": 0.02, "s/√n": 0.0115470, "step/√12": 0.00288675, "tool's own error": 0.011547,
		"u": 0.0165831, "degrees of freedom": 8.50780, "probability": 0.945826})
	if reading.Then.Side != "inside" || len(reading.Differs) > 0 || len(reading.Readings) != 3 || reading.Readings[1].Text != "27.02 mm" || reading.Readings[1].Tool != "caliper" {
		t.Errorf("%+v", reading)
	}
	all := strings.Join(reading.Working, "\n")
	for _, w := range []string{
		"mean = (27 + 27.02 + 27.04) / 3 = 27.02 mm (4.2.1)", "s = √(((−0.02)² + 0² + 0.02²) / 2) = 0.02 mm (4.2.2)", "s/√n = 0.02 / √3 = 0.011547 mm (4.2.3)",
		"step: 0.01 mm (that of the caliper); step/√12 = 0.0028868 mm (4.3.7)", "u = √(0.011547² + 0.0028868² + 0.011547²) = 0.016583 mm (5.1.2)",
		"side: inside: the sum 81.06 is not less than 3 × 26.95 = 80.85, not more than 3 × 27.05 = 81.15; a limit counts as inside",
		"high limit: t = (27.05 − 27.02) / 0.016583 = 1.8091; chance of being above the limit 5.3 %",
	} {
		if !strings.Contains(all, w) {
			t.Errorf("not written: %s\nbut\n%s", w, all)
		}
	}

	// The same caliper reads both: its own error is 1 × 0.011547 − 1 × 0.011547 = 0 in the difference (5.2.2).
	// margin: 27.02 − 20.70 − 6.3 = 0.02
	// u² = (0.0115470² + 0.00288675²) + 0.00288675² = 0.00015, u = 0.0122474
	// G.4.1: 0.0122474⁴ / (0.0115470⁴/2) = 2.25e-8 / 8.8889e-9 = 2.53125
	// t = 0.02/0.0122474 = 1.63299
	// shares: 0.000141667/0.00015 = 0.944444 and 0.00000833333/0.00015 = 0.0555556
	rule := of(t, x, bench.OfRule, "wire.first")
	figures(t, rule, map[string]float64{"value": 0.02, "u": 0.0122474, "degrees of freedom": 2.53125, "probability": 0.891280})
	if len(rule.Budget) != 2 || len(rule.Differs) > 0 {
		t.Fatalf("%+v", rule)
	}
	for i, want := range []struct{ c, share float64 }{{1, 0.944444}, {-1, 0.0555556}} {
		l := rule.Budget[i]
		if math.Abs(l.Sensitivity-want.c) > 1e-9 || math.Abs(l.Share-want.share) > 1e-5 || l.Shared != "cancels" || l.Unit != "mm" {
			t.Errorf("%s: sensitivity %v, share %v, shared error %q, want %v", l.Name, l.Sensitivity, l.Share, l.Shared, want)
		}
	}
	if got, want := rule.Formulas[0].Shown, "27.02 mm - 20.7 mm >= 6.3 mm"; strings.ReplaceAll(got, "27.020", "27.02") != want {
		t.Errorf("shown as %q, want %q", got, want)
	}
	if s := strings.Join(rule.Working, "\n"); !strings.Contains(s, "1 × 0.011547 + (−1) × 0.011547 = 0 mm: it cancels (5.2.2)") || !strings.Contains(s, "u = √(0.011902² + 0.0028868²) = 0.012247 mm (5.1.2)") {
		t.Error(s)
	}
	gap := of(t, x, bench.OfDerived, "gap")
	figures(t, gap, map[string]float64{"value": 6.32, "u": 0.0122474, "degrees of freedom": 2.53125})
}

func TestCorrectionsAndAnswersTakenBackAreShownAsSuch(t *testing.T) {
	t.Parallel()
	b := begin(t, 1, explained)
	b.give("27.20")
	b.give("undo")
	b.give("27.00 27.02 27.40!")
	b.give("correct 27.40 to 27.04")
	x := explain(t, b, "wires", false)
	was, now := of(t, x, bench.OfReading, "first wire"), of(t, x, bench.OfCorrection, "first wire")
	if was.Then.Side != "above" || len(was.Differs) > 0 || len(was.Corrected) != 1 || was.Readings[2].Text != "27.40 mm" {
		t.Errorf("as said: %+v", was)
	}
	if now.Then.Side != "inside" || len(now.Differs) > 0 || now.Readings[2].Text != "27.04 mm" || now.Readings[2].Corrected != "27.40 mm" {
		t.Errorf("as corrected: %+v", now)
	}
	figures(t, now, map[string]float64{"mean": 27.02})
	b.give("undo")
	if was := of(t, explain(t, b, "", false), bench.OfReading, "first wire"); len(was.Corrected) > 0 {
		t.Errorf("the correction was taken back: %+v", was)
	}
	if now := of(t, explain(t, b, "", false), bench.OfCorrection, "first wire"); !now.TakenBack {
		t.Errorf("the correction was taken back: %+v", now)
	}
}

func TestExplainSaysWhatDiffersFromWhatWasSaid(t *testing.T) {
	t.Parallel()
	b := begin(t, 1, explained)
	b.give("27.00 27.02 27.04")
	b.give("20.70")
	evs := append([]bench.Event(nil), b.State.Events()...)
	for i, e := range evs {
		switch r := e.Body.(type) {
		case bench.ReadingTaken:
			if r.Said != nil && r.Slot == "wire.first" {
				said := *r.Said
				said.Side, said.Sure, said.Sentence = "above", false, "Maybe too far. Measure again."
				r.Said = &said
				evs[i].Body = r
			}
		case bench.RuleJudged: // as an older program recorded it
			r.Probability, r.Sure, r.Advice = 0, false, ""
			evs[i].Body = r
		}
	}
	s, err := bench.Fold(b.Bound, evs)
	if err != nil {
		t.Fatal(err)
	}
	x, err := bench.Explain(s, "1", "", false)
	if err != nil {
		t.Fatal(err)
	}
	it := of(t, x, bench.OfReading, "first wire")
	if got, want := strings.Join(it.Differs, " / "), "side: then above, now inside / sure: then no, now yes / sentence: then Maybe too far. Measure again., now Right."; got != want {
		t.Errorf("differs\n  %q, want\n  %q", got, want)
	}
	if rule := of(t, x, bench.OfRule, "wire.first"); len(rule.Differs) == 0 || !strings.HasPrefix(rule.Differs[0], "probability: then none was recorded, now ") {
		t.Errorf("%q", rule.Differs)
	}
}

func TestExplainChoosesStagesAndVisits(t *testing.T) {
	t.Parallel()
	b := begin(t, 1, explained)
	if _, err := bench.Explain(b.State, "1", "", false); err == nil || err.Error() != "Nothing was judged of piece 1 yet." {
		t.Errorf("%v", err)
	}
	for range 2 {
		b.give("27.00 27.02 27.04")
		b.give("20.70")
		b.give("no")
	}
	if x := explain(t, b, "", false); len(x.Visits) != 1 || x.Visits[0].Visit != 2 || x.Earlier != 1 {
		t.Errorf("the last visit alone: %s", asJSON(t, x))
	}
	if x := explain(t, b, "Wires", true); len(x.Visits) != 2 || x.Visits[0].Visit != 2 || x.Visits[1].Visit != 1 {
		t.Errorf("all visits: %s", asJSON(t, x))
	}
	for _, c := range []struct{ mark, stage, want string }{
		{"7", "", `There is no piece "7" in this batch. There are: 1.`},
		{"1", "play", `Nothing was judged of piece 1 at a stage "play". It was judged at: wires.`},
	} {
		if _, err := bench.Explain(b.State, c.mark, c.stage, false); err == nil || err.Error() != c.want {
			t.Errorf("%q %q: %v, want %s", c.mark, c.stage, err, c.want)
		}
	}
}

func TestAdviceIsExplained(t *testing.T) {
	t.Parallel()
	b := begin(t, 1, strings.Replace(advising, "  - {remedy: another bocal, for: [it crows high],", "  - {remedy: another bocal, for: [it crows high], when: [\"blade(3 mm, spine, A) >= 0.88 mm\"],", 1))
	for _, r := range []string{"0.90", "0.67", "0.90", "0.70"} {
		b.give(r)
		if b.Question().Asked == bench.AskSettle {
			b.give("")
		}
	}
	b.give("advise it crows high")
	b.give("try 1")
	b.give("helped no")
	it := of(t, explain(t, b, "", false), bench.OfAdvice, "what is wrong")
	if len(it.Remedies) != 2 || it.Remedies[0].Name != "another bocal" || it.Remedies[1].Name != "scrape the spine" {
		t.Fatalf("%s", asJSON(t, it))
	}
	// The dial indicator: 0.01/√12 = 0.00288675 and 0.005774, u = 0.0064554 (said to 6455 nm); (0.90 − 0.88)/0.006455 = 3.0984.
	fits := it.Remedies[0]
	if got, want := strings.Join(fits.Working, " / "), "blade(3 mm, spine, A) >= 0.88 mm: margin 0.02 mm, u 0.006455 mm, z = 3.0984: chance that it holds 99.903 % / "+
		"score: 1 of 1 symptoms + readings (2 × 0.99903 − 1) / 1 = 0.99805 = 1.9981"; got != want {
		t.Errorf("why it fits:\n  %q, want\n  %q", got, want)
	}
	if fits.Formulas[0].Shown != "0.90 mm >= 0.88 mm" && fits.Formulas[0].Shown != "0.9 mm >= 0.88 mm" {
		t.Errorf("shown as %q", fits.Formulas[0].Shown)
	}
	not := it.Remedies[1]
	if not.Excluded == "" || !strings.Contains(strings.Join(not.Working, "\n"), "0.67 mm, lower limit 0.67 mm, u 0.006455 mm") {
		t.Errorf("why it is excluded: %+v", not)
	}
	tried := of(t, explain(t, b, "", false), bench.OfAdvice, "tried")
	if len(tried.Remedies) != 1 || strings.Join(tried.Followed, "") != "helped: no" || len(tried.Differs) > 0 {
		t.Errorf("%+v", tried)
	}
}

// What is worked out of notes, of products, where a formula bends and where one
// of its parts alone decides.
func TestExplainedWorkingOfOtherKinds(t *testing.T) {
	t.Parallel()
	b := begin(t, 1, `targets:
  crow.pitch: F4 ± 20 cents
  wire.turns: 2 .. 3
  cane.weight: at most 3 g
stages:
  - stage: wires
    measure: [{take: crow.pitch, repeat: 2}, wire.turns, cane.weight, wire.first, wire.second]
    expect:
      - that: wire.first * wire.second * wire.first * wire.second >= 90000 mm2 * 1 mm2
      - that: abs(wire.first - wire.second) >= 0.01 mm
      - that: wire.first > 2 mm and wire.second > 20.02 mm
      - that: wire.gap + cane.weight * 1 mm / 1 g >= 2.975 mm
`)
	for _, a := range []string{"F4 +15 cents; F4 +20 cents", "", "3", "2.99", "", "20.01", "20.02"} {
		b.give(a)
	}
	x := explain(t, b, "", false)
	for _, c := range []struct{ what, title, want string }{
		{bench.OfReading, "crow", "Notes are counted in cents from A4."},
		{bench.OfReading, "crow", "mean = ((−385) + (−380)) / 2 = −382.5 cents (4.2.1)"}, // F4 is 400 cents under A4
		{bench.OfReading, "crow", "low limit: t = (−382.5 − (−420)) / 2.582 = 14.524"},
		{bench.OfReading, "turns", "nothing is uncertain: u = 0"},
		// 0.01/√12 = 0.00288675 g, 0.011547 g: u = 0.0119024, z = 0.01/0.0119024 = 0.84017, Φ(z) = 0.79959
		{bench.OfReading, "weight", "high limit: z = (3 − 2.99) / 0.011902 = 0.84017; chance of being above the limit 20 %"},
		{bench.OfReading, "weight", "inside: 79.96 %; the recipe asks for 80 % to pass: not sure"},
		{bench.OfReading, "weight", "step and tool are too coarse, readings cannot settle it"},
		// (20.01 × 20.02)² − 90000 = 70480.52; 2 × 20.01 × 20.02² × 0.00288675 = 46.304
		{bench.OfRule, "wire.first * wire.second", "margin, by which it holds: 70480.52 mm⁴"},
		{bench.OfRule, "wire.first * wire.second", "scatter and step of 0.0028868 = 46.304 mm⁴"},
		{bench.OfRule, "wire.first * wire.second", "it adds up (5.2.2)"},
		{bench.OfRule, "abs", "it is not straight around these values: 20000 trials"},
		{bench.OfRule, "abs", "it lies on a limit, and so it is never sure"},
		{bench.OfRule, "wire.first > 2 mm and", "z = 0 / 0.011902 = 0; chance that it holds 50 %"},
		{bench.OfRule, "wire.gap", "readings would not settle it"},
	} {
		it := of(t, x, c.what, c.title)
		if all := strings.Join(it.Working, "\n"); !strings.Contains(all, c.want) || len(it.Differs) > 0 {
			t.Errorf("%s: not written: %s\nbut\n%s\ndiffers %q", c.title, c.want, all, it.Differs)
		}
	}
	gap := of(t, x, bench.OfRule, "wire.gap").Formulas
	if len(gap) != 2 || gap[0].Name != "wire.gap" || gap[0].Shown != "20.01 mm - 20.02 mm" || gap[0].Value != "-0.01 mm" {
		t.Errorf("the derived dimension: %+v", gap)
	}
}
