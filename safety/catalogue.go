package safety

import (
	"crypto/sha256"
	_ "embed"
	"fmt"
	"slices"
	"strings"

	"canewright/engine/tool"
)

//go:embed notes.yaml
var builtIn []byte

// Catalogue is all notes and what they rest on. It does not change once read.
type Catalogue struct {
	data       []byte
	precedence []string
	products   []Product
	entries    []entry // in the order of the file
	words      *tool.Catalogue
}

// Product is what is known of an ingredient: codes, and facts each with its
// source.
type Product struct {
	Name, CAS, LabelWord string
	Materials            []string // words of the catalogue of tools and materials
	H                    []string
	Facts                []string
}

// entry is a note with what selects it.
type entry struct {
	note     Note
	when     selector
	together []selector // each must hold within one evening
	raisedBy []string   // classes that make a CAUTION a WARNING
}

// Load reads the notes built into the program.
func Load() (*Catalogue, error) {
	if c := recall(builtIn, workedOut); c != nil {
		return c, nil
	}
	c, list := Read("safety/notes.yaml", builtIn)
	if c == nil {
		all := list.Sorted()
		first := "nothing in it"
		if len(all) > 0 {
			first = strings.TrimSpace(all[0].String())
		}
		return nil, fmt.Errorf("read safety notes: %d findings, the first: %s", len(all), first)
	}
	return c, nil
}

// Bytes is the file the catalogue was read from.
func (c *Catalogue) Bytes() []byte { return slices.Clone(c.data) }

// Digest identifies the file.
func (c *Catalogue) Digest() [32]byte { return sha256.Sum256(c.data) }

// Precedence is what comes before every note.
func (c *Catalogue) Precedence() []string { return slices.Clone(c.precedence) }

// Products is what glues, finishes and solvents are made of.
func (c *Catalogue) Products() []Product { return slices.Clone(c.products) }

// All is every note, highest signal first, then by id.
func (c *Catalogue) All() []Note {
	out := make([]Note, len(c.entries))
	for i, e := range c.entries {
		out[i] = e.note.Clone()
	}
	rank(out)
	return out
}

// Word is every note that speaks of a word: its id, a tool, a material, an
// action, a class, or a word of its title.
func (c *Catalogue) Word(word string) []Note {
	word = strings.Join(strings.Fields(word), " ")
	if word == "" {
		return nil
	}
	u := c.words.Spoken(word)
	if t, ok := c.words.Tool(word); ok {
		u = u.With(tool.Use{Tools: []tool.Tool{t}})
	}
	if m, ok := c.words.Material(word); ok {
		u = u.With(tool.Use{Materials: []tool.Material{m}})
	}
	if a, ok := c.words.Action(word); ok {
		u = u.With(tool.Use{Actions: []string{a.Name}})
	}
	u.Classes = append(u.Classes, strings.ToLower(word))
	var out []Note
	for _, e := range c.entries {
		because := e.when.match(u)
		for _, s := range e.together {
			because = append(because, s.match(u)...)
		}
		if strings.EqualFold(e.note.ID, word) || titled(e.note.Title, word) {
			because = append(because, word)
		}
		if len(because) > 0 {
			n := e.note.Clone()
			n.Because = unique(because)
			out = append(out, n)
		}
	}
	rank(out)
	return out
}

func titled(title, word string) bool {
	t, w := plainWords(title), plainWords(word)
	for at := 0; len(w) > 0 && at+len(w) <= len(t); at++ {
		if slices.EqualFunc(w, t[at:at+len(w)], func(a, b string) bool { return a == b || a == b+"s" || a+"s" == b }) {
			return true
		}
	}
	return false
}

// rank sorts notes: highest signal first, then by id.
func rank(notes []Note) {
	slices.SortStableFunc(notes, func(a, b Note) int {
		if a.Signal != b.Signal {
			return int(b.Signal) - int(a.Signal)
		}
		return strings.Compare(a.ID, b.ID)
	})
}

func unique(words []string) []string {
	var out []string
	for _, w := range words {
		if !slices.Contains(out, w) {
			out = append(out, w)
		}
	}
	return out
}
