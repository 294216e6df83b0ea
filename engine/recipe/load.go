package recipe

import (
	"regexp"
	"strconv"
	"strings"

	"canewright/engine/diagnostic"
	"canewright/engine/yamldoc"
)

// Format is the first key of a recipe and its value.
const Format = "recipe 1"

// Load reads a recipe's file. The File is nil when a finding is an error.
func Load(name string, data []byte) (*File, diagnostic.List) {
	root, src, list := yamldoc.ParseBytes(name, data)
	if root == nil || list.Failed() {
		return nil, list
	}
	l := &loader{list: &list}
	f := l.file(root)
	f.Source = src
	if list.Failed() {
		return nil, list
	}
	return f, list
}

// IsID reports that a text can be a recipe's id: small letters, digits and single
// hyphens, at most 64.
func IsID(s string) bool { return len(s) <= 64 && idForm.MatchString(s) }

type loader struct{ list *diagnostic.List }

var (
	idForm         = regexp.MustCompile(`^[a-z][a-z0-9]*(-[a-z0-9]+)*$`)
	instrumentForm = regexp.MustCompile(`^([a-z][a-z0-9-]{0,31}) +([0-9]{1,3})$`)
)

func (l *loader) file(root *yamldoc.Node) *File {
	f := &File{}
	l.fields(root, "a recipe",
		need("canewright", func(k, v *yamldoc.Node) {
			if s := l.word(v, "canewright"); s.Value != Format && s.Value != "" {
				l.list.Hinted("recipe/format", s.Span(0, 999), "this version reads: canewright: "+Format, "%q is not a format this version reads", clip(s.Value))
			}
		}),
		need("title", func(k, v *yamldoc.Node) { f.Title = l.word(v, "title").Value }),
		need("id", func(k, v *yamldoc.Node) {
			t := l.word(v, "id")
			if f.ID = t.Value; f.ID != "" && !IsID(f.ID) {
				l.list.Hinted("recipe/id", t.Whole, "small letters, digits and single hyphens: bassoon-from-tube", "%q cannot be an id", clip(f.ID))
			}
		}),
		need("version", func(k, v *yamldoc.Node) { f.Version = l.number(v, "version", 1, 1_000_000) }),
		want("instrument", func(k, v *yamldoc.Node) {
			t := l.word(v, "instrument")
			if f.instrument = t.Whole; t.Whole.Source == nil {
				return
			}
			m := instrumentForm.FindStringSubmatch(t.Value)
			if m == nil {
				l.list.Hinted("recipe/instrument", t.Whole, "write the name and the major version of its dimension set: bassoon 1", "%q does not name an instrument", clip(t.Value))
				return
			}
			f.Instrument = m[1]
			f.Major, _ = strconv.Atoi(m[2])
		}),
		want("author", func(k, v *yamldoc.Node) { f.Author = l.word(v, "author").Value }),
		want("licence", func(k, v *yamldoc.Node) { f.Licence = l.word(v, "licence").Value }),
		want("about", func(k, v *yamldoc.Node) {
			f.aboutText = l.word(v, "about")
			f.About = strings.TrimSpace(f.aboutText.Value)
		}),
		want("sure", func(k, v *yamldoc.Node) { f.sure = v }),
		want("settings", func(k, v *yamldoc.Node) { f.settings = l.settings(v) }),
		want("targets", func(k, v *yamldoc.Node) { f.targets = l.targets(v) }),
		want("symptoms", func(k, v *yamldoc.Node) { f.symptoms = l.symptoms(v) }),
		want("remedies", func(k, v *yamldoc.Node) { f.remedies = l.remedies(v) }),
		need("stages", func(k, v *yamldoc.Node) { f.stages, f.stagesAt = l.stages(v, 0), k.Span() }),
	)
	return f
}

func need(name string, read func(k, v *yamldoc.Node)) yamldoc.Field {
	return yamldoc.Field{Name: name, Required: true, Read: read}
}
func want(name string, read func(k, v *yamldoc.Node)) yamldoc.Field {
	return yamldoc.Field{Name: name, Read: read}
}

func (l *loader) fields(n *yamldoc.Node, what string, fields ...yamldoc.Field) {
	n.Fields(what, l.list, fields...)
}

// word reads a text; anything else is a finding.
func (l *loader) word(n *yamldoc.Node, what string) diagnostic.Text {
	if n.Shape() != yamldoc.Scalar {
		l.list.Hinted("recipe/wrong-shape", n.Span(), "write a text after "+what+":", "%s is not a text", what)
		return diagnostic.Text{}
	}
	return n.Text()
}

func (l *loader) number(n *yamldoc.Node, what string, low, high int) int {
	t := l.word(n, what)
	v, err := strconv.Atoi(t.Value)
	if err != nil || v < low || v > high || strconv.Itoa(v) != t.Value {
		if t.Value != "" {
			l.list.Hinted("recipe/number", t.Whole, "write a whole number from "+strconv.Itoa(low)+" to "+strconv.Itoa(high), "%q is not a whole number that fits here", clip(t.Value))
		}
		return low
	}
	return v
}

// isMap reports anything but a map with a hint of its own.
func (l *loader) isMap(n *yamldoc.Node, hint, message string) bool {
	if n.Shape() != yamldoc.Map {
		l.list.Hinted("recipe/wrong-shape", n.Span(), hint, "%s", message)
		return false
	}
	return true
}

func clip(s string) string { return diagnostic.Clip(s) }

// words reads a list of texts, or one text.
func (l *loader) words(n *yamldoc.Node, what string) []diagnostic.Text {
	var out []diagnostic.Text
	for _, it := range n.TextItems(l.list, what) {
		if t := it.Text(); strings.TrimSpace(t.Value) != "" {
			out = append(out, t)
		}
	}
	return out
}

func (l *loader) settings(n *yamldoc.Node) []setting {
	var out []setting
	l.eachEntry(n, "settings", func(k, v *yamldoc.Node) {
		s := setting{name: k.Text()}
		if v.Shape() == yamldoc.Scalar {
			s.value, s.flow = v.Text(), v.Flow()
		} else if l.isMap(v, "write "+clip(s.name.Value)+": 14.6 mm", "this setting has no value") {
			l.fields(v, "a setting",
				need("value", func(_, v *yamldoc.Node) { s.value, s.flow = l.word(v, "value"), v.Flow() }),
				want("why", func(_, v *yamldoc.Node) { s.why = l.word(v, "why") }))
		}
		out = append(out, s)
	})
	return out
}

// eachEntry walks a map whose keys are the player's own. Parse has reported
// those that stand twice.
func (l *loader) eachEntry(n *yamldoc.Node, what string, do func(k, v *yamldoc.Node)) {
	if n.Shape() != yamldoc.Map {
		l.list.Hinted("recipe/wrong-shape", n.Span(), "write one line each: name: value", "%s is not a list of names and values", what)
		return
	}
	for _, e := range n.Entries() {
		do(e.Key, e.Value)
	}
}

func (l *loader) targets(n *yamldoc.Node) []target {
	var out []target
	l.eachEntry(n, "targets", func(k, v *yamldoc.Node) {
		t := target{name: k.Text()}
		switch {
		case v.Shape() == yamldoc.Scalar:
			t.tolerance, t.flow = v.Text(), v.Flow()
		case v.Shape() == yamldoc.Map && v.Get("at") != nil:
			t.grid = &grid{place: k.Span()}
			g := t.grid
			known := map[string]bool{"from": true, "at": true, "within": true, "above": true, "below": true}
			fields := []yamldoc.Field{
				need("from", func(_, v *yamldoc.Node) { g.from = l.word(v, "from") }),
				need("at", func(_, v *yamldoc.Node) { g.at = l.word(v, "at") }),
				need("within", func(_, v *yamldoc.Node) { g.within = l.word(v, "within") }),
				want("above", func(_, v *yamldoc.Node) { t.above = l.outcome(v) }),
				want("below", func(_, v *yamldoc.Node) { t.below = l.outcome(v) }),
			}
			for _, e := range v.Entries() {
				if name := e.Key.Value(); !known[name] {
					known[name] = true
					key := e.Key
					fields = append(fields, want(name, func(_, v *yamldoc.Node) {
						g.lanes = append(g.lanes, lane{key.Text(), l.word(v, name)})
					}))
				}
			}
			l.fields(v, "a blade grid", fields...)
		case l.isMap(v, "write it as in "+clip(t.name.Value)+": 27.0 ± 0.5 mm", "this target is no tolerance"):
			l.fields(v, "a target",
				need("target", func(_, v *yamldoc.Node) { t.tolerance, t.flow = l.word(v, "target"), v.Flow() }),
				want("above", func(_, v *yamldoc.Node) { t.above = l.outcome(v) }),
				want("below", func(_, v *yamldoc.Node) { t.below = l.outcome(v) }))
		}
		out = append(out, t)
	})
	return out
}

// outcome reads "once more", or a map with then, or a way back.
func (l *loader) outcome(n *yamldoc.Node) *outcome {
	o := &outcome{place: n.Span()}
	if n.Shape() == yamldoc.Scalar {
		o.word = n.Text()
		return o
	}
	if !l.isMap(n, "write one of "+outcomeWords, "this does not say what follows") {
		return o
	}
	hasThen, hasBack := false, false
	l.fields(n, "what follows",
		want("go back to", func(k, v *yamldoc.Node) { o.backTo, o.place, hasBack = l.word(v, "go back to"), k.Span(), true }),
		want("at most", func(_, v *yamldoc.Node) { o.atMost = l.word(v, "at most") }),
		want("then", func(_, v *yamldoc.Node) { o.then = l.outcome(v); hasThen = true }),
		want("do", func(_, v *yamldoc.Node) { o.do = l.word(v, "do") }),
		want("because", func(_, v *yamldoc.Node) { o.because = l.word(v, "because") }),
	)
	if !hasBack {
		if !hasThen {
			l.list.Hinted("recipe/outcome", n.Span(), "write {then: …} with "+outcomeWords, "this does not say what follows")
			return o
		}
		// {then: once more, do: …}: the "then" is the outcome itself.
		in := o.then
		in.do, in.because = orText(o.do, in.do), orText(o.because, in.because)
		if o.atMost.Value != "" && in.backTo.Value == "" {
			l.list.Hinted("recipe/outcome", o.atMost.Whole, "at most belongs beside go back to", "there is no way back here to count")
		}
		return in
	}
	return o
}

func orText(a, b diagnostic.Text) diagnostic.Text {
	if a.Value != "" {
		return a
	}
	return b
}

// InstrumentSpan is where the file names its instrument.
func (f *File) InstrumentSpan() diagnostic.Span { return f.instrument }
