package logbook

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"errors"
	"fmt"
	"iter"
	"time"

	"canewright/engine/bench"
	"canewright/engine/session"
)

// Row is an event as it was kept, its body unread: the logbook keeps kinds it
// does not know.
type Row struct {
	bench.Head
	Kind       string
	Body       []byte // JSON; good until the next row
	TakenBack  bool   // its answer was taken back later
	Correction []byte // body of the event that put this reading right last; nil: none did
}

// Kept reads a batch without its events.
func (l *Logbook) Kept(ctx context.Context, batch string) (session.Batch, error) {
	b := session.Batch{Name: batch}
	id, err := l.id(ctx, batch)
	if err != nil {
		return b, err
	}
	var started int64
	var sums [3][]byte
	err = l.db.QueryRowContext(ctx, `
		SELECT b.title, b.started, b.recipe_name, r.data, d.data, n.data, r.sha256, d.sha256, n.sha256
		FROM batch b JOIN blob r ON r.sha256 = b.recipe JOIN blob d ON d.sha256 = b.dimensions JOIN blob n ON n.sha256 = b.notes
		WHERE b.id = ?`, id).Scan(&b.Title, &started, &b.RecipeName, &b.Recipe, &b.Set, &b.Notes, &sums[0], &sums[1], &sums[2])
	if errors.Is(err, sql.ErrNoRows) {
		return b, &FileError{l.path, fmt.Sprintf("the snapshot of batch %q is not there", batch), useCopy}
	}
	if err != nil {
		return b, l.explain("read logbook", err)
	}
	for i, data := range [][]byte{b.Recipe, b.Set, b.Notes} {
		if sum := sha256.Sum256(data); string(sum[:]) != string(sums[i]) {
			return b, &FileError{l.path, fmt.Sprintf("the snapshot kept with batch %q does not match its checksum", batch), useCopy}
		}
	}
	b.Started = time.UnixMilli(started).UTC()
	return b, nil
}

// Load reads a batch whole.
func (l *Logbook) Load(ctx context.Context, batch string) (session.Batch, []bench.Event, error) {
	b, err := l.Kept(ctx, batch)
	if err != nil {
		return b, nil, err
	}
	n, err := l.newest(ctx, l.ids[batch])
	if err != nil {
		return b, nil, err
	}
	// The file may be damaged, so the number is not believed without bound.
	evs := make([]bench.Event, 0, min(n, 1<<17))
	for r, err := range l.rows(ctx, batch, plainRows) {
		if err != nil {
			return b, nil, err
		}
		body, err := bench.DecodeBody(r.Kind, r.Body)
		if err != nil {
			return b, nil, l.unreadable(batch, r.Seq, err)
		}
		evs = append(evs, bench.Event{Head: r.Head, Body: body})
	}
	return b, evs, nil
}

func (l *Logbook) unreadable(batch string, seq uint64, err error) error {
	return &FileError{l.path, fmt.Sprintf("event %d of batch %q cannot be read: %v", seq, batch, err), "if a newer version of canewright wrote it, update; else " + useCopy}
}

const heads = `e.seq, e.cause, e.kind, e.at, e.entered, e.zone, e.session, e.who, e.subject_kind, e.subject, e.stage, e.visit, e.body, e.crc`

// taken are the causes taken back in batch ?1; corrected the corrections that
// stand, the last of each reading.
const (
	taken     = `(SELECT CAST(t.body ->> 'cause' AS INTEGER) FROM event t WHERE t.batch = ?1 AND t.kind = 'answer taken back')`
	corrected = `(SELECT max(c.seq) AS seq, c.subject_kind, c.subject, c.body ->> 'slot' AS slot, c.body ->> 'stage' AS stage,
			CAST(c.body ->> 'on' AS INTEGER) AS visit, CAST(c.body ->> 'repeat' AS INTEGER) AS repeat, c.body
		FROM event c WHERE c.batch = ?1 AND c.kind = 'value corrected' AND c.cause NOT IN ` + taken + ` GROUP BY 2, 3, 4, 5, 6, 7)`
)

// Which rows are read.
const (
	plainRows   = `SELECT ` + heads + `, 0, NULL FROM event e WHERE e.batch = ?1 ORDER BY e.seq`
	allRows     = `SELECT ` + heads + `, e.cause IN ` + taken + `, NULL FROM event e WHERE e.batch = ?1 ORDER BY e.seq`
	readingRows = `SELECT ` + heads + `, e.cause IN ` + taken + `, x.body
		FROM event e LEFT JOIN ` + corrected + ` x ON x.subject_kind = e.subject_kind AND x.subject = e.subject AND x.slot = e.body ->> 'slot'
			AND x.stage = e.stage AND x.visit = e.visit AND x.repeat = CAST(e.body ->> 'repeat' AS INTEGER) AND x.seq > e.seq
		WHERE e.batch = ?1 AND e.kind = 'reading taken' ORDER BY e.seq`
)

// Events reads a batch's events in order, one at a time, as they were when the
// reading began.
func (l *Logbook) Events(ctx context.Context, batch string) iter.Seq2[Row, error] {
	return l.rows(ctx, batch, allRows)
}

// Readings reads a batch's readings in order, one at a time, each with its
// correction.
func (l *Logbook) Readings(ctx context.Context, batch string) iter.Seq2[Row, error] {
	return l.rows(ctx, batch, readingRows)
}

func (l *Logbook) rows(ctx context.Context, batch, query string) iter.Seq2[Row, error] {
	return func(yield func(Row, error) bool) {
		id, err := l.id(ctx, batch)
		if err != nil {
			yield(Row{}, err)
			return
		}
		n, err := l.newest(ctx, id)
		if err != nil {
			yield(Row{}, err)
			return
		}
		if query == readingRows { // of all events only these: whether some are missing shows in their count
			var there uint64
			if err := l.db.QueryRowContext(ctx, `SELECT count(*) FROM event WHERE batch = ?`, id).Scan(&there); err != nil {
				yield(Row{}, l.explain("read logbook", err))
				return
			}
			if there < n {
				yield(Row{}, l.missing(batch, there, n))
				return
			}
		}
		rows, err := l.db.QueryContext(ctx, query, id)
		if err != nil {
			yield(Row{}, l.explain("read logbook", err))
			return
		}
		defer rows.Close()
		var r Row
		last := uint64(0)
		for rows.Next() {
			if err := l.scan(rows, batch, &r); err != nil {
				if ctx.Err() != nil {
					err = ctx.Err()
				}
				yield(Row{}, err)
				return
			}
			if query != readingRows && r.Seq != last+1 {
				yield(Row{}, &FileError{l.path, fmt.Sprintf("batch %q is damaged: event %d stands where %d should be", batch, r.Seq, last+1), useCopy})
				return
			}
			last = r.Seq
			if !yield(r, nil) {
				return
			}
		}
		if err := rows.Err(); err != nil {
			yield(Row{}, l.explain("read logbook", err))
			return
		}
		if query != readingRows && last < n {
			yield(Row{}, l.missing(batch, last, n))
		}
	}
}

func (l *Logbook) missing(batch string, have, want uint64) error {
	return &FileError{l.path, fmt.Sprintf("batch %q is damaged: %d of its %d events can be found", batch, have, want), useCopy}
}

// newest is the number of a batch's last event, by all who know it: the index
// from its end, the table's last row, and the batch's own row. A damaged index
// may end early and say nothing.
func (l *Logbook) newest(ctx context.Context, id int64) (n uint64, err error) {
	err = l.db.QueryRowContext(ctx, `
		SELECT max(coalesce((SELECT max(e.seq) FROM event e WHERE e.batch = ?1), 0), coalesce((SELECT b.events FROM batch b WHERE b.id = ?1), 0),
			coalesce((SELECT iif(e.batch = ?1, e.seq, 0) FROM event e ORDER BY e.id DESC LIMIT 1), 0))`, id).Scan(&n)
	if err != nil {
		return 0, l.explain("read logbook", err)
	}
	return n, nil
}

func (l *Logbook) scan(rows *sql.Rows, batch string, r *Row) error {
	var at, entered int64
	var crc sql.NullInt64
	var body, correction sql.RawBytes
	if err := rows.Scan(&r.Seq, &r.Cause, &r.Kind, &at, &entered, &r.Zone, &r.Session, &r.Who, &r.Subject.Kind, &r.Subject.ID,
		&r.Stage, &r.Visit, &body, &crc, &r.TakenBack, &correction); err != nil {
		return &FileError{l.path, fmt.Sprintf("an event of batch %q after event %d cannot be read: %v", batch, r.Seq, err), useCopy}
	}
	r.At, r.Entered = time.UnixMilli(at).UTC(), time.UnixMilli(entered).UTC()
	r.Body, r.Correction = body, correction
	if crc.Valid && crc.Int64 != sum(&r.Head, r.Kind, body) {
		if _, err := bench.DecodeBody(r.Kind, body); err != nil {
			return l.unreadable(batch, r.Seq, err)
		}
		return &FileError{l.path, fmt.Sprintf("event %d of batch %q does not match its checksum", r.Seq, batch), useCopy}
	}
	return nil
}

// Entry is a line of the list of batches.
type Entry struct {
	Name    string    `json:"name"`
	Title   string    `json:"title"`
	Started time.Time `json:"started"`
	Last    time.Time `json:"last"` // when the last event was entered
	Events  int       `json:"events"`
	Closed  bool      `json:"closed"`
}

// Batches lists all batches, the one worked on last first.
func (l *Logbook) Batches(ctx context.Context) ([]Entry, error) {
	return l.list(ctx, -1)
}

// Newest lists the n batches worked on last, and tells how many there are.
func (l *Logbook) Newest(ctx context.Context, n int) (newest []Entry, all int, err error) {
	if newest, err = l.list(ctx, n); err != nil || len(newest) < n {
		return newest, len(newest), err
	}
	if err := l.db.QueryRowContext(ctx, `SELECT count(*) FROM batch`).Scan(&all); err != nil {
		return nil, 0, l.explain("read logbook", err)
	}
	return newest, all, nil
}

// list lists at most n batches; below 0 is no limit.
func (l *Logbook) list(ctx context.Context, n int) ([]Entry, error) {
	rows, err := l.db.QueryContext(ctx, `
		SELECT b.name, b.title, b.started, b.closed <> 0, iif(b.events > 0, b.events, coalesce(e.seq, 0)), iif(b.events > 0, b.last, coalesce(e.entered, b.started)) AS newest
		FROM batch b LEFT JOIN event e ON e.id = CASE WHEN b.events = 0 THEN (SELECT n.id FROM event n WHERE n.batch = b.id ORDER BY n.seq DESC LIMIT 1) END
		ORDER BY newest DESC, b.id DESC LIMIT ?`, n)
	if err != nil {
		return nil, l.explain("read logbook", err)
	}
	defer rows.Close()
	var out []Entry
	for rows.Next() {
		var e Entry
		var started, last int64
		if err := rows.Scan(&e.Name, &e.Title, &started, &e.Closed, &e.Events, &last); err != nil {
			return nil, &FileError{l.path, "the list of batches cannot be read: " + err.Error(), useCopy}
		}
		e.Started, e.Last = time.UnixMilli(started).UTC(), time.UnixMilli(last).UTC()
		out = append(out, e)
	}
	if err := rows.Err(); err != nil {
		return nil, l.explain("read logbook", err)
	}
	return out, nil
}
