package formula

import (
	"strings"

	"canewright/engine/diagnostic"
	"canewright/engine/quantity"
)

// Symbol is what a name in a formula stands for.
type Symbol struct {
	Name string // as the dimension set has it, for messages
	Slot int    // its place in the vector of values
	Kind quantity.Kind
	// Condition and Datum are what a reading needs to be compared with another.
	// Condition is "wet", "dry", or "either" or "" for one that fits both. Datum
	// is the place a length is counted from ("the butt"), "" for a size across or
	// a length from nowhere; of other kinds it means nothing.
	Condition, Datum string
}

// Scope is all that formulas know of dimensions and settings. It may also be
// Functions and Places.
type Scope interface {
	// Lookup finds a dotted name (dimension, alias, setting).
	Lookup(name string) (Symbol, bool)
	// Grid reports whether blade(3 mm, spine, A) may be written with this name.
	Grid(name string) bool
	// Cell resolves one station of a grid; args are the texts between the
	// commas, trimmed. On failure hint says what to write instead.
	Cell(grid string, args []string) (s Symbol, hint string, ok bool)
	// Near is a known name close to an unknown one, or "".
	Near(name string) string
}

// Codes of findings. NotAQuestion is also for callers that need a yes-or-no
// formula and were given a number.
const (
	UnknownName       = "formula/unknown-name"
	UnitMismatch      = "formula/unit-mismatch"
	MissingUnit       = "formula/missing-unit"
	ConditionMismatch = "formula/condition-mismatch"
	DatumMismatch     = "formula/datum-mismatch"
	NotAllowed        = "formula/not-allowed"
	Syntax            = "formula/syntax"
	BadNumber         = "formula/number"
	TooLong           = "formula/too-long"
	NotAQuestion      = "formula/not-a-question"
)

// A stranger's recipe must not cost time or memory. The longest formula in the
// recipes that come with the program is below 100 bytes.
const (
	longestText  = 500 // bytes
	deepest      = 20  // brackets inside brackets
	mostNodes    = 200
	mostFindings = 5
)

// Formula is a compiled formula. Safe for concurrent use.
type Formula struct {
	text             string
	truth            bool
	kind             quantity.Kind // of the number, or of the margin
	condition, datum string
	needs            []int
	names            []name // in the order of the text
	value            *program
	margin           *program // nil: there is no margin
}

// name is where a name, or a station, stands in the text, in runes.
type name struct{ from, to, slot int }

// Compile reads a formula. Every finding points at its place in the text. The
// formula is nil when there are findings.
func Compile(t diagnostic.Text, s Scope) (*Formula, diagnostic.List) {
	f, found := compile(t.Value, s)
	var list diagnostic.List
	for _, x := range found {
		list.Hinted(x.code, t.Span(x.from, x.to), x.hint, "%s", x.message)
	}
	return f, list
}

// Text is the formula as typed.
func (f *Formula) Text() string { return f.text }

// Truth reports whether the formula is a yes-or-no one; else Kind is the kind
// of its number.
func (f *Formula) Truth() bool { return f.truth }

// Kind of a formula that yields a number. Of a yes-or-no formula it is the kind
// of its margin, meaningful where Margin is ok.
func (f *Formula) Kind() quantity.Kind { return f.kind }

// Needs lists the slots the formula reads, ascending, without repeats.
func (f *Formula) Needs() []int {
	return append([]int(nil), f.needs...)
}

// Condition of the cane the number belongs to: "wet", "dry", or "" where it
// belongs to none or both.
func (f *Formula) Condition() string { return f.condition }

// Datum is the place the number is counted from; "" for a length from nowhere.
func (f *Formula) Datum() string { return f.datum }

// Shown is the text with numbers put in: value gives what stands in the place
// of a name, as in 1.30 mm - 1.10 mm >= 0.10 mm. Where it gives "", the name
// stays.
func (f *Formula) Shown(value func(slot int) string) string {
	src := []rune(f.text)
	var b strings.Builder
	at := 0
	for _, n := range f.names {
		b.WriteString(string(src[at:n.from]))
		at = n.to
		if v := value(n.slot); v != "" {
			b.WriteString(v)
		} else {
			b.WriteString(string(src[n.from:n.to]))
		}
	}
	return b.String() + string(src[at:])
}
