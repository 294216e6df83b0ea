package logbook

import (
	"context"
	"database/sql"
	"encoding/binary"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"canewright/engine/bench"
	"canewright/engine/bench/benchtest"
)

// schema1 is the first released schema, as it was. Files made with it are about;
// it is never changed.
const schema1 = `
CREATE TABLE blob (
	sha256 BLOB PRIMARY KEY CHECK (length(sha256) = 32),
	data   BLOB NOT NULL
) WITHOUT ROWID;
CREATE TABLE batch (
	id          INTEGER PRIMARY KEY,
	name        TEXT NOT NULL UNIQUE,
	title       TEXT NOT NULL,
	started     INTEGER NOT NULL,
	recipe_name TEXT NOT NULL,
	recipe      BLOB NOT NULL REFERENCES blob(sha256),
	dimensions  BLOB NOT NULL REFERENCES blob(sha256),
	notes       BLOB NOT NULL REFERENCES blob(sha256)
);
CREATE TABLE event (
	id           INTEGER PRIMARY KEY,
	batch        INTEGER NOT NULL REFERENCES batch(id),
	seq          INTEGER NOT NULL,
	cause        INTEGER NOT NULL,
	kind         TEXT NOT NULL,
	at           INTEGER NOT NULL,
	entered      INTEGER NOT NULL,
	zone         TEXT NOT NULL,
	session      TEXT NOT NULL,
	who          TEXT NOT NULL,
	subject_kind TEXT NOT NULL,
	subject      TEXT NOT NULL,
	stage        TEXT NOT NULL,
	visit        INTEGER NOT NULL,
	body         TEXT NOT NULL,
	UNIQUE (batch, seq)
);
CREATE VIEW reading AS
	SELECT b.name AS batch, e.seq, e.cause, e.at, e.zone, e.who, e.subject AS piece, e.stage, e.visit,
		e.body ->> 'slot' AS dimension, e.body ->> 'text' AS typed, e.body ->> 'unit' AS unit,
		CAST(e.body ->> 'q' AS INTEGER) AS quanta, e.body ->> 'tool' AS tool, e.body ->> 'condition' AS condition
	FROM event e JOIN batch b ON b.id = e.batch
	WHERE e.kind = 'reading taken'
		AND e.cause NOT IN (SELECT CAST(t.body ->> 'cause' AS INTEGER) FROM event t WHERE t.batch = e.batch AND t.kind = 'answer taken back');
`

// old is a logbook of the first format with three batches: "worked", with
// readings; "closed"; and "open again", whose closing was taken back.
func old(t testing.TB) (path string, worked *benchtest.Driver) {
	t.Helper()
	path = newPath(t)
	db := sql.OpenDB(&connector{address(path, "rwc", resting), resting})
	defer db.Close()
	db.SetMaxOpenConns(1)
	must := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	_, err := db.Exec(fmt.Sprintf("PRAGMA application_id = %d; PRAGMA user_version = 1;", applicationID) + schema1)
	must(err)
	_, err = db.Exec(`PRAGMA journal_mode = WAL`)
	must(err)
	bound, snap := small(t)
	for i, name := range []string{"worked", "closed", "open again"} {
		d, err := benchtest.Start(bound, 2, nil)
		must(err)
		switch name {
		case "worked":
			goRound(t, d, 400)
			worked = d
		default:
			must(d.To("tie"))
			for !d.State.Done {
				_, err = d.Answer("")
				must(err)
			}
			if name == "open again" {
				_, err = d.Answer("undo")
				must(err)
			}
		}
		var sums [3][]byte
		for k, data := range [][]byte{snap.Recipe, snap.Set, snap.Notes} {
			sum := sha(data)
			sums[k] = sum[:]
			_, err = db.Exec(`INSERT INTO blob VALUES (?, ?) ON CONFLICT DO NOTHING`, sums[k], data)
			must(err)
		}
		_, err = db.Exec(`INSERT INTO batch VALUES (?, ?, 'Small reed, invented', ?, ?, ?, ?, ?)`, i+1, name, began.UnixMilli(), snap.RecipeName, sums[0], sums[1], sums[2])
		must(err)
		for _, e := range d.State.Events() {
			body, err := json.Marshal(e.Body)
			must(err)
			_, err = db.Exec(`INSERT INTO event VALUES (NULL, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`, i+1, int64(e.Seq), int64(e.Cause), e.Body.Kind(),
				e.At.UnixMilli(), e.Entered.UnixMilli(), e.Zone, e.Session, e.Who, e.Subject.Kind, e.Subject.ID, e.Stage, e.Visit, string(body))
			must(err)
		}
	}
	return path, worked
}

// holds looks whether everything of old is in the logbook.
func holds(t *testing.T, path string, worked *benchtest.Driver) {
	t.Helper()
	l := open(t, path)
	_, evs, err := l.Load(context.Background(), "worked")
	if err != nil || !reflect.DeepEqual(evs, worked.State.Events()) {
		t.Errorf("%d events came over, %d were there; %v", len(evs), len(worked.State.Events()), err)
	}
	all, err := l.Batches(context.Background())
	if err != nil || len(all) != 3 {
		t.Fatalf("%+v, %v", all, err)
	}
	for _, b := range all {
		if b.Closed != (b.Name == "closed") {
			t.Errorf("%s: closed is %v", b.Name, b.Closed)
		}
		if b.Name == "worked" && (uint64(b.Events) != worked.State.Last || !b.Last.Equal(worked.Now)) {
			t.Errorf("%+v, want %d events, last at %v", b, worked.State.Last, worked.Now)
		}
	}
}

func versionOf(t *testing.T, path string) uint32 {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return binary.BigEndian.Uint32(data[60:])
}

func TestALogbookOfTheFirstFormatIsBroughtToTodays(t *testing.T) {
	t.Parallel()
	path, worked := old(t)
	before := path + ".format-1"
	if err := os.WriteFile(before, []byte("the player's own file of this name"), 0o600); err != nil {
		t.Fatal(err)
	}
	l, err := Open(context.Background(), path)
	if err != nil {
		t.Fatal(err)
	}
	if want := before + "-2"; l.Before() != want {
		t.Errorf("the copy is %q, want %q", l.Before(), want)
	}
	// The version stands in the file's own header, where the program that wrote
	// the first format looks before anything else and says "newer version".
	if v := versionOf(t, path); v != schemaVersion {
		t.Errorf("the header says format %d", v)
	}
	if err := l.Close(); err != nil {
		t.Fatal(err)
	}
	if data, _ := os.ReadFile(before); string(data) != "the player's own file of this name" {
		t.Error("the player's file was changed")
	}
	holds(t, path, worked)
	// An answer after it, and again without a second copy.
	l = open(t, path)
	if l.Before() != "" {
		t.Errorf("opened again it made another copy: %s", l.Before())
	}
	last := worked.State.Last
	if _, err := worked.Answer("bring back 1"); err != nil {
		if _, err = worked.Answer("1.30"); err != nil {
			t.Fatal(err)
		}
	}
	if err := l.Append(context.Background(), "worked", last, worked.State.Events()[last:]); err != nil {
		t.Fatal(err)
	}
	// The copy is the file as it was, and can itself be brought over.
	if v := versionOf(t, before+"-2"); v != 1 {
		t.Errorf("the copy has format %d", v)
	}
	if info, err := os.Stat(before + "-2"); err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("the copy: %v, %v", info.Mode(), err)
	}
	_, evs, err := open(t, before+"-2").Load(context.Background(), "worked")
	if err != nil || uint64(len(evs)) != last {
		t.Errorf("the copy holds %d events, %d were there; %v", len(evs), last, err)
	}
	if left, _ := filepath.Glob(filepath.Join(filepath.Dir(path), draftPrefix+"*")); len(left) > 0 {
		t.Errorf("left over: %v", left)
	}
}

// A new logbook and one brought over have the same tables.
func TestBothWaysLeadToTheSameSchema(t *testing.T) {
	t.Parallel()
	schema := func(path string) []string {
		l := open(t, path)
		rows, err := l.db.Query(`SELECT type || ' ' || name || ': ' || coalesce(sql, '') FROM sqlite_schema ORDER BY 1`)
		if err != nil {
			t.Fatal(err)
		}
		defer rows.Close()
		var out []string
		for rows.Next() {
			var s string
			if err := rows.Scan(&s); err != nil {
				t.Fatal(err)
			}
			out = append(out, s)
		}
		return out
	}
	brought, _ := old(t)
	if a, b := schema(newPath(t)), schema(brought); !slices.Equal(a, b) || len(a) < 5 {
		t.Errorf("new:\n%s\nbrought over:\n%s", strings.Join(a, "\n"), strings.Join(b, "\n"))
	}
}

// While another window has the old file open nothing is done, and it is said;
// the other's answers are safe.
func TestAnOldFileInUseIsLeftAlone(t *testing.T) {
	t.Parallel()
	path, worked := old(t)
	other := sql.OpenDB(&connector{address(path, "rw", working), working})
	defer other.Close()
	if err := other.Ping(); err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithTimeout(context.Background(), 500*time.Millisecond)
	defer stop()
	_, err := Open(ctx, path)
	var fe *FileError
	if !errors.As(err, &fe) || !strings.Contains(fe.Message, "another program has it open") || !strings.Contains(fe.Hint, "close") {
		t.Fatalf("got %v", err)
	}
	if _, err := other.Exec(`UPDATE batch SET title = title`); err != nil {
		t.Errorf("the other window cannot write any more: %v", err)
	}
	other.Close()
	if copies, _ := filepath.Glob(path + ".format*"); len(copies) > 0 {
		t.Errorf("a copy was left: %v", copies)
	}
	holds(t, path, worked)
}

// Several windows find an old file at once: one brings it over, all go on.
func TestManyWindowsBringItOverOnce(t *testing.T) {
	t.Parallel()
	path, worked := old(t)
	var all sync.WaitGroup
	var mu sync.Mutex
	copies := 0
	for range 6 {
		all.Go(func() {
			l, err := Open(context.Background(), path)
			if err != nil {
				t.Error(err)
				return
			}
			defer l.Close()
			if l.Before() != "" {
				mu.Lock()
				copies++
				mu.Unlock()
			}
			if _, evs, err := l.Load(context.Background(), "worked"); err != nil || uint64(len(evs)) != worked.State.Last {
				t.Errorf("%d events, %v", len(evs), err)
			}
		})
	}
	all.Wait()
	if found, _ := filepath.Glob(path + ".format*"); copies != 1 || len(found) != 1 {
		t.Errorf("%d windows made a copy, there are %v", copies, found)
	}
	holds(t, path, worked)
}

func TestAnOldFileThatIsDamagedIsNotBroughtOver(t *testing.T) {
	t.Parallel()
	path, _ := old(t)
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	for i := len(data) / 3; i < len(data)/2; i++ {
		data[i] = byte(i*7 + i>>8)
	}
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	_, err = Open(context.Background(), path)
	var fe *FileError
	if !errors.As(err, &fe) || !strings.Contains(fe.Hint, "your copy") {
		t.Fatalf("got %v", err)
	}
	if v := versionOf(t, path); v != 1 {
		t.Errorf("it has format %d now", v)
	}
	if left, _ := filepath.Glob(path + ".*"); len(left) > 0 {
		t.Errorf("left beside it: %v", left)
	}
}

// A program killed in the middle of bringing it over leaves a journal; the next
// one undoes the half and does the whole.
func TestKilledWhileBringingOver(t *testing.T) {
	t.Parallel()
	path, worked := old(t)
	// As a killed program leaves it: the new version in the file, the old page in
	// the journal beside it.
	db := sql.OpenDB(&connector{address(path, "rw", resting), resting})
	db.SetMaxOpenConns(1)
	if _, err := db.Exec("PRAGMA cache_size = 1; PRAGMA cache_spill = 1; BEGIN IMMEDIATE;" + step2 + "PRAGMA user_version = 2; UPDATE event SET body = body || ' ';"); err != nil {
		t.Fatal(err)
	}
	killed := newPath(t)
	for _, end := range []string{"", "-journal"} {
		data, err := os.ReadFile(path + end)
		if err != nil {
			t.Fatal(err)
		}
		if end == "-journal" && len(data) < 4096 {
			t.Fatalf("the journal has %d bytes", len(data))
		}
		if err := os.WriteFile(killed+end, data, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := db.Exec("ROLLBACK"); err != nil {
		t.Fatal(err)
	}
	db.Close()
	holds(t, killed, worked)
	if v := versionOf(t, killed); v != schemaVersion {
		t.Errorf("it has format %d", v)
	}
}

// The view shows a corrected reading as it is now.
func TestTheViewOfReadingsShowsCorrections(t *testing.T) {
	t.Parallel()
	ctx := context.Background()
	l := open(t, newPath(t))
	d := startBatch(t, l, "batch", 2)
	at := d.State.Last
	head := bench.Head{At: began, Entered: began, Subject: bench.Subject{Kind: "piece", ID: "1"}, Stage: "gouge", Visit: 1}
	add := func(b bench.Body) (cause uint64) {
		t.Helper()
		e := bench.Event{Head: head, Body: b}
		e.Seq, e.Cause = at+1, at+1
		if err := l.Append(ctx, "batch", at, []bench.Event{e}); err != nil {
			t.Fatal(err)
		}
		at++
		return at
	}
	reading := func(text string, q int64, repeat int) bench.ReadingTaken {
		return bench.ReadingTaken{Slot: "gouge.centre", Text: text, Unit: "mm", Q: q, Repeat: repeat}
	}
	correct := func(text string, q int64, repeat int) bench.ValueCorrected {
		return bench.ValueCorrected{Slot: "gouge.centre", At: "gouge", On: 1, Repeat: repeat, Text: text, Unit: "mm", Q: q}
	}
	want := func(want ...string) {
		t.Helper()
		var inView, streamed []string
		rows, err := l.db.Query(`SELECT typed || ' ' || quanta FROM reading ORDER BY seq`)
		if err != nil {
			t.Fatal(err)
		}
		defer rows.Close()
		for rows.Next() {
			var s string
			if err := rows.Scan(&s); err != nil {
				t.Fatal(err)
			}
			inView = append(inView, s)
		}
		for r, err := range l.Readings(ctx, "batch") {
			if err != nil {
				t.Fatal(err)
			}
			body := r.Body
			if r.Correction != nil {
				body = r.Correction
			}
			var v struct {
				Text string
				Q    int64
			}
			if err := json.Unmarshal(body, &v); err != nil {
				t.Fatal(err)
			}
			if !r.TakenBack {
				streamed = append(streamed, fmt.Sprint(v.Text, " ", v.Q))
			}
		}
		if !slices.Equal(inView, want) || !slices.Equal(streamed, want) {
			t.Errorf("the view has %q, the stream %q, want %q", inView, streamed, want)
		}
	}
	add(reading("1.31", 1_310_000, 1))
	add(reading("1.13", 1_130_000, 2))
	want("1.31 1310000", "1.13 1130000")
	add(correct("1.32", 1_320_000, 2))
	last := add(correct("1.33", 1_330_000, 2))
	want("1.31 1310000", "1.33 1330000")
	add(bench.AnswerTakenBack{Cause: last})
	want("1.31 1310000", "1.32 1320000")
	head.Visit = 2
	add(reading("1.20", 1_200_000, 2)) // another visit: no correction of it
	want("1.31 1310000", "1.32 1320000", "1.20 1200000")
	head.Subject.Kind = "tube"
	add(bench.ReadingTaken{Slot: "tube.narrowest", Text: "24,5", Unit: "mm", Q: 24_500_000, Repeat: 1})
	want("1.31 1310000", "1.32 1320000", "1.20 1200000", "24,5 24500000")
}
