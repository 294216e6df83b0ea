package cli

import (
	"context"
	"fmt"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"canewright/engine/bench"
	"canewright/engine/diagnostic"
)

type explainOptions struct {
	batch, piece, stage string
	all                 bool
}

func newExplainCmd(c *commander) *cobra.Command {
	o := explainOptions{}
	cmd := &cobra.Command{
		Use: "explain BATCH PIECE [STAGE]", Short: "How a verdict, a rule or an advice came about, number by number", Args: cobra.RangeArgs(2, 3),
		Long: `Explain what was said of one piece so that it can be followed with a pocket
calculator: the readings as they were typed, mean and scatter, what step and
tool add, the limits, the side, and how sure it is; of rules the formula with
the numbers put in and what each reading adds to the uncertainty; of advice why
each remedy fits, or must not be done. Clauses in brackets are those of JCGM 100
(the guide to the expression of uncertainty), where each sum is explained.

All of it is worked out afresh from what was recorded; where that differs from
what was said then, both are shown. Without a STAGE every stage with a verdict
is explained, the newest first, and of each its last visit. Nothing is changed.`,
		Example: "  canewright explain november 7\n  canewright explain november 7 gouge --all",
		RunE: func(cmd *cobra.Command, args []string) error {
			o.batch, o.piece = args[0], args[1]
			if len(args) > 2 {
				o.stage = args[2]
			}
			return runExplain(cmd.Context(), c, o)
		},
	}
	cmd.Flags().BoolVar(&o.all, "all", false, "earlier visits of a stage too")
	c.jsonFlag(cmd)
	c.offerBatches(cmd, false)
	return cmd
}

func runExplain(ctx context.Context, c *commander, o explainOptions) error {
	s, book, _, err := c.look(ctx, o.batch)
	if err != nil {
		return err
	}
	defer book.Close()
	x, err := bench.Explain(s.State(), o.piece, o.stage, o.all)
	if err != nil {
		return refusedBy("explain", err)
	}
	flush := c.buffered()
	if c.json {
		if err := c.printJSON(map[string]any{"batch": o.batch, "explained": x}); err != nil {
			return err
		}
		return flush()
	}
	c.printExplanation(x, o.batch)
	return flush()
}

func (c *commander) printExplanation(x *bench.Explanation, batch string) {
	c.clean("", fmt.Sprintf("Piece %s, batch %s; recipe %s, version %d", x.Piece, batch, x.Recipe, x.Version))
	for _, v := range x.Visits {
		c.printf("\n")
		c.clean("", fmt.Sprintf("%s, visit %d", strings.ToUpper(v.Stage), v.Visit))
		for i := range v.Items {
			c.printf("\n")
			c.printExplained(&v.Items[i])
		}
	}
	c.printf("\n")
	c.clean("", "Numbers in brackets such as (4.2.2) are clauses of JCGM 100:2008, where that step is explained.")
	if x.Earlier > 0 {
		c.clean("", count(x.Earlier, "earlier visit")+" not shown: --all shows all.")
	}
	if len(x.Elsewhere) > 0 {
		c.clean("", "Judged too at: "+strings.Join(x.Elsewhere, ", ")+".")
	}
}

// clean wraps what came out of a recipe or off a keyboard.
func (c *commander) clean(lead, text string) { c.wrap(lead, diagnostic.Clean(text)) }

func (c *commander) part(head string, lines []string) {
	if len(lines) == 0 {
		return
	}
	c.clean("  ", head)
	for _, l := range lines {
		c.clean("    ", l)
	}
}

func (c *commander) printExplained(it *bench.Explained) {
	c.clean("", explainedHead(it))
	c.part("corrected", it.Corrected)
	c.part("readings", c.typed(it.Readings))
	var formulas []string
	for _, f := range it.Formulas {
		formulas = append(formulas, formulaLines(f)...)
	}
	c.part("formula", formulas)
	var budget []string
	for _, l := range it.Budget {
		budget = append(budget, l.Name)
		for _, r := range c.typed(l.Readings) {
			budget = append(budget, "  read "+r)
		}
		budget = append(budget, "  "+l.Text)
	}
	c.part("what it rests on", budget)
	c.part("worked out", it.Working)
	for i := range it.Remedies {
		c.printRemedy(&it.Remedies[i])
	}
	if s := it.Then.Sentence; s != "" {
		c.part("said then", []string{s})
	}
	c.part("worked out now it differs", it.Differs)
	c.part("what followed", it.Followed)
}

// explainedHead names it and its verdict in a line.
func explainedHead(it *bench.Explained) string {
	s := it.Title
	r := []rune(s)
	if len(r) > 0 && it.What != bench.OfRule {
		s = strings.ToUpper(string(r[:1])) + string(r[1:])
	}
	if j := it.Then; j.Side != "" {
		s += ": " + j.Side
		switch {
		case j.Side == "not judged":
		case j.Sure:
			s += ", sure"
		default:
			s += ", not sure"
		}
	}
	switch it.What {
	case bench.OfKept:
		s += " (earlier readings, kept)"
	case bench.OfCorrection:
		s += " (a correction)"
	}
	if it.TakenBack {
		s = "(taken back) " + s
	}
	return s
}

// typed are readings with what they were read with, when and by whom.
func (c *commander) typed(all []bench.ExplainedReading) []string {
	var out []string
	for _, r := range all {
		parts := []string{r.Text}
		if r.Corrected != "" {
			parts[0] += " (corrected; it was " + r.Corrected + ")"
		}
		for _, p := range []string{r.Tool, r.Condition, c.when(r.At), r.Who} {
			if p != "" {
				parts = append(parts, p)
			}
		}
		out = append(out, strings.Join(parts, ", "))
	}
	return out
}

func (c *commander) when(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.In(c.sys.Now().Location()).Format("2 January 2006 15:04")
}

func formulaLines(f bench.ExplainedFormula) []string {
	first, second := f.Text, f.Shown
	if f.Name != "" {
		first, second = f.Name+" = "+first, "= "+second
	}
	if f.Value != "" {
		second += " = " + f.Value
	}
	if f.Shown == f.Text && f.Value == "" {
		return []string{first}
	}
	return []string{first, "  " + second}
}

func (c *commander) printRemedy(r *bench.ExplainedRemedy) {
	head := "fits: " + r.Name
	if r.Excluded != "" {
		head = "not to be done: " + r.Name
	}
	var lines []string
	add := func(lead string, all ...string) {
		for _, s := range all {
			if s != "" {
				lines = append(lines, lead+s)
			}
		}
	}
	add("why not: ", r.Excluded)
	add("do: ", r.Do)
	add("because: ", r.Because)
	add("fits: ", r.Fits...)
	add("against: ", r.Against...)
	add("not known: ", r.Unknown...)
	for _, f := range r.Formulas {
		add("", formulaLines(f)...)
	}
	add("", r.Working...)
	add("source: ", r.Sources...)
	c.part(head, lines)
}
