package paper

import (
	"strings"

	"canewright/engine/bench"
)

// wideAsIs is more runes than a line of a note has: its lines come unbroken.
const wideAsIs = 1 << 20

// notes sets every safety note whole, before anything else.
func (m *maker) notes(all []bench.Note) {
	f := &m.flow
	if len(all) == 0 {
		f.put(lines(doing, margin, doing.wrap("No safety note belongs to what this recipe names. What you really use may have dangers of its own: canewright safety.", f.wide()), nil))
		return
	}
	head := lines(heading, margin, []string{"Safety first: read these before the first tool is picked up"}, nil)
	for _, l := range m.o.Precedence {
		head = append(head, lines(body, margin, body.wrap(m.t(l), f.wide()), nil)...)
	}
	f.put(bound(head, false))
	for i := range all {
		m.note(&all[i])
	}
	if !m.o.Sources {
		f.put(lines(body, margin, body.wrap("Where each of these lines comes from: canewright safety, with the number in brackets.", f.wide()), nil))
	}
}

// leads are printed bold where a line of a note begins with them.
var leads = []string{"Hazard:", "If not avoided:", "Have:", "First aid:", "On the product's label:", "Figures:", "Shown for:", "From:"}

// note is one note: a bar down its side holds it together.
func (m *maker) note(n *bench.Note) {
	f := &m.flow
	text := n.Whole(wideAsIs)
	word := n.Signal.String()
	signs := strings.TrimSpace(strings.TrimPrefix(strings.TrimPrefix(text[0], "⚠ "), word))
	const x = margin + 4
	all := []block{m.signal(n, word, signs)}
	all = append(all, lines(number, x, number.wrap(m.t(text[1]), f.wide()-4), nil)...)
	above := block{high: strong.height() + 1, put: func(p *Page, y float64) {
		p.text(x, y+strong.up()+0.4, strong, strong.clip(m.t(word+", "+text[1])+", continued", f.wide()-4))
	}}
	for i, l := range text[2:] {
		if strings.HasPrefix(l, "From:") && !m.o.Sources {
			continue
		}
		its := bound(m.noteLine(l, x), i < together)
		for k := range its {
			its[k].again = &above
		}
		all = append(all, its...)
	}
	for i := range all {
		put, high := all[i].put, all[i].high
		all[i].with = all[i].with || i < 2
		all[i].put = func(p *Page, y float64) {
			p.line(margin+0.6, y, margin+0.6, y+high, 1.2)
			put(p, y)
		}
	}
	all[0].gap = 4
	f.put(all)
}

// together: so many paragraphs of a note are not torn from its head.
const together = 4

// signal is the signal word with the triangle that says it is no notice, and
// the signs in words.
func (m *maker) signal(n *bench.Note, word, signs string) block {
	f := &m.flow
	x := float64(margin + 4)
	at := x + heading.width(word) + 4
	if n.Signal > bench.Notice {
		at += 9
	}
	said := body.wrap(m.t(signs), margin+f.wide()-at)
	high := max(heading.height()+1, float64(len(said))*body.height()+1)
	return block{high: high, put: func(p *Page, y float64) {
		base := y + heading.height()/2 + heading.up()/2
		at := x
		if n.Signal > bench.Notice {
			p.Shapes = append(p.Shapes, Shape{Points: [][2]float64{{x, base}, {x + 3.5, base - 6}, {x + 7, base}}, Wide: thick})
			p.line(x+3.5, base-4.2, x+3.5, base-2, 0.8)
			p.line(x+3.5, base-1.5, x+3.5, base-0.8, 0.8)
			at += 9
		}
		p.text(at, base, heading, word)
		for i, l := range said {
			p.text(margin+f.wide()-widest(body, said), y+body.up()+0.9+float64(i)*body.height(), body, l)
		}
	}}
}

func widest(a letters, all []string) float64 {
	w := 0.0
	for _, l := range all {
		w = max(w, a.width(l))
	}
	return w
}

// noteLine is one line of a note, wrapped; what it is about is bold.
func (m *maker) noteLine(l string, x float64) []block {
	l = m.t(l)
	for _, lead := range leads {
		if rest, ok := strings.CutPrefix(l, lead); ok {
			return led(lead, strings.TrimSpace(rest), x, m.flow.wide()-(x-margin))
		}
	}
	return lines(body, x, body.wrap(l, m.flow.wide()-(x-margin)), nil)
}

// led is text behind a bold word on its first line.
func led(lead, rest string, x, wide float64) []block {
	indent := strong.width(lead) + body.width(" ")
	first := body.wrap(rest, wide-indent)
	if len(first) == 0 {
		return lines(strong, x, []string{lead}, nil)
	}
	then := body.wrap(strings.TrimSpace(strings.TrimPrefix(rest, first[0])), wide)
	text := append([]string{first[0]}, then...)
	out := lines(body, x, text, nil)
	out[0].put = func(p *Page, y float64) {
		base := y + body.up() + (body.height()-body.up()-body.down())/2
		p.text(x, base, strong, lead)
		p.text(x+indent, base, body, first[0])
	}
	return out
}
