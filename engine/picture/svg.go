package picture

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"
)

// SVG draws the blades as one file (SVG 1.1, W3C Recommendation of 16 August
// 2011). One user unit is 1 mm.
func (b Blades) SVG() ([]byte, error) {
	l, err := b.lay()
	if err != nil {
		return nil, err
	}
	var w bytes.Buffer
	fmt.Fprintf(&w, "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" width=\"%smm\" height=\"%smm\" viewBox=\"0 0 %s %s\" font-family=\"sans-serif\" fill=\"#000\">\n",
		number(l.width), number(l.height), number(l.width), number(l.height))
	fmt.Fprintf(&w, "<title>%s</title>\n", escaped(plain(b.Title)))
	fmt.Fprintf(&w, "<desc>%s</desc>\n", escaped(plain(strings.Join(append(append([]string{}, b.Under...), b.Notes...), " "))))
	w.WriteString(hatchings)
	fmt.Fprintf(&w, "<rect x=\"0\" y=\"0\" width=\"%s\" height=\"%s\" fill=\"#fff\"/>\n", number(l.width), number(l.height))
	for _, f := range l.frames {
		fmt.Fprintf(&w, "<rect %s fill=\"none\" stroke=\"#000\" stroke-width=\"0.4\"/>\n", f.attributes())
	}
	for _, n := range l.lines {
		dash, grey := "", "#000"
		if n.dashed {
			dash, grey = " stroke-dasharray=\"0.8 0.8\"", "#666"
		}
		fmt.Fprintf(&w, "<line x1=\"%s\" y1=\"%s\" x2=\"%s\" y2=\"%s\" stroke=\"%s\" stroke-width=\"%s\"%s/>\n",
			number(n.x1), number(n.y1), number(n.x2), number(n.y2), grey, number(n.width), dash)
	}
	for _, x := range l.boxes {
		x.write(&w)
	}
	for _, t := range l.labels {
		t.write(&w)
	}
	w.WriteString("</svg>\n")
	return w.Bytes(), nil
}

// hatchings: each mark has its own, so that none needs a colour.
const hatchings = `<defs>
<pattern id="over" width="1.6" height="1.6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><rect width="1.6" height="1.6" fill="#fff"/><line x1="0" y1="0" x2="0" y2="1.6" stroke="#000" stroke-width="0.7"/></pattern>
<pattern id="maybe" width="3" height="3" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><rect width="3" height="3" fill="#fff"/><line x1="0" y1="0" x2="0" y2="3" stroke="#000" stroke-width="0.4"/></pattern>
<pattern id="under" width="1.6" height="1.6" patternUnits="userSpaceOnUse"><rect width="1.6" height="1.6" fill="#fff"/><line x1="0" y1="0.8" x2="1.6" y2="0.8" stroke="#000" stroke-width="0.5"/></pattern>
<pattern id="dots" width="2" height="2" patternUnits="userSpaceOnUse"><rect width="2" height="2" fill="#fff"/><circle cx="1" cy="1" r="0.3" fill="#000"/></pattern>
</defs>
`

// sign is the shape a mark has beside its number.
type sign int

const (
	noSign sign = iota
	tipUp
	tipUpHollow
	tipDown
	tipDownHollow
)

// signWide is what a sign takes, with the gap behind it.
const signWide = 4.6

func signOf(m Mark) sign {
	switch m {
	case Over:
		return tipUp
	case MaybeOver:
		return tipUpHollow
	case Under, KnifeOff:
		return tipDown
	case MaybeUnder:
		return tipDownHollow
	}
	return noSign
}

func (x box) write(w *bytes.Buffer) {
	fill, width, dash := "#fff", "0.3", ""
	switch x.mark {
	case Over:
		fill, width = "url(#over)", "0.7"
	case MaybeOver:
		fill = "url(#maybe)"
	case KnifeOff, Under:
		fill, width = "url(#under)", "0.7"
	case MaybeUnder:
		fill = "url(#under)"
	case NoTarget:
		fill = "url(#dots)"
	case Unread:
		dash = " stroke-dasharray=\"1 1\""
	}
	fmt.Fprintf(w, "<rect %s fill=\"%s\" stroke=\"#000\" stroke-width=\"%s\"%s/>\n", x.at.attributes(), fill, width, dash)
	s := signOf(x.mark)
	if s == noSign {
		return
	}
	// Up and down by 1.6 about the middle of the box, 3.4 wide.
	cx, cy := x.at.x+0.6+1.9, x.at.y+x.at.h/2
	if x.blade < 0 {
		cx = x.at.x + x.at.w/2
	}
	fmt.Fprintf(w, "<rect %s fill=\"#fff\"/>\n", rect{cx - 2, cy - 2, 4, 4}.attributes())
	inside := "#000"
	if s == tipUpHollow || s == tipDownHollow {
		inside = "#fff"
	}
	up := 1.5
	if s == tipDown || s == tipDownHollow {
		up = -1.5
	}
	fmt.Fprintf(w, "<polygon points=\"%s,%s %s,%s %s,%s\" fill=\"%s\" stroke=\"#000\" stroke-width=\"0.4\"/>\n",
		number(cx), number(cy-up), number(cx-1.6), number(cy+up), number(cx+1.6), number(cy+up), inside)
}

func (t label) write(w *bytes.Buffer) {
	x := t.at.x
	switch t.anchor {
	case "middle":
		x += t.at.w / 2
	case "end":
		x += t.at.w
	}
	if t.plate {
		fmt.Fprintf(w, "<rect %s fill=\"#fff\"/>\n", t.ink().attributes())
	}
	weight := ""
	if t.bold {
		weight = " font-weight=\"bold\""
	}
	// Figures and capitals are about 0.72 of the size high: so they stand in the middle.
	fmt.Fprintf(w, "<text x=\"%s\" y=\"%s\" font-size=\"%s\" text-anchor=\"%s\"%s>%s</text>\n",
		number(x), number(t.at.y+t.at.h/2+0.36*t.size), number(t.size), t.anchor, weight, escaped(t.text))
}

// ink is where a text lies, at most.
func (t label) ink() rect {
	r := rect{t.at.x, t.at.y + t.at.h/2 - 0.5*t.size, width(t.text, t.size), t.size * 1.1}
	switch t.anchor {
	case "middle":
		r.x += (t.at.w - r.w) / 2
	case "end":
		r.x += t.at.w - r.w
	}
	return r
}

func (r rect) attributes() string {
	return "x=\"" + number(r.x) + "\" y=\"" + number(r.y) + "\" width=\"" + number(r.w) + "\" height=\"" + number(r.h) + "\""
}

// number writes mm to the thousandth.
func number(x float64) string {
	s := strconv.FormatFloat(x, 'f', 3, 64)
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	if s == "-0" {
		return "0"
	}
	return s
}

func escaped(text string) string {
	return strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", "\"", "&quot;", "'", "&#39;").Replace(text)
}
