package quantity

import (
	"fmt"
	"unicode/utf8"
)

// Error says what is wrong with a number and where: From and To count runes
// of the text that was given to Parse.
type Error struct {
	From, To int
	Message  string
	Hint     string
}

func (e *Error) Error() string {
	if e.Hint != "" {
		return e.Message + " (" + e.Hint + ")"
	}
	return e.Message
}

func fault(from, to int, hint, format string, a ...any) *Error {
	return &Error{From: from, To: to, Hint: hint, Message: fmt.Sprintf(format, a...)}
}

// clip keeps what is echoed short.
func clip(s string) string {
	if utf8.RuneCountInString(s) > 24 {
		s = string([]rune(s)[:24]) + "…"
	}
	return s
}

// aKind is the name of a kind with its article.
func aKind(k Kind) string {
	s := k.String()
	switch s[0] {
	case 'a', 'e', 'i', 'o', 'u':
		return "an " + s
	}
	return "a " + s
}

// example is a value of the kind as a player would write it.
func example(k Kind) string {
	switch k {
	case Length:
		return "1.30 mm"
	case Mass:
		return "0.85 g"
	case Force:
		return "2 N"
	case Angle:
		return "30°"
	case Time:
		return "2 h"
	case Temperature:
		return "21 °C"
	case TempDiff:
		return "2 K"
	case Pitch:
		return "F4 -10 cents"
	case Interval:
		return "20 cents"
	case Frequency:
		return "440 Hz"
	case Humidity, Ratio:
		return "45 %"
	case Count, Score:
		return "5"
	case Density:
		return "0.5 g/cm³"
	case Area:
		return "12 mm²"
	case Volume:
		return "900 mm³"
	case Stiffness:
		return "0.8 N/mm"
	case Pressure:
		return "9000 N/mm²"
	}
	return k.String()
}
