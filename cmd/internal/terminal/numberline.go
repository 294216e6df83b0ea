package terminal

import (
	"math"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"canewright/engine/bench"
)

// lineColumns is the width of the number line itself: it fits 60 columns with
// its indent, and a wider window makes it no longer.
const lineColumns = 54

// numberLine draws limits, target and reading: brackets are the limits, dashes
// between them are right, dots are not. Tildes are the uncertainty of the
// reading. nil where there is no limit or no reading to compare with it.
//
//	           1.28     1.30       1.33
//	...........[---------|----------]........~~~▲~~~.....
//	                                        1.37 ± 0.01
func numberLine(l *bench.Line, width int) []string {
	if l == nil || l.Value == nil || l.Low == nil && l.High == nil {
		return nil
	}
	s := newScale(l, min(width, lineColumns))
	line := blank(s.columns)
	low, high := s.low, s.high
	for c := range line {
		switch {
		case c > low && c < high:
			line[c] = "-"
		default:
			line[c] = "."
		}
	}
	if l.Low != nil {
		line[low] = "["
	}
	if l.High != nil {
		line[high] = "]"
	}
	if low == high {
		line[low] = "|" // one value and no other
	}
	target := -1
	if l.Target != nil {
		if c := s.at(l.Target.At); c > low && c < high {
			target = c
			line[c] = "|"
		}
	}
	value, from, to := s.value(l)
	for c := from; c <= to; c++ {
		if line[c] == "." || line[c] == "-" {
			line[c] = "~"
		}
	}
	line[value] = sign(l.Side, l.Sure, false)
	switch { // far away: the edge, and an arrow that points on
	case l.Value.At > s.last:
		value = s.columns - 2
		line[value], line[value+1] = sign(l.Side, l.Sure, false), ">"
	case l.Value.At < s.first:
		value = 1
		line[value-1], line[value] = "<", sign(l.Side, l.Sure, false)
	}

	above := blank(s.columns)
	if l.Low != nil {
		// Ends over its bracket, so that the target has room.
		above.put(max(0, low+1-ansi.StringWidth(l.Low.Label)), l.Low.Label)
	}
	if l.High != nil {
		above.put(min(high, s.columns-ansi.StringWidth(l.High.Label)), l.High.Label)
	}
	if target >= 0 {
		above.put(target-ansi.StringWidth(l.Target.Label)/2, l.Target.Label)
	}
	below := blank(s.columns)
	label := l.Value.Label
	if l.ULabel != "" {
		label += " " + l.ULabel
	}
	w := ansi.StringWidth(label)
	below.put(max(0, min(value-ansi.StringWidth(l.Value.Label)/2, s.columns-w)), label)
	return []string{above.String(), line.String(), below.String()}
}

// scale maps quanta to columns. The limits keep their columns, so that one
// stage's lines look alike; first and last are the quanta at the edges.
type scale struct {
	columns     int
	low, high   int // columns of the limits; outside the line where one is not stated
	first, last int64
	origin      float64 // quanta at column 0
	each        float64 // quanta a column
}

func newScale(l *bench.Line, columns int) scale {
	s := scale{columns: columns}
	third := columns / 3
	if l.Low != nil && l.High != nil && l.High.At > l.Low.At {
		s.low, s.high = third, columns-1-third
		s.each = float64(l.High.At-l.Low.At) / float64(s.high-s.low)
		s.origin = float64(l.Low.At) - float64(s.low)*s.each
	} else {
		// One limit: the line reaches to target, reading and uncertainty.
		limit, at := l.Low, columns-1-third
		if l.High != nil {
			limit = l.High
		}
		reach := max(math.Abs(float64(l.Value.At-limit.At)), 4*float64(l.U), 1)
		if l.Target != nil {
			reach = max(math.Abs(float64(l.Target.At-limit.At)), 4*float64(l.U), 1)
		}
		if l.High == nil {
			at = third
		}
		s.each = reach / float64(third-1)
		s.origin = float64(limit.At) - float64(at)*s.each
		s.low, s.high = -1, columns
		if l.Low != nil {
			s.low = at
		}
		if l.High != nil {
			s.high = at
		}
	}
	s.first, s.last = quanta(s.origin), quanta(s.origin+float64(columns-1)*s.each)
	return s
}

func quanta(f float64) int64 {
	return int64(max(math.MinInt64/2, min(math.MaxInt64/2, math.Round(f))))
}

func (s scale) at(q int64) int { return s.column(float64(q)) }

func (s scale) column(q float64) int {
	return int(max(0, min(float64(s.columns-1), math.Round((q-s.origin)/s.each))))
}

// value is the column of the reading and those its uncertainty reaches. A
// column is coarser than a quantum: the side that was judged decides on which
// side of a bracket the sign stands.
func (s scale) value(l *bench.Line) (at, from, to int) {
	at = s.at(l.Value.At)
	switch l.Side {
	case "inside":
		at = max(min(at, s.high, s.columns-1), s.low, 0)
	case "above":
		if l.High != nil {
			at = min(max(at, s.high+1), s.columns-1)
		}
	case "below":
		if l.Low != nil {
			at = max(min(at, s.low-1), 0)
		}
	}
	v, u := float64(l.Value.At), 2*float64(l.U)
	return at, min(at, s.column(v-u)), max(at, s.column(v+u))
}

// drawLine shows a number line below a verdict.
func (t *Terminal) drawLine(l *bench.Line) {
	if t.Plain {
		return
	}
	for _, row := range numberLine(l, t.Width-4) {
		t.line(strings.TrimRight("  "+row, " "))
	}
}
