package wire_test

import (
	"fmt"
	"math"
	"math/big"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"canewright/engine/bench"
	"canewright/engine/bench/benchtest"
	"canewright/engine/recipe"
	"canewright/engine/remedy"
	"canewright/engine/tool"
)

// relabelled is one recipe with its numbers in a unit; %[1]s and so on are the
// numbers.
const relabelled = `canewright: recipe 1
title: Relabelled
id: relabelled
version: 1
instrument: bassoon 1
targets:
  wire.first: {target: %[1]s ± %[3]s, above: once more, below: once more}
  wire.second: %[2]s ± %[3]s
stages:
  - stage: wires
    condition: dry
    measure: [{take: wire.first, repeat: 2, with: caliper}, {take: wire.second, with: caliper}, {take: tip.opening, with: caliper}]
    expect:
      - {that: wire.first - wire.second >= %[4]s, otherwise: once more}
  - stage: end
    do: rest
`

// Whether a length is written in millimetres or in inches changes no side, no
// ranking, and no probability: recipe, readings and steps alike.
func TestMillimetresOrInchesChangeNothing(t *testing.T) {
	t.Parallel()
	w := works(t)
	r, err := w.Recipe(t.Context(), measured)
	if err != nil {
		t.Fatal(err)
	}
	rapid.Check(t, func(t *rapid.T) {
		// Whole thousandths of an inch are whole tenths of a micrometre.
		thou := func(name string, low, high int) int { return rapid.IntRange(low, high).Draw(t, name) }
		first, second, within, room := 1063, 748, thou("within", 5, 25), thou("room", 280, 330)
		readings := []int{first + thou("first", -30, 30), first + thou("again", -30, 30), second + thou("second", -30, 30), thou("opening", 25, 95)}
		var said [2][]string
		var probabilities [2][]float64
		for i, write := range []func(int) string{inMillimetres, inInches} {
			body := fmt.Sprintf(relabelled, write(first), write(second), write(within), write(room))
			f, list := recipe.Load("relabelled.yaml", []byte(body))
			if f == nil {
				t.Fatal(list.Sorted())
			}
			b, list := recipe.Bind(f, r.Bound.Set, tool.Standard())
			if b == nil {
				t.Fatal(list.Sorted())
			}
			d, err := benchtest.Start(b, 1, nil)
			if err != nil {
				t.Fatal(err)
			}
			for _, x := range readings {
				if d.Question().Asked == bench.AskSettle {
					d.Answer("")
				}
				if d.Question().Visit > 1 {
					break
				}
				if _, err := d.Answer(write(x) + "!"); err != nil {
					t.Fatal(err)
				}
			}
			for _, e := range d.State.Events() {
				switch x := e.Body.(type) {
				case bench.ReadingTaken:
					if x.Said != nil {
						said[i] = append(said[i], fmt.Sprint(x.Slot, x.Said.Side, x.Said.OnLimit, x.Said.Sure, x.Said.Coarse))
						probabilities[i] = append(probabilities[i], x.Said.Probability)
					}
				case bench.RuleJudged:
					said[i] = append(said[i], fmt.Sprint(x.Holds, x.Sure))
					probabilities[i] = append(probabilities[i], x.Probability)
				case bench.PieceMoved:
					said[i] = append(said[i], x.How)
				}
			}
			p := d.State.Piece("1")
			kase := d.State.CaseOf(p)
			kase.Symptoms = []string{"low-notes-resist", "tip-open"}
			ranked, excluded := remedy.Rank(b, kase)
			for _, a := range slices.Concat(ranked, excluded) {
				said[i] = append(said[i], a.Remedy.Name)
				probabilities[i] = append(probabilities[i], a.Score)
			}
		}
		if !slices.Equal(said[0], said[1]) {
			t.Fatalf("in mm\n%s\nin inches\n%s", strings.Join(said[0], "\n"), strings.Join(said[1], "\n"))
		}
		for i := range probabilities[0] {
			if math.Abs(probabilities[0][i]-probabilities[1][i]) > 1e-9 {
				t.Fatalf("probability or score %d: %v in mm, %v in inches", i, probabilities[0][i], probabilities[1][i])
			}
		}
	})
}

func inMillimetres(thou int) string {
	return big.NewRat(int64(thou)*254, 10_000).FloatString(4) + " mm"
}

func inInches(thou int) string { return big.NewRat(int64(thou), 1000).FloatString(3) + " in" }
