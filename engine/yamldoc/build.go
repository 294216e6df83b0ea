package yamldoc

import (
	"strings"

	"canewright/engine/diagnostic"

	"gopkg.in/yaml.v3"
)

// builder turns the parser's nodes into ours and refuses what they hide.
type builder struct {
	src      *diagnostic.Source
	list     *diagnostic.List
	count    int
	distrust bool // the tree is not what the player wrote

	textLine, textEnd int // the last line looked at, and where its text ends
}

func (b *builder) refuse(code string, at diagnostic.Span, hint, format string, a ...any) {
	b.distrust = true
	b.list.Hinted(code, at, hint, format, a...)
}

func (b *builder) node(n *yaml.Node, flow bool, depth int) *Node {
	b.count++
	if b.count == maxNodes+1 {
		b.refuse("yaml/too-many-nodes", b.rest(n), "split the file", "the file holds more than %d values", maxNodes)
	}
	if depth > maxDepth+1 || depth == maxDepth+1 && n.Kind != yaml.ScalarNode {
		if !b.distrust {
			b.refuse("yaml/too-deep", b.rest(n), "", "lists and maps are nested deeper than %d", maxDepth)
		}
		return &Node{span: b.rest(n)}
	}
	if b.count > maxNodes || b.special(n) {
		return &Node{span: b.rest(n)}
	}
	switch n.Kind {
	case yaml.ScalarNode:
		return b.scalar(n, flow)
	case yaml.SequenceNode:
		return b.listOf(n, flow, depth)
	case yaml.MappingNode:
		return b.mapOf(n, flow, depth)
	}
	b.refuse("yaml/syntax", b.rest(n), "", "the value cannot be read")
	return &Node{span: b.rest(n)}
}

// rest is the line from where a node starts.
func (b *builder) rest(n *yaml.Node) diagnostic.Span {
	return runes(b.src, n.Line, n.Column-1, b.trimmed(n.Line))
}

// trimmed is where the text of a line ends. Many values may stand on one line,
// before many blanks.
func (b *builder) trimmed(line int) int {
	line = min(max(line, 1), b.src.Lines())
	if line != b.textLine {
		b.textLine, b.textEnd = line, trimmed(b.src.Line(line))
	}
	return b.textEnd
}

// special refuses what stands for, names or types something. The parser
// forgets a lone !, so the sign in the file counts too.
func (b *builder) special(n *yaml.Node) bool {
	sign := rune(0)
	if line := b.src.Line(n.Line); n.Column >= 1 && n.Column <= len(line) {
		sign = line[n.Column-1]
	}
	switch {
	case n.Kind == yaml.AliasNode:
		sign = '*'
	case n.Anchor != "" && sign != '!':
		sign = '&'
	case n.Style&yaml.TaggedStyle != 0:
		sign = '!'
	case sign != '*' && sign != '&' && sign != '!':
		return false
	}
	at := b.rest(n)
	code, message := special(sign)
	b.refuse(code, at, inQuotes(b.written(at)), "%s", message)
	return true
}

// written is what stands in the file at a span of one line.
func (b *builder) written(at diagnostic.Span) string {
	return string(b.src.Line(at.From.Line)[at.From.Col-1 : at.To.Col-1])
}

func (b *builder) scalar(n *yaml.Node, flow bool) *Node {
	out := &Node{flow: flow, plain: n.Style == 0, written: true}
	if out.plain && (n.Value == "" || n.Value == "~") {
		out.written = n.Value != ""
		out.span = runes(b.src, n.Line, n.Column-1, n.Column-1+len(n.Value))
		return out
	}
	out.shape = Scalar
	out.text = textOf(b.src, n, b.trimmed(n.Line))
	out.span = out.text.Whole
	if n.Style&yaml.FoldedStyle != 0 && n.Value == "" {
		at := b.rest(n)
		if header := b.written(at); strings.ContainsAny(header, "123456789") {
			b.list.Hinted("yaml/comparison-as-block", at, inQuotes(header), "a value that starts with > is not read as a comparison")
		}
	}
	i := 0
	for _, r := range n.Value {
		if unsafe(r) && r != '\n' && r != '\t' {
			unsafeAt(b.list, out.text.Span(i, i+1), r)
			break
		}
		i++
	}
	return out
}

// lostComment looks behind a value, which ends at a place of a line.
func (b *builder) lostComment(n *Node) {
	switch {
	case n.shape == Scalar && !n.text.Proved(), n.shape == List, n.shape == Map:
		return
	case n.shape == Scalar && !n.plain && n.text.Whole.From == n.text.Places[0]:
		return // a block of lines
	}
	end := n.span.To
	line := b.src.Line(end.Line)
	if end.Col > len(line) {
		return
	}
	at := end.Col - 1 + indent(line[end.Col-1:])
	if at == len(line) || line[at] != '#' {
		return // a long line is not searched once a value
	}
	if found, ok := lostComment(line, end.Col-1); ok && at == found {
		all := runes(b.src, end.Line, at, trimmed(line))
		if n.shape == Scalar && n.span.From.Line == end.Line {
			all.From = n.span.From
		}
		t := lost(line, at, inQuotes(b.written(all)))
		b.list.Hinted(t.code, runes(b.src, end.Line, t.from, t.to), t.hint, "%s", t.message)
		if n.shape == Empty { // not reported as missing too
			n.shape, n.written, n.span = Scalar, true, all
			n.text = b.asText(all)
		}
	}
}

func (b *builder) listOf(n *yaml.Node, flow bool, depth int) *Node {
	out := &Node{shape: List, flow: flow, written: true, items: make([]*Node, 0, len(n.Content))}
	inside := flow || n.Style&yaml.FlowStyle != 0
	for _, c := range n.Content {
		item := b.node(c, inside, depth+1)
		if b.count > maxNodes {
			return out // no more than the finding is wanted
		}
		b.lostComment(item)
		if !item.written && !inside && item.shape == Empty {
			line := b.src.Line(item.span.From.Line)
			if c := item.span.From.Col - 2; c >= 0 && c < len(line) && line[c] == '-' {
				item.span.From.Col-- // mark the dash, not the nothing behind it
			}
		}
		b.tabBefore(c, inside)
		out.items = append(out.items, item)
	}
	n.Content = nil // the parser's nodes are done with
	if n.Style&yaml.FlowStyle != 0 {
		b.joinItems(out)
	}
	out.span = b.around(n, func(end func(diagnostic.Pos)) {
		for _, i := range out.items {
			end(i.span.To)
		}
	})
	return out
}

func (b *builder) mapOf(n *yaml.Node, flow bool, depth int) *Node {
	out := &Node{shape: Map, flow: flow, written: true, entries: make([]Entry, 0, len(n.Content)/2)}
	inside := flow || n.Style&yaml.FlowStyle != 0
	for i := 0; i+1 < len(n.Content); i += 2 {
		k, v := n.Content[i], n.Content[i+1]
		if k.Kind == yaml.ScalarNode && k.Style == 0 && k.Value == "<<" {
			b.refuse("yaml/merge", b.rest(k), "write the keys out", "the key << copies keys from elsewhere; nothing is copied")
			continue
		}
		key := b.node(k, inside, depth+1)
		value := b.node(v, inside, depth+1)
		if b.count > maxNodes {
			return out
		}
		b.tabBefore(k, inside)
		if key.shape != Scalar {
			if !b.distrust {
				b.list.Hinted("yaml/key-not-text", b.rest(k), "write `key: value`; a text that starts with { or [ needs quotes", "a key must be a plain text")
			}
			continue
		}
		b.lostComment(value)
		if value.shape == Empty && !value.written {
			value.span = key.span
		}
		out.entries = append(out.entries, Entry{key, value})
	}
	n.Content = nil
	if n.Style&yaml.FlowStyle != 0 {
		b.joinEntries(out)
	}
	b.duplicates(out)
	out.span = b.around(n, func(end func(diagnostic.Pos)) {
		for _, e := range out.entries {
			end(e.Key.span.To)
			end(e.Value.span.To)
		}
	})
	return out
}

// around is the span of a list or map: from where the parser puts it to the
// end of its last part, with the closing bracket if that is next.
func (b *builder) around(n *yaml.Node, parts func(end func(diagnostic.Pos))) diagnostic.Span {
	at := runes(b.src, n.Line, n.Column-1, n.Column)
	parts(func(p diagnostic.Pos) {
		if at.To.Before(p) {
			at.To = p
		}
	})
	if n.Style&yaml.FlowStyle != 0 {
		line := b.src.Line(at.To.Line)
		i := at.To.Col - 1
		for i < len(line) && (blank(line[i]) || line[i] == ',') {
			i++
		}
		if i < len(line) && (line[i] == '}' || line[i] == ']') {
			at.To.Col = i + 2
		}
	}
	return at
}

// tabBefore refuses a tab between a dash and what it begins.
func (b *builder) tabBefore(n *yaml.Node, flow bool) {
	if flow || n.Column-1 > len(b.src.Line(n.Line)) || n.Line < 1 {
		return
	}
	for i, r := range b.src.Line(n.Line)[:max(0, n.Column-1)] {
		if r == '\t' {
			b.list.Hinted("yaml/tab", runes(b.src, n.Line, i, i+1), "use blanks", "the line is indented with a tab")
			return
		}
	}
}

// duplicates reports each key that stood there before.
func (b *builder) duplicates(m *Node) {
	first := map[string]*Node{}
	for _, e := range m.entries {
		k := e.Key.Value()
		if before, ok := first[k]; ok {
			b.list.Add(diagnostic.Diagnostic{Code: "yaml/duplicate-key", Span: e.Key.span, Hint: "keep one of them",
				Message: `the key "` + clip(k) + `" stands here twice`,
				Related: []diagnostic.Related{{Message: "it stands here first", Span: before.span}}})
			continue
		}
		first[k] = e.Key
	}
}

func clip(s string) string { return diagnostic.Clip(s) }
