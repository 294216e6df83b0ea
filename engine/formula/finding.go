package formula

import "fmt"

// finding is what is wrong between runes from and to of the text.
type finding struct {
	code          string
	from, to      int
	message, hint string
}

// findings keeps the first few, without repeats.
type findings []finding

func (f *findings) add(code string, from, to int, hint, format string, a ...any) {
	x := finding{code, from, to, fmt.Sprintf(format, a...), hint}
	if len(*f) == mostFindings {
		return
	}
	for _, y := range *f {
		if x == y {
			return
		}
	}
	*f = append(*f, x)
}

// onlyNames reports whether nothing worse than unknown names was found, so that
// the rest of the formula can still be judged.
func (f findings) onlyNames() bool {
	for _, x := range f {
		if x.code != UnknownName {
			return false
		}
	}
	return true
}

// clip keeps what is echoed short.
func clip(s string) string {
	if r := []rune(s); len(r) > 40 {
		return string(r[:40]) + "…"
	}
	return s
}
