package bench_test

import (
	"slices"
	"strings"
	"testing"

	"canewright/engine/bench"
)

const advising = `symptoms:
  - low notes do not speak
  - it crows high
remedies:
  - {remedy: second wire, for: [low notes do not speak], because: the opening is small, do: press the second wire a little, touches: wires, source: common practice}
  - {remedy: scrape the spine, for: [low notes do not speak, it crows high], because: there is too much wood, do: scrape the spine lightly, touches: knife, takes off: [blade.thickness spine], measure: [crow.pitch], source: common practice}
  - {remedy: another bocal, for: [it crows high], because: it may be the bocal, do: try another bocal, touches: instrument, not the reed: yes, source: common practice}
targets:
  blade.thickness:
    from: collar
    at: 3 9 mm
    spine: 0.90 0.70 mm
    within: ± 0.03 mm
stages:
  - stage: measure
    measure: [blade.thickness]
  - stage: play
    look: {question: 'Good?', answers: {good: going on, no: once more}}
`

func TestAdvice(t *testing.T) {
	t.Parallel()
	b := begin(t, 1, advising)
	for _, r := range []string{"0.91", "0.71", "0.91", "0.71"} {
		b.give(r)
		if b.Question().Asked == bench.AskSettle {
			b.give("")
		}
	}
	b.no("advise it is blue", `"it is blue" is no symptom that is known here. advise alone lists the words.`)
	b.no("helped", "No remedy was tried on piece 1. try 1 says that you do the first.")
	b.give("advise low notes do not speak, it crows high")
	said := strings.Join(b.State.Advise("1"), "\n")
	if first, second := strings.Index(said, "crape the spine"), strings.Index(said, "econd wire"); first < 0 || second < 0 || first > second {
		t.Errorf("the one for both symptoms comes first:\n%s", said)
	}
	b.say("try 1", "Trying: "+strings.TrimPrefix(strings.SplitN(said, "\n", 2)[0], "1. ")+" / Using knife too, at this stage.")
	if use, _, _ := b.State.InHand(""); !use.Has("blade") {
		t.Error("the knife is in the hand, and no note can know")
	}
	b.say("helped no", "Written down; it will not be advised again for this piece.")
	if said := strings.Join(b.State.Advise("1"), "\n"); !strings.HasPrefix(said, "1. ") || strings.HasPrefix(strings.ToLower(said), "1. scrape") {
		t.Errorf("after it failed:\n%s", said)
	}
	s, err := bench.Fold(b.Bound, slices.Clone(b.State.Events()))
	if err != nil || asJSON(t, s.Pieces) != asJSON(t, b.State.Pieces) {
		t.Errorf("read back %v:\n%s", err, asJSON(t, s.Pieces))
	}
}

func TestNoCaneIsAdvisedOffWhereItIsAtItsLimit(t *testing.T) {
	t.Parallel()
	b := begin(t, 1, advising)
	for _, r := range []string{"0.90", "0.67", "0.90", "0.70"} {
		b.give(r)
		if b.Question().Asked == bench.AskSettle {
			b.give("")
		}
	}
	b.give("advise it crows high")
	lines := b.State.Advise("1")
	for _, l := range lines {
		if strings.Contains(strings.ToLower(l), "scrape the spine") && !strings.HasPrefix(l, "Not now: ") {
			t.Errorf("advised at the lower limit: %s", strings.Join(lines, "\n"))
		}
	}
	if !slices.ContainsFunc(lines, func(l string) bool { return strings.HasPrefix(l, "Not now: scrape the spine: ") }) {
		t.Errorf("not told why not:\n%s", strings.Join(lines, "\n"))
	}
}
