package cli

import (
	"slices"

	"github.com/spf13/cobra"
)

func newInstrumentsRemoveCmd(c *commander) *cobra.Command {
	cmd := &cobra.Command{
		Use: "remove NAME", Short: "Take away an instrument you have added", Args: cobra.ExactArgs(1),
		Long: `Take away an instrument you have added, and forget what you said yes to. Batches
that were begun with it keep their own copy of its dimensions and go on.`,
		Example: "  canewright instruments remove shawm",
		RunE:    func(_ *cobra.Command, args []string) error { return runInstrumentsRemove(c, args[0]) },
	}
	cmd.ValidArgsFunction = func(_ *cobra.Command, args []string, _ string) ([]cobra.Completion, cobra.ShellCompDirective) {
		if len(args) > 0 {
			return nil, onlyThese
		}
		return c.works().Store().Names(), onlyThese
	}
	return cmd
}

func runInstrumentsRemove(c *commander, name string) error {
	store := c.works().Store()
	if slices.Contains(store.Taken, name) {
		return hinted{usagef("remove instrument %s: it comes with canewright and stays", name), "only instruments you have added can be removed"}
	}
	if err := store.Remove(name); err != nil {
		return err
	}
	c.printf("Removed %s. Batches begun with it keep their copy of its dimensions.\n", name)
	return nil
}
