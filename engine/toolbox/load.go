package toolbox

import (
	"errors"
	"math"
	"regexp"
	"strings"

	"canewright/engine/cane"
	"canewright/engine/diagnostic"
	"canewright/engine/quantity"
	"canewright/engine/yamldoc"
)

// OnlyFor is the key under which tools of one instrument alone stand.
const OnlyFor = "only for"

var instrumentForm = regexp.MustCompile(`^[a-z][a-z0-9-]{0,31}$`)

// mostInstruments: nobody plays more; a hostile file must not cost memory.
const mostInstruments = 40

// Load reads a file of one's own tools. The Box is nil when a finding is an
// error.
func Load(name string, data []byte) (*Box, diagnostic.List) {
	root, _, list := yamldoc.ParseBytes(name, data)
	if root == nil || list.Failed() {
		return nil, list
	}
	l := &loader{list: &list}
	box := l.file(root)
	if list.Failed() {
		return nil, list
	}
	return box, list
}

type loader struct{ list *diagnostic.List }

func (l *loader) file(root *yamldoc.Node) *Box {
	box := &Box{All: Set{}}
	fields := []yamldoc.Field{
		{Name: "canewright", Required: true, Read: func(_, v *yamldoc.Node) {
			if t := v.Text(); t.Value != Format {
				l.list.Hinted("toolbox/format", v.Span(), "this version reads: canewright: "+Format, "%q is not a format this version reads here", clip(t.Value))
			}
		}},
		{Name: OnlyFor, Read: func(_, v *yamldoc.Node) { l.only(v, box) }},
	}
	root.Fields("a file of tools", l.list, append(fields, l.tools(box.All)...)...)
	return box
}

// tools are the keys of tools, read into a set.
func (l *loader) tools(into Set) []yamldoc.Field {
	var out []yamldoc.Field
	for _, tool := range Tools() {
		out = append(out, yamldoc.Field{Name: tool, Read: func(k, v *yamldoc.Node) { l.tool(tool, k, v, into) }})
	}
	return out
}

func (l *loader) only(n *yamldoc.Node, box *Box) {
	if n.Shape() == yamldoc.Empty {
		return
	}
	if n.Shape() != yamldoc.Map {
		l.list.Hinted("toolbox/instrument", n.Span(), "write a line for each: contrabassoon:, with its tools below", "%s names no instruments", OnlyFor)
		return
	}
	seen := map[string]bool{}
	for i, e := range n.Entries() {
		id := e.Key.Value()
		switch {
		case i >= mostInstruments:
			l.list.Errorf("toolbox/instrument", e.Key.Span(), "at most %d instruments are read", mostInstruments)
			return
		case seen[id]: // reported by the reader
			continue
		case !instrumentForm.MatchString(id):
			l.list.Hinted("toolbox/instrument", e.Key.Span(), "canewright instruments lists them", "%q cannot be the name of an instrument", clip(id))
			continue
		}
		seen[id] = true
		s := Section{Instrument: id, Tools: Set{}}
		if e.Value.Shape() != yamldoc.Empty {
			e.Value.Fields("the tools of an instrument", l.list, l.tools(s.Tools)...)
		}
		box.Only = append(box.Only, s)
	}
}

func (l *loader) tool(tool string, key, n *yamldoc.Node, into Set) {
	if n.Shape() == yamldoc.Empty {
		return
	}
	at := map[string]diagnostic.Text{}
	var fields []yamldoc.Field
	for _, f := range Fields() {
		if f.Tool != tool {
			continue
		}
		fields = append(fields, yamldoc.Field{Name: f.Key, Read: func(_, v *yamldoc.Node) {
			if e, ok := l.value(f, v); ok {
				into[f.Name()] = e
				at[f.Name()] = v.Text()
			}
		}})
	}
	n.Fields("a "+tool, l.list, fields...)
	l.agree(tool, into, key.Span(), at)
}

func (l *loader) value(f Field, n *yamldoc.Node) (quantity.Entered, bool) {
	if n.Shape() == yamldoc.Empty {
		return quantity.Entered{}, false
	}
	if n.Shape() != yamldoc.Scalar {
		l.list.Hinted("toolbox/number", n.Span(), "write it as in "+f.Key+": "+f.Example(), "%s is not a number", f.Name())
		return quantity.Entered{}, false
	}
	t := n.Text()
	e, err := f.Parse(t.Value, n.Flow())
	if err != nil {
		if q, ok := errors.AsType[*quantity.Error](err); ok {
			hint := q.Hint
			if hint == "" {
				hint = "write it as in " + f.Key + ": " + f.Example()
			}
			l.list.Hinted("toolbox/number", t.Span(q.From, q.To), hint, "%s", q.Message)
			return e, false
		}
		l.list.Hinted("toolbox/number", t.Whole, "write it as in "+f.Example(), "%s", err.Error())
		return e, false
	}
	if doubt := f.Doubt(e); doubt != "" {
		l.list.Add(diagnostic.Diagnostic{Code: "toolbox/unlikely", Severity: diagnostic.Warning, Span: t.Whole, Hint: doubt,
			Message: "a " + f.Tool + " with " + clip(e.String()) + " for " + f.Name() + " is hard to believe"})
	}
	return e, true
}

// agree compares what two numbers say of one thing.
func (l *loader) agree(tool string, s Set, whole diagnostic.Span, at map[string]diagnostic.Text) {
	place := func(name string) diagnostic.Span {
		if t, ok := at[name]; ok {
			return t.Whole
		}
		return whole
	}
	warn := func(span diagnostic.Span, hint, message string) {
		l.list.Add(diagnostic.Diagnostic{Code: "toolbox/disagree", Severity: diagnostic.Warning, Span: span, Hint: hint, Message: message})
	}
	switch tool {
	case "mandrel", "bocal":
		tip, hasTip := s.get(tool + ".tip")
		d, hasD := s.get(tool + ".diameter")
		away, hasAt := s.get(tool + ".at")
		if !hasTip || !hasD || !hasAt {
			return
		}
		k, err := cane.Taper(d.v, tip.v, away.v)
		if err != nil || k == 0 {
			l.list.Hinted("toolbox/number", place(tool+".diameter"), "the second place is further from the small end, and thicker", "a %s does not get thinner away from its small end", tool)
			return
		}
		given, has := s.get(tool + ".taper")
		worked := d.minus(tip).over(away)
		// Twice their joint uncertainty: about 95 % (JCGM 100, 6.3.3).
		if has && math.Abs(given.v-worked.v) > 2*math.Hypot(given.u, worked.u) {
			warn(place(tool+".taper"), "leave the taper out, or measure again; until then the taper as given is used",
				"its two diameters make a taper of "+short(worked.v)+", not "+short(given.v))
		}
	case "gouger":
		d, hasD := s.get("gouger.blade")
		r, hasR := s.get("gouger.radius")
		if hasD && hasR && math.Abs(d.v-2*r.v) > 2*math.Hypot(d.u, 2*r.u) {
			warn(place("gouger.radius"), "leave one of the two out; until then the diameter is used", "its radius is not half of its diameter")
		}
	case "staple":
		wide, hasWide := s.get("staple.small")
		narrow, hasNarrow := s.get("staple.oval")
		if hasWide && hasNarrow && narrow.v > wide.v {
			warn(place("staple.oval"), "small is the long way across, oval the short way", "the narrow way is wider than the wide way")
		}
	}
}

// clip keeps what is echoed of a file short.
func clip(s string) string {
	if r := []rune(s); len(r) > 40 {
		return string(r[:40]) + "…"
	}
	return strings.TrimSpace(s)
}
