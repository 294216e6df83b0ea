package paper

import "strings"

// strips sets the pages that are drawn 1 : 1.
func (m *maker) strips() {
	drawn, says, why := m.stripsOf()
	if len(drawn) == 0 {
		m.noStrip = why
		m.flow.put(bound(append([]block{space(4)}, lines(doing, margin, doing.wrap("There is no strip to scale: "+m.t(why)+".", m.flow.wide()), nil)...), false))
		return
	}
	f := &m.flow
	column := (f.wide() - standsWide) / float64(len(drawn))
	var windows [][][2]float64
	pages := 0
	room := f.bottom() - stripsTop(f)
	for i := range drawn {
		s := &drawn[i]
		s.fewer(room-stripTitle(s, column), column-stripNames-2, &says)
		w := s.windows(room - stripTitle(s, column) - strong.height())
		windows = append(windows, w)
		pages = max(pages, len(w))
	}
	below := 4.0
	for _, text := range says {
		below += float64(len(body.wrap(m.t(text), f.wide()-4))) * body.height()
	}
	for i := range drawn {
		s := &drawn[i]
		s.spare = max(0, min(40, room-stripTitle(s, column)-(s.high-s.low)-strong.height()-below))
	}
	end := 0.0
	for n := range pages {
		f.turn()
		p := f.page()
		y := f.top()
		p.text(margin, y+heading.up()+0.5, heading, "To lay beside cane and reed, 1 : 1")
		y += heading.height() + 1
		y += bars(p, y)
		if pages > 1 {
			p.text(margin, y+body.up(), body, "Longer than the page: lay the sheets over each other, dashed line on dashed line of one letter.")
			y += body.height() + 1
		}
		top := y
		x := float64(margin + standsWide)
		for i := range drawn {
			s := &drawn[i]
			if n < len(windows[i]) {
				y := top
				for _, l := range doingBold.wrap(s.title, column-4) {
					p.text(x, y+doingBold.up()+0.5, doingBold, l)
					y += doingBold.height()
				}
				y += 3
				w := windows[i][len(windows[i])-1-n] // the upper end first
				_, high := s.labels(w, column-stripNames-2)
				s.draw(p, x, y, w, column-2, n)
				end = y + high
			}
			x += column
		}
		at, level := top+14, false
		if w := windows[0]; len(w) == 1 {
			// Its 0 lies level with that of the first strip, where it fits: a bar that
			// stands beside a strip is read as its scale.
			if zero := top + stripTitle(&drawn[0], column) + w[0][1]; zero-hundred >= top {
				at, level = zero-hundred, true
			}
		}
		standing(p, at, level)
		f.y = max(end, at+hundred) + 4
		for i := range drawn {
			if n < len(windows[i]) {
				w := windows[i][len(windows[i])-1-n]
				_, high := drawn[i].labels(w, column-stripNames-2)
				f.y = max(f.y, top+stripTitle(&drawn[i], column)+high+4)
			}
		}
	}
	for _, s := range says {
		lead, rest, ok := strings.Cut(m.t(s), ": ")
		if ok {
			f.put(bound(led(lead+":", rest, margin, f.wide()), false))
			continue
		}
		f.put(bound(lines(body, margin, body.wrap(m.t(s), f.wide()), nil), false))
	}
}

var doingBold = letters{12, true}

// stripsTop is where strips begin on their page.
func stripsTop(f *flow) float64 {
	return f.top() + heading.height() + 1 + bars(&Page{Size: f.size}, 0) + body.height() + 1
}

func stripTitle(s *strip, column float64) float64 {
	return float64(len(doingBold.wrap(s.title, column-4)))*doingBold.height() + 3
}

// joinLetter tells joins apart: the foot of a page and the head of the next
// share one.
func joinLetter(n int) string { return string(rune('A' + n%26)) }

// fewer takes marks off a strip whose names do not fit a page, and says which.
func (s *strip) fewer(room, wide float64, says *[]string) {
	var off []string
	for len(s.marks) > 0 {
		_, high := s.labels([2]float64{s.low, s.high}, wide)
		if high <= max(room, s.high-s.low+strong.height()) {
			break
		}
		last := s.marks[len(s.marks)-1]
		off = append(off, last.name+" "+last.value)
		s.marks = s.marks[:len(s.marks)-1]
	}
	if len(off) > 0 {
		*says = append(*says, "No room for: "+strings.Join(off, "; ")+".")
	}
}
