package safety

import (
	"strings"
	"unicode"

	"canewright/engine/bench"
)

// A note is the bench's: it is shown and answered there.
type (
	Note   = bench.Note
	Signal = bench.Signal
	Symbol = bench.Symbol
)

const (
	Notice  = bench.Notice
	Caution = bench.Caution
	Warning = bench.Warning
	Danger  = bench.Danger
)

// plainWords are the words of a title, for looking it up.
func plainWords(s string) []string {
	s = strings.NewReplacer("'", "", "’", "").Replace(strings.ToLower(s))
	return strings.FieldsFunc(s, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
}
