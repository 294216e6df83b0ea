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

const prompt = "> "

// Lines is where answers come from: a LineReader or a Keyboard.
type Lines interface {
	// ReadLine returns the next answer without its end; io.EOF when there is
	// none.
	ReadLine() (string, error)
}

// Terminal is one window.
type Terminal struct {
	In     Lines
	Out    io.Writer
	Width  int  // columns, at least 40
	Echo   bool // show what was read: for demonstrations and pipes
	Plain  bool // words only, no pictures, signs and rules: for screen readers
	Colour bool // verdicts may be coloured
	Fresh  bool // the player comes back after a break: show the rack first
	Now    func() time.Time
	// After tells when a duration is over, as time.After does; nil: the end of
	// a wait is not called out.
	After func(time.Duration) <-chan time.Time

	heard time.Time // ends of waits up to here are not called out (again)
	told  string    // the way of reading that was shown last
	done  string    // the stage whose instructions were said last
}

// Run asks and answers until the player quits, the input ends, or nothing is
// left to do. It returns nil in all three cases.
func (t *Terminal) Run(ctx context.Context, s *session.Session) error {
	if t.Width < 40 {
		t.Width = 60
	}
	if t.After != nil {
		t.heard = t.Now()
	}
	if t.Fresh {
		if on, err := t.pick(ctx, s); err != nil || !on {
			return err
		}
	}
	w := window{Terminal: t, s: s}
	for {
		on, err := w.once(ctx)
		if err != nil || !on {
			return err
		}
	}
}

// window is what one Run remembers from question to question.
type window struct {
	*Terminal
	s     *session.Session
	last  session.Reply
	shown uint64         // the question on the screen
	here  string         // and its place
	quiet bool           // it was just explained: nothing is shown but the prompt
	doubt *bench.Refusal // the line before was not taken
}

// once asks one question and takes one line. on is false when the player
// leaves or nothing is left to do.
func (w *window) once(ctx context.Context) (on bool, err error) {
	q, err := w.s.Question()
	if err != nil {
		return false, err
	}
	switch {
	case w.quiet:
	case q.Asked == bench.AskNothing:
		w.line("")
		w.wrap("", q.Prompt)
		if !hasAside(w.s.State()) {
			return false, w.s.Close(ctx)
		}
		w.line("Type bring back and a piece, or quit.")
	default:
		w.question(q, q.Seq != w.shown, w.here == place(q))
		if said := w.s.LinesHappened(); said != "" && q.Asked == bench.AskRow {
			w.wrap("  ", said)
		}
	}
	w.shown, w.here, w.quiet = q.Seq, place(q), false
	line, err := w.read(ctx, w.s)
	switch {
	case errors.Is(err, ErrLongLine):
		w.line("This line is too long to be an answer.")
		return true, nil
	case errors.Is(err, io.EOF):
		w.line("")
		w.parting(w.s)
		return false, w.s.Close(ctx)
	case err != nil:
		return false, err
	}
	doubt := w.doubt
	w.doubt = nil
	if doubt != nil && strings.TrimSpace(line) == "-" {
		w.wrap("", "What was doubted is not recorded. - again takes back the answer before.")
		return true, nil
	}
	if doubt != nil && doubt.Offer != "" && yes(line) {
		line = doubt.Offer
	}
	if stop, done, err := w.word(ctx, q, line); done {
		return !stop, err
	}
	reply, err := w.s.Answer(ctx, q.Seq, line)
	var stale *bench.StaleError
	var refusal *bench.Refusal
	switch {
	case errors.As(err, &refusal):
		w.refused(refusal, q.Prompt)
		w.doubt = refusal
		w.shown = w.s.State().Last
	case errors.As(err, &stale):
		w.wrap("", sentence(err.Error()))
		w.shown, w.here = 0, ""
	case err != nil:
		return false, err
	default:
		w.last = reply
		w.reply(reply, q.Grid != nil)
	}
	return true, nil
}

// word does what the words of the window say; done is false for an answer to
// the question.
func (w *window) word(ctx context.Context, q bench.Question, line string) (stop, done bool, err error) {
	for _, c := range q.Choices {
		if strings.EqualFold(c, strings.TrimSpace(line)) {
			return false, false, nil // an answer of the recipe's comes first
		}
	}
	word, rest := split(line)
	switch {
	case word == "quit" || word == "q" || word == "exit":
		w.parting(w.s)
		return true, true, w.s.Close(ctx)
	case word == "?" || word == "help":
		w.help(q, w.last)
		w.quiet = true
	case word == "rack" && rest == "":
		w.rack(w.s)
	case word == "piece":
		if err := w.s.Pick(rest); err != nil {
			w.refusedBy(err)
			break
		}
		w.shown, w.here, w.told = 0, "", ""
	case word == "through" && rest == "":
		w.s.Through(true)
		w.wrap("", "One piece is worked right through now, until it rests. Turn back with: by stage.")
		w.shown, w.here, w.told = 0, "", ""
	case strings.EqualFold(strings.Join(strings.Fields(line), " "), "by stage"):
		w.s.Through(false)
		w.line("All pieces are worked stage by stage now.")
		w.shown, w.here, w.told = 0, "", ""
	case word == "who" && rest == "":
		w.line("Who is at the bench? who Anna, for example.")
	case word == "who":
		if err := w.s.SetWho(ctx, rest); err != nil {
			w.refusedBy(err)
			break
		}
		w.wrap("", rest+" is at the bench now.")
	case word == "advise" && rest == "":
		lines, err := w.s.Advise()
		if err != nil {
			return false, true, err
		}
		for _, l := range lines {
			w.wrap("  ", l)
		}
		w.quiet = true
	case word == "more" && rest == "":
		w.more(q)
		w.quiet = q.Asked != bench.AskNote
	default:
		return false, false, nil
	}
	return false, true, nil
}

// yes: the player takes what was offered.
func yes(line string) bool {
	switch strings.ToLower(strings.TrimSpace(line)) {
	case "y", "yes", "j", "ja", "oui", "si", "sì", "sí":
		return true
	}
	return false
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

// refused says why an answer was not taken. The question is shown once more
// below, so a hint that only repeats it is left out.
func (t *Terminal) refused(r *bench.Refusal, asked string) {
	t.wrap("", r.Message)
	if r.Hint != "" && r.Hint != asked {
		t.wrap("  ", r.Hint)
	}
}

func (t *Terminal) refusedBy(err error) {
	var r *bench.Refusal
	if errors.As(err, &r) {
		t.refused(r, "")
		return
	}
	t.wrap("", sentence(err.Error()))
}

// reply says what follows from an answer: a verdict with its sign, what the
// recipe says next, and the number line. Of a blade's stations (grid) only those
// that are not surely right get one: the picture of the blade shows the others.
func (t *Terminal) reply(r session.Reply, grid bool) {
	judged := verdicts(r.Events)
	drawn := r.Line == nil || grid && r.Line.Sure && r.Line.Side == "inside"
	for _, said := range r.Said {
		if len(judged) == 0 || !strings.HasSuffix(said, judged[0].Sentence) {
			t.wrap("", upper(said))
			continue
		}
		v := judged[0]
		judged = judged[1:]
		for _, l := range Wrap(t.lead(sign(v.Side, v.Sure, v.Coarse)+" "), said, t.Width) {
			t.line(t.tint(v.Side, v.Sure && !v.Coarse, l))
		}
		if !drawn {
			t.drawLine(r.Line)
			drawn = true
		}
	}
}

// more shows the notes of the question whole.
func (t *Terminal) more(q bench.Question) {
	all := append(q.Notes[:len(q.Notes):len(q.Notes)], q.Short...)
	if len(all) == 0 {
		t.line("No safety note belongs to this question.")
	}
	for _, n := range all {
		t.frame(n.Whole(t.Width))
	}
}

func (t *Terminal) rack(s *session.Session) {
	t.line("")
	for _, l := range bench.Rack(s.State(), t.Now()) {
		t.wrap("  ", l)
	}
}

func (t *Terminal) parting(s *session.Session) {
	t.line("Everything is kept. Go on with:")
	t.line("canewright follow --resume " + s.Batch().Name)
}

func (t *Terminal) lines(all []string) {
	for _, l := range all {
		t.line(l)
	}
}

func (t *Terminal) line(s string) { fmt.Fprintln(t.Out, s) }

// wrap writes text at the window's width; following lines are indented under
// the first.
func (t *Terminal) wrap(lead, text string) {
	t.lines(Wrap(lead, text, t.Width))
}
