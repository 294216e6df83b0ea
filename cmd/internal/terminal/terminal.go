package terminal

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strings"
	"time"

	"canewright/engine/bench"
	"canewright/engine/session"
)

// Terminal is one window.
type Terminal struct {
	In    *LineReader
	Out   io.Writer
	Width int  // columns, at least 40
	Echo  bool // show what was read: for demonstrations and pipes
	Now   func() time.Time
}

// Run asks and answers until the player quits, the input ends, or nothing is
// left to do. It returns nil in all three cases.
func (t *Terminal) Run(ctx context.Context, s *session.Session) error {
	if t.Width < 40 {
		t.Width = 60
	}
	var last session.Reply
	shown, here := uint64(0), ""
	for {
		q, err := s.Question()
		if err != nil {
			return err
		}
		if q.Asked == bench.AskNothing {
			t.line("")
			t.wrap("", q.Prompt)
			if !hasAside(s.State()) {
				return s.Close(ctx)
			}
			t.line("Type bring back and a piece, or quit.")
		} else {
			t.question(q, q.Seq != shown, here == place(q))
		}
		shown, here = q.Seq, place(q)
		if _, err := io.WriteString(t.Out, "> "); err != nil {
			return err
		}
		line, err := t.In.ReadLine()
		if errors.Is(err, ErrLongLine) {
			t.line("This line is too long to be an answer.")
			continue
		}
		if errors.Is(err, io.EOF) {
			t.line("")
			t.parting(s)
			return s.Close(ctx)
		}
		if err != nil {
			return fmt.Errorf("read the answer: %w", err)
		}
		if t.Echo {
			t.line(line)
		}
		if err := ctx.Err(); err != nil {
			return err
		}
		switch word, rest := split(line); {
		case word == "quit" || word == "q" || word == "exit":
			t.parting(s)
			return s.Close(ctx)
		case word == "?" || word == "help":
			t.help(q, last)
			continue
		case word == "rack":
			t.rack(s)
			continue
		case word == "piece":
			if err := s.Pick(rest); err != nil {
				t.refused(err)
			}
			shown, here = 0, ""
			continue
		case word == "more" && q.Asked == bench.AskNote:
			for _, n := range q.Notes {
				t.frame(n.Whole(t.Width))
			}
			continue
		}
		reply, err := s.Answer(ctx, q.Seq, line)
		var stale *bench.StaleError
		var refusal *bench.Refusal
		switch {
		case errors.As(err, &refusal):
			t.refused(err)
			shown = s.State().Last
			continue
		case errors.As(err, &stale):
			t.wrap("", sentence(err.Error()))
			shown = 0
			continue
		case err != nil:
			return err
		}
		last = reply
		for _, said := range reply.Said {
			t.wrap("", said)
		}
	}
}

func hasAside(s *bench.State) bool {
	for _, p := range s.Pieces {
		if p.Place == bench.Aside {
			return true
		}
	}
	return false
}

func split(line string) (word, rest string) {
	word, rest, _ = strings.Cut(strings.TrimSpace(line), " ")
	return strings.ToLower(word), strings.TrimSpace(rest)
}

func (t *Terminal) refused(err error) {
	var r *bench.Refusal
	if !errors.As(err, &r) {
		t.wrap("", sentence(err.Error()))
		return
	}
	t.wrap("", r.Message)
	if r.Hint != "" {
		t.wrap("  ", r.Hint)
	}
}

// place is where a question stands; a further question at the same place needs
// no heading.
func place(q bench.Question) string {
	return fmt.Sprint(q.Asked == bench.AskNote, q.Pieces, q.Number, q.Visit)
}

// question shows q. After a refusal (not fresh) only the prompt is shown
// again; at the same place as the question before, the heading is left out.
func (t *Terminal) question(q bench.Question, fresh, same bool) {
	if !fresh || same {
		if fresh {
			t.line("")
		}
		t.prompt(q)
		return
	}
	t.line("")
	t.line(strings.Repeat("-", t.Width))
	head := upper(q.For) + ", stage " + fmt.Sprint(q.Number) + " of " + fmt.Sprint(q.Of) + ": " + q.Stage
	if q.Visit > 1 {
		head += fmt.Sprintf(" (visit %d)", q.Visit)
	}
	t.wrap("", head)
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
	for _, d := range q.Do {
		t.wrap("- ", d)
	}
	for _, w := range q.Warn {
		t.wrap("! ", w)
	}
	t.line("")
	t.prompt(q)
}

func (t *Terminal) prompt(q bench.Question) {
	t.wrap("", upper(q.Prompt))
	if q.Target != "" {
		label := "target "
		if q.Asked == bench.AskWait {
			label = ""
		}
		t.wrap("  ", label+q.Target)
	}
	if q.How != "" {
		t.wrap("  ", q.How)
	}
	if len(q.Taken) > 0 {
		t.wrap("  ", "so far: "+strings.Join(q.Taken, "; "))
	}
	for i, c := range q.Choices {
		t.wrap("  ", fmt.Sprintf("%d %s", i+1, c))
	}
	if q.Keys != "" {
		t.wrap("  ", "["+q.Keys+"]")
	}
}

// frame shows a safety note in the frame that is used for nothing else.
func (t *Terminal) frame(lines []string) {
	t.line(strings.Repeat("=", t.Width))
	for _, l := range lines {
		t.line(l)
	}
	t.line(strings.Repeat("=", t.Width))
}

func (t *Terminal) help(q bench.Question, last session.Reply) {
	t.line("")
	if q.Asked == bench.AskNote {
		t.wrap("", "The work begins when this note is answered. Answer in your own words: name what protects you. more shows it whole.")
	}
	for _, e := range last.Events {
		if r, ok := e.Body.(bench.ReadingTaken); ok && r.Said != nil {
			t.wrap("", fmt.Sprintf("Last reading: %s against %s. Probability of being inside: %.2f from %d reading(s).", r.Text, r.Said.Target, r.Said.Probability, r.Said.N))
			switch {
			case r.Said.Coarse:
				t.wrap("", "More readings with this tool cannot settle it.")
			case r.Said.More > 0:
				t.wrap("", fmt.Sprintf("%d more like these would settle it.", r.Said.More))
			}
		}
	}
	t.wrap("", "A reading: 1.31 or 1,31; with a unit, 1 1/8 in; several, 1.31 1.30, are repeats; 31.4! means just that.")
	for _, l := range [][2]string{
		{"undo", "take back the last answer"}, {"skip", "leave this out (a reason may follow)"},
		{"aside", "set this piece aside; bring back 2 fetches it"}, {"throw away", "give this piece up"},
		{"piece 2", "turn to piece 2; piece alone turns back"}, {"go on", "end a wait now"},
		{"remark …", "write something down"}, {"rack", "where each piece is"}, {"quit", "stop; everything is kept"},
	} {
		t.wrap(fmt.Sprintf("  %-11s ", l[0]), l[1])
	}
}

func (t *Terminal) rack(s *session.Session) {
	t.line("")
	for _, l := range bench.Rack(s.State(), t.Now()) {
		t.wrap("  ", l)
	}
}

func (t *Terminal) parting(s *session.Session) {
	t.wrap("", "Everything is kept. Go on with: canewright follow --resume "+s.Batch().Name)
}

func (t *Terminal) line(s string) { fmt.Fprintln(t.Out, s) }

// wrap writes text at the window's width; following lines are indented under
// the first.
func (t *Terminal) wrap(lead, text string) {
	for _, l := range Wrap(lead, text, t.Width) {
		t.line(l)
	}
}

// Wrap breaks text at blanks so that lines fit width; a word longer than a line
// stands alone.
func Wrap(lead, text string, width int) []string {
	indent := strings.Repeat(" ", len([]rune(lead)))
	var out []string
	cur, n := lead, len([]rune(lead))
	empty := true
	for _, w := range strings.Fields(text) {
		k := len([]rune(w))
		if !empty && n+1+k > width {
			out = append(out, cur)
			cur, n, empty = indent, len(indent), true
		}
		if !empty {
			cur, n = cur+" ", n+1
		}
		cur, n, empty = cur+w, n+k, false
	}
	return append(out, cur)
}

func upper(s string) string {
	r := []rune(s)
	if len(r) == 0 {
		return s
	}
	return strings.ToUpper(string(r[:1])) + string(r[1:])
}

func sentence(s string) string {
	s = upper(s)
	if !strings.HasSuffix(s, ".") && !strings.HasSuffix(s, "?") {
		s += "."
	}
	return s
}
