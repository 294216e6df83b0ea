package cli_test

import (
	"path/filepath"
	"strings"
	"testing"
)

// mostPresses a piece, besides its readings, from the split to the case.
const mostPresses = 60

// Twelve pieces go from the split to the case, with a slip taken back, a wire
// set once more and an unsure reading let stand. Every typed character and
// every Enter is a key press, notes' answers too; readings are not.
func TestTwelvePiecesWantFewKeyPresses(t *testing.T) {
	t.Parallel()
	const pieces = 12
	e := newEvening(t)
	e.play(filepath.Join(evenings, "twelve-pieces.keys"))
	screens := e.screen.String()
	if !strings.Contains(screens, "Nothing left to do: finished: 1 to 12.") {
		t.Fatalf("not all pieces came to the end:\n%s", e.tail())
	}
	stages := map[string]bool{}
	for i, part := range strings.Split(screens[e.begun:], ", stage ") {
		if number, _, ok := strings.Cut(part, ":"); ok && i > 0 {
			stages[number] = true
		}
	}
	if len(stages) < 25 {
		t.Errorf("only %d stages", len(stages))
	}
	t.Logf("%d key presses for %d pieces, %.1f a piece, over %d stages; %d notes answered",
		e.presses, pieces, float64(e.presses)/pieces, len(stages), strings.Count(screens[e.begun:], "[answer in your own words]"))
	if e.presses > mostPresses*pieces {
		for _, stage := range e.order {
			t.Logf("%4d at stage %s", e.byStage[stage], stage)
		}
		t.Errorf("%d key presses; at most %d a piece", e.presses, mostPresses)
	}
}
