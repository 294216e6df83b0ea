package safety

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"canewright/engine/diagnostic"
	"canewright/engine/tool"
	"canewright/engine/yamldoc"
)

// format is what the first key of the file must say.
const format = "safety 1"

// reader is one reading of a file: the tables that notes refer to, and what
// is wrong so far.
type reader struct {
	list    diagnostic.List
	words   *tool.Catalogue
	classes []string
	symbols map[string]string // number → meaning
	codes   map[string]string // code → our words
	sources map[string]string // key → as shown
	used    map[string]bool   // sources somebody cites
	cat     *Catalogue
	notes   []*draft
	places  map[string]diagnostic.Span // of the sources
}

// draft is a note while its references are not yet followed.
type draft struct {
	entry
	node      *yamldoc.Node
	aid       *yamldoc.Node // {as: …, and: …} or a text
	as, and   string
	underNode *yamldoc.Node
}

// Read reads a catalogue. It is nil where the list holds an error: half a
// catalogue would be silent about the other half.
func Read(name string, data []byte) (*Catalogue, diagnostic.List) {
	root, src, list := yamldoc.ParseBytes(name, data)
	r := &reader{list: list, words: tool.Standard(), symbols: map[string]string{}, codes: map[string]string{}, sources: map[string]string{}, used: map[string]bool{}, places: map[string]diagnostic.Span{}}
	if root.Shape() != yamldoc.Map {
		if !r.list.Failed() {
			r.list.Errorf("safety/empty", diagnostic.Span{Source: src}, "the file holds no notes")
		}
		return nil, r.list
	}
	r.cat = &Catalogue{data: slices.Clone(data), words: r.words}
	r.file(root)
	r.check()
	if r.list.Failed() {
		return nil, r.list
	}
	for _, d := range r.notes {
		r.cat.entries = append(r.cat.entries, d.entry)
	}
	return r.cat, r.list
}

func (r *reader) file(root *yamldoc.Node) {
	parts := map[string]*yamldoc.Node{}
	var fields []yamldoc.Field
	for _, name := range []string{"canewright", "precedence", "signals", "symbols", "codes", "sources", "products", "notes"} {
		fields = append(fields, yamldoc.Field{Name: name, Required: true, Read: func(_, v *yamldoc.Node) { parts[name] = v }})
	}
	root.Fields("the file of safety notes", &r.list, fields...)
	// In this order whatever the file's: notes refer to the tables.
	if v := parts["canewright"]; v != nil && v.Value() != format {
		r.list.Hinted("safety/format", v.Span(), "this program reads \""+format+"\"", "%q is no format of safety notes", v.Value())
	}
	if v := parts["precedence"]; v != nil {
		r.cat.precedence = r.texts(v, "a line of precedence")
	}
	if v := parts["sources"]; v != nil {
		r.sourceTable(v)
	}
	if v := parts["symbols"]; v != nil {
		r.symbolTable(v)
	}
	if v := parts["codes"]; v != nil {
		for _, e := range v.Entries() {
			r.codes[e.Key.Value()] = r.text(e.Value, "the meaning of a code")
		}
	}
	if v := parts["signals"]; v != nil {
		r.signalTable(v)
	}
	if v := parts["products"]; v != nil {
		for _, p := range r.items(v, "the products") {
			r.product(p)
		}
	}
	if v := parts["notes"]; v != nil {
		for _, n := range r.items(v, "the notes") {
			r.note(n)
		}
	}
}

// excerpt: read in part at its source, which must be named.
const excerpt = "opened excerpt"

// ways are the ways a line can be known.
func ways() []string { return []string{excerpt, "from memory", "common practice", "worked out"} }

func (r *reader) known(v *yamldoc.Node) string {
	s := r.text(v, "how a line is known")
	if s != "" && !slices.Contains(ways(), s) {
		r.list.Hinted("safety/unknown-word", v.Span(), "write one of: "+strings.Join(ways(), ", "), "%q is no way to know a line", s)
	}
	return s
}

func (r *reader) sourceTable(v *yamldoc.Node) {
	for _, e := range v.Entries() {
		var title, address, known string
		e.Value.Fields("a source", &r.list,
			yamldoc.Field{Name: "title", Required: true, Read: func(_, v *yamldoc.Node) { title = r.text(v, "a title") }},
			yamldoc.Field{Name: "address", Read: func(_, v *yamldoc.Node) { address = r.text(v, "an address") }},
			yamldoc.Field{Name: "known", Required: true, Read: func(_, v *yamldoc.Node) { known = r.known(v) }})
		shown := title
		if address != "" {
			shown += ", " + address
		}
		r.places[e.Key.Value()] = e.Key.Span()
		r.sources[e.Key.Value()] = shown + " (" + known + ")"
	}
}

func (r *reader) symbolTable(v *yamldoc.Node) {
	for _, e := range v.Entries() {
		known, source := "", false
		e.Value.Fields("a symbol", &r.list,
			yamldoc.Field{Name: "means", Required: true, Read: func(_, v *yamldoc.Node) { r.symbols[e.Key.Value()] = r.text(v, "the meaning of a symbol") }},
			yamldoc.Field{Name: "known", Required: true, Read: func(_, v *yamldoc.Node) { known = r.known(v) }},
			yamldoc.Field{Name: "source", Read: func(_, v *yamldoc.Node) { r.source(v); source = true }})
		if known == excerpt && !source {
			r.list.Errorf("safety/no-source", e.Key.Span(), "symbol %s was read somewhere but names no source", e.Key.Value())
		}
	}
}

// signalTable checks that the four words are explained, and only they.
func (r *reader) signalTable(v *yamldoc.Node) {
	var fields []yamldoc.Field
	for s := Danger; s >= Notice; s-- {
		fields = append(fields, yamldoc.Field{Name: s.String(), Required: true, Read: func(_, v *yamldoc.Node) { r.text(v, "the meaning of a signal word") }})
	}
	v.Fields("the table of signal words", &r.list, fields...)
}

func (r *reader) product(n *yamldoc.Node) {
	var p Product
	n.Fields("a product", &r.list,
		yamldoc.Field{Name: "name", Required: true, Read: func(_, v *yamldoc.Node) { p.Name = r.text(v, "a name") }},
		yamldoc.Field{Name: "cas", Read: func(_, v *yamldoc.Node) { p.CAS = r.text(v, "a CAS number") }},
		yamldoc.Field{Name: "materials", Required: true, Read: func(_, v *yamldoc.Node) { p.Materials = r.wordsOf(v, "a material", r.materialWords()) }},
		yamldoc.Field{Name: "label_word", Read: func(_, v *yamldoc.Node) { p.LabelWord = r.text(v, "a label word") }},
		yamldoc.Field{Name: "h", Read: func(_, v *yamldoc.Node) { p.H = r.coded(v) }},
		yamldoc.Field{Name: "facts", Read: func(_, v *yamldoc.Node) {
			for _, f := range r.items(v, "the facts") {
				p.Facts = append(p.Facts, r.fact(f))
			}
		}})
	r.cat.products = append(r.cat.products, p)
}

func (r *reader) fact(n *yamldoc.Node) string {
	var says, from string
	n.Fields("a fact", &r.list,
		yamldoc.Field{Name: "says", Required: true, Read: func(_, v *yamldoc.Node) { says = r.text(v, "a fact") }},
		yamldoc.Field{Name: "source", Read: func(_, v *yamldoc.Node) { from = r.source(v) }},
		yamldoc.Field{Name: "known", Read: func(_, v *yamldoc.Node) { from = r.known(v) }})
	if from == "" {
		r.list.Hinted("safety/no-source", n.Span(), "add source: or known:", "a fact does not say how it is known")
	}
	return fmt.Sprintf("%s: %s", says, from)
}

// text reads one line of text that must say something.
func (r *reader) text(v *yamldoc.Node, what string) string {
	if v.Shape() == yamldoc.List {
		r.list.Errorf("yaml/wrong-shape", v.Span(), "%s must be a text, not a list", what)
		return ""
	}
	for _, t := range v.TextItems(&r.list, what) {
		if s := strings.TrimSpace(t.Value()); s != "" {
			return s
		}
		r.list.Errorf("safety/empty", t.Span(), "%s is empty", what)
	}
	return ""
}

// texts reads a list of texts that must hold at least one.
func (r *reader) texts(v *yamldoc.Node, what string) []string {
	var out []string
	for _, t := range v.TextItems(&r.list, what) {
		if s := strings.TrimSpace(t.Value()); s != "" {
			out = append(out, s)
			continue
		}
		r.list.Errorf("safety/empty", t.Span(), "%s is empty", what)
	}
	if len(out) == 0 {
		r.list.Errorf("safety/empty", v.Span(), "there is not one %s", strings.TrimPrefix(strings.TrimPrefix(what, "an "), "a "))
	}
	return out
}

func (r *reader) items(v *yamldoc.Node, what string) []*yamldoc.Node {
	if v.Shape() != yamldoc.List || len(v.Items()) == 0 {
		r.list.Errorf("yaml/wrong-shape", v.Span(), "%s must be a list", what)
	}
	return v.Items()
}

// wordsOf reads a list of words and reports those nobody knows.
func (r *reader) wordsOf(v *yamldoc.Node, what string, known vocabulary) []string {
	var out []string
	for _, t := range v.TextItems(&r.list, what) {
		w := t.Value()
		if !known.has(w) {
			r.unknown(t, what, known.names())
			continue
		}
		out = append(out, w)
	}
	if len(out) == 0 {
		r.list.Errorf("safety/empty", v.Span(), "there is not one %s", strings.TrimPrefix(strings.TrimPrefix(what, "an "), "a "))
	}
	return out
}

func (r *reader) unknown(t *yamldoc.Node, what string, names []string) {
	hint := ""
	if near := diagnostic.Near(t.Value(), names); near != "" {
		hint = fmt.Sprintf("did you mean %q?", near)
	}
	r.list.Hinted("safety/unknown-word", t.Span(), hint, "nobody knows %s called %q", what, t.Value())
}

func (r *reader) source(v *yamldoc.Node) string {
	shown, ok := r.sources[v.Value()]
	if !ok {
		r.unknown(v, "a source", sortedKeys(r.sources))
	}
	r.used[v.Value()] = true
	return shown
}

// coded reads codes of a label and writes each with its meaning.
func (r *reader) coded(v *yamldoc.Node) []string {
	var out []string
	for _, t := range v.TextItems(&r.list, "a code") {
		means, ok := r.codes[t.Value()]
		if !ok {
			r.unknown(t, "a code", sortedKeys(r.codes))
			continue
		}
		out = append(out, t.Value()+": "+means)
	}
	return out
}

func (r *reader) number(v *yamldoc.Node, what string) int {
	n, err := strconv.Atoi(v.Value())
	if err != nil || n < 1 {
		r.list.Errorf("safety/number", v.Span(), "%s must be a whole number from 1, not %q", what, v.Value())
	}
	return n
}

// vocabulary is a set of words; names, for finding a near miss, are gathered
// only when one is unknown.
type vocabulary struct {
	has   func(string) bool
	names func() []string
}

func (r *reader) toolWords() vocabulary {
	return vocabulary{func(w string) bool {
		t, ok := r.words.Tool(w)
		return ok && t.Name == w
	}, r.words.ToolNames}
}

func (r *reader) materialWords() vocabulary {
	return vocabulary{func(w string) bool {
		m, ok := r.words.Material(w)
		return ok && m.Name == w
	}, r.words.MaterialNames}
}

func (r *reader) actionWords() vocabulary {
	return vocabulary{func(w string) bool {
		_, ok := r.words.Action(w)
		return ok
	}, r.words.ActionNames}
}

func (r *reader) classWords() vocabulary {
	if r.classes == nil {
		for _, c := range tool.Classes() {
			r.classes = append(r.classes, c.Name)
		}
	}
	return vocabulary{func(w string) bool { return slices.Contains(r.classes, w) }, func() []string { return r.classes }}
}

func sortedKeys(m map[string]string) []string {
	out := make([]string, 0, len(m))
	for k := range m {
		out = append(out, k)
	}
	slices.Sort(out)
	return out
}
