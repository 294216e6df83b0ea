package bench

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// defaultWidth is in runes: a line that fits beside the work on a small screen.
const defaultWidth = 60

// firstSight is how many lines on what to do are shown before somebody asks
// for more.
const firstSight = 3

// Lines is the note for the bench: signal word and signs, hazard,
// consequence, what to do (three lines and how many more), equipment, first
// aid. Where it comes from is in Whole: nobody reads it with wet hands. Width 0
// means 60.
func (n Note) Lines(width int) []string { return n.lines(width, false) }

// Whole is Lines with every line on what to do, the figures and the addresses
// of the sources: for print and for who asks for more.
func (n Note) Whole(width int) []string { return n.lines(width, true) }

func (n Note) lines(width int, whole bool) []string {
	if width <= 0 {
		width = defaultWidth
	}
	p := page{width: width}
	head := n.Signal.String()
	if n.Signal > Notice {
		head = "⚠ " + head // a NOTICE has no triangle
	}
	for i, s := range n.Symbols {
		if i == 0 {
			head += "  "
		} else {
			head += ", "
		}
		head += s.Number + " " + s.Means
	}
	p.put("", head)
	p.put("", fmt.Sprintf("%s (%s)", n.Title, n.ID))
	for _, r := range n.Remarks {
		p.put("", r)
	}
	p.put("Hazard: ", n.Hazard)
	p.put("If not avoided: ", n.Consequence)
	most := len(n.Avoid)
	if !whole {
		most = min(most, firstSight)
	}
	for i, a := range n.Avoid[:most] {
		p.put(fmt.Sprintf("%d. ", i+1), a)
	}
	switch more := len(n.Avoid) - most; {
	case more == 1:
		p.put("", "more: 1 line")
	case more > 1:
		p.put("", fmt.Sprintf("more: %d lines", more))
	}
	p.put("Have: ", strings.Join(n.Equipment, "; "))
	p.put("First aid: ", n.FirstAid)
	if n.LabelWord != "" {
		p.put("On the product's label: ", n.LabelWord)
	}
	codes := append(append([]string(nil), n.H...), n.P...)
	if whole {
		p.put("", strings.Join(codes, "; "))
	} else {
		p.put("GHS codes: ", strings.Join(onlyCodes(codes), " "))
	}
	if whole {
		for _, f := range n.Figures {
			p.put("Figures: ", f)
		}
	}
	p.put("Shown for: ", strings.Join(n.Because, ", "))
	if whole {
		p.put("From: ", strings.Join(n.Sources, "; "))
	}
	return p.lines
}

// onlyCodes leaves "H225" of "H225: liquid and vapour catch fire very easily":
// the words are in Whole.
func onlyCodes(lines []string) []string {
	var out []string
	for _, l := range lines {
		code, _, _ := strings.Cut(l, ":")
		out = append(out, code)
	}
	return out
}

// OneLine is the reminder at every later use in an evening. It is not
// wrapped.
func (n Note) OneLine() string {
	sign := ""
	if len(n.Symbols) > 0 {
		sign = " " + n.Symbols[0].Number
	}
	return fmt.Sprintf("%s%s: %s (%s)", n.Signal, sign, n.Short, n.ID)
}

type page struct {
	width int
	lines []string
}

// put wraps text after its label, the following lines indented by two.
func (p *page) put(label, text string) {
	if text == "" {
		return
	}
	line := label
	for i, w := range strings.Fields(text) {
		if i == 0 {
			line += w
			continue
		}
		if utf8.RuneCountInString(line)+1+utf8.RuneCountInString(w) > p.width {
			p.lines = append(p.lines, line)
			line = "  " + w
			continue
		}
		line += " " + w
	}
	p.lines = append(p.lines, line)
}
