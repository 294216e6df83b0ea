package cli

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"canewright/cmd/internal/wire"
	"canewright/engine/diagnostic"
	"canewright/engine/dimension"
	"canewright/engine/interview"
	"canewright/engine/recipe"
	"canewright/recipes"
)

type newOptions struct {
	out    string
	resume string
	force  bool
}

func newNewCmd(c *commander) *cobra.Command {
	o := newOptions{}
	cmd := &cobra.Command{
		Use: "new", Short: "Make a recipe of a paper sheet, one question at a time", Args: cobra.NoArgs,
		Long: `Make a recipe of a sheet of paper: a teacher's handout, a page of your own. You
are asked what stands on it, one question at a time. Type numbers as they are
written there: 27 mm, 1 1/16 in, 31.4 thou, 27 to 30 mm, or both columns at
once, 27 mm (1 1/16 in). They are kept so, and shown in millimetres.

What the sheet does not say is left open with Enter. It is marked in the file
with "# open:", and all that is open is listed at the end, to ask whoever wrote
the sheet. A number without a tolerance is no target yet: it is shown at the
bench, and the target stands beside it as a comment to complete.

  a number or a range   takes from the list shown: 1, 3-5
  Enter                 leaves it open, or goes on
  -                     one question back
  ?                     all names there are
  quit                  stop; what was answered is kept, and --resume goes on

Without -o the file is named after the title. A file that is there is not
written over without --force. Answers may come from a file:
canewright new -o mine.yaml < answers; the first that is refused ends it.`,
		Example: "  canewright new\n  canewright new -o her-sheet.yaml\n  canewright new --resume her-sheet.yaml",
		RunE:    func(cmd *cobra.Command, _ []string) error { return runNew(cmd.Context(), c, o) },
	}
	cmd.Flags().StringVarP(&o.out, "output", "o", "", "write to `FILE` (default: named after the title)")
	cmd.Flags().StringVar(&o.resume, "resume", "", "go on with a `FILE` that is not finished")
	cmd.Flags().BoolVar(&o.force, "force", false, "write over a file that is there")
	return cmd
}

func runNew(ctx context.Context, c *commander, o newOptions) error {
	if o.resume != "" && o.out != "" {
		return hinted{usagef("make a recipe: --resume and -o are two things"), "--resume writes the file it goes on with"}
	}
	if o.out != "" && !o.force {
		if _, err := os.Lstat(o.out); err == nil {
			return hinted{usagef("make a recipe: %s is there already", o.out), "choose another name, or add --force to write over it"}
		}
	}
	if folder := filepath.Dir(o.out); o.out != "" {
		if info, err := os.Stat(folder); err != nil || !info.IsDir() {
			return hinted{usagef("make a recipe: there is no folder %s", folder), "make it first, or write the file elsewhere"}
		}
	}
	w := c.works()
	iv, err := c.newInterview(ctx, w)
	if err != nil {
		return err
	}
	s := &sheetTalk{c: c, iv: iv}
	path, force := o.out, o.force
	if o.resume != "" {
		if s.lines, err = resumed(iv, o.resume); err != nil {
			return err
		}
		path, force = o.resume, true
	}
	done, fault := s.talk(ctx)
	if len(s.lines) == 0 {
		if fault == nil {
			c.wrap("", "Nothing was written.")
		}
		return fault
	}
	data := iv.Write(s.lines)
	if !done {
		data = unfinished(data, s.lines)
	}
	if path, err = writeFromPaper(path, iv.ID(s.lines), data, force); err != nil {
		c.printf("\n%s\n", data) // so that the answers are not lost
		return err
	}
	if !done {
		c.wrap("", "Not finished. What was answered is kept in "+path+"; go on with:")
		c.printf("  canewright new --resume %s\n", inShell(path))
		return fault
	}
	return c.sheetDone(ctx, w, path, iv.Open(s.lines), iv.Doubts(s.lines))
}

// newInterview knows the instruments there are and the bundled recipes.
func (c *commander) newInterview(ctx context.Context, w *wire.Works) (*interview.Interview, error) {
	all, fault := w.Host().List(ctx)
	if len(all) == 0 {
		return nil, fault
	}
	if fault != nil { // the others can be chosen
		fmt.Fprintf(c.sys.Err, "canewright: %v\n", fault)
	}
	iv := &interview.Interview{Tools: w.Tools()}
	for _, s := range all {
		iv.Instruments = append(iv.Instruments, interview.Instrument{ID: s.ID, Title: s.Title, Major: s.Major})
	}
	sets := map[string]*dimension.Set{}
	iv.Set = func(id string, major int) (*dimension.Set, error) {
		key := id + " " + strconv.Itoa(major)
		if s := sets[key]; s != nil {
			return s, nil
		}
		set, stop, err := w.Cache().Ask(ctx, id, major)
		stop()
		if err != nil {
			return nil, err
		}
		sets[key] = set
		return set, nil
	}
	usual := map[string]interview.Usual{}
	iv.Usual = func(id string) interview.Usual {
		u, known := usual[id]
		if !known {
			u = interview.UsualOf(bundledFor(w, id, sets))
			usual[id] = u
		}
		return u
	}
	return iv, nil
}

// bundledFor are the bundled recipes of an instrument whose set is known.
func bundledFor(w *wire.Works, id string, sets map[string]*dimension.Set) []*recipe.Bound {
	var out []*recipe.Bound
	for _, name := range recipes.All() {
		if !strings.HasPrefix(name, id+"/") {
			continue
		}
		file, data, _ := recipes.Read(name)
		f, _ := recipe.Load(file, data)
		if f == nil {
			continue
		}
		set := sets[f.Instrument+" "+strconv.Itoa(f.Major)]
		if set == nil {
			continue
		}
		if b, _ := recipe.Bind(f, set, w.Tools()); b != nil {
			out = append(out, b)
		}
	}
	return out
}

// sheetDone says what was found and what to do next.
func (c *commander) sheetDone(ctx context.Context, w *wire.Works, path string, open, doubts []string) error {
	c.printf("\nWrote %s.\n", diagnostic.Clean(path))
	r, err := w.Recipe(ctx, path)
	if err != nil {
		return err
	}
	if r.Bound != nil {
		_, rules := r.Bound.CheckRules()
		r.List.Append(rules)
		r.List.Append(r.Bound.CheckPaper())
	}
	if r.List.Len() > 0 {
		c.printf("\nLook at these:\n")
		if err := r.List.Text(c.sys.Out); err != nil {
			return err
		}
	}
	if len(doubts) > 0 {
		c.printf("\n")
		c.wrap("", "With the tolerances suggested in the file:")
		for _, d := range doubts {
			c.wrap("  - ", diagnostic.Clean(d))
		}
	}
	if len(open) > 0 {
		c.printf("\n")
		c.wrap("", "Still open; ask whoever wrote the sheet:")
		for _, q := range open {
			c.wrap("  - ", diagnostic.Clean(q))
		}
	}
	c.printf("\nNext:\n")
	if len(open) > 0 {
		c.printf("  complete the lines marked # open: in %s\n", diagnostic.Clean(path))
	}
	c.printf("  canewright check %[1]s\n  canewright show %[1]s\n  canewright follow %[1]s\n", inShell(path))
	if r.Bound == nil {
		return errShown{exitInvalid}
	}
	return nil
}
