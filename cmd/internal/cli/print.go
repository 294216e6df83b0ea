package cli

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"canewright/cmd/internal/paper"
	"canewright/cmd/internal/wire"
	"canewright/engine/bench"
	"canewright/engine/diagnostic"
	"canewright/engine/recipe"
	"canewright/engine/session"
)

type printOptions struct {
	pieces, tubes              int
	marks, batch, format, file string
	paper                      string
	stages                     []string
	sources                    bool
}

func newPrintCmd(c *commander) *cobra.Command {
	o := printOptions{}
	cmd := &cobra.Command{
		Use: "print [RECIPE]", Short: "Print safety notes, a card of boxes and strips to scale", Args: cobra.MaximumNArgs(1),
		Long: `Print a recipe on paper, for A4 or letter, in black:

  the safety notes of everything it uses, whole, the gravest first;
  a card: a table a stage, a row a piece, a box for everything that is asked,
  the targets in mm and in inches. Its boxes are those of show --card, and are
  typed back in the same order with: canewright follow --resume BATCH --later
  strips drawn 1 : 1, to lay beside cane and reed: wires, collar, fold, tip,
  with a bar to measure first. A checklist has none.

Print at 100 %, "actual size", and measure the bar: what is fitted to the page
is too small by a few per cent, and every mark with it.

Limits in inches are rounded inward, so what is inside in inches is inside in
mm; mm decide.

--batch prints the card of a batch that was begun: its marks, and what was typed
in already stands in its box. The batch keeps its recipe, so RECIPE may be left
out.

PDF is one file. SVG is one file a page: from -o card.svg come card-1.svg,
card-2.svg and so on. A file that is there already is never written over.`,
		Example: `  canewright print bassoon/from-shaped-cane --pieces 6 -o reeds.pdf
  canewright print my-recipe.yaml --marks "3 7 9" --paper letter -o reeds.pdf
  canewright print --batch november --stage "second scrape" -o tonight.pdf
  canewright print oboe/short-scrape --format svg -o oboe.svg`,
		RunE: func(cmd *cobra.Command, args []string) error {
			name := ""
			if len(args) > 0 {
				name = args[0]
			}
			return runPrint(cmd, c, name, o)
		},
	}
	cmd.Flags().StringVar(&o.batch, "batch", "", "the `BATCH` the card is for")
	cmd.Flags().IntVar(&o.pieces, "pieces", 12, "how many pieces the card has rows for (1 to 200)")
	cmd.Flags().StringVar(&o.marks, "marks", "", "the `MARKS` of the pieces, with blanks or commas between")
	cmd.Flags().IntVar(&o.tubes, "tubes", 0, "how many tubes (default: as many as the pieces need)")
	cmd.Flags().StringArrayVar(&o.stages, "stage", nil, "this stage alone, by `NAME` or number; may be given again")
	cmd.Flags().StringVar(&o.paper, "paper", "A4", "`SIZE` of the paper: A4 or letter")
	cmd.Flags().StringVar(&o.format, "format", "", "`FORMAT`: pdf or svg (default: by the end of FILE, else pdf)")
	cmd.Flags().BoolVar(&o.sources, "sources", false, "print too where each line of a safety note comes from")
	cmd.Flags().StringVarP(&o.file, "output", "o", "", "write to `FILE`, which must not exist")
	c.offerRecipes(cmd, false)
	_ = cmd.RegisterFlagCompletionFunc("batch", func(_ *cobra.Command, _ []string, word string) ([]cobra.Completion, cobra.ShellCompDirective) {
		return c.batchNames(cmd, nil, word), asListed
	})
	_ = cmd.RegisterFlagCompletionFunc("paper", cobra.FixedCompletions([]cobra.Completion{"A4", "letter"}, asListed))
	_ = cmd.RegisterFlagCompletionFunc("format", cobra.FixedCompletions([]cobra.Completion{"pdf\tone file", "svg\tone file a page"}, asListed))
	return cmd
}

// size finds the paper.
func (o printOptions) size() (paper.Size, error) {
	var names []string
	for _, s := range paper.Sizes() {
		if strings.EqualFold(s.Name, o.paper) {
			return s, nil
		}
		names = append(names, s.Name)
	}
	return paper.Size{}, hinted{usagef("print: %q is no paper it can print on", diagnostic.Clean(o.paper)), "--paper " + strings.Join(names, " or ")}
}

// isSVG reports the format that is wanted.
func (o printOptions) isSVG() (bool, error) {
	switch strings.ToLower(o.format) {
	case "svg":
		return true, nil
	case "pdf":
		return false, nil
	case "":
		return strings.EqualFold(filepath.Ext(o.file), ".svg"), nil
	}
	return false, hinted{usagef("print: %q is no format it can write", diagnostic.Clean(o.format)), "--format pdf or svg"}
}

func runPrint(cmd *cobra.Command, c *commander, name string, o printOptions) error {
	size, err := o.size()
	if err != nil {
		return err
	}
	svg, err := o.isSVG()
	switch {
	case err != nil:
		return err
	case o.file == "":
		return hinted{usagef("print: it has no file to write to"), "name one: -o reeds.pdf"}
	case name == "" && o.batch == "":
		return hinted{usagef("print: neither a recipe nor a batch is named"), "canewright print RECIPE, or --batch BATCH"}
	case o.pieces < 1 || o.pieces > mostRows:
		return usagef("print: %d pieces; a card has rows for 1 to %d", o.pieces, mostRows)
	case o.tubes < 0 || o.tubes > mostRows:
		return usagef("print: %d tubes; a card has rows for 1 to %d", o.tubes, mostRows)
	}
	for _, f := range []string{"pieces", "marks", "tubes"} {
		if o.batch != "" && cmd.Flags().Changed(f) {
			return hinted{usagef("print: a batch has its own pieces and tubes"), "leave --" + f + " out"}
		}
	}
	lay := c.plainSheet
	if o.batch != "" {
		lay = c.batchSheet
	}
	sheet, err := lay(cmd.Context(), name, o, size)
	if err != nil {
		return err
	}
	if err := c.writePages(sheet, o.file, svg); err != nil {
		return err
	}
	if sheet.Lacking != "" {
		fmt.Fprintf(c.sys.Err, "canewright: the sheet's font has no letter for %s; a small box stands there\n", diagnostic.Clean(sheet.Lacking))
	}
	if sheet.NoStrip != "" {
		c.wrap("", "There is no strip to scale: "+sheet.NoStrip+".")
	}
	return nil
}

// plainSheet is of a recipe, for pieces that are still to come.
func (c *commander) plainSheet(ctx context.Context, name string, o printOptions, size paper.Size) (*paper.Sheet, error) {
	pieces, err := markList(o.marks)
	if err != nil {
		return nil, err
	}
	for n := 1; o.marks == "" && n <= o.pieces; n++ {
		pieces = append(pieces, strconv.Itoa(n))
	}
	w := c.works()
	r, err := w.Recipe(ctx, name)
	if err != nil {
		return nil, err
	}
	if r.Bound == nil {
		return nil, &wire.InvalidError{Name: name, List: r.List}
	}
	order := paper.Order{Pieces: pieces, Tubes: tubeMarks(r.Bound, o.tubes, len(pieces)), Digest: recipe.Digest(r.Snapshot.Recipe)}
	return c.sheetOf(r.Bound, order, o, size, nil)
}

func (c *commander) sheetOf(b *recipe.Bound, order paper.Order, o printOptions, size paper.Size, notes session.Notes) (*paper.Sheet, error) {
	order.Sources = o.sources
	catalogue, err := c.works().Notes()
	if err != nil {
		return nil, err
	}
	if notes == nil {
		notes = catalogue
	}
	order.Size, order.Precedence, order.Printed = size, catalogue.Precedence(), c.sys.Now()
	order.Notes = func(u recipe.Use) ([]bench.Note, error) { return notes.For(u, u) }
	if order.Stages, err = stageList(b, o.stages); err != nil {
		return nil, err
	}
	sheet, err := paper.New(b, order)
	if errors.Is(err, paper.ErrTooLarge) {
		return nil, hinted{usagef("print %s: %w", diagnostic.Clean(b.File.ID), err), "print fewer pieces, or some stages alone: --stage NAME"}
	}
	if err != nil {
		return nil, fmt.Errorf("print %s: %w", diagnostic.Clean(b.File.ID), err)
	}
	return sheet, nil
}
