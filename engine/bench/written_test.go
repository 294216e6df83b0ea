package bench_test

import (
	"slices"
	"testing"

	"canewright/engine/bench"
	"canewright/engine/recipe"
)

const writtenBody = `targets:
  wire.first: 27 ± 0.5 mm
stages:
  - {stage: stand, do: Stand it.}
  - stage: read
    measure: [{take: wire.first, repeat: 2}, wire.second]
    look: {question: How is it, several: yes, answers: {straight: going on, bent: going on, again: once more}}
  - {stage: end, do: Put it away.}
`

// What stands in the boxes of a piece, from what was typed.
func TestWritten(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name  string
		lines []string
		stage string
		want  []string
	}{
		{"nothing yet", nil, "read", nil},
		{"done", []string{"1 done"}, "stand", []string{"done"}},
		{"left out", []string{"1 skip"}, "stand", []string{"-"}},
		{"as typed", []string{"all done", "1: 27,0 mm"}, "read", []string{"27,0 mm", "", "", ""}},
		{"whole", []string{"all done", "1: 27.0 27.1", "1 19", "1 1,2"}, "read", []string{"27.0", "27.1", "19", "1,2"}},
		{"skipped", []string{"all done", "1: 27.0 27.1", "1 skip", "1 skip"}, "read", []string{"27.0", "27.1", "-", "-"}},
		{"corrected", []string{"all done", "1: 27.0 27.1", "1 19", "1 correct 19 to 19.5"}, "read", []string{"27.0", "27.1", "19.5", ""}},
		{"taken back", []string{"all done", "1: 27.0 27.1", "1 19", "1 undo"}, "read", []string{"27.0", "27.1", "", ""}},
		{"to be done again", []string{"all done", "1: 27.0 27.1", "1 19", "1 3"}, "read", nil},
		{"done again", []string{"all done", "1: 27.0 27.1", "1 19", "1 3", "1: 27.3 27.3"}, "read", []string{"27.3", "27.3", "", ""}},
		{"kept", []string{"all done", "1: 27.0 27.1", "1 19", "1 3", "1 keep all"}, "read", []string{"kept", "kept", "kept", ""}},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			b := begin(t, 2, writtenBody)
			for _, l := range c.lines {
				b.give(l)
			}
			at := b.Bound.StageOf(c.stage)
			if got := b.State.Written(b.State.Piece("1"), at); !slices.Equal(got, c.want) {
				t.Errorf("there stands %q, want %q", got, c.want)
			}
			if got := b.State.Written(b.State.Piece("2"), at); got != nil && c.stage == "read" {
				t.Errorf("of the other piece there stands %q", got)
			}
		})
	}
}

func TestWrittenOfATube(t *testing.T) {
	t.Parallel()
	b := beginWith(t, bench.Beginning{Tubes: []string{"A"}}, "stages:\n  - {stage: split, for: each tube, do: Split it., into: 4 pieces}\n  - {stage: end, do: Put it away.}\n")
	b.give("A 3")
	if got := b.State.Written(b.State.Piece("A"), 0); !slices.Equal(got, []string{"3"}) || b.Bound.Boxes(0, 1)[0].Kind != recipe.BoxPieces {
		t.Errorf("there stands %q, want 3", got)
	}
}
