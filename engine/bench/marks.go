package bench

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"
)

// longestMark, in letters: it is written on bark and stands before every answer.
const longestMark = 20

// Marks reads what is written on the pieces: "31-34 B7 Lotte". A mark begins
// with a letter or a digit of any script and holds no sign that stands in a
// number, so that an answer can begin with it.
func Marks(text string) ([]string, error) {
	var out []string
	seen := map[string]bool{}
	for _, w := range strings.FieldsFunc(text, func(r rune) bool { return unicode.IsSpace(r) || r == ',' || r == ';' }) {
		marks := []string{w}
		if from, to, ok := strings.Cut(w, "-"); ok {
			a, aerr := strconv.Atoi(from)
			b, berr := strconv.Atoi(to)
			if aerr == nil && berr == nil {
				if a < 0 || b < a || b-a >= mostRange {
					return nil, fmt.Errorf("%q is no range of numbers; write the lower one first: 31-42", clip(w))
				}
				marks = nil
				for n := a; n <= b; n++ {
					marks = append(marks, strconv.Itoa(n))
				}
			}
		}
		for _, m := range marks {
			if err := goodMark(m); err != nil {
				return nil, err
			}
			if low := strings.ToLower(m); seen[low] {
				return nil, fmt.Errorf("%q stands there twice", m)
			}
			seen[strings.ToLower(m)] = true
			out = append(out, m)
		}
	}
	if len(out) == 0 {
		return nil, fmt.Errorf("there is no mark in it; write for example 31-42")
	}
	return out, nil
}

func goodMark(m string) error {
	r := []rune(m)
	switch {
	case len(r) > longestMark:
		return fmt.Errorf("%q is longer than %d letters", clip(m), longestMark)
	case !unicode.IsLetter(r[0]) && !unicode.IsDigit(r[0]):
		return fmt.Errorf("%q does not begin with a letter or a digit", clip(m))
	case strings.ContainsFunc(m, func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r) && !unicode.IsMark(r) && r != '-' && r != '_'
	}):
		return fmt.Errorf("%q holds a sign that cannot stand in a mark; letters, digits and hyphens can", clip(m))
	case slices.Contains(strings.FieldsFunc(reserved, unicode.IsSpace), strings.ToLower(m)) || parseWords(m).verb != "?":
		return fmt.Errorf("%q is a word of the bench", m)
	}
	return nil
}

// reserved words mean something at the beginning of an answer.
const reserved = "all but and piece tube rack quit q exit help more through by who later bring set take throw thrown go"
