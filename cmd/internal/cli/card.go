package cli

import (
	"bytes"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"canewright/cmd/internal/card"
	"canewright/cmd/internal/wire"
	"canewright/engine/bench"
	"canewright/engine/diagnostic"
	"canewright/engine/recipe"
)

type cardOptions struct {
	card, html, feed bool
	pieces, tubes    int
	marks, file      string
	stages           []string
}

// cardFlags are the flags that mean nothing without --card.
func cardFlags() []string {
	return []string{"pieces", "marks", "tubes", "stage", "html", "form-feed", "output"}
}

func (o *cardOptions) flags(cmd *cobra.Command) {
	cmd.Flags().BoolVar(&o.card, "card", false, "print a card to take to the bench")
	cmd.Flags().IntVar(&o.pieces, "pieces", 12, "how many pieces the card has rows for (1 to 200)")
	cmd.Flags().StringVar(&o.marks, "marks", "", "the `MARKS` of the pieces, with blanks or commas between")
	cmd.Flags().IntVar(&o.tubes, "tubes", 0, "how many tubes (default: as many as the pieces need)")
	cmd.Flags().StringArrayVar(&o.stages, "stage", nil, "this stage alone, by `NAME` or number; may be given again")
	cmd.Flags().BoolVar(&o.html, "html", false, "one HTML file, to print from a browser")
	cmd.Flags().BoolVar(&o.feed, "form-feed", false, "for a text printer: pages of 60 lines, no table torn")
	cmd.Flags().StringVarP(&o.file, "output", "o", "", "write to `FILE`, which must not exist")
}

// mostRows: a batch has no more pieces.
const mostRows = 200

func runCard(cmd *cobra.Command, c *commander, name string, o cardOptions) error {
	switch {
	case c.json:
		return usagef("show: a card is text or HTML, not JSON")
	case o.html && o.feed:
		return usagef("show: --form-feed is for text; a browser breaks the pages of HTML itself")
	case o.pieces < 1 || o.pieces > mostRows:
		return usagef("show: %d pieces; a card has rows for 1 to %d", o.pieces, mostRows)
	case o.tubes < 0 || o.tubes > mostRows:
		return usagef("show: %d tubes; a card has rows for 1 to %d", o.tubes, mostRows)
	}
	pieces, err := markList(o.marks)
	if err != nil {
		return err
	}
	for n := 1; o.marks == "" && n <= o.pieces; n++ {
		pieces = append(pieces, strconv.Itoa(n))
	}
	w := c.works()
	r, err := w.Recipe(cmd.Context(), name)
	if err != nil {
		return err
	}
	if r.Bound == nil {
		return &wire.InvalidError{Name: name, List: r.List}
	}
	notes, err := w.Notes()
	if err != nil {
		return err
	}
	order := card.Order{Pieces: pieces, Tubes: tubeMarks(r.Bound, o.tubes, len(pieces)),
		Notes: func(u recipe.Use) ([]bench.Note, error) { return notes.For(u, u) }}
	if order.Stages, err = stageList(r.Bound, o.stages); err != nil {
		return err
	}
	made, err := card.New(r.Bound, order)
	if err != nil {
		return fmt.Errorf("make the card of %s: %w", diagnostic.Clean(name), err)
	}
	var b bytes.Buffer
	if o.html {
		err = made.Page(&b)
	} else {
		err = made.Text(&b, o.feed)
	}
	if err != nil {
		return fmt.Errorf("make the card of %s: %w", diagnostic.Clean(name), err)
	}
	if o.file == "" {
		_, err = c.sys.Out.Write(b.Bytes())
		return err
	}
	return writeNew("card", o.file, b.Bytes())
}

// longestMark, in letters: it stands beside the boxes.
const longestMark = 20

func markList(text string) ([]string, error) {
	all := strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == ',' || r == ';' || r == '\t' })
	if strings.TrimSpace(text) != "" && len(all) == 0 || len(all) > mostRows {
		return nil, usagef("show: %d marks; a card has rows for 1 to %d", len(all), mostRows)
	}
	for i, m := range all {
		switch {
		case len([]rune(m)) > longestMark || strings.ContainsFunc(m, diagnostic.Unsafe):
			return nil, usagef("show: %q cannot be a mark; up to %d letters, digits and signs", diagnostic.Clean(m), longestMark)
		case slices.Contains(all[:i], m):
			return nil, usagef("show: two pieces have the mark %q", m)
		}
	}
	return all, nil
}

// tubeMarks are A, B … Z, AA, AB …, for n tubes; 0: as many as the pieces come
// out of.
func tubeMarks(b *recipe.Bound, n, pieces int) []string {
	if n == 0 {
		per := 1
		if b.Split >= 0 {
			per = max(1, b.Stages[b.Split].Into)
		}
		n = (pieces + per - 1) / per
	}
	var out []string
	for i := range n {
		m := string(rune('A' + i%26))
		if i >= 26 {
			m = string(rune('A'+i/26-1)) + m
		}
		out = append(out, m)
	}
	return out
}

// stageList finds stages by their number, their key, or their name as written,
// which may stand for several turns.
func stageList(b *recipe.Bound, names []string) ([]int, error) {
	var out []int
	for _, name := range names {
		var hits []int
		if n, err := strconv.Atoi(name); err == nil && n >= 1 && n <= len(b.Stages) {
			hits = []int{n - 1}
		}
		for i := range b.Stages {
			st := &b.Stages[i]
			plain, _, _ := strings.Cut(st.Name, " (")
			if strings.EqualFold(st.Key, name) || strings.EqualFold(st.Name, name) || strings.EqualFold(plain, name) {
				hits = append(hits, i)
			}
		}
		if len(hits) == 0 {
			var known []string
			for i := range b.Stages {
				known = append(known, b.Stages[i].Name)
			}
			hint := "canewright show RECIPE lists the stages"
			if near := diagnostic.Near(name, known); near != "" {
				hint = "did you mean " + near + "?"
			}
			return nil, hinted{usagef("show: there is no stage %q", diagnostic.Clean(name)), hint}
		}
		out = append(out, hits...)
	}
	return out, nil
}
