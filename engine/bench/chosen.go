package bench

import (
	"strconv"
	"strings"

	"canewright/engine/quantity"
	"canewright/engine/recipe"
)

// chosen records what is really used, or the condition the cane really is in.
// It is apart from the stage's work: the note for what is really used is asked
// before the next answer.
func (d *decider) chosen(f focus, w words) ([]Event, error) {
	st := &d.b.Stages[f.stage]
	if w.verb != "using" {
		for _, p := range f.pieces {
			d.apart(p, Chosen{What: "condition", Name: w.verb, Known: true, At: d.b.Stages[p.Stage].Key})
		}
		return d.out, nil
	}
	word, instead := w.rest, ""
	for _, between := range []string{" instead of ", " in place of ", " for "} {
		if a, b, ok := strings.Cut(w.rest, between); ok {
			word, instead = strings.TrimSpace(a), strings.TrimSpace(b)
			break
		}
	}
	word = strings.TrimSpace(strings.TrimPrefix(strings.TrimPrefix(word, "the "), "a "))
	if word == "" || len([]rune(word)) > 60 {
		return nil, refuse("using nail varnish; or: using nail varnish instead of cement.", "Say what is used.")
	}
	for _, p := range f.pieces {
		if p.Stage != f.stage {
			return nil, refuse("Say it for each by itself.", "%s is at another stage.", upperFirst(d.st.called(p)))
		}
		use := d.b.Swapped(st.Use, p.Swaps)
		swap, choices := d.b.SwapOf(use, word, instead)
		if swap.Name == "" {
			if len(choices) == 0 {
				return nil, refuse("using "+word+" alone adds it.", "Nothing is listed here that it could take the place of.")
			}
			return nil, refuse("For example: using "+word+" instead of "+choices[0]+".", "In place of which: %s?", join(choices))
		}
		what := "tool"
		for _, m := range use.Materials {
			if m.Name == swap.Instead || swap.Instead == "" {
				what = "material"
			}
		}
		named, known := d.b.Named(swap.Name, what == "material")
		if len(named.Tools) > 0 {
			what = "tool"
		} else {
			what = "material"
		}
		d.apart(p, Chosen{What: what, Instead: swap.Instead, Name: swap.Name, Known: known, At: st.Key})
	}
	return d.out, nil
}

// strokes reads "+8 left rail A". A bare +8 is a reading where the dimension
// asked for may be negative or nought: short of a line is minus, past it plus.
func (d *decider) strokes(f focus, text string) (n int, where string, ok bool) {
	head, where, _ := strings.Cut(strings.TrimSpace(text), " ")
	digits, plus := strings.CutPrefix(head, "+")
	n, err := strconv.Atoi(digits)
	if !plus || err != nil || n < 1 || n > 9999 || len(digits) > 4 || f.step == stepWait || f.step == stepRest {
		return 0, "", false
	}
	where = strings.Join(strings.Fields(where), " ")
	if f.step == stepMeasure || f.step == stepSettle {
		slot := d.b.Slots[d.b.Stages[f.stage].Measures[f.measure].Slot]
		if signed(slot) && (where == "" || isUnit(where)) {
			return 0, "", false
		}
	}
	return n, where, true
}

// signed: the dimension's readings may lie on both sides of nought.
func signed(s recipe.Slot) bool {
	t := s.Dimension.Plausible
	return t.Kind == s.Dimension.Kind && (!t.Low.Set || t.Low.Q < 0) && s.Dimension.Kind != quantity.Count
}
