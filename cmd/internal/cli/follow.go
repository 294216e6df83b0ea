package cli

import (
	"context"
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"canewright/cmd/internal/terminal"
	"canewright/cmd/internal/wire"
	"canewright/engine/bench"
	"canewright/engine/diagnostic"
	"canewright/engine/logbook"
	"canewright/engine/session"
)

type followOptions struct {
	recipe string
	resume bool
	batch  string
	pieces int
}

func newFollowCmd(c *commander) *cobra.Command {
	o := followOptions{}
	cmd := &cobra.Command{
		Use:   "follow RECIPE | follow --resume [BATCH]",
		Short: "Follow a recipe step by step, or go on with a batch",
		Long: `Follow a recipe: one question at a time. Type a reading (1.31 or 1,31, with or
without its unit) and Enter; type ? for all words. Every answer is on disk before
the next question appears, so you may stop at any moment.

RECIPE is a bundled name (canewright recipes) or the path of a file.
--resume goes on with BATCH, or with the batch worked on last.`,
		Example: "  canewright follow bassoon/from-shaped-cane --pieces 4 --batch november\n  canewright follow --resume november\n  canewright follow my-recipe.yaml",
		Args:    cobra.MaximumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 1 {
				o.recipe = args[0]
			}
			return runFollow(cmd.Context(), c, o)
		},
	}
	cmd.Flags().BoolVar(&o.resume, "resume", false, "go on with a batch")
	cmd.Flags().StringVar(&o.batch, "batch", "", "a `NAME` for the new batch (default: the recipe and the date)")
	cmd.Flags().IntVar(&o.pieces, "pieces", 1, "how many pieces of cane are started together (1 to 200)")
	return cmd
}

func runFollow(ctx context.Context, c *commander, o followOptions) error {
	switch {
	case o.resume:
		return runResume(ctx, c, o)
	case o.recipe == "":
		return hinted{usagef("follow: which recipe?"), "canewright recipes lists the bundled ones; canewright follow --resume goes on with a batch"}
	case o.pieces < 1 || o.pieces > 200:
		return usagef("follow: %d pieces; a batch has 1 to 200", o.pieces)
	}
	w := c.works()
	// The logbook opens while the recipe is read and the instrument starts.
	type opened struct {
		book *logbook.Logbook
		err  error
	}
	books := make(chan opened, 1)
	go func() {
		b, err := w.Logbook(ctx)
		books <- opened{b, err}
	}()
	r, err := w.Recipe(ctx, o.recipe)
	b := <-books
	if b.book != nil {
		defer b.book.Close()
	}
	switch {
	case err != nil:
		return err
	case r.Bound == nil:
		return &wire.InvalidError{Name: o.recipe, List: r.List}
	case b.err != nil:
		return b.err
	}
	if r.List.Len() > 0 {
		r.List.Text(c.sys.Err)
	}
	out, err := w.Outside(b.book)
	if err != nil {
		return err
	}
	pieces := make([]string, o.pieces)
	for i := range pieces {
		pieces[i] = strconv.Itoa(i + 1)
	}
	name, err := c.batchName(ctx, b.book, o.batch, r.Bound.File.ID)
	if err != nil {
		return err
	}
	s, err := session.Start(ctx, out, session.Batch{Name: name, Title: r.Bound.File.Title, Snapshot: r.Snapshot}, pieces)
	if err != nil {
		return err
	}
	c.wrap("", fmt.Sprintf("%s: batch %s, %s.", r.Bound.File.Title, name, count(o.pieces, "piece")))
	return c.run(ctx, s)
}

func count(n int, word string) string {
	if n == 1 {
		return "1 " + word
	}
	return strconv.Itoa(n) + " " + word + "s"
}

// batchName is the name asked for, or one made of recipe and date that is free.
func (c *commander) batchName(ctx context.Context, book *logbook.Logbook, asked, id string) (string, error) {
	if asked != "" {
		if strings.TrimSpace(asked) != asked || len(asked) > 80 || strings.ContainsFunc(asked, diagnostic.Unsafe) || strings.HasPrefix(asked, "-") {
			return "", usagef("follow: %q cannot be the name of a batch; use up to 80 letters, digits and signs", diagnostic.Clean(asked))
		}
		return asked, nil
	}
	all, err := book.Batches(ctx)
	if err != nil {
		return "", err
	}
	taken := map[string]bool{}
	for _, b := range all {
		taken[b.Name] = true
	}
	base := id + "-" + c.sys.Now().Format("2006-01-02")
	name := base
	for n := 2; taken[name]; n++ {
		name = base + "-" + strconv.Itoa(n)
	}
	return name, nil
}

func runResume(ctx context.Context, c *commander, o followOptions) error {
	w := c.works()
	book, err := w.Logbook(ctx)
	if err != nil {
		return err
	}
	defer book.Close()
	name := o.recipe
	if name == "" {
		name = o.batch
	}
	if name == "" {
		if name, err = lastOpen(ctx, book); err != nil {
			return err
		}
	}
	out, err := w.Outside(book)
	if err != nil {
		return err
	}
	s, fresh, err := session.Resume(ctx, out, name)
	if err != nil {
		return err
	}
	c.wrap("", fmt.Sprintf("%s: batch %s goes on.", s.Batch().Title, name))
	if fresh {
		for _, l := range bench.Rack(s.State(), c.sys.Now()) {
			c.wrap("  ", l)
		}
	}
	return c.run(ctx, s)
}

func lastOpen(ctx context.Context, book *logbook.Logbook) (string, error) {
	all, err := book.Batches(ctx)
	if err != nil {
		return "", err
	}
	for _, b := range all {
		if !b.Closed {
			return b.Name, nil
		}
	}
	return "", hinted{usagef("go on with a batch: none is open"), "begin one with: canewright follow RECIPE"}
}

func (c *commander) run(ctx context.Context, s *session.Session) error {
	t := &terminal.Terminal{In: terminal.NewLineReader(c.sys.In), Out: c.sys.Out, Width: c.sys.Width, Echo: !c.sys.Typed, Now: c.sys.Now}
	done := make(chan error, 1)
	// Reading a line cannot be interrupted; a signal ends the program beside it.
	go func() { done <- t.Run(ctx, s) }()
	select {
	case err := <-done:
		return err
	case <-ctx.Done():
		return ctx.Err()
	}
}

func (c *commander) wrap(lead, text string) {
	for _, l := range terminal.Wrap(lead, text, c.sys.Width) {
		c.printf("%s\n", l)
	}
}
