package adaptation

import (
	"strings"

	"canewright/engine/diagnostic"
	"canewright/engine/yamldoc"
)

// document is a recipe's text in parts. What is not touched is written as it
// stands, with its comments.
type document struct {
	src  *diagnostic.Source
	root *block
}

// block is a map, an entry after the other. Lines are kept without the
// indentation of the block.
type block struct {
	parts []*part
	tail  []string // comments behind the last entry
}

// part is one entry of a map.
type part struct {
	key  string
	src  *diagnostic.Source
	node *yamldoc.Node // the value as it was read; nil for what was made
	read *yamldoc.Node // the value of what was made, once it was asked for
	line int           // of the key, in src
	in   int           // how far the key stands in, there
	lead []string      // comments and empty lines before it
	body []string      // the entry as written
	// Once opened the part is written from these; header is the key's own line.
	header string
	block  *block
	items  *items
}

// items is a list of maps: the stages.
type items struct {
	all  []*item
	tail []string
	dash int // how far the dashes stand in
}

type item struct {
	lead  []string
	block *block
}

func parse(src *diagnostic.Source, root *yamldoc.Node) *document {
	r := reader{src}
	return &document{src, r.block(root, 1, src.Lines())}
}

type reader struct{ src *diagnostic.Source }

// block reads a map that stands in the lines from to to. One in brackets is
// written out.
func (r reader) block(n *yamldoc.Node, from, to int) *block {
	b := &block{}
	if !r.lined(n) {
		for _, e := range n.Entries() {
			b.parts = append(b.parts, &part{key: e.Key.Value(), body: yamldoc.Entered(yamldoc.Quote(e.Key.Value(), false), e.Value)})
		}
		return b
	}
	in := n.Entries()[0].Key.Span().From.Col - 1
	next := from
	for i, e := range n.Entries() {
		at := e.Key.Span().From.Line
		end := to + 1
		if i+1 < len(n.Entries()) {
			end = n.Entries()[i+1].Key.Span().From.Line
		}
		last := r.last(max(at, e.Value.Span().To.Line), end)
		p := &part{key: e.Key.Value(), src: r.src, node: e.Value, line: at, in: in, lead: r.lines(next, at-1, in)}
		p.body = r.lines(at, last, in)
		p.body[0] = string(r.src.Line(at)[in:])
		b.parts = append(b.parts, p)
		next = last + 1
	}
	b.tail = r.lines(next, to, in)
	return b
}

// lined reports that every entry of a map begins a line of its own.
func (r reader) lined(n *yamldoc.Node) bool {
	if n.Shape() != yamldoc.Map || n.Flow() || len(n.Entries()) == 0 {
		return false
	}
	in, line := -1, 0
	for _, e := range n.Entries() {
		at := e.Key.Span().From
		if e.Key.Flow() || at.Line == line || in >= 0 && at.Col-1 != in {
			return false
		}
		for _, c := range r.src.Line(at.Line)[:at.Col-1] {
			if c != ' ' && c != '-' {
				return false
			}
		}
		in, line = at.Col-1, at.Line
	}
	return true
}

// last is the last line before end that is neither empty nor a comment, and
// not before least.
func (r reader) last(least, end int) int {
	for l := end - 1; l > least; l-- {
		if s := strings.TrimSpace(string(r.src.Line(l))); s != "" && s[0] != '#' {
			return l
		}
	}
	return least
}

// lines are the lines from to to, with up to in blanks taken from the left.
func (r reader) lines(from, to, in int) []string {
	var out []string
	for l := from; l <= to; l++ {
		line := r.src.Line(l)
		k := 0
		for k < len(line) && k < in && line[k] == ' ' {
			k++
		}
		out = append(out, string(line[k:])) // blanks at the end too: a text may hold them
	}
	return out
}

// open makes a part's map, or its list of maps, changeable.
func (p *part) open() {
	if p.block != nil || p.items != nil {
		return
	}
	if p.node == nil { // made: read what was made
		root, src, _ := yamldoc.ParseBytes("", []byte(strings.Join(p.body, "\n")+"\n"))
		p.src, p.node, p.line, p.in = src, root.Get(p.key), 1, 0
	}
	r := reader{p.src}
	p.header = yamldoc.Quote(p.key, false) + ":"
	if p.node.Shape() == yamldoc.List {
		if len(p.node.Items()) > 0 && r.lined(p.node.Items()[0]) {
			p.header = p.body[0] // with the comment behind it
		}
		p.items = r.items(p.node, p.line+1, p.in)
		return
	}
	if !r.lined(p.node) {
		p.block = r.block(p.node, 0, 0)
		return
	}
	p.header = p.body[0]
	p.block = r.block(p.node, p.line+1, p.line+len(p.body)-1)
}

// items reads a list of maps.
func (r reader) items(n *yamldoc.Node, next, in int) *items {
	out := &items{dash: 2}
	all := n.Items()
	for i, it := range all {
		begin := r.dashed(it)
		end := max(it.Span().To.Line, begin)
		if i+1 < len(all) {
			end = r.last(end, r.dashed(all[i+1]))
		}
		if !r.lined(it) {
			out.all = append(out.all, &item{lead: r.lines(next, begin-1, in+out.dash), block: r.block(it, 0, 0)})
			next = end + 1
			continue
		}
		at := it.Entries()[0].Key.Span().From
		if i == 0 {
			out.dash = max(dash(r.src.Line(begin))-in, 0)
		}
		b := r.block(it, at.Line, end)
		lead := r.lines(next, at.Line-1, in+out.dash)
		if k := begin - next; begin < at.Line { // a dash with a comment behind it, or nothing
			lead[k] = strings.TrimSpace(strings.Replace(lead[k], "-", "", 1))
		}
		out.all = append(out.all, &item{lead: lead, block: b})
		next = end + 1
	}
	return out
}

// dashed is the line with the dash of a list's item.
func (r reader) dashed(it *yamldoc.Node) int {
	at := it.Span().From
	for l := at.Line; l > 0 && r.lined(it); l-- {
		if line := r.src.Line(l); dash(line) < min(len(line), at.Col-1) && line[dash(line)] == '-' {
			return l
		}
	}
	return at.Line
}

func dash(line []rune) int {
	for i, c := range line {
		if c != ' ' {
			return i
		}
	}
	return 0
}

// text is the whole document.
func (d *document) text() string {
	return strings.TrimRight(strings.Join(d.root.lines(), "\n"), "\n") + "\n"
}

func (b *block) lines() []string {
	var out []string
	for _, p := range b.parts {
		out = append(out, p.lead...)
		out = append(out, p.lines()...)
	}
	return append(out, b.tail...)
}

func (p *part) lines() []string {
	switch {
	case p.items != nil:
		out := []string{p.header}
		for _, it := range p.items.all {
			out = append(out, yamldoc.Indented(it.lead, p.items.dash)...)
			out = append(out, it.lines(p.items.dash)...)
		}
		return append(out, yamldoc.Indented(p.items.tail, p.items.dash)...)
	case p.block != nil:
		if len(p.block.parts) == 0 {
			return nil
		}
		return append([]string{p.header}, yamldoc.Indented(p.block.lines(), 2)...)
	}
	return p.body
}

func (it *item) lines(dash int) []string {
	lines := yamldoc.Indented(it.block.lines(), dash+2)
	for i, l := range lines {
		if strings.TrimSpace(l) != "" && strings.TrimSpace(l)[0] != '#' {
			lines[i] = strings.Repeat(" ", dash) + "- " + l[dash+2:]
			break
		}
	}
	return lines
}

// get is the part of that key, nil if there is none.
func (b *block) get(key string) *part {
	for _, p := range b.parts {
		if p.key == key {
			return p
		}
	}
	return nil
}

// put replaces a part or adds it behind the others.
func (b *block) put(p *part) {
	for i, old := range b.parts {
		if old.key == p.key {
			p.lead = append(append([]string{}, old.lead...), p.lead...)
			b.parts[i] = p
			return
		}
	}
	b.parts = append(b.parts, p)
}

// drop takes a part out, and reports that it was there. Comments before it
// stay: they are often headings.
func (b *block) drop(key string) bool {
	for i, p := range b.parts {
		if p.key != key {
			continue
		}
		b.parts = append(b.parts[:i:i], b.parts[i+1:]...)
		switch {
		case i < len(b.parts):
			b.parts[i].lead = joined(p.lead, b.parts[i].lead)
		default:
			b.tail = joined(p.lead, b.tail)
		}
		return true
	}
	return false
}

// joined puts the lines above what went before others, without a second empty
// line between.
func joined(a, b []string) []string {
	if len(a) > 0 && a[len(a)-1] == "" && len(b) > 0 && b[0] == "" {
		b = b[1:]
	}
	return append(a[:len(a):len(a)], b...)
}

// copy is a part of its own with the same lines.
func (p *part) copy() *part { return made(p.key, append([]string{}, p.lines()...)) }

// emptyMap is a part that entries are put into.
func emptyMap(key string) *part { return &part{key: key, header: key + ":", block: &block{}} }

// made is a part with these lines.
func made(key string, body []string) *part { return &part{key: key, body: body} }
