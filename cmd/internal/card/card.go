package card

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"canewright/engine/bench"
	"canewright/engine/diagnostic"
	"canewright/engine/dimension"
	"canewright/engine/quantity"
	"canewright/engine/recipe"
)

// Order is what a card is asked for.
type Order struct {
	Pieces []string // their marks
	Tubes  []string // theirs, where the recipe begins with tubes
	Stages []int    // indices; nil: all
	Notes  func(recipe.Use) ([]bench.Note, error)
}

// Card is what stands on it, in words: faces only lay it out.
type Card struct {
	Title    string
	From     string   // id and version of the recipe
	Notes    []string // each once, the gravest first
	Sections []Section
	Example  []string // lines as they are typed back
}

// Section is one stage.
type Section struct {
	Number  int // of the stage in the recipe
	Name    string
	Whom    string // "each tube", "the batch together"; empty: each piece
	Notes   []string
	Do      []string
	Columns []Column
	Rows    []Row
	Wait    string // "until the cane sinks, at least 2 h"; empty: none
	Short   bool   // a wait and nothing else: one line
}

// Column is one box of a row.
type Column struct {
	Box     recipe.Box
	What    string   // "first wire, from the butt"
	Short   string   // "first wire", "A spine 3 mm": for the head of a table
	Unit    string   // "mm"; empty for looks and counts
	Target  string   // as written; empty: none
	Limits  string   // where they are not the same as the target
	State   string   // "wet", "dry"; empty: either
	Tool    string   // what it is read with
	Answers []string // of a look
	Several bool     // more than one answer may be given
}

// Row is one piece's. Open says which of the columns are its boxes.
type Row struct {
	Mark string
	Open []bool
}

// Everybody is the mark of a row that stands for the whole batch; the bench
// reads it as such.
const Everybody = "all"

// New makes the card.
func New(b *recipe.Bound, o Order) (*Card, error) {
	c := &Card{Title: diagnostic.Clean(b.File.Title), From: b.File.ID + ", version " + strconv.Itoa(b.File.Version)}
	if b.File.Instrument != "" {
		c.From += ", " + b.File.Instrument
	}
	var notes []bench.Note
	cane := dimension.Condition("") // as the stages go by
	for i := range b.Stages {
		st := &b.Stages[i]
		if o.Stages == nil || slices.Contains(o.Stages, i) {
			its, err := o.Notes(st.Use)
			if err != nil {
				return nil, err
			}
			notes = append(notes, its...)
			s := section(b, i, o, cane)
			for _, n := range its {
				s.Notes = append(s.Notes, diagnostic.Clean(n.OneLine()))
			}
			c.Sections = append(c.Sections, s)
		}
		if st.Becomes != "" {
			cane = st.Becomes
		}
	}
	c.Notes = gravest(notes)
	c.Example = example(b, c.Sections)
	return c, nil
}

// gravest lists every note once, with the highest signal word it has anywhere.
func gravest(notes []bench.Note) []string {
	slices.SortStableFunc(notes, func(a, b bench.Note) int { return cmp.Or(int(b.Signal)-int(a.Signal), cmp.Compare(a.ID, b.ID)) })
	var out []string
	seen := map[string]bool{}
	for _, n := range notes {
		if !seen[n.ID] {
			seen[n.ID] = true
			out = append(out, diagnostic.Clean(n.OneLine()))
		}
	}
	return out
}

func section(b *recipe.Bound, i int, o Order, cane dimension.Condition) Section {
	st := &b.Stages[i]
	s := Section{Number: i + 1, Name: diagnostic.Clean(st.Name), Whom: whom(st)}
	for _, d := range st.Do {
		s.Do = append(s.Do, diagnostic.Clean(d))
	}
	if st.MarkAgain != "" {
		s.Do = append(s.Do, "mark the piece again: "+diagnostic.Clean(st.MarkAgain))
	}
	s.Wait = wait(st.Wait)
	s.Short = st.Wait != nil && len(st.Do) == 0 && len(st.Measures) == 0 && st.Look == nil && st.Into == 0

	marks := o.Pieces
	if st.Tube {
		marks = o.Tubes
	}
	var boxes [][]recipe.Box // a row
	if st.Each.Batch {
		boxes, s.Rows = append(boxes, b.Boxes(i, 1)), append(s.Rows, Row{Mark: Everybody})
	} else {
		for k, m := range marks {
			if st.Each.For(k + 1) {
				boxes, s.Rows = append(boxes, b.Boxes(i, k+1)), append(s.Rows, Row{Mark: diagnostic.Clean(m)})
			}
		}
	}
	all := union(boxes)
	for _, box := range all {
		s.Columns = append(s.Columns, column(b, st, box, cmp.Or(st.Condition, cane)))
	}
	for k := range s.Rows {
		for _, box := range all {
			s.Rows[k].Open = append(s.Rows[k].Open, slices.Contains(boxes[k], box))
		}
	}
	return s
}

// union is the boxes of all rows in the order each row has them.
func union(rows [][]recipe.Box) []recipe.Box {
	var out []recipe.Box
	for _, r := range rows {
		for _, b := range r {
			if !slices.Contains(out, b) {
				out = append(out, b)
			}
		}
	}
	rank := func(k recipe.BoxKind) int {
		return slices.Index([]recipe.BoxKind{recipe.BoxReading, recipe.BoxLook, recipe.BoxDone, recipe.BoxPieces}, k)
	}
	slices.SortStableFunc(out, func(a, b recipe.Box) int {
		return cmp.Or(rank(a.Kind)-rank(b.Kind), a.Measure-b.Measure, a.Turn-b.Turn)
	})
	return out
}

func whom(st *recipe.Stage) string {
	one := "piece"
	if st.Tube {
		one = "tube"
	}
	switch {
	case st.Each.Batch:
		return "all together"
	case st.Each.First:
		return "the first " + one
	case st.Each.Every > 1:
		return "1 " + one + " in " + strconv.Itoa(st.Each.Every)
	case st.Tube:
		return "each tube"
	}
	return ""
}

func column(b *recipe.Bound, st *recipe.Stage, box recipe.Box, cane dimension.Condition) Column {
	c := Column{Box: box}
	switch box.Kind {
	case recipe.BoxDone:
		c.What, c.Short = "done", "done"
		return c
	case recipe.BoxPieces:
		c.What = "how many pieces came out (usually " + strconv.Itoa(st.Into) + ")"
		c.Short = "pieces"
		return c
	case recipe.BoxLook:
		c.What, c.Short, c.Several = diagnostic.Clean(st.Look.Question), "look", st.Look.Several
		for _, a := range st.Look.Answers {
			c.Answers = append(c.Answers, diagnostic.Clean(a.Word))
		}
		return c
	}
	m := st.Measures[box.Measure]
	slot := b.Slots[m.Slot]
	d := slot.Dimension
	c.What, c.Short = slot.Title(), diagnostic.Clean(d.Title)
	if slot.Cell != nil {
		c.Short = diagnostic.Clean(slot.Cell.Blade + " " + slot.Cell.Lane + " " + slot.Cell.AtText)
	}
	if d.Datum != "" && slot.Cell == nil {
		c.What += ", from " + d.Datum
	}
	if m.At != "" {
		c.What += ", at " + m.At
	}
	if m.Repeat > 1 {
		c.What += ", reading " + strconv.Itoa(box.Turn) + " of " + strconv.Itoa(m.Repeat)
	}
	c.What = diagnostic.Clean(c.What)
	c.Unit, c.Tool = d.Unit.Name(), diagnostic.Clean(m.Tool.Name)
	if m.Target != nil {
		c.Target = diagnostic.Clean(m.Target.Tolerance.Text)
		if m.Target.Tolerance.Nominal.Set { // else the text is the limits
			c.Limits = m.Target.Tolerance.Limits()
		}
	}
	if d.Condition == dimension.Wet || d.Condition == dimension.Dry {
		cane = cmp.Or(st.Condition, d.Condition)
	}
	if cane != dimension.Either {
		c.State = string(cane)
	}
	return c
}

func wait(w *recipe.Wait) string {
	if w == nil {
		return ""
	}
	var parts []string
	add := func(lead, text string) {
		if text != "" {
			parts = append(parts, lead+diagnostic.Clean(text))
		}
	}
	add("until ", w.Until)
	add("at least ", w.LeastText)
	add("usually ", w.UsualText)
	add("at most ", w.MostText)
	return strings.Join(parts, ", ")
}

// example is a line for the first piece at the stage with the most to show,
// with values a maker may have read.
func example(b *recipe.Bound, all []Section) []string {
	best := -1
	for i, s := range all {
		if len(s.Rows) > 0 && !s.Short && (best < 0 || worth(s) > worth(all[best])) {
			best = i
		}
	}
	if best < 0 {
		return nil
	}
	s := all[best]
	line := []string{s.Rows[0].Mark}
	for i, c := range s.Columns {
		if !s.Rows[0].Open[i] {
			continue
		}
		switch c.Box.Kind {
		case recipe.BoxReading:
			m := &b.Stages[s.Number-1].Measures[c.Box.Measure]
			line = append(line, reading(m, b.Slots[m.Slot].Dimension.Unit))
		case recipe.BoxDone:
			line = append(line, "done")
		case recipe.BoxPieces:
			line = append(line, strconv.Itoa(b.Stages[s.Number-1].Into))
		default:
			line = append(line, "1")
		}
	}
	return []string{"@19:40", strings.Join(line, " ")}
}

// worth is how much a stage's row shows: several kinds of boxes, not too many.
func worth(s Section) int {
	if len(s.Columns) > 6 {
		return 0
	}
	return len(s.Columns)
}

// reading is a number inside the target, as it is typed: in the box's unit, with
// no blank in it.
func reading(m *recipe.Measure, unit quantity.Unit) string {
	if m.Target == nil {
		return "-"
	}
	t := m.Target.Tolerance
	at := t.Low
	if !at.Set {
		at = t.High
	}
	if t.Nominal.Set {
		at = t.Nominal
	}
	step := t.Step
	if t.Unit != unit && t.Kind != quantity.Pitch {
		t.Unit, step = unit, 0
	}
	return strings.ReplaceAll(quantity.Number(quantity.Value{Kind: t.Kind, Q: at.Q}, t.Unit, step), " ", "")
}
