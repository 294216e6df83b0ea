package paper

import (
	"slices"
	"strconv"
	"strings"

	"canewright/cmd/internal/card"
	"canewright/engine/recipe"
)

// longMark is as wide as the marks' column gets, mm.
const longMark = 50

// table is some columns of a stage with the rows that have just these boxes,
// which may stand in several tables side by side.
type table struct {
	m        *maker
	s        *card.Section
	columns  []int // indices
	rows     []int // indices
	markWide float64
	boxWide  float64
	across   int // tables side by side
	down     int // rows of each
}

// tables are one below the other. Rows that have the same boxes stand together,
// so that none is struck out: of one piece in four more is asked. A table with
// more boxes than stand side by side goes on in another, the marks repeated.
func (m *maker) tables(s *card.Section) []block {
	t := table{m: m, s: s, markWide: strong.width("mark") + 3}
	var groups [][]int // rows
	for i, r := range s.Rows {
		if m.o.Gone != nil && m.o.Gone(s.Number-1, r.Mark) {
			continue
		}
		at := slices.IndexFunc(groups, func(g []int) bool { return slices.Equal(s.Rows[g[0]].Open, r.Open) })
		if at < 0 {
			at, groups = len(groups), append(groups, nil)
		}
		groups[at] = append(groups[at], i)
		t.markWide = min(longMark, max(t.markWide, number.width(m.t(r.Mark))+3))
	}
	if len(groups) == 0 {
		return lines(doing, margin, []string{"No piece of this batch comes here any more."}, nil)
	}
	asked := func(g []int) (n int) {
		for _, open := range s.Rows[g[0]].Open {
			if open {
				n++
			}
		}
		return n
	}
	slices.SortStableFunc(groups, func(a, b []int) int { return asked(b) - asked(a) })
	var out []block
	for _, rows := range groups {
		t.rows = rows
		var open []int
		t.boxWide = tickBox
		for i, c := range s.Columns {
			if !s.Rows[rows[0]].Open[i] {
				continue
			}
			open = append(open, i)
			switch {
			case m.cell(s, i) != nil:
				t.boxWide = max(t.boxWide, m.cellWide(s, i))
			case c.Box.Kind == recipe.BoxReading:
				t.boxWide = max(t.boxWide, boxWide)
			}
		}
		fit := max(1, int((m.flow.wide()-t.markWide)/t.boxWide))
		parts := (len(open) + fit - 1) / fit
		each := (len(open) + parts - 1) / parts
		for from := 0; from < len(open); from += each {
			part := t
			part.columns = open[from:min(from+each, len(open))]
			out = append(out, part.blocks()...)
		}
	}
	return out
}

// between two tables side by side, mm.
const aisle = 4

func (t table) wide() float64 { return t.markWide + float64(len(t.columns))*t.boxWide }

func (t *table) blocks() []block {
	room := t.m.flow.wide()
	t.across = max(1, min(len(t.rows), int((room+aisle)/(t.wide()+aisle))))
	t.down = (len(t.rows) + t.across - 1) / t.across
	t.across = (len(t.rows) + t.down - 1) / t.down
	head := t.head()
	head.gap = 1.5
	again := t.again(head)
	title := t.title()
	head.again = &title
	out := []block{head}
	for row := range t.down {
		// A short table stays whole; of a long one no row stands alone.
		whole := t.down <= 3 && row < t.down-1
		out = append(out, block{high: rowHigh, again: &again, with: whole || row == 0 && t.down > 1 || row == t.down-2,
			put: func(p *Page, y float64) { t.row(p, y, row) }})
	}
	out[0].with = true
	return out
}

// row draws one row of every table side by side.
func (t *table) row(p *Page, y float64, row int) {
	for k := range t.across {
		at := k*t.down + row
		if at >= len(t.rows) {
			continue
		}
		r := t.rows[at]
		x := margin + float64(k)*(t.wide()+aisle)
		t.mark(p, x, y, t.m.t(t.s.Rows[r].Mark))
		for i, c := range t.columns {
			t.m.box(p, t.s, Box{X: x + t.markWide + float64(i)*t.boxWide, Y: y, W: t.boxWide, H: rowHigh}, r, c)
		}
	}
}

func (t *table) mark(p *Page, x, y float64, mark string) {
	p.Shapes = append(p.Shapes, Shape{Points: [][2]float64{{x, y}, {x + t.markWide, y}, {x + t.markWide, y + rowHigh}, {x, y + rowHigh}}, Wide: ruled})
	if number.width(mark) <= t.markWide-3 {
		p.text(x+1.5, y+rowHigh/2+number.up()/2, number, mark)
		return
	}
	for i, l := range strong.wrap(mark, t.markWide-3) {
		p.text(x+1.5, y+strong.up()+0.9+float64(i)*strong.height(), strong, l)
	}
}

// head names the columns: by number, a station by its place and target.
func (t *table) head() block {
	var says [][]headLine
	high := 0.0
	for _, c := range t.columns {
		its := t.m.columnHead(t.s, c, t.boxWide)
		says = append(says, its)
		sum := 0.0
		for _, l := range its {
			sum += l.a.height()
		}
		high = max(high, sum)
	}
	high++
	return block{high: high, put: func(p *Page, y float64) {
		for k := range t.across {
			x := margin + float64(k)*(t.wide()+aisle)
			p.text(x+1.5, y+high-1-strong.down(), strong, "mark")
			for i, its := range says {
				mid := x + t.markWide + (float64(i)+0.5)*t.boxWide
				base := y + high - 1
				for n := len(its) - 1; n >= 0; n-- {
					l := its[n]
					p.text(mid-l.a.width(l.text)/2, base-l.a.down(), l.a, l.text)
					base -= l.a.height()
				}
			}
		}
	}}
}

// again goes over rows that begin a page: what title says, and the head.
func (t *table) again(head block) block {
	title := t.title()
	return block{high: title.high + head.high + 1, put: func(p *Page, y float64) {
		title.put(p, y)
		head.put(p, y+title.high+1)
	}}
}

// title goes over a table that begins a page: the stage, and what its columns
// are, as their description is a page back.
func (t *table) title() block {
	m, wide := t.m, t.m.flow.wide()
	name := strong.clip(m.t(strconv.Itoa(t.s.Number)+". "+t.s.Name+", continued"), wide)
	var what []string
	for _, c := range t.columns {
		if m.cell(t.s, c) == nil && t.s.Columns[c].Box.Kind != recipe.BoxDone {
			what = append(what, strconv.Itoa(c+1)+" "+m.t(t.s.Columns[c].Short))
		}
	}
	said := body.wrap(strings.Join(what, " · "), wide)
	return block{high: strong.height() + float64(len(said))*body.height(), put: func(p *Page, y float64) {
		p.text(margin, y+strong.up()+0.4, strong, name)
		for i, l := range said {
			p.text(margin, y+strong.height()+body.up()+0.4+float64(i)*body.height(), body, l)
		}
	}}
}
