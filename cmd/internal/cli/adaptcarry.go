package cli

import (
	"strings"

	"canewright/engine/diagnostic"
	"canewright/engine/recipe"
	"canewright/engine/toolbox"
)

// carry takes what the player's own tools change into their version, and says
// what carries over, what changes, and what cannot be known.
func (a *adapting) carry(b *recipe.Bound) error {
	c := a.c
	o := &myToolsOptions{}
	if a.o.to != "my-tools" {
		o.file = a.o.to
	}
	box, _, err := c.myTools(o)
	if err != nil {
		return err
	}
	out := toolbox.Carry(b, box)
	written := b.File.Written()
	for i, e := range out.Entries {
		if e.Verdict != toolbox.Changes || e.Now == "" || i >= len(written) {
			continue
		}
		// Under the name the origin has it by, which may be an alias.
		name, why := written[i].Name.Value, strings.Join(e.Why, " -> ")
		if a.o.why != "" {
			why = a.o.why
		}
		if why == "" {
			why = "my tools"
		}
		if e.Note != "" {
			why += " (" + e.Note + ")"
		}
		if e.What == toolbox.OfSetting {
			value := e.Now
			if e.Typed != "" {
				value = e.Typed // kept as it was typed
			}
			a.editor.Setting(name, value, why)
		} else {
			a.editor.Target(e.Stage, name, e.Now, why)
		}
	}
	if c.json || a.o.dry {
		return nil
	}
	c.printf("On your tools, of %s:\n", diagnostic.Clean(b.File.ID))
	// What changes is told with the file that is written; what carries over stays.
	c.printf("  %d change, %d carry over; the sums: canewright my-tools carry %s\n", out.Count(toolbox.Changes), out.Count(toolbox.Carries), inShell(a.name))
	for _, v := range []toolbox.Verdict{toolbox.Breaks, toolbox.Unknown} {
		if out.Count(v) > 0 {
			c.printf("\n%s (%d)\n", strings.ToUpper(string(v)), out.Count(v))
			c.printCarried(out.Entries, v)
		}
	}
	if out.Count(toolbox.Unknown) > 0 {
		c.printf("\n")
		c.wrap("", "What cannot be known stays as the recipe has it. Ask, measure, and set it yourself.")
	}
	c.printf("\n")
	return nil
}
