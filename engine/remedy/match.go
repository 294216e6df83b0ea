package remedy

import (
	"cmp"
	"slices"
	"strings"
	"unicode"

	"canewright/engine/diagnostic"
	"canewright/engine/dimension"
)

// longestSaid is how much of what is said is looked at, in letters.
const longestSaid = 200

// Match is the symptoms a player may mean by what was said: the one of that
// name or those words alone, else those that share words with it, the most
// first.
func Match(all []dimension.Symptom, said string) []dimension.Symptom {
	if i, ok := dimension.FindSymptom(all, said); ok {
		return []dimension.Symptom{all[i]}
	}
	want := wordsOf(said)
	if len(want) == 0 {
		return nil
	}
	type found struct {
		s     dimension.Symptom
		share float64
	}
	var out []found
	for _, s := range all {
		best := 0.0
		for _, text := range append([]string{s.Words, s.Name}, s.Also...) {
			best = max(best, shared(want, wordsOf(text)))
		}
		if best >= 0.5 {
			out = append(out, found{s, best})
		}
	}
	slices.SortStableFunc(out, func(a, b found) int { return cmp.Compare(b.share, a.share) })
	if len(out) > 1 && out[0].share == 1 && out[1].share < 1 {
		out = out[:1] // it alone says all of it
	}
	var symptoms []dimension.Symptom
	for _, f := range out {
		symptoms = append(symptoms, f.s)
	}
	return symptoms
}

// shared is the part of the words wanted that stand among the others, slips of
// the finger allowed.
func shared(want, have []string) float64 {
	n := 0
	for _, w := range want {
		if slices.Contains(have, w) || len(w) > 4 && diagnostic.Near(w, have) != "" {
			n++
		}
	}
	return float64(n) / float64(len(want))
}

// wordsOf is the words that carry a meaning, small letters, in their order.
func wordsOf(text string) []string {
	if r := []rune(text); len(r) > longestSaid {
		text = string(r[:longestSaid])
	}
	var out []string
	for _, w := range strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != '\'' && r != '’' }) {
		switch w {
		case "the", "a", "an", "is", "are", "it", "its", "of", "my", "and", "too", "very", "to", "in", "on", "do", "does", "not", "don't", "doesn't", "don’t", "doesn’t":
		default:
			out = append(out, w)
		}
	}
	return out
}
