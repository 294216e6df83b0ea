package terminal_test

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/charmbracelet/x/ansi"

	"canewright/cmd/internal/terminal"
	"canewright/engine/bench"
	"canewright/engine/dimension"
	"canewright/engine/quantity"
	"canewright/engine/recipe"
	"canewright/engine/session"
	"canewright/engine/tool"
)

const smallRecipe = `canewright: recipe 1
title: Small reed, invented
id: small
version: 1
instrument: shawm 1
targets:
  gouge.centre: {target: 1.30 +0.03 -0.02 mm, above: once more, below: set aside}
stages:
  - stage: soak
    for: the batch
    wait: {at least: 2 h, usual: 3 h}
  - stage: gouge
    tools: [gouger]
    measure:
      - {take: gouge.centre, with: dial indicator}
    look:
      question: How does the grain run?
      answers:
        straight: going on
        through: going on
`

func smallSet() *dimension.Set {
	mm, _ := quantity.UnitNamed("mm")
	return &dimension.Set{ID: "shawm", Title: "shawm, invented", Major: 1, Dimensions: []dimension.Dimension{{
		Name: "gouge.centre", Title: "gouge, centre", Kind: quantity.Length, Unit: mm, Subject: "piece", Across: true,
		Condition: dimension.Either, How: "on the centre line at mid-length, bark and inside touched, not pressed; wet and dry differ, so say which",
		Tool: "dial indicator", More: "thick", Less: "thin",
		Sources: []dimension.Source{{Says: "invented", Grade: dimension.FromMemory}},
	}}}
}

// keeper keeps the events of one batch in memory.
type keeper struct {
	batch session.Batch
	evs   []bench.Event
}

func (k *keeper) Start(_ context.Context, b session.Batch, evs []bench.Event) error {
	k.batch, k.evs = b, slices.Clone(evs)
	return nil
}

func (k *keeper) Append(_ context.Context, _ string, _ uint64, evs []bench.Event) error {
	k.evs = append(k.evs, evs...)
	return nil
}

func (k *keeper) Load(context.Context, string) (session.Batch, []bench.Event, error) {
	return k.batch, slices.Clone(k.evs), nil
}

type notes struct{}

func (notes) For(now, _ recipe.Use) ([]bench.Note, error) {
	for _, t := range now.Tools {
		if t.Name == "gouger" {
			return []bench.Note{{ID: "N-1", Revision: 1, Title: "A gouger", Signal: bench.Caution, Hazard: "A blade.", Short: "Behind the blade.", Ask: "Where do your fingers stay?", Accept: []string{"behind"}}}, nil
		}
	}
	return nil, nil
}

// clock stands still until it is moved.
type clock struct {
	mu  sync.Mutex
	now time.Time
}

func (c *clock) Now() time.Time {
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.now
}

func (c *clock) goOn(d time.Duration) {
	c.mu.Lock()
	defer c.mu.Unlock()
	c.now = c.now.Add(d)
}

func start(t *testing.T, c *clock, pieces ...string) *session.Session {
	t.Helper()
	bind := func(session.Snapshot) (*recipe.Bound, error) {
		f, list := recipe.Load("small.yaml", []byte(smallRecipe))
		if f == nil {
			var b strings.Builder
			list.Text(&b)
			return nil, fmt.Errorf("%s", b.String())
		}
		b, list := recipe.Bind(f, smallSet(), tool.Standard())
		if b == nil {
			var s strings.Builder
			list.Text(&s)
			return nil, fmt.Errorf("%s", s.String())
		}
		return b, nil
	}
	out := session.Outside{Keep: &keeper{}, Notes: notes{}, Bind: bind, Now: c.Now, NewID: func() string { return "evening" }, Who: "a player"}
	s, err := session.Start(t.Context(), out, session.Batch{Name: "small", Title: "Small reed, invented"}, bench.Beginning{Pieces: pieces})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func newClock() *clock { return &clock{now: time.Date(2026, 1, 12, 19, 0, 0, 0, time.UTC)} }

// screen runs a window on typed lines and returns what is on its screen.
func screen(t *testing.T, w terminal.Terminal, s *session.Session, c *clock, lines ...string) string {
	t.Helper()
	var out bytes.Buffer
	w.In, w.Out, w.Now, w.Echo = terminal.NewLineReader(strings.NewReader(strings.Join(lines, "\n")+"\n")), &out, c.Now, true
	if err := w.Run(t.Context(), s); err != nil {
		t.Fatal(err)
	}
	if w.Width == 0 {
		w.Width = 60
	}
	for l := range strings.Lines(out.String()) {
		if l = strings.TrimSuffix(l, "\n"); ansi.StringWidth(l) > w.Width {
			t.Errorf("wider than %d: %q", w.Width, l)
		}
	}
	return out.String()
}

func has(t *testing.T, screen string, want ...string) {
	t.Helper()
	rest := screen
	for _, w := range want {
		_, after, ok := strings.Cut(rest, w)
		if !ok {
			t.Errorf("no %q, or not in this order, in\n%s", w, screen)
			return
		}
		rest = after
	}
}

func TestAVerdictIsWordShapePlaceAndLine(t *testing.T) {
	t.Parallel()
	c := newClock()
	s := start(t, c, "1", "2", "3", "4")
	got := screen(t, terminal.Terminal{}, s, c, "", "go on", "behind the edge", "1.31", "straight", "1.335", "-", "1,34 1,31 1,32", "-", "1.37", "1.25")
	has(t, got,
		"> 1.31\n● Right.\n", "[-", "~●~", "]", "1.31 ± 0.0",
		"> 1.335\n? This gauge cannot tell.", "]~△",
		"> -\nTaken back: ",
		"> 1,34 1,31 1,32\n○ Probably right.", "○", "]",
		"> 1.37\n▲ Too thick by 0.04.\n", "]", "▲", "Piece 2: once more.",
		"> 1.25\n▼ Too thin by 0.03.", "▼", "[")
	if strings.Contains(got, "\x1b") {
		t.Error("there is colour that was not asked for")
	}
}

func TestHowToReadIsSaidOnce(t *testing.T) {
	t.Parallel()
	c := newClock()
	got := screen(t, terminal.Terminal{}, start(t, c, "1", "2"), c, "", "go on", "behind the edge", "1.31", "straight", "1.31", "straight")
	if n := strings.Count(got, "on the centre line"); n != 1 {
		t.Errorf("%d times in\n%s", n, got)
	}
	if n := strings.Count(got, "target 1.30"); n != 2 {
		t.Errorf("the target %d times in\n%s", n, got)
	}
}

func TestPlainHasNoPictures(t *testing.T) {
	t.Parallel()
	c := newClock()
	got := screen(t, terminal.Terminal{Plain: true, Colour: true}, start(t, c, "1", "2"), c, "", "go on", "behind the edge", "1.31", "straight", "?", "1.37", "more")
	has(t, got, "Safety note.", "End of the safety note.", "\nRight.\n", "aside: set it aside", "\nToo thick by 0.04.\n")
	for _, sign := range []string{"---", "===", "...", "●", "▲", "⚠", "[", "\x1b"} {
		if strings.Contains(got, sign) {
			t.Errorf("%q is in\n%s", sign, got)
		}
	}
}

// From the line with the ? to the next prompt: one screen.
func TestHelpFitsOneScreen(t *testing.T) {
	t.Parallel()
	for _, lines := range [][]string{
		{"?"}, {"", "?"}, {"", "go on", "?"}, {"", "go on", "behind", "?"}, {"", "go on", "behind", "1.335 1.32", "?"},
		{"", "go on", "behind", "1.31", "?"}, {"", "go on", "behind", "aside", "?"},
	} {
		c := newClock()
		got := screen(t, terminal.Terminal{}, start(t, c, "1"), c, lines...)
		_, help, ok := strings.Cut(got, "> ?\n")
		help, _, more := strings.Cut(help, "\n> ")
		if !ok || !more {
			t.Fatalf("%q: no help in\n%s", lines, got)
		}
		if n := strings.Count(help, "\n") + 3; n > 24 {
			t.Errorf("%q: %d lines\n%s", lines, n, help)
		}
		for _, word := range []string{
			"For this question", "For this piece", "For you", "all but 4 9 done", "skip", "aside", "throw away", "bring back 7", "remark",
			"using X", "wet, dry", "+8 left rail A", "correct 1.13 to 1.31", "who NAME", "piece 7", "through", "by stage", "rack", "more", "quit",
		} {
			if !strings.Contains(help, word) {
				t.Errorf("%q: no %q in\n%s", lines, word, help)
			}
		}
	}
}

func TestHelpTellsHowSureTheLastReadingWas(t *testing.T) {
	t.Parallel()
	c := newClock()
	got := screen(t, terminal.Terminal{}, start(t, c, "1"), c, "", "go on", "behind", "1.335 1.32", "?")
	has(t, got, "> ?\nAsked, for piece 1: ", "target 1.30", "how: dial indicator", "Last reading 1.32 (1), inside. Probability of being inside\n0.58, from 2 readings", "Uncertainty 0.0099 mm: scatter 0.0075 mm, tool 0.0065 mm.", "Enter")
}

func TestWordsOfTheWindow(t *testing.T) {
	t.Parallel()
	c := newClock()
	s := start(t, c, "1", "2")
	got := screen(t, terminal.Terminal{}, s, c, "", "go on", "behind", "through", "by  stage", "who", "who Anna", "piece 2", "1.31", "through", "piece 9", "rack", "more")
	has(t, got,
		"> through\nOne piece is worked right through now", "> by  stage\nAll pieces are worked stage by stage",
		"> who Anna\nAnna is at the bench now.", "> piece 2\n", "Piece 2, stage 2 of 2: gouge", "● Right.",
		"2 through", "> through\nPiece 2: finished.", // the recipe's own answer comes before the word
		"> piece 9\nThere is no piece \"9\".", "> rack\n", "> more\n=====", "A blade.")
	if p := s.State().Piece("2"); p.Place != bench.Finished {
		t.Errorf("piece 2 is %s", p.Place)
	}
	evs := s.State().Events()
	if who := evs[len(evs)-2].Who; who != "Anna" {
		t.Errorf("%q is at the bench", who)
	}
}

func TestComingBack(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		lines []string
		want  []string
	}{
		"Enter":             {[]string{""}, []string{"piece", "Which piece do you take up?", "> \n", "Piece 1, stage 2"}},
		"a number":          {[]string{"2"}, []string{"Which piece", "> 2\n", "Piece 2, stage 2"}},
		"the word":          {[]string{"piece 2"}, []string{"Piece 2, stage 2"}},
		"help, then a slip": {[]string{"?", "rack", "9", "2"}, []string{"as on the rack", "There is no piece \"9\".", "Which piece", "Piece 2, stage 2"}},
		"quit":              {[]string{"quit"}, []string{"Which piece", "Everything is kept"}},
		"nobody there":      {nil, []string{"Which piece", "Everything is kept"}},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			k := newClock()
			s := start(t, k, "1", "2")
			screen(t, terminal.Terminal{}, s, k, "", "go on", "behind")
			k.goOn(48 * time.Hour)
			var out bytes.Buffer
			w := terminal.Terminal{In: terminal.NewLineReader(strings.NewReader(strings.Join(append(c.lines, ""), "\n"))), Out: &out, Width: 60, Now: k.Now, Echo: true, Fresh: true}
			if err := w.Run(t.Context(), s); err != nil {
				t.Fatal(err)
			}
			has(t, out.String(), c.want...)
		})
	}
	// One piece: there is nothing to choose.
	k := newClock()
	if got := screen(t, terminal.Terminal{Fresh: true}, start(t, k, "1"), k, ""); strings.Contains(got, "Which piece") {
		t.Error("asked")
	}
}

// slow gives lines when told to.
type slow chan string

func (s slow) ReadLine() (string, error) {
	if l, ok := <-s; ok {
		return l, nil
	}
	return "", io.EOF
}

// screenNow is written by the window and read by the test.
type screenNow struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (s *screenNow) Write(p []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.b.Write(p)
}

func (s *screenNow) String() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.b.String()
}

// The clock is looked at every minute, and the bell rings when the wait is
// over, once; the prompt stands below it again, and the answer goes on.
func TestABellWhenTheSoakIsOver(t *testing.T) {
	t.Parallel()
	c := newClock()
	s := start(t, c, "1", "2")
	in, out := make(slow), &screenNow{}
	type timer struct {
		d    time.Duration
		fire chan time.Time
	}
	timers := make(chan timer)
	w := terminal.Terminal{In: in, Out: out, Width: 60, Now: c.Now, After: func(d time.Duration) <-chan time.Time {
		fire := make(chan time.Time, 1)
		timers <- timer{d, fire}
		return fire
	}}
	ended := make(chan error)
	go func() { ended <- w.Run(t.Context(), s) }()
	in <- "" // it has begun
	tm := <-timers
	if tm.d != time.Minute {
		t.Errorf("the clock is looked at after %v", tm.d)
	}
	c.goOn(2*time.Hour - 10*time.Second) // the computer slept meanwhile
	tm.fire <- c.Now()
	tm = <-timers
	if tm.d != 10*time.Second || strings.Contains(out.String(), "\a") {
		t.Errorf("then after %v; the screen has\n%s", tm.d, out)
	}
	c.goOn(10 * time.Second)
	tm.fire <- c.Now()
	// No timer runs any more: the next line is taken at once.
	in <- "go on"
	in <- "behind"
	close(in)
	if err := <-ended; err != nil {
		t.Fatal(err)
	}
	got := out.String()
	has(t, got, "> \a\nSoak, pieces 1 and 2: 2 h is over.\n> ", "Piece 1, stage 2", "Noted.")
	if strings.Count(got, "\a") != 1 {
		t.Errorf("rung %d times", strings.Count(got, "\a"))
	}
}

// The same at a real terminal, with an answer half typed.
func TestABellAboveAHalfTypedAnswer(t *testing.T) {
	t.Parallel()
	h := newHand(t)
	c := newClock()
	s := start(t, c, "1", "2")
	timers := make(chan chan time.Time, 1)
	w := terminal.Terminal{In: h.keyboard(), Out: h.near, Width: 60, Now: c.Now, After: func(time.Duration) <-chan time.Time {
		fire := make(chan time.Time, 1)
		timers <- fire
		return fire
	}}
	ended := make(chan error)
	go func() { ended <- w.Run(t.Context(), s) }()
	h.types("\r")
	fire := <-timers
	h.types("go o")
	h.sees("> go o")
	c.goOn(2 * time.Hour)
	fire <- c.Now()
	h.sees("\a\r\nSoak, pieces 1 and 2: 2 h is over.\r\n> go o")
	h.types("n\r")
	h.sees("Where do your fingers stay?")
	h.types("quit\r")
	if err := <-ended; err != nil {
		t.Fatal(err)
	}
}

// A picked piece shows again what was read of it before.
func TestTurningToAReadingThatIsUnsure(t *testing.T) {
	t.Parallel()
	c := newClock()
	got := screen(t, terminal.Terminal{}, start(t, c, "1", "2"), c, "", "go on", "behind", "1,34 1,31 1,32", "piece 2", "piece 1")
	has(t, got, "○ Probably right.", "> piece 1\n", "Piece 1, stage 2 of 2", "so far: 1,34 mm", "[type one more", "~○~", "> ")
}

func TestASignalEndsTheWindow(t *testing.T) {
	t.Parallel()
	c := newClock()
	ctx, stop := context.WithCancel(t.Context())
	var out bytes.Buffer
	w := terminal.Terminal{In: make(slow), Out: &out, Now: c.Now}
	ended := make(chan error)
	go func() { ended <- w.Run(ctx, start(t, c, "1")) }()
	stop()
	if err := <-ended; err != context.Canceled {
		t.Errorf("got %v", err)
	}
}

type faulty struct{}

func (faulty) ReadLine() (string, error) { panic("a fault") }

func TestAFaultInReadingIsAnError(t *testing.T) {
	t.Parallel()
	c := newClock()
	w := terminal.Terminal{In: faulty{}, Out: io.Discard, Now: c.Now}
	if err := w.Run(t.Context(), start(t, c, "1")); err == nil || !strings.Contains(err.Error(), "a fault") {
		t.Errorf("got %v", err)
	}
}
