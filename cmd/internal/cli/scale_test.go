package cli_test

import (
	"context"
	"database/sql"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"canewright/cmd/internal/wire"
	"canewright/engine/bench"
	"canewright/engine/bench/benchtest"
	"canewright/engine/logbook"
	"canewright/engine/session"
)

// A logbook of a million readings against one of a thousand, side by side in one
// run: showing a batch, listing them, and resuming up to the first question.
// Building it takes a minute and two gigabytes, so it is asked for:
//
// CANEWRIGHT_SCALE=1000000 go test -run TestALargeLogbookIsNoSlower -v ./cmd/internal/cli
func TestALargeLogbookIsNoSlower(t *testing.T) {
	readings, err := strconv.Atoi(os.Getenv("CANEWRIGHT_SCALE"))
	if err != nil || readings < 2000 {
		t.Skip("set CANEWRIGHT_SCALE to a number of readings")
	}
	exe, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	small := filepath.Join(dir, "small")
	each := thousandReadings(t, small)
	many, big := filepath.Join(dir, "many"), filepath.Join(dir, "big")
	began := time.Now()
	for _, path := range []string{many, big} {
		data, err := os.ReadFile(small)
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, data, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	copies := readings/each - 2
	fill(t, many, fmt.Sprintf(`
		WITH RECURSIVE n (i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n WHERE i < %d)
		INSERT INTO batch (name, title, started, recipe_name, recipe, dimensions, notes, events, last, closed)
			SELECT 'copy ' || i, title, started - i * 60000, recipe_name, recipe, dimensions, notes, events, last - i * 60000, closed FROM n, batch WHERE id = 1;
		INSERT INTO event (batch, seq, cause, kind, at, entered, zone, session, who, subject_kind, subject, stage, visit, body, crc)
			SELECT b.id, seq, cause, kind, at, entered, zone, session, who, subject_kind, subject, stage, visit, body, crc
			FROM batch b JOIN event e ON e.batch = 1 WHERE b.id > 2 ORDER BY b.id, seq`, copies))
	// One batch as large as all of these together; it is not shown itself.
	fill(t, big, fmt.Sprintf(`
		INSERT INTO batch (name, title, started, recipe_name, recipe, dimensions, notes)
			SELECT 'big', title, started - 60000, recipe_name, recipe, dimensions, notes FROM batch WHERE id = 1;
		WITH RECURSIVE n (i) AS (SELECT 0 UNION ALL SELECT i + 1 FROM n WHERE i < %d)
		INSERT INTO event (batch, seq, cause, kind, at, entered, zone, session, who, subject_kind, subject, stage, visit, body)
			SELECT 3, i + 1, i + 1, kind, at, entered - 60000, zone, session, who, subject_kind, subject, stage, visit, body
			FROM n, (SELECT * FROM event WHERE batch = 1 AND kind = 'reading taken' LIMIT 1)`, readings-2*each-1))
	t.Logf("%d readings a batch; built in %v: %s, %s, %s", each, time.Since(began).Round(time.Second), size(t, small), size(t, many), size(t, big))

	run := func(book string, args ...string) time.Duration {
		t.Helper()
		cmd := exec.Command(exe, append([]string{"as-canewright", "--logbook", book}, args...)...)
		cmd.Env = []string{"HOME=" + dir, "PATH=" + os.Getenv("PATH")}
		began := time.Now()
		out, err := cmd.CombinedOutput()
		took := time.Since(began)
		if err != nil || len(out) == 0 {
			t.Fatalf("%v: %v\n%s", args, err, out)
		}
		if args[0] == "follow" && !strings.Contains(string(out), "stage ") {
			t.Fatalf("no question: %s", out)
		}
		return took
	}
	const rounds = 25
	for _, args := range [][]string{{"batch", "batch 2"}, {"batches"}, {"follow", "--resume", "batch 2"}, {"follow", "--resume"}} {
		books := []string{small, many, big}
		took := make([][]time.Duration, len(books))
		for round := range rounds + 2 {
			for i, book := range books {
				if d := run(book, args...); round >= 2 { // the first find nothing in memory
					took[i] = append(took[i], d)
				}
			}
		}
		median := func(i int) time.Duration { return slices.Sorted(slices.Values(took[i]))[rounds/2] }
		base := median(0)
		for i, say := range []string{"1,000 readings", "many batches", "a big one beside"} {
			ratio := float64(median(i)) / float64(base)
			t.Logf("%-26s %-18s median %8v  ratio %.2f", strings.Join(args, " "), say, median(i).Round(10*time.Microsecond), ratio)
			if ratio > 1.5 {
				t.Errorf("%v with %s takes %.2f times as long", args, say, ratio)
			}
		}
	}
}

// thousandReadings makes a logbook of two batches under way, with together about
// a thousand readings, and returns how many each has.
func thousandReadings(t *testing.T, path string) int {
	t.Helper()
	ctx := context.Background()
	w := &wire.Works{Env: func(string) string { return "" }, Now: time.Now, Rand: zeros{}}
	rec, err := w.Recipe(ctx, followed)
	if err != nil || rec.Bound == nil {
		t.Fatal(err)
	}
	notes, err := w.Notes()
	if err != nil {
		t.Fatal(err)
	}
	book, err := logbook.Open(ctx, path)
	if err != nil {
		t.Fatal(err)
	}
	defer book.Close()
	each := 0
	for _, name := range []string{"batch 1", "batch 2"} {
		d, err := benchtest.Start(rec.Bound, 60, notes.For)
		if err != nil {
			t.Fatal(err)
		}
		d.Now, d.Tick = time.Now().Add(-time.Hour), time.Millisecond
		for each = 0; each < 500; {
			q := d.Question()
			if q.Asked == bench.AskNothing {
				t.Fatalf("it is finished after %d readings", each)
			}
			evs, err := d.Answer(d.Right(q))
			if err != nil {
				t.Fatal(err)
			}
			for _, e := range evs {
				if e.Body.Kind() == "reading taken" {
					each++
				}
			}
		}
		if err := d.State.Apply(bench.CloseSession(d.State, bench.Moment{At: d.Now})); err != nil {
			t.Fatal(err)
		}
		evs := d.State.Events()
		for i := range evs { // as they come back from the disk
			evs[i].At, evs[i].Entered = evs[i].At.Truncate(time.Millisecond), evs[i].Entered.Truncate(time.Millisecond)
		}
		if err := book.Start(ctx, session.Batch{Name: name, Title: rec.Bound.File.Title, Started: d.Now, Snapshot: rec.Snapshot}, evs); err != nil {
			t.Fatal(err)
		}
	}
	return each
}

func fill(t *testing.T, path, query string) {
	t.Helper()
	db, err := sql.Open("sqlite", "file:"+path+"?_pragma=synchronous(0)&_pragma=cache_size(-200000)&_pragma=journal_mode(delete)")
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	db.SetMaxOpenConns(1)
	if _, err := db.Exec(query); err != nil {
		t.Fatal(err)
	}
}

func size(t *testing.T, path string) string {
	t.Helper()
	info, err := os.Stat(path)
	if err != nil {
		t.Fatal(err)
	}
	return fmt.Sprintf("%d MB", info.Size()>>20)
}
