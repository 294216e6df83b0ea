package cli

import (
	"bufio"
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"canewright/engine/bench"
	"canewright/engine/diagnostic"
	"canewright/engine/logbook"
)

// mostBatches are listed unasked: a few screens.
const mostBatches = 40

func newBatchesCmd(c *commander) *cobra.Command {
	every := false
	cmd := &cobra.Command{
		Use: "batches", Short: "List your batches, the one worked on last first", Args: cobra.NoArgs,
		Long: fmt.Sprintf(`List your batches, the one worked on last first: the %d newest, or with --all
every one. With --json it is every one.`, mostBatches),
		RunE: func(cmd *cobra.Command, _ []string) error { return runBatches(cmd.Context(), c, every) },
	}
	cmd.Flags().BoolVar(&every, "all", false, "list every batch")
	c.jsonFlag(cmd)
	return cmd
}

func runBatches(ctx context.Context, c *commander, every bool) error {
	book, err := c.openBook(ctx)
	if err != nil {
		return err
	}
	defer book.Close()
	var list []logbook.Entry
	n := 0
	if every || c.json {
		list, err = book.Batches(ctx)
		n = len(list)
	} else {
		list, n, err = book.Newest(ctx, mostBatches)
	}
	if err != nil {
		return err
	}
	flush := c.buffered()
	if c.json {
		if list == nil {
			list = []logbook.Entry{}
		}
		if err := c.printJSON(list); err != nil {
			return err
		}
		return flush()
	}
	if n == 0 {
		c.printf("No batch yet. Begin one with: canewright follow RECIPE\n")
		return flush()
	}
	for _, b := range list {
		state := "last worked on " + bench.Since(b.Last, c.sys.Now())
		if b.Closed {
			state = "closed, " + bench.Since(b.Last, c.sys.Now())
		}
		c.printf("%s\n", diagnostic.Clean(b.Name))
		c.wrap("    ", b.Title+"; begun "+b.Started.Local().Format("2 January 2006")+"; "+state)
	}
	if more := n - len(list); more > 0 {
		c.printf("%d more: canewright batches --all\n", more)
	}
	return flush()
}

// openBook opens the logbook, and says so where it was brought to a newer format.
func (c *commander) openBook(ctx context.Context) (*logbook.Logbook, error) {
	book, err := c.works().Logbook(ctx)
	if err == nil && book.Before() != "" {
		fmt.Fprintf(c.sys.Err, "canewright: the logbook was brought to today's format; as it was before it is kept in %s\n", book.Before())
	}
	return book, err
}

// buffered collects what is printed until flush: a long history in one write
// for every line would take several times as long.
func (c *commander) buffered() (flush func() error) {
	b := bufio.NewWriterSize(c.sys.Out, 32<<10)
	c.sys.Out = b
	return b.Flush
}
