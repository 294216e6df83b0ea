package terminal_test

import (
	"strings"
	"testing"

	"canewright/cmd/internal/terminal"
)

func TestWrap(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		lead, text string
		width      int
		want       string
	}{
		"fits":                 {"- ", "cut the tip", 20, "- cut the tip"},
		"breaks under itself":  {"- ", "cut the tip long on purpose", 16, "- cut the tip|  long on|  purpose"},
		"a long word alone":    {"", "a " + strings.Repeat("x", 30) + " b", 10, "a|" + strings.Repeat("x", 30) + "|b"},
		"runes, not bytes":     {"", "µµµµ µµµµ", 9, "µµµµ µµµµ"},
		"two columns a sign":   {"- ", "竹の色 竹の色 a", 11, "- 竹の色|  竹の色 a"},
		"a sign that joins":    {"", "e\u0301e\u0301 ee", 5, "e\u0301e\u0301 ee"},
		"blanks fold":          {"", "a   b\t c", 10, "a b c"},
		"nothing":              {"> ", "", 10, "> "},
		"exactly the width":    {"", "12345 789", 9, "12345 789"},
		"one over":             {"", "12345 7890", 9, "12345|7890"},
		"lead of another size": {"  skip  ", "leave this out", 16, "  skip  leave|        this out"},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			if got := strings.Join(terminal.Wrap(c.lead, c.text, c.width), "|"); got != c.want {
				t.Errorf("got  %q\nwant %q", got, c.want)
			}
		})
	}
}
