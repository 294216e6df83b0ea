package recipe

import (
	"canewright/engine/diagnostic"
	"canewright/engine/yamldoc"
)

// The limits of a recipe's length. What is written out may be long; what times
// and again make of a small file may not, or a stranger's page would take all
// memory. A long recipe has some 40 stages and 200 parts.
const (
	mostStages   = 10_000  // written in the file
	mostRepeated = 400     // added to them by times
	mostParts    = 20_000  // instructions, measurements, rules and answers added by times and again
	mostMeasures = 50_000  // with every station of every grid
	mostTools    = 100     // of one stage; materials too
	mostOfOne    = 10_000  // measurements of one stage; rules too
	mostShown    = 4 << 20 // bytes that stand in texts for {names}
)

// longestName, in letters: it stands on one line of the screen and in every
// event.
const longestName = 60

// parts is how much a stage repeats of: one for each of its texts and parts,
// more for a long text.
func (s *stage) parts() int {
	n := len(s.measures) + len(s.targets) + len(s.rules) + len(s.origins)
	weigh := func(texts ...diagnostic.Text) {
		for _, t := range texts {
			if t.Value != "" {
				n += 1 + len(t.Value)/200
			}
		}
	}
	follows := func(o *outcome) {
		for ; o != nil; o = o.then {
			weigh(o.do, o.because)
		}
	}
	weigh(s.why, s.markAgain)
	for _, texts := range [][]diagnostic.Text{s.do, s.tools, s.materials, s.takesOff, s.uses} {
		weigh(texts...)
	}
	for _, t := range s.targets {
		follows(t.above)
		follows(t.below)
	}
	for _, r := range s.rules {
		weigh(r.because)
		follows(r.otherwise)
	}
	if s.look != nil {
		weigh(s.look.question)
		for _, a := range s.look.answers {
			weigh(a.word)
			follows(a.outcome)
		}
	}
	if s.wait != nil {
		weigh(s.wait.until, s.wait.because)
	}
	return n
}

func (l *loader) stages(n *yamldoc.Node, depth int) []*stage {
	if n.Shape() != yamldoc.List {
		l.list.Hinted("recipe/wrong-shape", n.Span(), "write each stage on a line of its own: - stage: soak", "stages is not a list")
		return nil
	}
	if depth > 3 {
		l.list.Hinted("recipe/too-deep", n.Span(), "write the inner stages out", "stages lie more than three deep in stages")
		return nil
	}
	var out []*stage
	for _, it := range l.few(n.Items(), mostStages, "this recipe has over %d stages") {
		out = append(out, l.stage(it, depth))
	}
	return out
}

// few is the first of a list that is too long.
func (l *loader) few(items []*yamldoc.Node, most int, message string) []*yamldoc.Node {
	if len(items) > most {
		l.list.Hinted("recipe/too-long", items[most].Span(), "make two recipes of it", message, most)
		return items[:most]
	}
	return items
}

func (l *loader) stage(n *yamldoc.Node, depth int) *stage {
	s := &stage{place: n.Span()}
	if !l.isMap(n, "write - stage: and its name", "this is not a stage") {
		return s
	}
	text := func(into *diagnostic.Text, what string) func(k, v *yamldoc.Node) {
		return func(_, v *yamldoc.Node) { *into = l.word(v, what) }
	}
	list := func(into *[]diagnostic.Text, what string) func(k, v *yamldoc.Node) {
		return func(_, v *yamldoc.Node) { *into = l.words(v, what) }
	}
	for _, e := range n.Entries() {
		switch e.Key.Value() {
		case "stage", "stages", "times", "because":
		default:
			s.own = append(s.own, e.Key.Span())
		}
	}
	l.fields(n, "a stage",
		need("stage", text(&s.name, "stage")),
		want("for", text(&s.who, "for")),
		want("because", text(&s.why, "because")),
		want("tools", func(_, v *yamldoc.Node) { s.tools = l.words(v, "a tool"); s.givenTools = true }),
		want("materials", list(&s.materials, "a material")),
		want("do", list(&s.do, "an instruction")),
		want("uses", list(&s.uses, "a thing used")),
		want("takes off", list(&s.takesOff, "a thing taken off")),
		want("condition", text(&s.condition, "condition")),
		want("becomes", text(&s.becomes, "becomes")),
		want("mark again", text(&s.markAgain, "mark again")),
		want("no way back", text(&s.noWayBack, "no way back")),
		want("into", text(&s.into, "into")),
		want("again", func(_, v *yamldoc.Node) { s.again = l.word(v, "again"); s.hasAgain = true }),
		want("times", text(&s.times, "times")),
		want("stages", func(_, v *yamldoc.Node) { s.stages = l.stages(v, depth+1); s.hasInner = true }),
		want("targets", func(_, v *yamldoc.Node) { s.targets = l.targets(v) }),
		want("measure", func(_, v *yamldoc.Node) { s.measures = l.measures(v) }),
		want("expect", func(_, v *yamldoc.Node) { s.rules = l.rules(v) }),
		want("look", func(k, v *yamldoc.Node) { s.look = l.look(k, v) }),
		want("wait", func(k, v *yamldoc.Node) { s.wait = l.wait(k, v) }),
	)
	return s
}

func (l *loader) measures(n *yamldoc.Node) []measure {
	items := []*yamldoc.Node{n}
	if n.Shape() == yamldoc.List {
		items = n.Items()
	}
	var out []measure
	for _, it := range l.few(items, mostOfOne, "this stage has over %d measurements") {
		m := measure{place: it.Span()}
		if it.Shape() == yamldoc.Scalar {
			m.take = it.Text()
		} else if l.isMap(it, "write the dimension, as in measure: [wire.first, wire.second]", "this does not say what to measure") {
			l.fields(it, "a measurement",
				need("take", func(_, v *yamldoc.Node) { m.take = l.word(v, "take") }),
				want("repeat", func(_, v *yamldoc.Node) { m.repeat = l.word(v, "repeat") }),
				want("at", func(_, v *yamldoc.Node) { m.at = l.word(v, "at") }),
				want("with", func(_, v *yamldoc.Node) { m.with = l.word(v, "with") }),
				want("for", func(_, v *yamldoc.Node) { m.who = l.word(v, "for") }),
				want("lanes", func(_, v *yamldoc.Node) { m.lanes = l.word(v, "lanes") }))
		}
		out = append(out, m)
	}
	return out
}

func (l *loader) rules(n *yamldoc.Node) []rule {
	if n.Shape() != yamldoc.List {
		l.list.Hinted("recipe/wrong-shape", n.Span(), "write each rule on a line of its own: - that: …", "expect is not a list")
		return nil
	}
	var out []rule
	for _, it := range l.few(n.Items(), mostOfOne, "this stage has over %d rules") {
		var r rule
		if it.Shape() == yamldoc.Scalar {
			r.that = it.Text()
		} else if l.isMap(it, "write - that: wire.first - wire.second >= 7 mm", "this is not a rule") {
			l.fields(it, "a rule",
				need("that", func(_, v *yamldoc.Node) { r.that = l.word(v, "that") }),
				want("because", func(_, v *yamldoc.Node) { r.because = l.word(v, "because") }),
				want("otherwise", func(_, v *yamldoc.Node) { r.otherwise = l.outcome(v) }))
		}
		out = append(out, r)
	}
	return out
}

func (l *loader) look(k, n *yamldoc.Node) *look {
	o := &look{place: k.Span()}
	if !l.isMap(n, "write question: and answers: on the lines below look:", "this is not a question with its answers") {
		return o
	}
	l.fields(n, "a look",
		need("question", func(_, v *yamldoc.Node) { o.question = l.word(v, "question") }),
		want("several", func(_, v *yamldoc.Node) { o.several = l.word(v, "several") }),
		need("answers", func(_, v *yamldoc.Node) {
			l.eachEntry(v, "answers", func(k, v *yamldoc.Node) {
				a := answer{word: k.Text()}
				if v.Shape() != yamldoc.Empty {
					a.outcome = l.outcome(v)
				}
				o.answers = append(o.answers, a)
			})
			if len(o.answers) == 0 && v.Shape() == yamldoc.Map {
				l.list.Hinted("recipe/look", v.Span(), "write the answers below: straight: going on", "this question has no answers")
			}
		}))
	return o
}

func (l *loader) wait(k, n *yamldoc.Node) *wait {
	w := &wait{place: k.Span()}
	if n.Shape() == yamldoc.Scalar {
		w.usual, w.hasUsual = n.Text(), true
		return w
	}
	if !l.isMap(n, "write usual: 2 d, at least: overnight, or until: it sinks", "this wait says neither how long nor until when") {
		return w
	}
	l.fields(n, "a wait",
		want("until", func(_, v *yamldoc.Node) { w.until = l.word(v, "until") }),
		want("at least", func(_, v *yamldoc.Node) { w.least, w.hasLeast = l.word(v, "at least"), true }),
		want("usual", func(_, v *yamldoc.Node) { w.usual, w.hasUsual = l.word(v, "usual"), true }),
		want("at most", func(_, v *yamldoc.Node) { w.most, w.hasMost = l.word(v, "at most"), true }),
		want("because", func(_, v *yamldoc.Node) { w.because = l.word(v, "because") }))
	return w
}
