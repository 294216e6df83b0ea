package cli

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"canewright/cmd/internal/wire"
	"canewright/engine/diagnostic"
)

func newLibraryCheckCmd(c *commander) *cobra.Command {
	cmd := &cobra.Command{
		Use: "check", Short: "Check every recipe of the library, and all of them together", Args: cobra.NoArgs,
		Long: `Check every recipe of your library as "canewright check" does, and try the cases
beside each. Then the library as a whole: recipes whose instrument is not here,
and ids that stand in two places with different texts.

Exit code 0: nothing wrong; 1: a recipe has errors, a case does not come out, or
two texts call themselves the same version of the same recipe.`,
		Example: "  canewright library check\n  canewright library check --json",
		RunE:    func(cmd *cobra.Command, _ []string) error { return runLibraryCheck(cmd.Context(), c) },
	}
	c.jsonFlag(cmd)
	return cmd
}

// checkedRecipe is what is found of one.
type checkedRecipe struct {
	File     string                  `json:"file"`
	Name     string                  `json:"name"`
	Version  string                  `json:"version"`
	Digest   string                  `json:"digest"`
	OK       bool                    `json:"ok"`
	Findings []diagnostic.Diagnostic `json:"findings"`
	Cases    int                     `json:"cases_tried"`
	Faults   []wire.CaseFault        `json:"case_faults"`
	// Missing is the instrument that is not here.
	Missing string `json:"instrument_missing,omitempty"`

	list diagnostic.List
}

// double is an id with several texts.
type double struct {
	Name  string   `json:"name"`
	Clash bool     `json:"same_version"` // two of them say they are the same version
	Where []string `json:"where"`
}

func runLibraryCheck(ctx context.Context, c *commander) error {
	shelves, err := c.shelves(nil)
	if err != nil {
		return err
	}
	w := c.works()
	w.Remember()
	total, gone := 0, []string{}
	for _, s := range shelves {
		total += len(s.entries)
		if s.Fault != "" {
			gone = append(gone, s.Fault)
		}
	}
	tell := c.howFar("recipes checked", total)
	all, missing := []checkedRecipe{}, []string{}
	for _, s := range shelves {
		for i := range s.entries {
			tell(len(all))
			e := &s.entries[i]
			one, err := checkOne(ctx, w, filepath.Join(s.Path, filepath.FromSlash(e.File)), e.Cases != "")
			if err != nil {
				return err
			}
			if one.Name, one.Version, one.Digest = e.Name(), e.Version, e.Digest; one.Name == "" {
				one.Name = e.Place
			}
			if one.Missing != "" && !slices.Contains(missing, one.Missing) {
				missing = append(missing, one.Missing)
			}
			all = append(all, one)
		}
	}
	slices.Sort(missing)
	doubles := doublesOf(all)
	failed := slices.ContainsFunc(all, func(r checkedRecipe) bool { return !r.OK }) || slices.ContainsFunc(doubles, func(d double) bool { return d.Clash })
	flush := c.buffered()
	if c.json {
		err = c.printJSON(map[string]any{"recipes": all, "doubles": doubles, "instruments_missing": missing, "folders_missing": gone})
	} else {
		err = c.showChecked(all, doubles, missing, gone)
	}
	if err = errors.Join(err, flush()); err != nil {
		return err
	}
	if failed {
		return errShown{exitFailed}
	}
	return nil
}

// checkOne checks a recipe and tries its cases. An instrument that fails is
// that recipe's trouble, and stops no other.
func checkOne(ctx context.Context, w *wire.Works, file string, cases bool) (checkedRecipe, error) {
	out := checkedRecipe{File: file, Faults: []wire.CaseFault{}}
	r, err := w.Recipe(ctx, file)
	if ctx.Err() != nil {
		return out, ctx.Err()
	}
	if err != nil {
		out.Faults = append(out.Faults, wire.CaseFault{Why: diagnostic.Clean(err.Error())})
		out.Findings = []diagnostic.Diagnostic{}
		return out, nil
	}
	if r.Bound != nil {
		_, more := r.Bound.CheckRules()
		r.List.Append(more)
	}
	for _, d := range r.List.Sorted() {
		if d.Code == "recipe/unknown-instrument" && r.File != nil {
			out.Missing = fmt.Sprintf("%s %d", r.File.Instrument, r.File.Major)
		}
	}
	out.list, out.OK = r.List, !r.List.Failed()
	if cases && r.Bound != nil {
		played, faults, list, err := w.PlayBeside(ctx, r, file)
		if err != nil {
			return out, err
		}
		out.list.Append(list)
		out.Cases, out.Faults = played, append(out.Faults, faults...)
		out.OK = out.OK && !list.Failed() && len(faults) == 0
	}
	out.Findings = capped(out.list)
	return out, nil
}

// doublesOf are the ids that stand in several places with different texts, by
// name.
func doublesOf(all []checkedRecipe) []double {
	by := map[string][]checkedRecipe{}
	var names []string
	for _, r := range all {
		if by[r.Name] == nil {
			names = append(names, r.Name)
		}
		by[r.Name] = append(by[r.Name], r)
	}
	slices.Sort(names)
	out := []double{}
	for _, n := range names {
		d := double{Name: n}
		texts, versions := map[string]bool{}, map[string]string{}
		for _, r := range by[n] {
			texts[r.Digest] = true
			if other, ok := versions[r.Version]; ok && other != r.Digest {
				d.Clash = true
			}
			versions[r.Version] = r.Digest
			d.Where = append(d.Where, "version "+r.Version+": "+r.File)
		}
		if len(texts) > 1 {
			out = append(out, d)
		}
	}
	return out
}

func (c *commander) showChecked(all []checkedRecipe, doubles []double, missing, gone []string) error {
	errs, warned, tried, faults := 0, 0, 0, 0
	for i := range all {
		r := &all[i]
		if err := r.list.Text(c.sys.Out); err != nil {
			return err
		}
		for _, f := range r.Faults {
			if f.Case == "" {
				c.wrap("", r.File+": "+f.Why)
				continue
			}
			c.wrap("", fmt.Sprintf("%s: case %q: %s", r.File, diagnostic.Clean(f.Case), diagnostic.Clean(f.Why)))
		}
		tried += r.Cases
		faults += len(r.Faults)
		switch {
		case !r.OK:
			errs++
		case r.list.Len() > 0:
			warned++
		}
	}
	for _, d := range doubles {
		what := "stands in several versions"
		if d.Clash {
			what = "stands twice with the same version and different texts; give one of them another version or id"
		}
		c.wrap("", d.Name+" "+what+":")
		for _, p := range d.Where {
			c.wrap("  ", p)
		}
	}
	if len(missing) > 0 {
		c.wrap("", "instruments that are not here: "+strings.Join(missing, ", "))
	}
	for _, g := range gone {
		c.wrap("", "not here now: "+g)
	}
	c.printf("%s: %d well, %d with warnings, %d that cannot be used or do not come out; %s tried\n",
		count(len(all), "recipe"), len(all)-errs-warned, warned, errs, count(tried, "case"))
	return nil
}
