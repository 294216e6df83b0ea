package paper

import (
	"strconv"
	"strings"

	"canewright/cmd/internal/card"
	"canewright/engine/quantity"
	"canewright/engine/recipe"
)

// Boxes are big enough for a wet hand with a pencil, mm.
const (
	rowHigh = 10.5
	boxWide = 20
	tickBox = 16
	cellBox = 19
)

// stage sets one stage of the card.
func (m *maker) stage(s *card.Section, first bool) {
	f := &m.flow
	alone := allAlone(s)
	all := []block{m.stageHead(s, alone)}
	for _, n := range s.Notes {
		all = append(all, m.oneLine(n)...)
	}
	for _, d := range s.Do {
		all = append(all, m.bullet(d)...)
	}
	if s.Wait != "" {
		all = append(all, m.wait(s.Wait)...)
	}
	if tick, ok := m.condition(s); ok {
		all = append(all, tick)
	}
	if !alone && !s.Short && len(s.Rows) > 0 {
		for i := 0; i < len(s.Columns); {
			n := i + 1
			for n < len(s.Columns) && sameThing(s.Columns[i], s.Columns[n]) {
				n++
			}
			all = append(all, m.legend(s, i, n)...)
			i = n
		}
		all = bound(all, true)
		all[0].first = first
		tables := m.tables(s)
		f.put(append(all[:len(all):len(all)], tables...))
		return
	}
	all = bound(all, false)
	all[0].first = first
	f.put(all)
}

// allAlone: one tick for all together stands beside the stage's name.
func allAlone(s *card.Section) bool {
	return !s.Short && len(s.Rows) == 1 && s.Rows[0].Mark == card.Everybody && len(s.Columns) == 1 && s.Columns[0].Box.Kind == recipe.BoxDone
}

func (m *maker) stageHead(s *card.Section, alone bool) block {
	f := &m.flow
	right := 0.0
	const at = 42
	if s.Wait == "" {
		right += body.width("at") + 2 + at
	}
	if alone {
		right += tickBox + strong.width("all") + 6
	}
	name := m.t(strconv.Itoa(s.Number) + ". " + s.Name)
	if s.Whom != "" {
		name += " (" + s.Whom + ")"
	}
	said := heading.wrap(name, f.wide()-right-3)
	high := max(2+float64(len(said))*heading.height(), rowHigh+2)
	return block{high: high, gap: 4, put: func(p *Page, y float64) {
		p.line(margin, y, margin+f.wide(), y, thick)
		for i, l := range said {
			p.text(margin, y+2+heading.up()+1+float64(i)*heading.height(), heading, l)
		}
		if s.Wait == "" {
			m.fields(p, margin+f.wide()-right, y+9, []field{{"at", at, ""}})
		}
		if alone {
			bx := margin + f.wide() - tickBox
			p.right(bx-2, y+8, strong, "all")
			m.box(p, s, Box{X: bx, Y: y + 1.5, W: tickBox, H: rowHigh - 0.5}, 0, 0)
		}
	}}
}

// wait is how long, and when it was; on one line where there is room.
func (m *maker) wait(text string) []block {
	const long, high = 42, 9.5
	fields := []field{{"begun", long, ""}, {"ended", long, ""}}
	need := 2*(long+6) + body.width("begun") + body.width("ended")
	text = m.t(text)
	lead := strong.width("Wait") + body.width(" ")
	if lead+body.width(text)+2 > m.flow.wide()-need {
		return append(led("Wait", text, margin, m.flow.wide()), m.fill(fields, high))
	}
	return []block{{high: high, put: func(p *Page, y float64) {
		p.text(margin, y+high-2, strong, "Wait")
		p.text(margin+lead, y+high-2, body, text)
		m.fields(p, margin+m.flow.wide()-need, y+high-2, fields)
	}}}
}

// oneLine is a safety note in one line, before the tool is picked up.
func (m *maker) oneLine(n string) []block {
	word, rest, _ := strings.Cut(m.t(n), " ")
	out := led(word, rest, margin+3, m.flow.wide()-3)
	for i := range out {
		put, high := out[i].put, out[i].high
		out[i].put = func(p *Page, y float64) {
			p.line(margin+0.6, y, margin+0.6, y+high, 1.2)
			put(p, y)
		}
	}
	return out
}

func (m *maker) bullet(d string) []block {
	out := lines(doing, margin+4, doing.wrap(m.t(d), m.flow.wide()-4), nil)
	if len(out) == 0 {
		return nil
	}
	put := out[0].put
	out[0].put = func(p *Page, y float64) {
		p.text(margin, y+doing.up()+(doing.height()-doing.up()-doing.down())/2, doing, "–")
		put(p, y)
	}
	return out
}

// condition is where a tick says what the cane really was, if a length is read.
func (m *maker) condition(s *card.Section) (block, bool) {
	asked, states := false, []string{}
	for _, c := range s.Columns {
		if c.Box.Kind != recipe.BoxReading {
			continue
		}
		slot := m.b.Slots[m.b.Stages[s.Number-1].Measures[c.Box.Measure].Slot]
		asked = asked || slot.Dimension.Kind == quantity.Length
		if c.State != "" {
			states = joined(states, []string{c.State})
		}
	}
	if !asked {
		return block{}, false
	}
	const side = 5
	return block{high: side + 2.5, put: func(p *Page, y float64) {
		y++
		x, base := float64(margin), y+side-0.8
		p.text(x, base, body, "The cane is")
		x += body.width("The cane is") + 4
		for _, w := range []string{"wet", "dry"} {
			p.Shapes = append(p.Shapes, square(x, y, side))
			p.text(x+side+1.5, base, strong, w)
			x += side + strong.width(w) + 7
		}
		if len(states) > 0 {
			p.text(x+2, base, body, "the recipe reads it "+strings.Join(states, ", then "))
		}
	}}, true
}

func square(x, y, side float64) Shape {
	return Shape{Points: [][2]float64{{x, y}, {x + side, y}, {x + side, y + side}, {x, y + side}}, Wide: ruled}
}

// box rules a box of a row's column, and writes what stands there already.
func (m *maker) box(p *Page, s *card.Section, at Box, row, column int) {
	r := s.Rows[row]
	at.Stage, at.Row, at.Box = s.Number-1, r.Mark, s.Columns[column].Box
	p.Boxes = append(p.Boxes, at)
	if m.o.Written == nil {
		return
	}
	written := m.o.Written(s.Number-1, r.Mark)
	k := 0
	for i := range column {
		if r.Open[i] {
			k++
		}
	}
	if k >= len(written) || written[k] == "" {
		return
	}
	text := body.wrap(m.t(written[k]), at.W-2)
	if len(text) > 2 {
		text = []string{text[0], body.clip(strings.Join(text[1:], " "), at.W-2)}
	}
	base := at.Y + (at.H-float64(len(text))*body.height())/2 + body.up() + 0.4
	for i, l := range text {
		p.text(at.X+1, base+float64(i)*body.height(), body, l)
	}
}
