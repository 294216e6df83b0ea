package paper

import (
	"bytes"
	"fmt"
	"html"
	"slices"
	"strconv"
	"strings"

	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// SVG draws one page as a file that needs no fonts: letters are outlines, and
// every text stands beside them in words. A unit of its view box is a mm.
func SVG(p *Page, title string) ([]byte, error) {
	var b bytes.Buffer
	w, h := decimal(p.Width), decimal(p.Height)
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" width="%smm" height="%smm" viewBox="0 0 %s %s" lang="en">`+"\n", w, h, w, h)
	fmt.Fprintf(&b, "<title>%s</title>\n", html.EscapeString(title))
	if err := glyphs(&b, p); err != nil {
		return nil, err
	}
	fmt.Fprintf(&b, `<rect width="%s" height="%s" fill="white"/>`+"\n", w, h)
	b.WriteString(`<g fill="none" stroke="black">` + "\n")
	for _, s := range p.Shapes {
		var d strings.Builder
		for i, at := range s.Points {
			step := "L"
			if i == 0 {
				step = "M"
			}
			d.WriteString(step + decimal(at[0]) + " " + decimal(at[1]))
		}
		look := `stroke-width="` + decimal(s.Wide) + `"`
		if s.Full {
			look = `fill="black" stroke="none"`
		}
		fmt.Fprintf(&b, `<path d="%sZ" %s/>`+"\n", d.String(), look)
	}
	for _, x := range p.Boxes {
		fmt.Fprintf(&b, `<rect x="%s" y="%s" width="%s" height="%s" stroke-width="%s"/>`+"\n", decimal(x.X), decimal(x.Y), decimal(x.W), decimal(x.H), decimal(ruled))
	}
	for _, l := range p.Lines {
		dash := ""
		if l.Dashed {
			dash = ` stroke-dasharray="1.5 1"`
		}
		fmt.Fprintf(&b, `<path d="M%s %sL%s %s" stroke-width="%s"%s/>`+"\n", decimal(l.X1), decimal(l.Y1), decimal(l.X2), decimal(l.Y2), decimal(l.Wide), dash)
	}
	b.WriteString("</g>\n")
	for _, t := range p.Texts {
		size := t.Points * perPoint
		fmt.Fprintf(&b, `<g role="img" aria-label="%s" transform="translate(%s %s) scale(%s)">`, html.EscapeString(t.Text), decimal(t.X), decimal(t.Y), decimal(size))
		f, at := faceOf(t.Bold), 0
		for _, r := range t.Text {
			if r != ' ' {
				fmt.Fprintf(&b, `<use href="#%s" x="%s"/>`, glyphID(t.Bold, r), decimal(float64(at)/1000))
			}
			at += max(0, f.advance(r))
		}
		b.WriteString("</g>\n")
	}
	b.WriteString("</svg>\n")
	return b.Bytes(), nil
}

func glyphID(bold bool, r rune) string {
	weight := "r"
	if bold {
		weight = "b"
	}
	return weight + strconv.FormatInt(int64(r), 16)
}

// glyphs writes the outline of every letter of the page once, one unit tall.
func glyphs(b *bytes.Buffer, p *Page) error {
	used := [2][]rune{}
	for _, t := range p.Texts {
		k := 0
		if t.Bold {
			k = 1
		}
		for _, r := range t.Text {
			if at, known := slices.BinarySearch(used[k], r); !known && r != ' ' {
				used[k] = slices.Insert(used[k], at, r)
			}
		}
	}
	b.WriteString("<defs>\n")
	for k, all := range used {
		for _, r := range all {
			d, err := faceOf(k == 1).outline(r)
			if err != nil {
				return fmt.Errorf("draw the sheet: the letter %q: %w", r, err)
			}
			fmt.Fprintf(b, `<path id="%s" d="%s"/>`+"\n", glyphID(k == 1, r), d)
		}
	}
	b.WriteString("</defs>\n")
	return nil
}

// outline of a letter as an SVG path; its size is 1 and it stands on 0.
func (f *face) outline(r rune) (string, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	g, err := f.font.GlyphIndex(&f.buf, r)
	if err != nil {
		return "", err
	}
	em := f.font.UnitsPerEm()
	all, err := f.font.LoadGlyph(&f.buf, g, fixed.I(int(em)), nil)
	if err != nil {
		return "", err
	}
	var d strings.Builder
	for _, s := range all {
		word, n := "L", 1
		switch s.Op {
		case sfnt.SegmentOpMoveTo:
			word = "M"
		case sfnt.SegmentOpQuadTo:
			word, n = "Q", 2
		case sfnt.SegmentOpCubeTo:
			word, n = "C", 3
		}
		d.WriteString(word)
		for i := range n {
			at := s.Args[i]
			d.WriteString(decimal(float64(at.X)/64/float64(em)) + " " + decimal(float64(at.Y)/64/float64(em)) + " ")
		}
	}
	return strings.TrimSpace(d.String()), nil
}

// decimal writes a length to the ten-thousandth, without what says nothing.
func decimal(x float64) string {
	s := strings.TrimRight(strings.TrimRight(strconv.FormatFloat(x, 'f', 4, 64), "0"), ".")
	if s == "-0" || s == "" {
		return "0"
	}
	return s
}
