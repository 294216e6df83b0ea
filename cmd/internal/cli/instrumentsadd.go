package cli

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"canewright/cmd/internal/terminal"
	"canewright/engine/diagnostic"
	"canewright/engine/dimension"
	"canewright/plugins/folder"
	"canewright/plugins/host"
)

type instrumentsAddOptions struct {
	path, name     string
	yes, onlyCheck bool
}

func newInstrumentsAddCmd(c *commander) *cobra.Command {
	var o instrumentsAddOptions
	cmd := &cobra.Command{
		Use: "add PATH", Short: "Add an instrument of your own, or a new version of it", Args: cobra.ExactArgs(1),
		Long: `Add an instrument, so that recipes can say "instrument: NAME 1". PATH is a folder
with an instrument.yaml, or a program that serves dimensions.

A folder is checked and its instrument.yaml copied; nothing of it is ever run,
and nothing else in it is looked at.

A program is code of a stranger and runs with your rights. You are shown its
name, its folder, its size and its SHA-256 first, and it is copied and run only
after you have typed yes. The copy is what runs from then on; a copy that has
changed is not started. --yes says it beforehand, for scripts that know the
SHA-256, and only where nothing of this name was added before: a change is
always asked of a person.`,
		Example: "  canewright instruments add shawm\n  canewright instruments add shawm --only-check\n  canewright instruments add ./shawm-plugin --name shawm",
		RunE: func(cmd *cobra.Command, args []string) error {
			o.path = args[0]
			return runInstrumentsAdd(cmd.Context(), c, o)
		},
	}
	cmd.Flags().StringVar(&o.name, "name", "", "a program's `NAME` (default: what its file is called)")
	cmd.Flags().BoolVar(&o.yes, "yes", false, "say yes to a program beforehand; never to a change")
	cmd.Flags().BoolVar(&o.onlyCheck, "only-check", false, "check a folder and add nothing")
	return cmd
}

func runInstrumentsAdd(ctx context.Context, c *commander, o instrumentsAddOptions) error {
	path := o.path
	info, err := os.Stat(path)
	if err != nil {
		return usagef("add an instrument: %w", err)
	}
	if !info.IsDir() && filepath.Base(path) == folder.File {
		path = filepath.Dir(path)
		if info, err = os.Stat(path); err != nil {
			return usagef("add an instrument: %w", err)
		}
	}
	switch {
	case info.IsDir() && o.name != "":
		return usagef("add %s: --name is for programs; a folder's name is the id in its %s", diagnostic.Clean(path), folder.File)
	case info.IsDir():
		return c.addFolder(path, o.onlyCheck)
	case o.onlyCheck:
		return usagef("add %s: --only-check is for folders; canewright instruments try %[1]s checks a program", diagnostic.Clean(path))
	}
	return c.addProgram(ctx, path, o)
}

// addFolder checks an instrument without code and keeps its file.
func (c *commander) addFolder(path string, onlyCheck bool) error {
	data, err := folder.Read(path)
	if err != nil {
		return hinted{usageError{fmt.Errorf("add an instrument: %w", err)}, "canewright instruments new NAME writes a folder to begin with; of a program, name the file itself"}
	}
	return c.addFile(filepath.Join(path, folder.File), data, onlyCheck)
}

// addFile is addFolder for a file at hand: the one door for all of them.
func (c *commander) addFile(path string, data []byte, onlyCheck bool) error {
	in, list := folder.Load(path, data)
	_ = list.Text(c.sys.Out)
	if in == nil {
		return errShown{exitInvalid}
	}
	store, name := c.works().Store(), in.Set.ID
	if err := c.mayBeCalled(store, name); err != nil {
		return err
	}
	c.describeSet(in.Set, in.Cases)
	if onlyCheck {
		c.printf("Nothing wrong. Nothing was added.\n")
		return nil
	}
	was, err := store.Find(name)
	if err != nil {
		return err
	}
	if was != nil {
		same, err := c.showChange(was, in.Set, data)
		if err != nil {
			return err
		}
		if same {
			c.printf("It is added already, just like this.\n")
			return nil
		}
		if err := c.askYes("It takes the place of the one before.", "change "+name); err != nil {
			return err
		}
	}
	if err := store.Keep(name, folder.File, data); err != nil {
		return err
	}
	c.printf("Added. A recipe uses it with\n  instrument: %s %d\n", name, in.Set.Major)
	return nil
}

// mayBeCalled refuses names of bundled instruments and the words of this
// command.
func (c *commander) mayBeCalled(store host.Store, name string) error {
	if slices.Contains([]string{"add", "draw", "help", "new", "remove", "try"}, name) {
		return &host.NameError{Name: name, Why: "this is a word of the command instruments", Hint: "give yours another name"}
	}
	return store.Check(name)
}

// describeSet says what an instrument brings.
func (c *commander) describeSet(set *dimension.Set, cases int) {
	c.printf("%s %d.%d: %s\n", set.ID, set.Major, set.Minor, set.Title)
	c.wrap("  ", counted(set, cases))
	var names []string
	for _, d := range set.Dimensions {
		names = append(names, d.Name)
	}
	c.wrap("  ", strings.Join(names, ", "))
	c.printf("  digest %x\n", set.Digest())
}

func counted(set *dimension.Set, cases int) string {
	worked := 0
	for _, d := range set.Dimensions {
		if d.Formula != "" {
			worked++
		}
	}
	s := fmt.Sprintf("dimensions: %d, %d of them worked out; symptoms: %d; remedies: %d", len(set.Dimensions), worked, len(set.Symptoms), len(set.Remedies))
	if cases > 0 {
		s += fmt.Sprintf("; cases tried: %d", cases)
	}
	return s
}

// showChange shows how an instrument differs from the one that has its name.
func (c *commander) showChange(was *host.Added, set *dimension.Set, data []byte) (same bool, err error) {
	if was.Approval != nil {
		c.printf("Of this name there is a program:\n")
		c.wrap("  ", "SHA-256 "+diagnostic.Clean(was.Approval.SHA256))
		return false, nil
	}
	old, err := folder.Read(was.Dir)
	if err != nil {
		c.printf("Of this name there is one that cannot be read: %v\n", err)
		return false, nil
	}
	if string(old) == string(data) {
		return true, nil
	}
	before, _ := folder.Load(folder.File, old)
	if before == nil {
		c.printf("Of this name there is one that has errors.\n")
		return false, nil
	}
	b := before.Set
	c.printf("Before it was\n%s %d.%d: %s\n", b.ID, b.Major, b.Minor, b.Title)
	c.wrap("  ", counted(b, before.Cases))
	c.printf("  digest %x\n", b.Digest())
	gone, came := missing(b, set), missing(set, b)
	if len(gone) > 0 {
		c.wrap("  ", "no longer there: "+strings.Join(gone, ", "))
		if b.Major == set.Major {
			c.wrap("  ", fmt.Sprintf("recipes for %s %d may use these: give the file a new major version, or keep the names", b.ID, b.Major))
		}
	}
	if len(came) > 0 {
		c.wrap("  ", "new: "+strings.Join(came, ", "))
	}
	for i := range set.Dimensions {
		d := &set.Dimensions[i]
		if o, ok := b.Find(d.Name); ok && o.Name == d.Name && o.Plausible.Text != d.Plausible.Text {
			c.wrap("  ", d.Name+", plausible: "+orNothing(o.Plausible.Text)+" is now "+orNothing(d.Plausible.Text))
		}
	}
	if b.Digest() == set.Digest() {
		c.wrap("  ", "the dimensions are the same; only the file's own text differs")
	} else if b.Major == set.Major && b.Minor == set.Minor {
		c.wrap("  ", "the version is the same; a change deserves a new one")
	}
	return false, nil
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

// addProgram shows a program and runs it only after a yes.
func (c *commander) addProgram(ctx context.Context, path string, o instrumentsAddOptions) error {
	w, name := c.works(), o.name
	if name == "" {
		name = strings.TrimSuffix(filepath.Base(path), ".exe")
	}
	if err := c.mayBeCalled(w.Store(), name); err != nil {
		if e, ok := errors.AsType[*host.NameError](err); ok && o.name == "" {
			return &host.NameError{Name: e.Name, Why: e.Why, Hint: e.Hint + "; --name NAME says which"}
		}
		return err
	}
	offer, err := w.Host().Offer(name, path)
	if err != nil {
		return err
	}
	if offer.Was != nil && !offer.Changed() && !offer.Intact() {
		// The same bytes were approved; what lay in their place was not.
		if _, err := offer.Approve(ctx, c.sys.Now()); err != nil {
			return err
		}
		c.printf("The copy kept of %s had changed or was gone; the approved one was put back.\n", name)
		return nil
	}
	if offer.Was != nil && !offer.Changed() {
		c.printf("This program is added already as %s, approved on %s.\n", name, offer.Was.Approval.Approved.Format(time.DateOnly))
		return nil
	}
	c.wrap("", "This is a program and no part of canewright. Once added it runs whenever something asks for "+name+", with your rights: it can read and change your files.")
	c.printf("  name     %s\n  file     %s\n  folder   %s\n  size     %d bytes\n  SHA-256  %s\n", name,
		diagnostic.Clean(filepath.Base(offer.From)), diagnostic.Clean(filepath.Dir(offer.From)), offer.Size, offer.SHA256)
	switch {
	case offer.Changed():
		c.showOldProgram(offer)
		err = c.askYes("It takes the place of the one before.", "change "+name)
	case !o.yes:
		err = c.askYes("Adding it has run nothing yet.", "add "+name)
	}
	if err != nil {
		return err
	}
	var before *dimension.Set // what it replaces, if that can still be asked
	if offer.Was != nil {
		for _, s := range c.majors(ctx, name) {
			before = s
		}
	}
	sums, err := offer.Approve(ctx, c.sys.Now())
	if err != nil {
		return hinted{err, "nothing was added; canewright instruments try " + diagnostic.Clean(path) + " looks at all a plugin should do"}
	}
	for _, s := range sums {
		c.printf("Added %s %d.%d: %s\n", s.ID, s.Major, s.Minor, s.Title)
		if s.ID == name {
			c.printf("A recipe uses it with\n  instrument: %s %d\n", name, s.Major)
			c.showBroken(ctx, before, name, int(s.Major))
		}
	}
	return nil
}

func (c *commander) showOldProgram(offer *host.Offer) {
	was := offer.Was.Approval
	if was == nil {
		c.wrap("", "Of this name there is an instrument without code. A program would take its place.")
		return
	}
	c.printf("It is not the program you said yes to on %s:\n", was.Approved.Format(time.DateOnly))
	c.printf("  was      %s\n  is       %s\n", diagnostic.Clean(was.SHA256), offer.SHA256)
	c.printf("  was      %d bytes, version %s, from %s\n", was.Size, diagnostic.Clean(was.Version), diagnostic.Clean(was.From))
}

// askYes goes on only after a hand has typed yes; an answer from a file or a
// pipe is nobody's.
func (c *commander) askYes(told, what string) error {
	if !c.sys.Typed {
		return hinted{usageError{errors.New(what + ": nobody is there to say yes, so nothing was done")}, "run it in a terminal, where it can be asked; --yes covers only the first time of a program"}
	}
	c.printf("%s\nType yes to go on: ", told)
	line, err := terminal.NewLineReader(c.sys.In).ReadLine()
	if err != nil {
		line = ""
	}
	if strings.TrimSpace(strings.ToLower(line)) != "yes" {
		c.printf("\n")
		return hinted{usageError{errors.New(what + ": you did not type yes, so nothing was done")}, "yes is a whole word here, so that no key pressed by mistake says it"}
	}
	return nil
}

// brokenHint says what to do about a plugin that fails.
func (c *commander) brokenHint(name string) string {
	a, err := c.works().Store().Find(name)
	switch {
	case err != nil || a == nil:
		return ""
	case a.Approval == nil:
		return "its file is " + filepath.Join(a.Dir, folder.File) + "; canewright instruments add FOLDER checks and replaces it"
	}
	return "canewright instruments try " + name + " lists what is wrong, for its author; canewright instruments remove " + name + " takes it away"
}

// warnAttached says at once, whatever the command, that a plugin is used that
// nobody has checked.
func (c *commander) warnAttached() error {
	all, err := c.works().Attached()
	if err != nil {
		return usageError{err}
	}
	var names []string
	for name := range all {
		names = append(names, name)
	}
	slices.Sort(names)
	for _, name := range names {
		fmt.Fprintf(c.sys.Err, "canewright: warning: the instrument %s is answered by process %d, which canewright neither started nor checked (CANEWRIGHT_REATTACH)\n", name, all[name].Pid)
	}
	return nil
}

func orNothing(text string) string {
	if text == "" {
		return "nothing"
	}
	return text
}

// majors are the sets an added program serves under its name, as far as it
// answers.
func (c *commander) majors(ctx context.Context, name string) []*dimension.Set {
	var out []*dimension.Set
	all, err := c.works().Host().List(ctx)
	if err != nil {
		return nil
	}
	for _, s := range all {
		if s.ID != name {
			continue
		}
		if set, err := c.works().Host().Set(ctx, name, int(s.Major)); err == nil {
			out = append(out, set)
		}
	}
	return out
}

// showBroken says what a new program took away within a major version: recipes
// may use it.
func (c *commander) showBroken(ctx context.Context, before *dimension.Set, name string, major int) {
	if before == nil || before.Major != major {
		return
	}
	now, err := c.works().Host().Set(ctx, name, major)
	if err != nil {
		return
	}
	if b := broken(before, now); len(b) > 0 {
		c.wrap("", "Recipes for "+name+" "+fmt.Sprint(major)+" may use what is gone or means something else: "+strings.Join(b, ", ")+". A new major version would tell them apart; Was carries an old name on.")
	}
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
