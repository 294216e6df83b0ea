package cli

import (
	"context"
	"errors"
	"slices"

	"github.com/spf13/cobra"

	"canewright/engine/diagnostic"
)

func newCheckCmd(c *commander) *cobra.Command {
	rules, fix := false, false
	cmd := &cobra.Command{
		Use: "check FILE…", Short: "Check recipes and say what is wrong, and where", Args: cobra.MinimumNArgs(1),
		Long: `Check recipe files: their shape, their words, their numbers and units, their
formulas, against the dimensions of their instrument. Every finding shows file,
line and column, the line itself with a caret, and a hint. At most 20 findings
are shown of each file.

A rule that can never hold, or never fail, with what is plausible and the
targets let on is found too, as far as it can be proved; --rules lists what was
looked at, and what was not proved.

What goes wrong on the way from a paper sheet is found too. A number may be
written in two columns, 27.0 ± 0.5 mm (1 1/16 in): the first counts, and the
second must be the same number as far as rounding allows. Parts that do not add
up to the whole, a distance that is counted from nowhere, cane that may be wet
or dry, a tolerance its tool cannot read, a target far from all that is
published, and what no stage measures are remarked on.

A dimension may have been called something else before. Such names are read,
with a warning; --fix rewrites them, and changes nothing else in the file, and
in the cases.yaml beside a recipe.yaml. It shows each line before and after, and
keeps the file as it was beside it, under its name and .before.

Exit code 0: nothing wrong (warnings may be shown); 1: there are errors.`,
		Example: "  canewright check my-recipe.yaml\n  canewright check --rules my-recipe.yaml\n  canewright check --fix my-recipe.yaml\n  canewright check --json recipes/*.yaml",
		RunE:    func(cmd *cobra.Command, args []string) error { return runCheck(cmd.Context(), c, args, rules, fix) },
	}
	cmd.Flags().BoolVar(&rules, "rules", false, "list what is proved of every rule")
	cmd.Flags().BoolVar(&fix, "fix", false, "rewrite names that dimensions had before")
	c.jsonFlag(cmd)
	c.offerRecipes(cmd, true)
	return cmd
}

func runCheck(ctx context.Context, c *commander, files []string, rules, fix bool) error {
	type result struct {
		File     string                  `json:"file"`
		OK       bool                    `json:"ok"`
		Count    int                     `json:"count"`
		Findings []diagnostic.Diagnostic `json:"findings"`
		Rules    []provedRule            `json:"rules"`
		Fixed    *fixed                  `json:"fixed,omitempty"`
		Cases    *fixed                  `json:"fixed_cases,omitempty"`
		list     diagnostic.List
		cases    *casesBeside
		own      bool
	}
	w := c.works()
	var all []result
	failed := false
	w.Ahead(ctx, files)
	// A file that cannot be checked does not hide the others.
	var faults []error
	for _, f := range files {
		r, err := w.Recipe(ctx, f)
		if ctx.Err() != nil {
			return ctx.Err()
		}
		if err != nil {
			faults = appendFault(faults, err)
			continue
		}
		var mended *fixed
		if fix {
			if mended, err = fixNames(w, f, r); err != nil {
				faults = appendFault(faults, err)
				continue
			}
			if mended != nil {
				if r, err = w.Recipe(ctx, f); err != nil {
					return err
				}
			}
		}
		cases := readCases(r)
		var mendedCases *fixed
		if fix && cases != nil {
			if mendedCases, err = cases.fix(); err != nil {
				faults = appendFault(faults, err)
			} else if mendedCases != nil {
				cases = readCases(r)
			}
		}
		proved := []provedRule{}
		if r.Bound != nil {
			proofs, more := r.Bound.CheckRules()
			r.List.Append(more)
			r.List.Append(r.Bound.CheckPaper())
			proved = provedRules(proofs)
		}
		if cases != nil {
			r.List.Append(cases.found)
		}
		found := r.List.Sorted()
		all = append(all, result{f, !r.List.Failed(), len(found), append([]diagnostic.Diagnostic{}, found[:min(len(found), diagnostic.Most)]...), proved, mended, mendedCases, r.List, cases, r.Text.Own != nil})
		failed = failed || r.List.Failed()
	}
	if len(all) == 0 {
		return errors.Join(faults...)
	}
	if c.json {
		if err := c.printJSON(all); err != nil {
			return err
		}
	} else {
		for _, r := range all {
			if r.Fixed != nil {
				c.printFixed(r.File, r.Fixed)
			}
			if r.Cases != nil {
				c.printFixed(r.cases.path, r.Cases)
			}
			if fix && r.cases != nil && r.cases.lost {
				c.printf("%s: cannot be read, so no name in it was looked at\n", diagnostic.Clean(r.cases.path))
			}
			if err := r.list.Text(c.sys.Out); err != nil {
				return err
			}
			if r.own && r.list.Len() > 0 {
				c.printf("Lines of (whole) are those of:\n  canewright show %s --whole\n", inShell(r.File))
			}
			switch {
			case !r.OK:
			case r.list.Len() == 0:
				c.printf("%s: all well\n", diagnostic.Clean(r.File))
			default:
				c.printf("%s: can be followed\n", diagnostic.Clean(r.File))
			}
			if rules {
				c.printRules(r.Rules)
			}
		}
	}
	if len(faults) > 0 {
		return errors.Join(faults...)
	}
	if failed {
		return errShown{exitFailed}
	}
	return nil
}

// appendFault leaves out what was said of an earlier file.
func appendFault(faults []error, err error) []error {
	if slices.ContainsFunc(faults, func(f error) bool { return f.Error() == err.Error() }) {
		return faults
	}
	return append(faults, err)
}
