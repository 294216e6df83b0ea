package wire_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"canewright/engine/bench"
	"canewright/engine/bench/benchtest"
	"canewright/engine/quantity"
	"canewright/engine/recipe"
)

// random answers: right ones, wrong readings, undo, skip, picks, breaks, words
// that mean nothing.
func randomAnswer(t *rapid.T, d *benchtest.Driver, q bench.Question) string {
	switch rapid.IntRange(0, 19).Draw(t, "kind") {
	case 0:
		return "undo"
	case 1:
		return "skip no time"
	case 2:
		return "aside"
	case 3:
		return "bring back " + rapid.SampledFrom([]string{"1", "2", "3"}).Draw(t, "mark")
	case 4:
		return rapid.SampledFrom([]string{"", "ok", "go on", "done", "remark a little dark", "1.31", "F4", "-3", "yes", "throw away split", "5 6 7",
			"-", "all", "all but 2", "1-2 done", "2: 27.1", "3 1.31", "A 4", "B aside", "using nail varnish", "using instant glue instead of thread", "2 using ruler",
			"wet", "dry", "+8 left rail A", "keep", "2 go on", "correct 1.31 to 1.30", "1 correct wire.first 27.2", "3 undo"}).Draw(t, "word")
	case 5, 6, 7:
		if q.Asked == bench.AskReading || q.Asked == bench.AskSettle {
			return near(t, d)
		}
		if q.Asked == bench.AskLook {
			return fmt.Sprint(rapid.IntRange(1, len(q.Choices)).Draw(t, "choice"))
		}
	}
	return d.Right(q)
}

// near is a reading around a limit, in the target's unit.
func near(t *rapid.T, d *benchtest.Driver) string {
	_, stage, _ := d.State.InHand(d.Mark)
	slot, _ := d.State.Asking(d.Mark)
	for _, m := range d.Bound.Stages[stage].Measures {
		if m.Slot != slot {
			continue
		}
		if m.Target == nil {
			return benchtest.Middle(d.Bound.Slots[m.Slot], nil)
		}
		tol := m.Target.Tolerance
		q := tol.Low.Q
		if tol.High.Set && rapid.Bool().Draw(t, "high") {
			q = tol.High.Q
		}
		q += int64(rapid.IntRange(-3, 3).Draw(t, "steps")) * max(tol.Step, 1) / 2
		return quantity.Format(quantity.Value{Kind: tol.Kind, Q: q}, tol.Unit, 0) + "!"
	}
	return "1"
}

// play answers at random and calls after each answer that was taken. evening
// is what was in hand before it.
func play(t *rapid.T, d *benchtest.Driver, answers int, after func(evening recipe.Use, evs []bench.Event)) {
	for range answers {
		switch rapid.IntRange(0, 15).Draw(t, "window") {
		case 0:
			before := d.State.Last
			if err := d.Reopen(); err != nil {
				t.Fatal(err)
			}
			after(recipe.Use{}, d.State.Events()[before:])
		case 1:
			d.Mark = rapid.SampledFrom([]string{"", "1", "2", "3"}).Draw(t, "pick")
		case 2:
			d.Now = d.Now.Add(9 * time.Hour)
		}
		q := d.Question()
		evening := d.State.Evening()
		evs, err := d.Answer(randomAnswer(t, d, q))
		var refused *bench.Refusal
		if errors.As(err, &refused) {
			continue
		}
		if err != nil {
			t.Fatal(err)
		}
		after(evening, evs)
	}
}

func start(t *rapid.T, b *recipe.Bound, notes func(a, b recipe.Use) ([]bench.Note, error)) *benchtest.Driver {
	with := bench.Beginning{Pieces: []string{"1", "2", "3"}[:rapid.IntRange(1, 3).Draw(t, "pieces")]}
	if b.Split >= 0 && rapid.Bool().Draw(t, "tubes") {
		with = bench.Beginning{Tubes: []string{"A", "B"}}
	}
	d, err := benchtest.Begin(b, with, notes)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func dump(t *rapid.T, s *bench.State) string {
	b, err := json.Marshal(s)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// State folded from every prefix of the events equals the state that was live
// then.
func TestFoldOfEveryPrefixIsTheLiveState(t *testing.T) {
	t.Parallel()
	n := notes(t)
	for name, b := range bundled(t) {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			rapid.Check(t, func(t *rapid.T) {
				d := start(t, b, n)
				live := map[uint64]string{d.State.Last: dump(t, d.State)}
				play(t, d, 60, func(_ recipe.Use, _ []bench.Event) { live[d.State.Last] = dump(t, d.State) })
				for at, want := range live {
					s, err := bench.Fold(b, slices.Clone(d.State.Events()[:at]))
					if err != nil {
						t.Fatal(err)
					}
					if got := dump(t, s); got != want {
						t.Fatalf("folded from %d events:\n%s\nlive it was\n%s", at, got, want)
					}
				}
				// What goes to disk and comes back is the same event.
				for _, e := range d.State.Events() {
					data, err := json.Marshal(e.Body)
					if err != nil {
						t.Fatal(err)
					}
					back, err := bench.DecodeBody(e.Body.Kind(), data)
					if err != nil {
						t.Fatal(err)
					}
					if !reflect.DeepEqual(back, e.Body) {
						t.Fatalf("%#v came back as %#v", e.Body, back)
					}
				}
			})
		})
	}
}

// swapsOf is what a piece really used at the stage of an event, by the events
// before it that stand.
func swapsOf(b *recipe.Bound, log []bench.Event, at bench.Event) []recipe.Swap {
	taken := map[uint64]bool{}
	for _, e := range log {
		if t, ok := e.Body.(bench.AnswerTakenBack); ok {
			taken[t.Cause] = true
		}
	}
	var out []recipe.Swap
	stage := ""
	for _, e := range log {
		if e.Subject != at.Subject || taken[e.Cause] || e.Seq >= at.Seq {
			continue
		}
		switch x := e.Body.(type) {
		case bench.Chosen:
			if x.At != stage {
				out, stage = nil, x.At
			}
			if x.What != "condition" {
				out = append(out, recipe.Swap{Instead: x.Instead, Name: x.Name})
			}
		case bench.PieceMoved:
			if x.To != stage {
				out, stage = nil, x.To
			}
		}
	}
	if stage != at.Stage {
		return nil
	}
	return out
}

// No event of a hazardous stage precedes the acknowledgement of its notes in
// that session; DANGER at every visit.
func TestNoHazardousEventBeforeItsNotes(t *testing.T) {
	t.Parallel()
	n := notes(t)
	for name, b := range bundled(t) {
		byKey := map[string]recipe.Stage{}
		for _, st := range b.Stages {
			byKey[st.Key] = st
		}
		tried := 0
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			rapid.Check(t, func(t *rapid.T) {
				d := start(t, b, n)
				session, answered := "", map[string]bool{}
				var log []bench.Event
				see := func(evening recipe.Use, evs []bench.Event) {
					for _, e := range evs {
						log = append(log, e)
						if o, ok := e.Body.(bench.SessionOpened); ok {
							session, answered = o.ID, map[string]bool{}
							continue
						}
						if a, ok := e.Body.(bench.NoteAcknowledged); ok {
							answered[a.ID] = true
							answered[fmt.Sprint(a.ID, e.Stage, e.Visit)] = true
							continue
						}
						if e.Stage == "" {
							continue
						}
						if e.Session != session {
							t.Fatalf("event %d is of session %s in session %s", e.Seq, e.Session, session)
						}
						// The notes are those of what is really used.
						all, err := n(b.Swapped(byKey[e.Stage].Use, swapsOf(b, log, e)), evening)
						if err != nil {
							t.Fatal(err)
						}
						for _, note := range all {
							ok := answered[note.ID] || note.Under != "" && answered[note.Under]
							if note.Signal == bench.Danger {
								ok = answered[fmt.Sprint(note.ID, e.Stage, e.Visit)]
							}
							if note.Signal > bench.Notice {
								tried++
								if !ok {
									t.Fatalf("%s at %s comes before the answer to %s %s", e.Body.Kind(), e.Stage, note.Signal, note.ID)
								}
							}
						}
					}
				}
				see(recipe.Use{}, d.State.Events())
				play(t, d, 60, see)
			})
			if tried < 100 {
				t.Errorf("%s: only %d pairs of event and note were tried", name, tried)
			}
		})
	}
}

// Undo leads back to the question that was answered.
func TestUndoLeadsBackToTheQuestion(t *testing.T) {
	t.Parallel()
	n := notes(t)
	for name, b := range bundled(t) {
		undone := 0
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			rapid.Check(t, func(t *rapid.T) {
				d := start(t, b, n)
				for range 40 {
					d.Mark = ""
					before := d.Question()
					if before.Asked == bench.AskNothing {
						return
					}
					text := d.Right(before)
					if _, err := d.Answer(text); err != nil {
						t.Fatalf("%q: %v", text, err)
					}
					if before.Asked == bench.AskNote || rapid.IntRange(0, 2).Draw(t, "undo") > 0 {
						continue
					}
					d.Last = ""
					if _, err := d.Answer("undo"); err != nil {
						t.Fatal(err)
					}
					undone++
					after := d.Question()
					before.Seq, after.Seq = 0, 0
					// Notes were answered meanwhile; since when a piece rests is told to the minute.
					before.Notes, after.Notes, before.Short, after.Short = nil, nil, nil, nil
					if !reflect.DeepEqual(before, after) && !strings.Contains(before.Prompt, "Resting") {
						t.Fatalf("before:\n%+v\nafter undo:\n%+v", before, after)
					}
					if _, err := d.Answer(d.Right(d.Question())); err != nil {
						t.Fatal(err)
					}
				}
			})
			if undone == 0 {
				t.Errorf("%s: nothing was undone", name)
			}
		})
	}
}
