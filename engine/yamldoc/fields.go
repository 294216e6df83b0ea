package yamldoc

import (
	"strings"

	"canewright/engine/diagnostic"
)

// Field is a key a map may have. Read may be nil; a value of which nothing is
// written is read too.
type Field struct {
	Name     string
	Required bool
	Read     func(key, value *Node)
}

// Fields reads a map by its known keys, in the order of the file, and reports
// unknown and missing ones. What names the map in messages ("a stage"). A key
// that stands twice, which Parse has reported, is read once.
func (n *Node) Fields(what string, list *diagnostic.List, fields ...Field) {
	if n.Shape() != Map {
		n.wrongShape(what, Map, list)
		return
	}
	seen, meant := map[string]bool{}, map[string]bool{}
	cut := false
	for i, e := range n.entries {
		name := e.Key.Value()
		if seen[name] {
			continue
		}
		seen[name] = true
		f, ok := find(fields, name)
		if !ok {
			if n.cutOff(e, fields) && (cut || i > 0 && n.entries[i-1].Value.Shape() == Scalar && n.entries[i-1].Value.plain) {
				// `{do: a few strokes, then measure}`: one finding for all that was cut off.
				if !cut {
					n.textCut(i, fields, list)
				}
				cut = true
				continue
			}
			cut = false
			hint, near := hintFor(name, fields)
			list.Hinted("yaml/unknown-key", e.Key.span, hint, "%s has no key %q", what, clip(name))
			meant[near] = true // not reported as missing too
			continue
		}
		cut = false
		if f.Read != nil {
			f.Read(e.Key, e.Value)
		}
	}
	for _, f := range fields {
		if f.Required && !seen[f.Name] && !meant[f.Name] {
			list.Hinted("yaml/missing-key", n.start(), "add a line `"+f.Name+": …`", "%s needs the key %q", what, f.Name)
		}
	}
}

// cutOff reports that an entry can be the rest of a text that a comma ended:
// inside {…} it has no value and is no known key.
func (n *Node) cutOff(e Entry, fields []Field) bool {
	_, known := find(fields, e.Key.Value())
	return e.Key.Flow() && !known && !e.Value.written
}

// textCut reports the text before entry i, with all that commas cut off it.
func (n *Node) textCut(i int, fields []Field, list *diagnostic.List) {
	last := i
	for last+1 < len(n.entries) && n.cutOff(n.entries[last+1], fields) {
		last++
	}
	rest := n.entries[i].Key.span
	from, to := n.entries[i-1].Value.span.From, n.entries[last].Key.span.To
	hint := "put the whole text between '…', or write ; for the comma"
	if from.Line == to.Line {
		hint = inQuotes(string(rest.Source.Line(from.Line)[from.Col-1:to.Col-1])) + ", or write ; for the comma"
	}
	list.Hinted("yaml/unknown-key", rest, hint, "the comma before %q ends the text", clip(n.entries[i].Key.Value()))
}

func find(fields []Field, name string) (Field, bool) {
	for _, f := range fields {
		if f.Name == name {
			return f, true
		}
	}
	return Field{}, false
}

// hintFor is what to do about an unknown key, and the key that was meant.
func hintFor(name string, fields []Field) (hint, meant string) {
	names := make([]string, len(fields))
	for i, f := range fields {
		names[i] = f.Name
	}
	if near := diagnostic.Near(name, names); near != "" {
		return `did you mean "` + near + `"?`, near
	}
	if all := strings.Join(names, ", "); all != "" && len(all) <= 100 {
		return "the keys are " + all, ""
	}
	return "", ""
}

// start is a map's first key, or its bracket.
func (n *Node) start() diagnostic.Span {
	if len(n.entries) > 0 && n.entries[0].Key.span.From == n.span.From {
		return n.entries[0].Key.span
	}
	at := n.span
	if at.To.Line != at.From.Line || at.To.Col > at.From.Col+1 {
		at.To = diagnostic.Pos{Line: at.From.Line, Col: at.From.Col + 1}
	}
	return at
}

// wrongShape says what was found and what is wanted.
func (n *Node) wrongShape(what string, want Shape, list *diagnostic.List) {
	hint := ""
	switch want {
	case Map:
		hint = "write `key: value` lines"
		if t, ok := keyWithoutBlank([]rune(n.Value())); ok && n.Shape() == Scalar && !n.Quoted() {
			hint = t.hint
		}
	case List:
		hint = "write a line `- …` for each"
	case Scalar:
		hint = "write a line of text"
	}
	list.Hinted("yaml/wrong-shape", n.Span(), hint, "%s must be %s, not %s", what, want, n.Shape())
}

// TextItems reads a list of texts, or a single one. A line of text that YAML
// took for a key and its value is reported with what to do; what names an item
// in messages ("an instruction").
func (n *Node) TextItems(list *diagnostic.List, what string) []*Node {
	items := n.Items()
	switch n.Shape() {
	case Scalar, Map:
		items = []*Node{n}
	case Empty:
		n.wrongShape(what, Scalar, list)
	}
	var out []*Node
	for _, i := range items {
		switch i.Shape() {
		case Scalar:
			out = append(out, i)
		case Map:
			i.becameMap(list, what)
		default:
			i.wrongShape(what, Scalar, list)
		}
	}
	return out
}

func (n *Node) becameMap(list *diagnostic.List, what string) {
	at := n.span
	hint := "put the whole text between '…'"
	if at.From.Line == at.To.Line {
		line := at.Source.Line(at.From.Line)
		end := trimmed(line)
		if c, ok := comment(line, at.To.Col-1); ok {
			end = trimmed(line[:c])
		}
		at.To.Col = max(at.To.Col, end+1)
		hint = inQuotes(string(line[at.From.Col-1 : at.To.Col-1]))
	}
	list.Hinted("yaml/text-became-map", at, hint, "%s must be a text; this line is read as a key and its value", what)
}

// comment is where a comment begins at or behind rune from.
func comment(line []rune, from int) (int, bool) {
	for i := max(from, 1); i < len(line); i++ {
		if line[i] == '#' && blank(line[i-1]) {
			return i, true
		}
	}
	return 0, false
}
