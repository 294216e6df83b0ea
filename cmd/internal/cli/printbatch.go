package cli

import (
	"context"
	"fmt"
	"slices"
	"strconv"

	"canewright/cmd/internal/card"
	"canewright/cmd/internal/paper"
	"canewright/cmd/internal/wire"
	"canewright/engine/bench"
	"canewright/engine/diagnostic"
	"canewright/engine/recipe"
)

// batchSheet is of a batch, with what was typed in already.
func (c *commander) batchSheet(ctx context.Context, name string, o printOptions, size paper.Size) (*paper.Sheet, error) {
	s, book, out, err := c.look(ctx, o.batch)
	if err != nil {
		return nil, err
	}
	defer book.Close()
	b, st := s.Bound(), s.State()
	if name != "" {
		r, err := c.works().Recipe(ctx, name)
		if err != nil {
			return nil, err
		}
		if r.Bound == nil {
			return nil, &wire.InvalidError{Name: name, List: r.List}
		}
		if r.Bound.File.ID != b.File.ID {
			return nil, hinted{usagef("print: the batch %s was begun with the recipe %s, not with %s", o.batch, b.File.ID, r.Bound.File.ID), "leave the recipe out; the batch keeps its own"}
		}
	}
	order := paper.Order{Batch: o.batch, Digest: recipe.Digest(s.Batch().Recipe), Written: written(st, b), Gone: gone(st, b)}
	if order.Pieces, order.Tubes, err = batchMarks(st, b); err != nil {
		return nil, err
	}
	return c.sheetOf(b, order, o, size, out.Notes)
}

// batchMarks are the marks of a batch's pieces and tubes, each by its number; of
// those that are still to be split from tubes there are as many as usual.
func batchMarks(st *bench.State, b *recipe.Bound) (pieces, tubes []string, err error) {
	add := func(all []string, p *bench.Piece) []string {
		for len(all) < p.Number {
			all = append(all, strconv.Itoa(len(all)+1))
		}
		all[p.Number-1] = p.Mark
		return all
	}
	waiting := 0
	for _, p := range st.Pieces {
		if p.Number < 1 || p.Number > mostRows {
			return nil, nil, fmt.Errorf("print: %s has the number %d; a card has rows for 1 to %d", diagnostic.Clean(p.Mark), p.Number, mostRows)
		}
		if p.Kind == "tube" {
			tubes = add(tubes, p)
			if p.Pieces == 0 && p.Place != bench.Thrown && p.Place != bench.Finished {
				waiting++
			}
			continue
		}
		pieces = add(pieces, p)
	}
	if b.Split >= 0 {
		for range waiting * max(1, b.Stages[b.Split].Into) {
			if len(pieces) < mostRows {
				pieces = append(pieces, strconv.Itoa(len(pieces)+1))
			}
		}
	}
	return pieces, tubes, nil
}

// written is what stands in a row's boxes already.
func written(st *bench.State, b *recipe.Bound) func(int, string) []string {
	return func(stage int, row string) []string {
		if row != card.Everybody {
			if p := st.Piece(row); p != nil {
				return st.Written(p, stage)
			}
			return nil
		}
		var all []string
		for _, p := range st.Pieces {
			if p.Place == bench.Thrown || p.Kind == "tube" != b.Stages[stage].Tube {
				continue
			}
			its := st.Written(p, stage)
			if its == nil || all != nil && !slices.Equal(all, its) {
				return nil // not everybody's, or not the same
			}
			all = its
		}
		return all
	}
}

// gone: a piece that was thrown away has no row where nothing of it is written.
func gone(st *bench.State, b *recipe.Bound) func(int, string) bool {
	return func(stage int, row string) bool {
		p := st.Piece(row)
		return p != nil && p.Place == bench.Thrown && st.Written(p, stage) == nil
	}
}
