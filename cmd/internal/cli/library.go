package cli

import (
	"fmt"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"canewright/cmd/internal/wire"
	"canewright/engine/diagnostic"
	"canewright/engine/library"
)

func newLibraryCmd(c *commander) *cobra.Command {
	cmd := &cobra.Command{
		Use: "library [WORD…]", Short: "List and search your recipes, and those of shared folders", Args: cobra.ArbitraryArgs,
		Long: `List the recipes in your library: your own, which lie in the folder recipes of
your data folder, and those of every folder you have added. With words: those
that hold all of them in title, id, about, author or instrument.

A library is a folder as it is: a shared folder, a memory stick, a checkout of
a version control system. A recipe lies in it as INSTRUMENT/ID/recipe.yaml, with
its cases.yaml beside it, or as a single file of any name that ends in .yaml.
There is no index file and nothing is written into an added folder, so two
people who add recipes never disturb each other. Folders that begin with a dot
and links are passed by.

The name in the first column is taken by show, follow, check, pack and the
others: INSTRUMENT/ID, or ID alone where it is the only one. A file comes before
a bundled recipe, and that before the library. Where two recipes of a name
differ, both places are told, and you choose.`,
		Example: "  canewright library\n  canewright library winter oboe\n  canewright library add ~/shared/reeds\n  canewright library check",
		RunE:    func(_ *cobra.Command, args []string) error { return runLibrary(c, args) },
	}
	c.jsonFlag(cmd)
	cmd.AddCommand(newLibraryAddCmd(c), newLibraryRemoveCmd(c), newLibraryCheckCmd(c))
	return cmd
}

func newLibraryAddCmd(c *commander) *cobra.Command {
	return &cobra.Command{
		Use: "add FOLDER", Short: "Add a folder to the library", Args: cobra.ExactArgs(1),
		Long: `Add a folder to your library. Its path is kept, one a line, in the file
libraries of your data folder; nothing is copied, and nothing in it is changed.`,
		Example: "  canewright library add ~/shared/reeds",
		RunE: func(_ *cobra.Command, args []string) error {
			path, added, err := c.works().AddLibrary(args[0])
			if err != nil {
				return hinted{usageError{err}, "name a folder that is there; canewright library lists those you have added"}
			}
			list, err := wire.Library{Path: path}.List()
			if err != nil {
				return err
			}
			if !added {
				c.printf("It is in your library already: %s, %s.\n", diagnostic.Clean(path), count(len(list.Entries), "recipe"))
				return nil
			}
			c.printf("Added: %s, %s.\n", diagnostic.Clean(path), count(len(list.Entries), "recipe"))
			return nil
		},
	}
}

func newLibraryRemoveCmd(c *commander) *cobra.Command {
	return &cobra.Command{
		Use: "remove FOLDER", Short: "Take a folder out of the library", Args: cobra.ExactArgs(1),
		Long: `Take an added folder out of your library. Nothing in it is changed; it need not
be there any more.`,
		Example: "  canewright library remove ~/shared/reeds",
		RunE: func(_ *cobra.Command, args []string) error {
			path, removed, err := c.works().RemoveLibrary(args[0])
			if err != nil {
				return err
			}
			if !removed {
				return hinted{usagef("remove library %s: it was not added", diagnostic.Clean(path)), "canewright library lists the folders"}
			}
			c.printf("Removed from your library: %s. The folder itself is untouched.\n", diagnostic.Clean(path))
			return nil
		},
		ValidArgsFunction: func(_ *cobra.Command, args []string, word string) ([]cobra.Completion, cobra.ShellCompDirective) {
			var out []cobra.Completion
			all, _ := c.works().Libraries()
			for _, l := range all {
				if len(args) == 0 && !l.Own && strings.HasPrefix(l.Path, word) {
					out = append(out, l.Path)
				}
			}
			return out, onlyThese
		},
	}
}

// shelf is one library as it is shown.
type shelf struct {
	Path    string        `json:"folder"`
	Own     bool          `json:"your_own"`
	Fault   string        `json:"fault,omitempty"`
	Recipes []shelfRecipe `json:"recipes"`
	Left    []string      `json:"left_off"`
	entries []library.Entry
}

type shelfRecipe struct {
	Name       string `json:"name"`
	File       string `json:"file"`
	Title      string `json:"title"`
	ID         string `json:"id"`
	Version    string `json:"version"`
	Instrument string `json:"instrument"`
	Author     string `json:"author"`
	Licence    string `json:"licence"`
	Digest     string `json:"digest"`
	Fault      string `json:"fault,omitempty"`
}

// shelves are the libraries and what they hold of these words.
func (c *commander) shelves(words []string) ([]shelf, error) {
	all, err := c.works().Libraries()
	if err != nil {
		return nil, err
	}
	var out []shelf
	for _, l := range all {
		s := shelf{Path: l.Path, Own: l.Own, Recipes: []shelfRecipe{}, Left: []string{}}
		list, err := l.List()
		if err != nil {
			s.Fault = err.Error()
		}
		s.Left = append(s.Left, list.Left...)
		for _, e := range list.Entries {
			if e.Holds(words) {
				s.entries = append(s.entries, e)
				s.Recipes = append(s.Recipes, shelfRecipe{e.Place, filepath.Join(l.Path, filepath.FromSlash(e.File)), e.Title, e.ID, e.Version, e.Instrument, e.Author, e.Licence, e.Digest, e.Fault})
			}
		}
		out = append(out, s)
	}
	return out, nil
}

func runLibrary(c *commander, words []string) error {
	all, err := c.shelves(words)
	if err != nil {
		return err
	}
	flush := c.buffered()
	if c.json {
		if err := c.printJSON(append([]shelf{}, all...)); err != nil {
			return err
		}
		return flush()
	}
	n := 0
	for i, s := range all {
		if i > 0 {
			c.printf("\n")
		}
		c.printf("%s\n", diagnostic.Clean(s.Path))
		switch {
		case s.Fault != "":
			c.wrap("    ", "not here now: "+s.Fault)
		case len(s.entries) == 0 && len(words) > 0:
			c.printf("    nothing of these words\n")
		case len(s.entries) == 0 && s.Own:
			c.printf("    empty; canewright open FILE --keep puts a recipe here\n")
		case len(s.entries) == 0:
			c.printf("    no recipe\n")
		}
		for _, e := range s.entries {
			c.showEntry(&e)
		}
		for _, l := range s.Left {
			c.wrap("    ", "left off: "+l)
		}
		n += len(s.entries)
	}
	if len(words) > 0 && n == 0 {
		_ = flush()
		return errShown{exitFailed}
	}
	return flush()
}

// showEntry shows a recipe in two lines.
func (c *commander) showEntry(e *library.Entry) {
	c.printf("  %s\n", diagnostic.Clean(e.Place))
	if e.Fault != "" {
		c.wrap("      ", "cannot be read: "+e.Fault)
		return
	}
	line := e.Title + ", version " + e.Version
	if e.Author != "" {
		line += ", by " + e.Author
	}
	if name := e.Name(); name != e.Place {
		line += "; it is " + name
	}
	c.wrap("      ", line)
}

// mostInRecipes of the library are listed behind the bundled recipes.
const mostInRecipes = 20

// recipesOfLibraries is the second part of the command recipes.
func (c *commander) recipesOfLibraries() error {
	all, err := c.shelves(nil)
	if err != nil {
		return err
	}
	n := 0
	for _, s := range all {
		for _, e := range s.entries {
			if n++; n == 1 {
				c.printf("\nIn your library:\n")
			}
			if n <= mostInRecipes {
				c.showEntry(&e)
			}
		}
	}
	if n > mostInRecipes {
		c.printf("%d more: canewright library\n", n-mostInRecipes)
	}
	return nil
}

// libraryPlaces are offered to a shell: no file is read for them.
func (c *commander) libraryPlaces(word string) []string {
	all, _ := c.works().Libraries()
	var out []string
	for _, l := range all {
		files, closer, err := l.Files()
		if err != nil {
			continue
		}
		for _, p := range library.Places(files, word) {
			if len(out) < mostOffered && !strings.ContainsFunc(p, diagnostic.Unsafe) {
				out = append(out, p)
			}
		}
		_ = closer.Close()
	}
	return out
}

// howFar says on a terminal now and then how far long work is, as progress
// does; what comes of it is written afterwards.
func (c *commander) howFar(what string, of int) func(n int) {
	if !isTerminal(c.sys.Err) {
		return func(int) {}
	}
	last := c.sys.Now()
	return func(n int) {
		if now := c.sys.Now(); now.Sub(last) >= 5*time.Second {
			last = now
			fmt.Fprintf(c.sys.Err, "%d of %d %s so far\n", n, of, what)
		}
	}
}
