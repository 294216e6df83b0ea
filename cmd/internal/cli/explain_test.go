package cli_test

import (
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"canewright/cmd/internal/wire"
	"canewright/engine/bench"
	"canewright/engine/bench/benchtest"
	"canewright/engine/quantity"
)

// aroundLimit is a reading at or near a limit of what is asked; "" where none is.
func aroundLimit(d *benchtest.Driver, r *rand.Rand) string {
	_, stage, _ := d.State.InHand(d.Mark)
	slot, ok := d.State.Asking(d.Mark)
	if !ok {
		return ""
	}
	for _, m := range d.Bound.Stages[stage].Measures {
		if m.Slot != slot || m.Target == nil {
			continue
		}
		tol := m.Target.Tolerance
		q := tol.Low.Q
		if tol.High.Set && (!tol.Low.Set || r.IntN(2) == 0) {
			q = tol.High.Q
		}
		q += int64(r.IntN(7)-3) * max(tol.Step, 1) / 2
		return quantity.Format(quantity.Value{Kind: tol.Kind, Q: q}, tol.Unit, 0) + "!"
	}
	return ""
}

// Every verdict and every rule of a batch played at random is explained, and
// worked out afresh it is what was said.
func TestEveryVerdictIsExplainedAsItWasSaid(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	w := &wire.Works{Env: func(string) string { return "" }, Book: dir + "/logbook", Now: func() time.Time { return time.Date(2026, 1, 12, 19, 0, 0, 0, time.UTC) },
		Rand: strings.NewReader(strings.Repeat("0123456789", 100))}
	verdicts, rules, corrections, advised, back := 0, 0, 0, 0, 0
	for _, name := range []string{"bassoon/from-shaped-cane", "bassoon/from-tube"} {
		recipe, err := w.Recipe(context.Background(), name)
		if err != nil {
			t.Fatal(err)
		}
		for seed := range uint64(6) {
			r := rand.New(rand.NewPCG(seed, 7))
			d, err := benchtest.Start(recipe.Bound, 2, nil)
			if err != nil {
				t.Fatal(err)
			}
			for range 150 {
				q := d.Question()
				if q.Asked == bench.AskNothing {
					break
				}
				text := d.Right(q)
				switch n := r.IntN(20); {
				case n == 0:
					text = "undo"
				case n == 1:
					text = "1 correct " + lastTyped(d, r)
				case n == 2 && len(recipe.Bound.Symptoms) > 0:
					text = "1 advise " + recipe.Bound.Symptoms[r.IntN(len(recipe.Bound.Symptoms))].Words
				case n == 3:
					text = []string{"1 try 1", "1 helped no", "keep all", "keep", "pass", "2 aside", "bring back 2"}[r.IntN(7)]
				case n < 9 && (q.Asked == bench.AskReading || q.Asked == bench.AskSettle):
					text = aroundLimit(d, r)
				case n == 9 && q.Asked == bench.AskLook:
					text = fmt.Sprint(1 + r.IntN(len(q.Choices)))
				}
				if _, err := d.Answer(text); err != nil {
					d.Answer(d.Right(q)) // what is refused as well changes nothing
				}
			}
			explained := map[uint64]bench.Explained{}
			for _, p := range d.State.Pieces {
				x, err := bench.Explain(d.State, p.Mark, "", true)
				if err != nil {
					continue // nothing was judged of it: what was is missed below
				}
				for _, v := range x.Visits {
					for _, it := range v.Items {
						explained[it.Seq] = it
					}
				}
			}
			for _, e := range d.State.Events() {
				want := ""
				switch b := e.Body.(type) {
				case bench.ReadingTaken:
					if b.Said == nil {
						continue
					}
					want, verdicts = b.Said.Side, verdicts+1
				case bench.RuleJudged:
					if want, rules = "does not hold", rules+1; b.Holds {
						want = "holds"
					} else if len(b.Missing) > 0 || strings.HasPrefix(b.Said, "Not judged:") {
						want = "not judged"
					}
				case bench.ValueCorrected:
					if corrections++; b.Said != nil {
						want = b.Said.Side
					}
				case bench.SymptomsNoted:
					advised++
				default:
					continue
				}
				it, ok := explained[e.Seq]
				switch {
				case !ok:
					t.Fatalf("%s, seed %d: event %d is not explained: %+v", name, seed, e.Seq, e)
				case it.TakenBack != d.State.TakenBack(e.Cause):
					t.Errorf("%s, seed %d: event %d is taken back: %v", name, seed, e.Seq, !it.TakenBack)
				case it.Then.Side != want || want != "" && (it.Now == nil || it.Now.Side != want) || len(it.Differs) > 0:
					t.Errorf("%s, seed %d: event %d, said %q: %+v\nnow %+v", name, seed, e.Seq, want, it, it.Now)
				}
				if it.TakenBack {
					back++
				}
			}
		}
	}
	if verdicts < 100 || rules < 20 || corrections < 5 || advised < 5 || back < 5 {
		t.Errorf("too little was played: %d verdicts, %d rules, %d corrections, %d advices, %d taken back", verdicts, rules, corrections, advised, back)
	}
	t.Logf("%d verdicts, %d rules, %d corrections, %d advices, %d taken back", verdicts, rules, corrections, advised, back)
}

// lastTyped corrects a reading of piece 1 by a step.
func lastTyped(d *benchtest.Driver, r *rand.Rand) string {
	p := d.State.Piece("1")
	for slot := range d.Bound.Slots {
		if last := p.Last[slot]; len(last.List) > 0 && r.IntN(2) == 0 {
			x := last.List[len(last.List)-1]
			k := d.Bound.Slots[slot].Dimension
			return x.Text + " to " + quantity.Format(quantity.Value{Kind: k.Kind, Q: x.Q + x.Step}, k.Unit, x.Step) + "!"
		}
	}
	return ""
}

// The whole text, with a clock that stands nearly still. UPDATE=1 rewrites it.
func TestExplanationReadsAsWritten(t *testing.T) {
	t.Parallel()
	golden := filepath.Join("..", "..", "..", "testdata", "golden", "explain", "gouge.txt")
	p := newPlace(t)
	recipe := written(t, p.dir, "gouge.yaml", strings.Join([]string{
		"canewright: recipe 1", "title: Gouged", "id: gouged", "version: 1", "instrument: bassoon 1",
		"settings: {thinner: {value: 0.10 mm, why: with this blade}}",
		"symptoms: [it is all too stiff]",
		"remedies:",
		`  - {remedy: another blade, for: [it is all too stiff], when: ["gouge.centre >= 1.30 mm"], because: the blade is high, do: set the blade lower, touches: instrument, source: common practice}`,
		"  - {remedy: scrape the sides, for: [it is all too stiff], because: there is too much wood, do: scrape lightly, touches: knife, takes off: [gouge.side], source: common practice}",
		"targets:",
		"  gouge.centre: {target: 1.30 +0.03 -0.02 mm, above: once more, below: set aside}",
		"  gouge.side: {target: 1.20 .. 1.27 mm, above: going on, below: going on}",
		"stages:",
		"  - stage: check",
		"    condition: wet",
		"    measure: [{take: gouge.centre, repeat: 3, with: dial indicator}, {take: gouge.side, with: dial indicator}]",
		"    expect: [{that: gouge.centre - gouge.side >= thinner, because: the sides should be thinner, otherwise: {then: going on, do: check the bed}}]",
		"  - stage: look",
		"    look: {question: 'Good?', answers: {good: going on, no: once more}}",
		"",
	}, "\n"))
	p.must([]string{"1.30 1.31 1.31", "1.25", "correct 1.25 to 1.20", "advise it is all too stiff", "try 1", "helped no", "good", "undo"}, "follow", recipe, "--pieces", "1", "--batch", "november")
	got := p.must(nil, "explain", "november", "1")
	if update, _ := strconv.ParseBool(os.Getenv("UPDATE")); update {
		if err := os.MkdirAll(filepath.Dir(golden), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(golden, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("explained as\n%s\nwant\n%s", got, want)
	}
	for i, l := range strings.Split(got, "\n") {
		if len([]rune(l)) > 60 {
			t.Errorf("line %d is wider than the window: %s", i+1, l)
		}
	}
}
