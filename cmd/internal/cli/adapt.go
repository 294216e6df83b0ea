package cli

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"regexp"
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
	if !recipe.IsID(id) {
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

var notID = regexp.MustCompile(`[^a-z0-9]+`)

func idFrom(path string) string {
	base := filepath.Base(path)
	id := strings.Trim(notID.ReplaceAllString(strings.ToLower(strings.TrimSuffix(base, filepath.Ext(base))), "-"), "-")
	if !recipe.IsID(id) {
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
