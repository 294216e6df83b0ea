package cli

import (
	"context"
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/spf13/cobra"

	"canewright/cmd/internal/terminal"
	"canewright/cmd/internal/wire"
	"canewright/engine/bench"
	"canewright/engine/diagnostic"
	"canewright/engine/logbook"
	"canewright/engine/recipe"
	"canewright/engine/session"
)

type followOptions struct {
	recipe string
	resume bool
	batch  string
	pieces int
	tubes  int
	marks  string
	from   string
	later  bool
	order  bool // through
	who    string
}

// mostPieces of a batch; mostTubes of it.
const (
	mostPieces = 10_000
	mostTubes  = 26
)

func newFollowCmd(c *commander) *cobra.Command {
	o := followOptions{}
	cmd := &cobra.Command{
		Use:   "follow RECIPE | follow --resume [BATCH]",
		Short: "Follow a recipe step by step, or go on with a batch",
		Long: `Follow a recipe: one question at a time. Type a reading (1.31 or 1,31, with or
without its unit) and Enter; type ? for all words. Every answer is on disk
before the next question appears, so you may stop at any moment.

Any answer may begin with its pieces: 7 1.31, all done, all but 4 9.

RECIPE is a bundled name (canewright recipes) or the path of a file.
--resume goes on with BATCH, or with the batch worked on last.

Where a recipe begins with tubes, --tubes says how many; the pieces come of
splitting them. With --pieces or --marks it begins behind the split.
--from begins at a later stage, for blanks made elsewhere: what was read before
is unknown, and rules that rest on it are not judged.
--later is for work that was done without the screen: a line a piece, its mark
and then its boxes in the order of the card (canewright show RECIPE --card).
@19:40 in a line, or alone on one, says when it happened.`,
		Example: `  canewright follow bassoon/from-shaped-cane --pieces 4 --batch november
  canewright follow bassoon/from-tube --tubes 3
  canewright follow bassoon/from-shaped-cane --marks "31-34 B7" --from ream
  canewright follow --resume november --later
  canewright follow my-recipe.yaml`,
		Args: cobra.MaximumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 1 {
				o.recipe = args[0]
			}
			if !cmd.Flags().Changed("pieces") {
				o.pieces = 0
			} else if o.pieces < 1 || o.pieces > mostPieces {
				return usagef("follow: %d pieces; a batch has 1 to %d", o.pieces, mostPieces)
			}
			if cmd.Flags().Changed("tubes") && (o.tubes < 1 || o.tubes > mostTubes) {
				return usagef("follow: %d tubes; a batch has 1 to %d", o.tubes, mostTubes)
			}
			return runFollow(cmd.Context(), c, o)
		},
	}
	cmd.Flags().BoolVar(&o.resume, "resume", false, "go on with a batch")
	cmd.Flags().StringVar(&o.batch, "batch", "", "a `NAME` for the new batch (default: the recipe and the date)")
	cmd.Flags().IntVar(&o.pieces, "pieces", 1, "how many pieces of cane are started together (1 to 10000)")
	cmd.Flags().IntVar(&o.tubes, "tubes", 0, "how many tubes, where the recipe begins with them (1 to 26)")
	cmd.Flags().StringVar(&o.marks, "marks", "", "what is written on the pieces: `\"31-42 B7\"`")
	cmd.Flags().StringVar(&o.from, "from", "", "begin at this `STAGE`, with pieces made elsewhere")
	cmd.Flags().BoolVar(&o.later, "later", false, "enter work that was done before, a line a piece")
	cmd.Flags().BoolVar(&o.order, "through", false, "one piece right through, not stage by stage")
	cmd.Flags().StringVar(&o.who, "who", "", "the `NAME` of who is at the bench")
	cmd.Flags().BoolVar(&c.sys.Plain, "plain", c.sys.Plain, "words only, for screen readers: no pictures and signs")
	c.offerFollow(cmd)
	return cmd
}

// beginning is what the batch begins with. It is refused before anything is
// kept.
func (o followOptions) beginning(b *recipe.Bound) (bench.Beginning, error) {
	with := bench.Beginning{}
	if o.from != "" {
		key, err := stageKey(b, o.from)
		if err != nil {
			return with, err
		}
		with.From = key
	}
	switch {
	case o.tubes > 0 && (o.pieces > 0 || o.marks != ""):
		return with, usagef("follow: tubes or pieces: the pieces come of splitting the tubes")
	case o.tubes > 0 && b.Split < 0:
		return with, hinted{usagef("follow: this recipe begins with pieces, not tubes"), "say how many with --pieces"}
	case o.tubes > 0 && with.From != "":
		return with, hinted{usagef("follow: --from begins with pieces made elsewhere"), "say how many with --pieces"}
	case o.pieces > 0 && o.marks != "":
		return with, usagef("follow: --marks names the pieces, so --pieces is not needed")
	}
	if o.marks != "" {
		marks, err := bench.Marks(o.marks)
		if err != nil {
			return with, usagef("follow: --marks: %w", err)
		}
		if len(marks) > mostPieces {
			return with, usagef("follow: %d pieces; a batch has 1 to %d", len(marks), mostPieces)
		}
		with.Pieces = marks
		return with, nil
	}
	if b.Split >= 0 && o.pieces == 0 && with.From == "" {
		for i := range max(o.tubes, 1) {
			with.Tubes = append(with.Tubes, string(rune('A'+i)))
		}
		return with, nil
	}
	for i := range max(o.pieces, 1) {
		with.Pieces = append(with.Pieces, strconv.Itoa(i+1))
	}
	return with, nil
}

// stageKey finds a stage by its name, whole or its beginning.
func stageKey(b *recipe.Bound, name string) (string, error) {
	var hits, names []string
	for i := range b.Stages {
		st := &b.Stages[i]
		names = append(names, st.Name)
		if strings.EqualFold(st.Key, name) {
			hits = []string{st.Key}
			break
		}
		if strings.HasPrefix(strings.ToLower(st.Key), strings.ToLower(name)) {
			hits = append(hits, st.Key)
		}
	}
	if len(hits) == 1 {
		if i := b.StageOf(hits[0]); i <= b.Split {
			return "", hinted{usagef("follow: stage %q is worked on tubes", hits[0]), "leave --from out and say how many with --tubes"}
		}
		return hits[0], nil
	}
	hint := "canewright show prints its stages"
	if n := diagnostic.Near(name, names); n != "" && len(hits) == 0 {
		hint = "did you mean " + n + "?"
	}
	if len(hits) > 1 {
		return "", hinted{usagef("follow: %q could be %s", diagnostic.Clean(name), strings.Join(hits[:min(len(hits), 5)], ", ")), "write it whole"}
	}
	return "", hinted{usagef("follow: the recipe has no stage %q", diagnostic.Clean(name)), hint}
}

func runFollow(ctx context.Context, c *commander, o followOptions) error {
	switch {
	case o.resume && (o.from != "" || o.marks != "" || o.pieces > 0 || o.tubes > 0):
		return usagef("follow: a batch that goes on has its pieces already")
	case o.resume:
		return runResume(ctx, c, o)
	case o.recipe == "":
		return hinted{usagef("follow: which recipe?"), "canewright recipes lists the bundled ones; canewright follow --resume goes on with a batch"}
	}
	w := c.works()
	// The logbook opens while the recipe is read and the instrument starts.
	type opened struct {
		book *logbook.Logbook
		err  error
	}
	books := make(chan opened, 1)
	go func() {
		b, err := c.openBook(ctx)
		books <- opened{b, err}
	}()
	r, err := w.Recipe(ctx, o.recipe)
	b := <-books
	if b.book != nil {
		defer b.book.Close()
	}
	switch {
	case err != nil:
		return err
	case r.Bound == nil:
		return &wire.InvalidError{Name: o.recipe, List: r.List}
	case b.err != nil:
		return b.err
	}
	if r.List.Len() > 0 {
		r.List.Text(c.sys.Err)
	}
	out, err := w.Outside(b.book)
	if err != nil {
		return err
	}
	with, err := o.beginning(r.Bound)
	if err != nil {
		return err
	}
	name, err := c.batchName(ctx, b.book, o.batch, r.Bound.File.ID)
	if err != nil {
		return err
	}
	s, err := session.Start(ctx, out, session.Batch{Name: name, Title: r.Bound.File.Title, Snapshot: r.Snapshot}, with)
	if err != nil {
		return err
	}
	what := count(len(with.Pieces), "piece")
	if len(with.Tubes) > 0 {
		what = count(len(with.Tubes), "tube")
	}
	c.wrap("", fmt.Sprintf("%s: batch %s, %s.", r.Bound.File.Title, name, what))
	if err := o.window(ctx, s); err != nil {
		return err
	}
	return c.run(ctx, s)
}

// window sets what holds for this window alone.
func (o followOptions) window(ctx context.Context, s *session.Session) error {
	s.Later(o.later)
	s.Through(o.order)
	if o.who == "" {
		return nil
	}
	if err := s.SetWho(ctx, o.who); err != nil {
		return usagef("follow: --who: %w", err)
	}
	return nil
}

func count(n int, word string) string {
	if n == 1 {
		return "1 " + word
	}
	return strconv.Itoa(n) + " " + word + "s"
}

// unsafeInName: joiners belong to some scripts and to emoji.
func unsafeInName(r rune) bool { return diagnostic.Unsafe(r) && r != '\u200d' && r != '\u200c' }

// batchName is the name asked for, or one made of recipe and date that is free.
func (c *commander) batchName(ctx context.Context, book *logbook.Logbook, asked, id string) (string, error) {
	if asked != "" {
		if strings.TrimSpace(asked) != asked || utf8.RuneCountInString(asked) > 80 || strings.ContainsFunc(asked, unsafeInName) || strings.HasPrefix(asked, "-") {
			return "", usagef("follow: %q cannot be the name of a batch; use up to 80 letters, digits and signs", diagnostic.Clean(asked))
		}
		return asked, nil
	}
	all, err := book.Batches(ctx)
	if err != nil {
		return "", err
	}
	taken := map[string]bool{}
	for _, b := range all {
		taken[b.Name] = true
	}
	base := id + "-" + c.sys.Now().Format("2006-01-02")
	name := base
	for n := 2; taken[name]; n++ {
		name = base + "-" + strconv.Itoa(n)
	}
	return name, nil
}

func runResume(ctx context.Context, c *commander, o followOptions) error {
	w := c.works()
	book, err := c.openBook(ctx)
	if err != nil {
		return err
	}
	defer book.Close()
	name := o.recipe
	if name == "" {
		name = o.batch
	}
	if name == "" {
		if name, err = lastOpen(ctx, book); err != nil {
			return err
		}
	}
	out, err := w.Outside(book)
	if err != nil {
		return err
	}
	s, fresh, err := session.Resume(ctx, out, name)
	if err != nil {
		return err
	}
	c.wrap("", fmt.Sprintf("%s: batch %s goes on.", s.Batch().Title, name))
	if err := o.window(ctx, s); err != nil {
		return err
	}
	if fresh && !o.later {
		return c.comeBack(ctx, s)
	}
	return c.run(ctx, s)
}

func lastOpen(ctx context.Context, book *logbook.Logbook) (string, error) {
	all, err := book.Batches(ctx)
	if err != nil {
		return "", err
	}
	for _, b := range all {
		if !b.Closed {
			return b.Name, nil
		}
	}
	return "", hinted{usagef("go on with a batch: none is open"), "begin one with: canewright follow RECIPE"}
}

func (c *commander) wrap(lead, text string) {
	for _, l := range terminal.Wrap(lead, text, c.sys.Width) {
		c.printf("%s\n", l)
	}
}
