package cli

import (
	"context"

	"github.com/spf13/cobra"

	"canewright/engine/bench"
	"canewright/engine/diagnostic"
	"canewright/engine/logbook"
)

func newBatchesCmd(c *commander) *cobra.Command {
	cmd := &cobra.Command{
		Use: "batches", Short: "List your batches, the one worked on last first", Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error { return runBatches(cmd.Context(), c) },
	}
	c.jsonFlag(cmd)
	return cmd
}

func runBatches(ctx context.Context, c *commander) error {
	book, err := c.works().Logbook(ctx)
	if err != nil {
		return err
	}
	defer book.Close()
	all, err := book.Batches(ctx)
	if err != nil {
		return err
	}
	if c.json {
		if all == nil {
			all = []logbook.Entry{}
		}
		return c.printJSON(all)
	}
	if len(all) == 0 {
		c.printf("No batch yet. Begin one with: canewright follow RECIPE\n")
		return nil
	}
	for _, b := range all {
		state := "last worked on " + bench.Since(b.Last, c.sys.Now())
		if b.Closed {
			state = "closed, " + bench.Since(b.Last, c.sys.Now())
		}
		c.printf("%s\n", diagnostic.Clean(b.Name))
		c.wrap("    ", b.Title+"; begun "+b.Started.Local().Format("2 January 2006")+"; "+state)
	}
	return nil
}
