package safety

import "canewright/engine/yamldoc"

func (r *reader) note(n *yamldoc.Node) {
	d := &draft{node: n}
	note := &d.note
	one := func(name string, to *string) yamldoc.Field {
		return yamldoc.Field{Name: name, Required: true, Read: func(_, v *yamldoc.Node) { *to = r.text(v, "the "+name+" of a note") }}
	}
	many := func(name, what string, to *[]string) yamldoc.Field {
		return yamldoc.Field{Name: name, Required: true, Read: func(_, v *yamldoc.Node) { *to = r.texts(v, what) }}
	}
	maybe := func(f yamldoc.Field) yamldoc.Field { f.Required = false; return f }
	var level string
	var unsourced []string
	n.Fields("a note", &r.list,
		one("id", &note.ID),
		yamldoc.Field{Name: "revision", Required: true, Read: func(_, v *yamldoc.Node) { note.Revision = r.number(v, "the revision of a note") }},
		one("title", &note.Title),
		yamldoc.Field{Name: "scope", Required: true, Read: func(_, v *yamldoc.Node) { note.Session = r.session(v) }},
		yamldoc.Field{Name: "signal", Required: true, Read: func(_, v *yamldoc.Node) { note.Signal = r.signal(v) }},
		one("level", &level),
		maybe(one("label_word", &note.LabelWord)),
		one("hazard", &note.Hazard),
		one("consequence", &note.Consequence),
		many("avoid", "a line on what to do", &note.Avoid),
		many("equipment", "a piece of equipment", &note.Equipment),
		yamldoc.Field{Name: "first_aid", Read: func(_, v *yamldoc.Node) { r.firstAid(d, v) }},
		one("short", &note.Short),
		yamldoc.Field{Name: "symbols", Required: true, Read: func(_, v *yamldoc.Node) { note.Symbols = r.symbolsOf(v) }},
		yamldoc.Field{Name: "h", Read: func(_, v *yamldoc.Node) { note.H = r.coded(v) }},
		yamldoc.Field{Name: "p", Read: func(_, v *yamldoc.Node) { note.P = r.coded(v) }},
		maybe(many("figures", "a figure", &note.Figures)),
		yamldoc.Field{Name: "when", Required: true, Read: func(_, v *yamldoc.Node) { d.when, d.together = r.selection(v) }},
		yamldoc.Field{Name: "under", Read: func(_, v *yamldoc.Node) { d.underNode, note.Under = v, v.Value() }},
		yamldoc.Field{Name: "raised_by", Read: func(_, v *yamldoc.Node) { d.raisedBy = r.wordsOf(v, "a class", r.classWords()) }},
		maybe(one("ask", &note.Ask)),
		maybe(many("accept", "a word to accept", &note.Accept)),
		maybe(many("refuse", "a word to refuse", &note.Refuse)),
		yamldoc.Field{Name: "sources", Read: func(_, v *yamldoc.Node) {
			for _, t := range v.TextItems(&r.list, "a source") {
				note.Sources = append(note.Sources, r.source(t))
			}
		}},
		maybe(many("unsourced", "a line without a source", &unsourced)))
	for _, u := range unsourced {
		note.Sources = append(note.Sources, "no source: "+u)
	}
	r.notes = append(r.notes, d)
}

func (r *reader) session(v *yamldoc.Node) bool {
	s := v.Value()
	if s != "session" && s != "step" {
		r.list.Hinted("safety/unknown-word", v.Span(), "write session or step", "%q is no scope of a note", s)
	}
	return s == "session"
}

func (r *reader) signal(v *yamldoc.Node) Signal {
	for s := Notice; s <= Danger; s++ {
		if s.String() == v.Value() {
			return s
		}
	}
	r.list.Hinted("safety/unknown-word", v.Span(), "write DANGER, WARNING, CAUTION or NOTICE", "%q is no signal word", v.Value())
	return 0
}

func (r *reader) symbolsOf(v *yamldoc.Node) []Symbol {
	var out []Symbol
	for _, t := range v.TextItems(&r.list, "a symbol") {
		means, ok := r.symbols[t.Value()]
		if !ok {
			r.unknown(t, "a symbol", sortedKeys(r.symbols))
			continue
		}
		out = append(out, Symbol{Number: t.Value(), Means: means})
	}
	return out
}

// firstAid is a text, or {as: another note, and: what is to be added}.
func (r *reader) firstAid(d *draft, v *yamldoc.Node) {
	d.aid = v
	if v.Shape() != yamldoc.Map {
		d.note.FirstAid = r.text(v, "the first aid of a note")
		return
	}
	v.Fields("first aid", &r.list,
		yamldoc.Field{Name: "as", Required: true, Read: func(_, v *yamldoc.Node) { d.as = r.text(v, "the id of a note") }},
		yamldoc.Field{Name: "and", Read: func(_, v *yamldoc.Node) { d.and = r.text(v, "what is to be added") }})
}

func (r *reader) selection(v *yamldoc.Node) (selector, []selector) {
	var s selector
	var together []selector
	fields := append(r.selectorFields(&s), yamldoc.Field{Name: "together", Read: func(_, v *yamldoc.Node) {
		for _, side := range r.items(v, "together") {
			var s selector
			side.Fields("a side of together", &r.list, r.selectorFields(&s)...)
			if s.empty() {
				r.list.Errorf("safety/empty", side.Span(), "a side of together selects nothing")
			}
			together = append(together, s)
		}
		if len(together) == 1 {
			r.list.Errorf("safety/empty", v.Span(), "together has one side only")
		}
	}})
	v.Fields("when", &r.list, fields...)
	if s.empty() && len(together) == 0 {
		r.list.Errorf("safety/empty", v.Span(), "nothing selects this note")
	}
	return s, together
}

func (r *reader) selectorFields(s *selector) []yamldoc.Field {
	field := func(name, what string, known vocabulary, to *[]string) yamldoc.Field {
		return yamldoc.Field{Name: name, Read: func(_, v *yamldoc.Node) { *to = r.wordsOf(v, what, known) }}
	}
	return []yamldoc.Field{
		field("tools", "a tool", r.toolWords(), &s.tools),
		field("materials", "a material", r.materialWords(), &s.materials),
		field("classes", "a class", r.classWords(), &s.classes),
		field("actions", "an action", r.actionWords(), &s.actions),
	}
}

func (s selector) empty() bool {
	return len(s.tools)+len(s.materials)+len(s.classes)+len(s.actions) == 0
}
