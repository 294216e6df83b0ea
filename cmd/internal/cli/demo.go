package cli

import (
	"context"
	_ "embed"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"canewright/cmd/internal/terminal"
	"canewright/cmd/internal/wire"
	"canewright/engine/bench"
	"canewright/engine/logbook"
	"canewright/engine/session"
)

//go:embed demo/recipe.yaml
var demoRecipe []byte

// line is one answer of the demonstration: what is told before it, how long
// after the last one it is given, and what is typed.
type line struct {
	told  string
	after time.Duration
	typed string
}

// An invented batch. Only the readings, the words and the clock are written
// here; every verdict below is worked out as at your own bench.
var demoLines = []line{
	{"Three pieces of cane go into the water.", time.Minute, ""},
	{"Three hours later they have sunk.", 3 * time.Hour, ""},
	{"The gouger has a blade, so its note comes first. It wants an answer, not a key.", time.Minute, "ok"},
	{"", 10 * time.Second, "fingers behind the edge"},
	{"Piece 1 comes out right.", time.Minute, "1.31"},
	{"Piece 2 is too thick, and is gouged once more …", time.Minute, "1.37"},
	{"… and now its readings scatter about the limit: unsure. Three more settle it.", time.Minute, "1,34 1,31 1,32"},
	{"", 10 * time.Second, "1.31 1.31 1.32"},
	{"Piece 3 is too thin. The recipe sets it aside.", time.Minute, "1.25"},
	{"The others rest overnight.", time.Minute, ""},
	{"", 15 * time.Hour, ""},
	{"A new evening, so the notes are shown afresh.", time.Minute, "mandrel and plaque in, fingers behind the edge"},
	{"A slip of the hand: 69.8 for 0.698.", time.Minute, "69.8"},
	{"", 10 * time.Second, "0.698"},
	{"", time.Minute, "0.71"},
	{"", time.Minute, "0.69"},
	{"", time.Minute, "0.70"},
	{"Before the reed goes to the lips: another note.", time.Minute, "wire, or a loose reed"},
	{"Piece 1 crows high. The recipe sends it back to the scrape.", time.Minute, "F4 +40 cents"},
	{"", time.Minute, "0.68"},
	{"", time.Minute, "0.685"},
	{"", time.Minute, "F4 -15 cents"},
	{"And piece 2.", time.Minute, "E4 +30 cents"},
}

func newDemoCmd(c *commander) *cobra.Command {
	return &cobra.Command{
		Use: "demo", Short: "Watch an invented batch being made, in under a minute", Args: cobra.NoArgs,
		Long: `Watch an invented batch of three pieces go through a shortened recipe: a right
reading, a too thick and a too thin one, an unsure one that repeats settle, a
safety note, a piece set aside and one sent back. The readings and the clock are
scripted; everything else is worked out as at your own bench, through the same
plugin, with a logbook of its own that is thrown away at the end.`,
		RunE: func(cmd *cobra.Command, _ []string) error { return runDemo(cmd.Context(), c) },
	}
}

// demoHand types the lines of the demonstration, one for each question, and
// moves the clock.
type demoHand struct {
	out   io.Writer
	width int
	now   time.Time
	left  []line
	rest  string
}

func (h *demoHand) Read(p []byte) (int, error) {
	if h.rest == "" {
		if len(h.left) == 0 {
			return 0, io.EOF
		}
		l := h.left[0]
		h.left = h.left[1:]
		h.now = h.now.Add(l.after)
		h.rest = l.typed + "\n"
		if l.told != "" {
			fmt.Fprintln(h.out)
			for _, s := range terminal.Wrap("    ~ ", l.told, h.width) {
				fmt.Fprintln(h.out, s)
			}
			fmt.Fprint(h.out, "> ")
		}
	}
	n := copy(p, h.rest)
	h.rest = h.rest[n:]
	return n, nil
}

func runDemo(ctx context.Context, c *commander) error {
	dir, err := os.MkdirTemp("", "canewright-demo-")
	if err != nil {
		return fmt.Errorf("make a folder for the demonstration: %w", err)
	}
	defer os.RemoveAll(dir)
	hand := &demoHand{out: c.sys.Out, width: c.sys.Width, now: time.Date(2026, time.January, 12, 17, 0, 0, 0, time.UTC), left: demoLines}
	w := c.works()
	w.Now = func() time.Time { return hand.now }
	w.Fresh = true // it leaves nothing behind
	file := filepath.Join(dir, "demo.yaml")
	if err := os.WriteFile(file, demoRecipe, 0o600); err != nil {
		return fmt.Errorf("write the demonstration's recipe: %w", err)
	}
	r, err := w.Recipe(ctx, file)
	if err != nil {
		return err
	}
	if r.Bound == nil {
		return &wire.InvalidError{Name: "demo", List: r.List}
	}
	r.Snapshot.RecipeName = "demo.yaml"
	book, err := logbook.Open(ctx, filepath.Join(dir, "logbook"))
	if err != nil {
		return err
	}
	defer book.Close()
	out, err := w.Outside(book)
	if err != nil {
		return err
	}
	s, err := session.Start(ctx, out, session.Batch{Name: "demo", Title: r.Bound.File.Title, Snapshot: r.Snapshot}, bench.Beginning{Pieces: []string{"1", "2", "3"}})
	if err != nil {
		return err
	}
	c.wrap("", "An invented batch of three pieces. What follows ~ is told; what follows > is typed.")
	t := &terminal.Terminal{In: terminal.NewLineReader(hand), Out: c.sys.Out, Width: c.sys.Width, Echo: true, Plain: c.sys.Plain, Colour: c.sys.Colour, Now: w.Now}
	if err := t.Run(ctx, s); err != nil {
		return err
	}
	if n := len(hand.left); n > 0 {
		return fmt.Errorf("play the demonstration: %d answers were left over at %q", n, hand.left[0].told)
	}
	c.printf("\n%s\nWhat the logbook kept of it:\n\n", strings.Repeat("-", c.sys.Width))
	for _, l := range bench.Rack(s.State(), w.Now()) {
		c.wrap("  ", l)
	}
	c.printf("  %d events, each on disk before the next question\n", len(s.State().Events()))
	c.printf("\nNow your own: canewright follow bassoon/from-shaped-cane\n")
	return nil
}
