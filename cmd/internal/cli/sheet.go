package cli

import (
	"context"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"canewright/cmd/internal/terminal"
	"canewright/engine/bench"
	"canewright/engine/diagnostic"
	"canewright/engine/picture"
)

type sheetOptions struct {
	batch, piece, stage, file string
	svg                       bool
}

func newSheetCmd(c *commander) *cobra.Command {
	o := sheetOptions{}
	cmd := &cobra.Command{
		Use: "sheet BATCH PIECE", Short: "Show a measured blade against its target: where it is thick", Args: cobra.ExactArgs(2),
		Long: `Show the blade of one piece as it was last measured, against the targets in
force at that stage: in words, as a picture and as a table. A difference counts
as real where it is larger than what your gauge may be wrong by (expanded
uncertainty, k = 2); the others stay blank. Nothing is changed.

How many strokes it may take is said only where your own logbook tells it: at
least five times that strokes were recorded ("+8 left rail A") between two
readings of the same place, with the same tool, on this instrument.

--svg draws it as one SVG file, to print: with -o into a new file.`,
		Example: "  canewright sheet november 7\n  canewright sheet november 7 --stage \"first scrape\" --svg -o blade-7.svg",
		RunE: func(cmd *cobra.Command, args []string) error {
			o.batch, o.piece = args[0], args[1]
			return runSheet(cmd.Context(), c, o)
		},
	}
	cmd.Flags().StringVar(&o.stage, "stage", "", "the `STAGE` it was measured at (default: where it was measured last)")
	cmd.Flags().BoolVar(&o.svg, "svg", false, "draw it as an SVG file")
	cmd.Flags().StringVarP(&o.file, "output", "o", "", "with --svg: write to `FILE`, which must not exist")
	c.jsonFlag(cmd)
	c.offerBatches(cmd, false)
	return cmd
}

func runSheet(ctx context.Context, c *commander, o sheetOptions) error {
	switch {
	case o.svg && c.json:
		return usagef("sheet: --svg or --json, not both")
	case o.file != "" && !o.svg:
		return hinted{usagef("sheet: --output belongs to a picture"), "add --svg"}
	}
	s, book, out, err := c.look(ctx, o.batch)
	if err != nil {
		return err
	}
	defer book.Close()
	sh, err := bench.SheetOf(s.State(), o.piece, o.stage)
	if err != nil {
		return refusedBy("sheet", err)
	}
	known, err := c.strokesKnown(ctx, book, out, s, sh)
	if err != nil {
		return err
	}
	words := sh.Words(known.say)
	switch {
	case c.json:
		return c.printJSON(map[string]any{"batch": o.batch, "sheet": sh, "words": words, "findings": sh.Findings(), "strokes": known})
	case o.svg:
		drawing, err := blades(sh, o.batch, words).SVG()
		if err != nil {
			return err
		}
		if o.file == "" {
			_, err = c.sys.Out.Write(drawing)
			return err
		}
		return writeNew("sheet", o.file, drawing)
	}
	flush := c.buffered()
	c.printSheet(sh, o.batch, words)
	return flush()
}

// lowerFirst makes a sentence of the bench one of an error.
func lowerFirst(s string) string {
	if s == "" {
		return s
	}
	return strings.ToLower(s[:1]) + s[1:]
}

// sheetHead is what a sheet is of, in one line.
func sheetHead(sh *bench.Sheet, batch string) string {
	s := "batch " + batch + ", " + sh.Stage
	if sh.Visit > 1 {
		s += fmt.Sprintf(", visit %d", sh.Visit)
	}
	if sh.Condition != "" {
		s += ", " + sh.Condition
	}
	if len(sh.Gauges) > 0 {
		s += "; read with " + strings.Join(sh.Gauges, " and ")
	}
	return diagnostic.Clean(s)
}

func sheetTitle(sh *bench.Sheet) string {
	t := diagnostic.Clean(sh.Title + ", piece " + sh.Piece)
	r := []rune(t)
	return strings.ToUpper(string(r[:1])) + string(r[1:])
}

func (c *commander) printSheet(sh *bench.Sheet, batch string, words []string) {
	c.wrap("", sheetTitle(sh)+", "+sheetHead(sh, batch))
	c.printf("\n")
	for _, w := range words {
		c.wrap("", diagnostic.Clean(w))
	}
	if !c.sys.Plain {
		if drawing := terminal.Sheet(sh, c.sys.Width, c.sys.Colour); drawing != nil {
			c.printf("\n")
			for _, l := range drawing {
				c.printf("%s\n", l)
			}
			c.wrap("", terminal.SheetSigns(sh))
		}
	}
	unit := ""
	if sh.Unit != "" {
		unit = ", " + sh.Unit
	}
	for b, blade := range sh.Blades {
		for l, lane := range sh.Lanes {
			rows := [][]string{{"", "read", "target", "off"}}
			var notes []string
			for i, station := range sh.Stations {
				cell := sh.Cell(b, i, l)
				if cell.State != bench.SheetNotAsked {
					rows = append(rows, []string{station.Text, cell.Reading, cell.Target, cell.Difference})
					notes = append(notes, sheetNote(sh, cell))
				}
			}
			if len(rows) > 1 {
				c.printf("\n")
				c.wrap("", "Blade "+blade+", "+lane+unit)
				c.sheetTable(rows, append([]string{""}, notes...))
			}
		}
	}
	c.printContrasts(sh, unit)
	if len(sh.Elsewhere) > 0 {
		c.printf("\n")
		c.wrap("", "It was read at "+strings.Join(sh.Elsewhere, " and ")+" too: --stage shows that.")
	}
}

// sheetNote says whether a difference is real; nothing where it is not.
func sheetNote(sh *bench.Sheet, c *bench.SheetCell) string {
	var parts []string
	add := func(s string) { parts = append(parts, s) }
	switch c.State {
	case bench.SheetOpen, bench.SheetSkipped, bench.SheetRead:
		add(string(c.State))
	case bench.SheetMore:
		add("too " + sh.More + " by " + c.Past)
	case bench.SheetMaybe:
		add("maybe too " + sh.More)
	case bench.SheetLess:
		add("too " + sh.Less + " by " + c.Past)
	case bench.SheetMaybeNot:
		add("maybe too " + sh.Less)
	case bench.SheetOff:
		add("inside")
	}
	if c.KnifeOff {
		add("keep the knife off")
	}
	if c.Earlier {
		add("earlier visit")
	}
	if c.Since > 0 {
		add(count(c.Since, "stroke") + " since")
	}
	return strings.Join(parts, ", ")
}

func (c *commander) sheetTable(rows [][]string, notes []string) {
	for _, l := range terminal.SheetTable(rows, notes, c.sys.Width) {
		c.printf("%s\n", l)
	}
}

func (c *commander) printContrasts(sh *bench.Sheet, unit string) {
	for _, what := range contrastKinds(sh) {
		rows, notes := [][]string{{"", "differ", "noise"}}, []string{""}
		for _, k := range sh.Contrasts {
			if k.What != what {
				continue
			}
			note := ""
			if k.Real {
				note = "real"
			}
			rows, notes = append(rows, []string{k.Where, k.Text, k.Noise}), append(notes, note)
		}
		c.printf("\n")
		c.wrap("", what+unit)
		c.sheetTable(rows, notes)
	}
}

func contrastKinds(sh *bench.Sheet) []string {
	var out []string
	for _, k := range sh.Contrasts {
		if len(out) == 0 || out[len(out)-1] != k.What {
			out = append(out, k.What)
		}
	}
	return out
}

// blades is the sheet as a picture.
func blades(sh *bench.Sheet, batch string, words []string) picture.Blades {
	b := picture.Blades{
		Title: sheetTitle(sh), Under: []string{sheetHead(sh, batch), sh.At.Local().Format("2 January 2006")},
		From: sh.From, Unit: sh.Unit, More: sh.More, Less: sh.Less, Names: sh.Blades, Lanes: sh.Lanes, Notes: words,
	}
	for _, s := range sh.Stations {
		b.Stations = append(b.Stations, picture.Station{At: s.At, Text: s.Text})
	}
	for i := range sh.Cells {
		b.Cells = append(b.Cells, pictured(&sh.Cells[i]))
	}
	return b
}

func pictured(c *bench.SheetCell) picture.Cell {
	marks := map[bench.SheetState]picture.Mark{
		bench.SheetNotAsked: picture.NotAsked, bench.SheetOpen: picture.Unread, bench.SheetSkipped: picture.Unread, bench.SheetRead: picture.NoTarget,
		bench.SheetNoise: picture.Blank, bench.SheetOff: picture.Inside, bench.SheetMore: picture.Over, bench.SheetMaybe: picture.MaybeOver,
		bench.SheetLess: picture.Under, bench.SheetMaybeNot: picture.MaybeUnder,
	}
	mark := marks[c.State]
	switch {
	case c.KnifeOff:
		mark = picture.KnifeOff
	case c.Since > 0:
		return picture.Cell{Mark: picture.Unread, Small: "again"}
	}
	if mark == picture.Blank || mark == picture.Unread || mark == picture.NotAsked {
		return picture.Cell{Mark: mark}
	}
	return picture.Cell{Mark: mark, Main: c.Difference, Small: c.Reading}
}
