package tool

import (
	"slices"
	"strings"
	"unicode"
)

// spelling is one way to write a word of the catalogue. All of tool, material
// and action are -1 for a phrase that means nothing dangerous and is swallowed.
type spelling struct {
	words                  []string
	tool, material, action int
}

// Spoken finds the tools, materials and actions a sentence speaks of: whole
// words, the longest spelling first, case and hyphens ignored. What stands in
// braces is a dimension's name and is passed over. Too much is found rather
// than too little.
func (c *Catalogue) Spoken(text string) Use {
	c.gather.Do(func() { c.spellings = c.index() })
	var u Use
	w := words(unbraced(text))
	for at := 0; at < len(w); {
		longest, found := 0, []spelling(nil)
		for _, first := range singulars(w[at]) {
			for _, s := range c.spellings[first] {
				switch n := s.length(w[at:]); {
				case n > longest:
					longest, found = n, []spelling{s}
				case n == longest && n > 0:
					found = append(found, s)
				}
			}
		}
		for _, s := range found {
			switch {
			case s.tool >= 0:
				u.addTool(c.tools[s.tool].clone())
			case s.material >= 0:
				u.addMaterial(c.materials[s.material].clone())
			case s.action >= 0:
				u.Actions = addWord(u.Actions, c.actions[s.action].Name)
			}
		}
		at += max(longest, 1)
	}
	return u
}

// length is how many words of text the spelling takes, 0 where it does not
// stand there. Small words between its own are passed over.
func (s spelling) length(text []string) int {
	at := 0
	for i, w := range s.words {
		for i > 0 && at < len(text) && !slices.Contains(singulars(text[at]), w) && small(text[at]) {
			at++
		}
		if at >= len(text) || !slices.Contains(singulars(text[at]), w) {
			return 0
		}
		at++
	}
	return at
}

func small(w string) bool {
	switch w {
	case "the", "a", "an", "each", "every", "both", "its", "your", "this", "that", "all", "it", "them", "new":
		return true
	}
	return false
}

// singulars is the word and what it may be the plural or the third person of.
func singulars(w string) []string {
	out := []string{w}
	if s, ok := strings.CutSuffix(w, "s"); ok && len(s) > 1 {
		out = append(out, s)
		if e, ok := strings.CutSuffix(s, "e"); ok {
			out = append(out, e)
			if i, ok := strings.CutSuffix(e, "i"); ok {
				out = append(out, i+"y")
			}
		}
	}
	return out
}

// words splits a text at everything that is not a letter or a digit.
func words(text string) []string {
	return strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
}

func unbraced(text string) string {
	var b strings.Builder
	depth := 0
	for i, r := range text {
		switch {
		case r == '{' && strings.ContainsRune(text[i:], '}'):
			depth++
		case r == '}' && depth > 0:
			depth--
			b.WriteString(" . ")
		case depth == 0:
			b.WriteRune(r)
		}
	}
	return b.String()
}

// index gathers all spellings by their first word.
func (c *Catalogue) index() map[string][]spelling {
	out := map[string][]spelling{}
	add := func(text string, s spelling) {
		s.words = words(text)
		out[s.words[0]] = append(out[s.words[0]], s)
	}
	for i, t := range c.tools {
		for _, n := range append([]string{t.Name}, t.Aliases...) {
			add(n, spelling{tool: i, material: -1, action: -1})
		}
	}
	for i, m := range c.materials {
		for _, n := range append([]string{m.Name}, m.Aliases...) {
			add(n, spelling{tool: -1, material: i, action: -1})
		}
	}
	for i, a := range c.actions {
		for _, n := range a.Words {
			add(n, spelling{tool: -1, material: -1, action: i})
		}
	}
	for _, p := range harmless() {
		add(p, spelling{tool: -1, material: -1, action: -1})
	}
	return out
}

// harmless: phrases in which a dangerous word names a place or a thing to look
// at, not work with it. Doubtful ones stay out: "a cut" may be one to make.
func harmless() []string {
	out := []string{
		"is split", "has split", "if it splits", "when it splits", "no split", "does not split",
		"shape of", "same shape", "shape width", "profile of", "gouge side", "gouged side", "gouge centre", "inside of gouge",
		"does a cut run", "a cut runs", "do not cut", "before you cut", "saw cut", "clean cut",
		"paper clip", "no heat", "without heat", "away from heat", "knife down", "put knife away",
	}
	for _, look := range []string{"check", "measure", "look at", "see", "note", "compare", "draw", "judge"} {
		for _, thing := range []string{"shape", "profile", "gouge", "bevel", "score", "seal", "split"} {
			out = append(out, look+" "+thing)
		}
	}
	for _, before := range []string{"past", "above", "below", "between", "from", "to", "towards", "toward", "up to", "at", "behind", "before", "over", "under", "near", "of", "reach", "touch"} {
		for _, which := range []string{"first", "second", "third", "1st", "2nd", "3rd", "top", "middle", "bottom", "butt", "throat", "upper", "lower"} {
			out = append(out, before+" "+which+" wire", before+" "+which+" and second wire", before+" "+which+" and third wire")
		}
	}
	for _, before := range []string{"past", "above", "below", "between", "near", "under", "reach", "touch"} {
		out = append(out, before+" wire")
	}
	return out
}
