package logbook

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"testing"
	"time"

	"canewright/engine/bench"
	"canewright/engine/session"
)

// The list of batches says of each what its events say, whoever wrote them in
// which order: several windows, sessions that end, closings taken back.
func TestTheListIsWhatTheEventsSay(t *testing.T) {
	t.Parallel()
	ctx := context.Background()
	const seed = 7
	random := rand.New(rand.NewPCG(seed, seed))
	path := newPath(t)
	windows := []*Logbook{open(t, path), open(t, path), open(t, path)}
	known := map[string][]bench.Event{}
	for _, name := range []string{"a", "b"} {
		known[name] = startBatch(t, windows[0], name, 2).State.Events()
	}
	at := began
	kinds := map[string]int{}
	closings := 0
	for step := range 600 {
		name := []string{"a", "b"}[random.IntN(2)]
		evs := known[name]
		w := windows[random.IntN(len(windows))]
		last := uint64(len(evs))
		at = at.Add(time.Duration(random.IntN(120)-20) * time.Minute) // a clock may go back
		var body bench.Body = bench.Remark{Text: fmt.Sprint(step)}
		switch random.IntN(8) {
		case 0:
			body = bench.SessionClosed{}
		case 1:
			body = bench.BatchClosed{}
			closings++
		case 2, 3:
			body = bench.AnswerTakenBack{Cause: evs[random.IntN(len(evs))].Cause}
			for i := len(evs) - 1; i >= 0 && random.IntN(2) == 0; i-- { // rather the last closing
				if evs[i].Body.Kind() == "batch closed" {
					body = bench.AnswerTakenBack{Cause: evs[i].Cause}
					break
				}
			}
		}
		kinds[body.Kind()]++
		e := bench.Event{Head: bench.Head{Seq: last + 1, Cause: last + 1, At: at, Entered: at, Subject: bench.Subject{Kind: "batch"}}, Body: body}
		if random.IntN(5) == 0 { // a window that does not know the newest
			stale := e
			stale.Seq, stale.Cause = last, last
			if err := w.Append(ctx, name, last-1, []bench.Event{stale}); !errors.Is(err, session.ErrOvertaken) {
				t.Fatalf("step %d: %v", step, err)
			}
		}
		if err := w.Append(ctx, name, last, []bench.Event{e}); err != nil {
			t.Fatal(err)
		}
		known[name] = append(evs, e)

		all, err := windows[random.IntN(len(windows))].Batches(ctx)
		if err != nil || len(all) != 2 {
			t.Fatal(all, err)
		}
		for _, b := range all {
			evs := known[b.Name]
			newest := evs[len(evs)-1]
			if b.Events != len(evs) || !b.Last.Equal(newest.Entered) || b.Closed != closedBy(evs) {
				t.Fatalf("step %d, seed %d: the list says %+v; there are %d events, the last at %v, closed is %v", step, seed, b, len(evs), newest.Entered, closedBy(evs))
			}
		}
		if all[0].Last.Before(all[1].Last) {
			t.Fatalf("step %d: %+v", step, all)
		}
		if one, n, err := w.Newest(ctx, 1); err != nil || n != 2 || len(one) != 1 || one[0] != all[0] {
			t.Fatalf("step %d: the newest of %d is %+v, %v; want %+v", step, n, one, err, all[0])
		}
	}
	if len(kinds) < 4 || closings < 20 {
		t.Errorf("tried: %v", kinds)
	}
}

// closedBy is the definition: a closing whose cause was not taken back.
func closedBy(evs []bench.Event) bool {
	taken := map[uint64]bool{}
	for _, e := range evs {
		if b, ok := e.Body.(bench.AnswerTakenBack); ok {
			taken[b.Cause] = true
		}
	}
	for _, e := range evs {
		if e.Body.Kind() == "batch closed" && !taken[e.Cause] {
			return true
		}
	}
	return false
}
