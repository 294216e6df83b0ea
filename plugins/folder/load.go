package folder

import (
	"errors"
	"regexp"
	"strconv"
	"strings"

	"canewright/engine/diagnostic"
	"canewright/engine/dimension"
	"canewright/engine/quantity"
	"canewright/engine/tool"
	"canewright/engine/yamldoc"
	"canewright/plugins/sdk"
)

// Format is the value of the first key of the file.
const Format = "instrument 1"

// Instrument is what a file says.
type Instrument struct {
	Served sdk.Instrument
	Set    *dimension.Set // the same as the host will have it
	Cases  int            // how many were tried, all well
}

// Load reads a file. The Instrument is nil when a finding is an error.
func Load(name string, data []byte) (*Instrument, diagnostic.List) {
	root, _, list := yamldoc.ParseBytes(name, data)
	if root == nil || list.Failed() {
		return nil, list
	}
	l := &loader{list: &list, out: &Instrument{Set: &dimension.Set{}}}
	l.file(root)
	if list.Failed() {
		return nil, list
	}
	l.whole()
	if list.Failed() {
		return nil, list
	}
	l.cases()
	if list.Failed() {
		return nil, list
	}
	return l.out, list
}

// loader fills the two forms of an instrument side by side and remembers where
// everything stands.
type loader struct {
	list     *diagnostic.List
	out      *Instrument
	id       diagnostic.Text
	dims     []entry // beside Set.Dimensions
	symptoms []diagnostic.Text
	remedies []entry // beside Set.Remedies
	drawing  outlineAt
	caseList *yamldoc.Node
	tools    *tool.Catalogue // when the first is met
}

// entry is where a dimension or a remedy stands, and its keys.
type entry struct {
	name diagnostic.Text
	keys map[string]diagnostic.Span
	// formulas are the texts that Set.Check compiles again.
	formulas []diagnostic.Text
}

// note keeps the place of a key's value, if it has one.
func (e *entry) note(key string, at diagnostic.Span) {
	if at.Source != nil {
		e.keys[key] = at
	}
}

// at is the value of the first of these keys that is written, else the name.
func (e *entry) at(keys ...string) diagnostic.Span {
	for _, k := range keys {
		if s, ok := e.keys[k]; ok {
			return s
		}
	}
	return e.name.Whole
}

var versionForm = regexp.MustCompile(`^([0-9]{1,4})\.([0-9]{1,4})$`)

func (l *loader) file(root *yamldoc.Node) {
	in, set := &l.out.Served, l.out.Set
	var dims, symptoms, remedies, outline *yamldoc.Node
	version := diagnostic.Text{}
	root.Fields("an instrument", l.list,
		need("canewright", func(_, v *yamldoc.Node) {
			if t := l.word(v, "canewright"); t.Value != Format && t.Value != "" {
				l.list.Hinted("instrument/format", t.Whole, "this version reads: canewright: "+Format, "%q is not a format this version reads", clip(t.Value))
			}
		}),
		need("id", func(_, v *yamldoc.Node) { l.id = l.word(v, "id") }),
		need("title", func(_, v *yamldoc.Node) { in.Title = l.word(v, "title").Value }),
		need("version", func(_, v *yamldoc.Node) { version = l.word(v, "version") }),
		want("about", func(_, v *yamldoc.Node) { in.About = strings.TrimSpace(l.word(v, "about").Value) }),
		want("contact", func(_, v *yamldoc.Node) { in.Contact = l.word(v, "contact").Value }),
		need("dimensions", func(_, v *yamldoc.Node) { dims = v }),
		want("symptoms", func(_, v *yamldoc.Node) { symptoms = v }),
		want("remedies", func(_, v *yamldoc.Node) { remedies = v }),
		want("outline", func(k, v *yamldoc.Node) { outline, l.drawing.whole = v, k.Span() }),
		want("cases", func(_, v *yamldoc.Node) { l.caseList = v }),
	)
	in.ID, in.Version = l.id.Value, version.Value
	if m := versionForm.FindStringSubmatch(version.Value); m != nil && !strings.HasPrefix(m[1], "0") {
		in.Major, _ = strconv.Atoi(m[1])
		in.Minor, _ = strconv.Atoi(m[2])
	} else if version.Whole.Source != nil {
		l.list.Hinted("instrument/version", version.Whole, "write two whole numbers, from 1.0 on: the first rises when a name changes its meaning, the second when something is added", "%q is no version", clip(version.Value))
		in.Major = 1
	}
	set.ID, set.Title, set.About, set.Major, set.Minor = in.ID, in.Title, in.About, in.Major, in.Minor
	l.head()
	if dims != nil {
		l.dimensions(dims)
	}
	if symptoms != nil {
		l.readSymptoms(symptoms)
	}
	if remedies != nil {
		l.readRemedies(remedies)
	}
	if outline != nil {
		l.outline(outline)
	}
}

// Words of the file that are not the dimension set's.

func need(name string, read func(k, v *yamldoc.Node)) yamldoc.Field {
	return yamldoc.Field{Name: name, Required: true, Read: read}
}

func want(name string, read func(k, v *yamldoc.Node)) yamldoc.Field {
	return yamldoc.Field{Name: name, Read: read}
}

// word reads a text; anything else is a finding.
func (l *loader) word(n *yamldoc.Node, what string) diagnostic.Text {
	if n.Shape() != yamldoc.Scalar {
		l.list.Hinted("instrument/wrong-shape", n.Span(), "write a text after "+what+":", "%s is not a text", what)
		return diagnostic.Text{}
	}
	return n.Text()
}

// words reads a list of texts, or one.
func (l *loader) words(n *yamldoc.Node, what string) []diagnostic.Text {
	var out []diagnostic.Text
	for _, it := range n.TextItems(l.list, what) {
		if t := it.Text(); strings.TrimSpace(t.Value) != "" {
			out = append(out, t)
		}
	}
	return out
}

// each is the items of a list of maps that begin with a key.
func (l *loader) each(n *yamldoc.Node, what, begin string, most int) []*yamldoc.Node {
	if n.Shape() != yamldoc.List {
		l.list.Hinted("instrument/wrong-shape", n.Span(), "write each with a line of its own: - "+begin, "%s is not a list", what)
		return nil
	}
	items := n.Items()
	if len(items) > most {
		l.list.Errorf("dimension/size", items[most].Span(), "it has %d %s, at most %d are read", len(items), what, most)
		return nil
	}
	var out []*yamldoc.Node
	for _, it := range items {
		if it.Shape() != yamldoc.Map {
			l.list.Hinted("instrument/wrong-shape", it.Span(), "begin it with "+begin, "this is none of the %s", what)
			continue
		}
		out = append(out, it)
	}
	return out
}

// yes reads yes or no.
func (l *loader) yes(n *yamldoc.Node, what string) bool {
	t := l.word(n, what)
	switch t.Value {
	case "yes":
		return true
	case "no", "":
	default:
		l.list.Hinted("instrument/yes-or-no", t.Whole, "write yes or no", "%q is neither yes nor no", clip(t.Value))
	}
	return false
}

// fault reports what is wrong with a number at its place in a text.
func (l *loader) fault(code string, t diagnostic.Text, err error, hint string) {
	if e, ok := errors.AsType[*quantity.Error](err); ok {
		if e.Hint != "" {
			hint = e.Hint
		}
		l.list.Hinted(code, t.Span(e.From, e.To), hint, "%s", e.Message)
		return
	}
	l.list.Hinted(code, t.Whole, hint, "%s", err.Error())
}

// written are the values of texts.
func written(all []diagnostic.Text) []string {
	var out []string
	for _, t := range all {
		out = append(out, strings.Join(strings.Fields(t.Value), " "))
	}
	return out
}

func clip(s string) string { return diagnostic.Clip(s) }
