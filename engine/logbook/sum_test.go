package logbook

import (
	"context"
	"errors"
	"strings"
	"testing"
	"time"

	"canewright/engine/bench"
)

func TestEveryFieldIsInTheSum(t *testing.T) {
	t.Parallel()
	base := bench.Head{
		Seq: 1, Cause: 1, At: began, Entered: began, Zone: "+01:00 CET", Session: "s", Who: "w",
		Subject: bench.Subject{Kind: "piece", ID: "1"}, Stage: "gouge", Visit: 1,
	}
	seen := map[int64]string{sum(&base, "remark", []byte(`{}`)): "nothing"}
	for say, change := range map[string]func(h *bench.Head){
		"seq": func(h *bench.Head) { h.Seq++ }, "cause": func(h *bench.Head) { h.Cause++ },
		"at": func(h *bench.Head) { h.At = h.At.Add(time.Millisecond) }, "entered": func(h *bench.Head) { h.Entered = h.Entered.Add(time.Millisecond) },
		"zone": func(h *bench.Head) { h.Zone += "x" }, "session": func(h *bench.Head) { h.Session += "x" }, "who": func(h *bench.Head) { h.Who += "x" },
		"subject kind": func(h *bench.Head) { h.Subject.Kind = "tube" }, "subject": func(h *bench.Head) { h.Subject.ID = "2" },
		"stage": func(h *bench.Head) { h.Stage += "x" }, "visit": func(h *bench.Head) { h.Visit++ },
		"a letter moved to the next field": func(h *bench.Head) { h.Session, h.Who = "", "sw" },
	} {
		h := base
		change(&h)
		n := sum(&h, "remark", []byte(`{}`))
		if other, ok := seen[n]; ok {
			t.Errorf("changing %s and changing %s give the same sum", say, other)
		}
		seen[n] = say
	}
	for _, n := range []int64{sum(&base, "remarks", []byte(`{}`)), sum(&base, "remark", []byte(`{ }`))} {
		if say, ok := seen[n]; ok {
			t.Errorf("another kind or body gives the sum of changing %s", say)
		}
	}
}

// A digit that was changed on the disk is good JSON and a good page, and yet
// not what was measured.
func TestAChangedDigitIsFound(t *testing.T) {
	t.Parallel()
	ctx := context.Background()
	l := open(t, newPath(t))
	d := startBatch(t, l, "batch", 1)
	last := d.State.Last
	goRound(t, d, 50)
	if err := l.Append(ctx, "batch", last, d.State.Events()[last:]); err != nil {
		t.Fatal(err)
	}
	if res, err := l.db.Exec(`UPDATE event SET body = replace(body, '1.30', '1.80') WHERE id = (SELECT id FROM event WHERE kind = 'reading taken' AND body LIKE '%"1.30"%' LIMIT 1)`); err != nil {
		t.Fatal(err)
	} else if n, _ := res.RowsAffected(); n != 1 {
		t.Fatal(n)
	}
	wantSaid := func(err error) {
		t.Helper()
		var fe *FileError
		if !errors.As(err, &fe) || !strings.Contains(fe.Message, "does not match its checksum") || !strings.Contains(fe.Hint, "your copy") {
			t.Errorf("got %v", err)
		}
	}
	_, _, err := l.Load(ctx, "batch")
	wantSaid(err)
	for _, err = range l.Readings(ctx, "batch") {
		if err != nil {
			break
		}
	}
	wantSaid(err)
}
