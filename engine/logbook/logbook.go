package logbook

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"

	"canewright/engine/bench"
	"canewright/engine/session"
)

// Logbook is the record of everything, one file. Safe for several processes at
// once.
type Logbook struct {
	path string
	db   *sql.DB
	ids  map[string]int64 // of batches seen; a Logbook serves one goroutine
}

var _ session.Keeper = (*Logbook)(nil)

// Open opens the logbook at path, making it if there is none. The error is a
// *FileError when a file is there that cannot serve.
func Open(ctx context.Context, path string) (*Logbook, error) {
	fresh, err := inspect(path)
	if err != nil {
		return nil, err
	}
	if fresh {
		if err := create(path); err != nil {
			return nil, err
		}
	}
	l := &Logbook{path: path, ids: map[string]int64{}, db: sql.OpenDB(&connector{address(path, "rw", working), working})}
	if err := l.db.PingContext(ctx); err != nil {
		l.db.Close()
		return nil, l.explain("open logbook", err)
	}
	return l, nil
}

// Close releases the file.
func (l *Logbook) Close() error { return l.db.Close() }

// Path is where the logbook lies.
func (l *Logbook) Path() string { return l.path }

// explain names the file and, for damage, what to do.
func (l *Logbook) explain(doing string, err error) error {
	if e, ok := errors.AsType[*sqlite.Error](err); ok {
		switch e.Code() & 0xff {
		case sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB:
			return &FileError{l.path, "the file is damaged: " + e.Error(), useCopy}
		case sqlite3.SQLITE_BUSY:
			return fmt.Errorf("%s %s: another program holds it; close that one and try again: %w", doing, l.path, err)
		case sqlite3.SQLITE_FULL:
			return fmt.Errorf("%s %s: the disk is full; nothing of this answer was kept: %w", doing, l.path, err)
		case sqlite3.SQLITE_READONLY:
			return &FileError{l.path, "the file may not be written: " + e.Error(), getRights}
		case sqlite3.SQLITE_CANTOPEN, sqlite3.SQLITE_PERM, sqlite3.SQLITE_AUTH:
			return &FileError{l.path, "it or the files beside it cannot be opened: " + e.Error(), getRights}
		}
	}
	return fmt.Errorf("%s %s: %w", doing, l.path, err)
}

// NameTakenError: a batch of this name exists.
type NameTakenError struct{ Name string }

func (e *NameTakenError) Error() string {
	return fmt.Sprintf("start batch: there is a batch named %q already", e.Name)
}

// NotFoundError: there is no such batch. All are those there are.
type NotFoundError struct {
	Name string
	All  []string
}

func (e *NotFoundError) Error() string {
	return fmt.Sprintf("open batch: there is none named %q", e.Name)
}

// Start keeps a new batch with its snapshot and first events, all or nothing.
func (l *Logbook) Start(ctx context.Context, b session.Batch, evs []bench.Event) error {
	tx, err := l.db.BeginTx(ctx, nil)
	if err != nil {
		return l.explain("start batch in", err)
	}
	defer tx.Rollback()
	var taken int
	if err := tx.QueryRowContext(ctx, `SELECT count(*) FROM batch WHERE name = ?`, b.Name).Scan(&taken); err != nil {
		return l.explain("start batch in", err)
	}
	if taken > 0 {
		return &NameTakenError{b.Name}
	}
	var sums [3][]byte
	for i, data := range [][]byte{b.Recipe, b.Set, b.Notes} {
		sum := sha256.Sum256(data)
		sums[i] = sum[:]
		if data == nil {
			data = []byte{}
		}
		if _, err := tx.ExecContext(ctx, `INSERT INTO blob (sha256, data) VALUES (?, ?) ON CONFLICT DO NOTHING`, sums[i], data); err != nil {
			return l.explain("start batch in", err)
		}
	}
	res, err := tx.ExecContext(ctx, `INSERT INTO batch (name, title, started, recipe_name, recipe, dimensions, notes) VALUES (?, ?, ?, ?, ?, ?, ?)`,
		b.Name, b.Title, b.Started.UnixMilli(), b.RecipeName, sums[0], sums[1], sums[2])
	if err != nil {
		return l.explain("start batch in", err)
	}
	id, err := res.LastInsertId()
	if err != nil {
		return l.explain("start batch in", err)
	}
	if err := insertParts(ctx, tx, id, evs); err != nil {
		return l.explain("start batch in", err)
	}
	if err := tx.Commit(); err != nil {
		return l.explain("start batch in", err)
	}
	l.ids[b.Name] = id
	return nil
}

const columns = 14

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
	query := `INSERT INTO event (batch, seq, cause, kind, at, entered, zone, session, who, subject_kind, subject, stage, visit, body) VALUES ` +
		row + strings.Repeat(","+row, len(evs)-1)
	args := make([]any, 0, columns*len(evs))
	for _, e := range evs {
		body, err := json.Marshal(e.Body)
		if err != nil {
			return "", nil, fmt.Errorf("keep event %d: %w", e.Seq, err)
		}
		args = append(args, batch, int64(e.Seq), int64(e.Cause), e.Body.Kind(), e.At.UnixMilli(), e.Entered.UnixMilli(), e.Zone,
			e.Session, e.Who, e.Subject.Kind, e.Subject.ID, e.Stage, e.Visit, string(body))
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

func (l *Logbook) id(ctx context.Context, batch string) (int64, error) {
	if id, ok := l.ids[batch]; ok {
		return id, nil
	}
	var id int64
	err := l.db.QueryRowContext(ctx, `SELECT id FROM batch WHERE name = ?`, batch).Scan(&id)
	if errors.Is(err, sql.ErrNoRows) {
		all, err := l.Batches(ctx)
		if err != nil {
			return 0, err
		}
		e := &NotFoundError{Name: batch}
		for _, b := range all {
			e.All = append(e.All, b.Name)
		}
		return 0, e
	}
	if err != nil {
		return 0, l.explain("read logbook", err)
	}
	l.ids[batch] = id
	return id, nil
}

// Load reads a batch whole.
func (l *Logbook) Load(ctx context.Context, batch string) (session.Batch, []bench.Event, error) {
	b := session.Batch{Name: batch}
	id, err := l.id(ctx, batch)
	if err != nil {
		return b, nil, err
	}
	var started, last int64
	var sums [3][]byte
	err = l.db.QueryRowContext(ctx, `
		SELECT b.title, b.started, b.recipe_name, r.data, d.data, n.data, r.sha256, d.sha256, n.sha256,
			(SELECT coalesce(max(seq), 0) FROM event WHERE batch = b.id)
		FROM batch b JOIN blob r ON r.sha256 = b.recipe JOIN blob d ON d.sha256 = b.dimensions JOIN blob n ON n.sha256 = b.notes
		WHERE b.id = ?`, id).Scan(&b.Title, &started, &b.RecipeName, &b.Recipe, &b.Set, &b.Notes, &sums[0], &sums[1], &sums[2], &last)
	if err != nil {
		return b, nil, l.explain("read logbook", err)
	}
	for i, data := range [][]byte{b.Recipe, b.Set, b.Notes} {
		if sum := sha256.Sum256(data); string(sum[:]) != string(sums[i]) {
			return b, nil, &FileError{l.path, fmt.Sprintf("the snapshot kept with batch %q does not match its checksum", batch), useCopy}
		}
	}
	b.Started = time.UnixMilli(started).UTC()
	rows, err := l.db.QueryContext(ctx, `
		SELECT seq, cause, kind, at, entered, zone, session, who, subject_kind, subject, stage, visit, body
		FROM event WHERE batch = ? ORDER BY seq`, id)
	if err != nil {
		return b, nil, l.explain("read logbook", err)
	}
	defer rows.Close()
	// Events are numbered from 1 without a gap, so the last number says how many
	// there are; the file may be damaged, so it is not believed without bound.
	evs := make([]bench.Event, 0, min(max(last, 0), 1<<17))
	var body sql.RawBytes
	for rows.Next() {
		var e bench.Event
		var kind string
		var at, entered int64
		if err := rows.Scan(&e.Seq, &e.Cause, &kind, &at, &entered, &e.Zone, &e.Session, &e.Who, &e.Subject.Kind, &e.Subject.ID, &e.Stage, &e.Visit, &body); err != nil {
			return b, nil, l.explain("read logbook", err)
		}
		e.At, e.Entered = time.UnixMilli(at).UTC(), time.UnixMilli(entered).UTC()
		if e.Body, err = bench.DecodeBody(kind, body); err != nil {
			return b, nil, &FileError{l.path, fmt.Sprintf("event %d of batch %q cannot be read: %v", e.Seq, batch, err), "if a newer version of canewright wrote it, update; else " + useCopy}
		}
		evs = append(evs, e)
	}
	if err := rows.Err(); err != nil {
		return b, nil, l.explain("read logbook", err)
	}
	return b, evs, nil
}

// Entry is a line of the list of batches.
type Entry struct {
	Name    string    `json:"name"`
	Title   string    `json:"title"`
	Started time.Time `json:"started"`
	Last    time.Time `json:"last"` // the last event
	Events  int       `json:"events"`
	Closed  bool      `json:"closed"`
}

// Batches lists all batches, the one worked on last first.
func (l *Logbook) Batches(ctx context.Context) ([]Entry, error) {
	rows, err := l.db.QueryContext(ctx, `
		SELECT b.name, b.title, b.started, max(e.at), count(*),
			EXISTS (SELECT 1 FROM event c WHERE c.batch = b.id AND c.kind = 'batch closed' AND c.cause NOT IN
				(SELECT CAST(t.body ->> 'cause' AS INTEGER) FROM event t WHERE t.batch = b.id AND t.kind = 'answer taken back'))
		FROM batch b JOIN event e ON e.batch = b.id GROUP BY b.id ORDER BY max(e.at) DESC, b.id DESC`)
	if err != nil {
		return nil, l.explain("read logbook", err)
	}
	defer rows.Close()
	var out []Entry
	for rows.Next() {
		var e Entry
		var started, last int64
		if err := rows.Scan(&e.Name, &e.Title, &started, &last, &e.Events, &e.Closed); err != nil {
			return nil, l.explain("read logbook", err)
		}
		e.Started, e.Last = time.UnixMilli(started).UTC(), time.UnixMilli(last).UTC()
		out = append(out, e)
	}
	if err := rows.Err(); err != nil {
		return nil, l.explain("read logbook", err)
	}
	return out, nil
}
