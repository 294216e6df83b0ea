package dimension

import (
	"errors"
	"fmt"
	"slices"

	"canewright/engine/diagnostic"
	"canewright/engine/formula"
	"canewright/engine/quantity"
)

// The bassoon's outline has 3 parts, 6 marks and some 50 formulas.
const (
	mostParts    = 30
	mostPoints   = 60
	mostMarks    = 60
	mostValues   = 100
	mostOfDrawn  = 400 // formulas of an outline: each costs time to compile
	longestTitle = 60
)

// outline checks how the reed is drawn. Formulas are compiled only where the
// dimensions hold.
func (c *checker) outline(sound bool) {
	o := c.set.Outline
	if o == nil {
		return
	}
	before := c.list.Len()
	if len(o.Parts) == 0 || len(o.Parts) > mostParts || len(o.Marks) > mostMarks || len(o.Values) > mostValues {
		c.errorf("dimension/outline", "its outline has %d parts, %d marks and %d values; it needs 1 to %d parts and has at most %d marks and %d values", len(o.Parts), len(o.Marks), len(o.Values), mostParts, mostMarks, mostValues)
		return
	}
	c.line("the outline", "datum", o.From, longestTitle)
	for i := range o.Parts {
		p := &o.Parts[i]
		c.line("part "+ordinal(i)+" of the outline", "title", p.Title, longestTitle)
		if len(p.Points) < 2 || len(p.Points) > mostPoints {
			c.errorf("dimension/outline", "the outline's %s has %d points; it needs 2 to %d", clip(p.Title), len(p.Points), mostPoints)
			return
		}
		deep := 0
		for _, at := range p.Points {
			if at.Deep != "" {
				deep++
			}
		}
		if deep != 0 && deep != len(p.Points) {
			c.errorf("dimension/outline", "the outline's %s is deep at %d of %d points; say it for all or none", clip(p.Title), deep, len(p.Points))
		}
		c.drawnAs("the outline's "+clip(p.Title), "looks as", string(p.Look), words(Looks()))
	}
	for i := range o.Marks {
		m := &o.Marks[i]
		c.line("mark "+ordinal(i)+" of the outline", "title", m.Title, longestTitle)
		c.drawnAs("the outline's "+clip(m.Title), "is drawn as", string(m.As), words(MarksAs()))
		if (m.As == MarkWire || m.As == MarkBand) && m.Thick == "" {
			c.errorf("dimension/outline", "the outline's %s is a %s and does not say how thick", clip(m.Title), m.As)
		}
	}
	c.outlineValues(o)
	n := 0
	o.formulas(func(string, string, bool) { n++ })
	if n > mostOfDrawn {
		c.errorf("dimension/size", "its outline has %d formulas, at most %d are read", n, mostOfDrawn)
		return
	}
	if !sound || c.list.Len() != before {
		return
	}
	c.outlineFormulas(o)
	if c.list.Len() == before {
		_, err := c.set.Figure(nil)
		if _, numbers := errors.AsType[*NoNumbersError](err); err != nil && !numbers {
			c.errorf("dimension/outline", "its outline cannot be drawn: %v", err)
		}
	}
}

// drawnAs warns of a word that is not known: it is drawn plain.
func (c *checker) drawnAs(of, what, word string, known []string) {
	c.text(of, "look", word, true)
	if word != "" && !slices.Contains(known, word) {
		c.list.Add(diagnostic.Diagnostic{Code: "dimension/outline", Severity: diagnostic.Warning, Span: c.at,
			Message: fmt.Sprintf("%s %s %q; it can be %q", of, what, clip(word), known)})
	}
}

func (c *checker) outlineValues(o *Outline) {
	seen := map[string]bool{}
	for _, v := range o.Values {
		of := "the outline's value for " + clip(v.Name)
		if !wellName.MatchString(v.Name) || len(v.Name) > longestName {
			c.list.Hinted("dimension/outline", c.at, "lower case words joined by dots, such as wire.first", "%q is not a name for a value of the outline", clip(v.Name))
			continue
		}
		if seen[v.Name] {
			c.errorf("dimension/repeated", "the outline has two values for %s", clip(v.Name))
		}
		seen[v.Name] = true
		c.line(of, "text", v.Text, longestTitle)
		c.sources(of, &Dimension{Sources: []Source{v.Source}})
		d, ok := c.set.Find(v.Name)
		switch {
		case !ok:
			c.line(of, "title", v.Title, longestTitle)
			if v.Q < -largestDrawn || v.Q > largestDrawn {
				c.errorf("dimension/outline", "%s is too large to be drawn", of)
			}
		case d.Name != v.Name:
			c.errorf("dimension/repeated", "%s is another name of %s", of, clip(d.Name))
		case d.Formula != "" || d.Grid != nil:
			c.errorf("dimension/outline", "%s is of a dimension that is worked out or has stations", of)
		case d.Plausible.Kind == d.Kind && d.Plausible.Side(v.Q) != quantity.Inside:
			c.errorf("dimension/outline", "%s, %s, is %s the plausible range %s", of, clip(v.Text), d.Plausible.Side(v.Q), d.Plausible.Limits())
		}
	}
}

func (c *checker) outlineFormulas(o *Outline) {
	o.formulas(func(of, text string, count bool) {
		if c.list.Len() > enoughSaid {
			return
		}
		f, found := formula.Compile(diagnostic.Plain(of, text), outlineScope{scope{c.set}})
		c.list.Append(found)
		if f == nil {
			return
		}
		switch k := f.Kind(); {
		case f.Truth():
			c.errorf("dimension/outline", "%s: %q is a yes or no, not a number", of, clip(text))
		case count && !k.IsPlain():
			c.errorf("dimension/outline", "%s: %q is a %s, not a count", of, clip(text), k)
		case !count && k != quantity.Length:
			c.errorf("dimension/outline", "%s: %q is a %s, not a length", of, clip(text), k)
		}
	})
}

func words[T ~string](all []T) []string {
	var out []string
	for _, w := range all {
		out = append(out, string(w))
	}
	return out
}
