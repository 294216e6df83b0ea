package yamldoc

import "strings"

// Quote writes a text so that Parse reads it back as it is: plain where that is
// read the same, else between '…'. In flow it may stand inside […] or {…}. A
// text of several lines becomes one line.
func Quote(text string, flow bool) string {
	text = strings.Join(strings.FieldsFunc(text, func(r rune) bool { return r == '\n' || r == '\r' }), " ")
	if reads(text, text, flow) {
		return text
	}
	return "'" + strings.ReplaceAll(text, "'", "''") + "'"
}

// reads reports that written is read as text.
func reads(written, text string, flow bool) bool {
	doc := "k: " + written + "\n"
	if flow {
		doc = "k: {a: " + written + ", b: [" + written + "]}\n"
	}
	root, _, list := ParseBytes("", []byte(doc))
	if root == nil || list.Len() > 0 || len(root.Entries()) != 1 {
		return false
	}
	v := root.Get("k")
	if !flow {
		return v.Shape() == Scalar && v.Value() == text
	}
	items := v.Get("b").Items()
	return len(v.Entries()) == 2 && v.Get("a").Value() == text && len(items) == 1 && items[0].Value() == text
}

// OneLine writes a node on one line, lists as […] and maps as {…}.
func (n *Node) OneLine() string { return n.inline(false) }

func (n *Node) inline(flow bool) string {
	switch n.Shape() {
	case Scalar:
		return Quote(strings.TrimSpace(n.Value()), flow)
	case List:
		parts := make([]string, len(n.items))
		for i, it := range n.items {
			parts[i] = it.inline(true)
		}
		return "[" + strings.Join(parts, ", ") + "]"
	case Map:
		parts := make([]string, len(n.entries))
		for i, e := range n.entries {
			parts[i] = e.Key.inline(true) + ": " + e.Value.inline(true)
		}
		return "{" + strings.Join(parts, ", ") + "}"
	}
	return ""
}

// Lines writes a map's entries or a list's items, one thing a line, without
// indentation.
func (n *Node) Lines() []string {
	var out []string
	switch n.Shape() {
	case List:
		for _, it := range n.items {
			out = append(out, prefixed(it.Lines(), "- ")...)
		}
	case Map:
		for _, e := range n.entries {
			out = append(out, Entered(e.Key.inline(false), e.Value)...)
		}
	case Scalar:
		if text := n.Value(); strings.Contains(strings.TrimRight(text, "\n"), "\n") {
			out = append(out, "|")
			for _, l := range strings.Split(strings.TrimRight(text, "\n"), "\n") {
				if l != "" {
					l = "  " + l
				}
				out = append(out, l)
			}
			return out
		}
		out = append(out, n.inline(false))
	}
	return out
}

// Entered is "key: value" in lines: a text behind the key, anything else below
// it.
func Entered(key string, v *Node) []string {
	switch {
	case v.Shape() == Empty:
		return []string{key + ":"}
	case v.Shape() == Scalar:
		lines := v.Lines()
		return append([]string{key + ": " + lines[0]}, lines[1:]...)
	case len(v.Items()) == 0 && len(v.Entries()) == 0:
		return []string{key + ": " + v.inline(false)}
	}
	return append([]string{key + ":"}, Indented(v.Lines(), 2)...)
}

// prefixed puts a sign before the first line and as many blanks before the
// others.
func prefixed(lines []string, sign string) []string {
	if len(lines) == 0 {
		return []string{strings.TrimRight(sign, " ")}
	}
	out := Indented(lines, len(sign))
	out[0] = sign + lines[0]
	return out
}

// Indented moves lines to the right; empty ones stay empty.
func Indented(lines []string, by int) []string {
	out := make([]string, len(lines))
	for i, l := range lines {
		if l != "" {
			l = strings.Repeat(" ", by) + l
		}
		out[i] = l
	}
	return out
}
