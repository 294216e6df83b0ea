package paper

import (
	"strconv"
	"strings"

	"canewright/cmd/internal/card"
	"canewright/engine/quantity"
	"canewright/engine/recipe"
)

type headLine struct {
	a    letters
	text string
}

// columnHead is what stands over a column.
func (m *maker) columnHead(s *card.Section, c int, wide float64) []headLine {
	col := s.Columns[c]
	if col.Box.Kind == recipe.BoxDone {
		return []headLine{{strong, "done"}}
	}
	slot := m.cell(s, c)
	if slot == nil {
		return []headLine{{strong, strconv.Itoa(c + 1)}}
	}
	out := []headLine{{strong, strconv.Itoa(c+1) + ")"}}
	add := func(a letters, text string) {
		for _, l := range a.wrap(m.t(text), wide-1) {
			out = append(out, headLine{a, l})
		}
	}
	add(strong, slot.Cell.Blade+" "+slot.Cell.Lane)
	add(strong, slot.Cell.AtText)
	meas := m.b.Stages[s.Number-1].Measures[col.Box.Measure]
	if meas.Target == nil {
		return out
	}
	for _, l := range m.cellTarget(meas.Target.Tolerance) {
		add(l.a, l.text)
	}
	return out
}

// cell is the station a column is of; nil for others.
func (m *maker) cell(s *card.Section, c int) *recipe.Slot {
	col := s.Columns[c]
	if col.Box.Kind != recipe.BoxReading {
		return nil
	}
	if slot := &m.b.Slots[m.b.Stages[s.Number-1].Measures[col.Box.Measure].Slot]; slot.Cell != nil {
		return slot
	}
	return nil
}

// cellWide is what a station's head needs.
func (m *maker) cellWide(s *card.Section, c int) float64 {
	w := float64(cellBox)
	for _, l := range m.columnHead(s, c, 1e6) {
		for _, word := range strings.Fields(l.text) {
			w = max(w, l.a.width(word)+2)
		}
	}
	return min(w, 40)
}

// cellTarget is a station's target for the head of its column: the number to
// aim at in the unit of the grid, how far it may be off; both in inches.
func (m *maker) cellTarget(t quantity.Tolerance) []headLine {
	num := func(q int64) string {
		return strings.Replace(quantity.Number(quantity.Value{Kind: t.Kind, Q: q}, t.Unit, t.Step), "-", "−", 1)
	}
	o := other(t, false)
	limits := []headLine{{body, o.Limits}}
	if low, high, ok := strings.Cut(o.Limits, " to "); ok {
		limits = []headLine{{body, low + " to"}, {body, high}}
	}
	about := headLine{number, strings.TrimSuffix(strings.TrimPrefix(o.Nominal, "about "), " in")}
	var out []headLine
	switch {
	case t.Nominal.Set && t.Low.Set && t.High.Set:
		out = append(out, headLine{number, num(t.Nominal.Q)})
		if up, down := t.High.Q-t.Nominal.Q, t.Nominal.Q-t.Low.Q; up == down {
			out = append(out, headLine{body, "± " + num(up)})
		} else {
			out = append(out, headLine{body, "+" + num(up)}, headLine{body, "−" + num(down)})
		}
		out = append(out, about)
	case t.Low.Set && t.High.Set:
		out = append(out, headLine{number, num(t.Low.Q) + " to"}, headLine{number, num(t.High.Q)})
	case t.High.Set:
		out = append(out, headLine{number, "≤ " + num(t.High.Q)})
	default:
		out = append(out, headLine{number, "≥ " + num(t.Low.Q)})
	}
	return append(out, limits...)
}

// gridLegend says once what all stations have in common.
func (m *maker) gridLegend(s *card.Section, c int) []block {
	slot := m.cell(s, c)
	for i := range c {
		if before := m.cell(s, i); before != nil && before.Dimension == slot.Dimension {
			return nil
		}
	}
	col := s.Columns[c]
	text := slot.Dimension.Title + ", from the " + slot.Cell.From + " [" + col.Unit + "]"
	if col.Tool != "" {
		text += "; with the " + col.Tool
	}
	text += ". Over each box: blade and lane, place, what to aim at and how far it may be off, in " + col.Unit + "; then the same in inches, with its limits."
	return lines(doing, margin, doing.wrap(m.t(text), m.flow.wide()), nil)
}
