package cli

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"canewright/engine/diagnostic"
	"canewright/engine/dimension"
	"canewright/plugins/folder"
	"canewright/plugins/host"
)

// before is what an added instrument serves that another is going to replace,
// or why it cannot be told.
func (c *commander) before(ctx context.Context, was *host.Added) (sets []*dimension.Set, lost error) {
	if was == nil {
		return nil, nil
	}
	if was.Approval == nil && was.Lost == nil {
		// Read here: nothing of it has to run, and what is wrong has a place.
		data, err := folder.Read(was.Dir)
		if err != nil {
			return nil, err
		}
		in, list := folder.Load(folder.File, data)
		if in == nil {
			return nil, fmt.Errorf("it has errors, such as: %s", list.Sorted()[0].Message)
		}
		return []*dimension.Set{in.Set}, nil
	}
	return c.works().Host().Majors(ctx, was.Name)
}

// showChange shows how a file differs from what has its name.
func (c *commander) showChange(ctx context.Context, was *host.Added, set *dimension.Set) {
	switch {
	case was.Lost != nil:
		c.printf("Of this name there is a program, and what was approved of it is not known any more.\n")
	case was.Approval != nil:
		c.printf("Of this name there is a program:\n")
		c.wrap("  ", "SHA-256 "+diagnostic.Clean(was.Approval.SHA256))
	}
	before, lost := c.before(ctx, was)
	c.showDifferences(before, lost, []*dimension.Set{set})
}

// showDifferences tells value by value what changes for those who use an
// instrument: each set beside the one of the same major version, else beside
// the latest there was.
func (c *commander) showDifferences(before []*dimension.Set, lost error, now []*dimension.Set) {
	if lost != nil {
		c.wrap("", "What changes cannot be told, for the one before cannot be asked: "+diagnostic.Clean(lost.Error()))
		return
	}
	for _, n := range now {
		b := beside(before, n)
		if b == nil {
			continue
		}
		c.printf("Before it was\n%s %d.%d: %s\n", b.ID, b.Major, b.Minor, b.Title)
		c.wrap("  ", counted(b, 0))
		c.printf("  digest %x\n", b.Digest())
		all := b.Differences(n)
		c.showValues(all)
		switch {
		case b.Digest() == n.Digest():
			c.wrap("  ", "it says the same as before")
		case b.Major == n.Major:
			if gone := broken(b, n); len(gone) > 0 {
				c.wrap("  ", fmt.Sprintf("recipes for %s %d may use what is gone or means something else: %s; a new major version would tell them apart, and \"was\" carries an old name on", b.ID, b.Major, strings.Join(gone, ", ")))
			}
			if b.Minor == n.Minor {
				c.wrap("  ", "the version is the same; a change deserves a new one")
			}
		}
	}
	for _, b := range before {
		if !slices.ContainsFunc(now, func(n *dimension.Set) bool { return n.Major == b.Major }) {
			c.wrap("  ", fmt.Sprintf("recipes for %s %d do not find it any more", b.ID, b.Major))
		}
	}
}

// beside is the set another is compared with.
func beside(before []*dimension.Set, now *dimension.Set) *dimension.Set {
	var best *dimension.Set
	for _, b := range before {
		if b.Major == now.Major {
			return b
		}
		if best == nil || b.Major > best.Major {
			best = b
		}
	}
	return best
}

// showValues lists what went, what came, and every value that is another.
func (c *commander) showValues(all []dimension.Difference) {
	var gone, came []string
	for _, d := range all {
		switch {
		case d.Gone():
			gone = append(gone, diagnostic.Clean(d.Of))
		case d.New():
			came = append(came, diagnostic.Clean(d.Of))
		}
	}
	if len(gone) > 0 {
		c.wrap("  ", "no longer there: "+strings.Join(gone, ", "))
	}
	if len(came) > 0 {
		c.wrap("  ", "new: "+strings.Join(came, ", "))
	}
	for _, d := range all {
		if d.Gone() || d.New() {
			continue
		}
		what := d.What
		if d.Of != "" {
			what = d.Of + ", " + what
		}
		was, is := diagnostic.Clean(orNothing(d.Before)), diagnostic.Clean(orNothing(d.After))
		if line := what + ": " + was + " is now " + is; len("  "+line) <= c.sys.Width {
			c.wrap("  ", line)
			continue
		}
		c.wrap("  ", what)
		c.wrap("    was  ", was)
		c.wrap("    is   ", is)
	}
}

func orNothing(text string) string {
	if text == "" {
		return "nothing"
	}
	return text
}

// broken lists what recipes written for one set cannot use in another: names
// that are gone, and names of another kind.
func broken(before, now *dimension.Set) []string {
	out := missing(before, now)
	for _, d := range before.Dimensions {
		if o, ok := now.Find(d.Name); ok && o.Name == d.Name && o.Kind != d.Kind {
			out = append(out, d.Name+" (was "+d.Kind.String()+", is "+o.Kind.String()+")")
		}
	}
	return out
}

// missing are the names of dimensions of a that b does not have.
func missing(a, b *dimension.Set) []string {
	var out []string
	for _, d := range a.Dimensions {
		if !slices.ContainsFunc(b.Dimensions, func(x dimension.Dimension) bool { return x.Name == d.Name || slices.Contains(x.Was, d.Name) }) {
			out = append(out, d.Name)
		}
	}
	return out
}
