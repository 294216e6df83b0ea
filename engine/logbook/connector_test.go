package logbook

import (
	"context"
	"database/sql"
	"errors"
	"strings"
	"testing"

	"modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"

	"canewright/engine/bench"
)

func TestEveryConnectionHasThePragmas(t *testing.T) {
	t.Parallel()
	l := open(t, newPath(t))
	for range 3 {
		conn, err := l.db.Conn(context.Background()) // held, so that the next is another
		if err != nil {
			t.Fatal(err)
		}
		defer conn.Close()
		for _, p := range working {
			var got string
			if err := conn.QueryRowContext(context.Background(), "PRAGMA "+p.name).Scan(&got); err != nil || got != p.reads {
				t.Errorf("%s is %q, %v, want %q", p.name, got, err, p.reads)
			}
		}
	}
	if n := l.db.Stats().OpenConnections; n != 3 {
		t.Errorf("%d connections were tried", n)
	}
}

func TestAConnectionThatReadsOtherwiseIsRefused(t *testing.T) {
	t.Parallel()
	path := newPath(t)
	open(t, path)
	for _, c := range []struct {
		say   string
		wrong pragma
		want  string
	}{
		{"another value is set", pragma{"synchronous", "NORMAL", "2"}, `synchronous reads "1", "2" was asked for`},
		{"a word that means nothing", pragma{"foreign_keys", "perhaps", "1"}, `foreign_keys reads "0", "1" was asked for`},
		{"a pragma that is not known", pragma{"synchronus", "FULL", "2"}, "synchronus"},
	} {
		t.Run(c.say, func(t *testing.T) {
			t.Parallel()
			ps := []pragma{working[0], c.wrong}
			db := sql.OpenDB(&connector{address(path, "rw", ps), ps})
			defer db.Close()
			if err := db.Ping(); err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("got %v, want %q", err, c.want)
			}
		})
	}
}

func TestOpeningMakesNoFileButThroughTheSchema(t *testing.T) {
	t.Parallel()
	db := sql.OpenDB(&connector{address(newPath(t), "rw", working), working})
	defer db.Close()
	err := db.Ping()
	if e, ok := errors.AsType[*sqlite.Error](err); !ok || e.Code()&0xff != sqlite3.SQLITE_CANTOPEN {
		t.Errorf("got %v", err)
	}
}

func TestAFullDiskRefusesTheAnswerWhole(t *testing.T) {
	t.Parallel()
	ctx := context.Background()
	l := open(t, newPath(t))
	l.db.SetMaxOpenConns(1) // the limit below belongs to a connection
	d := startBatch(t, l, "batch", 3)
	last := d.State.Last
	goRound(t, d, 2000)
	all := d.State.Events()
	if err := l.Append(ctx, "batch", last, all[last:200]); err != nil {
		t.Fatal(err)
	}
	var pages int
	if err := l.db.QueryRow("PRAGMA page_count").Scan(&pages); err != nil {
		t.Fatal(err)
	}
	if err := l.db.QueryRow("PRAGMA max_page_count = 90").Scan(&pages); err != nil || pages != 90 {
		t.Fatal(pages, err)
	}
	at, full := uint64(200), false
	for !full && at+40 <= uint64(len(all)) {
		err := l.Append(ctx, "batch", at, all[at:at+40])
		if full = err != nil; !full {
			at += 40
			continue
		}
		if !strings.Contains(err.Error(), "disk is full") || !strings.Contains(err.Error(), l.Path()) {
			t.Errorf("got %v", err)
		}
	}
	if !full {
		t.Fatal("the file never was full")
	}
	_, evs, err := l.Load(ctx, "batch")
	if err != nil || uint64(len(evs)) != at {
		t.Fatalf("%d events, want %d: %v", len(evs), at, err)
	}
	// With room again the same answer is taken.
	if _, err := l.db.Exec("PRAGMA max_page_count = 10000"); err != nil {
		t.Fatal(err)
	}
	if err := l.Append(ctx, "batch", at, all[at:at+40]); err != nil {
		t.Fatal(err)
	}
	if _, evs, err = l.Load(ctx, "batch"); err != nil {
		t.Fatal(err)
	}
	if _, err := bench.Fold(d.Bound, evs); err != nil {
		t.Error(err)
	}
}
