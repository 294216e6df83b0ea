package review

import (
	"strings"
	"testing"
	"time"

	"canewright/engine/bench"
)

// A stranger's file costs no more than a few seconds, whatever it holds.
func TestAHostileFileCostsLittle(t *testing.T) {
	t.Parallel()
	b, whole := evening(t)
	base := whole.Events[:12] // four pieces at their first stage
	many := func(n int, body func(i int) (bench.Body, string)) []bench.Event {
		evs := append([]bench.Event(nil), base...)
		for i := range n {
			x, piece := body(i)
			evs = with(evs, x)
			e := &evs[len(evs)-1]
			e.Subject.ID, e.Cause = piece, uint64(len(base)+1) // all of one answer
		}
		return evs
	}
	const n = 30_000
	text := func(i int) string { return strings.Repeat("x", i%7) + string(rune('a'+i%26)) }
	for name, evs := range map[string][]bench.Event{
		"rules of one answer": many(n, func(i int) (bench.Body, string) { return bench.RuleJudged{That: text(i)}, "1" }),
		"moves": many(n, func(i int) (bench.Body, string) {
			return bench.PieceMoved{How: "go back to", To: "soak", Why: text(i)}, "1"
		}),
		"remarks": many(n, func(i int) (bench.Body, string) { return bench.Remark{Text: text(i)}, "1" }),
		"skips": many(n, func(i int) (bench.Body, string) {
			return bench.Skipped{What: "look", Why: strings.Repeat("y", i%400)}, "1"
		}),
		"answers": many(n, func(i int) (bench.Body, string) { return bench.NoteAcknowledged{ID: text(i), Answer: text(i * 7)}, "1" }),
		"waits":   many(n, func(i int) (bench.Body, string) { return bench.WaitEnded{Stage: "soak", Why: text(i)}, "1" }),
		"readings": many(n, func(i int) (bench.Body, string) {
			return bench.ReadingTaken{Slot: "gouge.centre", Text: "1", Unit: "mm", Q: int64(i), Repeat: 2}, "1"
		}),
		"strokes": many(n, func(i int) (bench.Body, string) { return bench.StrokesMade{N: 1, Where: "rails A"}, "1" }),
		"tools":   many(n, func(i int) (bench.Body, string) { return bench.Chosen{What: "tool", Name: text(i), At: "soak"}, "1" }),
	} {
		rec := whole
		rec.Events = evs
		begun := time.Now()
		_, err := Of(b, rec, 5)
		if took := time.Since(begun); took > 10*time.Second { // a tenth of a second each; what grows with the square takes minutes
			t.Errorf("%s: %v (%v)", name, took, err)
		} else {
			t.Logf("%s: %v (%v)", name, took, err)
		}
	}
}

// A file that never ends is given up.
func TestAFileWithoutEndIsGivenUp(t *testing.T) {
	t.Parallel()
	_, err := Read(endless{})
	if e, ok := err.(*LineError); !ok || !strings.Contains(e.Message, "MiB") {
		t.Errorf("%v", err)
	}
}

// endless is one line of blanks.
type endless struct{}

func (endless) Read(p []byte) (int, error) {
	for i := range p {
		p[i] = ' '
	}
	return len(p), nil
}
