package library

import (
	"path"
	"strings"
)

// Entry is a recipe in a library.
type Entry struct {
	File       string // from the top of the library: "bassoon/my-reed/recipe.yaml"
	Place      string // what it can be called for where it lies: "bassoon/my-reed"
	Cases      string // the file beside it, "" if there is none
	Title      string
	ID         string
	Version    string // as written; a number where the recipe is right
	Instrument string // "bassoon 1"; "" for a checklist
	Author     string
	Licence    string
	About      string
	Digest     string // recipe.Digest of its text
	Fault      string // why its head cannot be read; "" if it can
}

// Shelf is where the layout keeps what has no instrument.
const Shelf = "checklists"

// Name is INSTRUMENT/ID, by what the recipe says of itself; "" if it says
// neither.
func (e *Entry) Name() string {
	if e.ID == "" {
		return ""
	}
	instrument, _, _ := strings.Cut(e.Instrument, " ")
	if instrument == "" {
		instrument = Shelf
	}
	return instrument + "/" + e.ID
}

// Called reports that somebody may mean this one: by its name, its id, or the
// place where it lies.
func (e *Entry) Called(name string) bool {
	return name != "" && (name == e.Place || name == e.ID || name == e.Name() || name == path.Base(e.Place))
}

// Holds reports that every word stands somewhere in title, id, about, author or
// instrument, whatever the case of its letters.
func (e *Entry) Holds(words []string) bool {
	text := strings.ToLower(strings.Join([]string{e.Title, e.ID, e.About, e.Author, e.Instrument, e.Place}, "\n"))
	for _, w := range words {
		if !strings.Contains(text, strings.ToLower(w)) {
			return false
		}
	}
	return true
}
