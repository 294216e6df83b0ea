package cli

import (
	"context"
	"fmt"
	"math"

	"canewright/engine/bench"
	"canewright/engine/logbook"
	"canewright/engine/session"
	"canewright/engine/statistics"
)

const (
	fewestPairs = 5    // fewer times than this tell nothing of a hand
	strokesSure = 0.95 // of the prediction interval
	// widest: where one must measure again before a third of the strokes, the
	// interval is of no use.
	widest = 3
)

// strokesKnown is what the player's own logbook tells of strokes.
type strokesKnown struct {
	Tool  string             `json:"tool,omitempty"`
	Pairs []bench.StrokePair `json:"pairs"`
	One   *strokeLine        `json:"on_one_blade,omitempty"`
	Both  *strokeLine        `json:"on_both_blades,omitempty"`
	Why   string             `json:"why_not,omitempty"` // nothing is said
}

// strokeLine is thickness on strokes, through the origin.
type strokeLine struct {
	Pairs int             `json:"pairs"`
	Slope float64         `json:"quanta_a_stroke"`
	SE    float64         `json:"standard_error"`
	S     float64         `json:"residual"`
	line  statistics.Line `json:"-"`
}

// strokesKnown gathers the pairs of this player, with this tool, on this
// instrument, of all batches; a batch that cannot be read is left out.
func (c *commander) strokesKnown(ctx context.Context, book *logbook.Logbook, out session.Outside, here *session.Session, sh *bench.Sheet) (*strokesKnown, error) {
	k := &strokesKnown{Tool: sh.Cutter(), Pairs: []bench.StrokePair{}}
	if k.Tool == "" {
		k.Why = "not one tool takes cane off at this stage"
		return k, nil
	}
	all, err := book.Batches(ctx)
	if err != nil {
		return nil, err
	}
	for _, b := range all {
		s := here
		if b.Name != here.Batch().Name {
			if s = strokesIn(ctx, book, out, b.Name); s == nil {
				continue
			}
		}
		if s.Bound().Set == nil || here.Bound().Set == nil || s.Bound().Set.ID != here.Bound().Set.ID {
			continue
		}
		for _, p := range bench.StrokePairs(s.State()) {
			if p.Who == sh.Who && p.Tool == k.Tool && p.Dimension == sh.Dimension && p.Condition == sh.Condition {
				k.Pairs = append(k.Pairs, p)
			}
		}
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	k.One, k.Both = lineOf(k.Pairs, false), lineOf(k.Pairs, true)
	if k.One == nil && k.Both == nil {
		k.Why = fmt.Sprintf("%s with the %s between two readings; %d are needed, on one blade or on both", count(len(k.Pairs), "time"), k.Tool, fewestPairs)
	}
	return k, nil
}

// strokesIn opens a batch where strokes were recorded; nil elsewhere.
func strokesIn(ctx context.Context, book *logbook.Logbook, out session.Outside, name string) *session.Session {
	any := false
	for r, err := range book.Events(ctx, name) {
		if err != nil {
			return nil
		}
		if any = r.Kind == (bench.StrokesMade{}).Kind(); any {
			break
		}
	}
	if !any {
		return nil
	}
	s, err := session.Look(ctx, out, name)
	if err != nil {
		return nil
	}
	return s
}

func lineOf(pairs []bench.StrokePair, both bool) *strokeLine {
	var x, y []float64
	for _, p := range pairs {
		if p.Both == both {
			x, y = append(x, float64(p.Strokes)), append(y, float64(p.Off))
		}
	}
	if len(x) < fewestPairs {
		return nil
	}
	l, err := statistics.Through(x, y)
	if err != nil {
		return nil
	}
	return &strokeLine{l.N, l.Slope, l.SE, l.S, l}
}

// say is what is known of strokes to a finding, or nothing.
func (k *strokesKnown) say(f bench.Finding) string {
	if n, m, ok := k.One.strokes(f.Want, f.Room, f.U); ok {
		return fmt.Sprintf("about %s, measure again at %d", count(n, "stroke"), m)
	}
	if n, m, ok := k.Both.strokes(f.BothWant, f.BothRoom, f.U); ok {
		return fmt.Sprintf("about %s on both blades, measure again at %d", count(n, "stroke"), m)
	}
	return ""
}

// strokes are about how many it takes to take want off, and after how many to
// measure again: so few that by the upper end of the prediction interval they
// cross neither the target nor the lower limit, even where the gauge was wrong by
// u; and never more than were ever made between two readings.
func (l *strokeLine) strokes(want, room, u int64) (about, again int, ok bool) {
	if l == nil || want <= u || room <= 0 {
		return 0, 0, false
	}
	full, ok := l.line.Needed(float64(want), strokesSure)
	safe, also := l.line.Needed(float64(min(want-u, room)), strokesSure)
	if !ok || !also {
		return 0, 0, false
	}
	about = int(math.Round(full.At))
	again = int(math.Floor(min(safe.Low, l.line.Largest)))
	return about, min(again, about), again >= 1 && again*widest >= about
}
