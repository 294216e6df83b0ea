package wire

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"canewright/engine/bench"
	"canewright/engine/bench/benchtest"
	"canewright/engine/recipe"
)

// CaseFault is a case that does not come out as its maker wants.
type CaseFault struct {
	Case string `json:"case"`
	Why  string `json:"why"`
}

// MostCases are played of one recipe; a long one has some twenty.
const MostCases = 200

// PlayCases types the readings of cases at a bench in memory. Cases are a
// stranger's: whatever they bring becomes a fault.
func PlayCases(ctx context.Context, b *recipe.Bound, cases []recipe.Case, notes NotesFor) (played int, out []CaseFault) {
	for _, c := range cases[:min(len(cases), MostCases)] {
		if ctx.Err() != nil {
			return played, out
		}
		played++
		if why := playCase(b, c, notes); why != "" {
			out = append(out, CaseFault{c.Name.Value, why})
		}
	}
	return played, out
}

func playCase(b *recipe.Bound, c recipe.Case, notes NotesFor) (why string) {
	defer func() {
		if p := recover(); p != nil {
			why = fmt.Sprint("it cannot be played: ", p)
		}
	}()
	with := bench.Beginning{Pieces: []string{"1"}}
	known := false
	for _, st := range b.Stages {
		if st.Name == c.Stage.Value {
			known = true
			if st.Tube {
				with = bench.Beginning{Tubes: []string{"A"}}
			}
		}
	}
	if !known {
		return fmt.Sprintf("there is no stage %q", c.Stage.Value)
	}
	d, err := benchtest.Begin(b, with, notes)
	if err == nil {
		err = d.To(c.Stage.Value)
	}
	if err != nil {
		return err.Error()
	}
	p := &player{d: d, want: map[string]string{}}
	for _, v := range c.Verdicts {
		p.want[v.Name.Value] = v.Value.Value
	}
	if why := p.read(c.Readings); why != "" {
		return why
	}
	for _, v := range c.Verdicts {
		if _, left := p.want[v.Name.Value]; left {
			return v.Name.Value + " was not judged"
		}
	}
	return p.settle(c)
}

// player types one case.
type player struct {
	d     *benchtest.Driver
	want  map[string]string // verdicts not yet seen
	moved string
	waits bool
}

// read types the readings in the order the recipe asks for them: cases say
// what is read, not in which order.
func (p *player) read(left []recipe.Pair) string {
	left = slices.Clone(left)
	for len(left) > 0 {
		asked := ""
		if slot, ok := p.d.State.Asking(p.d.Mark); ok {
			asked = p.d.Bound.Slots[slot].Name
		}
		at := max(0, slices.IndexFunc(left, func(r recipe.Pair) bool { return r.Name.Value == asked }))
		r := left[at]
		left = slices.Delete(left, at, at+1)
		if p.d.Question().Asked != bench.AskReading {
			return "no reading of " + r.Name.Value + " is asked for there"
		}
		evs, err := p.d.Answer(r.Value.Value)
		if err == nil && p.d.Question().Asked == bench.AskSettle {
			var more []bench.Event
			more, err = p.d.Answer("")
			evs = append(evs, more...)
		}
		if err != nil {
			return r.Name.Value + " " + r.Value.Value + ": " + err.Error()
		}
		if why := p.take(evs, r); why != "" {
			return why
		}
	}
	return ""
}

func (p *player) take(evs []bench.Event, r recipe.Pair) string {
	for _, e := range evs {
		switch x := e.Body.(type) {
		case bench.ReadingTaken:
			if x.Slot != r.Name.Value {
				return "the reading of " + r.Name.Value + " was taken for " + x.Slot
			}
			if x.Said == nil {
				continue // no target, or the first of several readings
			}
			if w, ok := p.want[x.Slot]; ok && x.Said.Side != w {
				return fmt.Sprintf("%s %s is %s, not %s", x.Slot, x.Text, x.Said.Side, w)
			}
			delete(p.want, x.Slot)
		case bench.PieceMoved:
			p.moved = x.How
		case bench.WaitBegun:
			p.waits = true
		}
	}
	return ""
}

// settle answers the look, if the case has something to say to it, and looks
// what follows.
func (p *player) settle(c recipe.Case) string {
	q := p.d.Question()
	answer := ""
	switch {
	case len(c.Answers) > 0:
		var words []string
		for _, a := range c.Answers {
			words = append(words, a.Value)
		}
		answer = strings.Join(words, ", ")
	case c.Then.Value != "" && q.Asked == bench.AskLook:
		answer = p.d.Right(q)
	}
	if answer != "" && p.moved == "" {
		evs, err := p.d.Answer(answer)
		if err != nil {
			return fmt.Sprintf("the answer %q: %v", answer, err)
		}
		if why := p.take(evs, recipe.Pair{}); why != "" {
			return why
		}
	}
	if p.waits && p.moved == "" {
		p.moved = string(recipe.GoingOn) // when the wait is over
	}
	if c.Then.Value != "" && p.moved != c.Then.Value {
		moved := p.moved
		if moved == "" {
			moved = "nothing yet"
		}
		return fmt.Sprintf("what follows is %s, not %s", moved, c.Then.Value)
	}
	return ""
}

// NotesFor are the notes of what is in hand, given what was used this evening.
type NotesFor = func(now, evening recipe.Use) ([]bench.Note, error)
