package session_test

import (
	"errors"
	"path/filepath"
	"reflect"
	"strings"
	"sync"
	"testing"

	"canewright/engine/bench"
	"canewright/engine/logbook"
	"canewright/engine/session"
)

// Two windows on one batch, both before the same question: the answer that
// comes second is refused, nothing of it is kept, and the window has the fresh
// question.
func TestOfTwoWindowsTheSecondIsRefused(t *testing.T) {
	t.Parallel()
	toPieces := []string{"round", "round", "", "go on", "2", "3", "behind"} // tubes A and B to pieces 1 to 5
	for _, c := range []struct {
		say            string
		before         []string
		first, second  string
		later          bool
		kept, notAgain string // what is kept of the first; what the second is refused with when it is given again
		pieces         int    // and tubes, after the first
	}{
		{say: "readings by piece", before: toPieces, first: "1: 1.31 1.30", second: "2: 1.30 1.31", kept: "reading taken", pieces: 7,
			notAgain: "Piece 2 is asked something else: gouge, centre. Turn to it first: piece 2."},
		{say: "the same piece twice", before: toPieces, first: "1: 1.31 1.30", second: "1: 1.31 1.30", kept: "reading taken", pieces: 7,
			notAgain: `"1.31 1.30" is not one of the answers. Type its number: 1 straight, 2 twisted.`},
		{say: "all and one", before: toPieces, first: "all: 1.31 1.30", second: "3: 1.31 1.30", kept: "reading taken", pieces: 7,
			notAgain: `"1.31 1.30" is not one of the answers. Type its number: 1 straight, 2 twisted.`},
		{say: "rows of the card", before: toPieces, first: "1 1.31 1.30 straight", second: "2 1.31 1.30 straight", later: true, kept: "reading taken", pieces: 7},
		{say: "the same row twice", before: toPieces, first: "1 1.31 1.30 straight", second: "1 1.31 1.30 straight", later: true, kept: "reading taken", pieces: 7,
			notAgain: "3 boxes are filled, piece 1 has 1 at tie."},
		{say: "corrections", before: append(toPieces, "1: 1.31 1.30"), first: "1 correct 1.31 to 1.32", second: "1 correct 1.31 to 1.29", kept: "value corrected", pieces: 7,
			notAgain: "Piece 1 has no reading 1.31. canewright batch shows its readings."},
		{say: "splits of one tube", before: toPieces[:4], first: "A 2", second: "A 3", kept: "tube split", pieces: 4,
			notAgain: "Tube A is finished."},
		{say: "splits of two tubes", before: toPieces[:4], first: "A 2", second: "B 3", kept: "tube split", pieces: 4},
		{say: "work of all", before: toPieces[:2], first: "", second: "all done", kept: "done", pieces: 2,
			notAgain: "the recipe says at least 2 h"},
		{say: "set aside and thrown away", before: toPieces, first: "4 aside", second: "4 throw away", kept: "piece moved", pieces: 7},
		{say: "undo of one answer", before: append(toPieces, "1: 1.31 1.30", "1 straight"), first: "1 undo", second: "1 undo", kept: "answer taken back", pieces: 7},
	} {
		t.Run(c.say, func(t *testing.T) {
			t.Parallel()
			e := newEvening()
			path := filepath.Join(t.TempDir(), "logbook")
			open := func() *logbook.Logbook {
				l, err := logbook.Open(ctx, path)
				if err != nil {
					t.Fatal(err)
				}
				t.Cleanup(func() { l.Close() })
				return l
			}
			a, err := session.Start(ctx, e.out(open()), tubesBatch("batch"), bench.Beginning{Tubes: []string{"A", "B"}})
			if err != nil {
				t.Fatal(err)
			}
			give(t, a, c.before...)
			other := open()
			b, fresh, err := session.Resume(ctx, e.out(other), "batch")
			if err != nil || fresh {
				t.Fatal(fresh, err)
			}
			a.Later(c.later)
			b.Later(c.later)
			q := question(t, b)
			r, err := a.Answer(ctx, question(t, a).Seq, c.first)
			if err != nil || r.Events[0].Body.Kind() != c.kept {
				t.Fatalf("the first: %+v, %v", r.Events, err)
			}
			var stale *bench.StaleError
			if _, err := b.Answer(ctx, q.Seq, c.second); !errors.As(err, &stale) {
				t.Fatalf("the second: %v", err)
			}
			if dump(t, a.State()) != dump(t, b.State()) || !reflect.DeepEqual(question(t, a), question(t, b)) {
				t.Error("the windows differ")
			}
			_, evs, err := other.Load(ctx, "batch")
			if err != nil || !reflect.DeepEqual(evs, a.State().Events()) {
				t.Errorf("%d events are kept, the first window knows %d, %v", len(evs), a.State().Last, err)
			}
			if n := len(a.State().Pieces); n != c.pieces {
				t.Errorf("%d pieces and tubes, want %d", n, c.pieces)
			}
			// The same line, given to the fresh question.
			r, err = b.Answer(ctx, question(t, b).Seq, c.second)
			switch {
			case c.notAgain != "" && (err == nil || !strings.Contains(err.Error(), c.notAgain)):
				t.Errorf("given again it is refused with\n  %v, which does not say\n  %s", err, c.notAgain)
			case c.notAgain == "" && (err != nil || len(r.Events) == 0):
				t.Errorf("given again: %v", err)
			}
		})
	}
}

// Four windows answer at the same instant, again and again: each answer is kept
// once and whole, or refused.
func TestWindowsThatAnswerAtOnce(t *testing.T) {
	t.Parallel()
	e := newEvening()
	path := filepath.Join(t.TempDir(), "logbook")
	book, err := logbook.Open(ctx, path)
	if err != nil {
		t.Fatal(err)
	}
	defer book.Close()
	if _, err := session.Start(ctx, e.out(book), tubesBatch("batch"), bench.Beginning{Pieces: []string{"1", "2", "3", "4"}}); err != nil {
		t.Fatal(err)
	}
	s, _, err := session.Resume(ctx, e.out(book), "batch")
	if err != nil {
		t.Fatal(err)
	}
	give(t, s, "behind")
	const each = 15
	said := []string{"1 +1 left", "2 +2 left", "3 +3 left", "4 +4 left"}
	taken := make([]int, len(said))
	var all sync.WaitGroup
	for i, line := range said {
		all.Go(func() {
			l, err := logbook.Open(ctx, path)
			if err != nil {
				t.Error(err)
				return
			}
			defer l.Close()
			w, err := session.Look(ctx, e.out(l), "batch")
			if err != nil {
				t.Error(err)
				return
			}
			for taken[i] < each {
				q, err := w.Question()
				if err != nil {
					t.Error(err)
					return
				}
				_, err = w.Answer(ctx, q.Seq, line)
				var stale *bench.StaleError
				switch {
				case err == nil:
					taken[i]++
				case !errors.As(err, &stale):
					t.Error(err)
					return
				}
			}
		})
	}
	all.Wait()
	back, err := session.Look(ctx, e.out(book), "batch")
	if err != nil {
		t.Fatal(err)
	}
	strokes := map[string]int{}
	for _, e := range back.State().Events() {
		if b, ok := e.Body.(bench.StrokesMade); ok {
			strokes[e.Subject.ID] += b.N
		}
	}
	if want := map[string]int{"1": each, "2": 2 * each, "3": 3 * each, "4": 4 * each}; !reflect.DeepEqual(strokes, want) {
		t.Errorf("strokes %v, want %v", strokes, want)
	}
}
