package cli

import (
	"context"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"canewright/cmd/internal/wire"
	"canewright/engine/diagnostic"
	"canewright/engine/quantity"
	"canewright/engine/recipe"
)

func newShowCmd(c *commander) *cobra.Command {
	o := cardOptions{}
	whole, own := false, false
	cmd := &cobra.Command{
		Use: "show RECIPE | show functions", Short: "Print a recipe, stage by stage, with its targets", Args: cobra.ExactArgs(1),
		Long: `Print a recipe as it will be followed: planned repeats written out, targets in
force at each stage, waits, what follows outside a target, and the safety notes
of each stage in one line.

--card prints a card to take to the bench instead: a table a stage, a row a
piece, a box for everything that is asked. Fill it in with a pencil and type it
back afterwards with: canewright follow --resume BATCH --later

--own, of a version of your own, prints what is yours and why; --whole the
recipe as a file, with what it builds on.

show functions lists what formulas may call, with sources.`,
		Example: `  canewright show bassoon/from-shaped-cane
  canewright show my-recipe.yaml
  canewright show mine.yaml --own
  canewright show bassoon/from-shaped-cane --card --pieces 12 --html -o card.html
  canewright show my-recipe.yaml --card --marks "3 7 9" --stage ream --form-feed | lpr`,
		RunE: func(cmd *cobra.Command, args []string) error {
			if (whole || own) && (o.card || whole && own) {
				return usagef("show: one of --card, --own and --whole")
			}
			if whole || own {
				return runShowText(c, args[0], own)
			}
			if o.card {
				return runCard(cmd, c, args[0], o)
			}
			for _, f := range cardFlags() {
				if cmd.Flags().Changed(f) {
					return hinted{usagef("show: --%s belongs to a card", f), "add --card"}
				}
			}
			if args[0] == "functions" {
				return showFunctions(c)
			}
			return runShow(cmd.Context(), c, args[0])
		},
	}
	c.jsonFlag(cmd)
	c.offerRecipes(cmd, false)
	o.flags(cmd)
	cmd.Flags().BoolVar(&whole, "whole", false, "print the recipe as a file, with what it builds on")
	cmd.Flags().BoolVar(&own, "own", false, "print what is yours of it, and why")
	return cmd
}

// runShowText prints a recipe's whole text, or what is a player's own of it.
func runShowText(c *commander, name string, own bool) error {
	t, list, err := c.works().Text(name)
	if err != nil {
		return err
	}
	if t.Whole == nil {
		return &wire.InvalidError{Name: name, List: list}
	}
	switch {
	case own && t.Own == nil:
		return hinted{usagef("show: %s builds on no other recipe", diagnostic.Clean(name)), "canewright adapt " + diagnostic.Clean(name) + " -o mine.yaml makes it your own"}
	case own && c.json:
		return c.printJSON(ownOf(t, true))
	case own:
		c.printOwn(t)
		return nil
	case c.json:
		return c.printJSON(map[string]string{"text": string(t.Whole)})
	}
	for line := range strings.Lines(string(t.Whole)) {
		c.printf("%s\n", diagnostic.Clean(strings.TrimRight(line, "\r\n")))
	}
	return nil
}

func runShow(ctx context.Context, c *commander, name string) error {
	w := c.works()
	r, err := w.Recipe(ctx, name)
	if err != nil {
		return err
	}
	if r.Bound == nil {
		return &wire.InvalidError{Name: name, List: r.List}
	}
	notes, err := w.Notes()
	if err != nil {
		return err
	}
	b := r.Bound
	if c.json {
		return c.printJSON(shown(b))
	}
	c.wrap("", b.File.Title)
	c.printf("%s, version %d", b.File.ID, b.File.Version)
	if b.File.Instrument != "" {
		c.printf(", %s %d.%d", b.Set.ID, b.Set.Major, b.Set.Minor)
	}
	c.printf("\n")
	if b.File.Author != "" {
		c.wrap("", "by "+b.File.Author)
	}
	if b.File.Licence != "" {
		c.wrap("", "licence "+b.File.Licence)
	}
	for _, p := range strings.Split(b.File.About, "\n\n") {
		if p != "" {
			c.printf("\n")
			c.wrap("", p)
		}
	}
	if len(b.Settings) > 0 {
		c.printf("\nsettings\n")
		for _, s := range b.Settings {
			line := s.Name + " " + s.Value.String()
			if s.Why != "" {
				line += " (" + s.Why + ")"
			}
			c.wrap("  ", line)
		}
	}
	for i := range b.Stages {
		st := &b.Stages[i]
		c.printf("\n%d. %s%s\n", i+1, st.Name, forWhom(st.Each))
		all, err := notes.For(st.Use, st.Use)
		if err != nil {
			return err
		}
		for _, n := range all {
			c.wrap("     ", n.OneLine())
		}
		for _, d := range st.Do {
			c.wrap("   - ", d)
		}
		c.showMeasures(b, st)
		for _, r := range st.Rules {
			c.wrap("   expect ", r.That.Text()+follows(b, "otherwise", r.Otherwise))
		}
		if st.Look != nil {
			c.wrap("   look ", st.Look.Question)
			for _, a := range st.Look.Answers {
				c.wrap("        ", a.Word+follows(b, "", a.Outcome))
			}
		}
		if st.Wait != nil {
			c.wrap("   wait ", waitText(st.Wait))
		}
		if st.Becomes != "" {
			c.wrap("   ", "then the cane counts as "+string(st.Becomes))
		}
	}
	return nil
}

func forWhom(e recipe.Each) string {
	switch {
	case e.Batch:
		return " (the batch together)"
	case e.First:
		return " (the first piece)"
	case e.Every > 1:
		return " (1 piece in " + strconv.Itoa(e.Every) + ")"
	}
	return ""
}

func (c *commander) showMeasures(b *recipe.Bound, st *recipe.Stage) {
	lastGroup := 0
	for _, m := range st.Measures {
		s := b.Slots[m.Slot]
		if m.Group > 0 {
			if m.Group != lastGroup {
				c.wrap("   measure ", s.Dimension.Title+forWhom(m.Each)+", station by station")
			}
			lastGroup = m.Group
			if s.Cell.Blade == s.Dimension.Grid.Blades[0] {
				c.wrap("           ", s.Cell.Lane+" "+s.Cell.AtText+": "+m.Target.Tolerance.Text)
			}
			continue
		}
		line := s.Title()
		if s.Dimension.Datum != "" {
			line += ", from " + s.Dimension.Datum
		}
		if m.Repeat > 1 {
			line += ", " + count(m.Repeat, "time")
		}
		line += forWhom(m.Each)
		if m.Target != nil {
			line += ": " + m.Target.Tolerance.Text + follows(b, "above", m.Target.Above) + follows(b, "below", m.Target.Below)
		}
		c.wrap("   measure ", line)
	}
	for _, d := range st.Derived {
		c.wrap("   judge ", b.Slots[d.Slot].Title()+": "+d.Target.Tolerance.Text+follows(b, "above", d.Target.Above)+follows(b, "below", d.Target.Below))
	}
}

// follows says what an outcome is, in a few words; going on says nothing.
func follows(b *recipe.Bound, when string, o recipe.Outcome) string {
	if o.How == recipe.GoingOn {
		return ""
	}
	s := "; "
	if when != "" {
		s += when + ": "
	}
	s += string(o.How)
	if o.How == recipe.BackTo {
		s += " " + b.Stages[o.To].Name + ", at most " + count(o.AtMost, "time") + ", then " + string(o.Then.How)
	}
	if o.Do != "" {
		s += " (" + o.Do + ")"
	}
	return s
}

func waitText(w *recipe.Wait) string {
	var parts []string
	add := func(lead, text string) {
		if text != "" {
			parts = append(parts, lead+text)
		}
	}
	add("until ", w.Until)
	add("at least ", w.LeastText)
	add("usually ", w.UsualText)
	add("at most ", w.MostText)
	add("because ", w.Because)
	return strings.Join(parts, ", ")
}

type shownStage struct {
	Name     string         `json:"name"`
	Do       []string       `json:"do,omitempty"`
	Tools    []string       `json:"tools,omitempty"`
	Measures []shownMeasure `json:"measure,omitempty"`
	Rules    []string       `json:"expect,omitempty"`
	Look     string         `json:"look,omitempty"`
	Wait     string         `json:"wait,omitempty"`
}

type shownMeasure struct {
	Name   string `json:"name"`
	Target string `json:"target,omitempty"`
	Low    string `json:"low,omitempty"`
	High   string `json:"high,omitempty"`
	Repeat int    `json:"repeat"`
	Tool   string `json:"tool,omitempty"`
}

func shown(b *recipe.Bound) any {
	stages := []shownStage{}
	for i := range b.Stages {
		st := &b.Stages[i]
		s := shownStage{Name: st.Name, Do: st.Do}
		for _, t := range st.Use.Tools {
			s.Tools = append(s.Tools, t.Name)
		}
		for _, m := range st.Measures {
			sm := shownMeasure{Name: b.Slots[m.Slot].Name, Repeat: m.Repeat, Tool: m.Tool.Name}
			if m.Target != nil {
				t := m.Target.Tolerance
				sm.Target = t.Text
				if t.Low.Set {
					sm.Low = quantity.Format(quantity.Value{Kind: t.Kind, Q: t.Low.Q}, t.Unit, t.Step)
				}
				if t.High.Set {
					sm.High = quantity.Format(quantity.Value{Kind: t.Kind, Q: t.High.Q}, t.Unit, t.Step)
				}
			}
			s.Measures = append(s.Measures, sm)
		}
		for _, r := range st.Rules {
			s.Rules = append(s.Rules, r.That.Text())
		}
		if st.Look != nil {
			s.Look = st.Look.Question
		}
		if st.Wait != nil {
			s.Wait = waitText(st.Wait)
		}
		stages = append(stages, s)
	}
	return map[string]any{"id": b.File.ID, "version": b.File.Version, "title": b.File.Title, "instrument": b.File.Instrument, "licence": b.File.Licence, "stages": stages}
}
