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

func newMyToolsSetCmd(c *commander, o *myToolsOptions) *cobra.Command {
	cmd := &cobra.Command{
		Use: "set NAME VALUE", Short: "Write one number of a tool", Args: cobra.ExactArgs(2),
		Long: `Write one number of a tool into the file of your tools; nothing else in it is
changed. The number is kept as you write it, with its unit: 15.0 mm, 1 1/8 in,
51.2 thou; a taper is a plain number. An empty VALUE, "", takes it out.

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
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return fmt.Errorf("write %s: %w", path, err)
	}
	mode := os.FileMode(0o600)
	if info, err := os.Stat(path); err == nil {
		mode = info.Mode().Perm()
	}
	var other error
	err := wire.WriteWholeIf(path, after, mode, func() error {
		if now, err := os.ReadFile(path); err == nil && string(now) != string(before) {
			other = hinted{fmt.Errorf("write %s: the file changed meanwhile; nothing is written", path), "close it where it is open, and try again"}
		}
		return other
	})
	switch {
	case other != nil:
		return other
	case err != nil:
		return fmt.Errorf("write %s: %w", path, err)
	}
	return nil
}
