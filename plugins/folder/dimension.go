package folder

import (
	"fmt"
	"strings"

	"canewright/engine/diagnostic"
	"canewright/engine/dimension"
	"canewright/engine/quantity"
	"canewright/engine/tool"
	"canewright/engine/yamldoc"
	"canewright/plugins/sdk"
)

// mostDimensions is as many as dimension.Set.Check takes.
const mostDimensions = 500

func (l *loader) dimensions(n *yamldoc.Node) {
	for _, it := range l.each(n, "dimensions", "dimension: wire.first", mostDimensions) {
		if l.list.Len() > diagnostic.Most {
			return // enough to mend
		}
		before := l.list.Len()
		d, s, e := l.dimension(it)
		l.out.Set.Dimensions = append(l.out.Set.Dimensions, d)
		l.out.Served.Dimensions = append(l.out.Served.Dimensions, s)
		l.dims = append(l.dims, e)
		if l.list.Len() == before {
			l.alone(d, &e)
		}
	}
	l.unique()
}

// dimension reads one, in the form that is served and the one that is checked.
func (l *loader) dimension(n *yamldoc.Node) (dimension.Dimension, sdk.Dimension, entry) {
	e := entry{keys: map[string]diagnostic.Span{}}
	texts := map[string]diagnostic.Text{}
	var s sdk.Dimension
	var sources []source
	var plausibleInBrackets bool
	text := func(name string) yamldoc.Field {
		return want(name, func(_, v *yamldoc.Node) {
			texts[name] = l.word(v, name)
			e.note(name, texts[name].Whole)
		})
	}
	needed := func(name string) yamldoc.Field {
		f := text(name)
		f.Required = true
		return f
	}
	n.Fields("a dimension", l.list,
		need("dimension", func(_, v *yamldoc.Node) { e.name = l.word(v, "dimension") }),
		needed("title"), needed("kind"), text("unit"), text("subject"), text("datum"), text("condition"),
		text("how"), text("tool"), needed("more"), needed("less"),
		want("plausible", func(_, v *yamldoc.Node) {
			texts["plausible"], plausibleInBrackets = l.word(v, "plausible"), v.Flow()
			e.note("plausible", texts["plausible"].Whole)
		}),
		text("formula"),
		want("aliases", func(k, v *yamldoc.Node) {
			s.Aliases, e.keys["aliases"] = written(l.words(v, "an alias")), k.Span()
		}),
		want("was", func(k, v *yamldoc.Node) { s.Was, e.keys["was"] = written(l.words(v, "an old name")), k.Span() }),
		want("across", func(_, v *yamldoc.Node) { s.Across = l.yes(v, "across") }),
		want("source", func(k, v *yamldoc.Node) { sources, e.keys["source"] = l.sources(v), k.Span() }),
		want("grid", func(k, v *yamldoc.Node) { s.Grid, e.keys["grid"] = l.grid(v), k.Span() }),
	)
	if e.name.Whole.Source == nil {
		e.name.Whole = n.Span()
	}
	s.Name, s.Title = e.name.Value, texts["title"].Value
	s.Kind, s.Unit, s.Subject = texts["kind"].Value, texts["unit"].Value, texts["subject"].Value
	s.Datum, s.Condition = texts["datum"].Value, texts["condition"].Value
	s.How, s.Tool = texts["how"].Value, texts["tool"].Value
	s.More, s.Less = texts["more"].Value, texts["less"].Value
	s.Plausible, s.Formula = texts["plausible"].Value, texts["formula"].Value
	if f := texts["formula"]; f.Whole.Source != nil {
		e.formulas = []diagnostic.Text{f}
		if strings.TrimSpace(s.Formula) == "" {
			l.list.Hinted("dimension/formula", f.Whole, "write a formula over other dimensions: wire.first - wire.second", "the formula is empty")
		}
	}
	l.tool(texts["tool"])
	d := l.checkedForm(&s, &e, texts, plausibleInBrackets)
	for _, one := range sources {
		w := one.graded(says(&s))
		s.Sources = append(s.Sources, sdk.Source{Says: w.Says, Who: w.Who, Grade: sdk.Grade(w.Grade)})
		d.Sources = append(d.Sources, w)
	}
	return d, s, e
}

// tool warns of a word that is not in the list. It is no error: a file that was
// added before is read as it was, and a player may read with what nobody knows.
func (l *loader) tool(t diagnostic.Text) {
	word := strings.TrimSpace(t.Value)
	if word == "" {
		return
	}
	if l.tools == nil {
		l.tools = tool.Standard()
	}
	if _, ok := l.tools.Tool(word); ok {
		return
	}
	d := diagnostic.Diagnostic{Code: "dimension/tool", Severity: diagnostic.Warning, Span: t.Whole,
		Message: fmt.Sprintf("%q is not in the tool list", clip(word)), Hint: "its step and its uncertainty are not known then: the last digit typed is the step"}
	if n := diagnostic.Near(strings.ToLower(word), l.tools.ToolNames()); n != "" {
		d.Hint = "did you mean " + n + "?"
	}
	l.list.Add(d)
}

// checkedForm turns words into the engine's types; what cannot be turned is
// reported.
func (l *loader) checkedForm(s *sdk.Dimension, e *entry, texts map[string]diagnostic.Text, brackets bool) dimension.Dimension {
	d := dimension.Dimension{
		Name: s.Name, Title: s.Title, Aliases: s.Aliases, Was: s.Was, Subject: s.Subject, Datum: s.Datum, Across: s.Across,
		Condition: dimension.Condition(s.Condition), How: s.How, Tool: s.Tool, More: s.More, Less: s.Less, Formula: s.Formula,
	}
	if d.Subject == "" {
		d.Subject = "piece"
	}
	if d.Condition == "" {
		d.Condition = dimension.Either
	}
	if g := s.Grid; g != nil {
		d.Grid = &dimension.Grid{From: g.From, Lanes: g.Lanes, Blades: g.Blades, Short: g.Short}
	}
	kind := texts["kind"]
	var ok bool
	if d.Kind, ok = quantity.KindNamed(s.Kind); !ok {
		if kind.Whole.Source != nil {
			l.list.Hinted("dimension/kind", kind.Whole, nearOr(s.Kind, quantity.KindNames(), "it can be length, mass, force, angle, time, temperature, humidity, frequency, pitch, ratio, count or score"), "%q is no kind", clip(s.Kind))
		}
		return d
	}
	d.Unit = quantity.Bare(d.Kind)
	if s.Unit != "" {
		if d.Unit, ok = quantity.UnitNamed(s.Unit); !ok {
			l.list.Hinted("dimension/unit", texts["unit"].Whole, unitHint(d.Kind), "%q is no unit", clip(s.Unit))
			return d
		}
	} else if d.Unit.IsZero() && d.Kind != quantity.Pitch {
		l.list.Hinted("dimension/unit", e.name.Whole, "write unit: "+strings.Join(unitNames(d.Kind), ", or "), "%s does not say what a bare number of it is in", clip(s.Name))
		return d
	}
	if s.Plausible != "" {
		t, err := quantity.ParseTolerance(s.Plausible, quantity.Style{Want: d.Kind, Bare: d.Unit, Point: brackets})
		if err != nil {
			l.fault("instrument/range", texts["plausible"], err, "write two limits: 1.0 .. 1.6 mm")
			return d
		}
		d.Plausible = t
	}
	return d
}

func unitNames(k quantity.Kind) []string {
	var names []string
	for _, u := range quantity.UnitsOf(k) {
		names = append(names, u.Name())
	}
	return names
}

func unitHint(k quantity.Kind) string {
	names := unitNames(k)
	if len(names) == 0 {
		return "a " + k.String() + " is written without a unit: leave this line out"
	}
	return "a " + k.String() + " can be in " + strings.Join(names, ", ")
}

// nearOr is what was meant, or what there is.
func nearOr(word string, known []string, all string) string {
	if n := diagnostic.Near(word, known); n != "" {
		return "did you mean " + n + "?"
	}
	return all
}

// says is what a source that gives only its grade stands for.
func says(s *sdk.Dimension) string {
	for _, t := range []string{s.Formula, s.Plausible, s.How} {
		if strings.TrimSpace(t) != "" {
			return t
		}
	}
	return s.Title
}

func (l *loader) grid(n *yamldoc.Node) *sdk.Grid {
	g := &sdk.Grid{}
	list := func(into *[]string, what string) func(_, v *yamldoc.Node) {
		return func(_, v *yamldoc.Node) {
			if w := strings.Fields(v.Value()); v.Shape() == yamldoc.Scalar && len(w) > 1 {
				l.list.Hinted("instrument/wrong-shape", v.Span(), "write ["+strings.Join(w, ", ")+"]", "this is one word here, not several")
			}
			*into = written(l.words(v, what))
		}
	}
	n.Fields("a grid", l.list,
		need("from", list(&g.From, "a place distances count from")),
		need("lanes", list(&g.Lanes, "a lane")),
		need("blades", list(&g.Blades, "a blade")),
		need("short", func(_, v *yamldoc.Node) { g.Short = l.word(v, "short").Value }))
	return g
}

// source is who says so: one text, or what is said and who says it.
type source struct{ says, who string }

func (l *loader) sources(n *yamldoc.Node) []source {
	items := []*yamldoc.Node{n}
	if n.Shape() == yamldoc.List {
		items = n.Items()
	}
	var out []source
	for _, it := range items {
		if it.Shape() == yamldoc.Scalar {
			out = append(out, source{says: it.Value()})
			continue
		}
		if it.Shape() != yamldoc.Map {
			l.list.Hinted("instrument/wrong-shape", it.Span(), "write common practice, from memory, or {says: …, who: …}", "this is no source")
			continue
		}
		var s source
		it.Fields("a source", l.list,
			need("says", func(_, v *yamldoc.Node) { s.says = l.word(v, "says").Value }),
			need("who", func(_, v *yamldoc.Node) { s.who = l.word(v, "who").Value }))
		out = append(out, s)
	}
	return out
}

// graded: a grade alone stands for what the dimension says; who may be a
// grade; another text alone is what somebody was told or remembers.
func (s source) graded(usual string) dimension.Source {
	known := map[string]bool{string(dimension.CommonPractice): true, string(dimension.FromMemory): true, string(dimension.Worked): true}
	switch {
	case known[s.who]:
		return dimension.Source{Says: s.says, Grade: dimension.Grade(s.who)}
	case s.who != "":
		return dimension.Source{Says: s.says, Who: s.who, Grade: dimension.Published}
	case known[s.says]:
		return dimension.Source{Says: usual, Grade: dimension.Grade(s.says)}
	}
	return dimension.Source{Says: s.says, Grade: dimension.FromMemory}
}
