package terminal

import (
	"fmt"
	"slices"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"canewright/engine/bench"
)

// next names the station that is asked, in words.
func next(g *bench.Grid) string {
	for b, blade := range g.Blades {
		for s, station := range g.Stations {
			for l, lane := range g.Lanes {
				if g.Cell(b, s, l).State == bench.CellNext {
					return "blade " + blade + ", " + lane + ", " + station + " from the " + g.From
				}
			}
		}
	}
	return ""
}

// bladeGrid draws the blades with the tip on top, as a reed stands in the hand:
// what was read, and where the next reading is taken. Lanes and stations that
// this stage does not ask for are left out. nil where it does not fit.
//
//	Blade thickness, mm. The tip is on top.
//	           blade A           blade B
//	         spine  rails      spine  rails
//	  9 mm  >next<    .          .      .
//	  3 mm   0.90   0.63▲        .      .
//	      (collar)
func bladeGrid(g *bench.Grid, width int) []string {
	if len(g.Cells) != len(g.Blades)*len(g.Stations)*len(g.Lanes) || len(g.Cells) == 0 {
		return nil
	}
	l := layout{g: g}
	for s, name := range g.Stations {
		if w := l.widest(func(_, station, _ int) bool { return station == s }); w > 0 {
			l.stations = append(l.stations, s)
			l.label = max(l.label, ansi.StringWidth(name))
		}
	}
	for i, name := range g.Lanes {
		if w := l.widest(func(_, _, lane int) bool { return lane == i }); w > 0 {
			l.lanes = append(l.lanes, i)
			l.widths = append(l.widths, max(w, ansi.StringWidth(name)))
			l.blade += max(w, ansi.StringWidth(name)) + 1
		}
	}
	title := g.Title
	if g.Unit != "" {
		title += ", " + g.Unit
	}
	out := Wrap("", upper(title)+". The tip is on top.", width)
	if g.From != "tip" {
		slices.Reverse(l.stations) // the first is nearest to where they are counted from
	}
	all := make([]int, len(g.Blades))
	for i := range all {
		all[i] = i
	}
	switch {
	case l.columns(len(all)) <= width:
		out = append(out, l.rows(all)...)
	case l.columns(1) <= width: // one under the other
		for _, b := range all {
			out = append(out, l.rows([]int{b})...)
		}
	default:
		return nil // the words below say where
	}
	if g.From != "tip" {
		out = append(out, strings.Repeat(" ", 2+l.label+1)+"("+g.From+")")
	}
	return out
}

// layout is how a grid's columns stand: an indent of 2, the stations, then each
// blade behind a gap of 2.
type layout struct {
	g               *bench.Grid
	stations, lanes []int // that are asked, from the top and from the left
	label           int   // width of the stations' names
	widths          []int // of the lanes
	blade           int   // width of a blade
}

// widest is the width of the widest cell that is asked among some; 0 for none.
func (l *layout) widest(of func(blade, station, lane int) bool) int {
	w := 0
	for b := range l.g.Blades {
		for s := range l.g.Stations {
			for i := range l.g.Lanes {
				if of(b, s, i) {
					w = max(w, ansi.StringWidth(cell(l.g.Cell(b, s, i))))
				}
			}
		}
	}
	return w
}

func (l *layout) columns(blades int) int { return 2 + l.label + blades*(2+l.blade) }

func (l *layout) rows(blades []int) []string {
	heads, lanes := blank(l.columns(len(blades))), blank(l.columns(len(blades)))
	out := make([]string, 2, 2+len(l.stations))
	rows := make([]row, len(l.stations))
	for i, s := range l.stations {
		rows[i] = blank(l.columns(len(blades)))
		rows[i].put(2+l.label-ansi.StringWidth(l.g.Stations[s]), l.g.Stations[s])
	}
	at := 2 + l.label + 2
	for _, b := range blades {
		heads.put(at, centred("blade "+l.g.Blades[b], l.blade-1))
		for i, lane := range l.lanes {
			lanes.put(at, centred(l.g.Lanes[lane], l.widths[i]))
			for n, s := range l.stations {
				rows[n].put(at, centred(cell(l.g.Cell(b, s, lane)), l.widths[i]))
			}
			at += l.widths[i] + 1
		}
		at += 2
	}
	out[0], out[1] = heads.String(), lanes.String()
	for _, r := range rows {
		out = append(out, r.String())
	}
	return out
}

// cell is what stands at a station: a reading carries its side as a sign
// behind it, the next one is a word between arrows.
func cell(c bench.GridCell) string {
	switch c.State {
	case bench.CellOpen:
		return "."
	case bench.CellNext:
		return ">next<"
	case bench.CellRight, bench.CellRead:
		return c.Text
	case bench.CellMore:
		return c.Text + "▲"
	case bench.CellLess:
		return c.Text + "▼"
	case bench.CellSkipped:
		return "skip"
	}
	return ""
}

func centred(s string, width int) string {
	return fmt.Sprintf("%*s%s", max(0, width-ansi.StringWidth(s))/2, "", s)
}
