package review

import (
	"fmt"

	"canewright/engine/bench"
	"canewright/engine/recipe"
)

// check refuses events that name what the recipe does not have: nobody's bench
// made them.
//
// It also refuses what would take a bench a long time: the bench is made for the
// events of a hand.
func check(b *recipe.Bound, evs []bench.Event) error {
	slots := len(b.Slots)
	if len(evs)*slots > mostWork {
		return fmt.Errorf("the batch has %d events for %d dimensions and stations, more than are looked through", len(evs), slots)
	}
	type about struct{ piece, slot, stage string }
	times, work, corrections := map[about]int{}, 0, 0
	often := func(a about) error {
		if times[a]++; times[a] > mostTimes {
			return fmt.Errorf("it is one of more than %d of its like", mostTimes)
		}
		return nil
	}
	keys := map[string]bool{}
	for i := range b.Stages {
		keys[b.Stages[i].Key] = true
	}
	slot := func(name string) error {
		if i := b.SlotOf(name); i < 0 || b.Slots[i].Dimension == nil {
			return fmt.Errorf("it is about %q, which the recipe in the file does not have", clip(name))
		}
		return nil
	}
	number := func(q int64) error {
		const largest = 1 << 53 // as engine/quantity has it
		if q > largest || q < -largest {
			return fmt.Errorf("its number is beyond all readings")
		}
		return nil
	}
	here, pieces := map[string]bool{}, 0
	for _, e := range evs {
		err := func() error {
			if e.Stage != "" && !keys[e.Stage] {
				return fmt.Errorf("it is at a stage %q, which the recipe in the file does not have", clip(e.Stage))
			}
			switch x := e.Body.(type) {
			case bench.PieceAdded:
				if pieces++; pieces > mostPieces {
					return fmt.Errorf("there are more than %d pieces", mostPieces)
				}
				if k := e.Subject.Kind; k != "piece" && k != "tube" || x.Mark != e.Subject.ID || here[x.Mark] {
					return fmt.Errorf("the piece has no mark of its own")
				}
				here[x.Mark] = true
				return nil
			case bench.ReadingTaken:
				if x.Repeat < 1 || x.Repeat > mostRepeats || x.Step < 0 {
					return fmt.Errorf("its repeat or its step cannot be")
				}
				if err := first(slot(x.Slot), number(x.Q), often(about{e.Subject.ID, x.Slot, e.Stage})); err != nil {
					return err
				}
			case bench.ValueCorrected:
				if corrections++; corrections > mostTimes {
					return fmt.Errorf("there are more than %d corrections", mostTimes)
				}
				if err := first(slot(x.Slot), number(x.Q)); err != nil {
					return err
				}
			case bench.Chosen, bench.RemedyTried, bench.RemedyJudged:
				if err := often(about{piece: e.Subject.ID}); err != nil {
					return err
				}
			case bench.StrokesMade:
				if work += slots * slots; work > 10*mostWork {
					return fmt.Errorf("there are more strokes than are looked through")
				}
			case bench.Settled:
				if x.N < 1 || x.N > mostRepeats {
					return fmt.Errorf("it rests on %d readings", x.N)
				}
				if err := slot(x.Slot); err != nil {
					return err
				}
			case bench.Skipped:
				if x.What == "measurement" {
					if err := slot(x.Slot); err != nil {
						return err
					}
				}
			}
			if e.Subject.Whole() {
				return nil
			}
			if !here[e.Subject.ID] {
				return fmt.Errorf("it is about %s %q, which is not in the batch", clip(e.Subject.Kind), clip(e.Subject.ID))
			}
			return nil
		}()
		if err != nil {
			return fmt.Errorf("event %d of the batch cannot be: %w", e.Seq, err)
		}
	}
	return nil
}

// mostRepeats: nobody reads one thing more often at one visit; and so many
// readings of any size can be added without going beyond whole numbers.
const mostRepeats = 500

// mostTimes: nobody does one thing to one piece more often at one stage.
const mostTimes = 1_000

// mostWork is events times slots: a large batch of a long recipe has 2,000,000.
const mostWork = 200_000_000

func first(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

// fold is bench.Fold for a stranger's events: the bench trusts its own, and may
// fall over those it could not have made.
func fold(b *recipe.Bound, evs []bench.Event) (st *bench.State, err error) {
	defer func() {
		if recover() != nil {
			st, err = nil, fmt.Errorf("the events of the batch do not follow from the recipe in the file")
		}
	}()
	return bench.Fold(b, evs)
}
