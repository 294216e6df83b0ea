package terminal

import (
	"fmt"
	"strings"

	"canewright/engine/bench"
)

// place is where a question stands; a further question at the same place needs
// no heading.
func place(q bench.Question) string {
	var notes []string // a note that is new here is shown, whatever was shown before
	for _, n := range q.Notes {
		notes = append(notes, n.ID)
	}
	if q.Asked == bench.AskRow {
		return fmt.Sprint(q.Asked, notes, q.Number) // a line for one piece, a line for another
	}
	return fmt.Sprint(q.Asked == bench.AskNote, notes, q.Pieces, q.Number, q.Visit)
}

// question shows q. After a refusal (not fresh) what is asked is said once
// more, briefly; at the same place as the question before, the heading is left
// out.
func (t *Terminal) question(q bench.Question, fresh, same bool) {
	switch {
	case !fresh:
		t.asked(q)
		t.lines(t.choices(q))
		return
	case same:
		t.line("")
		t.prompt(q)
		return
	}
	t.line("")
	t.rule("-")
	t.wrap("", heading(q))
	if q.Again != "" && q.Asked != bench.AskNote {
		t.wrap("  ", "Here again: "+q.Again)
	}
	// The gravest comes last, beside its question: the others may have scrolled
	// away by then.
	for i := len(q.Notes) - 1; i >= 0; i-- {
		t.frame(q.Notes[i].Lines(t.Width))
	}
	for _, n := range q.Short {
		t.wrap("  ", n.OneLine())
	}
	// What to do is said to the first piece of a stage; ? says it to the others.
	if at := fmt.Sprint(q.Number, q.Visit > 1); at != t.done || q.Visit > 1 {
		for _, d := range q.Do {
			t.wrap(t.lead("- "), d)
		}
		if len(q.Do) > 0 {
			t.done = at
		}
	}
	for _, w := range q.Warn {
		sign := "  " // a reason, a mark to make
		if strings.HasPrefix(w, "No way back") || strings.HasPrefix(w, "Knife off") {
			sign = "! "
		}
		t.wrap(t.lead(sign), w)
	}
	if len(q.Notes) > 0 && q.Asked != bench.AskNote {
		t.wrap("  ", "Read it. It needs no answer: the one you gave this evening counts.")
	}
	t.line("")
	t.prompt(q)
	t.drawLine(q.Line) // of readings taken before the player turned here
}

// lead is a sign before a line; a screen reader would read it out.
func (t *Terminal) lead(sign string) string {
	if t.Plain {
		return ""
	}
	return sign
}

func heading(q bench.Question) string {
	head := fmt.Sprintf("%s, stage %d of %d: %s", upper(q.For), q.Number, q.Of, q.Stage)
	if q.Visit > 1 {
		head += fmt.Sprintf(" (visit %d)", q.Visit)
	}
	return head
}

func (t *Terminal) prompt(q bench.Question) {
	if q.Grid != nil && !t.Plain {
		t.lines(bladeGrid(q.Grid, t.Width))
	}
	t.asked(q)
	// How to read it is said once: the next piece at this stage is read alike,
	// and ? says it again.
	if key := fmt.Sprint(q.Number, q.How); q.How != "" && key != t.told {
		t.wrap("  ", q.How)
		t.told = key
	}
	if q.Before != "" && len(q.Taken) == 0 {
		line := "last time: " + q.Before
		switch {
		case q.Keep:
			line += " (keep lets it count; keep all)"
		case q.Grid != nil:
			line += " (keep all: those that were right)"
		}
		t.wrap("  ", line)
	}
	if len(q.Taken) > 0 {
		t.wrap("  ", "so far: "+strings.Join(q.Taken, "; "))
	}
	t.lines(t.choices(q))
	switch {
	case q.Keys == "":
	case t.Plain:
		t.wrap("  ", sentence(q.Keys))
	default:
		t.wrap("  ", "["+q.Keys+"]")
	}
}

// asked is what is asked and its target.
func (t *Terminal) asked(q bench.Question) {
	ask := upper(q.Prompt)
	if q.Grid != nil && !t.Plain {
		if n := next(q.Grid); n != "" {
			ask = q.For + ", next: " + n // the rest stands over the picture
		}
	}
	t.wrap("", ask)
	if q.Target != "" {
		t.wrap("  ", targetLabel(q)+q.Target)
	}
}

// targetLabel: what a wait is for needs no label.
func targetLabel(q bench.Question) string {
	if q.Asked == bench.AskWait {
		return ""
	}
	return "target "
}

func (t *Terminal) choices(q bench.Question) []string {
	var out []string
	for i, c := range q.Choices {
		line := fmt.Sprintf("%d %s", i+1, c)
		if q.Asked == bench.AskRow {
			line = c
		}
		out = append(out, Wrap("  ", line, t.Width)...)
	}
	return out
}

// frame shows a safety note in the frame that is used for nothing else.
func (t *Terminal) frame(lines []string) {
	if t.Plain {
		t.line("Safety note.")
		for _, l := range lines {
			t.line(strings.TrimPrefix(l, "⚠ "))
		}
		t.line("End of the safety note.")
		return
	}
	t.rule("=")
	t.lines(lines)
	t.rule("=")
}

// rule draws a line across the window; a screen reader would spell it out.
func (t *Terminal) rule(sign string) {
	if !t.Plain {
		t.line(strings.Repeat(sign, t.Width))
	}
}
