package diagnostic

import (
	"cmp"
	"fmt"
	"slices"
)

// Severity ranks a finding. Only an Error keeps a file from being used.
type Severity string

const (
	Error   Severity = "error"
	Warning Severity = "warning"
	Remark  Severity = "remark"
)

// Related points at a second place that belongs to a finding.
type Related struct {
	Message string
	Span    Span
}

// Diagnostic is one finding. Code is a stable word pair (see Codes); Message
// is lower case and has no full stop; Hint says what to do.
type Diagnostic struct {
	Code     string
	Severity Severity
	Message  string
	Hint     string
	Span     Span
	Related  []Related
	// Replace is what stands in the place of Span once the finding is mended;
	// empty where that takes a person.
	Replace string
}

// Most is how many findings are shown of one file.
const Most = 20

// mostKept is how many are kept: a stranger's file may have one in each line.
const mostKept = 10_000

// List collects findings. The zero List is ready for use.
type List struct{ items []Diagnostic }

// Add appends d; Severity "" means Error.
func (l *List) Add(d Diagnostic) {
	if d.Severity == "" {
		d.Severity = Error
	}
	if len(l.items) >= mostKept && (d.Severity != Error || l.Failed()) {
		return
	}
	l.items = append(l.items, d)
}

// Errorf appends an error without a hint.
func (l *List) Errorf(code string, at Span, format string, a ...any) {
	l.Add(Diagnostic{Code: code, Span: at, Message: fmt.Sprintf(format, a...)})
}

// Hinted appends an error with a hint.
func (l *List) Hinted(code string, at Span, hint, format string, a ...any) {
	l.Add(Diagnostic{Code: code, Span: at, Hint: hint, Message: fmt.Sprintf(format, a...)})
}

// Append takes over the findings of other.
func (l *List) Append(other List) { l.items = append(l.items, other.items...) }

// Len is the number of findings.
func (l *List) Len() int { return len(l.items) }

// Failed reports whether one of the findings is an error.
func (l *List) Failed() bool {
	return slices.ContainsFunc(l.items, func(d Diagnostic) bool { return d.Severity == Error })
}

// Sorted is all findings by file, place, severity, code and message, without
// repeats.
func (l *List) Sorted() []Diagnostic {
	out := slices.Clone(l.items)
	rank := map[Severity]int{Error: 0, Warning: 1, Remark: 2}
	name := func(d Diagnostic) string {
		if d.Span.Source == nil {
			return ""
		}
		return d.Span.Source.Name
	}
	slices.SortStableFunc(out, func(a, b Diagnostic) int {
		return cmp.Or(cmp.Compare(name(a), name(b)), cmp.Compare(a.Span.From.Line, b.Span.From.Line),
			cmp.Compare(a.Span.From.Col, b.Span.From.Col), cmp.Compare(rank[a.Severity], rank[b.Severity]),
			cmp.Compare(a.Code, b.Code), cmp.Compare(a.Message, b.Message))
	})
	return slices.CompactFunc(out, func(a, b Diagnostic) bool {
		return a.Code == b.Code && a.Message == b.Message && a.Span == b.Span
	})
}
