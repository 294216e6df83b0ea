// Package benchtest drives a bench in tests: it answers questions as a maker
// whose reeds all come out right, or as the case at hand wants.
package benchtest

import (
	"fmt"
	"strings"
	"time"

	"canewright/engine/bench"
	"canewright/engine/quantity"
	"canewright/engine/recipe"
)

// Driver steps a batch in memory. The clock goes on by Tick at every answer.
type Driver struct {
	Bound *recipe.Bound
	State *bench.State
	Notes func(now, evening recipe.Use) ([]bench.Note, error)
	Now   time.Time
	Tick  time.Duration
	Mark  string
	Last  string
	Later bool // lines of the card are entered
	ids   int
}

// Start begins a batch of n pieces.
func Start(b *recipe.Bound, n int, notes func(now, evening recipe.Use) ([]bench.Note, error)) (*Driver, error) {
	var with bench.Beginning
	for i := 1; i <= n; i++ {
		with.Pieces = append(with.Pieces, fmt.Sprint(i))
	}
	return Begin(b, with, notes)
}

// Begin begins a batch of tubes, or of pieces with marks of their own.
func Begin(b *recipe.Bound, with bench.Beginning, notes func(now, evening recipe.Use) ([]bench.Note, error)) (*Driver, error) {
	d := &Driver{Bound: b, Notes: notes, Now: time.Date(2026, 1, 12, 19, 0, 0, 0, time.UTC), Tick: 20 * time.Second}
	evs, err := bench.Begin(b, with, d.id(), bench.Moment{At: d.Now})
	if err != nil {
		return nil, err
	}
	d.State, err = bench.Fold(b, evs)
	return d, err
}

func (d *Driver) id() string { d.ids++; return fmt.Sprintf("session-%d", d.ids) }

// Reopen begins another session.
func (d *Driver) Reopen() error {
	return d.State.Apply(bench.OpenSession(d.State, d.id(), bench.Moment{At: d.Now}))
}

// StageNotes are the notes of the stage at hand.
func (d *Driver) StageNotes() []bench.Note {
	use, _, ok := d.State.InHand(d.Mark)
	if !ok || d.Notes == nil {
		return nil
	}
	notes, err := d.Notes(use, d.State.Evening())
	if err != nil {
		panic(err)
	}
	return notes
}

// For are the notes for what is taken in hand.
func (d *Driver) For(use recipe.Use) ([]bench.Note, error) {
	if d.Notes == nil {
		return nil, nil
	}
	return d.Notes(use, d.State.Evening())
}

// Question is the question as it stands.
func (d *Driver) Question() bench.Question {
	return bench.Ask(d.State, d.Mark, d.StageNotes(), d.Now)
}

// Answer gives an answer and folds what comes of it.
func (d *Driver) Answer(text string) ([]bench.Event, error) {
	d.Now = d.Now.Add(d.Tick)
	evs, err := bench.Decide(d.State, bench.Answer{Seen: d.State.Last, Mark: d.Mark, Last: d.Last, Text: text, Later: d.Later}, d.For, bench.Moment{At: d.Now})
	if err != nil {
		return nil, err
	}
	return evs, d.State.Apply(evs)
}

// Right is an answer with which the piece goes on.
func (d *Driver) Right(q bench.Question) string {
	_, stage, _ := d.State.InHand(d.Mark)
	switch q.Asked {
	case bench.AskNote:
		for _, a := range q.Notes[0].Accept {
			a = strings.ReplaceAll(a, "*", "")
			if q.Notes[0].Accepts(a) {
				return a
			}
		}
		panic("note " + q.Notes[0].ID + " accepts none of its own answers")
	case bench.AskReading, bench.AskSettle:
		if q.Asked == bench.AskSettle {
			return ""
		}
		slot, _ := d.State.Asking(d.Mark)
		for _, m := range d.Bound.Stages[stage].Measures {
			if m.Slot == slot {
				return Middle(d.Bound.Slots[slot], m.Target)
			}
		}
	case bench.AskLook:
		for i, a := range d.Bound.Stages[stage].Look.Answers {
			if a.Outcome.How == recipe.GoingOn {
				return fmt.Sprint(i + 1)
			}
		}
		return "1"
	case bench.AskWait:
		return "go on"
	}
	return ""
}

// Middle is a reading in the middle of a target, or a plausible one.
func Middle(s recipe.Slot, t *recipe.Target) string {
	tol := s.Dimension.Plausible
	unit := s.Dimension.Unit
	if t != nil {
		tol, unit = t.Tolerance, t.Tolerance.Unit
	}
	q := tol.Low.Q
	switch {
	case tol.Low.Set && tol.High.Set:
		q = tol.Low.Q + (tol.High.Q-tol.Low.Q)/2
	case tol.High.Set:
		q = tol.High.Q
	}
	return quantity.Format(quantity.Value{Kind: s.Dimension.Kind, Q: q}, unit, 0)
}

// To answers rightly until a piece stands at a stage, with no note left to
// answer.
func (d *Driver) To(stage string) error {
	for range 2000 {
		q := d.Question()
		if q.Stage == stage && q.Asked != bench.AskNote {
			return nil
		}
		if q.Asked == bench.AskNothing {
			return fmt.Errorf("the recipe ended before stage %q", stage)
		}
		if _, err := d.Answer(d.Right(q)); err != nil {
			return fmt.Errorf("stage %q, %s, answer %q: %w", q.Stage, q.Prompt, d.Right(q), err)
		}
	}
	return fmt.Errorf("stage %q was not reached in 2000 answers", stage)
}
