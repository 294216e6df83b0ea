package cli

import (
	"context"
	"fmt"
	"math"
	"regexp"
	"strings"

	"github.com/spf13/cobra"

	"canewright/engine/diagnostic"
	"canewright/engine/dimension"
	"canewright/engine/gauging"
	"canewright/engine/quantity"
	"canewright/engine/tool"
)

type judgeOptions struct {
	target, tool, sure string
	major              int
	words              []string
}

func newJudgeCmd(c *commander) *cobra.Command {
	o := judgeOptions{}
	cmd := &cobra.Command{
		Use:   "judge [INSTRUMENT DIMENSION] READING…",
		Short: "Judge readings against a target, without a recipe",
		Long: `Judge readings of one thing. Several readings are repeats: their mean is judged.
A reading that equals a limit is inside. With a target and readings alone no
instrument is needed; with an instrument and one of its dimensions a bare number
takes the dimension's unit, and its usual tool is taken unless --tool names one.
Without a target the estimate alone is printed.

Probability is always that of being inside the target.`,
		Example: `  canewright judge --target "1.30 +0.03 -0.02 mm" 1,31
  canewright judge bassoon gouge.centre 1.31 1.32 --target "1.30 +0.03 -0.02 mm"
  canewright judge --target "27.0 ± 0.5 mm" "1 1/16 in" --tool ruler --json`,
		Args: cobra.MinimumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			o.words = args
			return runJudge(cmd.Context(), c, o)
		},
	}
	cmd.Flags().StringVar(&o.target, "target", "", "the `TOLERANCE`: \"27.0 ± 0.5 mm\", \"24 .. 25.5 mm\", \"at most 1 mm\"")
	cmd.Flags().StringVar(&o.tool, "tool", "", "the `TOOL` it is read with: caliper, ruler, \"dial indicator\", tuner …")
	cmd.Flags().StringVar(&o.sure, "sure", "80 %", "the `PROBABILITY` a verdict must reach to be called sure")
	cmd.Flags().IntVar(&o.major, "major", 1, "major version of the instrument's dimension set")
	c.jsonFlag(cmd)
	c.offerInstruments(cmd, onlyThese)
	return cmd
}

var instrumentWord = regexp.MustCompile(`^[a-z]{3,}[a-z-]*$`)

func runJudge(ctx context.Context, c *commander, o judgeOptions) error {
	w := c.works()
	var dim *dimension.Dimension
	if instrumentWord.MatchString(o.words[0]) {
		if len(o.words) < 3 {
			return usagef("judge: after an instrument come a dimension and at least one reading")
		}
		set, err := w.Cache().Set(ctx, o.words[0], o.major)
		if err != nil {
			return err
		}
		d, ok := set.Find(o.words[1])
		if !ok {
			h := hinted{usagef("judge: %q is not a dimension of %s", o.words[1], set.ID), "canewright instruments " + set.ID + " lists them"}
			if near, ok := set.Find(set.Near(o.words[1])); ok {
				h.hint = "did you mean " + near.Name + "?"
			}
			return h
		}
		dim, o.words = d, o.words[2:]
	} else if o.target == "" {
		return hinted{usagef("judge: against what?"), `give --target "27.0 ± 0.5 mm", or an instrument and a dimension`}
	}
	using, err := c.judgeTool(w.Tools(), o.tool, dim)
	if err != nil {
		return err
	}
	style, target, err := judgeTarget(o.target, dim)
	if err != nil {
		return err
	}
	readings, err := quantity.ParseMany(strings.ReplaceAll(strings.Join(o.words, " ; "), "−", "-"), style)
	if err != nil {
		return hintedQuantity("judge: read the reading", strings.Join(o.words, " ; "), err)
	}
	sure, err := quantity.Parse(o.sure, quantity.Style{Want: quantity.Ratio})
	if err != nil || sure.Value.Float() <= 0.5 || sure.Value.Float() >= 1 {
		return usagef("judge: --sure %q is not between 50 %% and 100 %%", o.sure)
	}
	est := gauging.Of(readings, using, nil)
	doubt := doubtful(readings, dim, style)
	if doubt != "" && !c.json {
		c.printf("%s\n", doubt)
	}
	if target == nil {
		return c.printEstimate(readings, est, using, doubt)
	}
	return c.printVerdict(dim, readings, est, *target, gauging.Judge(est, *target, sure.Value.Float()), using, doubt)
}

func (c *commander) judgeTool(all *tool.Catalogue, word string, dim *dimension.Dimension) (tool.Tool, error) {
	if word == "" {
		if dim != nil {
			t, _ := all.Tool(dim.Tool)
			return t, nil
		}
		return tool.Tool{}, nil
	}
	t, ok := all.Tool(word)
	if !ok {
		h := hinted{usagef("judge: %q is not a tool canewright knows", word), "leave --tool out: then the last digit typed is the step"}
		if n := diagnostic.Near(strings.ToLower(word), all.ToolNames()); n != "" {
			h.hint = "did you mean " + n + "?"
		}
		return t, h
	}
	return t, nil
}

// judgeTarget reads the target. Without a dimension its unit tells the kind,
// and a bare reading takes that unit.
func judgeTarget(text string, dim *dimension.Dimension) (quantity.Style, *quantity.Tolerance, error) {
	if dim != nil {
		style := quantity.Style{Want: dim.Kind, Bare: dim.Unit}
		if text == "" {
			return style, nil, nil
		}
		t, err := quantity.ParseTolerance(text, style)
		if err != nil {
			return style, nil, hintedQuantity("judge: read the target", text, err)
		}
		return style, &t, nil
	}
	t, err := quantity.ParseAnyTolerance(text)
	if err != nil {
		return quantity.Style{}, nil, hintedQuantity("judge: read the target", text, err)
	}
	return quantity.Style{Want: t.Kind, Bare: t.Unit}, &t, nil
}

func hintedQuantity(doing, text string, err error) error {
	q, ok := err.(*quantity.Error)
	if !ok {
		return err
	}
	return hinted{usagef("%s %q: %s", doing, diagnostic.Clean(text), q.Message), q.Hint}
}

// doubtful is the question a reading outside the plausible range raises; "" for
// none. Nothing is recorded here, so it is asked and the verdict given all the
// same.
func doubtful(rs []quantity.Entered, dim *dimension.Dimension, style quantity.Style) string {
	if dim == nil || dim.Plausible.Kind != dim.Kind {
		return ""
	}
	for _, r := range rs {
		if dim.Plausible.Side(r.Value.Q) == quantity.Inside {
			continue
		}
		if s, ok := quantity.Suggest(r, dim.Plausible, style); ok {
			return fmt.Sprintf("%s? Did you mean %s?", r, s)
		}
		return fmt.Sprintf("%s? That is outside %s.", r, dim.Plausible.Limits())
	}
	return ""
}

func (c *commander) printEstimate(rs []quantity.Entered, e gauging.Estimate, t tool.Tool, doubt string) error {
	best, u := estimateText(rs, e)
	if c.json {
		return c.printJSON(map[string]any{"estimate": best, "standard_uncertainty": u, "quanta": e.Best, "u_quanta": e.U, "n": e.N, "tool": t.Name, "doubt": doubt})
	}
	c.printf("%s (standard uncertainty %s, from %s%s)\n", best, u, count(e.N, "reading"), with(t))
	return nil
}

func with(t tool.Tool) string {
	if t.Name == "" {
		return ""
	}
	return " with the " + t.Name
}

// estimateText writes the mean with one digit more than was read, and u with
// two digits.
func estimateText(rs []quantity.Entered, e gauging.Estimate) (best, u string) {
	last := rs[len(rs)-1]
	step := last.Step
	if e.N > 1 {
		step = max(1, step/10)
	}
	best = quantity.Format(quantity.Value{Kind: e.Kind, Q: int64(math.Floor(e.Best + 0.5))}, last.Unit, step)
	ustep := int64(math.Pow(10, math.Floor(math.Log10(math.Max(e.U, 1)))-1))
	diff := e.Kind.Difference()
	unit := last.Unit
	if e.Kind == quantity.Pitch {
		unit, _ = quantity.UnitNamed("cents")
	}
	u = quantity.Format(quantity.Value{Kind: diff, Q: int64(math.Floor(e.U + 0.5))}, unit, max(1, ustep))
	return best, u
}

func (c *commander) printVerdict(dim *dimension.Dimension, rs []quantity.Entered, e gauging.Estimate, t quantity.Tolerance, v gauging.Verdict, using tool.Tool, doubt string) error {
	last := rs[len(rs)-1]
	words := gauging.Words{More: "much", Less: "little", Unit: last.Unit, Step: last.Step}
	if dim != nil {
		words.More, words.Less, words.Blade = dim.More, dim.Less, dim.Grid != nil
	}
	said := gauging.Say(v, e, t, words)
	best, u := estimateText(rs, e)
	if c.json {
		return c.printJSON(struct {
			Side        string  `json:"side"`
			Sure        bool    `json:"sure"`
			Probability float64 `json:"probability"`
			OnLimit     bool    `json:"on_limit"`
			Coarse      bool    `json:"too_coarse"`
			More        int     `json:"more_readings"`
			Said        string  `json:"said"`
			Estimate    string  `json:"estimate"`
			U           string  `json:"standard_uncertainty"`
			N           int     `json:"n"`
			Target      string  `json:"target"`
			Tool        string  `json:"tool,omitempty"`
			Doubt       string  `json:"doubt,omitempty"`
		}{v.Side.String(), v.Sure, v.Probability, v.OnLimit, v.Coarse, v.More, said, best, u, e.N, t.Text, using.Name, doubt})
	}
	sure := "sure"
	if !v.Sure {
		sure = "unsure"
	}
	c.printf("%s\n", said)
	c.printf("%s; target %s", best, t.Text)
	if l := t.Limits(); l != t.Text {
		c.printf(" (%s)", l)
	}
	c.printf("\n%s, %s: probability of being inside %s, standard uncertainty %s%s\n", v.Side, sure, probability(v.Probability), u, with(using))
	switch {
	case v.Coarse:
		c.printf("more readings with this tool cannot settle it\n")
	case !v.Sure && v.More > 0:
		c.printf("%d more like these would settle it\n", v.More)
	}
	return nil
}

// probability never rounds to certainty.
func probability(p float64) string {
	switch {
	case p > 0.995 && p < 1:
		return "over 0.99"
	case p < 0.005 && p > 0:
		return "under 0.01"
	}
	return fmt.Sprintf("%.2f", p)
}
