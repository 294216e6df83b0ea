package logbook

import (
	"context"
	"database/sql"

	"canewright/engine/bench"
)

// tally is what some events change in their batch's row. To write that row at
// every answer would make answers a third slower; so it is written when a
// session or the batch ends, and before the first answer after that it is marked
// as not to be believed. A batch in work, or whose program was killed, is looked
// up: that is one search.
type tally struct {
	seq     uint64 // of the newest
	entered int64
	settled bool     // the row can say so: nothing is expected to follow
	closed  uint64   // cause of the batch's closing among them
	taken   []uint64 // causes taken back
}

func tallyOf(evs []bench.Event) tally {
	var t tally
	for _, e := range evs {
		t.seq, t.entered = e.Seq, e.Entered.UnixMilli()
		switch body := e.Body.(type) {
		case bench.SessionClosed:
			t.settled = true
		case bench.BatchClosed:
			t.settled, t.closed = true, e.Cause
		case bench.AnswerTakenBack:
			t.taken = append(t.taken, body.Cause)
		}
	}
	return t
}

// plain: the row need not change if it is marked already.
func (t *tally) plain() bool { return !t.settled && t.closed == 0 && len(t.taken) == 0 }

// write changes the row, in the transaction of the events.
func (t *tally) write(ctx context.Context, tx *sql.Tx, batch int64) error {
	events, last := int64(0), int64(0)
	if t.settled {
		events, last = int64(t.seq), t.entered
	}
	if _, err := tx.ExecContext(ctx, `UPDATE batch SET events = ?, last = ? WHERE id = ?`, events, last, batch); err != nil {
		return err
	}
	if t.closed > 0 {
		if _, err := tx.ExecContext(ctx, `UPDATE batch SET closed = ? WHERE id = ?`, int64(t.closed), batch); err != nil {
			return err
		}
	}
	for _, cause := range t.taken {
		// An earlier closing may stand; then it counts again.
		if _, err := tx.ExecContext(ctx, `
			UPDATE batch SET closed = coalesce((SELECT max(c.cause) FROM event c WHERE c.batch = ?1 AND c.kind = 'batch closed' AND c.cause NOT IN `+taken+`), 0)
			WHERE id = ?1 AND closed = ?2`, batch, int64(cause)); err != nil {
			return err
		}
	}
	return nil
}
