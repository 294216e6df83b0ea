package recipe_test

import (
	"fmt"
	"slices"
	"testing"
)

// Targets are listed as they are stated, with the stage they hold from.
func TestAims(t *testing.T) {
	t.Parallel()
	b, list := check(t, "recipe.yaml", []byte(head+`targets:
  wire.first: 27 ± 0.5 mm
  blade.thickness: {from: collar, at: 3 9 mm, spine: 0.9 0.7 mm, within: ± 0.03 mm}
stages:
  - {stage: sort, do: Sort it.}
  - {stage: wires, times: 2, stages: [{stage: pull, targets: {wire.second: at most 20 mm}, measure: [wire.second]}]}
  - {stage: move, targets: {wire.first: 26 .. 28 mm}, measure: [wire.first]}
`))
	if b == nil {
		t.Fatal(text(t, list))
	}
	var got []string
	for _, a := range b.Aims {
		got = append(got, fmt.Sprintf("%d %s %s", a.Stage, b.Slots[a.Slot].Name, a.Target.Tolerance.Text))
	}
	want := []string{"-1 wire.first 27 ± 0.5 mm", "1 wire.second at most 20 mm", "2 wire.second at most 20 mm", "3 wire.first 26 .. 28 mm"}
	if !slices.Equal(got, want) {
		t.Errorf("aims\n%q, want\n%q", got, want)
	}
}
