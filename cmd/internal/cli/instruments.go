package cli

import (
	"context"
	"fmt"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"canewright/engine/dimension"
	"canewright/plugins/host"
)

func newInstrumentsCmd(c *commander) *cobra.Command {
	major := 0
	cmd := &cobra.Command{
		Use: "instruments [NAME]", Short: "List the instruments, or the dimensions of one; add your own", Args: cobra.MaximumNArgs(1),
		Long: `List the instruments there are. With a NAME: every dimension of it, where it is
measured from, in which condition, how, the plausible range, and who says so.
Ranges catch slips of the hand; they are no targets and no tolerances.

An instrument of your own is a folder with one file, instrument.yaml, or a
program: "new" writes one to begin with, "try" checks it, "add" keeps it.`,
		Example: "  canewright instruments\n  canewright instruments bassoon\n  canewright instruments new shawm\n  canewright instruments add shawm",
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return runInstruments(cmd.Context(), c)
			}
			return runInstrument(cmd.Context(), c, args[0], major)
		},
	}
	cmd.Flags().IntVar(&major, "major", 1, "major version of the dimension set")
	c.jsonFlag(cmd)
	c.offerInstruments(cmd, onlyThese)
	cmd.AddCommand(newInstrumentsAddCmd(c), newInstrumentsRemoveCmd(c), newInstrumentsNewCmd(c),
		newInstrumentsTryCmd(c), newInstrumentsDrawCmd(c))
	return cmd
}

func runInstruments(ctx context.Context, c *commander) error {
	w := c.works()
	// One that fails does not hide the others.
	all, fault := w.Host().List(ctx)
	if c.json {
		if err := c.printJSON(all); err != nil {
			return err
		}
		return fault
	}
	for _, s := range all {
		c.printf("%s %d.%d\n", s.ID, s.Major, s.Minor)
		c.wrap("    ", s.Title)
		if a, err := w.Store().Find(s.Name); err == nil && a != nil {
			c.wrap("    ", addedHow(a))
		}
	}
	return fault
}

func addedHow(a *host.Added) string {
	switch {
	case a.Lost != nil:
		return "added; a program, and what was approved of it is not known any more"
	case a.Approval == nil:
		return "added; without code"
	}
	return "added; a program, approved on " + a.Approval.Approved.Format(time.DateOnly)
}

func runInstrument(ctx context.Context, c *commander, name string, major int) error {
	set, err := c.works().Cache().Set(ctx, name, major)
	if err != nil {
		return err
	}
	if c.json {
		return c.printJSON(set)
	}
	c.printf("%s %d.%d: %s\n", set.ID, set.Major, set.Minor, set.Title)
	if set.About != "" {
		c.wrap("", set.About)
	}
	for i := range set.Dimensions {
		c.dimension(&set.Dimensions[i])
	}
	return nil
}

func (c *commander) dimension(d *dimension.Dimension) {
	c.printf("\n%s\n", d.Name)
	line := d.Title
	if len(d.Aliases) > 0 {
		line += " (also: " + strings.Join(d.Aliases, ", ") + ")"
	}
	c.wrap("    ", line)
	var facts []string
	if d.Datum != "" {
		facts = append(facts, "from "+d.Datum)
	}
	if d.Condition != "" && d.Condition != dimension.Either {
		facts = append(facts, string(d.Condition))
	}
	if d.Tool != "" {
		facts = append(facts, d.Tool)
	}
	if d.How != "" {
		facts = append(facts, d.How)
	}
	if len(facts) > 0 {
		c.wrap("    ", strings.Join(facts, "; "))
	}
	if d.Formula != "" {
		c.wrap("    ", "worked out: "+d.Formula)
	}
	if d.Grid != nil {
		c.wrap("    ", fmt.Sprintf("at stations: from %s; lanes %s; blades %s; in formulas %s(3 mm, %s, %s)",
			strings.Join(d.Grid.From, " or "), strings.Join(d.Grid.Lanes, ", "), strings.Join(d.Grid.Blades, ", "), d.Grid.Short, d.Grid.Lanes[0], d.Grid.Blades[0]))
	}
	if d.Plausible.Kind == d.Kind && (d.Plausible.Low.Set || d.Plausible.High.Set) {
		c.wrap("    ", "plausible: "+d.Plausible.Limits())
	}
	for _, s := range d.Sources {
		who := s.Who
		if who == "" {
			who = string(s.Grade)
		} else if s.Grade != dimension.Published {
			who += " (" + string(s.Grade) + ")"
		}
		c.wrap("    - ", s.Says+": "+who)
	}
}
