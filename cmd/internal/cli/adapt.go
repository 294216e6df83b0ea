package cli

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"canewright/cmd/internal/wire"
	"canewright/engine/adaptation"
	"canewright/engine/diagnostic"
	"canewright/engine/recipe"
)

type adaptOptions struct {
	file, title, id, author, why string
	settings, targets, leave     []string
	moves, drop                  []string
	ask, dry, beside             bool
	update                       bool
	from, take, to               string
}

func newAdaptCmd(c *commander) *cobra.Command {
	o := adaptOptions{}
	cmd := &cobra.Command{
		Use: "adapt RECIPE", Short: "Make a recipe your own: only what differs is kept", Args: cobra.ExactArgs(1),
		Long: `Write your own version on top of another's recipe. Only what is yours stands in
the file: settings, targets, stages changed, left out, moved or added, with the
name, version and SHA-256 of the recipe it builds on. Everything that takes a
recipe takes your file too.

Without any change given, at a terminal, it asks: for each setting and each
target in turn. Enter leaves it as it is. Numbers are kept as you type them, in
inches, fractions or thousandths too; +- is as good as ±. A setting moves no
target by itself: who sets shaper.width sets shape.fold too, or uses --to
my-tools.

--to my-tools carries it over to the tools you described with canewright
my-tools: what changes with them is set, with the sum as the reason; what cannot
be known is listed, and stays.

Given your own version, adapt changes that file and keeps it as it was beside
it, under its name and .before. Comments you wrote stay.

When the recipe it builds on has a new version, --update lists what changed in
it, numbered, and what of yours meets that. --take all, --take none or --take
"1 3" says what you take up; the rest stays as it was. At a terminal it asks.

Stages are added or changed further by hand, in the file:

  changes:
    - change: gouge
      why: my machine takes dry cane
      condition: dry
    - add: polish the inside
      after: gouge
      tools: [sandpaper]
      do: [A few rubs along the grain.]`,
		Example: `  canewright adapt bassoon/from-tube -o mine.yaml
  canewright adapt bassoon/from-tube -o winter.yaml --set "shaper.width = 0.575 in" --why "my shaper"
  canewright adapt mine.yaml --target "gouge.centre = 1.28 ± 0.03 mm" --author "Anna"
  canewright adapt mine.yaml --leave-out pre-gouge --why "I buy it pre-gouged"
  canewright adapt mine.yaml --target "wires: wire.first = 1 1/16 ± 1/64 in" --move "ream after cut the tip"
  canewright show mine.yaml --own
  canewright adapt bassoon/from-tube -o carried.yaml --to my-tools
  canewright adapt mine.yaml --update`,
		RunE: func(cmd *cobra.Command, args []string) error { return runAdapt(cmd.Context(), c, args[0], o) },
	}
	f := cmd.Flags()
	f.StringVarP(&o.file, "output", "o", "", "write your version to `FILE`, which must not exist")
	f.StringVar(&o.title, "title", "", "its title, in your `WORDS`")
	f.StringVar(&o.id, "id", "", "its `ID`: small letters, digits and hyphens (default: from the file's name)")
	f.StringVar(&o.author, "author", "", "your `NAME`, as others shall read it")
	f.StringVar(&o.why, "why", "", "why, in your `WORDS`, for all that is changed in this call")
	f.StringArrayVar(&o.settings, "set", nil, "a `SETTING`, as NAME = VALUE; may be given again")
	f.StringArrayVar(&o.targets, "target", nil, "a `TARGET`, as [STAGE:] NAME = TOLERANCE; may be given again")
	f.StringArrayVar(&o.leave, "leave-out", nil, "leave this `STAGE` out; may be given again")
	f.StringArrayVar(&o.moves, "move", nil, "a `MOVE`, as STAGE after STAGE, or before; may be given again")
	f.StringArrayVar(&o.drop, "as-before", nil, "let go of what you changed of this `NAME`: a setting, a target or a stage")
	f.BoolVar(&o.ask, "ask", false, "ask for each setting and target, also when answers come from a file")
	f.BoolVar(&o.dry, "dry-run", false, "show what would be written, and write nothing")
	f.BoolVar(&o.beside, "with-origin", false, "keep what it builds on beside it too, in a folder origins, for a shared folder")
	f.StringVar(&o.to, "to", "", "carry it over to `TOOLS`: my-tools, or a file that describes tools")
	f.BoolVar(&o.update, "update", false, "take up a new version of what it builds on")
	f.StringVar(&o.from, "from", "", "with --update: the new version's `FILE` or name (default: what has the same id here)")
	f.StringVar(&o.take, "take", "", "with --update: `WHICH` changes to take up: all, none, or numbers")
	c.jsonFlag(cmd)
	c.offerRecipes(cmd, false)
	c.offerRecipesTo(cmd, "from")
	return cmd
}

// adapting is one run of adapt.
type adapting struct {
	c      *commander
	w      *wire.Works
	o      adaptOptions
	base   wire.Text // what the own version stands on, or will
	editor *adaptation.Editor
	own    wire.Text // what is changed in place; empty for a new one
	path   string    // of the file that is written
	name   string    // of the recipe, as it was called
}

func runAdapt(ctx context.Context, c *commander, name string, o adaptOptions) error {
	a := &adapting{c: c, w: c.works(), o: o, name: name}
	t, list, err := a.w.Text(name)
	if err != nil {
		return err
	}
	if t.Whole == nil {
		return &wire.InvalidError{Name: name, List: list}
	}
	if !o.update && (o.from != "" || o.take != "") {
		return usagef("adapt: --from and --take belong to --update")
	}
	inPlace := t.Own != nil && o.file == ""
	switch {
	case o.update && !inPlace:
		return hinted{usagef("adapt: --update is for a version of your own"), "canewright adapt MINE.yaml --update"}
	case o.update:
		a.own, a.path = t, t.File
		return a.update(ctx)
	case inPlace:
		a.own, a.path = t, t.File
		a.base = wire.Text{Whole: t.Origin, WholeName: t.OriginName}
		a.editor = adaptation.Edit(t.Data)
	case o.file == "" && !o.dry:
		return hinted{usagef("adapt: your version of %s needs a file", diagnostic.Clean(name)), "canewright adapt " + diagnostic.Clean(name) + " -o mine.yaml"}
	default:
		if o.file != "" && !wire.IsNewFile(o.file) {
			return hinted{usagef("adapt: %s is there already", diagnostic.Clean(o.file)), "to change it: canewright adapt " + diagnostic.Clean(o.file) + "; or name another file"}
		}
		a.path, a.base = o.file, t
		if err := a.begin(t); err != nil {
			return err
		}
	}
	return a.edit(ctx)
}

// begin is an own version that changes nothing yet.
func (a *adapting) begin(t wire.Text) error {
	f, list := recipe.Load(t.WholeName, t.Whole)
	if f == nil {
		return &wire.InvalidError{Name: t.File, List: list}
	}
	id := a.o.id
	if id == "" {
		if id = idFrom(a.path); id == "" || id == f.ID {
			id = "my-" + f.ID
		}
	}
	if len(id) > 64 || !idShape.MatchString(id) {
		return hinted{usagef("adapt: %q cannot be an id", diagnostic.Clean(id)), "small letters, digits and single hyphens: my-medium-reed"}
	}
	title := a.o.title
	if title == "" {
		title = f.Title + ", my version"
	}
	o := adaptation.OriginOf(f, t.Data)
	a.editor = adaptation.Edit(adaptation.Begin(o, id, title, a.o.author, ""))
	a.o.title, a.o.author = "", ""
	return nil
}

var (
	idShape = regexp.MustCompile(`^[a-z][a-z0-9]*(-[a-z0-9]+)*$`)
	notID   = regexp.MustCompile(`[^a-z0-9]+`)
)

func idFrom(path string) string {
	base := filepath.Base(path)
	id := strings.Trim(notID.ReplaceAllString(strings.ToLower(strings.TrimSuffix(base, filepath.Ext(base))), "-"), "-")
	if !idShape.MatchString(id) {
		return ""
	}
	return id
}

// edit makes the changes the flags name, or asks for them.
func (a *adapting) edit(ctx context.Context) error {
	o := a.o
	given := len(o.settings)+len(o.targets)+len(o.leave)+len(o.moves)+len(o.drop) > 0 || o.title != "" || o.author != "" || o.id != ""
	places, err := a.places()
	if err != nil {
		return err
	}
	ask := o.ask || !given && o.to == "" && a.c.sys.Typed && !a.c.json
	if ask || o.to != "" {
		r, err := a.w.Ready(ctx, wire.Text{File: a.base.WholeName, Data: a.base.Whole, Whole: a.base.Whole, WholeName: a.base.WholeName}, diagnostic.List{}, nil)
		if err != nil {
			return err
		}
		if r.Bound == nil {
			return &wire.InvalidError{Name: a.base.WholeName, List: r.List}
		}
		if o.to != "" {
			err = a.carry(r.Bound)
		} else {
			err = a.asked(ctx, places, r.Bound)
		}
		if err != nil {
			return err
		}
	}
	if !ask {
		if err := a.flagged(places); err != nil {
			return err
		}
	}
	return a.finish(ctx)
}

func (a *adapting) flagged(p *adaptation.Places) error {
	o := a.o
	for _, name := range o.drop {
		stage, what := "", strings.TrimSpace(name)
		if s, n, ok := strings.Cut(name, ":"); ok {
			stage, what = strings.TrimSpace(s), strings.TrimSpace(n)
		}
		found := stage == "" && a.editor.Forget(what)
		if !a.forgetTarget(p, stage, what) && !found {
			return usagef("adapt: your version says nothing of %q", diagnostic.Clean(name))
		}
	}
	for _, s := range o.settings {
		name, value, ok := strings.Cut(s, "=")
		name, value = strings.TrimSpace(name), strings.TrimSpace(value)
		if !ok || value == "" {
			return hinted{usagef("adapt: --set %q", diagnostic.Clean(s)), `write --set "shaper.width = 14.6 mm"`}
		}
		if !slices.Contains(p.Settings, name) {
			return hinted{usagef("adapt: the recipe has no setting %q", diagnostic.Clean(name)), nearOr(name, p.Settings, "its settings are ")}
		}
		if err := readable(value, p.Values[name], true); err != nil {
			return hinted{usagef("adapt: --set %q: %w", diagnostic.Clean(s), err), "nothing was written"}
		}
		a.editor.Setting(name, value, o.why)
	}
	for _, t := range o.targets {
		if err := a.target(p, t); err != nil {
			return err
		}
	}
	for _, s := range o.leave {
		if err := knownStage(p, s); err != nil {
			return err
		}
		a.editor.LeaveOut(strings.TrimSpace(s), o.why)
	}
	for _, m := range o.moves {
		stage, where, anchor, ok := splitMove(p, m)
		if !ok {
			return hinted{usagef("adapt: --move %q", diagnostic.Clean(m)), `write --move "ream after cut the tip", with two stages of the recipe; canewright show lists them`}
		}
		a.editor.Move(stage, where, anchor, o.why)
	}
	for _, h := range []struct{ key, text string }{{"title", o.title}, {"author", o.author}} {
		if h.text != "" {
			a.editor.Head(h.key, h.text)
		}
	}
	if o.id != "" && a.own.Own != nil {
		a.editor.Head("id", o.id)
	}
	return nil
}

func (a *adapting) forgetTarget(p *adaptation.Places, stage, name string) bool {
	if stage != "" {
		return a.editor.ForgetTarget(stage, name)
	}
	found := false
	for _, at := range p.Targets[name] {
		found = a.editor.ForgetTarget(at.Stage, name) || found
	}
	return found
}

// target sets a target wherever the recipe sets it, or at the stage named.
func (a *adapting) target(p *adaptation.Places, s string) error {
	left, value, ok := strings.Cut(s, "=")
	value = strings.TrimSpace(value)
	if !ok || value == "" {
		return hinted{usagef("adapt: --target %q", diagnostic.Clean(s)), `write --target "gouge.centre = 1.28 ± 0.03 mm", or --target "wires: wire.first = 27 ± 0.5 mm"`}
	}
	stage, name, staged := strings.Cut(left, ":")
	if !staged {
		stage, name = "", left
	}
	stage, name = strings.TrimSpace(stage), strings.TrimSpace(name)
	was := "± 0.5 mm"
	if places := p.Targets[name]; len(places) > 0 {
		was = places[0].Text
	}
	if err := readable(value, was, false); err != nil {
		return hinted{usagef("adapt: --target %q: %w", diagnostic.Clean(s), err), "nothing was written"}
	}
	if staged {
		if err := knownStage(p, stage); err != nil {
			return err
		}
		a.editor.Target(stage, name, value, a.o.why)
		return nil
	}
	places := p.Targets[name]
	if len(places) == 0 {
		return hinted{usagef("adapt: the recipe has no target %q", diagnostic.Clean(name)), nearOr(name, p.Names, "its targets are ") + `; to give a stage a new one: --target "STAGE: NAME = TOLERANCE"`}
	}
	for _, at := range places[1:] {
		if at.Text != places[0].Text {
			var all []string
			for _, at := range places {
				where := at.Stage
				if where == "" {
					where = "the whole recipe"
				}
				all = append(all, where+" ("+at.Text+")")
			}
			return hinted{usagef("adapt: %s has several targets: %s", name, diagnostic.Clean(strings.Join(all, ", "))), `say which: --target "STAGE: ` + name + ` = ` + diagnostic.Clean(value) + `"`}
		}
	}
	for _, at := range places {
		a.editor.Target(at.Stage, name, value, a.o.why)
	}
	return nil
}

func knownStage(p *adaptation.Places, stage string) error {
	if stage = strings.TrimSpace(stage); slices.Contains(p.Stages, stage) {
		return nil
	}
	return hinted{usagef("adapt: the recipe has no stage %q", diagnostic.Clean(stage)), nearOr(stage, p.Stages, "its stages are ")}
}

func nearOr(word string, known []string, list string) string {
	if n := diagnostic.Near(word, known); n != "" {
		return "did you mean " + diagnostic.Clean(n) + "?"
	}
	if len(known) == 0 {
		return "it has none"
	}
	return list + diagnostic.Clean(strings.Join(known, ", "))
}

// splitMove reads "ream after cut the tip"; a name may hold "after" itself.
func splitMove(p *adaptation.Places, m string) (stage, where, anchor string, ok bool) {
	for _, w := range []string{"after", "before"} {
		for rest, from := m, 0; ; {
			i := strings.Index(rest[from:], " "+w+" ")
			if i < 0 {
				break
			}
			i += from
			a, b := strings.TrimSpace(rest[:i]), strings.TrimSpace(rest[i+len(w)+2:])
			if slices.Contains(p.Stages, a) && slices.Contains(p.Stages, b) && a != b {
				return a, w, b, true
			}
			from = i + 1
		}
	}
	return "", "", "", false
}

// places are what the recipe under the own version has to change.
func (a *adapting) places() (*adaptation.Places, error) {
	p, list := adaptation.PlacesOf(a.base.WholeName, a.base.Whole)
	if p == nil {
		return nil, &wire.InvalidError{Name: a.base.WholeName, List: list}
	}
	return p, nil
}

// errNothing: an own version without a change is no use yet, and no harm.
var errNothing = errors.New("nothing was changed")

// finish checks the result, shows it and writes it.
func (a *adapting) finish(ctx context.Context) error {
	data := a.editor.Bytes()
	name := a.path
	if name == "" {
		name = "your version"
	}
	own, list := adaptation.Load(name, data)
	if own == nil {
		return &wire.InvalidError{Name: name, List: list}
	}
	whole, list := own.Whole(a.base.WholeName, a.base.Whole)
	if whole == nil {
		return &wire.InvalidError{Name: name, List: list}
	}
	t := wire.Text{File: name, Data: data, Own: own, OriginName: a.base.WholeName, Origin: a.base.Whole, Whole: whole, WholeName: name + " (whole)"}
	r, err := a.w.Ready(ctx, t, list, nil)
	if err != nil {
		return err
	}
	if r.Bound == nil {
		return hinted{&wire.InvalidError{Name: name, List: r.List}, "nothing was written"}
	}
	if a.own.Own != nil && string(data) == string(a.own.Data) {
		return hinted{usageError{fmt.Errorf("adapt %s: %w", diagnostic.Clean(name), errNothing)}, "canewright adapt --help shows how to say what"}
	}
	if !a.o.dry {
		if err := a.write(data); err != nil {
			return err
		}
	}
	if a.c.json {
		return a.c.printJSON(ownOf(t, !a.o.dry))
	}
	if a.o.dry {
		_, err := a.c.sys.Out.Write(data)
		return err
	}
	if err := r.List.Text(a.c.sys.Out); err != nil {
		return err
	}
	a.c.printOwn(t)
	a.c.printf("\nWrote %s. Next:\n", diagnostic.Clean(a.path))
	shell := inShell(a.path)
	a.c.printf("  canewright show %s --own\n  canewright show %s --whole\n  canewright follow %s\n", shell, shell, shell)
	return nil
}

func (a *adapting) write(data []byte) error {
	// What it builds on is kept first: without it the file is no use.
	if len(a.base.Data) > 0 {
		keep := append([][]byte{a.base.Data}, a.base.Chain...)
		for _, d := range keep {
			if err := a.w.KeepOrigin(d); err != nil {
				return err
			}
			if a.o.beside {
				if err := wire.KeepBeside(a.path, d); err != nil {
					return err
				}
			}
		}
	} else if a.o.beside {
		for _, d := range a.own.Chain {
			if err := wire.KeepBeside(a.path, d); err != nil {
				return err
			}
		}
	}
	if a.own.Own == nil {
		return writeNew("recipe", a.path, data)
	}
	_, err := replaceFile(a.path, a.own.Data, data)
	return err
}
