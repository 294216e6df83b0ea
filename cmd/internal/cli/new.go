package cli

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"canewright/cmd/internal/terminal"
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
		Use: "new [-o FILE] | new --resume FILE", Short: "Make a recipe of a paper sheet, one question at a time", Args: cobra.NoArgs,
		Long: `Make a recipe of a sheet of paper: a teacher's handout, a page of your own. You
are asked what stands on it, one question at a time. Type numbers as they are
written there: 27 mm, 1 1/16 in, 31.4 thou, 27 to 30 mm, or both columns at once,
27 mm (1 1/16 in). They are kept so, and shown in millimetres.

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
	cmd.Flags().StringVarP(&o.out, "output", "o", "", "the `FILE` to write")
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
		c.printf("  canewright new --resume %s\n", diagnostic.Clean(path))
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

// sheetTalk shows questions and reads lines; what they mean is the
// interview's.
type sheetTalk struct {
	c     *commander
	iv    *interview.Interview
	lines []string
	where string
}

// talk asks until nothing more is asked, the answers end, or quit. The error
// is of an answer from a file that was refused.
func (s *sheetTalk) talk(ctx context.Context) (done bool, err error) {
	in := terminal.NewLineReader(s.c.sys.In)
	s.c.wrap("", "One question at a time. Enter leaves it open, - goes one back, ? helps, quit stops.")
	read, again := 0, false
	for {
		q := s.iv.Ask(s.lines)
		if again {
			s.c.printf("> ")
		} else {
			s.show(q)
		}
		again = false
		if q.Done {
			return true, nil
		}
		line, err := readLine(ctx, in)
		if errors.Is(err, io.EOF) || ctx.Err() != nil {
			s.c.printf("\n")
			return false, ctx.Err()
		}
		read++
		if err != nil && !errors.Is(err, terminal.ErrLongLine) {
			return false, fmt.Errorf("read the answer: %w", err)
		}
		if !s.c.sys.Typed {
			s.c.printf("%s\n", diagnostic.Clean(line))
		}
		switch strings.TrimSpace(line) {
		case interview.Quit:
			return false, nil
		case interview.Help:
			s.help(q)
			again = true
			continue
		}
		next, refused := s.lines, err
		if err == nil {
			next, refused = s.iv.Answer(s.lines, line)
		}
		if refused != nil {
			hint := ""
			if r, ok := refused.(*interview.Refusal); ok {
				hint = r.Hint
			}
			if !s.c.sys.Typed {
				return false, hinted{usageError{fmt.Errorf("make a recipe: line %d, %q: %w", read, diagnostic.Clean(line), refused)}, hint}
			}
			s.c.wrap("  ", sentence(refused.Error()))
			if hint != "" {
				s.c.wrap("  ", sentence(hint))
			}
			again = true
			continue
		}
		s.lines = next
	}
}

func sentence(s string) string {
	if s = diagnostic.Clean(upperFirst(s)); strings.HasSuffix(s, "?") {
		return s
	}
	return s + "."
}

func upperFirst(s string) string {
	if s != "" && s[0] >= 'a' && s[0] <= 'z' {
		return strings.ToUpper(s[:1]) + s[1:]
	}
	return s
}

// readLine gives up when the program is interrupted.
func readLine(ctx context.Context, in *terminal.LineReader) (string, error) {
	type answer struct {
		line string
		err  error
	}
	got := make(chan answer, 1)
	go func() {
		line, err := in.ReadLine()
		got <- answer{line, err}
	}()
	select {
	case a := <-got:
		return a.line, a.err
	case <-ctx.Done():
		return "", ctx.Err()
	}
}

func (s *sheetTalk) show(q interview.Question) {
	for _, l := range q.Said {
		s.c.wrap("  ", diagnostic.Clean(l))
	}
	if q.Done {
		return
	}
	if q.Where != s.where && q.Where != "" {
		s.c.printf("\n%s\n", upperFirst(diagnostic.Clean(q.Where)))
	}
	s.where = q.Where
	s.c.printf("\n")
	s.c.wrap("", diagnostic.Clean(q.Prompt))
	for i, o := range q.Offers {
		s.c.wrap(fmt.Sprintf("  %2d ", i+1), diagnostic.Clean(o))
	}
	if q.Enter != "" {
		s.c.wrap("  Enter: ", q.Enter)
	}
	s.c.printf("> ")
}

func (s *sheetTalk) help(q interview.Question) {
	for _, l := range q.Help {
		s.c.wrap("  ", diagnostic.Clean(l))
	}
	s.c.wrap("", "Enter leaves it open; - goes one question back; quit stops, and what was answered is kept.")
}

// Behind an unfinished recipe stand the answers it was made from, one a line.
const (
	answersHead = "\n# Not finished: canewright new --resume goes on from these answers.\n"
	answerMark  = "#> "
)

func unfinished(data []byte, lines []string) []byte {
	var b strings.Builder
	b.Write(data)
	b.WriteString(answersHead)
	for _, l := range lines {
		b.WriteString(strings.TrimRight(answerMark+l, " ") + "\n")
	}
	return []byte(b.String())
}

// resumed are the answers an unfinished file was made from. A file that was
// changed since is refused: it would be written over.
func resumed(iv *interview.Interview, path string) ([]string, error) {
	data, err := os.ReadFile(path)
	if err != nil {
		return nil, fmt.Errorf("go on with a recipe: %w", err)
	}
	_, kept, ok := strings.Cut(string(data), answersHead)
	if !ok {
		return nil, hinted{usagef("go on with %s: no answers are kept in it", path), "it is finished: change it with an editor, and look at it with: canewright check " + path}
	}
	var lines []string
	for l := range strings.Lines(kept) {
		l, ok := strings.CutPrefix(strings.TrimRight(l, "\r\n")+" ", answerMark)
		if !ok {
			return nil, usagef("go on with %s: %q is no answer", path, diagnostic.Clean(l))
		}
		next, err := iv.Answer(lines, l)
		if err != nil {
			return nil, usagef("go on with %s: the answer %q is not taken any more: %w", path, diagnostic.Clean(l), err)
		}
		lines = next
	}
	if string(unfinished(iv.Write(lines), lines)) != string(data) {
		return nil, hinted{usagef("go on with %s: it was changed since, and what was changed would be lost", path), "finish it with an editor, and look at it with: canewright check " + path}
	}
	return lines, nil
}

// mostNames of files of one title are tried.
const mostNames = 99

// writeFromPaper writes a whole file or none. Without a path it is named after the
// id, and never the name of a file that is there.
func writeFromPaper(path, id string, data []byte, force bool) (string, error) {
	if path != "" && force {
		return path, replaceWith(path, data)
	}
	for n := 1; n <= mostNames; n++ {
		name := path
		if name == "" {
			name = id + ".yaml"
			if n > 1 {
				name = id + "-" + strconv.Itoa(n) + ".yaml"
			}
		}
		f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
		if errors.Is(err, fs.ErrExist) && path == "" {
			continue
		}
		if err != nil {
			return "", fmt.Errorf("write recipe: %w", err)
		}
		_, err = f.Write(data)
		if err = errors.Join(err, f.Sync(), f.Close()); err != nil {
			return "", fmt.Errorf("write recipe %s: %w", name, err)
		}
		return name, nil
	}
	return "", hinted{usagef("write recipe: there are %d files such as %s.yaml here", mostNames, id), "name one with -o"}
}

func replaceWith(path string, data []byte) error {
	f, err := os.CreateTemp(filepath.Dir(path), "."+filepath.Base(path)+".*")
	if err != nil {
		return fmt.Errorf("write recipe: %w", err)
	}
	defer os.Remove(f.Name()) // gone already when all went well
	_, err = f.Write(data)
	if err = errors.Join(err, f.Chmod(0o644), f.Sync(), f.Close()); err == nil {
		err = os.Rename(f.Name(), path)
	}
	if err != nil {
		return fmt.Errorf("write recipe %s: %w", path, err)
	}
	return nil
}

// sheetDone says what was found and what to do next.
func (c *commander) sheetDone(ctx context.Context, w *wire.Works, path string, open, doubts []string) error {
	c.printf("\nWritten: %s\n", diagnostic.Clean(path))
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
	c.printf("  canewright check %[1]s\n  canewright show %[1]s\n  canewright follow %[1]s\n", diagnostic.Clean(path))
	if r.Bound == nil {
		return errShown{exitInvalid}
	}
	return nil
}
