package interview

import (
	"strings"
	"unicode/utf8"

	"canewright/engine/diagnostic"
	"canewright/engine/dimension"
	"canewright/engine/recipe"
	"canewright/engine/tool"
)

// Instrument is one that may be chosen.
type Instrument struct {
	ID, Title string
	Major     int
}

// Interview knows what it can offer. Set may start a plugin; the error is
// shown as a refusal. Usual may be nil.
type Interview struct {
	Instruments []Instrument
	Set         func(id string, major int) (*dimension.Set, error)
	Usual       func(id string) Usual
	Tools       *tool.Catalogue
}

// Question is what is asked next.
type Question struct {
	Said   []string // what the answer before was taken for
	Where  string   // "stage 2 of 5: score"; empty before the first stage
	Prompt string
	Offers []string // numbered from 1; a number stands for the words
	Enter  string   // what an empty answer does
	Help   []string // shown on ?
	Done   bool     // nothing more is asked
}

// Words that are no answers. Back is handled by Answer; the others are the
// face's.
const (
	Back = "-"
	Quit = "quit"
	Help = "?"
)

// Refusal says why a line is no answer, and what to write.
type Refusal struct{ Message, Hint string }

func (r *Refusal) Error() string { return r.Message }

func refuse(hint, message string) error { return &Refusal{message, hint} }

// The limits of an answer and of an interview: a sheet is a page.
const (
	longestLine = 300
	mostLines   = 2_000
)

// Ask is the next question after these answers.
func (iv *Interview) Ask(lines []string) Question {
	w := iv.walk(lines)
	if w.pending != nil {
		return *w.pending
	}
	return Question{Said: w.said, Done: true}
}

// Answer takes a line. The error is a *Refusal, and the lines are as they were.
func (iv *Interview) Answer(lines []string, line string) ([]string, error) {
	line = strings.Join(strings.Fields(line), " ")
	switch {
	case line == Back && len(lines) == 0:
		return lines, refuse("type quit to stop", "this is the first question")
	case line == Back:
		return lines[: len(lines)-1 : len(lines)-1], nil
	case utf8.RuneCountInString(line) > longestLine:
		return lines, refuse("say it in fewer words, or in several lines", "this line is too long")
	case !utf8.ValidString(line) || strings.ContainsFunc(line, diagnostic.Unsafe) || strings.ContainsRune(line, utf8.RuneError):
		return lines, refuse("type it again", "this line holds signs that are no text")
	case len(lines) >= mostLines:
		return lines, refuse("type quit; the rest can be written in the file", "this sheet is very long")
	case iv.walk(lines).pending == nil:
		return lines, refuse("", "nothing more is asked")
	}
	next := append(lines[:len(lines):len(lines)], line) // a copy: the caller's lines stay
	w := iv.walk(next)
	if w.refused != nil {
		return lines, w.refused
	}
	if w.meant != "" {
		next[len(next)-1] = w.meant
	}
	if d, bad := iv.unread(w); bad {
		return lines, refuse(d.Hint, "a recipe with this could not be read: "+d.Message)
	}
	return next, nil
}

// unread is what would keep the recipe from being followed.
func (iv *Interview) unread(w *walk) (diagnostic.Diagnostic, bool) {
	f, list := recipe.Load("recipe.yaml", w.write())
	if f != nil {
		_, more := recipe.Bind(f, w.sheet.set, iv.Tools)
		list.Append(more)
	}
	for _, d := range list.Sorted() {
		if d.Severity == diagnostic.Error {
			return d, true
		}
	}
	return diagnostic.Diagnostic{}, false
}

// Write is the recipe that these answers make, whole or not.
func (iv *Interview) Write(lines []string) []byte { return iv.walk(lines).write() }

// Open is what is still to be asked of whoever wrote the sheet.
func (iv *Interview) Open(lines []string) []string { return iv.walk(lines).sheet.open() }

// Doubts are what would be found if every number without a tolerance had the
// one suggested for it, as sentences: a sheet seldom gives tolerances, and its
// parts should add up nevertheless. Nil where no tolerance is open.
func (iv *Interview) Doubts(lines []string) []string {
	w := iv.walk(lines)
	filled := false
	for _, st := range w.sheet.stages {
		for _, n := range st.numbers {
			if n.target() != "" || n.paper == "" || n.grid() || n.suggest == "" || n.other != "" && n.length == "" {
				continue
			}
			n.tolerance, filled = n.suggest, true
			if n.other != "" && n.convert() != nil {
				n.tolerance = ""
			}
		}
	}
	if !filled {
		return nil
	}
	f, _ := recipe.Load("recipe.yaml", w.write())
	if f == nil {
		return nil
	}
	b, _ := recipe.Bind(f, w.sheet.set, iv.Tools)
	if b == nil {
		return nil
	}
	var out []string
	found := b.CheckPaper()
	for _, d := range found.Sorted() {
		if d.Code == "recipe/sum" {
			out = append(out, d.Message+"; "+d.Hint)
		}
	}
	return out
}

// ID is the id the recipe has so far.
func (iv *Interview) ID(lines []string) string { return iv.walk(lines).sheet.id() }
