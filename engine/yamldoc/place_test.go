package yamldoc

import (
	"fmt"
	"strings"
	"testing"
	"unicode/utf8"

	"canewright/engine/diagnostic"
)

// TestPlaces names, for each style, the place of every rune of the value and
// of its end: lines and columns from 1, a fold where the line ended.
func TestPlaces(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ name, data, value, places, whole string }{
		{"plain", "k: ab", "ab", "1:4 1:5 1:6", "1:4-1:6"},
		{"plain on two lines", "k: a\n  b", "a b", "1:4 1:5 2:3 2:4", "1:4-2:4"},
		{"plain with an empty line", "k: a \n\n\n  b # c", "a\n\nb", "1:4 2:1 3:1 4:3 4:4", "1:4-4:4"},
		{"plain behind CRLF", "j: x\r\nk: a\r\n  b\r\n", "a b", "2:4 2:5 3:3 3:4", "2:4-3:4"},
		{"plain behind a byte order mark", "\ufeffk: ab", "ab", "1:4 1:5 1:6", "1:4-1:6"},
		{"wide runes", "k: 日本", "日本", "1:4 1:5 1:6", "1:4-1:6"},
		{"combining runes", "k: e\u0301x", "e\u0301x", "1:4 1:5 1:6 1:7", "1:4-1:7"},
		{"plain in brackets", "j: {日: x, k: a b }", "a b", "1:14 1:15 1:16 1:17", "1:14-1:17"},
		{"single quotes", "k: 'a''b'", "a'b", "1:5 1:6 1:8 1:9", "1:4-1:10"},
		{"single quotes on two lines", "k: 'a \n\n  b'", "a\nb", "1:5 2:1 3:3 3:4", "1:4-3:5"},
		{"nothing between quotes", "k: ''", "", "1:5", "1:4-1:6"},
		{"double quotes", `k: "a\tb\u00e9c"`, "a\tbéc", "1:5 1:6 1:8 1:9 1:15 1:16", "1:4-1:17"},
		{"double quotes with an escaped line end", "k: \"a \\\n   b\"", "a b", "1:5 1:6 2:4 2:5", "1:4-2:6"},
		{"double quotes with an escaped line end and an empty line", "k: \"a\\\n\n  b\"", "a\nb", "1:5 2:1 3:3 3:4", "1:4-3:5"},
		{"double quotes on two lines", "k: \"a\n  b\n  \"", "a b ", "1:5 1:6 2:3 2:4 3:3", "1:4-3:4"},
		{"literal", "k: |\n  a\n   b\n\n  c\n", "a\n b\n\nc\n", "2:3 2:4 3:3 3:4 3:5 4:1 5:3 5:4 6:1", "2:3-5:4"},
		{"literal, stripped", "k: |-\n  a\n", "a", "2:3 2:4", "2:3-2:4"},
		{"literal, kept", "k: |+\n  a\n\n", "a\n\n", "2:3 2:4 3:1 4:1", "2:3-2:4"},
		{"literal with its own indentation", "k: |2\n   a\n  b", " a\nb", "2:3 2:4 2:5 3:3 3:4", "2:3-3:4"},
		{"literal without text", "k: |\n", "", "1:4", "1:4-1:5"},
		{"literal behind CRLF", "k: |\r\n  a\r\n  b\r\n", "a\nb\n", "2:3 2:4 3:3 3:4 4:1", "2:3-3:4"},
		{"literal of empty lines", "j:\n  k: |+\n\n\nl: x", "\n\n", "3:1 4:1 5:1", "2:6-2:8"},
		{"folded with blanks only", "k: >\n  ", "", "1:4", "1:4-1:5"},
		{"folded", "k: >\n  a\n  b\n\n  c\n", "a b\nc\n", "2:3 2:4 3:3 4:1 5:3 5:4 6:1", "2:3-5:4"},
		{"folded with an indented line", "k: >-\n  a\n   b\n  c", "a\n b\nc", "2:3 2:4 3:3 3:4 3:5 4:3 4:4", "2:3-4:4"},
		{"folded behind an empty line", "k: >-\n\n  a", "\na", "2:1 3:3 3:4", "2:1-3:4"},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			root, _, list := ParseBytes("f", []byte(c.data))
			if list.Len() > 0 {
				t.Fatal(list.Sorted())
			}
			n := root.Get("k")
			if n == nil {
				n = root.Get("j").Get("k")
			}
			text := n.Text()
			var places []string
			for _, p := range placesOf(text) {
				places = append(places, fmt.Sprintf("%d:%d", p.Line, p.Col))
			}
			w := n.Span()
			whole := fmt.Sprintf("%d:%d-%d:%d", w.From.Line, w.From.Col, w.To.Line, w.To.Col)
			if text.Value != c.value || strings.Join(places, " ") != c.places || whole != c.whole {
				t.Errorf("got  %q at %s, whole %s\nwant %q at %s, whole %s", text.Value, strings.Join(places, " "), whole, c.value, c.places, c.whole)
			}
		})
	}
}

// placesOf is the place of every rune and of the end.
func placesOf(t diagnostic.Text) []diagnostic.Pos {
	if !t.Straight {
		return t.Places
	}
	var out []diagnostic.Pos
	for i := range utf8.RuneCountInString(t.Value) + 1 {
		out = append(out, t.Span(i, i).From)
	}
	return out
}

// walk visits a node and everything in it.
func walk(n *Node, visit func(*Node)) {
	visit(n)
	for _, i := range n.Items() {
		walk(i, visit)
	}
	for _, e := range n.Entries() {
		walk(e.Key, visit)
		walk(e.Value, visit)
	}
}

// misread names the first rune of a text that does not stand where the text
// says it does. A rune from an escape stands at its backslash; a line break or
// a blank may come from the end of a line.
func misread(src *diagnostic.Source, text diagnostic.Text) string {
	places := placesOf(text)
	if places == nil {
		return ""
	}
	value := []rune(text.Value)
	if len(places) != len(value)+1 {
		return fmt.Sprintf("%d places for %q", len(places), text.Value)
	}
	for i, p := range places {
		if p.Line < 1 || p.Line > src.Lines() || p.Col < 1 || p.Col > len(src.Line(p.Line))+1 {
			return fmt.Sprintf("rune %d of %q is at %v, outside the file", i, text.Value, p)
		}
		if i == len(value) {
			break
		}
		if i > 0 && !places[i-1].Before(p) {
			return fmt.Sprintf("rune %d of %q at %v is not behind the one before", i, text.Value, p)
		}
		line := src.Line(p.Line)
		escape := p.Col <= len(line) && line[p.Col-1] == '\\'
		fold := (value[i] == ' ' || value[i] == '\n') && strings.TrimSpace(string(line[p.Col-1:])) == ""
		if !escape && !fold && (p.Col > len(line) || line[p.Col-1] != value[i]) {
			return fmt.Sprintf("rune %d (%q) of %q is not at %v", i, value[i], text.Value, p)
		}
	}
	return ""
}
