package cli

import (
	"errors"
	"fmt"
	"strings"

	"canewright/engine/comparison"
	"canewright/engine/diagnostic"
	"canewright/engine/dimension"
	"canewright/engine/picture"
	"canewright/engine/recipe"
)

// drawBoth draws the reeds of two recipes, with the targets that come last.
func (c *commander) drawBoth(found *comparison.Comparison, a, b *recipe.Bound, o compareOptions) error {
	pair, err := pairOf(found, a, b)
	if err != nil {
		return err
	}
	draw := pair.SVG
	if o.png {
		draw = pair.PNG
	}
	drawing, err := draw()
	if err != nil {
		return fmt.Errorf("compare: %w", err)
	}
	if o.file == "" {
		_, err = c.sys.Out.Write(drawing)
		return err
	}
	if err := writeNew("drawing", o.file, drawing); err != nil {
		return err
	}
	c.printf("Wrote %s.\n", diagnostic.Clean(o.file))
	return nil
}

// leastSeen: at the scale of the picture less is hardly the width of a line.
const leastSeen = 100_000 // nm

func pairOf(found *comparison.Comparison, a, b *recipe.Bound) (*picture.Pair, error) {
	fa, err := figureOf(a, found, false)
	if err != nil {
		return nil, err
	}
	fb, err := figureOf(b, found, true)
	if err != nil {
		return nil, err
	}
	if fa.From != fb.From {
		return nil, usagef("compare: one reed counts from %s, the other from %s: they have no place in common to be drawn from", diagnostic.Clean(fa.From), diagnostic.Clean(fb.From))
	}
	p := &picture.Pair{
		Title: "Two recipes, to one scale",
		Under: []string{"drawn with the middle of the targets that come last; lines join marks that are 0.1 mm or more apart"},
		From:  fa.From,
	}
	var titlesA, titlesB []string
	p.A, titlesA = pairSide(a, fa, found.Spots(false, fa.From))
	p.B, titlesB = pairSide(b, fb, found.Spots(true, fb.From))
	for i, m := range p.A.Marks {
		for k, n := range p.B.Marks {
			if d := n.At - m.At; titlesA[i] == titlesB[k] && max(d, -d) >= leastSeen {
				p.Joins = append(p.Joins, picture.PairJoin{A: i, B: k, Text: apartBy(d)})
			}
		}
	}
	if len(p.Joins) == 0 {
		p.Notes = append(p.Notes, "All marks that both have are in the same places.")
	}
	usualA, usualB := usualOf(fa), usualOf(fb)
	const drawn = ", and the instrument's usual is drawn: "
	switch {
	case usualA == usualB && usualA != "":
		p.Notes = append(p.Notes, "Neither says"+drawn+usualA+".")
	default:
		if usualA != "" {
			p.Notes = append(p.Notes, "A does not say"+drawn+usualA+".")
		}
		if usualB != "" {
			p.Notes = append(p.Notes, "B does not say"+drawn+usualB+".")
		}
	}
	return p, nil
}

// usualOf are the numbers of a figure that are the instrument's.
func usualOf(f *dimension.Figure) string {
	var out []string
	for _, u := range f.Used {
		if u.Basis != dimension.BasisChosen && !strings.HasPrefix(u.Name, "outline.") {
			out = append(out, u.Title+" "+u.Text)
		}
	}
	return strings.Join(out, "; ")
}

func figureOf(b *recipe.Bound, found *comparison.Comparison, second bool) (*dimension.Figure, error) {
	if b.File.Instrument == "" {
		return nil, usagef("compare: draw %s: a recipe without an instrument has no reed", diagnostic.Clean(b.File.ID))
	}
	if b.Set.Outline == nil {
		return nil, usagef("compare: the instrument %s does not say how its reed is drawn", b.Set.ID)
	}
	f, err := b.Set.Figure(found.Drawn(second))
	if _, ok := errors.AsType[*dimension.NoNumbersError](err); ok {
		return nil, usagef("compare: draw %s: neither the recipe nor its instrument gives the numbers: %w", diagnostic.Clean(b.File.ID), err)
	}
	if err != nil {
		return nil, usagef("compare: draw %s: %w", diagnostic.Clean(b.File.ID), err)
	}
	return f, nil
}

// mostSpots: more places on one picture are not told apart.
const mostSpots = 6

// pairSide is one reed, and what each of its marks is. Places the recipe gives
// that the instrument's drawing has no mark for are drawn too.
func pairSide(b *recipe.Bound, f *dimension.Figure, spots []comparison.Spot) (picture.PairSide, []string) {
	r := reedOf(b.Set, f)
	side := picture.PairSide{Text: diagnostic.Clean(fmt.Sprintf("%s (%s, version %d)", b.File.Title, b.File.ID, b.File.Version)), Parts: r.Parts, Marks: r.Marks}
	var titles []string
	end := int64(0)
	for _, m := range f.Marks {
		titles = append(titles, m.Title)
	}
	for _, p := range f.Parts {
		end = max(end, p.Points[len(p.Points)-1].At)
	}
	drawn := map[string]bool{}
	for _, u := range f.Used {
		drawn[u.Name] = true
	}
	more := 0
	for _, x := range spots {
		if drawn[x.Name] || x.Q < 0 || x.Q > 2*end || more == mostSpots {
			continue
		}
		more++
		m := picture.ReedMark{Text: millimetres(x.Q) + ", " + x.Title, As: "line", At: x.Q, Middle: x.Q, Covered: true}
		if x.Q > end { // what is cut away later
			m.As, m.Covered = "cut", false
		}
		side.Marks, titles = append(side.Marks, m), append(titles, x.Title)
	}
	return side, titles
}

// apartBy writes how far B's mark is from A's, towards the far end being plus.
func apartBy(nm int64) string {
	s := millimetres(nm)
	if nm > 0 {
		return "+" + s
	}
	return s
}
