package bench

import (
	"slices"
	"strings"
	"unicode"
)

// Signal is how grave the harm may be, in the order of ANSI Z535.
type Signal int

const (
	Notice  Signal = iota + 1 // no injury: things, or a rule to know
	Caution                   // minor or moderate injury could follow
	Warning                   // death or serious injury could follow
	Danger                    // death or serious injury will follow
)

// String is the signal word.
func (s Signal) String() string {
	switch s {
	case Notice:
		return "NOTICE"
	case Caution:
		return "CAUTION"
	case Warning:
		return "WARNING"
	case Danger:
		return "DANGER"
	}
	return ""
}

// Symbol is a sign of ISO 7010: its number and what it means, in words. The
// drawings are not ours to copy.
type Symbol struct{ Number, Means string }

// Note is one safety note as it is shown at the bench: plain data.
type Note struct {
	ID          string // "SN-BL-01"
	Revision    int    // of the text; an answer holds for one revision
	Title       string
	Signal      Signal
	Session     bool // about the evening; else about the step at hand
	Hazard      string
	Consequence string
	Avoid       []string // the gravest first; three are shown at first sight
	Equipment   []string
	FirstAid    string
	Short       string
	Symbols     []Symbol
	LabelWord   string   // what the product's own label may say; never the signal word
	H, P        []string // "H225: liquid and vapour catch fire very easily"
	Figures     []string
	Ask         string // answered by naming the protection or the danger
	Accept      []string
	Refuse      []string // words that spoil an answer
	Under       string   // the note whose answer in this session counts for this one too; "": none
	Sources     []string
	Because     []string // the words that selected it: "knife", "cement"
	Remarks     []string // what is said of this evening only: "… is not in the catalogue"
}

// Accepts reports whether the answer names what the question asks for. A
// blank line, "ok", "yes", "next" or a number never does.
func (n Note) Accepts(answer string) bool {
	w := answerWords(answer)
	if !slices.ContainsFunc(w, says) {
		return false
	}
	if slices.ContainsFunc(n.Refuse, func(r string) bool { return stands(r, w) }) {
		return false
	}
	return slices.ContainsFunc(n.Accept, func(a string) bool { return stands(a, w) })
}

// says reports whether a word is more than assent or a number: what a hand
// types to get on.
func says(w string) bool {
	switch w {
	case "ok", "okay", "k", "yes", "y", "yep", "yeah", "no", "n", "next", "done", "go", "on", "enter", "return", "continue",
		"sure", "fine", "good", "right", "understood", "skip", "agree", "agreed", "accept", "accepted", "confirm", "whatever":
		return false
	}
	return strings.ContainsFunc(w, unicode.IsLetter)
}

// stands reports whether the words of an entry stand in the answer, one after
// the other. A word of the entry that ends in * is the beginning of one.
func stands(entry string, answer []string) bool {
	e := strings.Fields(strings.ReplaceAll(strings.ReplaceAll(strings.ToLower(entry), "-", " "), "'", ""))
	for at := 0; len(e) > 0 && at+len(e) <= len(answer); at++ {
		if slices.EqualFunc(e, answer[at:at+len(e)], func(want, have string) bool {
			if stem, ok := strings.CutSuffix(want, "*"); ok {
				return strings.HasPrefix(have, stem)
			}
			return have == want
		}) {
			return true
		}
	}
	return false
}

func answerWords(s string) []string {
	s = strings.ReplaceAll(strings.ReplaceAll(strings.ToLower(s), "'", ""), "’", "")
	return strings.FieldsFunc(s, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
}

// Clone is a copy that shares nothing with n.
func (n Note) Clone() Note {
	for _, s := range []*[]string{&n.Avoid, &n.Equipment, &n.H, &n.P, &n.Figures, &n.Accept, &n.Refuse, &n.Sources, &n.Because, &n.Remarks} {
		*s = slices.Clone(*s)
	}
	n.Symbols = slices.Clone(n.Symbols)
	return n
}
