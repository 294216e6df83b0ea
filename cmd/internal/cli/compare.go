package cli

import (
	"context"

	"github.com/spf13/cobra"

	"canewright/cmd/internal/wire"
	"canewright/engine/comparison"
	"canewright/engine/diagnostic"
	"canewright/engine/recipe"
)

type compareOptions struct {
	a, b, file string
	svg, png   bool
	all, exit  bool
}

func newCompareCmd(c *commander) *cobra.Command {
	o := compareOptions{}
	cmd := &cobra.Command{
		Use: "compare A B", Short: "Compare two recipes by what they mean, not line by line", Args: cobra.ExactArgs(2),
		Long: `Compare two recipes: their targets in one unit and from one place, their
settings, waits, tools and stages, and rules that cannot both hold.

A dimension counts from one end of the reed, and a recipe may give another one
that counts the same place from the other end: first wire from the fold, tip
above the first wire. Where the instrument says how one is worked out from the
other, the number is carried over with the length the same recipe has in force
at that stage, the tolerances of both with it (interval arithmetic), and it is
said with which length. Nothing is carried over with the other recipe's length.

Every pair of numbers is one of these. The middle is the number before ±, else
the middle of the limits, else the one limit; a limit is inside.
  the same          limits and middle are equal
  by rounding only  middles and limits differ by less than half the last places
                    of both together (1 1/16 in may be 1/32 in more or less;
                    27 ± 0.5 mm is 27.0 mm), and the limits share values
  overlapping       the middle of one is inside the other's limits
  real              the middle of each is outside the other's limits
  not comparable    sizes across, masses and pitches read wet in one and dry in
                    the other; gauges that read in units of their own; a number
                    counted from elsewhere that cannot be carried over; the same
                    name for two things
A wait is compared in the same way: at least and at most are its limits, usual
its middle. Settings have no tolerance: they are real where no rounding tells
the difference. Stations of a blade are compared at equal places.

Stages belong together when they do the same in everything; else by their name,
if they are alike by a tenth; else the most alike first, if they are alike by
half. What they measure counts most, then what is done, then tools, materials,
waits, looks and the name.

Of rules only what is proved is said. --svg or --png draws both reeds to scale
from the same place, with lines between marks that differ; what a recipe does
not say is drawn as the instrument's usual. Other places the recipes give, such
as the fold, are marked too.

Exit code 0: compared, whatever differs; with --exit-code 1: there are real
differences.`,
		Example: "  canewright compare oboe/long-scrape oboe/short-scrape\n" +
			"  canewright compare mine.yaml teachers.yaml --png -o both.png\n" +
			"  canewright compare old.yaml new.yaml --exit-code",
		RunE: func(cmd *cobra.Command, args []string) error {
			o.a, o.b = args[0], args[1]
			return runCompare(cmd.Context(), c, o)
		},
	}
	cmd.Flags().BoolVar(&o.all, "all", false, "show what is the same too, and how stages are worded")
	cmd.Flags().BoolVar(&o.svg, "svg", false, "draw both reeds as an SVG file")
	cmd.Flags().BoolVar(&o.png, "png", false, "draw both reeds as a PNG file, 200 dots to the inch")
	cmd.Flags().StringVarP(&o.file, "output", "o", "", "with --svg or --png: write to `FILE`, which must not exist")
	cmd.Flags().BoolVar(&o.exit, "exit-code", false, "exit with 1 when there are real differences")
	c.jsonFlag(cmd)
	c.offerRecipes(cmd, true)
	return cmd
}

func runCompare(ctx context.Context, c *commander, o compareOptions) error {
	switch {
	case o.svg && o.png:
		return usagef("compare: --svg or --png, not both")
	case (o.svg || o.png) && c.json:
		return usagef("compare: a picture or --json, not both")
	case o.file != "" && !o.svg && !o.png:
		return hinted{usagef("compare: --output belongs to a picture"), "add --svg or --png"}
	}
	w := c.works()
	a, err := c.bound(ctx, w, o.a)
	if err != nil {
		return err
	}
	b, err := c.bound(ctx, w, o.b)
	if err != nil {
		return err
	}
	found := comparison.Of(a, b)
	switch {
	case c.json:
		if err := c.printJSON(found); err != nil {
			return err
		}
	case o.svg || o.png:
		if err := c.drawBoth(found, a, b, o); err != nil {
			return err
		}
	default:
		flush := c.buffered()
		for _, l := range found.Tell(o.all) {
			if l.Text == "" && l.Lead == "" {
				c.printf("\n")
				continue
			}
			c.wrap(l.Lead, diagnostic.Clean(l.Text))
		}
		if err := flush(); err != nil {
			return err
		}
	}
	if o.exit && found.Counts.Real > 0 {
		return errShown{exitFailed}
	}
	return nil
}

// bound is a recipe that can be used; its warnings are check's matter.
func (c *commander) bound(ctx context.Context, w *wire.Works, name string) (*recipe.Bound, error) {
	r, err := w.Recipe(ctx, name)
	if err != nil {
		return nil, err
	}
	if r.Bound == nil {
		return nil, &wire.InvalidError{Name: name, List: r.List}
	}
	return r.Bound, nil
}
