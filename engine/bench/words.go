package bench

import (
	"slices"
	"strconv"
	"strings"
	"unicode"

	"canewright/engine/recipe"
)

// words is an answer that begins with a word of the bench.
type words struct{ verb, rest string }

// verbs and what they mean; the longest spelling is tried first.
var verbs = []struct{ spelling, verb string }{
	{"bring back", "bring back"}, {"throw away", "throw away"}, {"thrown away", "throw away"},
	{"set aside", "aside"}, {"take back", "undo"}, {"go on now", "go on"}, {"go on", "go on"},
	{"remark", "remark"}, {"aside", "aside"}, {"undo", "undo"}, {"skip", "skip"}, {"done", "done"},
	{"advise", "advise"}, {"measure", "measure"}, {"try", "try"}, {"helped", "helped"},
	{"using", "using"}, {"correct", "correct"}, {"keep", "keep"}, {"pass", "pass"}, {"wet", "wet"}, {"dry", "dry"},
}

// takesMarks: the pieces may stand behind these words too.
func (w words) takesMarks() bool {
	switch w.verb {
	case "done", "go on", "skip", "pass", "undo", "aside", "throw away":
		return true
	}
	return false
}

// anywhere: these are about a piece whatever is asked of it.
func (w words) anywhere() bool {
	switch w.verb {
	case "aside", "throw away", "remark", "correct", "undo", "bring back", "using", "wet", "dry", "advise", "try", "helped":
		return true
	}
	return false
}

// parseWords tells a word of the bench from a reading. verb "" is the bare
// Enter; "?" stands for anything else.
func parseWords(text string) words {
	t := strings.TrimSpace(text)
	switch t {
	case "":
		return words{}
	case "-", "−":
		return words{verb: "undo"} // the minus key of a number pad
	}
	low := strings.ToLower(t)
	for _, v := range verbs {
		if low == v.spelling {
			return words{v.verb, ""}
		}
		if strings.HasPrefix(low, v.spelling) {
			if rest := t[len(v.spelling):]; strings.HasPrefix(rest, " ") || strings.HasPrefix(rest, ":") {
				if v.verb == "wet" || v.verb == "dry" {
					return words{"?", t} // dry hands are no dry cane
				}
				return words{v.verb, strings.TrimSpace(strings.TrimLeft(rest, ": "))}
			}
		}
	}
	return words{"?", t}
}

// choose reads one or, where several may be true, more of a look's answers, by
// number or by the beginning of their words.
func choose(l *recipe.Look, text string) ([]recipe.Answer, error) {
	parts := []string{text}
	if l.Several {
		parts = strings.FieldsFunc(text, func(r rune) bool { return r == ',' || r == ';' })
	}
	var out []recipe.Answer
	for _, p := range parts {
		p = strings.ToLower(strings.Join(strings.Fields(p), " "))
		if p == "" {
			continue
		}
		var hits []recipe.Answer
		exact := false
		for _, a := range l.Answers {
			w := strings.ToLower(a.Word)
			if exact = w == p; exact {
				hits = []recipe.Answer{a}
				break
			}
			if strings.HasPrefix(w, p) {
				hits = append(hits, a)
			}
		}
		if len(hits) == 0 { // clean tells "freely, ripe and clean"
			for _, a := range l.Answers {
				if slices.ContainsFunc(strings.FieldsFunc(strings.ToLower(a.Word), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) }),
					func(w string) bool { return w == p }) {
					hits = append(hits, a)
				}
			}
		}
		if n, err := strconv.Atoi(p); err == nil && n >= 1 && n <= len(l.Answers) && !exact {
			hits = l.Answers[n-1 : n] // a number is a place in the list, unless it is an answer itself
		}
		if len(hits) != 1 {
			return nil, refuse("Type its number: "+numbered(l)+".", "%q is not one of the answers.", clip(p))
		}
		out = append(out, hits[0])
	}
	if len(out) == 0 {
		return nil, refuse("Type its number: "+numbered(l)+".", "This question wants an answer.")
	}
	return out, nil
}

func numbered(l *recipe.Look) string {
	var out []string
	for i, a := range l.Answers {
		out = append(out, strconv.Itoa(i+1)+" "+a.Word)
	}
	return strings.Join(out, ", ")
}

func clip(s string) string {
	if r := []rune(s); len(r) > 30 {
		return string(r[:30]) + "…"
	}
	return s
}
