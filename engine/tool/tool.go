package tool

import (
	"sync"

	"canewright/engine/quantity"
)

// Tool is a word a recipe may use. Step and Error have the zero Kind where the
// tool reads nothing. Error is a standard uncertainty (not a limit).
type Tool struct {
	Name    string
	Aliases []string
	Classes []string       // what notes select on: "blade", "lever", "flame", "heat", "gauge" …
	Step    quantity.Value // one digit or division
	Error   quantity.Value // u of the tool itself, beside its step
	Source  string         // where Step and Error come from
	Unknown bool           // not in the catalogue; Name is the word as written
}

// Material is what a stage uses up or works with.
type Material struct {
	Name    string
	Aliases []string
	Classes []string // "adhesive", "flammable", "finish", "metal", "hot" …
	Unknown bool
}

// Action is something done, told from the words of a stage.
type Action struct {
	Name  string   // "scrape"
	Words []string // spellings that tell it, lower case: "scrape", "scrapes", "scraping", "dust the tip"
}

// Use is what a stage takes into the hand. Each list is free of repeats and in
// the order it was found.
type Use struct {
	Tools     []Tool
	Materials []Material
	Actions   []string
	Classes   []string // what holds of the whole evening: "minor", "leaving", "carrying"
}

// Catalogue holds the known words. The zero Catalogue knows none.
type Catalogue struct {
	tools     []Tool
	materials []Material
	actions   []Action
	// Looked up, never walked: places in the lists above by name and alias,
	// and spellings by their first word, gathered when a sentence is first read.
	toolAt, materialAt map[string]int
	gather             sync.Once
	spellings          map[string][]spelling
}
