package cli_test

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"canewright/cmd/internal/wire"
	"canewright/engine/bench"
	"canewright/engine/logbook"
	"canewright/engine/session"
)

// manyRecipe asks one thing of every sort.
const manyRecipe = `canewright: recipe 1
title: Many, invented
id: many
version: 1
instrument: bassoon 1
targets:
  cane.length: {target: 120 ± 0.5 mm, above: once more, below: set aside}
stages:
  - stage: mark
    do: [Mark the middle.]
  - stage: sort
    measure: [cane.length]
    look: {question: 'Flat?', answers: {flat: going on, hollow: set aside}}
  - stage: soak
    for: the batch
    do: [Into the water.]
    wait: {at least: 1 h}
  - stage: last look
    measure: [gouge.centre]
`

// tooSlow is what no answer may take on a loaded machine. On an idle one most
// take some milliseconds, and those for all pieces a part of a second.
const tooSlow = 10 * time.Second

func TestTenThousandPieces(t *testing.T) {
	if testing.Short() {
		t.Skip("takes some seconds")
	}
	ctx := context.Background()
	dir := t.TempDir()
	w := &wire.Works{Env: func(string) string { return "" }, Now: time.Now, Rand: zeros{}}
	rec, err := w.Recipe(ctx, written(t, dir, "many.yaml", manyRecipe))
	if err != nil || rec.Bound == nil {
		t.Fatal(err)
	}
	book, err := logbook.Open(ctx, filepath.Join(dir, "logbook"))
	if err != nil {
		t.Fatal(err)
	}
	defer book.Close()
	out, err := w.Outside(book)
	if err != nil {
		t.Fatal(err)
	}
	timed := func(what string, do func() error) {
		t.Helper()
		began := time.Now()
		if err := do(); err != nil {
			t.Fatalf("%s: %v", what, err)
		}
		took := time.Since(began)
		t.Logf("%-34s %v", what, took.Round(100*time.Microsecond))
		if took > tooSlow {
			t.Errorf("%s took %v", what, took)
		}
	}
	var with bench.Beginning
	most := 10_000
	if raced {
		most = 1000
	}
	for i := range most {
		with.Pieces = append(with.Pieces, fmt.Sprint(i+1))
	}
	var s *session.Session
	timed("begin the batch", func() (err error) {
		s, err = session.Start(ctx, out, session.Batch{Name: "many", Title: "Many", Snapshot: rec.Snapshot}, with)
		return err
	})
	ask := func(what string) {
		t.Helper()
		timed("question: "+what, func() error {
			_, err := s.Question()
			return err
		})
	}
	answer := func(line string) {
		t.Helper()
		q, err := s.Question()
		if err != nil {
			t.Fatal(err)
		}
		timed("answer: "+line[:min(len(line), 40)], func() error {
			_, err := s.Answer(ctx, q.Seq, line)
			return err
		})
	}
	rack := func() {
		t.Helper()
		timed("rack", func() error {
			if len(bench.Rack(s.State(), time.Now())) == 0 {
				return errors.New("nothing on it")
			}
			return nil
		})
	}
	ask("work for all")
	answer("7 done")
	answer("7 undo")
	answer("all but 999 done")
	answer("undo")
	answer("all done")
	ask("a reading")
	answer("700 120,1")
	answer("700 correct 120.1 to 120.2")
	answer("5-9 skip")
	answer("all but 999: 120")
	if err := s.Pick("999"); err != nil {
		t.Fatal(err)
	}
	answer("119.9")
	if err := s.Pick(""); err != nil {
		t.Fatal(err)
	}
	answer("all flat")
	rack()
	answer("all done")
	ask("a wait of all")
	answer("go on now")
	s.Later(true)
	ask("rows of the card")
	answer("700 1.30")
	answer("701 remark none of this is new")
	s.Later(false)
	timed("resume", func() error {
		again, fresh, err := session.Resume(ctx, out, "many")
		if err == nil && (fresh || again.State().Last != s.State().Last) {
			return fmt.Errorf("fresh %v, event %d, want %d", fresh, again.State().Last, s.State().Last)
		}
		return err
	})
	rack()
	if p := s.State().Piece("700"); p == nil || p.Place != bench.Finished {
		t.Errorf("piece 700: %+v", p)
	}
	var long strings.Builder
	for i := range 500 {
		fmt.Fprintf(&long, "%d ", 2*i+1)
	}
	answer(long.String() + "aside too many")
	answer("all skip")
}
