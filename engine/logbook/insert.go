package logbook

import (
	"context"
	"database/sql"
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"canewright/engine/bench"
)

const columns = 15

// mostRows keeps a statement below SQLite's 32766 parameters (sqlite.org,
// Implementation Limits, 9).
const mostRows = 1000

// keep writes the events of one answer and what they change in the batch's row.
// One statement is one transaction, all or nothing, with one flush to disk; so
// is a transaction of several, which takes longer to say.
func (l *Logbook) keep(ctx context.Context, batch int64, evs []bench.Event) error {
	t := tallyOf(evs)
	if len(evs) <= mostRows && t.plain() && l.loose[batch] == evs[0].Seq-1 {
		delete(l.loose, batch)
		if err := insertParts(ctx, l.db, batch, evs); err != nil {
			return err
		}
		l.loose[batch] = t.seq
		return nil
	}
	delete(l.loose, batch)
	tx, err := l.db.BeginTx(ctx, nil)
	if err != nil {
		return err
	}
	defer tx.Rollback()
	if err := insertParts(ctx, tx, batch, evs); err != nil {
		return err
	}
	if err := t.write(ctx, tx, batch); err != nil {
		return err
	}
	if err := tx.Commit(); err != nil {
		return err
	}
	if !t.settled {
		l.loose[batch] = t.seq
	}
	return nil
}

type execer interface {
	ExecContext(ctx context.Context, query string, args ...any) (sql.Result, error)
}

func insertParts(ctx context.Context, to execer, batch int64, evs []bench.Event) error {
	for part := range slices.Chunk(evs, mostRows) {
		query, args, err := insertion(batch, part)
		if err != nil {
			return err
		}
		if _, err := to.ExecContext(ctx, query, args...); err != nil {
			return err
		}
	}
	return nil
}

// insertion is one statement for several events.
func insertion(batch int64, evs []bench.Event) (string, []any, error) {
	row := "(" + strings.Repeat("?,", columns-1) + "?)"
	query := `INSERT INTO event (batch, seq, cause, kind, at, entered, zone, session, who, subject_kind, subject, stage, visit, body, crc) VALUES ` +
		row + strings.Repeat(","+row, len(evs)-1)
	args := make([]any, 0, columns*len(evs))
	for _, e := range evs {
		body, err := json.Marshal(e.Body)
		if err != nil {
			return "", nil, fmt.Errorf("keep event %d: %w", e.Seq, err)
		}
		args = append(args, batch, int64(e.Seq), int64(e.Cause), e.Body.Kind(), e.At.UnixMilli(), e.Entered.UnixMilli(), e.Zone,
			e.Session, e.Who, e.Subject.Kind, e.Subject.ID, e.Stage, e.Visit, string(body), sum(&e.Head, e.Body.Kind(), body))
	}
	return query, args, nil
}
