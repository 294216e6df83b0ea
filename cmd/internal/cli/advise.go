package cli

import (
	"context"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"canewright/engine/diagnostic"
	"canewright/engine/dimension"
	"canewright/engine/recipe"
	"canewright/engine/remedy"
)

type adviseOptions struct {
	symptoms []string
}

func newAdviseCmd(c *commander) *cobra.Command {
	o := adviseOptions{}
	cmd := &cobra.Command{
		Use: "advise BATCH PIECE", Short: "What could be tried with a piece, the gentlest that fits first", Args: cobra.ExactArgs(2),
		Long: `Rank what could be tried with a piece: by what you say is wrong, in plain words,
and by its readings. What can be taken back comes before what cannot, wires
before the knife; no cane is advised off where the blade is at its lower limit;
what was tried and did not help is not advised again. Nothing is recorded:
inside follow, advise, try 1 and helped are.

Without --symptom it takes what was said at the bench; where nothing was said it
lists the words.`,
		Example: "  canewright advise november 7 --symptom \"low notes do not speak\" --symptom \"tip too open\"",
		RunE: func(cmd *cobra.Command, args []string) error {
			return runAdvise(cmd.Context(), c, args[0], args[1], o)
		},
	}
	cmd.Flags().StringArrayVar(&o.symptoms, "symptom", nil, "what is wrong, in `WORDS`; may be given several times")
	c.jsonFlag(cmd)
	return cmd
}

func runAdvise(ctx context.Context, c *commander, batch, mark string, o adviseOptions) error {
	s, book, _, err := c.look(ctx, batch)
	if err != nil {
		return err
	}
	defer book.Close()
	p := s.State().Piece(mark)
	if p == nil {
		return hinted{usagef("advise: batch %s has no piece %q", diagnostic.Clean(batch), diagnostic.Clean(mark)), "canewright batch shows its pieces"}
	}
	b := s.Bound()
	kase := s.State().CaseOf(p)
	if len(o.symptoms) > 0 {
		if kase.Symptoms, err = symptomsSaid(b, o.symptoms); err != nil {
			return err
		}
	}
	if c.json {
		advice, excluded := remedy.Rank(b, kase)
		return c.printJSON(map[string]any{"batch": batch, "piece": mark, "symptoms": kase.Symptoms, "advice": adviceJSON(advice), "excluded": adviceJSON(excluded)})
	}
	p.Symptoms = kase.Symptoms // of this reading of the batch alone
	for _, l := range s.State().Advise(mark) {
		c.wrap("", l)
	}
	return nil
}

// symptomsSaid finds the symptoms meant by words.
func symptomsSaid(b *recipe.Bound, said []string) ([]string, error) {
	var out []string
	for _, words := range said {
		found := remedy.Match(b.Symptoms, words)
		if x, ok := b.SymptomNamed(words); ok {
			found = []dimension.Symptom{x}
		}
		var near []string
		for _, x := range found {
			near = append(near, x.Words)
		}
		switch len(found) {
		case 1:
			out = append(out, found[0].Name)
		case 0:
			hint := "canewright advise BATCH PIECE alone lists the words"
			if n := b.NearSymptom(words); n != "" {
				hint = fmt.Sprintf("did you mean %q?", n)
			}
			return nil, hinted{usagef("advise: %q is no symptom that is known here", diagnostic.Clean(words)), hint}
		default:
			return nil, hinted{usagef("advise: %q could be several", diagnostic.Clean(words)), "say one of: " + strings.Join(near, "; ")}
		}
	}
	return out, nil
}

type shownAdvice struct {
	Name     string   `json:"name"`
	Do       string   `json:"do"`
	Because  string   `json:"because,omitempty"`
	Touches  string   `json:"touches"`
	Score    float64  `json:"score"`
	Fits     []string `json:"fits,omitempty"`
	Against  []string `json:"against,omitempty"`
	Unknown  []string `json:"unknown,omitempty"`
	Measure  []string `json:"measure,omitempty"`
	Excluded string   `json:"excluded,omitempty"`
	Sources  []string `json:"sources,omitempty"`
}

func adviceJSON(all []remedy.Advice) []shownAdvice {
	out := []shownAdvice{}
	for _, a := range all {
		x := shownAdvice{Name: a.Remedy.Name, Do: a.Step, Because: a.Remedy.Because, Touches: string(a.Remedy.Touches), Score: a.Score,
			Fits: a.Fits, Against: a.Against, Unknown: a.Unknown, Measure: a.Remedy.Measure, Excluded: a.Excluded}
		for _, src := range a.Remedy.Sources {
			x.Sources = append(x.Sources, src.Credit())
		}
		out = append(out, x)
	}
	return out
}
