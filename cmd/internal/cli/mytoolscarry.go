package cli

import (
	"context"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"canewright/cmd/internal/wire"
	"canewright/engine/diagnostic"
	"canewright/engine/toolbox"
)

func newMyToolsCarryCmd(c *commander, o *myToolsOptions) *cobra.Command {
	cmd := &cobra.Command{
		Use: "carry RECIPE", Short: "What of a recipe carries over to your tools", Args: cobra.ExactArgs(1),
		Long: `Say of every setting and target of a recipe what becomes of it on your tools:

changes          from what to what, by how much, and the sum, link by link
cannot be known  and what you would have to measure, or ask the recipe's author
carries over     as it is
cannot be kept   a rule about the gouge that your gouger breaks as it stands

The recipe's own tools are read from its settings, named as canewright my-tools
names them (shaper.fold, shaper.butt, mandrel.tip, mandrel.line_at, bocal.tip,
bocal.taper, gouger.bed, gouger.blade, profiler.length …; shaper.width and
bed.length too), and from its targets. What it does not state is not made up.

The sums: two blades w wide make a tube w·2/π across; a tube wider by d goes d
divided by the taper further on to a cone; a place counted from the bottom of
the staple moves with its length; the side of a gouge follows from bed, blade,
centre and how far round it is read. A tolerance goes along with its target, and
keeps its width, or is stretched as two tapers differ. The uncertainty is that
of the last places written: 15.0 mm is worth more than 15 mm.

Nothing is written. A number is where the same work would lead, not an order: no
cane comes off because of it.`,
		Example: "  canewright my-tools carry bassoon/from-tube\n  canewright my-tools carry colleague.yaml --json",
		RunE:    func(cmd *cobra.Command, args []string) error { return runMyToolsCarry(cmd.Context(), c, o, args[0]) },
	}
	c.jsonFlag(cmd)
	c.offerRecipes(cmd, false)
	return cmd
}

func runMyToolsCarry(ctx context.Context, c *commander, o *myToolsOptions, name string) error {
	box, _, err := c.myTools(o)
	if err != nil {
		return err
	}
	r, err := c.works().Recipe(ctx, name)
	if err != nil {
		return err
	}
	if r.Bound == nil {
		return &wire.InvalidError{Name: name, List: r.List}
	}
	if o.only != "" && o.only != r.Bound.File.Instrument {
		return usagef("carry %s over to tools for %s: the recipe is for %s", diagnostic.Clean(name), diagnostic.Clean(o.only), diagnostic.Clean(r.Bound.File.Instrument))
	}
	out := toolbox.Carry(r.Bound, box)
	if c.json {
		return c.printJSON(map[string]any{"recipe": r.Bound.File.ID, "version": r.Bound.File.Version, "instrument": r.Bound.File.Instrument, "states": out.States, "entries": out.Entries})
	}
	flush := c.buffered()
	c.printf("%s, version %d\n", diagnostic.Clean(r.Bound.File.ID), r.Bound.File.Version)
	var states []string
	for _, f := range toolbox.Fields() {
		if v, ok := out.States[f.Name()]; ok {
			states = append(states, f.Name()+" "+v)
		}
	}
	if len(states) == 0 {
		states = []string{"nothing"}
	}
	c.clean("", "Of its own tools the recipe states: "+strings.Join(states, ", ")+".")
	for _, v := range []toolbox.Verdict{toolbox.Changes, toolbox.Breaks, toolbox.Unknown, toolbox.Carries} {
		if out.Count(v) > 0 {
			c.printf("\n%s (%d)\n", strings.ToUpper(string(v)), out.Count(v))
			c.printCarried(out.Entries, v)
		}
	}
	return flush()
}

func (c *commander) printCarried(all []toolbox.Entry, v toolbox.Verdict) {
	var plain []string
	asked := map[string]bool{}
	for _, e := range all {
		if e.Verdict != v {
			continue
		}
		if v == toolbox.Carries && len(e.Why) == 0 && e.Note == "no tool of yours decides it" {
			if name := e.Name; !slices.Contains(plain, name) {
				plain = append(plain, name)
			}
			continue
		}
		head := e.Name
		if e.Stage != "" {
			head += ", at " + e.Stage
		}
		if e.Name != e.Was {
			head += ": " + e.Was
		}
		if e.Now != "" {
			head += " -> " + e.Now
		}
		if e.Also != "" {
			head += " (" + e.Also + ")"
		}
		c.clean("  ", head)
		if e.Change != "" {
			line := e.Change
			if e.Uncertain != "" {
				line += "; " + e.Uncertain
			}
			c.clean("      ", line)
		}
		if len(e.Why) > 0 {
			c.clean("      ", strings.Join(e.Why, " -> "))
		}
		for _, a := range e.Ask {
			// A long list asks each thing once in full.
			if asked[a] {
				a, _, _ = strings.Cut(a, " (")
			} else {
				asked[a] = true
			}
			c.clean("      ? ", a)
		}
		if e.Note != "" {
			c.clean("      ", e.Note)
		}
	}
	if len(plain) > 0 {
		c.clean("  ", "no tool of yours decides: "+strings.Join(plain, ", "))
	}
}
