package cli

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"canewright/cmd/internal/wire"
	"canewright/engine/diagnostic"
	"canewright/plugins/conform"
	"canewright/plugins/folder"
	"canewright/plugins/proto"
)

func newInstrumentsTryCmd(c *commander) *cobra.Command {
	yes, patience := false, 1
	cmd := &cobra.Command{
		Use: "try NAME|PATH", Short: "Check whether an instrument's plugin does what it should", Args: cobra.ExactArgs(1),
		Long: `Check an instrument before it is added, or while you write it. PATH is an
executable, a folder with one executable, or a folder with an instrument.yaml;
NAME is an instrument there is. A word that is both is the instrument; ./WORD is
the file or folder. The first line says which of them is tried.

The plugin is copied, started, asked, cancelled, stopped, and looked at
meanwhile: what it prints, writes, takes and leaves. Every check says what was
seen and, where it failed, what to do.

An executable is shown with its size and its SHA-256 before it is run, and is
run only when you say yes; --yes says so beforehand.

Exit code 0: every check passed or was skipped; 1: one failed.`,
		Example: "  canewright instruments try ./shawm\n  canewright instruments try my-instrument/\n  canewright instruments try bassoon --json",
		RunE: func(cmd *cobra.Command, args []string) error {
			return runInstrumentsTry(cmd.Context(), c, args[0], yes, patience)
		},
	}
	cmd.Flags().BoolVar(&yes, "yes", false, "run the executable without asking")
	cmd.Flags().IntVar(&patience, "patience", 1, "multiply every time limit by `N`, for a slow machine")
	c.jsonFlag(cmd)
	c.offerInstruments(cmd, cobra.ShellCompDirectiveDefault)
	return cmd
}

func runInstrumentsTry(ctx context.Context, c *commander, path string, yes bool, patience int) error {
	if patience < 1 {
		return usagef("--patience %d; it is 1 or more", patience)
	}
	p, agree, told, err := c.toTry(ctx, path, yes)
	if err != nil {
		return err
	}
	c.tellTried(told)
	if p.Folder != "" {
		if data, err := folder.Read(p.Folder); err == nil {
			// What a player wrote is told with its place, before anything is started.
			in, list := folder.Load(filepath.Join(path, folder.File), data)
			_ = list.Text(c.sys.Out)
			if in == nil {
				return errShown{exitInvalid}
			}
		}
	}
	r, err := conform.Run(ctx, p, conform.Options{Patience: patience, Agree: agree})
	if err != nil {
		return err
	}
	if c.json {
		if err := c.printJSON(r); err != nil {
			return err
		}
	} else {
		c.tried(r)
	}
	if !r.OK {
		return errShown{exitFailed}
	}
	return nil
}

// toTry says how to start what a player named, and what it is. An executable
// that is not ours is agreed to first, but for the one that was approved.
func (c *commander) toTry(ctx context.Context, word string, yes bool) (p conform.Program, agree func(conform.Copied) error, told []string, err error) {
	exe, err := os.Executable()
	if err != nil {
		return p, nil, nil, fmt.Errorf("try an instrument: find this program's file: %w", err)
	}
	agree = func(what conform.Copied) error { return c.mayRun(ctx, what, yes) }
	shown := diagnostic.Clean(word)
	info, statErr := os.Stat(word)
	here := "file"
	if statErr == nil && info.IsDir() {
		here = "folder"
	}
	// An instrument by its name, as for every other command; a path has a
	// separator in it.
	if filepath.Base(word) == word {
		added, err := c.works().Store().Find(word)
		if err != nil {
			return p, nil, nil, err
		}
		_, bundled := wire.Bundled()[word]
		if statErr == nil && (bundled || added != nil) {
			told = []string{fmt.Sprintf("The %s of this name here is another: canewright instruments try .%c%s", here, filepath.Separator, shown)}
		}
		switch {
		case bundled:
			told = append([]string{"Trying the instrument " + shown + ", which comes with canewright."}, told...)
			return conform.Program{Path: exe, Args: []string{proto.ServeArg, word}}, nil, told, nil
		case added != nil:
			told = append([]string{"Trying the instrument " + shown + ", " + addedHow(added) + "."}, told...)
			if was := added.Approval; was != nil {
				ask := agree
				agree = func(what conform.Copied) error {
					if what.SHA256 == was.SHA256 {
						return nil
					}
					return ask(what)
				}
			}
			p, agree, err = inFolder(exe, added.Dir, agree)
			return p, agree, told, err
		}
	}
	if statErr != nil {
		return p, nil, nil, hinted{usagef("try %s: there is no such file, folder or instrument", shown), "canewright instruments lists the instruments there are"}
	}
	told = []string{"Trying the " + here + " " + shown + "."}
	name := strings.TrimSuffix(filepath.Base(word), ".exe")
	if added, err := c.works().Store().Find(name); err == nil && added != nil || wire.Bundled()[name] != nil {
		told = append(told, "There is an instrument "+diagnostic.Clean(name)+" as well: canewright instruments try "+diagnostic.Clean(name))
	}
	if !info.IsDir() {
		return conform.Program{Path: word}, agree, told, executable(word, info)
	}
	p, agree, err = inFolder(exe, word, agree)
	return p, agree, told, err
}

// inFolder: an instrument without code, which is read by exe and nothing of
// which is run, or the one executable.
func inFolder(exe, path string, agree func(conform.Copied) error) (conform.Program, func(conform.Copied) error, error) {
	dir, err := filepath.Abs(path)
	if err != nil {
		return conform.Program{}, nil, fmt.Errorf("try %s: %w", diagnostic.Clean(path), err)
	}
	if _, err := os.Stat(filepath.Join(dir, folder.File)); err == nil {
		return conform.Program{Path: exe, Args: []string{proto.ServeFolderArg, dir}, Folder: dir}, nil, nil
	}
	program, err := onlyExecutable(dir)
	return conform.Program{Path: program, Folder: dir}, agree, err
}

// tellTried says what is tried, where nobody reads JSON.
func (c *commander) tellTried(told []string) {
	for _, line := range told {
		if c.json {
			fmt.Fprintln(c.sys.Err, line)
			continue
		}
		c.wrap("", line)
	}
}

func onlyExecutable(dir string) (string, error) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return "", fmt.Errorf("try %s: %w", diagnostic.Clean(dir), err)
	}
	var found []string
	for _, e := range entries {
		if i, err := e.Info(); err == nil && executable(e.Name(), i) == nil {
			found = append(found, e.Name())
		}
	}
	if len(found) != 1 {
		return "", hinted{
			usagef("try %s: it holds no %s and %d executables", diagnostic.Clean(dir), folder.File, len(found)),
			"name the executable itself, or a folder with one of the two",
		}
	}
	return filepath.Join(dir, found[0]), nil
}

func executable(path string, info os.FileInfo) error {
	if !info.Mode().IsRegular() {
		return usagef("try %s: this is no ordinary file", diagnostic.Clean(path))
	}
	runnable := info.Mode().Perm()&0o111 != 0
	if filepath.Ext(path) == ".exe" {
		runnable = true // a file system without such rights
	}
	if !runnable {
		return hinted{usagef("try %s: it is not executable", diagnostic.Clean(path)), "chmod +x makes it so; a no-code instrument is named by its folder"}
	}
	return nil
}

// mayRun shows what is going to be run and asks.
func (c *commander) mayRun(ctx context.Context, what conform.Copied, yes bool) error {
	fmt.Fprintf(c.sys.Err, "This runs a program that is no part of canewright:\n  name     %s\n  folder   %s\n  size     %d bytes\n  SHA-256  %s\n",
		diagnostic.Clean(filepath.Base(what.Path)), diagnostic.Clean(filepath.Dir(what.Path)), what.Size, what.SHA256)
	if yes {
		return nil
	}
	const nothing = "so nothing was run"
	if !c.sys.Typed {
		return hinted{usageError{errors.New("try an instrument: nobody is there to say yes, " + nothing)}, "run it in a terminal, or give --yes when you know where it comes from"}
	}
	fmt.Fprint(c.sys.Err, "Type yes to run it: ")
	said, err := c.asker().yes(ctx)
	if err != nil {
		return err
	}
	if !said {
		fmt.Fprintln(c.sys.Err)
		return hinted{usageError{errors.New("try an instrument: you did not type yes, " + nothing)}, "yes is a whole word here, so that no key pressed by mistake says it"}
	}
	return nil
}

// tried prints a report, what passed in one line each.
func (c *commander) tried(r *conform.Report) {
	for _, check := range r.Checks {
		switch check.Result {
		case conform.OK:
			c.wrap("ok       ", check.Name+": "+strings.Join(append([]string{check.Asks}, check.Seen...), "; "))
		case conform.Skipped:
			c.wrap("skipped  ", check.Name+": "+strings.Join(check.Seen, "; "))
		default:
			c.wrap("failed   ", check.Name+": "+check.Asks)
			for _, s := range check.Seen {
				c.wrap("   seen: ", s)
			}
			c.wrap("     do: ", check.Do)
		}
	}
	c.wrap("", r.Summary())
}
