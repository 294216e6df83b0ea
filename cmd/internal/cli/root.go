package cli

import (
	"encoding/json"
	"strings"

	"github.com/spf13/cobra"
)

func newRootCmd(c *commander) *cobra.Command {
	root := &cobra.Command{
		Use:   "canewright",
		Short: "Recipes for double reeds: follow them, judge every reading, keep the record",
		Long: `canewright steps you through a recipe for a double reed. It judges every
reading you take, shows the safety note before the blade, and keeps all of it in
a logbook of your own.

Begin with:
  canewright demo                                   see it work, in a minute
  canewright follow bassoon/from-shaped-cane        make reeds
  canewright follow --resume                        go on where you were
  canewright judge --target "1.30 +0.03 -0.02 mm" 1,31`,
		SilenceErrors: true,
		SilenceUsage:  true,
	}
	root.CompletionOptions.HiddenDefaultCmd = true
	root.SetUsageTemplate(strings.NewReplacer(
		".FlagUsages ", ".FlagUsagesWrapped 80 ", // columns
		" for more information about a command.", " says more of a command.",
	).Replace(root.UsageTemplate()))
	root.PersistentFlags().StringVar(&c.book, "logbook", "", "the logbook's `FILE` (default: canewright/logbook in your data folder)")
	root.AddCommand(newFollowCmd(c), newJudgeCmd(c), newCheckCmd(c), newShowCmd(c), newRecipesCmd(c), newBatchesCmd(c),
		newBatchCmd(c), newInstrumentsCmd(c), newSafetyCmd(c), newDemoCmd(c), newVersionCmd(c),
		newExportCmd(c), newAdviseCmd(c), newExplainCmd(c), newSheetCmd(c), newCompletionCmd(c),
		newAdaptCmd(c),
		newMyToolsCmd(c),
		newReviewCmd(c),
		newCompareCmd(c),
		newPackCmd(c), newOpenCmd(c), newLibraryCmd(c),
		newNewCmd(c),
		newPrintCmd(c),
	)
	return root
}

// jsonFlag gives a command --json.
func (c *commander) jsonFlag(cmd *cobra.Command) {
	cmd.Flags().BoolVar(&c.json, "json", false, "print JSON, for scripts")
}

func (c *commander) printJSON(v any) error {
	e := json.NewEncoder(c.sys.Out)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	return e.Encode(v)
}
