package diagnostic

import (
	"encoding/json"
	"fmt"
	"io"
	"strconv"
	"strings"
)

// Text writes the findings for a reader, at most Most of them:
//
//	recipe.yaml:5:14: error: unknown name "targt" [formula/unknown-name]
//	  5 |       && v < targt
//	    |              ^~~~~
//	  hint: did you mean "target"?
func (l *List) Text(w io.Writer) error {
	all := l.Sorted()
	for i, d := range all {
		if i == Most {
			_, err := fmt.Fprintf(w, "and %d more; mend these first\n", len(all)-Most)
			return err
		}
		if _, err := io.WriteString(w, d.String()); err != nil {
			return err
		}
	}
	return nil
}

// String is the finding as Text writes it.
func (d Diagnostic) String() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s%s: %s [%s]\n", d.Span.prefix(), d.Severity, Clean(d.Message), d.Code)
	d.Span.excerpt(&b)
	for _, r := range d.Related {
		fmt.Fprintf(&b, "%s%s\n", r.Span.prefix(), Clean(r.Message))
		r.Span.excerpt(&b)
	}
	if d.Hint != "" {
		fmt.Fprintf(&b, "  hint: %s\n", Clean(d.Hint))
	}
	return b.String()
}

func (s Span) prefix() string {
	if s.Source == nil {
		return ""
	}
	if s.From.Line == 0 {
		return Clean(s.Source.Name) + ": "
	}
	return fmt.Sprintf("%s:%d:%d: ", Clean(s.Source.Name), s.From.Line, s.From.Col)
}

// widest: a longer line is shown only around the caret.
const widest = 100

func (s Span) excerpt(b *strings.Builder) {
	if s.Source == nil || s.From.Line < 1 || s.From.Line > s.Source.Lines() {
		return
	}
	line := s.Source.Line(s.From.Line)
	from := min(s.From.Col-1, len(line))
	to := len(line)
	if s.To.Line == s.From.Line {
		to = min(s.To.Col-1, len(line))
	}
	to = max(to, from)
	start, end, lead := 0, len(line), ""
	if len(line) > widest {
		start = max(0, from-widest/3)
		end = min(len(line), start+widest)
		if start > 0 {
			lead = "…"
		}
	}
	tail := ""
	if end < len(line) {
		tail = "…"
	}
	num := strconv.Itoa(s.From.Line)
	fmt.Fprintf(b, "  %s | %s%s%s\n", num, lead, shown(line[start:end]), tail)
	fmt.Fprintf(b, "  %s | %s", strings.Repeat(" ", len(num)), strings.Repeat(" ", len([]rune(lead))))
	for _, r := range line[start:from] {
		switch {
		case r == '\t':
			b.WriteByte('\t')
		case wide(r):
			b.WriteString("  ")
		case combining(r):
		default:
			b.WriteByte(' ')
		}
	}
	b.WriteByte('^')
	n := 0
	for _, r := range line[from:min(to, end)] {
		switch {
		case wide(r):
			n += 2
		case !combining(r):
			n++
		}
	}
	if n > 1 {
		b.WriteString(strings.Repeat("~", n-1))
	}
	b.WriteByte('\n')
}

// mostEchoed is how many letters of a stranger's word a message repeats.
const mostEchoed = 60

// Clip keeps short what is echoed of a stranger's words.
func Clip(s string) string {
	if r := []rune(s); len(r) > mostEchoed {
		return string(r[:mostEchoed]) + "…"
	}
	return s
}

// Clean makes a text safe for a terminal: every control character, and every
// rune that reorders or hides text, becomes U+FFFD. Tabs and line feeds become
// blanks.
func Clean(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\t' || r == '\n':
			return ' '
		case Unsafe(r):
			return '\ufffd'
		}
		return r
	}, s)
}

func shown(line []rune) string {
	return strings.Map(func(r rune) rune {
		if r != '\t' && Unsafe(r) {
			return '\ufffd'
		}
		return r
	}, string(line))
}

// Unsafe reports runes that must not reach a terminal: C0 and C1 controls
// (escape sequences begin with one) and the bidirectional and invisible
// format characters.
func Unsafe(r rune) bool {
	switch {
	case r < 0x20, r >= 0x7f && r < 0xa0:
		return true
	case r >= 0x200b && r <= 0x200f, r >= 0x2028 && r <= 0x202e, r >= 0x2060 && r <= 0x206f, r == 0xfeff, r >= 0xfff9 && r <= 0xfffb, r >= 0xe0000 && r <= 0xe007f:
		return true
	}
	return false
}

func combining(r rune) bool { return r >= 0x300 && r <= 0x36f }

func wide(r rune) bool {
	return r >= 0x1100 && (r <= 0x115f || r >= 0x2e80 && r <= 0xa4cf || r >= 0xac00 && r <= 0xd7a3 ||
		r >= 0xf900 && r <= 0xfaff || r >= 0xfe30 && r <= 0xfe6f || r >= 0xff00 && r <= 0xff60 || r >= 0x1f300 && r <= 0x1faff)
}

type jsonPlace struct {
	File      string `json:"file,omitempty"`
	Line      int    `json:"line,omitempty"`
	Column    int    `json:"column,omitempty"`
	EndLine   int    `json:"end_line,omitempty"`
	EndColumn int    `json:"end_column,omitempty"`
}

func (s Span) place() jsonPlace {
	p := jsonPlace{Line: s.From.Line, Column: s.From.Col, EndLine: s.To.Line, EndColumn: s.To.Col}
	if s.Source != nil {
		p.File = s.Source.Name
	}
	return p
}

// MarshalJSON writes the finding with its place: file, line, column, end_line,
// end_column (the first column after it).
func (d Diagnostic) MarshalJSON() ([]byte, error) {
	type related struct {
		Message string `json:"message"`
		jsonPlace
	}
	out := struct {
		Code     string   `json:"code"`
		Severity Severity `json:"severity"`
		Message  string   `json:"message"`
		Hint     string   `json:"hint,omitempty"`
		Replace  string   `json:"replace,omitempty"`
		jsonPlace
		Related []related `json:"related,omitempty"`
	}{Code: d.Code, Severity: d.Severity, Message: d.Message, Hint: d.Hint, Replace: d.Replace, jsonPlace: d.Span.place()}
	for _, r := range d.Related {
		out.Related = append(out.Related, related{r.Message, r.Span.place()})
	}
	return json.Marshal(out)
}

// MarshalJSON writes all findings, sorted, at most Most, and how many there are.
func (l List) MarshalJSON() ([]byte, error) {
	all := l.Sorted()
	out := struct {
		Count    int          `json:"count"`
		Findings []Diagnostic `json:"findings"`
	}{len(all), all[:min(len(all), Most)]}
	if out.Findings == nil {
		out.Findings = []Diagnostic{}
	}
	return json.Marshal(out)
}
