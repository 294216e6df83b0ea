package cli

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
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
		Use: "my-tools", Short: "Describe your own tools in numbers; see what of a recipe carries over to them", Args: cobra.NoArgs,
		Long: `Show your own tools as you described them, in mm and in inches, and what is
missing for what: shaper, profiler, mandrel, bocal, staple, gouger, those of them
you have. They are numbers you measure once, not names.

They lie in my-tools.yaml in your data folder, a file of your own to read and
change. Who plays two instruments describes the tools of the second with --for;
they stand under "only for:", and nothing above counts for that instrument.

Begin with:
  canewright my-tools ask                         asks for one number after the other
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

func newMyToolsSetCmd(c *commander, o *myToolsOptions) *cobra.Command {
	cmd := &cobra.Command{
		Use: "set NAME VALUE", Short: "Write one number of a tool", Args: cobra.ExactArgs(2),
		Long: `Write one number of a tool into the file of your tools; nothing else in it is
changed. The number is kept as you write it, with its unit: 15.0 mm, 0.575 in,
1 1/8 in, 51.2 thou; a taper is a plain number. An empty VALUE, "", takes it out.

` + fieldList(),
		Example: "  canewright my-tools set shaper.fold \"0.575 in\"\n  canewright my-tools set --for contrabassoon bocal.taper 0.08",
		RunE:    func(_ *cobra.Command, args []string) error { return runMyToolsSet(c, o, args[0], args[1]) },
	}
	cmd.ValidArgsFunction = func(_ *cobra.Command, args []string, word string) ([]cobra.Completion, cobra.ShellCompDirective) {
		var out []cobra.Completion
		for _, f := range toolbox.Fields() {
			if len(args) == 0 && strings.HasPrefix(f.Name(), word) {
				out = append(out, f.Name()+"\t"+f.Title)
			}
		}
		return out, asListed
	}
	return cmd
}

func fieldList() string {
	var s strings.Builder
	for _, f := range toolbox.Fields() {
		fmt.Fprintf(&s, "  %-18s %s\n", f.Name(), f.Title)
	}
	return strings.TrimRight(s.String(), "\n")
}

func runMyToolsSet(c *commander, o *myToolsOptions, name, value string) error {
	f, ok := toolbox.FieldNamed(name)
	if !ok {
		var all []string
		for _, f := range toolbox.Fields() {
			all = append(all, f.Name())
		}
		hint := "canewright my-tools set --help lists them"
		if near := diagnostic.Near(name, all); near != "" {
			hint = "did you mean " + near + "?"
		}
		return hinted{usagef("set %q: no tool has such a number", diagnostic.Clean(name)), hint}
	}
	said, err := c.setTool(o, f, value)
	if err != nil {
		return err
	}
	c.wrap("", said)
	return nil
}

// setTool checks a number and writes it; it says what was written.
func (c *commander) setTool(o *myToolsOptions, f toolbox.Field, value string) (string, error) {
	value = strings.TrimSpace(strings.ReplaceAll(value, "−", "-")) // a hyphen before a digit was made a minus sign
	var said string
	if value != "" {
		e, err := f.Parse(value, false)
		if err != nil {
			hint := "write it as in " + f.Example()
			message := err.Error()
			if q, ok := errors.AsType[*quantity.Error](err); ok {
				message = q.Message
				if q.Hint != "" {
					hint = q.Hint
				}
			}
			return "", hinted{usagef("set %s to %q: %s", f.Name(), diagnostic.Clean(value), message), hint}
		}
		said = f.Name() + " is " + e.String()
		if doubt := f.Doubt(e); doubt != "" {
			said += "; that is hard to believe: " + doubt
		}
	} else {
		said = f.Name() + " is taken out"
	}
	path, err := o.toolsPath(c.works())
	if err != nil {
		return "", err
	}
	data, err := c.works().ReadTools(path)
	if _, none := errors.AsType[*wire.NoToolsError](err); err != nil && !none {
		return "", err
	}
	after, err := toolbox.Edit(path, data, toolbox.Change{Instrument: o.only, Field: f, Text: value})
	if err != nil {
		return "", hinted{fmt.Errorf("write %s: %w", path, err), "nothing was written; canewright my-tools shows what is wrong with it"}
	}
	if !strings.HasSuffix(said, "?") {
		said += "."
	}
	return said, writeOwn(path, data, after)
}

// writeOwn puts a player's own file in its place, whole or not at all; before is
// what it was when it was read, nil for none.
func writeOwn(path string, before, after []byte) error {
	if string(before) == string(after) {
		return nil
	}
	if real, err := filepath.EvalSymlinks(path); err == nil {
		path = real
	}
	dir := filepath.Dir(path)
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return fmt.Errorf("write %s: %w", path, err)
	}
	mode := os.FileMode(0o600)
	if info, err := os.Stat(path); err == nil {
		mode = info.Mode().Perm()
	}
	f, err := os.CreateTemp(dir, "."+filepath.Base(path)+".*")
	if err != nil {
		return fmt.Errorf("write %s: %w", path, err)
	}
	defer os.Remove(f.Name()) // gone already when all went well
	_, err = f.Write(after)
	err = errors.Join(err, f.Chmod(mode), f.Sync(), f.Close())
	if err == nil {
		now, rerr := os.ReadFile(path)
		if rerr == nil && string(now) != string(before) {
			return hinted{fmt.Errorf("write %s: the file changed meanwhile; nothing is written", path), "close it where it is open, and try again"}
		}
		err = os.Rename(f.Name(), path)
	}
	if err != nil {
		return fmt.Errorf("write %s: %w", path, err)
	}
	return nil
}
