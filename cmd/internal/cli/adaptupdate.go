package cli

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"canewright/cmd/internal/wire"
	"canewright/engine/adaptation"
	"canewright/engine/diagnostic"
	"canewright/engine/recipe"
)

// update brings an own version to a newer version of its origin.
func (a *adapting) update(ctx context.Context) error {
	flags, c, own := a.o, a.c, a.own
	if len(flags.settings)+len(flags.targets)+len(flags.leave)+len(flags.moves)+len(flags.drop) > 0 || flags.ask {
		return usagef("adapt: --update changes nothing of yours; do that in a call of its own")
	}
	name := flags.from
	if name == "" {
		found, ok := a.w.Newer(own.Own.Origin)
		if !ok {
			c.printf("%s builds on %s, version %d. No other version of it is here.\n", diagnostic.Clean(a.path), diagnostic.Clean(own.Own.Origin.ID), own.Own.Origin.Version)
			c.printf("If you have one in a file:\n  canewright adapt %s --update --from FILE\n", inShell(a.path))
			return nil
		}
		name = found
	}
	newer, list, err := a.w.Text(name)
	if err != nil {
		return err
	}
	if newer.Whole == nil {
		return &wire.InvalidError{Name: name, List: list}
	}
	f, list := recipe.Load(newer.WholeName, newer.Whole)
	if f == nil {
		return &wire.InvalidError{Name: name, List: list}
	}
	if f.ID != own.Own.Origin.ID {
		return hinted{usagef("adapt: %s is %s, and your version builds on %s", diagnostic.Clean(name), diagnostic.Clean(f.ID), diagnostic.Clean(own.Own.Origin.ID)), "to build on another recipe begin anew: canewright adapt " + diagnostic.Clean(name) + " -o FILE"}
	}
	if recipe.Digest(newer.Data) == own.Own.Origin.SHA256 {
		c.printf("%s builds on just this text already.\n", diagnostic.Clean(a.path))
		return nil
	}
	rev := adaptation.Revise(own.Data, own.Origin, newer.Whole)
	again := "canewright adapt " + inShell(a.path) + " --update"
	if flags.from != "" {
		again += " --from " + inShell(flags.from)
	}
	take, decided, err := a.decide(ctx, rev.All, again, own.Own.Origin.Version, f.Version)
	if err != nil || !decided {
		return err
	}
	kept := "as in version " + strconv.Itoa(own.Own.Origin.Version)
	for i, d := range rev.All {
		if d.Settled() || take[i] {
			rev.Take(d)
		} else {
			rev.Keep(d, kept)
		}
	}
	o := adaptation.OriginOf(f, newer.Data)
	rev.Origin(o)
	if own.Own.Instrument.Value != "" && o.Instrument != "" {
		rev.Head("instrument", o.Instrument)
	}
	rev.Head("version", strconv.Itoa(own.Own.Version+1))
	a.base, a.editor = newer, rev.Editor
	return a.finish(ctx)
}

// decide says which differences are taken up; decided is false where they were
// only shown. again is the command to decide with.
func (a *adapting) decide(ctx context.Context, all []adaptation.Difference, again string, from, to int) (take map[int]bool, decided bool, err error) {
	c, o := a.c, a.o
	take = map[int]bool{}
	open := 0
	for _, d := range all {
		if !d.Settled() {
			open++
		}
	}
	switch strings.TrimSpace(strings.ToLower(o.take)) {
	case "all":
		for i := range all {
			take[i] = true
		}
		return take, true, nil
	case "none":
		return take, true, nil
	case "":
	default:
		for _, word := range strings.FieldsFunc(o.take, func(r rune) bool { return r == ' ' || r == ',' }) {
			n, err := strconv.Atoi(word)
			if err != nil || n < 1 || n > len(all) {
				return nil, false, hinted{usagef("adapt: --take %q", diagnostic.Clean(o.take)), fmt.Sprintf("write all, none, or numbers from 1 to %d", len(all))}
			}
			take[n-1] = true
		}
		return take, true, nil
	}
	if c.json {
		return nil, false, c.printJSON(map[string]any{"file": a.path, "from": from, "to": to, "changes": append([]adaptation.Difference{}, all...)})
	}
	c.printf("Version %d of %s, against version %d that yours builds on:\n\n", to, diagnostic.Clean(a.own.Own.Origin.ID), from)
	ask := c.sys.Typed && !o.dry
	in := c.asker()
	if len(all) == 0 {
		c.printf("only comments, layout or the head changed\n")
		return take, true, nil
	}
	for i, d := range all {
		c.printDifference(fmt.Sprintf("%2d. ", i+1), d, "gone", "")
		switch {
		case d.Settled():
			c.wrap("      ", "taken up in any case")
			continue
		case d.Conflict != "":
			c.wrap("      ! ", d.Conflict)
		}
		if !ask {
			continue
		}
		question := "    take it up? yes or no: "
		if d.Conflict != "" {
			question = "    theirs in place of yours? yes or no: "
		}
		for {
			c.printf("%s", question)
			line, err := in.line(ctx)
			if errors.Is(err, errAtQuestion) {
				return nil, false, err
			}
			if err != nil {
				c.printf("\n")
				return nil, false, hinted{usagef("adapt: not all was answered, so nothing is written"), "begin again when you have the time; --take says it in one go"}
			}
			word := strings.ToLower(line)
			if slices.Contains([]string{"yes", "y"}, word) {
				take[i] = true
				break
			}
			if slices.Contains([]string{"no", "n"}, word) {
				break
			}
		}
	}
	if ask {
		return take, true, nil
	}
	c.printf("\n%s\n", count(open, "change")+" to decide; nothing is written yet.")
	c.printf("  %s --take all\n  %s --take \"1 2\"\n", again, again)
	return nil, false, nil
}
