package logbook

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"

	"modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"

	"canewright/engine/bench"
	"canewright/engine/session"
)

const columns = 15

// mostRows keeps a statement below SQLite's 32766 parameters (sqlite.org,
// Implementation Limits, 9).
const mostRows = 1000

// insert keeps the events of one answer. One statement is one transaction, all
// or nothing, with one flush to disk; only an answer of very many repeats for
// very many pieces needs several.
func (l *Logbook) insert(ctx context.Context, batch int64, evs []bench.Event) error {
	if len(evs) <= mostRows {
		return insertParts(ctx, l.db, batch, evs)
	}
	tx, err := l.db.BeginTx(ctx, nil)
	if err != nil {
		return err
	}
	defer tx.Rollback()
	if err := insertParts(ctx, tx, batch, evs); err != nil {
		return err
	}
	return tx.Commit()
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

// Append keeps the events of one answer, all or nothing. It fails with
// session.ErrOvertaken when the batch has an event after `after`.
func (l *Logbook) Append(ctx context.Context, batch string, after uint64, evs []bench.Event) error {
	if len(evs) == 0 {
		return nil
	}
	if evs[0].Seq != after+1 {
		return fmt.Errorf("keep answer: it begins at event %d after event %d", evs[0].Seq, after)
	}
	id, err := l.id(ctx, batch)
	if err != nil {
		return err
	}
	err = l.insert(ctx, id, evs)
	if e, ok := errors.AsType[*sqlite.Error](err); ok && e.Code() == sqlite3.SQLITE_CONSTRAINT_UNIQUE {
		return session.ErrOvertaken
	}
	if err != nil {
		return l.explain("write to logbook", err)
	}
	return nil
}
