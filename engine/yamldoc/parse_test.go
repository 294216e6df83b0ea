package yamldoc

import (
	"strings"
	"testing"
	"time"

	"canewright/engine/diagnostic"
)

// TestRefusedBytes holds the refusals whose files cannot be shown as text.
func TestRefusedBytes(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ name, data, code, at string }{
		{"a byte that is no UTF-8", "a: b\né: \xff", "yaml/not-utf8", "2:4"},
		{"Latin-1", "a: caf\xe9\n", "yaml/not-utf8", "1:7"},
		{"UTF-16", "\xff\xfea\x00", "yaml/not-utf8", "1:1"},
		{"an escape sequence", "a: b\nc: \x1b[31md", "yaml/unsafe-character", "2:4"},
		{"a NUL", "a: \x00", "yaml/unsafe-character", "1:4"},
		{"a lone carriage return", "a: b\rc: d", "yaml/unsafe-character", "1:5"},
		{"a C1 control", "a: \u009b31m", "yaml/unsafe-character", "1:4"},
		{"a reordering mark", "# \u202e\na: b", "yaml/unsafe-character", "1:3"},
		{"a blank without width", "a: b\u200bc", "yaml/unsafe-character", "1:5"},
		{"a byte order mark inside", "a: \ufeffb", "yaml/unsafe-character", "1:4"},
		{"a line separator", "a: b\u2028c: d", "yaml/unsafe-character", "1:5"},
		{"a non-character", "a: \uffff", "yaml/unsafe-character", "1:4"},
		{"an escaped control in a folded text", "a: \"x\n  é\\x07\"", "yaml/unsafe-character", "2:4"},
		{"an escaped surrogate", "a: \"\\ud800\"", "yaml/bad-escape", "1:5"},
		{"an escape beyond Unicode", "[a\\q, \"\\\\\\U00110000\"]", "yaml/bad-escape", "1:10"},
		{"a hexadecimal escape cut short", "a: \"\\x4\n  b\"", "yaml/bad-escape", "1:5"},
		{"a tab behind CRLF", "a:\r\n\tb: c\r\n", "yaml/tab", "2:1"},
		{"too many values", "a: [" + strings.Repeat("1, ", maxNodes) + "]", "yaml/too-many-nodes", "1:449996"},
		{"far too many values", "# , , ,\n" + strings.Repeat("- {a,,}\n", maxMarks), "yaml/too-many-nodes", "27144:1"},
		{"too deep for the parser", strings.Repeat("[", 10_100), "yaml/too-deep", "1:1"},
		{"too deep", strings.Repeat("- ", 22) + "a", "yaml/too-deep", "1:41"},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			_, _, list := ParseBytes("f", []byte(c.data))
			all := list.Sorted()
			if len(all) != 1 {
				t.Fatalf("%d findings: %v", len(all), all)
			}
			if got := all[0].String(); all[0].Code != c.code || !strings.HasPrefix(got, "f:"+c.at+": ") {
				t.Errorf("got %q, want %s at %s", got[:min(len(got), 300)], c.code, c.at)
			}
		})
	}
}

func TestLimitsThemselvesAreAllowed(t *testing.T) {
	t.Parallel()
	for name, data := range map[string]string{
		"twenty deep": strings.Repeat("- ", 20) + "a",
		"values":      "- [" + strings.Repeat("1, ", maxNodes-2-1) + "1]", // with the two lists
		"bytes":       "a: " + strings.Repeat("x", maxBytes-3),
	} {
		if root, _, list := ParseBytes("f", []byte(data)); root == nil || list.Len() > 0 {
			t.Errorf("%s: %v", name, list.Sorted())
		}
	}
}

func TestTooLargeNamesOnlyTheFile(t *testing.T) {
	t.Parallel()
	_, _, list := ParseBytes("f", make([]byte, maxBytes+1))
	all := list.Sorted()
	if len(all) != 1 || all[0].Code != "yaml/too-large" || !strings.HasPrefix(all[0].String(), "f: error: ") {
		t.Errorf("got %v", all)
	}
}

// TestHostileFilesEndSoon allows far more time than is needed, for slow and
// busy machines.
func TestHostileFilesEndSoon(t *testing.T) {
	t.Parallel()
	fill := func(s string) string { return strings.Repeat(s, maxBytes/len(s)) }
	for name, data := range map[string]string{
		"open brackets": fill("["), "open braces": fill("{"), "dashes": fill("- "), "empty items": fill("-\n"), "questions": fill("? "),
		"comments": fill("# a\n"), "deep comments": "a:\n" + fill("  # a\n"), "keys": fill("a: b\n"), "commas": "[" + fill("a,")[2:],
		"open quote": "\"" + fill("a\n")[1:], "blank lines": fill("\n"), "colons": fill(":"), "comparisons": fill("- >= 3\n"),
		"aliases": "a: &a [x]\nb: [" + fill("*a,")[20:], "wide folds": "a: >\n" + fill(" x\n\n")[8:], "long line": "a: " + fill("é")[4:],
		"lost comments": fill("- a #b\n"), "quotes in brackets": fill("[\""), "late mistakes": fill("a: b\n")[500:] + strings.Repeat("c: \"d\" e\n", 25), "late mistake": fill("a: b\n")[8:] + "\n c: d",
	} {
		t.Run(name, func(t *testing.T) {
			start := time.Now()
			root, _, list := ParseBytes("f", []byte(data))
			if root == nil && list.Len() == 0 {
				t.Error("neither a tree nor a finding")
			}
			if d := time.Since(start); d > 30*time.Second {
				t.Errorf("took %v", d)
			} else {
				t.Log(d)
			}
		})
	}
}

func TestTextsStayTexts(t *testing.T) {
	t.Parallel()
	root, _, list := ParseBytes("f", []byte(`
a: 1.5
b: 010
c: yes
d: .nan
e: 0x1F
f: 1_000
g: 2001-01-01
h: null
i: "~"
j: ""
no: going on
`))
	if list.Len() > 0 {
		t.Fatal(list.Sorted())
	}
	for key, want := range map[string]string{"a": "1.5", "b": "010", "c": "yes", "d": ".nan", "e": "0x1F", "f": "1_000", "g": "2001-01-01",
		"h": "null", "i": "~", "j": "", "no": "going on"} {
		n := root.Get(key)
		if n.Shape() != Scalar || n.Value() != want {
			t.Errorf("%s: %v %q, want the text %q", key, n.Shape(), n.Value(), want)
		}
	}
}

func TestShapes(t *testing.T) {
	t.Parallel()
	root, _, list := ParseBytes("f", []byte("a: [x, 'y']\nb: {c: z}\nd:\ne: ~\nf: |\n  g\n"))
	if list.Len() > 0 {
		t.Fatal(list.Sorted())
	}
	for _, c := range []struct {
		n            *Node
		shape        Shape
		quoted, flow bool
	}{
		{root, Map, false, false},
		{root.Get("a"), List, false, false},
		{root.Get("a").Items()[0], Scalar, false, true},
		{root.Get("a").Items()[1], Scalar, true, true},
		{root.Get("b"), Map, false, false},
		{root.Get("b").Get("c"), Scalar, false, true},
		{root.Get("d"), Empty, false, false},
		{root.Get("e"), Empty, false, false},
		{root.Get("f"), Scalar, true, false},
		{root.Get("none"), Empty, false, false},
		{nil, Empty, false, false},
	} {
		if c.n.Shape() != c.shape || c.n.Quoted() != c.quoted || c.n.Flow() != c.flow {
			t.Errorf("%v: %v, quoted %v, flow %v; want %v %v %v", c.n.Span(), c.n.Shape(), c.n.Quoted(), c.n.Flow(), c.shape, c.quoted, c.flow)
		}
	}
	var none *Node
	if none.Value() != "" || none.Items() != nil || none.Entries() != nil || none.Get("a") != nil || none.Span() != (diagnostic.Span{}) {
		t.Error("a nil node is not empty")
	}
}

func TestDecimalCommaIsJoined(t *testing.T) {
	t.Parallel()
	root, _, list := ParseBytes("f", []byte("a: {value: 14,6 mm, why: b}\n"))
	if n := root.Get("a"); len(n.Entries()) != 2 || n.Get("value").Value() != "14,6 mm" || list.Len() != 1 {
		t.Errorf("got %d entries, %q, %v", len(n.Entries()), n.Get("value").Value(), list.Sorted())
	}
}

func TestFieldsReadsInFileOrderAndOnce(t *testing.T) {
	t.Parallel()
	root, _, list := ParseBytes("f", []byte("b: 1\na: 2\nb: 3\nc:\n"))
	var got []string
	note := func(k, v *Node) { got = append(got, k.Value()+"="+v.Value()) }
	root.Fields("a test", &list, Field{"a", true, note}, Field{"b", true, note}, Field{"c", false, note})
	if strings.Join(got, " ") != "b=1 a=2 c=" {
		t.Errorf("read %v", got)
	}
	if all := list.Sorted(); len(all) != 1 || all[0].Code != "yaml/duplicate-key" || len(all[0].Related) != 1 {
		t.Errorf("findings %v", all)
	}
}
