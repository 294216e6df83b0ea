package diagnostic

import (
	"os"
	"slices"
	"strings"
	"testing"
)

func TestSortedOrder(t *testing.T) {
	t.Parallel()
	a, b := NewSource("a", []byte("xx\nxx")), NewSource("b", []byte("xx\nxx"))
	want := []Diagnostic{
		{Code: "k/1", Severity: Error, Message: "no file"},
		{Code: "k/1", Severity: Error, Message: "no line", Span: Span{Source: a}},
		{Code: "k/1", Severity: Error, Message: "m", Span: span(a, 1, 1, 2)},
		{Code: "k/1", Severity: Warning, Message: "l", Span: span(a, 1, 1, 2)},
		{Code: "k/1", Severity: Remark, Message: "k", Span: span(a, 1, 1, 2)},
		{Code: "k/1", Severity: Error, Message: "l", Span: span(a, 1, 2, 3)},
		{Code: "k/1", Severity: Error, Message: "m", Span: span(a, 1, 2, 3)},
		{Code: "k/2", Severity: Error, Message: "a", Span: span(a, 1, 2, 3)},
		{Code: "k/1", Severity: Error, Message: "m", Span: span(a, 2, 1, 2)},
		{Code: "k/1", Severity: Error, Message: "m", Span: span(b, 1, 1, 2)},
	}
	same := func(x, y Diagnostic) bool {
		return x.Code == y.Code && x.Severity == y.Severity && x.Message == y.Message && x.Span == y.Span
	}
	for shift := range want {
		var l List
		for i := range want {
			l.Add(want[(i+shift)%len(want)])
		}
		if got := l.Sorted(); !slices.EqualFunc(got, want, same) {
			t.Errorf("added from %d on: got %v", shift, got)
		}
	}
}

func TestSortedDropsRepeats(t *testing.T) {
	t.Parallel()
	src := NewSource("a", []byte("xx"))
	var l, more List
	l.Errorf("k/1", span(src, 1, 1, 2), "m")
	more.Errorf("k/1", span(src, 1, 1, 2), "m")
	more.Errorf("k/1", span(src, 1, 1, 3), "m")
	l.Append(more)
	if l.Len() != 3 || len(l.Sorted()) != 2 {
		t.Errorf("%d kept, %d sorted", l.Len(), len(l.Sorted()))
	}
}

func TestFailedOnlyByErrors(t *testing.T) {
	t.Parallel()
	var l List
	if l.Failed() {
		t.Error("an empty list has failed")
	}
	l.Add(Diagnostic{Severity: Warning})
	l.Add(Diagnostic{Severity: Remark})
	if l.Failed() {
		t.Error("a warning has failed")
	}
	l.Add(Diagnostic{})
	if !l.Failed() {
		t.Error("no severity is not an error")
	}
}

func TestNear(t *testing.T) {
	t.Parallel()
	keys := []string{"title", "stage", "stages", "targets", "do", "measure", "instrument"}
	for word, want := range map[string]string{
		"titel":           "title", // neighbours swapped
		"stag":            "stage",
		"stagez":          "stage", // as near as stages, and first
		"targts":          "targets",
		"mesure":          "measure",
		"instrmnt":        "instrument",
		"go":              "do",
		"xy":              "",
		"wholly":          "",
		"":                "",
		"Title":           "title",
		"measurements of": "",
	} {
		if got := Near(word, keys); got != want {
			t.Errorf("Near(%q) = %q, want %q", word, got, want)
		}
	}
	if got := Near(strings.Repeat("a", 1000), []string{strings.Repeat("a", 999)}); got != "" {
		t.Error("a word of 1000 letters was compared")
	}
}

func TestTextSpan(t *testing.T) {
	t.Parallel()
	src := NewSource("f", []byte("k: ab\n  cd\n"))
	text := Text{Value: "ab cd", Whole: Span{src, Pos{1, 4}, Pos{2, 5}},
		Places: []Pos{{1, 4}, {1, 5}, {1, 6}, {2, 3}, {2, 4}, {2, 5}}}
	for _, c := range []struct {
		from, to int
		want     Span
	}{
		{0, 2, Span{src, Pos{1, 4}, Pos{1, 6}}},
		{0, 3, Span{src, Pos{1, 4}, Pos{1, 6}}}, // the fold is behind the line's last rune
		{3, 5, Span{src, Pos{2, 3}, Pos{2, 5}}},
		{1, 4, Span{src, Pos{1, 5}, Pos{2, 4}}},
		{5, 5, Span{src, Pos{2, 5}, Pos{2, 5}}},
		{-3, 99, Span{src, Pos{1, 4}, Pos{2, 5}}},
		{4, 2, Span{src, Pos{2, 4}, Pos{2, 4}}},
	} {
		if got := text.Span(c.from, c.to); got != c.want {
			t.Errorf("Span(%d, %d) = %v to %v, want %v to %v", c.from, c.to, got.From, got.To, c.want.From, c.want.To)
		}
	}
	text.Places = nil
	if got := text.Span(1, 2); got != text.Whole {
		t.Errorf("without places got %v", got)
	}
}

func TestPlainCountsLines(t *testing.T) {
	t.Parallel()
	text := Plain("bench", "日b\nc")
	if got := text.Span(3, 4); got.From != (Pos{2, 1}) || got.To != (Pos{2, 2}) || got.Source.Name != "bench" {
		t.Errorf("got %v to %v", got.From, got.To)
	}
}

func TestCodesAreSortedAndWellFormed(t *testing.T) {
	t.Parallel()
	file, err := os.ReadFile("code.go")
	if err != nil {
		t.Fatal(err)
	}
	var written []string
	for _, line := range strings.Split(string(file), "\n") {
		if rest, ok := strings.CutPrefix(line, "\t\t\""); ok {
			code, _, _ := strings.Cut(rest, "\"")
			written = append(written, code)
		}
	}
	if len(written) != len(Codes()) || !slices.IsSorted(written) {
		t.Errorf("%d lines for %d codes, sorted: %v", len(written), len(Codes()), slices.IsSorted(written))
	}
	for code, meaning := range Codes() {
		group, word, ok := strings.Cut(code, "/")
		if !ok || group == "" || word == "" || strings.ToLower(code) != code || strings.ContainsAny(code, " _") {
			t.Errorf("%q is no pair of lower-case words", code)
		}
		if meaning == "" || strings.ContainsAny(meaning, "\n") || strings.HasSuffix(meaning, ".") {
			t.Errorf("%s: meaning %q", code, meaning)
		}
	}
}
