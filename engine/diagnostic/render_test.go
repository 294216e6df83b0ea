package diagnostic

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"
)

// span is the stretch of one line from a column to before another.
func span(src *Source, line, from, to int) Span {
	return Span{src, Pos{line, from}, Pos{line, to}}
}

func TestString(t *testing.T) {
	t.Parallel()
	long := strings.Repeat("a", 150) + "MARK" + strings.Repeat("b", 150)
	for _, c := range []struct {
		name, text string
		at         func(*Source) Span
		want       string
	}{
		{"one rune", "ab\ncd", func(s *Source) Span { return span(s, 2, 2, 3) },
			"f:2:2: error: m [a/b]\n  2 | cd\n    |  ^\n"},
		{"several runes", "width: 3 mm", func(s *Source) Span { return span(s, 1, 8, 12) },
			"f:1:8: error: m [a/b]\n  1 | width: 3 mm\n    |        ^~~~\n"},
		{"no width", "ab", func(s *Source) Span { return span(s, 1, 3, 3) },
			"f:1:3: error: m [a/b]\n  1 | ab\n    |   ^\n"},
		{"over several lines", "a: b c\n  d", func(s *Source) Span { return Span{s, Pos{1, 4}, Pos{2, 4}} },
			"f:1:4: error: m [a/b]\n  1 | a: b c\n    |    ^~~\n"},
		{"tabs are copied", "\ta\tb", func(s *Source) Span { return span(s, 1, 4, 5) },
			"f:1:4: error: m [a/b]\n  1 | \ta\tb\n    | \t \t^\n"},
		{"wide runes count two", "日本: x", func(s *Source) Span { return span(s, 1, 5, 6) },
			"f:1:5: error: m [a/b]\n  1 | 日本: x\n    |       ^\n"},
		{"marked wide runes", "日本x", func(s *Source) Span { return span(s, 1, 1, 4) },
			"f:1:1: error: m [a/b]\n  1 | 日本x\n    | ^~~~~\n"},
		{"combining runes count nothing", "e\u0301e\u0301 x", func(s *Source) Span { return span(s, 1, 6, 7) },
			"f:1:6: error: m [a/b]\n  1 | e\u0301e\u0301 x\n    |    ^\n"},
		{"line numbers of two digits", strings.Repeat("\n", 11) + "a", func(s *Source) Span { return span(s, 12, 1, 2) },
			"f:12:1: error: m [a/b]\n  12 | a\n     | ^\n"},
		{"a long line is cut around the mark", long, func(s *Source) Span { return span(s, 1, 151, 155) },
			"f:1:151: error: m [a/b]\n  1 | …" + strings.Repeat("a", 33) + "MARK" + strings.Repeat("b", 63) + "…\n" +
				"    |  " + strings.Repeat(" ", 33) + "^~~~\n"},
		{"the start of a long line", long, func(s *Source) Span { return span(s, 1, 1, 2) },
			"f:1:1: error: m [a/b]\n  1 | " + strings.Repeat("a", 100) + "…\n    | ^\n"},
		{"controls are not shown", "a\x1b[31m b", func(s *Source) Span { return span(s, 1, 8, 9) },
			"f:1:8: error: m [a/b]\n  1 | a\ufffd[31m b\n    |        ^\n"},
		{"the file only", "ab", func(s *Source) Span { return Span{Source: s} }, "f: error: m [a/b]\n"},
		{"no place", "", func(*Source) Span { return Span{} }, "error: m [a/b]\n"},
		{"a line the file does not have", "ab", func(s *Source) Span { return span(s, 7, 1, 1) }, "f:7:1: error: m [a/b]\n"},
		{"CRLF and a byte order mark", "\ufeffa\r\nb\r\n", func(s *Source) Span { return span(s, 2, 1, 2) },
			"f:2:1: error: m [a/b]\n  2 | b\n    | ^\n"},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			d := Diagnostic{Code: "a/b", Severity: Error, Message: "m", Span: c.at(NewSource("f", []byte(c.text)))}
			if got := d.String(); got != c.want {
				t.Errorf("got\n%s\nwant\n%s", got, c.want)
			}
		})
	}
}

func TestStringWithRelatedAndHint(t *testing.T) {
	t.Parallel()
	src := NewSource("f", []byte("a: 1\na: 2\n"))
	d := Diagnostic{Code: "a/b", Severity: Warning, Message: "twice\x1b", Hint: "keep\none", Span: span(src, 2, 1, 2),
		Related: []Related{{"first here", span(src, 1, 1, 2)}}}
	want := "f:2:1: warning: twice\ufffd [a/b]\n  2 | a: 2\n    | ^\nf:1:1: first here\n  1 | a: 1\n    | ^\n  hint: keep one\n"
	if got := d.String(); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

func TestTextStopsAtMost(t *testing.T) {
	t.Parallel()
	src := NewSource("f", []byte(strings.Repeat("x\n", 30)))
	var l List
	for i := 25; i > 0; i-- {
		l.Errorf("a/b", span(src, i, 1, 2), "finding %d", i)
	}
	var b strings.Builder
	if err := l.Text(&b); err != nil {
		t.Fatal(err)
	}
	got := b.String()
	if strings.Count(got, ": error: ") != Most || !strings.HasPrefix(got, "f:1:1: error: finding 1 [a/b]\n") ||
		!strings.HasSuffix(got, "and 5 more; mend these first\n") {
		t.Errorf("got\n%s", got)
	}
}

func TestJSON(t *testing.T) {
	t.Parallel()
	src := NewSource("f", []byte("a: 1\na: 2\n"))
	var l List
	l.Add(Diagnostic{Code: "a/b", Message: "twice", Hint: "keep one", Replace: "b", Span: span(src, 2, 1, 2), Related: []Related{{"first", span(src, 1, 1, 2)}}})
	l.Add(Diagnostic{Code: "a/c", Severity: Remark, Message: "no place"})
	got, err := json.Marshal(l)
	if err != nil {
		t.Fatal(err)
	}
	want := `{"count":2,"findings":[{"code":"a/c","severity":"remark","message":"no place"},` +
		`{"code":"a/b","severity":"error","message":"twice","hint":"keep one","replace":"b","file":"f","line":2,"column":1,"end_line":2,"end_column":2,` +
		`"related":[{"message":"first","file":"f","line":1,"column":1,"end_line":1,"end_column":2}]}]}`
	if string(got) != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	if got, err := json.Marshal(List{}); err != nil || string(got) != `{"count":0,"findings":[]}` {
		t.Errorf("empty list: %s, %v", got, err)
	}
	var many List
	for i := range Most + 3 {
		many.Errorf("a/b", span(src, 1, 1, 2), "finding %02d", i)
	}
	got, err = json.Marshal(many)
	if err != nil || strings.Count(string(got), `"code"`) != Most || !strings.HasPrefix(string(got), `{"count":23,`) {
		t.Errorf("%d findings, %v: %.40s", strings.Count(string(got), `"code"`), err, got)
	}
}

func TestClean(t *testing.T) {
	t.Parallel()
	for in, want := range map[string]string{
		"plain é日 e\u0301": "plain é日 e\u0301",
		"a\tb\nc":          "a b c",
		"\x1b[31m":         "\ufffd[31m",
		"a\rb\x00\x7f":     "a\ufffdb\ufffd\ufffd",
		"\u009b31m":        "\ufffd31m",
		"a\u202eb\u2066":   "a\ufffdb\ufffd",
		"a\u200bb\ufeff":   "a\ufffdb\ufffd",
		"\U000e0041":       "\ufffd",
	} {
		if got := Clean(in); got != want {
			t.Errorf("Clean(%q) = %q, want %q", in, got, want)
		}
	}
}

func ExampleList_Text() {
	text := Plain("recipe.yaml", "width: at lest 3 mm")
	var l List
	l.Hinted("a/b", text.Span(10, 14), `did you mean "least"?`, "unknown word %q", "lest")
	var b strings.Builder
	_ = l.Text(&b)
	fmt.Print(b.String())
	// Output:
	// recipe.yaml:1:11: error: unknown word "lest" [a/b]
	//   1 | width: at lest 3 mm
	//     |           ^~~~
	//   hint: did you mean "least"?
}
