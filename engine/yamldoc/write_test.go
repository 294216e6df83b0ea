package yamldoc

import (
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestQuote(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]string{
		"27.0 ± 0.5 mm":     "27.0 ± 0.5 mm",
		">= 3 mm":           "'>= 3 mm'",
		"a: b":              "'a: b'",
		"paper #400":        "paper #400",
		"paper, #400":       "paper, #400",
		"look, #400 paper":  "look, #400 paper",
		"two # signs":       "'two # signs'",
		`"quoted" start`:    `'"quoted" start'`,
		"it's":              "it's",
		"'tis":              "'''tis'",
		"- a dash":          "'- a dash'",
		"{wire.first} here": "'{wire.first} here'",
		"two\nlines":        "two lines",
	} {
		if text == "paper, #400" || text == "look, #400 paper" || text == "paper #400" {
			want = "'" + text + "'" // a blank before # begins a comment
		}
		if got := Quote(text, false); got != want {
			t.Errorf("%q: %s, want %s", text, got, want)
		}
	}
	if got := Quote("14,6 mm", true); got != "'14,6 mm'" {
		t.Errorf("a comma in flow: %s", got)
	}
}

// What Quote and Lines write is read back as it was.
func TestWrittenIsReadBack(t *testing.T) {
	t.Parallel()
	signs := rapid.StringOfN(rapid.RuneFrom([]rune(`ab 0.5,:#-'"{}[]>|&*!%@`+"`"+`?=~\±é`)), 1, 12, -1)
	text := rapid.Custom(func(t *rapid.T) string { return strings.TrimSpace(signs.Draw(t, "text")) }).Filter(func(s string) bool { return s != "" })
	rapid.Check(t, func(t *rapid.T) {
		a, b, c := text.Draw(t, "a"), text.Draw(t, "b"), text.Draw(t, "c")
		doc := "x: " + Quote(a, false) + "\ny: {k: " + Quote(b, true) + "}\nz:\n  - " + Quote(c, false) + "\n"
		root, _, list := ParseBytes("t", []byte(doc))
		if list.Len() > 0 || root == nil {
			t.Fatalf("%s is refused: %v", doc, list.Sorted())
		}
		if root.Get("x").Value() != a || root.Get("y").Get("k").Value() != b || root.Get("z").Items()[0].Value() != c {
			t.Fatalf("%q %q %q became\n%s", a, b, c, doc)
		}
		again, _, list := ParseBytes("t", []byte(strings.Join(root.Lines(), "\n")+"\n"))
		if list.Len() > 0 || again.OneLine() != root.OneLine() {
			t.Fatalf("%s became %s: %v", root.OneLine(), again.OneLine(), list.Sorted())
		}
	})
}
