package recipe

import (
	"canewright/engine/diagnostic"
	"canewright/engine/dimension"
	"canewright/engine/formula"
	"canewright/engine/quantity"
	"canewright/engine/tool"
)

// Bound is a recipe joined to its dimension set: every name resolved, every
// number in quanta, stages in the order they are worked, planned repeats
// written out. Never changed after Bind.
type Bound struct {
	File     *File
	Set      *dimension.Set
	Sure     Sure
	Settings []Setting
	Stages   []Stage
	Split    int // index of the stage that splits tubes into pieces; -1: the recipe begins with pieces
	Slots    []Slot
	Derived  []Derived
	Placed   []Placed            // every target, in the order they come into force
	Aims     []Placed            // Placed without the stations of grids
	Symptoms []dimension.Symptom // the set's, then the player's own
	Remedies []Remedy            // the set's that the player's own do not replace, then those

	byName map[string]int // slot of a dimension, alias or setting
	tools  *tool.Catalogue
	named  map[int]bool // slots whose target a text shows
}

// Sure is the probability a verdict must reach to be called sure: Cut where
// the reading is above and cane would come off, Pass otherwise.
type Sure struct{ Pass, Cut float64 }

// Setting is a value the player chose; usable in formulas and texts.
type Setting struct {
	Name, Why string
	Value     quantity.Entered
	Slot      int
}

// Slot is one place for a value: a dimension, a station of a grid, a setting.
type Slot struct {
	Name      string // "wire.first"; "blade.thickness 3 mm spine A"
	Dimension *dimension.Dimension
	Cell      *Cell
	Setting   bool
}

// Title is the slot as said at the bench.
func (s Slot) Title() string {
	if s.Dimension == nil {
		return s.Name
	}
	if s.Cell != nil {
		return s.Dimension.Title + ", blade " + s.Cell.Blade + ", " + s.Cell.Lane + ", " + s.Cell.AtText + " from the " + s.Cell.From
	}
	return s.Dimension.Title
}

// Cell is one station of a grid.
type Cell struct {
	From, Lane, Blade string
	At                int64 // nm from From
	AtText            string
}

// Derived is a dimension worked out from others.
type Derived struct {
	Slot    int
	Formula *formula.Formula
}

// How is what happens to a piece after a stage.
type How string

const (
	GoingOn    How = "going on"
	OnceMore   How = "once more"
	BackTo     How = "go back to"
	Resting    How = "resting"
	SetAside   How = "set aside"
	ThrownAway How = "thrown away"
)

// Outcome is what a recipe says follows. A way back has AtMost and Then.
type Outcome struct {
	How     How
	To      int // stage index of a way back
	AtMost  int
	Then    *Outcome
	Do      string
	Because string
}

// Use and Condition are named here so that the bench need know neither tools
// nor dimension sets.
type (
	Use       = tool.Use
	Condition = dimension.Condition
)

// Each says whom a stage or a measurement is for.
type Each struct {
	Batch bool
	First bool
	Every int // 1 piece in Every; 0 and 1: all
}

// For reports whether a piece takes part; number is its place in the batch,
// from 1.
func (e Each) For(number int) bool {
	switch {
	case e.First:
		return number == 1
	case e.Every > 1:
		return (number-1)%e.Every == 0
	}
	return true
}

// Stage is one step, resolved.
type Stage struct {
	Key       string // unique in the recipe, stable: "soak", "soak 2"
	Name      string // as written, with its turn: "soak (2 of 3)"
	Each      Each
	Tube      bool // worked on tubes: it lies at or before the split
	Into      int  // pieces a tube is usually split into here; 0: this is not the split
	Because   string
	Use       tool.Use // what is listed and what the words speak of
	Listed    tool.Use // what is listed
	Do        []string
	MarkAgain string
	Uses      []string
	NoWayBack bool
	Measures  []Measure
	Derived   []DerivedTarget
	Rules     []Rule
	Look      *Look
	Wait      *Wait
	Condition dimension.Condition // of readings here; "" follows the piece
	Becomes   dimension.Condition // on leaving
	TakesOff  []int               // slots "not measured" from here on
	TakesAlso []string            // things taken off that are no dimension: string
}

// Measure is one thing to read at a stage.
type Measure struct {
	Slot   int
	Repeat int // readings wanted, at least 1
	At     string
	Tool   tool.Tool
	Each   Each
	Target *Target // nil: no target in force
	Group  int     // measures of one grid share a group above 0: their outcomes wait for the last
	place  diagnostic.Span
}

// Target is a tolerance and what follows outside it.
type Target struct {
	Tolerance    quantity.Tolerance
	Above, Below Outcome
	raw          *target // as written
}

// Placed is a target where it comes into force; it holds until the next one of
// its slot.
type Placed struct {
	Slot   int
	Stage  int // index of the stage that sets it; -1: it holds from the start
	Target *Target
}

// Place is where the target stands in the file.
func (t *Target) Place() diagnostic.Span { return t.raw.name.Whole }

// DerivedTarget is a target on a dimension that is worked out, judged when the
// measurements of the stage are done.
type DerivedTarget struct {
	Slot   int
	Target *Target
	Worked *formula.Formula // from what is measured
}

// Rule is a formula that should hold.
type Rule struct {
	That      *formula.Formula
	Worked    *formula.Formula // That, with derived dimensions worked out from what is measured
	Because   string
	Otherwise Outcome
	place     diagnostic.Span
}

// Place is where the rule stands in the file.
func (r *Rule) Place() diagnostic.Span { return r.place }

// Look is a question for the eye or the ear.
type Look struct {
	Question string
	Several  bool
	Answers  []Answer
}

// Answer is one of a look's answers and what follows.
type Answer struct {
	Word    string
	Outcome Outcome
}

// Wait ends a stage. Least, Usual and Most are in ms; 0 means not stated.
type Wait struct {
	Least, Usual, Most             int64
	LeastText, UsualText, MostText string
	Until, Because                 string
}

// MostPerTube is how many pieces may be said to come out of one tube; the trade
// splits into 3 or 4.
const MostPerTube = 12

// Overnight is what "overnight" is taken as: eight hours. common practice.
const Overnight int64 = 8 * 3600 * 1000

// SlotOf is the slot of a dimension, alias or setting; -1 if there is none.
func (b *Bound) SlotOf(name string) int {
	if i, ok := b.byName[name]; ok {
		return i
	}
	return -1
}

// StageOf is the index of the stage with this key; -1 if there is none.
func (b *Bound) StageOf(key string) int {
	for i := range b.Stages {
		if b.Stages[i].Key == key {
			return i
		}
	}
	return -1
}

// Work fills the derived slots of values, which is as long as b.Slots, where
// all they rest on is known.
func (b *Bound) Work(values []float64, known []bool) {
	for range b.Derived { // a derived one may rest on another
		again := false
	each:
		for _, d := range b.Derived {
			if known[d.Slot] {
				continue
			}
			for _, n := range d.Formula.Needs() {
				if !known[n] {
					continue each
				}
			}
			if v, err := d.Formula.Number(values); err == nil {
				values[d.Slot], known[d.Slot], again = v, true, true
			}
		}
		if !again {
			return
		}
	}
}

// Tool finds a tool by a word of the catalogue the recipe was bound with.
func (b *Bound) Tool(word string) (tool.Tool, bool) { return b.tools.Tool(word) }
