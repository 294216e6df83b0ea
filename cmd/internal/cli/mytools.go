package cli

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"canewright/cmd/internal/wire"
	"canewright/engine/diagnostic"
	"canewright/engine/quantity"
	"canewright/engine/toolbox"
)

type myToolsOptions struct {
	file string // another file than the player's own
	only string // an instrument
}

func newMyToolsCmd(c *commander) *cobra.Command {
	o := myToolsOptions{}
	cmd := &cobra.Command{
		Use: "my-tools", Short: "Your own tools, in numbers; what of a recipe carries over to them", Args: cobra.NoArgs,
		Long: `Show your own tools as you described them, in mm and in inches, and what is
missing for what: shaper, profiler, mandrel, bocal, staple, gouger, those of
them you have. They are numbers you measure once, not names.

They lie in my-tools.yaml in your data folder, a file of your own to read and
change. Who plays two instruments describes the tools of the second with --for;
they stand under "only for:", and nothing above counts for that instrument.

Begin with:
  canewright my-tools ask                         asks for one after the other
  canewright my-tools set shaper.fold "0.575 in"  one number, for scripts
  canewright my-tools carry RECIPE                what of a recipe carries over`,
		Example: "  canewright my-tools\n  canewright my-tools --for contrabassoon --json",
		RunE:    func(*cobra.Command, []string) error { return runMyTools(c, o) },
	}
	cmd.PersistentFlags().StringVar(&o.file, "file", "", "read this `FILE`, not my-tools.yaml in your data folder")
	cmd.PersistentFlags().StringVar(&o.only, "for", "", "the tools of one `INSTRUMENT`")
	c.jsonFlag(cmd)
	cmd.AddCommand(newMyToolsAskCmd(c, &o), newMyToolsSetCmd(c, &o), newMyToolsCarryCmd(c, &o))
	return cmd
}

// toolsPath is the file that is meant.
func (o *myToolsOptions) toolsPath(w *wire.Works) (string, error) {
	if o.file != "" {
		return o.file, nil
	}
	return w.ToolsPath()
}

// myTools reads the tools and says what is doubtful about them.
func (c *commander) myTools(o *myToolsOptions) (*toolbox.Box, string, error) {
	w := c.works()
	path, err := o.toolsPath(w)
	if err != nil {
		return nil, "", err
	}
	box, doubts, err := w.MyTools(path)
	if none, ok := errors.AsType[*wire.NoToolsError](err); ok {
		return nil, path, hinted{usageError{none}, "describe them: canewright my-tools ask"}
	}
	if err != nil {
		return nil, path, err
	}
	if doubts == nil {
		return box, path, nil
	}
	if box == nil {
		return nil, path, doubts
	}
	return box, path, doubts.List.Text(c.sys.Err)
}

type toolsShown struct {
	File       string        `json:"file"`
	Instrument string        `json:"instrument,omitempty"`
	Tools      []numberShown `json:"tools"`
	Missing    []lackShown   `json:"missing"`
	NotThere   []string      `json:"not_described"`
}

type numberShown struct {
	Name  string `json:"name"`
	Title string `json:"title"`
	Text  string `json:"text"` // as written
	MM    string `json:"mm,omitempty"`
	In    string `json:"in,omitempty"`
}

type lackShown struct {
	Name string `json:"name"`
	For  string `json:"for"`
	How  string `json:"how"`
}

func runMyTools(c *commander, o myToolsOptions) error {
	box, path, err := c.myTools(&o)
	if err != nil {
		return err
	}
	instruments := []string{o.only}
	if o.only == "" {
		for _, s := range box.Only {
			instruments = append(instruments, s.Instrument)
		}
	}
	var all []toolsShown
	for _, id := range instruments {
		all = append(all, shownTools(path, id, box.For(id)))
	}
	if c.json {
		return c.printJSON(all)
	}
	c.printf("%s\n", diagnostic.Clean(path))
	for _, s := range all {
		c.printTools(s)
	}
	return nil
}

func shownTools(path, instrument string, s toolbox.Set) toolsShown {
	out := toolsShown{File: path, Instrument: instrument, Tools: []numberShown{}, Missing: []lackShown{}, NotThere: []string{}}
	mm, _ := quantity.UnitNamed("mm")
	in, _ := quantity.UnitNamed("in")
	for _, f := range toolbox.Fields() {
		v, ok := s[f.Name()]
		if !ok {
			continue
		}
		n := numberShown{Name: f.Name(), Title: f.Title, Text: v.String()}
		if f.Kind == quantity.Length {
			n.MM, n.In = quantity.Format(v.Value, mm, 0), inches(v, in)
		}
		out.Tools = append(out.Tools, n)
	}
	for _, tool := range []string{"mandrel", "bocal"} {
		if _, given := s[tool+".taper"]; given {
			continue
		}
		if k, ok := s.Taper(tool); ok {
			out.Tools = append(out.Tools, numberShown{Name: tool + ".taper", Title: "worked out from its two diameters", Text: fmt.Sprintf("%.3g", k)})
		}
	}
	for _, l := range s.Lacks() {
		out.Missing = append(out.Missing, lackShown{l.Field.Name(), l.For, l.Field.How})
	}
	for _, t := range toolbox.Tools() {
		if !s.Has(t) {
			out.NotThere = append(out.NotThere, t)
		}
	}
	return out
}

// inches are shown to a ten-thousandth, or as typed where that is finer.
func inches(v quantity.Entered, in quantity.Unit) string {
	if v.Unit == in {
		return v.String()
	}
	return quantity.Format(v.Value, in, 2540) // 0.0001 in
}

func (c *commander) printTools(s toolsShown) {
	if s.Instrument != "" {
		c.printf("\nfor %s\n", s.Instrument)
	}
	for _, n := range s.Tools {
		line := n.Name + "  " + n.Text
		if n.MM != "" && !strings.HasSuffix(n.Text, "mm") {
			line += " = " + n.MM
		}
		if n.In != "" && n.In != n.Text {
			line += " = " + n.In
		}
		c.wrap("  ", diagnostic.Clean(line)+"  ("+n.Title+")")
	}
	if len(s.Tools) == 0 {
		c.wrap("  ", "Nothing is described yet.")
	}
	if len(s.Missing) > 0 {
		c.printf("\nmissing\n")
		for _, l := range s.Missing {
			c.wrap("  ", l.Name+", for "+l.For+": "+l.How)
		}
	}
	if len(s.NotThere) > 0 {
		c.printf("\n")
		c.wrap("", "Not described: "+strings.Join(s.NotThere, ", ")+".")
	}
}
