package terminal

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"canewright/engine/bench"
	"canewright/engine/session"
)

// screen is how many lines a small window has.
const screen = 24

// use is something to type and what it does.
type use struct{ word, does string }

// help explains the question on one screen: what is asked, what was read last
// and how sure that is, and every word that may be typed.
func (t *Terminal) help(q bench.Question, last session.Reply) {
	lines := append(t.explain(q), t.lastReading(last)...)
	groups := []struct {
		head string
		uses []use
	}{
		{"For this question", answers(q)},
		{"For this piece (for others: 7 1.31, all but 4 9 done)", []use{
			{"- or undo", "take it back"}, {"skip", "leave it out"},
			{"aside", "set it aside"}, {"bring back 7", "fetch it"},
			{"throw away", "give it up"}, {"remark", "and your words"},
			{"using X", "another tool"}, {"wet, dry", "how the cane is"},
			{"advise", "what to try"}, {"measure X 1.3", "read more"},
			{"correct 1.13 to 1.31", ""}, {"+8 left rail A", "strokes"},
		}},
		{"For you", []use{
			{"piece 7", "turn to it"}, {"rack", "where each is"},
			{"through", "one to its end"}, {"by stage", "all together"},
			{"who NAME", "who is here"}, {"more", "notes in full"},
			{"quit", "all is kept"},
		}},
	}
	var long, short []string
	for _, g := range groups {
		long = append(append(long, Wrap("", g.head, t.Width)...), t.table(g.uses)...)
		var words []string
		for _, u := range g.uses {
			words = append(words, strings.ReplaceAll(u.word, " ", joined))
		}
		short = append(append(short, Wrap("", g.head, t.Width)...), unjoin(Wrap("  ", strings.Join(words, "; "), t.Width))...)
	}
	// The line with the ? and the one with the prompt are on the screen too.
	if !t.Plain && len(lines)+len(long) > screen-2 {
		long = short
	}
	t.lines(append(lines, long...))
}

// explain says what is asked, its target and how to read it.
func (t *Terminal) explain(q bench.Question) []string {
	switch q.Asked {
	case bench.AskNothing:
		return Wrap("", q.Prompt, t.Width)
	case bench.AskNote:
		return Wrap("", "A safety note asks: "+q.Prompt, t.Width)
	}
	out := Wrap("", "Asked, for "+q.For+": "+q.Prompt, t.Width)
	if q.Target != "" {
		out = append(out, Wrap("  ", targetLabel(q)+q.Target, t.Width)...)
	}
	if q.How != "" {
		out = append(out, Wrap("  ", "how: "+q.How, t.Width)...)
	}
	return append(out, t.choices(q)...)
}

// lastReading says how sure the last verdict was.
func (t *Terminal) lastReading(last session.Reply) []string {
	var r *bench.ReadingTaken
	whose := ""
	for _, e := range last.Events {
		if b, ok := e.Body.(bench.ReadingTaken); ok && b.Said != nil {
			r, whose = &b, e.Subject.ID
		}
	}
	if r == nil {
		return nil
	}
	said := fmt.Sprintf("Last reading %s (%s), %s. Probability of being inside %s", r.Text, whose, r.Said.Side, probability(r.Said.Probability))
	if r.Said.N > 1 {
		said += fmt.Sprintf(", from %d readings", r.Said.N)
	}
	switch {
	case r.Said.Coarse:
		said += ". More with this tool cannot settle it"
	case r.Said.More > 0:
		said += fmt.Sprintf(". %d more alike would settle it", r.Said.More)
	}
	out := Wrap("", said+".", t.Width)
	if last.Line != nil {
		for _, l := range last.Line.Budget {
			out = append(out, Wrap("", l, t.Width)...)
		}
	}
	return out
}

// joined stands for a blank inside a word of the bench, so that no line breaks
// there.
const joined = "¤"

func unjoin(lines []string) []string {
	for i := range lines {
		lines[i] = strings.ReplaceAll(lines[i], joined, " ")
	}
	return lines
}

// probability never says that something is certain.
func probability(p float64) string {
	switch {
	case p > 0.99:
		return "over 0.99"
	case p < 0.01:
		return "under 0.01"
	}
	return fmt.Sprintf("%.2f", p)
}

// answers are what the keys that a question lists do.
func answers(q bench.Question) []use {
	switch q.Asked {
	case bench.AskNote:
		return []use{{"your own words", "name what protects you"}}
	case bench.AskReading, bench.AskSettle:
		u := []use{{"1.31 or 1,31", "a reading"}, {"1.31 1.30", "repeats"}, {"1 1/8 in", "with its unit"}, {"31.4!", "just that"}}
		if q.Asked == bench.AskSettle {
			u = append(u, use{"Enter", "let it stand"})
		}
		return u
	case bench.AskLook:
		return []use{{"1 or its word", "what you found"}}
	case bench.AskWork:
		if strings.HasPrefix(q.Prompt, "Begun") {
			return []use{{"Enter", "it has begun"}}
		}
		return []use{{"Enter or done", "it is done"}}
	case bench.AskInto:
		return []use{{"4", "so many came out"}}
	case bench.AskRow:
		return []use{{"7 1.31 1.10 straight", ""}, {"-", "an empty box"}, {"@19:40", "when it was"}}
	case bench.AskWait:
		return []use{{"Enter", "the wait is over"}, {"go on", "end it now"}}
	}
	return []use{{"bring back 7", "fetch piece 7"}}
}

// table lists what may be typed, two in a row; in plain mode each stands in its
// own line, as it is heard.
func (t *Terminal) table(uses []use) []string {
	var out []string
	half := (t.Width - 2) / 2
	left := ""
	for _, u := range uses {
		if t.Plain {
			out = append(out, Wrap("  ", strings.TrimSuffix(u.word+": "+u.does, ": "), t.Width)...)
			continue
		}
		text := u.word
		if u.does != "" {
			text += strings.Repeat(" ", max(1, 14-ansi.StringWidth(u.word))) + u.does
		}
		w := ansi.StringWidth(text)
		switch {
		case left != "" && w <= half:
			out = append(out, "  "+left+strings.Repeat(" ", half-ansi.StringWidth(left))+text)
			left = ""
			continue
		case left != "":
			out = append(out, "  "+left)
		}
		if left = text; w >= half {
			out, left = append(out, "  "+text), ""
		}
	}
	if left != "" {
		out = append(out, "  "+left)
	}
	return out
}
