package session_test

import (
	"errors"
	"fmt"
	"path/filepath"
	"reflect"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"canewright/engine/bench"
	"canewright/engine/logbook"
	"canewright/engine/session"
)

const tubesRecipe = `canewright: recipe 1
title: From tubes, invented
id: tubes
version: 1
instrument: shawm 1
targets:
  gouge.centre: {target: 1.30 +0.03 -0.02 mm, above: once more, below: set aside}
stages:
  - stage: choose
    for: each tube
    look: {question: 'Round?', answers: {round: going on, oval: set aside}}
  - stage: soak
    for: the batch
    do: [Put them in water.]
    wait: {at least: 2 h}
    becomes: wet
  - stage: split
    for: each tube
    into: 3 pieces
  - stage: gouge
    tools: [gouger]
    measure: [{take: gouge.centre, repeat: 2, with: dial indicator}]
    look: {question: 'How does the grain run?', answers: {straight: going on, twisted: {then: set aside, because: it will warp}}}
  - stage: tie
    do: [Tie it.]
    wait: {usual: 1 d}
`

func tubesBatch(name string) session.Batch {
	b := smallBatch(name)
	b.Title, b.RecipeName, b.Recipe = "From tubes, invented", "tubes.yaml", []byte(tubesRecipe)
	return b
}

// typed is one of the many things that can be typed at a question.
func typed(t *rapid.T, now time.Time, s *bench.State, q bench.Question, marks []string) string {
	for _, p := range s.Pieces {
		for _, last := range p.Last {
			if rapid.IntRange(0, 15).Draw(t, "corrects") == 0 {
				return p.Mark + " correct " + last.List[0].Text + " to " + rapid.SampledFrom([]string{"1.29", "1,325", "1.4", "13"}).Draw(t, "corrected")
			}
		}
	}
	mark := "9"
	if len(marks) > 0 {
		mark = rapid.SampledFrom(marks).Draw(t, "mark")
	}
	value := rapid.SampledFrom([]string{"1.31", "1,30", "1.36", "1.27", "1.31 1.30", "1.33; 1.34", "1.34 1.33"}).Draw(t, "value")
	if rapid.IntRange(0, 3).Draw(t, "sort") == 0 {
		return rapid.SampledFrom([]string{
			"undo", mark + " undo", "-", mark + " aside dropped", "aside", mark + " throw away split", "bring back " + mark, "remark dark", mark + " remark ふし",
			"all remark from one tube", "using caliper", "using knife instead of gouger", mark + " using cement", "wet", mark + " dry", "+8 left rail A", mark + " +3",
			"correct 1.31 to 1.3", mark + " correct gouge.centre 1.2", mark + " correct 1.36 to 1,31", "all", "all but " + mark, ":", "2-5", "", "keep", "skip", mark + " skip",
			"@19:10", "@now", "@yesterday 23:30", "@23:59", mark + " @19:20 " + value, mark + " - -", mark + " 1 2 3 4 5", mark + " 1.31 - straight",
		}).Draw(t, "word")
	}
	switch q.Asked {
	case bench.AskNote:
		return "behind the edge"
	case bench.AskReading, bench.AskSettle:
		return rapid.SampledFrom([]string{value, mark + ": " + value, mark + " " + value, "all: " + value, "all but " + mark + ": " + value, ""}).Draw(t, "reading")
	case bench.AskLook:
		return rapid.SampledFrom([]string{"1", "2", "all 1", mark + " 1", mark + ": 2", "all but " + mark + " 1"}).Draw(t, "look")
	case bench.AskWork:
		return rapid.SampledFrom([]string{"", "all done", mark + " done", "all but " + mark + " done", "skip"}).Draw(t, "work")
	case bench.AskInto:
		return rapid.SampledFrom([]string{"", "2", "0", mark + " 1", "all 2"}).Draw(t, "into")
	case bench.AskRow:
		mark += rapid.SampledFrom([]string{"", "", " @" + now.Format("15:04")}).Draw(t, "at")
		return mark + " " + rapid.SampledFrom([]string{value + " 1.31 straight", value + " 1", "1.31 1.30 twisted", "1.36 1.37 1", "- - 1", "x", "1", "1 3", "x 2", "-"}).Draw(t, "row")
	}
	return rapid.SampledFrom([]string{"go on", "", mark + " go on", "all go on"}).Draw(t, "wait")
}

// Tubes and pieces, live and entered later, through and by stage: whatever is
// answered, the state read back from the logbook is the live one and asks the
// same, and what was refused has changed nothing.
func TestEveryAnswerIsReadBackAsItWas(t *testing.T) {
	t.Parallel()
	book, err := logbook.Open(ctx, filepath.Join(t.TempDir(), "logbook"))
	if err != nil {
		t.Fatal(err)
	}
	defer book.Close()
	batches, kinds := 0, map[string]int{}
	rapid.Check(t, func(t *rapid.T) {
		batches++
		e := newEvening()
		e.now = time.Date(2026, 1, 12, 19, 30, 0, 0, time.UTC)
		name := fmt.Sprint("batch ", batches)
		with := bench.Beginning{Tubes: []string{"A", "B"}[:rapid.IntRange(1, 2).Draw(t, "tubes")]}
		if rapid.IntRange(0, 2).Draw(t, "begun with") == 0 {
			with = bench.Beginning{Pieces: []string{"1", "2", "Lötte", "葦"}, From: rapid.SampledFrom([]string{"", "tie"}).Draw(t, "from")}
		}
		s, err := session.Start(ctx, e.out(book), tubesBatch(name), with)
		if err != nil {
			t.Fatal(err)
		}
		later := false
		for range rapid.IntRange(1, 40).Draw(t, "answers") {
			e.now = e.now.Add(time.Duration(rapid.SampledFrom([]int{1, 1, 20_000, 60_000, 7_200_000, 18_000_000}).Draw(t, "ms")) * time.Millisecond)
			switch rapid.IntRange(0, 19).Draw(t, "step") {
			case 0:
				_ = s.Pick(rapid.SampledFrom([]string{"", "1", "2", "A", "葦"}).Draw(t, "picked"))
			case 1:
				if err := s.Close(ctx); err != nil {
					t.Fatal(err)
				}
			case 2, 3:
				later = !later
				s.Later(later)
			case 4:
				s.Through(rapid.Bool().Draw(t, "through"))
			case 5:
				if err := s.SetWho(ctx, rapid.SampledFrom([]string{"Anna", "Zoë"}).Draw(t, "who")); err != nil {
					t.Fatal(err)
				}
			}
			q, err := s.Question()
			if err != nil {
				t.Fatal(err)
			}
			marks := slices.Clone(s.State().UnderWay())
			for _, p := range s.State().Pieces {
				if p.Place == bench.Aside {
					marks = append(marks, p.Mark)
				}
			}
			text := typed(t, e.now, s.State(), q, marks)
			before, at := dump(t, s.State()), s.State().Session
			r, err := s.Answer(ctx, q.Seq, text)
			var refused *bench.Refusal
			var stale *bench.StaleError
			switch {
			case err == nil:
				if len(r.Events) == 0 && dump(t, s.State()) != before && s.State().Session == at {
					t.Fatalf("%q gave no events and changed the state", text)
				}
			case errors.As(err, &refused), errors.As(err, &stale):
				if len(r.Events) > 0 || len(r.Said) > 0 {
					t.Fatalf("%q was refused and says %+v", text, r)
				}
				if refused != nil && refused.Message == "" {
					t.Fatalf("%q was refused without a word", text)
				}
				// A new session may have been opened under it, and nothing more.
				if s.State().Session == at && dump(t, s.State()) != before {
					t.Fatalf("%q was refused with %v and changed the state from\n%s\nto\n%s", text, err, before, dump(t, s.State()))
				}
				if s.State().Session != at && s.State().Last != q.Seq+1 {
					t.Fatalf("%q was refused, and %d events were kept", text, s.State().Last-q.Seq)
				}
			default:
				t.Fatalf("%q: %v", text, err)
			}
			for _, e := range r.Events {
				kinds[e.Body.Kind()]++
				if !e.At.Equal(e.Entered) {
					kinds["entered later"]++
				}
			}
			if early := beforeItsNote(s.State().Events()); early != nil {
				t.Fatalf("%q gave %+v before the note of its stage was answered", text, early)
			}
			back, err := session.Look(ctx, e.out(book), name)
			if err != nil {
				t.Fatal(err)
			}
			if got, want := dump(t, back.State()), dump(t, s.State()); got != want {
				t.Fatalf("after %q read back:\n%s\nlive:\n%s", text, got, want)
			}
			back.Later(later)
			live := *s // a picked piece belongs to the window, not to the batch
			if err := live.Pick(""); err != nil {
				t.Fatal(err)
			}
			x, err := back.Question()
			if err != nil {
				t.Fatal(err)
			}
			y, err := live.Question()
			if err != nil {
				t.Fatal(err)
			}
			if !reflect.DeepEqual(x, y) {
				t.Fatalf("read back asks\n%+v\nlive asks\n%+v", x, y)
			}
		}
	})
	for _, k := range []string{"reading taken", "settled", "looked", "done", "skipped", "wait begun", "wait ended", "piece moved", "tube split", "piece added",
		"setting chosen", "strokes made", "value corrected", "remark", "answer taken back", "note acknowledged", "entered later"} {
		if kinds[k] == 0 {
			t.Errorf("no answer gave: %s", k)
		}
	}
}

// beforeItsNote is an event at the gouge before its note was answered in the
// session, unless something else took the gouger's place.
func beforeItsNote(evs []bench.Event) *bench.Event {
	answered := map[string]bool{}
	for i, e := range evs {
		switch b := e.Body.(type) {
		case bench.NoteAcknowledged:
			answered[e.Session] = true
		case bench.Chosen:
			if b.Instead != "" {
				return nil
			}
		default:
			if e.Stage == "gouge" && !answered[e.Session] {
				return &evs[i]
			}
		}
	}
	return nil
}
