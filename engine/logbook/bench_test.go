package logbook

import (
	"context"
	"database/sql"
	"fmt"
	"testing"

	"canewright/engine/bench"
	"canewright/engine/bench/benchtest"
	"canewright/engine/session"
)

// One answer's events on the disk. Beside it BenchmarkBareInsert: what the
// disk and the database cost without us.
func BenchmarkAppend(b *testing.B) {
	ctx := context.Background()
	l := open(b, newPath(b))
	d := startBatch(b, l, "batch", 3)
	last := d.State.Last
	if err := d.To("gouge"); err != nil {
		b.Fatal(err)
	}
	if err := l.Append(ctx, "batch", last, d.State.Events()[last:]); err != nil {
		b.Fatal(err)
	}
	d.Mark = "1"
	answer, err := d.Answer("1.30") // a reading and what is settled by it
	if err != nil {
		b.Fatal(err)
	}
	last = answer[0].Seq - 1
	for b.Loop() {
		evs := make([]bench.Event, len(answer))
		for i, e := range answer {
			e.Cause, e.Seq = last+1, last+1+uint64(i)
			evs[i] = e
		}
		if err := l.Append(ctx, "batch", last, evs); err != nil {
			b.Fatal(err)
		}
		last += uint64(len(evs))
	}
	b.ReportMetric(float64(len(answer)), "events/op")
}

func BenchmarkBareInsert(b *testing.B) {
	db := sql.OpenDB(&connector{address(newPath(b), "rwc", working), working})
	defer db.Close()
	db.SetMaxOpenConns(1)
	if _, err := db.Exec(`CREATE TABLE t (id INTEGER PRIMARY KEY, body TEXT NOT NULL)`); err != nil {
		b.Fatal(err)
	}
	const body = `{"slot":"gouge.centre","text":"1.30","unit":"mm","step":10000,"q":1300000,"tool":"dial indicator","condition":"wet","repeat":1}`
	for b.Loop() {
		if _, err := db.Exec(`INSERT INTO t (body) VALUES (?)`, body); err != nil {
			b.Fatal(err)
		}
	}
}

// Loading grows as the number of events does: compare the three.
func BenchmarkLoad(b *testing.B) {
	for _, n := range []int{2500, 10000, 40000} {
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			ctx := context.Background()
			path := newPath(b)
			l := open(b, path)
			bound, snap := small(b)
			d, err := benchtest.Start(bound, 3, nil)
			if err != nil {
				b.Fatal(err)
			}
			goRound(b, d, n)
			all := d.State.Events()[:n]
			first := 5 // the beginning: batch, session, three pieces
			if err := l.Start(ctx, session.Batch{Name: "batch", Title: "long", Started: began, Snapshot: snap}, all[:first]); err != nil {
				b.Fatal(err)
			}
			for at := first; at < n; at += 500 {
				if err := l.Append(ctx, "batch", uint64(at), all[at:min(at+500, n)]); err != nil {
					b.Fatal(err)
				}
			}
			for b.Loop() {
				_, evs, err := l.Load(ctx, "batch")
				if err != nil {
					b.Fatal(err)
				}
				s, err := bench.Fold(bound, evs)
				if err != nil || s.Last != uint64(n) {
					b.Fatal(s.Last, err)
				}
			}
			b.ReportMetric(float64(n), "events")
		})
	}
}
