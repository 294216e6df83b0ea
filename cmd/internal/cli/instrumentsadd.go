package cli

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

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
		Long: `Add an instrument, so that recipes can say "instrument: NAME 1". PATH is a
folder with an instrument.yaml, or a program that serves dimensions.

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
		return c.addFolder(ctx, path, o.onlyCheck)
	case o.onlyCheck:
		return usagef("add %s: --only-check is for folders; canewright instruments try %[1]s checks a program", diagnostic.Clean(path))
	}
	return c.addProgram(ctx, path, o)
}

// addFolder checks an instrument without code and keeps its file.
func (c *commander) addFolder(ctx context.Context, path string, onlyCheck bool) error {
	data, err := folder.Read(path)
	if err != nil {
		return hinted{usageError{fmt.Errorf("add an instrument: %w", err)}, "canewright instruments new NAME writes a folder to begin with; of a program, name the file itself"}
	}
	return c.addFile(ctx, filepath.Join(path, folder.File), data, onlyCheck)
}

// addFile is addFolder for a file at hand: the one door for all of them.
func (c *commander) addFile(ctx context.Context, path string, data []byte, onlyCheck bool) error {
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
		said := "Nothing wrong."
		if list.Len() > 0 {
			said = "It can be added; look at what is said above first."
		}
		c.printf("%s Nothing was added.\n", said)
		return nil
	}
	was, err := store.Find(name)
	if err != nil {
		return err
	}
	if was != nil {
		if old, err := folder.Read(was.Dir); was.Approval == nil && err == nil && bytes.Equal(old, data) {
			c.printf("It is added already, just like this.\n")
			return nil
		}
		c.showChange(ctx, was, in.Set)
		if err := c.askYes(ctx, "It takes the place of the one before.", "change "+name); err != nil {
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
		err = c.askYes(ctx, "It takes the place of the one before.", "change "+name)
	case !o.yes:
		err = c.askYes(ctx, "Adding it has run nothing yet.", "add "+name)
	}
	if err != nil {
		return err
	}
	before, lost := c.before(ctx, offer.Was)
	same := offer.Intact() // and only the record of it was lost
	sums, err := offer.Approve(ctx, c.sys.Now())
	if err != nil {
		return hinted{err, "nothing was added; canewright instruments try " + diagnostic.Clean(asPath(path)) + " looks at all a plugin should do"}
	}
	for _, s := range sums {
		c.printf("Added %s %d.%d: %s\n", s.ID, s.Major, s.Minor, s.Title)
		if s.ID == name {
			c.printf("A recipe uses it with\n  instrument: %s %d\n", name, s.Major)
		}
	}
	if offer.Was != nil && !same {
		c.showDifferences(before, lost, offer.Sets)
	}
	return nil
}

// asPath writes a path so that it is not taken for an instrument's name.
func asPath(path string) string {
	if filepath.Base(path) != path {
		return path
	}
	return "." + string(filepath.Separator) + path
}

func (c *commander) showOldProgram(offer *host.Offer) {
	was := offer.Was.Approval
	switch {
	case offer.Was.Lost != nil:
		c.wrap("", "Of this name there is a program, and what you said yes to of it is not known any more: "+diagnostic.Clean(offer.Was.Lost.Error())+".")
		if offer.Intact() {
			c.wrap("", "The copy that was kept of it has the same SHA-256 as this one.")
		} else {
			c.wrap("", "The copy that was kept of it is not this one, or is gone.")
		}
	case was == nil:
		c.wrap("", "Of this name there is an instrument without code. A program would take its place.")
	default:
		c.printf("It is not the program you said yes to on %s:\n", was.Approved.Format(time.DateOnly))
		c.printf("  was      %s\n  is       %s\n", diagnostic.Clean(was.SHA256), offer.SHA256)
		c.printf("  was      %d bytes, version %s, from %s\n", was.Size, diagnostic.Clean(was.Version), diagnostic.Clean(was.From))
	}
}

// askYes goes on only after a hand has typed yes; an answer from a file or a
// pipe is nobody's.
func (c *commander) askYes(ctx context.Context, told, what string) error {
	if !c.sys.Typed {
		return hinted{usageError{errors.New(what + ": nobody is there to say yes, so nothing was done")}, "run it in a terminal, where it can be asked; --yes covers only the first time of a program"}
	}
	c.printf("%s\nType yes to go on: ", told)
	yes, err := c.asker().yes(ctx)
	if err != nil {
		return err
	}
	if !yes {
		c.printf("\n")
		return hinted{usageError{errors.New(what + ": you did not type yes, so nothing was done")}, "yes is a whole word here, so that no key pressed by mistake says it"}
	}
	return nil
}

// brokenHint says what to do about a plugin that fails.
func (c *commander) brokenHint(name string) string {
	a, err := c.works().Store().Find(name)
	switch {
	case err != nil || a == nil || a.Lost != nil:
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
