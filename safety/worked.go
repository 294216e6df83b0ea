package safety

import (
	"crypto/sha256"
	_ "embed"
	"encoding/hex"
	"encoding/json"
	"slices"

	"canewright/engine/tool"
)

// notes.json is notes.yaml as Read has read and checked it. Reading the file
// afresh takes longer than all else before the first question, so Load takes
// this instead, as long as it was made of the very same file. A test makes it,
// and fails where it differs from what Read finds.
//
//go:embed notes.json
var workedOut []byte

// worked is a Catalogue in plain data.
type worked struct {
	SHA256     string // of notes.yaml
	Precedence []string
	Products   []Product
	Entries    []workedEntry
}

type workedEntry struct {
	Note     Note
	When     words
	Together []words  `json:",omitempty"`
	RaisedBy []string `json:",omitempty"`
}

// words is a selector in plain data.
type words struct {
	Tools     []string `json:",omitempty"`
	Materials []string `json:",omitempty"`
	Classes   []string `json:",omitempty"`
	Actions   []string `json:",omitempty"`
}

func (w words) selector() selector { return selector{w.Tools, w.Materials, w.Classes, w.Actions} }

func fingerprint(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:])
}

// recall is the catalogue of data as it was worked out before; nil where that
// is of another file, or cannot be read.
func recall(data, from []byte) *Catalogue {
	var w worked
	if err := json.Unmarshal(from, &w); err != nil || w.SHA256 != fingerprint(data) || len(w.Entries) == 0 {
		return nil
	}
	c := &Catalogue{data: slices.Clone(data), precedence: w.Precedence, products: w.Products, words: tool.Standard()}
	for _, we := range w.Entries {
		e := entry{note: we.Note, when: we.When.selector(), raisedBy: we.RaisedBy}
		for _, s := range we.Together {
			e.together = append(e.together, s.selector())
		}
		c.entries = append(c.entries, e)
	}
	return c
}
