package cli

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"canewright/engine/diagnostic"
	"canewright/engine/dimension"
	"canewright/engine/picture"
	"canewright/engine/quantity"
)

type instrumentsDrawOptions struct {
	name, file string
	major      int
	svg, png   bool
	set        []string
}

func newInstrumentsDrawCmd(c *commander) *cobra.Command {
	o := instrumentsDrawOptions{}
	cmd := &cobra.Command{
		Use: "draw NAME", Short: "Draw an instrument's reed to scale from its dimensions", Args: cobra.ExactArgs(1),
		Long: `Draw the reed of an instrument to scale: from the flat of the blades and, where
the numbers for it are there, from the side and from the tip. A number that you
do not say is the usual one of the instrument, else the middle of its plausible
range; the drawing says which are assumed, and what is left out for want of a
number. They are no targets.

--set says a number, by a dimension's name or by the words the drawing has for
it.`,
		Example: "  canewright instruments draw bassoon -o bassoon.svg\n" +
			"  canewright instruments draw oboe --png -o oboe.png --set overall=72mm --set \"tip.opening=0.8 mm\"",
		RunE: func(cmd *cobra.Command, args []string) error {
			o.name = args[0]
			return runInstrumentsDraw(cmd.Context(), c, o)
		},
	}
	cmd.Flags().BoolVar(&o.svg, "svg", false, "an SVG file (the default, unless FILE ends in .png)")
	cmd.Flags().BoolVar(&o.png, "png", false, "a PNG file, 200 dots to the inch")
	cmd.Flags().StringVarP(&o.file, "output", "o", "", "write to `FILE`, which must not exist")
	cmd.Flags().StringArrayVar(&o.set, "set", nil, "`DIMENSION=VALUE`: draw with this number; may be given again")
	cmd.Flags().IntVar(&o.major, "major", 1, "major version of the dimension set")
	c.offerInstruments(cmd, onlyThese)
	return cmd
}

func runInstrumentsDraw(ctx context.Context, c *commander, o instrumentsDrawOptions) error {
	if o.svg && o.png {
		return usagef("draw: --svg or --png, not both")
	}
	png := o.png || !o.svg && strings.HasSuffix(strings.ToLower(o.file), ".png")
	set, err := c.works().Cache().Set(ctx, o.name, o.major)
	if err != nil {
		return err
	}
	if set.Outline == nil {
		return hinted{fmt.Errorf("draw %s: its plugin does not say how its reed is drawn", set.ID), "canewright instruments " + set.ID + " lists its dimensions"}
	}
	own, err := drawnWith(set, o.set)
	if err != nil {
		return err
	}
	figure, err := set.Figure(own)
	if _, ok := errors.AsType[*dimension.NoNumbersError](err); ok {
		return hinted{usagef("draw %s: %w", set.ID, err), "give yours, such as --set overall=55mm"}
	}
	if err != nil {
		return usagef("draw %s: %w", set.ID, err)
	}
	reed := reedOf(set, figure)
	draw := reed.SVG
	if png {
		draw = reed.PNG
	}
	drawing, err := draw()
	if err != nil {
		return fmt.Errorf("draw %s: %w", set.ID, err)
	}
	if o.file == "" {
		_, err = c.sys.Out.Write(drawing)
		return err
	}
	if err := writeNew("drawing", o.file, drawing); err != nil {
		return err
	}
	c.printf("Wrote %s.\n", o.file)
	return nil
}

// drawnWith reads the player's own numbers.
func drawnWith(set *dimension.Set, all []string) (map[string]quantity.Entered, error) {
	out := map[string]quantity.Entered{}
	for _, text := range all {
		name, value, ok := strings.Cut(text, "=")
		if !ok {
			return nil, hinted{usagef("draw %s: --set %q has no value", set.ID, diagnostic.Clean(text)), "write it as --set overall=55mm"}
		}
		word, kind, bare, ok := set.Drawn(name)
		if !ok {
			hint := "canewright instruments " + set.ID + " lists the dimensions"
			if d, found := set.Find(name); found && d.Formula != "" {
				hint = d.Name + " is worked out: " + d.Formula + "; say those"
			} else if near := set.Near(name); near != "" {
				hint = "did you mean " + near + "?"
			}
			return nil, hinted{usagef("draw %s: %q is nothing that is drawn with", set.ID, diagnostic.Clean(name)), hint}
		}
		if _, twice := out[word]; twice {
			return nil, usagef("draw %s: two values for %s", set.ID, word)
		}
		e, err := quantity.Parse(strings.TrimSpace(value), quantity.Style{Want: kind, Bare: bare})
		if err != nil {
			return nil, usagef("draw %s: read the value for %s: %w", set.ID, word, err)
		}
		out[word] = e
	}
	return out, nil
}

// reedOf is a figure as a picture.
func reedOf(set *dimension.Set, f *dimension.Figure) picture.Reed {
	title := diagnostic.Clean(set.Title)
	r := picture.Reed{
		Title: strings.ToUpper(title[:1]) + title[1:] + ": the reed, to scale",
		Under: []string{fmt.Sprintf("from the dimensions of %s %d.%d; no target", set.ID, set.Major, set.Minor)},
		From:  f.From,
	}
	for _, p := range f.Parts {
		part := picture.ReedPart{Title: p.Title, Look: string(p.Look), Smooth: p.Smooth}
		for _, x := range p.Points {
			part.Points = append(part.Points, picture.ReedPoint(x))
		}
		r.Parts = append(r.Parts, part)
	}
	for _, m := range f.Marks {
		text := millimetres(m.At) + ", " + m.Title
		if m.Middle != m.At {
			text += "; in the middle " + millimetres(m.Middle)
		}
		r.Marks = append(r.Marks, picture.ReedMark{Text: text, As: string(m.As), At: m.At, Middle: m.Middle, Thick: m.Thick, Turns: m.Turns, Covered: m.Covered})
	}
	if t := f.Tip; t != nil {
		r.Tip = &picture.ReedTip{Text: "tip from its end, " + millimetres(t.Opening) + " open", Width: t.Width, Opening: t.Opening, Thickness: t.Thickness}
	}
	r.Tables = basisTables(f)
	if wants := f.Wants(); wants != "" {
		r.Notes = append(r.Notes, "Not drawn: "+wants+". --set NAME=VALUE gives one.")
	}
	r.Notes = append(r.Notes, f.Unsure...)
	return r
}

// basisTables sort the numbers by who says them.
func basisTables(f *dimension.Figure) []picture.ReedTable {
	const yours, sources, worked, assumed, middle = 0, 1, 2, 3, 4
	tables := []picture.ReedTable{
		yours: {Head: "Your numbers"}, sources: {Head: "From sources"}, worked: {Head: "Worked out"},
		assumed: {Head: "Assumed, from memory or common practice"}, middle: {Head: "Assumed, the middle of what is plausible"},
	}
	for _, u := range f.Used {
		to, row := assumed, u.Title+" "+u.Text
		switch {
		case u.Basis == dimension.BasisChosen:
			to = yours
		case u.Basis == dimension.BasisMiddle:
			to = middle
		case u.Source.Grade == dimension.Published:
			to, row = sources, row+" ("+u.Source.Who+")"
		case u.Source.Grade == dimension.Worked:
			to, row = worked, row+" ("+u.Source.Says+")"
		}
		tables[to].Rows = append(tables[to].Rows, row)
	}
	return slices.DeleteFunc(tables, func(t picture.ReedTable) bool { return len(t.Rows) == 0 })
}

// millimetres writes a place to the hundredth.
func millimetres(nm int64) string {
	mm := quantity.Main(quantity.Length)
	const hundredth = 10_000
	half := int64(hundredth / 2)
	if nm < 0 {
		half = -half
	}
	return quantity.Format(quantity.Value{Kind: quantity.Length, Q: (nm + half) / hundredth * hundredth}, mm, 0)
}
