package terminal

import (
	"math"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"canewright/engine/bench"
)

// mostSheetRows: a picture of the blade is no longer than a screen.
const mostSheetRows = 18

// mostDatumGap: stations that all lie far from their datum are drawn nearer to it.
const mostDatumGap = 6

// Sheet draws the blades of a sheet side by side, the tip on top, stations to
// scale along the blade as far as lines allow. Shape and number say it; where
// colour is allowed it comes last. Places within the noise stay blank. nil where
// it does not fit.
//
//	              blade A             blade B
//	           spine  rails        spine  rails
//	 21 mm |                    |        −0.05▼
//
//	  9 mm |         +0.08▲     |
//	  3 mm |                    |  .
//	collar +--------------------+----------------
func Sheet(sh *bench.Sheet, width int, colour bool) []string {
	paint := &Terminal{Colour: colour}
	label := ansi.StringWidth(sh.From)
	for _, s := range sh.Stations {
		label = max(label, ansi.StringWidth(s.Text))
	}
	var lanes, widths []int
	blade := 1
	for l, name := range sh.Lanes {
		w := 0
		for b := range sh.Blades {
			for s := range sh.Stations {
				if c := sh.Cell(b, s, l); c.State != bench.SheetNotAsked {
					text, _, _ := sheetCell(c)
					w = max(w, ansi.StringWidth(text), ansi.StringWidth(name))
				}
			}
		}
		if w > 0 {
			lanes, widths = append(lanes, l), append(widths, w)
			blade += w + 1
		}
	}
	all := make([]int, len(sh.Blades))
	for i := range all {
		all[i] = i
	}
	d := sheetDrawing{sh, paint, label, blade, lanes, widths, sheetRows(sh)}
	columns := func(n int) int { return 2 + label + 2 + n*(blade+2) }
	switch {
	case len(lanes) == 0 || columns(1) > width:
		return nil
	case columns(len(all)) <= width:
		return d.draw(all)
	}
	var out []string
	for _, b := range all {
		out = append(out, d.draw([]int{b})...)
	}
	return out
}

// sheetRows are the lines the stations stand on, counted from the one behind the
// datum: as far apart as on the blade, to the nearest line, and never on one line.
func sheetRows(sh *bench.Sheet) []int {
	nearest := int64(math.MaxInt64)
	for i := 1; i < len(sh.Stations); i++ {
		nearest = min(nearest, sh.Stations[i].At-sh.Stations[i-1].At)
	}
	rows := make([]int, len(sh.Stations))
	span := sh.Stations[len(sh.Stations)-1].At - sh.Stations[0].At
	// Two lines for the nearest two, unless that takes more than a screen.
	lines := max(float64(len(sh.Stations)-1), min(mostSheetRows, 2*float64(span)/float64(nearest)))
	if len(rows) > 1 && sh.Stations[0].At > 0 { // the datum has its line before the first
		rows[0] = min(mostDatumGap, max(0, int(math.Round(float64(sh.Stations[0].At)/float64(span)*lines))-1))
	}
	for i := 1; i < len(rows); i++ {
		at := float64(rows[0]) + float64(sh.Stations[i].At-sh.Stations[0].At)/float64(span)*lines
		rows[i] = max(rows[i-1]+1, int(math.Round(at)))
	}
	return rows
}

type sheetDrawing struct {
	sh            *bench.Sheet
	paint         *Terminal
	label, blade  int
	lanes, widths []int
	rows          []int
}

func (d sheetDrawing) draw(blades []int) []string {
	heads, names := d.lead(""), d.lead("")
	for _, b := range blades {
		heads += "  " + padded(centred("blade "+d.sh.Blades[b], d.blade), d.blade)
		line := ""
		for i, l := range d.lanes {
			line += " " + padded(centred(d.sh.Lanes[l], d.widths[i]), d.widths[i])
		}
		names += "  " + padded(line, d.blade)
	}
	out := []string{heads, names}
	n := d.rows[len(d.rows)-1]
	lines := make([]string, n+1)
	for row := range lines {
		station := -1
		for i, r := range d.rows {
			if r == row {
				station = i
			}
		}
		lines[row] = d.line(blades, station)
	}
	edge := d.lead(d.sh.From)
	for range blades {
		edge += " +" + strings.Repeat("-", d.blade)
	}
	if d.sh.From == "tip" {
		out = append(append(out, edge), lines...)
	} else {
		for i := len(lines) - 1; i >= 0; i-- {
			out = append(out, lines[i])
		}
		out = append(out, edge)
	}
	for i := range out {
		out[i] = strings.TrimRight(out[i], " ")
	}
	return out
}

func (d sheetDrawing) lead(text string) string {
	return "  " + strings.Repeat(" ", d.label-ansi.StringWidth(text)) + text
}

func (d sheetDrawing) line(blades []int, station int) string {
	name := ""
	if station >= 0 {
		name = d.sh.Stations[station].Text
	}
	s := d.lead(name)
	for _, b := range blades {
		s += " |"
		for i, l := range d.lanes {
			text, side, sure := "", "", false
			if station >= 0 {
				text, side, sure = sheetCell(d.sh.Cell(b, station, l))
			}
			shown := padded(centred(text, d.widths[i]), d.widths[i])
			s += " " + d.paint.tint(side, sure, shown)
		}
	}
	return s
}

// sheetCell is what stands at a station, and how it is coloured: how far it is
// off and the sign of its side, as at the bench.
func sheetCell(c *bench.SheetCell) (text, side string, sure bool) {
	switch {
	case c.Since > 0:
		return "again", "", false
	case c.KnifeOff:
		return c.Difference + "▼", "below", true
	}
	switch c.State {
	case bench.SheetOpen:
		return ".", "", false
	case bench.SheetSkipped:
		return "skip", "", false
	case bench.SheetRead:
		return c.Reading, "", false
	case bench.SheetOff:
		return c.Difference, "", false
	case bench.SheetMore:
		return c.Difference + "▲", "above", true
	case bench.SheetMaybe:
		return c.Difference + "△", "above", false
	case bench.SheetLess:
		return c.Difference + "▼", "below", true
	case bench.SheetMaybeNot:
		return c.Difference + "▽", "below", false
	}
	return "", "", false
}

// SheetSigns say in words what the signs of a sheet mean, those it has.
func SheetSigns(sh *bench.Sheet) string {
	var parts []string
	has := func(words string, is func(*bench.SheetCell) bool) {
		for i := range sh.Cells {
			if is(&sh.Cells[i]) {
				parts = append(parts, words)
				return
			}
		}
	}
	state := func(s bench.SheetState) func(*bench.SheetCell) bool {
		return func(c *bench.SheetCell) bool { return c.State == s && !c.KnifeOff && c.Since == 0 }
	}
	has("▲ too "+sh.More, state(bench.SheetMore))
	has("△ maybe too "+sh.More, state(bench.SheetMaybe))
	has("▼ keep the knife off", func(c *bench.SheetCell) bool { return c.KnifeOff && c.Since == 0 })
	has("▼ too "+sh.Less, state(bench.SheetLess))
	has("▽ maybe too "+sh.Less, state(bench.SheetMaybeNot))
	has("a number alone: inside, off the target", state(bench.SheetOff))
	has("blank: within what you can measure", state(bench.SheetNoise))
	has(". not read", state(bench.SheetOpen))
	has("again: strokes since it was read", func(c *bench.SheetCell) bool { return c.Since > 0 })
	return upper(strings.Join(parts, "; ")) + "."
}

func padded(s string, width int) string {
	return s + strings.Repeat(" ", max(0, width-ansi.StringWidth(s)))
}

// SheetTable sets rows in columns, the numbers under each other, each row with a
// note behind it that is wrapped; notes has as many.
func SheetTable(rows [][]string, notes []string, width int) []string {
	widths := make([]int, len(rows[0]))
	for _, r := range rows {
		for i, text := range r {
			widths[i] = max(widths[i], ansi.StringWidth(text))
		}
	}
	var out []string
	for n, r := range rows {
		lead := " "
		for i, text := range r {
			lead += " " + strings.Repeat(" ", widths[i]-ansi.StringWidth(text)) + text
		}
		if notes[n] == "" {
			out = append(out, strings.TrimRight(lead, " "))
			continue
		}
		out = append(out, Wrap(lead+"  ", notes[n], width)...)
	}
	return out
}
