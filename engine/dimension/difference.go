package dimension

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"canewright/engine/quantity"
)

// Difference is one value that two sets of an instrument do not share.
type Difference struct {
	Of   string // "wire.first", "remedy close the tip"; "" for the set itself
	What string // "unit"; "" where Of as a whole is gone or new
	// As people read it; "" where there was, or is, nothing.
	Before, After string
}

// Gone and New report that Of as a whole went or came.
func (d Difference) Gone() bool { return d.What == "" && d.After == "" }

// New: see Gone.
func (d Difference) New() bool { return d.What == "" && d.Before == "" }

// Differences are all values in which another set differs from this one, in the
// order in which sets are shown. A dimension that says what it Was is compared
// with that one. Nothing that changes the Digest goes unsaid, but for the
// version, which is the reader's to compare.
func (s *Set) Differences(now *Set) []Difference {
	var c comparison
	c.one("", s.facts(), now.facts())
	before := named(s.Dimensions, func(d *Dimension) string { return d.Name }, dimensionFacts)
	after := named(now.Dimensions, func(d *Dimension) string { return d.Name }, dimensionFacts)
	for i := range now.Dimensions {
		d := &now.Dimensions[i]
		for j := range before {
			if slices.Contains(d.Was, before[j].name) && !has(after, before[j].name) && !has(before, d.Name) {
				c.add(Difference{Of: before[j].name, What: "name", Before: before[j].name, After: d.Name})
				before[j].name = d.Name
			}
		}
	}
	c.all("", before, after)
	c.all("symptom ", named(s.Symptoms, func(o *Symptom) string { return o.Name }, symptomFacts),
		named(now.Symptoms, func(o *Symptom) string { return o.Name }, symptomFacts))
	c.all("remedy ", named(s.Remedies, func(r *Remedy) string { return r.Name }, remedyFacts),
		named(now.Remedies, func(r *Remedy) string { return r.Name }, remedyFacts))
	c.outline(s.Outline, now.Outline)
	if len(c.out) == 0 && !bytes.Equal(s.unversioned(), now.unversioned()) {
		c.add(Difference{What: "something that is not shown", Before: "one thing", After: "another"})
	}
	return c.out
}

func (s *Set) unversioned() []byte {
	t := *s
	t.Major, t.Minor = 0, 0
	return t.Encode()
}

// fact is a value as it is shown.
type fact struct{ what, is string }

// thing has facts, and a name to find it by in the other set.
type thing struct {
	name  string
	facts []fact
}

func named[T any](all []T, name func(*T) string, facts func(*T) []fact) []thing {
	out := make([]thing, len(all))
	for i := range all {
		out[i] = thing{name(&all[i]), facts(&all[i])}
	}
	return out
}

func has(all []thing, name string) bool {
	return slices.ContainsFunc(all, func(t thing) bool { return t.name == name })
}

type comparison struct{ out []Difference }

func (c *comparison) add(d Difference) { c.out = append(c.out, d) }

// one compares what is in both. Both have the same facts in the same order.
func (c *comparison) one(of string, before, after []fact) {
	for i, b := range before {
		if a := after[i]; a.is != b.is {
			c.add(Difference{of, b.what, b.is, a.is})
		}
	}
}

// all compares two lists, name by name.
func (c *comparison) all(kind string, before, after []thing) {
	var left, stay []string
	for _, b := range before {
		if !has(after, b.name) {
			c.add(Difference{Of: kind + b.name, Before: b.name})
			continue
		}
		left = append(left, b.name)
	}
	for _, a := range after {
		i := slices.IndexFunc(before, func(b thing) bool { return b.name == a.name })
		if i < 0 {
			c.add(Difference{Of: kind + a.name, After: a.name})
			continue
		}
		stay = append(stay, a.name)
		c.one(kind+a.name, before[i].facts, a.facts)
	}
	if !slices.Equal(left, stay) {
		what := strings.TrimSpace(kind)
		if what == "" {
			what = "dimension"
		}
		c.add(Difference{"", "order of each " + what, strings.Join(left, ", "), strings.Join(stay, ", ")})
	}
}

func (c *comparison) outline(before, after *Outline) {
	const of = "outline"
	switch {
	case before == nil && after == nil:
		return
	case before == nil:
		c.add(Difference{Of: of, After: of})
		return
	case after == nil:
		c.add(Difference{Of: of, Before: of})
		return
	}
	c.one(of, []fact{{"from", before.From}, {"tip", tipText(before.Tip)}}, []fact{{"from", after.From}, {"tip", tipText(after.Tip)}})
	c.all("outline, usual value of ", named(before.Values, func(v *OutlineValue) string { return v.Name }, valueFacts),
		named(after.Values, func(v *OutlineValue) string { return v.Name }, valueFacts))
	for _, v := range after.Values {
		// A value that is written as before and drawn otherwise.
		i := slices.IndexFunc(before.Values, func(b OutlineValue) bool { return b.Name == v.Name && b.Text == v.Text && b.Q != v.Q })
		if i >= 0 {
			c.add(Difference{"outline, usual value of " + v.Name, "value in quanta", fmt.Sprint(before.Values[i].Q), fmt.Sprint(v.Q)})
		}
	}
	c.all("outline, part ", numbered(before.Parts, func(p *OutlinePart) string { return p.Title }, partFacts),
		numbered(after.Parts, func(p *OutlinePart) string { return p.Title }, partFacts))
	c.all("outline, mark ", numbered(before.Marks, func(m *OutlineMark) string { return m.Title }, markFacts),
		numbered(after.Marks, func(m *OutlineMark) string { return m.Title }, markFacts))
}

// numbered is named for things whose names may be used twice.
func numbered[T any](all []T, name func(*T) string, facts func(*T) []fact) []thing {
	out := named(all, name, facts)
	times := map[string]int{}
	for i := range out {
		n := out[i].name
		if times[n]++; times[n] > 1 {
			out[i].name = fmt.Sprintf("%s, number %d", n, times[n])
		}
	}
	return out
}

func (s *Set) facts() []fact {
	return []fact{{"name", s.ID}, {"title", s.Title}, {"about", s.About}}
}

func dimensionFacts(d *Dimension) []fact {
	return []fact{
		{"title", d.Title}, {"also called", listed(d.Aliases)}, {"called before", listed(d.Was)},
		{"kind", d.Kind.String()}, {"unit", d.Unit.Name()}, {"measured on", d.Subject}, {"from", d.Datum},
		{"across", yesNo(d.Across)}, {"condition", string(d.Condition)}, {"how", d.How}, {"tool", d.Tool},
		{"word for too much", d.More}, {"word for too little", d.Less},
		{"plausible", plausibleText(d.Plausible)}, {"usual", usualText(d.Plausible)},
		{"worked out", d.Formula}, {"stations", gridText(d.Grid)}, {"sources", sourcesText(d.Sources)},
	}
}

// plausibleText is the range as written, with what is counted with where that
// is written otherwise.
func plausibleText(t quantity.Tolerance) string {
	if t.Text == "" && !t.Low.Set && !t.High.Set {
		return ""
	}
	if l := t.Limits(); l != strings.ReplaceAll(t.Text, " .. ", " to ") {
		return fmt.Sprintf("%s (%s)", t.Text, l)
	}
	return t.Text
}

func usualText(t quantity.Tolerance) string {
	if !t.Nominal.Set {
		return ""
	}
	return quantity.Format(quantity.Value{Kind: t.Kind, Q: t.Nominal.Q}, t.Unit, max(t.Step, 1))
}

func gridText(g *Grid) string {
	if g == nil {
		return ""
	}
	return fmt.Sprintf("from %s; lanes %s; blades %s; in formulas %s", listed(g.From), listed(g.Lanes), listed(g.Blades), g.Short)
}

func sourcesText(all []Source) string {
	var out []string
	for _, s := range all {
		out = append(out, s.Says+": "+s.Credit())
	}
	return strings.Join(out, "; ")
}

func symptomFacts(s *Symptom) []fact { return []fact{{"words", s.Words}, {"also", listed(s.Also)}} }

func remedyFacts(r *Remedy) []fact {
	var expect []string
	for _, e := range r.Expect {
		expect = append(expect, e.Dimension+" "+string(e.Way))
	}
	return []fact{
		{"for", listed(r.Symptoms)}, {"when", strings.Join(r.When, "; ")}, {"because", r.Because}, {"do", r.Do},
		{"wire", r.Wire}, {"pressed from", r.Axis}, {"touches", string(r.Touches)}, {"takes off", listed(r.TakesOff)},
		{"expect", listed(expect)}, {"measure", listed(r.Measure)}, {"not the reed", yesNo(r.NotReed)}, {"sources", sourcesText(r.Sources)},
	}
}

func valueFacts(v *OutlineValue) []fact {
	return []fact{{"title", v.Title}, {"value", v.Text}, {"source", sourcesText([]Source{v.Source})}}
}

func partFacts(p *OutlinePart) []fact {
	var points []string
	for _, o := range p.Points {
		one := "at " + o.At + " wide " + o.Width
		if o.Deep != "" {
			one += " deep " + o.Deep
		}
		points = append(points, one)
	}
	return []fact{{"look", string(p.Look)}, {"smooth", yesNo(p.Smooth)}, {"points", strings.Join(points, "; ")}}
}

func markFacts(m *OutlineMark) []fact {
	return []fact{
		{"as", string(m.As)}, {"at", m.At}, {"in the middle at", m.Middle}, {"thick", m.Thick},
		{"turns", m.Turns}, {"covered", yesNo(m.Covered)},
	}
}

func tipText(t *OutlineTip) string {
	if t == nil {
		return ""
	}
	return "wide " + t.Width + "; opening " + t.Opening + "; thick " + t.Thickness
}

func listed(all []string) string { return strings.Join(all, ", ") }

func yesNo(b bool) string {
	if b {
		return "yes"
	}
	return "no"
}
