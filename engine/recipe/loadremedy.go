package recipe

import (
	"canewright/engine/diagnostic"
	"canewright/engine/yamldoc"
)

// symptom is one entry under "symptoms": the words, and how else it is said.
type symptom struct {
	words diagnostic.Text
	also  []diagnostic.Text
}

// remedy is one entry under "remedies", as written.
type remedy struct {
	place                        diagnostic.Span
	name, because, do            diagnostic.Text
	symptoms, when               []diagnostic.Text
	wire, axis, touches, notReed diagnostic.Text
	takesOff, measure            []diagnostic.Text
	expect                       []pair
	sources                      []source
}

// pair is a name and what is said of it.
type pair struct{ name, value diagnostic.Text }

// source is who says so: one text, or what is said and who says it.
type source struct{ says, who diagnostic.Text }

// symptoms reads a list of texts, or a map of words to other ways of saying
// them.
func (l *loader) symptoms(n *yamldoc.Node) []symptom {
	var out []symptom
	if n.Shape() != yamldoc.Map {
		for _, t := range l.words(n, "a symptom") {
			out = append(out, symptom{words: t})
		}
		return out
	}
	for _, e := range n.Entries() {
		s := symptom{words: e.Key.Text()}
		if e.Value.Shape() != yamldoc.Empty {
			s.also = l.words(e.Value, "another way of saying it")
		}
		out = append(out, s)
	}
	return out
}

func (l *loader) remedies(n *yamldoc.Node) []remedy {
	if n.Shape() != yamldoc.List {
		l.list.Hinted("recipe/wrong-shape", n.Span(), "write each remedy on a line of its own: - remedy: round the second wire", "remedies is not a list")
		return nil
	}
	var out []remedy
	for _, it := range n.Items() {
		out = append(out, l.remedy(it))
	}
	return out
}

func (l *loader) remedy(n *yamldoc.Node) remedy {
	r := remedy{place: n.Span()}
	if !l.isMap(n, "write - remedy: and its name", "this is not a remedy") {
		return r
	}
	text := func(into *diagnostic.Text, what string) func(k, v *yamldoc.Node) {
		return func(_, v *yamldoc.Node) { *into = l.word(v, what) }
	}
	list := func(into *[]diagnostic.Text, what string) func(k, v *yamldoc.Node) {
		return func(_, v *yamldoc.Node) { *into = l.words(v, what) }
	}
	l.fields(n, "a remedy",
		need("remedy", text(&r.name, "remedy")),
		want("for", list(&r.symptoms, "a symptom")),
		want("when", list(&r.when, "a formula")),
		need("because", text(&r.because, "because")),
		need("do", text(&r.do, "do")),
		want("wire", text(&r.wire, "wire")),
		want("from", text(&r.axis, "from")),
		need("touches", text(&r.touches, "touches")),
		want("takes off", list(&r.takesOff, "a dimension")),
		want("measure", list(&r.measure, "a dimension")),
		want("not the reed", text(&r.notReed, "not the reed")),
		want("expect", func(_, v *yamldoc.Node) {
			l.eachEntry(v, "expect", func(k, v *yamldoc.Node) { r.expect = append(r.expect, pair{k.Text(), l.word(v, "expect")}) })
		}),
		want("source", func(_, v *yamldoc.Node) { r.sources = l.sources(v) }),
	)
	return r
}

// sources reads one source, or a list of them.
func (l *loader) sources(n *yamldoc.Node) []source {
	items := []*yamldoc.Node{n}
	if n.Shape() == yamldoc.List {
		items = n.Items()
	}
	var out []source
	for _, it := range items {
		if it.Shape() == yamldoc.Scalar {
			out = append(out, source{says: it.Text()})
			continue
		}
		var s source
		if l.isMap(it, "write common practice, from memory, or {says: …, who: …}", "this is no source") {
			l.fields(it, "a source",
				need("says", func(_, v *yamldoc.Node) { s.says = l.word(v, "says") }),
				need("who", func(_, v *yamldoc.Node) { s.who = l.word(v, "who") }))
			out = append(out, s)
		}
	}
	return out
}
