package dimension

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"canewright/engine/quantity"
)

// Figure is an outline with numbers in it: lengths in nm.
type Figure struct {
	From   string
	Parts  []FigurePart
	Marks  []FigureMark
	Tip    *FigureTip
	Used   []Used    // the numbers it was drawn with, in the set's order
	Lacks  []Lacking // what is not drawn for want of a number
	Unsure []string  // what is odd about the numbers, in sentences
}

// FigurePart is a part that can be drawn.
type FigurePart struct {
	Title  string
	Look   Look
	Smooth bool
	Points []FigurePoint
	Rests  []string // the names in Used that it rests on, seen from the flat
}

// FigurePoint: Deep is -1 where it is not known.
type FigurePoint struct{ At, Width, Deep int64 }

// FigureMark is a mark that can be drawn.
type FigureMark struct {
	Title      string
	As         MarkAs
	At, Middle int64
	Thick      int64
	Turns      int
	Covered    bool
	Rests      []string // the names in Used its places rest on, in the set's order
}

// FigureTip is the tip from its end.
type FigureTip struct{ Width, Opening, Thickness int64 }

// Basis says where a number of a figure comes from.
type Basis string

const (
	BasisChosen Basis = "chosen" // the player's
	BasisUsual  Basis = "usual"  // the outline's, which has a source
	BasisMiddle Basis = "middle" // of the plausible range
)

// Used is one number of a figure.
type Used struct {
	Name, Title string
	Kind        quantity.Kind
	Text        string
	Q           int64
	Basis       Basis
	Source      Source // of a usual number
}

// Lacking is a thing that is not drawn, and the names that have no number.
type Lacking struct {
	Thing string
	Names []string
}

// What is drawn must fit a picture: a reed is less than a metre long.
const largestDrawn = 1_000_000_000 // nm
const mostTurns = 20

// Figure puts numbers into the outline: the player's own, by name; else the
// outline's; else the middle of the plausible range. What has none is left out
// and named.
func (s *Set) Figure(own map[string]quantity.Entered) (*Figure, error) {
	if s.Outline == nil {
		return nil, fmt.Errorf("the dimension set %s %d.%d has no outline", s.ID, s.Major, s.Minor)
	}
	n := len(s.Dimensions) + len(s.Outline.Values)
	w := &figuring{set: s, own: own, slots: make([]float64, n), known: make([]byte, n), used: map[int]Used{}, drawn: map[int]bool{}, names: map[int][]string{}}
	f := &Figure{From: s.Outline.From}
	for i := range s.Outline.Parts {
		if err := w.part(f, &s.Outline.Parts[i]); err != nil {
			return nil, err
		}
	}
	bare := slices.Clone(f.Lacks)
	w.keepSides(f)
	for i := range s.Outline.Marks {
		if err := w.mark(f, &s.Outline.Marks[i]); err != nil {
			return nil, err
		}
	}
	if err := w.tip(f, s.Outline.Tip); err != nil {
		return nil, err
	}
	if len(f.Parts) == 0 {
		return nil, &NoNumbersError{bare}
	}
	for slot := range n {
		if u, typed := w.used[slot]; typed && w.drawn[slot] {
			f.Used = append(f.Used, u)
		}
	}
	w.odd(f)
	return f, nil
}

// Wants says what is not drawn, in one sentence, or "".
func (f *Figure) Wants() string { return wants(f.Lacks) }

func wants(all []Lacking) string {
	var says []string
	for _, l := range all {
		says = append(says, l.Thing+" (no number for "+strings.Join(l.Names, ", ")+")")
	}
	return strings.Join(says, "; ")
}

// NoNumbersError: no part has all its numbers. The set is sound; its player has
// to say them.
type NoNumbersError struct{ Lacks []Lacking }

func (e *NoNumbersError) Error() string {
	var names []string
	for _, l := range e.Lacks {
		names = joined(names, l.Names)
	}
	return "there is no number for " + strings.Join(names, ", ")
}

func (w *figuring) part(f *Figure, p *OutlinePart) error {
	g, deep := &gathering{w: w}, &gathering{w: w}
	out := FigurePart{Title: p.Title, Look: p.Look, Smooth: p.Smooth}
	for _, at := range p.Points {
		x := FigurePoint{At: g.length(at.At), Width: g.length(at.Width), Deep: -1}
		if at.Deep != "" {
			x.Deep = deep.length(at.Deep)
		}
		out.Points = append(out.Points, x)
	}
	for _, err := range []error{g.err, deep.err} {
		if err != nil {
			return fmt.Errorf("the %s: %w", p.Title, err)
		}
	}
	if len(g.lacks) > 0 {
		f.Lacks = append(f.Lacks, Lacking{"the " + p.Title, g.lacks})
		return nil
	}
	if len(deep.lacks) > 0 {
		f.Lacks = append(f.Lacks, Lacking{"the side of the " + p.Title, deep.lacks})
		for i := range out.Points {
			out.Points[i].Deep = -1
		}
	}
	for i, x := range out.Points {
		switch {
		case i > 0 && x.At < out.Points[i-1].At:
			return fmt.Errorf("the %s goes back: %s comes after %s", p.Title, drawnLength(x.At), drawnLength(out.Points[i-1].At))
		case x.Width < 0 || x.Deep < -1:
			return fmt.Errorf("the %s has a width of %s at %s", p.Title, drawnLength(min(x.Width, x.Deep)), drawnLength(x.At))
		}
	}
	if n := len(out.Points); n < 2 || out.Points[n-1].At == out.Points[0].At {
		return fmt.Errorf("the %s has no length", p.Title)
	}
	g.keep()
	out.Rests = g.rests()
	w.sides = append(w.sides, deep)
	f.Parts = append(f.Parts, out)
	return nil
}

func (w *figuring) mark(f *Figure, m *OutlineMark) error {
	g := &gathering{w: w}
	out := FigureMark{Title: m.Title, As: m.As, At: g.length(m.At), Turns: 1, Covered: m.Covered}
	out.Middle = out.At
	if m.Middle != "" {
		out.Middle = g.length(m.Middle)
	}
	places := *g // not how thick it is
	if m.Thick != "" {
		out.Thick = g.length(m.Thick)
	}
	if m.Turns != "" {
		turns := g.number(m.Turns)
		if turns < 1 || turns > mostTurns {
			turns = min(max(turns, 1), mostTurns)
		}
		out.Turns = int(math.Round(turns))
	}
	switch {
	case g.err != nil:
		return fmt.Errorf("the %s: %w", m.Title, g.err)
	case len(g.lacks) > 0:
		f.Lacks = append(f.Lacks, Lacking{"the " + m.Title, g.lacks})
		return nil
	case out.Thick < 0:
		return fmt.Errorf("the %s is %s thick", m.Title, drawnLength(out.Thick))
	}
	g.keep()
	out.Rests = places.rests()
	f.Marks = append(f.Marks, out)
	return nil
}

func (w *figuring) tip(f *Figure, t *OutlineTip) error {
	if t == nil {
		return nil
	}
	g := &gathering{w: w}
	out := FigureTip{g.length(t.Width), g.length(t.Opening), g.length(t.Thickness)}
	switch {
	case g.err != nil:
		return fmt.Errorf("the tip from its end: %w", g.err)
	case len(g.lacks) > 0:
		f.Lacks = append(f.Lacks, Lacking{"the tip from its end", g.lacks})
		return nil
	case out.Width <= 0 || out.Opening < 0 || out.Thickness < 0:
		return fmt.Errorf("the tip from its end is %s wide, %s open and %s thick", drawnLength(out.Width), drawnLength(out.Opening), drawnLength(out.Thickness))
	}
	g.keep()
	f.Tip = &out
	return nil
}

// odd says which numbers a reading of would be asked about.
func (w *figuring) odd(f *Figure) {
	for _, u := range f.Used {
		d, ok := w.set.Find(u.Name)
		if ok && u.Basis == BasisChosen && d.Plausible.Kind == d.Kind && d.Plausible.Side(u.Q) != quantity.Inside {
			f.Unsure = append(f.Unsure, fmt.Sprintf("%s: %s is outside what is plausible, %s.", u.Title, u.Text, d.Plausible.Limits()))
		}
	}
}

// drawnLength writes a length for a message, to the hundredth of a millimetre.
func drawnLength(nm int64) string {
	return quantity.Format(quantity.Value{Kind: quantity.Length, Q: nm}, quantity.Main(quantity.Length), 10_000)
}
