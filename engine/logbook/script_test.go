package logbook

import (
	"context"
	"fmt"
	"reflect"
	"strings"
	"testing"
	"time"

	"canewright/engine/bench"
	"canewright/engine/bench/benchtest"
	"canewright/engine/session"
)

// Names and remarks in any script come back letter for letter, and no two that
// differ are taken for one.
func TestNamesInAnyScript(t *testing.T) {
	t.Parallel()
	ctx := context.Background()
	l := open(t, newPath(t))
	bound, snap := small(t)
	names := []string{
		"ลิ้นปี่พฤศจิกายน", "עלים של חורף", "قصبات الشتاء", "冬のリード", "겨울 리드", "зимові тростини", "χειμώνας",
		"👩🏽‍🔧 reeds", "caf\u00e9", "cafe\u0301", "a\u0327\u0301\u0323\u0308", "\u202eback", "नवम्बर क्ष", "ᚠᚢᚦ", "𝄞 𝄢", "Straße", "STRASSE", "İstanbul", "istanbul",
		`'; DROP TABLE event; --`, `a"b\c%d_`, strings.Repeat("ん", 80), " ", "-", "a\x00b",
	}
	for _, name := range names {
		d, err := benchtest.Start(bound, 1, nil)
		if err != nil {
			t.Fatal(err)
		}
		evs := d.State.Events()
		last := evs[len(evs)-1]
		evs = append(evs[:len(evs):len(evs)], bench.Event{
			Head: bench.Head{
				Seq: last.Seq + 1, Cause: last.Seq + 1, At: began, Entered: began, Zone: name, Session: name, Who: name,
				Subject: bench.Subject{Kind: "piece", ID: name}, Stage: name,
			},
			Body: bench.Remark{Text: name},
		})
		if err := l.Start(ctx, session.Batch{Name: name, Title: name, Started: began, Snapshot: snap}, evs); err != nil {
			t.Fatalf("%q: %v", name, err)
		}
		b, got, err := l.Load(ctx, name)
		if err != nil || b.Name != name || b.Title != name || !reflect.DeepEqual(got, evs) {
			t.Errorf("%q: %v\ngot  %+v\nwant %+v", name, err, got, evs)
		}
	}
	all, err := l.Batches(ctx)
	if err != nil || len(all) != len(names) {
		t.Errorf("%d batches, want %d; %v", len(all), len(names), err)
	}
}

// The largest batch there may be: kept, answered for all at once, read back.
func TestABatchOfTenThousandPieces(t *testing.T) {
	t.Parallel()
	ctx := context.Background()
	const pieces = 10_000
	l := open(t, newPath(t))
	_, snap := small(t)
	at := uint64(0)
	event := func(cause uint64, piece int, b bench.Body) bench.Event {
		at++
		if cause == 0 {
			cause = at
		}
		return bench.Event{Head: bench.Head{
			Seq: at, Cause: cause, At: began, Entered: began, Subject: bench.Subject{Kind: "piece", ID: fmt.Sprint(piece)}, Stage: "gouge", Visit: 1,
		}, Body: b}
	}
	var evs []bench.Event
	for i := range pieces {
		evs = append(evs, event(1, i+1, bench.PieceAdded{Mark: fmt.Sprint(i + 1), Number: i + 1}))
	}
	if err := l.Start(ctx, session.Batch{Name: "batch", Title: "large", Started: began, Snapshot: snap}, evs); err != nil {
		t.Fatal(err)
	}
	first := at + 1
	for i := range pieces {
		evs = append(evs, event(first, i+1, bench.ReadingTaken{Slot: "gouge.centre", Text: "1.30", Unit: "mm", Step: 10_000, Q: 1_300_000, Repeat: 1}))
	}
	begun := time.Now()
	if err := l.Append(ctx, "batch", first-1, evs[first-1:]); err != nil {
		t.Fatal(err)
	}
	kept := time.Since(begun)
	begun = time.Now()
	_, got, err := l.Load(ctx, "batch")
	if err != nil || !reflect.DeepEqual(got, evs) {
		t.Errorf("%d events came back, want %d; %v", len(got), len(evs), err)
	}
	t.Logf("one answer for %d pieces kept in %v, %d events read in %v", pieces, kept.Round(time.Millisecond), len(evs), time.Since(begun).Round(time.Millisecond))
}
