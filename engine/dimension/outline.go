package dimension

import (
	"canewright/engine/formula"
	"canewright/engine/quantity"
)

// Outline is how a reed of the instrument is drawn from its dimensions, to
// scale: seen from the flat of the blades, and from the side and from the tip
// where the numbers for it are there. All places count from one datum, the
// bottom of the picture.
//
// At, Width, Deep and the like are formulas over the set's dimensions and the
// outline's own words: "wire.first", "wire.first + collar.above_first_wire",
// "9 mm". A place in an outline is where its author puts it on the paper: what
// a dimension is counted from, and whether wet or dry, is not compared.
type Outline struct {
	From   string // "the butt"
	Values []OutlineValue
	Parts  []OutlinePart // later ones lie over earlier ones
	Marks  []OutlineMark
	Tip    *OutlineTip `json:",omitempty"`
}

// OutlineValue is a number the drawing starts from where the player says no
// other: of a dimension, or of a word of the outline's own, which is a length.
type OutlineValue struct {
	Name   string // "wire.first", or a name no dimension has
	Title  string // of a word of its own: "width at the first wire"
	Text   string // as its author wrote it: "27 mm"
	Q      int64  // in quanta of the dimension's kind; of a word of its own, nm
	Source Source
}

// OutlinePart is a piece of the reed between two distances, the same on both
// sides of the middle.
type OutlinePart struct {
	Title  string // "blade"
	Look   Look
	Smooth bool // bends from point to point; else straight
	Points []OutlinePoint
}

// OutlinePoint is how wide and how deep a part is somewhere, the whole of it.
type OutlinePoint struct {
	At, Width string
	Deep      string // from blade to blade; "" where the side is not drawn
}

// OutlineMark is a line, a wire or a band across the reed.
type OutlineMark struct {
	Title   string
	As      MarkAs
	At      string
	Middle  string // where it is in the middle of the blade, when not as at its sides
	Thick   string // of a wire: of one turn; of a band: along the reed
	Turns   string // of a wire; "" is one
	Covered bool   // thread lies over it
}

// OutlineTip is the tip seen from its end.
type OutlineTip struct{ Width, Opening, Thickness string }

// Look is what a part is made of. A word that is none of these is drawn plain.
type Look string

const (
	LookBark   Look = "bark"
	LookBlade  Look = "blade"
	LookThread Look = "thread"
	LookStaple Look = "staple"
	LookCork   Look = "cork"
)

// Looks lists them.
func Looks() []Look { return []Look{LookBark, LookBlade, LookThread, LookStaple, LookCork} }

// MarkAs is how a mark is drawn. A word that is none of these is drawn as a line.
type MarkAs string

const (
	MarkLine MarkAs = "line"
	MarkWire MarkAs = "wire"
	MarkBand MarkAs = "band" // flat: Thick is how wide it is along the reed
	MarkCut  MarkAs = "cut"  // reaches past the edges
)

// MarksAs lists them.
func MarksAs() []MarkAs { return []MarkAs{MarkLine, MarkWire, MarkBand, MarkCut} }

// Drawn finds what a number of the drawing may be given for: a dimension that
// is typed, by any of its names, or a word of the outline's own, by its title
// too.
func (s *Set) Drawn(name string) (word string, k quantity.Kind, bare quantity.Unit, ok bool) {
	if d, found := s.Find(name); found && d.Grid == nil && d.Formula == "" {
		return d.Name, d.Kind, d.Unit, true
	}
	if s.Outline != nil {
		for _, v := range s.Outline.Values {
			if v.Name == plain(name) || plain(v.Title) == plain(name) && plain(name) != "" {
				return v.Name, quantity.Length, quantity.Main(quantity.Length), true
			}
		}
	}
	return "", quantity.Kind{}, quantity.Unit{}, false
}

// outlineScope lets an outline's formulas read the set and the outline's own
// words, whose slots follow the dimensions'.
type outlineScope struct{ scope }

func (s outlineScope) Lookup(name string) (formula.Symbol, bool) {
	if y, ok := s.scope.Lookup(name); ok {
		y.Condition, y.Datum = "", ""
		return y, true
	}
	for i, v := range s.set.Outline.Values {
		if v.Name != plain(name) {
			continue
		}
		if _, dim := s.set.find(v.Name); !dim {
			return formula.Symbol{Name: v.Name, Slot: len(s.set.Dimensions) + i, Kind: quantity.Length}, true
		}
	}
	return formula.Symbol{}, false
}

// formulas are all formulas of the outline with what each is of, in order; of
// the turns of a wire count is true, all others are lengths.
func (o *Outline) formulas(each func(of, text string, count bool)) {
	length := func(of, text string) { each(of, text, false) }
	some := func(of, text string) {
		if text != "" {
			length(of, text)
		}
	}
	for i := range o.Parts {
		p := &o.Parts[i]
		of := "the outline's " + clip(p.Title)
		for _, at := range p.Points {
			length(of, at.At)
			length(of, at.Width)
			some(of, at.Deep)
		}
	}
	for i := range o.Marks {
		m := &o.Marks[i]
		of := "the outline's " + clip(m.Title)
		length(of, m.At)
		some(of, m.Middle)
		some(of, m.Thick)
		if m.Turns != "" {
			each(of, m.Turns, true)
		}
	}
	if t := o.Tip; t != nil {
		length("the outline's tip", t.Width)
		length("the outline's tip", t.Opening)
		length("the outline's tip", t.Thickness)
	}
}
