package logbook

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"errors"
	"fmt"
	"path/filepath"
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
	// loose: the newest event of a batch, written here, where its row says that
	// the newest has to be looked up.
	loose map[int64]uint64

	before string
}

var _ session.Keeper = (*Logbook)(nil)

// Open opens the logbook at path, making it if there is none, and bringing one
// of an older format to today's. The error is a *FileError when a file is there
// that cannot serve.
func Open(ctx context.Context, path string) (*Logbook, error) {
	sweep(filepath.Dir(path), time.Now())
	version, err := inspect(path)
	if err != nil {
		return nil, err
	}
	if version == 0 {
		if err := create(path); err != nil {
			return nil, err
		}
	}
	l := &Logbook{path: path, ids: map[string]int64{}, loose: map[int64]uint64{}}
	for range 2 {
		if version > 0 && version < schemaVersion {
			if l.before, err = migrate(ctx, path); err != nil {
				return nil, err
			}
		}
		if version, err = l.connect(ctx); err != nil {
			return nil, err
		}
		if version == schemaVersion {
			return l, nil
		}
		// The header was one of a change that was broken off, and is undone now.
		l.db.Close()
	}
	return nil, &FileError{path, fmt.Sprintf("its format number is %d in spite of all", version), useCopy}
}

// connect opens the file as a database and asks for its version.
func (l *Logbook) connect(ctx context.Context) (version int, err error) {
	l.db = sql.OpenDB(&connector{address(l.path, "rw", working), working})
	// Several windows that turn to the write-ahead log at once are refused
	// without waiting, in spite of busy_timeout.
	err = retry(ctx, func() error { return l.db.QueryRowContext(ctx, "PRAGMA user_version").Scan(&version) })
	if err != nil {
		l.db.Close()
		return 0, l.explain("open logbook", err)
	}
	if version > schemaVersion {
		l.db.Close()
		return 0, newer(l.path, int64(version))
	}
	return version, nil
}

// Before is the path of the copy made when Open brought the file to today's
// format; empty when there was no need.
func (l *Logbook) Before() string { return l.before }

// Close releases the file.
func (l *Logbook) Close() error { return l.db.Close() }

// Path is where the logbook lies.
func (l *Logbook) Path() string { return l.path }

// explain names the file and, for damage, what to do.
func (l *Logbook) explain(doing string, err error) error { return explain(l.path, doing, err) }

func explain(path, doing string, err error) error {
	if e, ok := errors.AsType[*sqlite.Error](err); ok {
		switch e.Code() & 0xff {
		case sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB, sqlite3.SQLITE_ERROR: // the last: no such table or column, a body that is no JSON
			return &FileError{path, "the file is damaged: " + e.Error(), useCopy}
		case sqlite3.SQLITE_BUSY:
			return fmt.Errorf("%s %s: another program holds it; close that one and try again: %w", doing, path, err)
		case sqlite3.SQLITE_FULL:
			return fmt.Errorf("%s %s: the disk is full; nothing of this answer was kept: %w", doing, path, err)
		case sqlite3.SQLITE_IOERR:
			return fmt.Errorf("%s %s: the system refused to read or write it (the disk, or a limit on the size of files); nothing of this answer was kept: %w", doing, path, err)
		case sqlite3.SQLITE_READONLY:
			return &FileError{path, "the file may not be written: " + e.Error(), getRights}
		case sqlite3.SQLITE_CANTOPEN, sqlite3.SQLITE_PERM, sqlite3.SQLITE_AUTH:
			return &FileError{path, "it or the files beside it cannot be opened: " + e.Error(), getRights}
		}
	}
	// A value of a kind that is never kept; database/sql has no type for it.
	if strings.HasPrefix(err.Error(), "sql: Scan error") {
		return &FileError{path, "the file is damaged: " + err.Error(), useCopy}
	}
	return fmt.Errorf("%s %s: %w", doing, path, err)
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
	t := tallyOf(evs)
	if err := t.write(ctx, tx, id); err != nil {
		return l.explain("start batch in", err)
	}
	if err := tx.Commit(); err != nil {
		return l.explain("start batch in", err)
	}
	l.ids[b.Name] = id
	if !t.settled {
		l.loose[id] = t.seq
	}
	return nil
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
	err = l.keep(ctx, id, evs)
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
