package folder

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"slices"
	"strings"

	"canewright/engine/diagnostic"
	"canewright/engine/dimension"
	"canewright/engine/yamldoc"
	"canewright/plugins/sdk"
)

// readSymptoms reads a list of texts, or a map of words to other ways of
// saying them.
func (l *loader) readSymptoms(n *yamldoc.Node) {
	add := func(words diagnostic.Text, also []diagnostic.Text) {
		set := l.out.Set
		for _, t := range append([]diagnostic.Text{words}, also...) {
			if i, taken := dimension.FindSymptom(set.Symptoms, t.Value); taken {
				l.list.Add(diagnostic.Diagnostic{Code: "dimension/repeated", Span: t.Whole, Message: fmt.Sprintf("%q means %q already", clip(t.Value), clip(set.Symptoms[i].Words)),
					Hint: "leave it out, or give it other words", Related: []diagnostic.Related{{Message: "the first one", Span: l.symptoms[i].Whole}}})
				return
			}
		}
		s := dimension.Symptom{Words: strings.Join(strings.Fields(words.Value), " "), Also: written(also)}
		s.Name = symptomName(s.Words)
		if _, taken := dimension.FindSymptom(set.Symptoms, s.Name); taken {
			s.Name += "-" + digest(s.Words)
		}
		set.Symptoms = append(set.Symptoms, s)
		l.symptoms = append(l.symptoms, words)
	}
	if n.Shape() != yamldoc.Map {
		for _, t := range l.words(n, "a symptom") {
			add(t, nil)
		}
	}
	for _, e := range n.Entries() {
		var also []diagnostic.Text
		if e.Value.Shape() != yamldoc.Empty {
			also = l.words(e.Value, "another way of saying it")
		}
		add(e.Key.Text(), also)
	}
	if set := l.out.Set; len(set.Symptoms) > dimension.MostSymptoms {
		l.list.Errorf("dimension/size", l.symptoms[dimension.MostSymptoms].Whole, "it has %d symptoms, at most %d are read", len(set.Symptoms), dimension.MostSymptoms)
	}
	for _, s := range l.out.Set.Symptoms {
		l.out.Served.Symptoms = append(l.out.Served.Symptoms, sdk.Symptom{Name: s.Name, Words: s.Words, Also: s.Also})
	}
}

// symptomName makes "low-notes-stop" of "Low notes stop". Words in letters a
// name cannot have get one from their bytes.
func symptomName(words string) string {
	name := strings.Join(strings.FieldsFunc(strings.ToLower(words), func(r rune) bool {
		return (r < 'a' || r > 'z') && (r < '0' || r > '9')
	}), "-")
	if name == "" || len(name) > 50 || strings.ContainsFunc(words, func(r rune) bool { return r > 0x7f }) {
		return "symptom-" + digest(words)
	}
	return name
}

func digest(s string) string {
	sum := sha256.Sum256([]byte(s))
	return hex.EncodeToString(sum[:4])
}

func (l *loader) readRemedies(n *yamldoc.Node) {
	names := map[string]diagnostic.Span{}
	for _, it := range l.each(n, "remedies", "remedy: round the second wire", dimension.MostRemedies) {
		if l.list.Len() > diagnostic.Most {
			return
		}
		r, e := l.remedy(it)
		if at, twice := names[strings.ToLower(r.Name)]; twice {
			l.list.Add(diagnostic.Diagnostic{Code: "dimension/repeated", Span: e.name.Whole, Message: fmt.Sprintf("two remedies are called %q", clip(r.Name)),
				Hint: "give each a name of its own", Related: []diagnostic.Related{{Message: "the first one", Span: at}}})
		}
		names[strings.ToLower(r.Name)] = e.name.Whole
		l.out.Set.Remedies = append(l.out.Set.Remedies, r)
		l.remedies = append(l.remedies, e)
		l.out.Served.Remedies = append(l.out.Served.Remedies, served(r))
	}
}

func served(r dimension.Remedy) sdk.Remedy {
	s := sdk.Remedy{
		Name: r.Name, Symptoms: r.Symptoms, When: r.When, Because: r.Because, Do: r.Do, Wire: r.Wire, Axis: r.Axis,
		Touches: sdk.Touches(r.Touches), TakesOff: r.TakesOff, Measure: r.Measure, NotReed: r.NotReed,
	}
	for _, e := range r.Expect {
		s.Expect = append(s.Expect, sdk.Effect{Dimension: e.Dimension, Way: sdk.Way(e.Way)})
	}
	for _, w := range r.Sources {
		s.Sources = append(s.Sources, sdk.Source{Says: w.Says, Who: w.Who, Grade: sdk.Grade(w.Grade)})
	}
	return s
}

// remedy reads one, in the words of recipes.
func (l *loader) remedy(n *yamldoc.Node) (dimension.Remedy, entry) {
	e := entry{keys: map[string]diagnostic.Span{}}
	texts := map[string]diagnostic.Text{}
	lists := map[string][]diagnostic.Text{}
	var r dimension.Remedy
	var sources []source
	text := func(name string) func(_, v *yamldoc.Node) {
		return func(_, v *yamldoc.Node) {
			texts[name] = l.word(v, name)
			e.note(name, texts[name].Whole)
		}
	}
	list := func(name, what string) yamldoc.Field {
		return want(name, func(k, v *yamldoc.Node) { lists[name], e.keys[name] = l.words(v, what), k.Span() })
	}
	n.Fields("a remedy", l.list,
		need("remedy", func(_, v *yamldoc.Node) { e.name = l.word(v, "remedy") }),
		list("for", "a symptom"), list("when", "a formula"),
		need("because", text("because")), need("do", text("do")),
		want("wire", text("wire")), want("from", text("from")), need("touches", text("touches")),
		list("takes off", "a dimension"), list("measure", "a dimension"),
		want("not the reed", func(_, v *yamldoc.Node) { r.NotReed = l.yes(v, "not the reed") }),
		want("expect", func(k, v *yamldoc.Node) {
			if v.Shape() != yamldoc.Map {
				l.list.Hinted("instrument/wrong-shape", v.Span(), "write tip.opening: less", "expect is not a list of names and more or less")
				return
			}
			for _, x := range v.Entries() {
				r.Expect = append(r.Expect, l.effect(x.Key.Text(), l.word(x.Value, "expect")))
			}
		}),
		want("source", func(k, v *yamldoc.Node) { sources, e.keys["source"] = l.sources(v), k.Span() }),
	)
	if e.name.Whole.Source == nil {
		e.name.Whole = n.Span()
	}
	r.Name = strings.Join(strings.Fields(e.name.Value), " ")
	r.Because, r.Do = texts["because"].Value, texts["do"].Value
	r.Wire, r.Axis, r.Touches = texts["wire"].Value, texts["from"].Value, dimension.Touches(texts["touches"].Value)
	for _, t := range lists["for"] {
		i, ok := dimension.FindSymptom(l.out.Set.Symptoms, t.Value)
		if !ok {
			l.list.Hinted("dimension/symptom", t.Whole, nearOr(t.Value, l.symptomWords(), "write it under symptoms: to make it one"), "%q is no symptom", clip(t.Value))
			continue
		}
		r.Symptoms = append(r.Symptoms, l.out.Set.Symptoms[i].Name)
	}
	for _, t := range lists["when"] {
		r.When = append(r.When, t.Value)
	}
	e.formulas = lists["when"]
	r.TakesOff, r.Measure = l.parts(lists["takes off"]), l.parts(lists["measure"])
	for _, s := range sources {
		r.Sources = append(r.Sources, s.graded(r.Do))
	}
	l.step(&r, &e)
	return r, e
}

// step checks the words that have a table.
func (l *loader) step(r *dimension.Remedy, e *entry) {
	var touches []string
	for _, t := range dimension.TouchesInOrder() {
		touches = append(touches, string(t))
	}
	if _, written := e.keys["touches"]; written && r.Touches.Order() < 0 {
		l.list.Hinted("dimension/remedy", e.at("touches"), "it can be "+strings.Join(touches, ", "), "%q is nothing a remedy can touch", clip(string(r.Touches)))
	}
	if r.Wire != "" && !slices.Contains(dimension.Wires(), r.Wire) {
		l.list.Hinted("dimension/remedy", e.at("wire"), "it can be "+strings.Join(dimension.Wires(), ", ")+"; the first is next to the blade", "%q is no wire", clip(r.Wire))
	}
	if r.Axis != "" && !slices.Contains(dimension.Axes(), r.Axis) {
		l.list.Hinted("dimension/remedy", e.at("from"), "it can be "+strings.Join(dimension.Axes(), ", "), "%q does not say from where a wire is pressed", clip(r.Axis))
	}
	if r.Axis != "" && r.Wire == "" {
		l.list.Hinted("dimension/remedy", e.at("from"), "write wire: "+strings.Join(dimension.Wires(), ", "), "this says from where a wire is pressed and not which")
	}
	if r.Touches.TakesCane() && len(r.TakesOff) == 0 {
		l.list.Hinted("dimension/remedy", e.at("touches"), "write takes off: and the dimensions it makes smaller", "this remedy takes cane and does not say where")
	}
}

func (l *loader) effect(name, way diagnostic.Text) dimension.Effect {
	l.part(name)
	if w := dimension.Way(way.Value); w != dimension.More && w != dimension.Less && way.Whole.Source != nil {
		l.list.Hinted("dimension/remedy", way.Whole, "write more or less", "%q does not say where it goes", clip(way.Value))
	}
	return dimension.Effect{Dimension: name.Value, Way: dimension.Way(way.Value)}
}

func (l *loader) parts(all []diagnostic.Text) []string {
	for _, t := range all {
		l.part(t)
	}
	return written(all)
}

// part reports a text that is neither a dimension nor a lane of one.
func (l *loader) part(t diagnostic.Text) {
	if _, _, ok := l.out.Set.Part(t.Value); ok || strings.TrimSpace(t.Value) == "" {
		return
	}
	hint := "write it under dimensions: to make it one"
	if n := l.out.Set.Near(t.Value); n != "" {
		hint = "did you mean " + n + "?"
	}
	l.list.Hinted("dimension/remedy", t.Whole, hint, "%q is no dimension of this instrument", clip(t.Value))
}

func (l *loader) symptomWords() []string {
	var out []string
	for _, s := range l.out.Set.Symptoms {
		out = append(append(out, s.Words), s.Also...)
	}
	return out
}
