package cli

import (
	"strings"

	"github.com/spf13/cobra"
)

func newSafetyCmd(c *commander) *cobra.Command {
	cmd := &cobra.Command{
		Use: "safety [WORD]", Short: "Read the safety notes", Args: cobra.ArbitraryArgs,
		Long: `Read the safety notes: all in one line each, or in full those for a word: a tool
(knife, "tip cutter"), a material (cement), an action (scrape), or a note's own
id. The label and data sheet of the product in your hand, the instructions of
the tool's maker, and local rules come before every note here.`,
		Example: "  canewright safety\n  canewright safety knife\n  canewright safety SN-CH-04",
		RunE:    func(_ *cobra.Command, args []string) error { return runSafety(c, strings.Join(args, " ")) },
	}
	c.jsonFlag(cmd)
	return cmd
}

func runSafety(c *commander, word string) error {
	notes, err := c.works().Notes()
	if err != nil {
		return err
	}
	all := notes.All()
	if word != "" {
		if all = notes.Word(word); len(all) == 0 {
			return hinted{usagef("find safety notes: none is about %q", word), "canewright safety lists all; no note does not mean no danger"}
		}
	}
	if c.json {
		return c.printJSON(struct {
			Precedence []string `json:"precedence"`
			Notes      any      `json:"notes"`
		}{notes.Precedence(), all})
	}
	for _, l := range notes.Precedence() {
		c.wrap("", l)
	}
	for _, n := range all {
		if word == "" {
			c.wrap("", n.OneLine())
			continue
		}
		c.printf("%s\n", strings.Repeat("=", c.sys.Width))
		for _, l := range n.Whole(c.sys.Width) {
			c.printf("%s\n", l)
		}
	}
	return nil
}
