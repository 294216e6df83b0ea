package cli

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/spf13/cobra"

	"canewright/cmd/internal/wire"
	"canewright/engine/bench"
	"canewright/engine/diagnostic"
	"canewright/engine/dimension"
	"canewright/engine/recipe"
	"canewright/engine/review"
	"canewright/engine/session"
	"canewright/recipes"
	"canewright/safety"
)

type reviewOptions struct {
	own   string
	file  string
	batch string
	limit int
}

func newReviewCmd(c *commander) *cobra.Command {
	o := reviewOptions{}
	cmd := &cobra.Command{
		Use: "review FILE", Short: "What was really done in a batch that a pupil exported", Args: cobra.ExactArgs(1),
		Long: `Read a batch that somebody exported (canewright export BATCH > FILE) and say
what was really done: whose recipe it is, what became of each piece, the largest
deviations, what was left out or not reached, waits cut short, unsure readings
that were accepted, other tools, wet where dry is asked, rules that did not
hold, what was corrected and taken back, and how the safety notes were answered.

With --recipe your own is compared with the one in the file: the same text, or
what is different. The file holds everything it needs; the pupil's logbook is
not asked for, and nothing is written into yours. - as FILE reads what is piped
in. A damaged file is refused with the number of the line; whether somebody
rewrote a whole one cannot be seen.

A deviation is counted in half-widths of the tolerance: 0 is the nominal, 1 a
limit, 2 as far beyond the limit again. The nominal is the one written, or the
middle of two limits; the half-width is that of the side the reading lies on.
Where that side has none (56.0 +0.5 -0 mm, below), the limit is 1 at once and
beyond it the other side's half-width counts; where neither has one, the last
place written. A target with one limit counts nothing inside; beyond, the limit
is 1, and on top comes the distance in halves of the stretch from the limit to
the end of what is plausible on the allowed side. Repeats count by their mean,
corrected readings by what they were corrected to.

-o writes it to a file, with ruled lines for your remarks. It tells of reeds and
readings, and ranks nobody.`,
		Example: "  canewright review pupil.jsonl --recipe mine.yaml\n  canewright review pupil.jsonl -o for-thursday.txt",
		RunE:    func(cmd *cobra.Command, args []string) error { return runReview(cmd.Context(), c, o, args[0]) },
	}
	cmd.Flags().StringVar(&o.own, "recipe", "", "compare with this `RECIPE` of yours")
	cmd.Flags().StringVarP(&o.file, "output", "o", "", "write to `FILE`, which must not exist, with lines for remarks")
	cmd.Flags().StringVar(&o.batch, "batch", "", "only this `BATCH`, where the file holds several")
	cmd.Flags().IntVar(&o.limit, "limit", 5, "how many deviations are shown, at most `N`")
	c.jsonFlag(cmd)
	c.offerRecipesTo(cmd, "recipe")
	return cmd
}

// reviewed is one batch, and how its recipe compares.
type reviewed struct {
	review.Review
	Own *compared `json:"your_recipe,omitempty"`
	// Bundled names the bundled recipe of the same text.
	Bundled string `json:"bundled,omitempty"`

	titles map[string]string // of notes, by id
}

type compared struct {
	Name      string   `json:"name"`
	Same      bool     `json:"same"`
	Different []string `json:"different,omitempty"`
}

func runReview(ctx context.Context, c *commander, o reviewOptions, file string) error {
	if o.limit < 0 {
		return usagef("review: --limit %d; it is a number from 0 on", o.limit)
	}
	records, err := readRecords(c, file)
	if err != nil {
		return err
	}
	var own []byte
	if o.own != "" {
		// The batch keeps the recipe whole; so is the one it is compared with.
		t, list, err := c.works().Text(o.own)
		if err != nil {
			return err
		}
		if t.Whole == nil {
			return &wire.InvalidError{Name: o.own, List: list}
		}
		own = t.Whole
	}
	all := []reviewed{}
	var names []string
	for _, rec := range records {
		names = append(names, diagnostic.Clean(rec.Name))
		if o.batch != "" && rec.Name != o.batch {
			continue
		}
		if err := ctx.Err(); err != nil {
			return err
		}
		r, err := c.reviewOne(rec, o, own)
		if err != nil {
			return err
		}
		all = append(all, r)
	}
	if len(all) == 0 {
		return hinted{usagef("review: there is no batch %q in this file", diagnostic.Clean(o.batch)), "there are: " + strings.Join(names, ", ")}
	}
	return c.writeReview(all, o)
}

func readRecords(c *commander, file string) ([]review.Record, error) {
	var in io.Reader = c.sys.In
	if file != "-" {
		if info, err := os.Stat(file); err == nil && !info.Mode().IsRegular() { // to open a pipe waits
			return nil, usagef("review: %s is no ordinary file", diagnostic.Clean(file))
		}
		f, err := os.Open(file)
		if err != nil {
			return nil, hinted{usagef("review: %w", err), "a pupil makes the file with: canewright export BATCH > FILE"}
		}
		defer f.Close()
		in = f
	}
	records, err := review.Read(in)
	if e, ok := errors.AsType[*review.LineError](err); ok {
		return nil, hinted{dataError{fmt.Errorf("%s:%d: %s", diagnostic.Clean(file), e.Line, diagnostic.Clean(e.Message))}, e.Hint}
	}
	if err != nil {
		return nil, fmt.Errorf("review: %w", err)
	}
	return records, nil
}

// dataError: a file that was named cannot be used as it is.
type dataError struct{ error }

func (e dataError) Unwrap() error { return e.error }

func (c *commander) reviewOne(rec review.Record, o reviewOptions, own []byte) (reviewed, error) {
	unusable := func(err error) error {
		return hinted{dataError{fmt.Errorf("review batch %q: %s", diagnostic.Clean(rec.Name), diagnostic.Clean(err.Error()))}, "ask for the file again; nothing of it was used"}
	}
	// What a plugin serves is checked by the host; this set comes from a file.
	if len(rec.Set) > 0 {
		set, err := dimension.Decode(rec.Set)
		if err != nil {
			return reviewed{}, unusable(err)
		}
		if list := set.Check(); list.Failed() {
			return reviewed{}, unusable(fmt.Errorf("its dimensions cannot be used: %s", list.Sorted()[0].Message))
		}
	}
	b, err := c.works().Bind(session.Snapshot{RecipeName: recipeIn(rec), Recipe: rec.Recipe, Set: rec.Set, Notes: rec.Notes})
	if err != nil {
		if _, ok := errors.AsType[*wire.InvalidError](err); ok {
			return reviewed{}, err
		}
		return reviewed{}, unusable(err)
	}
	if b.File.Instrument != "" && (b.File.Instrument != b.Set.ID || b.File.Major != b.Set.Major) {
		return reviewed{}, unusable(fmt.Errorf("its dimensions are not those of its recipe's instrument"))
	}
	found, err := review.Of(b, rec, o.limit)
	if err != nil {
		return reviewed{}, unusable(err)
	}
	r := reviewed{Review: *found, titles: titlesOf(rec.Notes)}
	for _, name := range recipes.All() {
		if _, data, ok := recipes.Read(name); ok && recipe.Digest(data) == r.Digest {
			r.Bundled = name
		}
	}
	if o.own != "" {
		if r.Own, err = compareRecipes(o.own, own, rec, b); err != nil {
			return reviewed{}, err
		}
	}
	return r, nil
}

// recipeIn names the recipe in a file, for findings.
func recipeIn(rec review.Record) string {
	return "the recipe of batch " + diagnostic.Clean(rec.Name)
}

// titlesOf are the titles of the notes kept with a batch; none where they cannot
// be read, as the answers stand without them.
func titlesOf(notes []byte) map[string]string {
	out := map[string]string{}
	if cat, _ := safety.Read("the notes of the batch", notes); cat != nil {
		for _, n := range cat.All() {
			out[n.ID] = n.Title
		}
	}
	return out
}

func (c *commander) writeReview(all []reviewed, o reviewOptions) error {
	var to strings.Builder
	out, width := c.sys.Out, c.sys.Width
	if o.file != "" {
		out, width = &to, printedWidth
	}
	d := *c
	d.sys.Out, d.sys.Width = out, width
	flush := d.buffered()
	if c.json {
		if err := d.printJSON(all); err != nil {
			return err
		}
	} else {
		p := reviewPrinter{c: &d, ruled: o.file != ""}
		for i := range all {
			if i > 0 {
				d.printf("\n\n")
			}
			p.print(&all[i])
		}
	}
	if err := flush(); err != nil || o.file == "" {
		return err
	}
	return writeNew("review", o.file, []byte(to.String()))
}

// printedWidth is a line on paper.
const printedWidth = 76

// placeOf says where a piece is, as at the bench.
func placeOf(p review.Piece) string {
	switch bench.Place(p.Place) {
	case bench.Finished:
		if p.Split > 0 {
			return fmt.Sprintf("split into %d", p.Split)
		}
		return "finished"
	case bench.AtWork:
		return "at " + p.Stage
	}
	return p.Place + " at " + p.Stage
}
