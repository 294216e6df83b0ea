package cli

import (
	"context"
	"fmt"
	"os"
	"strings"

	"canewright/cmd/internal/wire"
	"canewright/engine/comparison"
	"canewright/engine/diagnostic"
	"canewright/engine/parcel"
)

// showOpening shows a pack before anything of it is stored. Every word of it
// is a stranger's: wrap and Clean make text of them.
func (c *commander) showOpening(ctx context.Context, w *wire.Works, in *wire.Opening) error {
	f, h := in.Recipe.File, in.Contents.Heading
	if in.Signer.Other != nil {
		c.wrap("!! ", pretends(in.Signer))
		c.printf("\n")
	}
	c.wrap("", f.Title)
	line := fmt.Sprintf("%s, version %d", h.ID, h.Version)
	if h.Instrument != "" {
		line += fmt.Sprintf(", for %s %d", h.Instrument, h.Major)
	}
	c.printf("%s\n", line)
	if f.Author != "" {
		c.wrap("", "by "+f.Author)
	}
	if f.Licence != "" {
		c.wrap("", "licence "+f.Licence)
	}
	for _, p := range strings.Split(f.About, "\n\n") {
		if p != "" {
			c.printf("\n")
			c.wrap("", p)
		}
	}
	part := func(title string, lines []string) {
		c.printf("\n%s\n", title)
		for _, l := range lines {
			c.wrap("  - ", l)
		}
	}
	part("who signed it", signerLines(in.Signer))
	if h.Instrument != "" {
		part("instrument", instrumentLines(in))
	}
	if t := in.Recipe.Text; t.Own != nil && t.Whole != nil {
		c.printf("\nwhat differs from %s, version %d, which it builds on\n", diagnostic.Clean(t.Own.Origin.ID), t.Own.Origin.Version)
		o := ownOf(t, false)
		c.printChanges("  - ", o)
		if len(o.Changes) == 0 {
			c.printf("  - nothing\n")
		}
	}
	if b := in.Recipe.Bound; b != nil {
		part("it asks for", needLines(wire.NeedsOf(b)))
		notes, err := w.NotesOf(b)
		if err != nil {
			return err
		}
		if len(notes) == 0 {
			notes = []string{"none is known for what it uses"}
		}
		part("safety notes", notes)
	} else {
		part("safety notes", []string{"They are chosen by what the recipe uses, which can be told when the instrument is here; they are shown at the bench then."})
	}
	part("yours", yoursLines(in))
	c.showUnlike(ctx, w, in)
	part("in the pack", packLines(in.Contents))
	c.printf("\nchecked\n")
	if in.Recipe.List.Len() > 0 {
		if err := in.Recipe.List.Text(c.sys.Out); err != nil {
			return err
		}
	}
	for _, l := range checkedLines(in) {
		c.wrap("  - ", l)
	}
	return nil
}

// pretends is said first, and again where the key is shown.
func pretends(s wire.Signer) string {
	return fmt.Sprintf("WARNING: whoever signed this calls themselves %q, and you know that name with ANOTHER KEY. This may be somebody who pretends.", diagnostic.Clean(s.As))
}

func signerLines(s wire.Signer) []string {
	if !s.Signed {
		return []string{"Nobody: nothing says who made this file, or whether it was changed on the way."}
	}
	var out []string
	if s.Other != nil {
		out = append(out, pretends(s), "the key you know: "+parcel.Fingerprint(s.Other.Key), "Ask them by another way before you use this.")
	}
	switch {
	case s.Own:
		out = append(out, "You did, with your own key.")
	case s.Known != "":
		out = append(out, fmt.Sprintf("The same key as before, which you call %q.", diagnostic.Clean(s.Known)))
	default:
		out = append(out, "A key you have given no name to.")
	}
	if s.As != "" {
		out = append(out, fmt.Sprintf("In their own words: %q. Anybody can write that.", diagnostic.Clean(s.As)))
	}
	out = append(out, "fingerprint "+parcel.Fingerprint(s.Key), "It proves that this key signed all of it, and that nothing was changed since; not who has the key.")
	return out
}

func instrumentLines(in *wire.Opening) []string {
	i, h := in.Instrument, in.Contents.Heading
	name := fmt.Sprintf("%s %d", i.Name, i.Major)
	var out []string
	switch {
	case i.Yours != nil && i.Same:
		out = append(out, name+": you have it, just like the sender's ("+i.Theirs+").")
	case i.Yours != nil:
		yours := fmt.Sprintf("%d.%d", i.Yours.Major, i.Yours.Minor)
		if yours == i.Theirs {
			out = append(out, name+": you have it, in the same version ("+yours+"), but yours says something else.")
		} else {
			out = append(out, name+": you have "+yours+", the sender had "+i.Theirs+".")
		}
	case i.Why != "":
		out = append(out, name+": yours cannot be used: "+diagnostic.Clean(i.Why))
	case i.InPack != nil:
		out = append(out, name+": you do not have it; it is in the pack, without code.")
	case h.InstrumentFrom == parcel.FromCanewright:
		out = append(out, name+": you do not have it; it comes with a newer canewright.")
	default:
		out = append(out, name+": you do not have it, and a pack never holds a program. Ask the sender where it is to be had; canewright instruments add PROGRAM adds it.")
	}
	if i.Shadowed {
		out = append(out, "The pack brings one of its own under this name. The one that comes with canewright is used, and the pack's is not kept.")
	}
	if i.InPack != nil && i.Yours != nil && !i.Same {
		what := "Another one is in the pack, without code"
		if i.Program {
			what += "; yours is a program"
		}
		out = append(out, what+". What is said below is with the pack's. You are asked before it takes the place of yours.")
	}
	return out
}

func needLines(n wire.Needs) []string {
	var out []string
	for _, g := range []struct {
		name  string
		words []string
	}{{"tools", n.Tools}, {"materials", n.Materials}, {"uses", n.Uses}} {
		if len(g.words) > 0 {
			out = append(out, g.name+": "+strings.Join(g.words, ", "))
		}
	}
	for _, s := range n.Settings {
		line := "setting: " + s.Name + " " + s.Value
		if s.Why != "" {
			line += " (" + s.Why + ")"
		}
		out = append(out, line)
	}
	if len(out) == 0 {
		out = append(out, "nothing that it names")
	}
	return out
}

func yoursLines(in *wire.Opening) []string {
	if len(in.Yours) == 0 {
		return []string{"You have none of this id."}
	}
	var out []string
	differs := ""
	for _, y := range in.Yours {
		line := y.Place + ", version " + y.Version + ": "
		switch y.How {
		case "same":
			line += "the same text."
		case "newer":
			line += "this one is newer."
		case "older":
			line += "this one is OLDER."
		default:
			line += "this one has the same version and another text."
		}
		if y.How != "same" && differs == "" {
			differs = y.Place
		}
		out = append(out, line)
	}
	if differs != "" {
		out = append(out, "Both stay when you keep it.")
	}
	return out
}

// mostUnlike is how many lines of a comparison are shown before the pack is kept.
const mostUnlike = 24

// showUnlike says how the pack's recipe differs from the first of the player's own
// of its id: what counts, and the rest by number.
func (c *commander) showUnlike(ctx context.Context, w *wire.Works, in *wire.Opening) {
	for _, y := range in.Yours {
		if y.How == "same" || in.Recipe.Bound == nil {
			continue
		}
		name := y.File
		if _, err := os.Stat(name); err != nil {
			name = y.Place // bundled
		}
		r, err := w.Recipe(ctx, name)
		if err != nil || r.Bound == nil {
			c.printf("\nhow it differs from %s cannot be said: that one cannot be used\n", diagnostic.Clean(y.Place))
			return
		}
		c.printf("\nA is yours, %s; B is the pack's\n", diagnostic.Clean(y.Place))
		lines := comparison.Of(r.Bound, in.Recipe.Bound).Unlike()
		for i, l := range lines {
			if i == mostUnlike && len(lines) > mostUnlike+2 {
				c.wrap("  ", fmt.Sprintf("… and %d lines more: keep it, and canewright compare shows all", len(lines)-i))
				return
			}
			if l.Text != "" || l.Lead != "" {
				c.wrap("  "+l.Lead, diagnostic.Clean(l.Text))
			}
		}
		return
	}
}

func packLines(c *parcel.Contents) []string {
	out := []string{fmt.Sprintf("the recipe, %s", kib(len(c.File(parcel.RecipeName))))}
	if len(c.Of(parcel.Cases)) > 0 {
		out = append(out, "its cases")
	}
	if n := len(c.Of(parcel.Origin)); n > 0 {
		out = append(out, count(n, "recipe")+" it builds on")
	}
	if len(c.Of(parcel.Instrument)) > 0 {
		out = append(out, "its instrument, without code")
	}
	for _, p := range c.Of(parcel.Picture) {
		out = append(out, p.Name)
	}
	return out
}

func checkedLines(in *wire.Opening) []string {
	var out []string
	switch {
	case in.Instrument.Missing() || in.Recipe.Bound == nil:
		out = append(out, "Only the shape of the recipe could be checked: its instrument is not here.")
	case in.Recipe.List.Len() == 0:
		out = append(out, "all well")
	default:
		out = append(out, "it can be followed")
	}
	if in.Played > 0 && len(in.Cases) == 0 {
		out = append(out, caseCount(in.Played))
	}
	for _, f := range in.Cases {
		out = append(out, fmt.Sprintf("case %q does not come out as its maker wants: %s", diagnostic.Clean(f.Case), diagnostic.Clean(f.Why)))
	}
	return out
}

// openJSON is the same for scripts. With --keep it stores, and asks nobody.
func (c *commander) openJSON(ctx context.Context, w *wire.Works, in *wire.Opening, o openOptions) error {
	h, s, i := in.Contents.Heading, in.Signer, in.Instrument
	type file struct {
		Name string      `json:"name"`
		Role parcel.Role `json:"role"`
		Size int         `json:"size"`
	}
	files := []file{}
	for _, f := range in.Contents.Files {
		files = append(files, file{f.Name, f.Role(), len(f.Data)})
	}
	out := map[string]any{
		"file": o.file, "id": h.ID, "version": h.Version, "title": h.Title, "author": h.Author, "licence": h.Licence, "about": in.Recipe.File.About,
		"files": files, "findings": capped(in.Recipe.List), "yours": append([]wire.Yours{}, in.Yours...),
		"cases": map[string]any{"tried": in.Played, "faults": append([]wire.CaseFault{}, in.Cases...)},
	}
	signer := map[string]any{"signed": s.Signed}
	if s.Signed {
		signer["fingerprint"], signer["as"], signer["known_as"], signer["your_own"], signer["name_known_with_another_key"] = parcel.Fingerprint(s.Key), s.As, s.Known, s.Own, s.Other != nil
	}
	out["signature"] = signer
	if i.Name != "" {
		instrument := map[string]any{"name": i.Name, "major": i.Major, "sender_had": i.Theirs, "here": i.Yours != nil, "same": i.Same, "in_pack": i.InPack != nil, "why": i.Why}
		if i.Yours != nil {
			instrument["yours"] = fmt.Sprintf("%d.%d", i.Yours.Major, i.Yours.Minor)
		}
		out["instrument"] = instrument
	}
	if t := in.Recipe.Text; t.Own != nil && t.Whole != nil {
		own := ownOf(t, false)
		out["builds_on"], out["changes"], out["whys"] = own.BuildsOn, own.Changes, own.Whys
	}
	if b := in.Recipe.Bound; b != nil {
		notes, err := w.NotesOf(b)
		if err != nil {
			return err
		}
		out["needs"], out["safety_notes"] = wire.NeedsOf(b), notes
	}
	if o.trustAs != "" {
		if _, err := w.Trust(s.Key, o.trustAs); err != nil {
			return fmt.Errorf("open %s: %w", diagnostic.Clean(o.file), err)
		}
		signer["known_as"] = o.trustAs
	}
	if o.keep {
		quiet := *c
		said := &strings.Builder{}
		quiet.sys.Out = said // what the door says is not JSON
		quiet.sys.Typed = false
		if err := quiet.keepInstrument(ctx, in, o); err != nil {
			return err
		}
		kept, err := w.Keep(in.Contents)
		if err != nil {
			return err
		}
		out["kept"] = map[string]any{"place": kept.Place, "folder": kept.Dir, "was_there": kept.Already, "beside": kept.Beside}
	}
	return c.printJSON(out)
}
