package cli

import (
	"context"
	"errors"
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"canewright/cmd/internal/terminal"
	"canewright/cmd/internal/wire"
	"canewright/engine/diagnostic"
	"canewright/engine/toolbox"
)

func newMyToolsAskCmd(c *commander, o *myToolsOptions) *cobra.Command {
	return &cobra.Command{
		Use: "ask [TOOL…]", Short: "Ask for your tools, one number after the other", Args: cobra.ArbitraryArgs,
		Long: `Ask for the numbers of your tools, one after the other, and say how to measure
each; only some of the tools, if you name them. Enter leaves a number out, or as
it was; "none" goes on to the next tool; "quit" stops. Each number is on disk
before the next question. Steel is the same wet or dry.

The tools are: ` + strings.Join(toolbox.Tools(), ", ") + `.`,
		Example:   "  canewright my-tools ask\n  canewright my-tools ask bocal mandrel",
		ValidArgs: toolbox.Tools(),
		RunE:      func(cmd *cobra.Command, args []string) error { return runMyToolsAsk(cmd.Context(), c, o, args) },
	}
}

func runMyToolsAsk(ctx context.Context, c *commander, o *myToolsOptions, only []string) error {
	tools := toolbox.Tools()
	for _, t := range only {
		if !slices.Contains(tools, t) {
			return hinted{usagef("ask for %q: that is none of the tools", diagnostic.Clean(t)), "the tools are: " + strings.Join(tools, ", ")}
		}
	}
	if len(only) > 0 {
		tools = only
	}
	path, err := o.toolsPath(c.works())
	if err != nil {
		return err
	}
	in := c.asker()
	c.wrap("", "Type a number with its unit: 15.0 mm, 0.575 in, 51.2 thou. Enter leaves it out; none: I have no such tool; quit: stop.")
	n := 0
	for _, tool := range tools {
		done, err := c.askTool(ctx, o, tool, in, &n)
		if err != nil {
			return err
		}
		if done {
			break
		}
	}
	if n == 0 {
		c.wrap("", "Nothing was written.")
		return nil
	}
	c.wrap("", "Wrote "+count(n, "number")+" into "+diagnostic.Clean(path)+".")
	return nil
}

// askTool asks for the numbers of one tool; done when the player stops.
func (c *commander) askTool(ctx context.Context, o *myToolsOptions, tool string, in asker, n *int) (done bool, err error) {
	c.printf("\n%s\n", strings.ToUpper(tool))
	for _, f := range toolbox.Fields() {
		if f.Tool != tool {
			continue
		}
		was, err := c.toolNow(o, f)
		if err != nil {
			return true, err
		}
		for {
			c.wrap("  ", f.Name()+": "+f.Title)
			c.wrap("    ", f.How)
			if was != "" {
				c.wrap("    ", "now "+diagnostic.Clean(was)+"; Enter keeps it")
			}
			c.printf("> ")
			line, err := in.line(ctx)
			if errors.Is(err, io.EOF) {
				c.printf("\n")
				return true, nil
			}
			if err != nil && !errors.Is(err, terminal.ErrLongLine) {
				return true, err
			}
			if !c.sys.Typed {
				c.printf("%s\n", diagnostic.Clean(line))
			}
			switch strings.ToLower(line) {
			case "":
			case "none", "no":
				return false, nil
			case "quit", "stop":
				return true, nil
			default:
				said, err := c.setTool(o, f, line)
				if _, wrong := errors.AsType[usageError](err); wrong {
					c.wrap("  ! ", err.Error()+".")
					if h, ok := errors.AsType[hinted](err); ok {
						c.wrap("    ", h.hint)
					}
					continue // the same question
				}
				if err != nil {
					return true, err
				}
				c.wrap("  ", said)
				*n++
			}
			break
		}
	}
	return false, nil
}

// toolNow is a number as it is written now; "" for none.
func (c *commander) toolNow(o *myToolsOptions, f toolbox.Field) (string, error) {
	path, err := o.toolsPath(c.works())
	if err != nil {
		return "", err
	}
	box, doubts, err := c.works().MyTools(path)
	if _, none := errors.AsType[*wire.NoToolsError](err); none {
		return "", nil
	}
	switch {
	case err != nil:
		return "", err
	case box == nil:
		return "", doubts
	}
	set := box.All
	if o.only != "" {
		set = nil
		for _, s := range box.Only {
			if s.Instrument == o.only {
				set = s.Tools
			}
		}
	}
	if v, ok := set[f.Name()]; ok {
		return v.String(), nil
	}
	return "", nil
}
