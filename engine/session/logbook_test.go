package session_test

import (
	"errors"
	"fmt"
	"path/filepath"
	"reflect"
	"testing"
	"time"

	"pgregory.net/rapid"

	"canewright/engine/bench"
	"canewright/engine/logbook"
	"canewright/engine/session"
)

// Whatever is answered, refused, picked and paused: the state read back from
// the logbook is the live one, after every step, and so is the question.
func TestTheStateReadBackIsTheLiveOne(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	batches, kept := 0, 0
	book, err := logbook.Open(ctx, filepath.Join(dir, "logbook"))
	if err != nil {
		t.Fatal(err)
	}
	defer book.Close()
	rapid.Check(t, func(t *rapid.T) {
		batches++
		e := newEvening()
		name := fmt.Sprint("batch ", batches)
		s, err := session.Start(ctx, e.out(book), smallBatch(name), bench.Beginning{Pieces: []string{"1", "2", "3"}[:rapid.IntRange(1, 3).Draw(t, "pieces")]})
		if err != nil {
			t.Fatal(err)
		}
		for range rapid.IntRange(1, 25).Draw(t, "answers") {
			e.now = e.now.Add(time.Duration(rapid.SampledFrom([]int{1, 20_000, 7_200_000, 18_000_000}).Draw(t, "ms")) * time.Millisecond)
			switch rapid.IntRange(0, 9).Draw(t, "step") {
			case 0:
				_ = s.Pick(rapid.SampledFrom([]string{"", "1", "2", "3"}).Draw(t, "mark"))
			case 1:
				if err := s.Close(ctx); err != nil {
					t.Fatal(err)
				}
			}
			q, err := s.Question()
			if err != nil {
				t.Fatal(err)
			}
			text := rapid.SampledFrom([]string{"", "go on", "behind", "1.31", "1.36", "1.27", "1,30 1,31", "straight", "twisted", "undo", "skip", "aside", "bring back 1", "remark dark", "throw away", "?", "-", "all", "1: 1.31", "2 3 done", "all but 2", "2 1.29", "using caliper", "wet", "+8 left", "correct 1.31 to 1.3", "correct gouge.centre 1.2", "keep"}).Draw(t, "text")
			r, err := s.Answer(ctx, q.Seq, text)
			var refused *bench.Refusal
			var stale *bench.StaleError
			if err != nil && !errors.As(err, &refused) && !errors.As(err, &stale) {
				t.Fatal(err)
			}
			kept += len(r.Events)
			back, err := session.Look(ctx, e.out(book), name)
			if err != nil {
				t.Fatal(err)
			}
			if got, want := dump(t, back.State()), dump(t, s.State()); got != want {
				t.Fatalf("after %q read back:\n%s\nlive:\n%s", text, got, want)
			}
			if err := back.Pick(""); err != nil {
				t.Fatal(err)
			}
			_ = s.Pick("")
			x, err := back.Question()
			if err != nil {
				t.Fatal(err)
			}
			y, err := s.Question()
			if err != nil {
				t.Fatal(err)
			}
			if !reflect.DeepEqual(x, y) {
				t.Fatalf("read back asks\n%+v\nlive asks\n%+v", x, y)
			}
		}
	})
	if kept < 100 {
		t.Errorf("only %d events were kept", kept)
	}
}
