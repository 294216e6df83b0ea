package picture

import (
	"bytes"
	"fmt"
	"strings"
)

// SVG draws the reed as one file (SVG 1.1, W3C Recommendation of 16 August
// 2011). One user unit is 1 mm on paper.
func (r Reed) SVG() ([]byte, error) {
	d, err := r.lay()
	if err != nil {
		return nil, err
	}
	return d.svg(r.Title, append(append([]string{}, r.Under...), r.Notes...)), nil
}

// svg writes the drawing; texts for readers of the file come before it.
func (d *drawing) svg(title string, says []string) []byte {
	var w bytes.Buffer
	fmt.Fprintf(&w, "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" width=\"%smm\" height=\"%smm\" viewBox=\"0 0 %s %s\" font-family=\"sans-serif\" fill=\"#000\">\n",
		number(d.width), number(d.height), number(d.width), number(d.height))
	fmt.Fprintf(&w, "<title>%s</title>\n", escaped(plain(title)))
	fmt.Fprintf(&w, "<desc>%s</desc>\n", escaped(plain(strings.Join(says, " "))))
	fmt.Fprintf(&w, "<rect x=\"0\" y=\"0\" width=\"%s\" height=\"%s\" fill=\"#fff\"/>\n", number(d.width), number(d.height))
	for i := range d.shapes {
		d.shapes[i].write(&w)
	}
	for _, t := range d.labels {
		t.write(&w)
	}
	w.WriteString("</svg>\n")
	return w.Bytes()
}

func (s *shape) write(w *bytes.Buffer) {
	w.WriteString("<path d=\"")
	for i, p := range s.points {
		letter := "L"
		if i == 0 {
			letter = "M"
		}
		w.WriteString(letter + number(p.x) + " " + number(p.y))
	}
	if s.closed {
		w.WriteString("Z")
	}
	fmt.Fprintf(w, "\" fill=\"%s\"", [...]string{none: "none", white: "#fff", black: "#000"}[s.fill])
	if s.width > 0 {
		fmt.Fprintf(w, " stroke=\"#000\" stroke-width=\"%s\" stroke-linejoin=\"round\"", number(s.width))
	}
	if s.dashed {
		fmt.Fprintf(w, " stroke-dasharray=\"%s %s\"", number(dash), number(dash))
	}
	if s.name == "" {
		w.WriteString("/>\n")
		return
	}
	fmt.Fprintf(w, "><title>%s</title></path>\n", escaped(plain(s.name)))
}
