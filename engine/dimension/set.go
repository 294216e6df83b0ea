package dimension

import (
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"canewright/engine/diagnostic"
	"canewright/engine/quantity"
)

// Condition is the state of the cane a reading belongs to.
type Condition string

const (
	Either Condition = "either"
	Wet    Condition = "wet"
	Dry    Condition = "dry"
)

// Grade says how far a number can be leaned on.
type Grade string

const (
	Published      Grade = "published"       // a source that was opened
	CommonPractice Grade = "common practice" // known in the trade, no source
	FromMemory     Grade = "from memory"     // remembered, unchecked
	Worked         Grade = "worked out"      // arithmetic on the other numbers
)

// Source is one statement about a dimension's value and who makes it.
type Source struct {
	Says  string // the value or rule, as the source has it: "27 mm (1 1/16 in), to the wire's centre line"
	Who   string // author or publisher, title, year, where in it; empty for common practice
	Grade Grade
}

// Credit is who says it, with the grade; where nobody is named, the grade.
func (s Source) Credit() string {
	if s.Who == "" {
		return string(s.Grade)
	}
	return s.Who + " (" + string(s.Grade) + ")"
}

// Dimension is a named quantity of an instrument's reed or cane.
type Dimension struct {
	Name    string // "wire.first": lower case words, dotted
	Title   string // "first wire": as said at the bench
	Aliases []string
	// Was are names it had before. A set without them is written, and has the
	// digest, as before there were any.
	Was     []string `json:",omitempty"`
	Kind    quantity.Kind
	Unit    quantity.Unit // of a number typed without one
	Subject string        // "tube", "piece" or "batch"
	Datum   string        // where it is measured from: "the butt"; "" where that has no meaning
	// Across says that a length is a size across (a thickness, a width, a
	// diameter, an opening): it is counted from nowhere and needs no datum.
	Across    bool
	Condition Condition
	How       string // how it is read
	Tool      string // the tool it is usually read with, a word of engine/tool
	More      string // the word for too much: "thick"
	Less      string // the word for too little: "thin"
	Plausible quantity.Tolerance
	Sources   []Source
	Grid      *Grid
	// Formula is set for a derived dimension: it is worked out from others
	// and never typed.
	Formula string
}

// Grid makes a dimension one of stations: distance from a datum × lane ×
// blade. Distances are the recipe's own.
type Grid struct {
	From   []string // what distances may count from: "collar", "tip"
	Lanes  []string // "spine", "channels", "rails"
	Blades []string // "A", "B"
	Short  string   // the name it has in formulas: "blade" in blade(3 mm, spine, A)
}

// Set is all dimensions of one instrument.
type Set struct {
	ID           string // "bassoon"
	Title        string // "bassoon, German system"
	Major, Minor int
	About        string
	Dimensions   []Dimension // derived ones included, in the order they are shown
	// A set without them is written, and has the digest, as before there were any.
	Symptoms []Symptom `json:",omitempty"`
	Remedies []Remedy  `json:",omitempty"`
	Outline  *Outline  `json:",omitempty"` // how its reed is drawn
}

// Encode writes the set as canonical JSON; Decode reads it back.
func (s *Set) Encode() []byte {
	b, err := json.Marshal(s)
	if err != nil {
		panic(err) // plain data: cannot fail
	}
	return b
}

// Decode reads what Encode wrote. It trusts its input; Check does not.
func Decode(b []byte) (*Set, error) {
	var s Set
	if err := json.Unmarshal(b, &s); err != nil {
		return nil, fmt.Errorf("read a stored dimension set: %w", err)
	}
	for i := range s.Dimensions {
		d := &s.Dimensions[i]
		d.Unit = orBare(d.Unit, d.Kind)
		if p := &d.Plausible; p.Low.Set || p.High.Set {
			p.Unit = orBare(p.Unit, p.Kind)
		}
	}
	return &s, nil
}

// orBare: a unit without a name (of a count, a score) is written as no text,
// so the kind has to bring it back.
func orBare(u quantity.Unit, k quantity.Kind) quantity.Unit {
	if u.IsZero() {
		return quantity.Bare(k)
	}
	return u
}

// Digest identifies the content of a set.
func (s *Set) Digest() [32]byte { return sha256.Sum256(s.Encode()) }

// Find returns the dimension of this name, title, alias or old name; blanks and
// case do not matter. A name wins over a title, a title over an alias, an alias
// over an old name.
func (s *Set) Find(name string) (*Dimension, bool) {
	i, ok := s.find(name)
	if !ok {
		return nil, false
	}
	return &s.Dimensions[i], true
}

func (s *Set) find(name string) (int, bool) {
	want := plain(name)
	if want == "" {
		return 0, false
	}
	for i := range s.Dimensions {
		if s.Dimensions[i].Name == want {
			return i, true
		}
	}
	for i := range s.Dimensions {
		if plain(s.Dimensions[i].Title) == want {
			return i, true
		}
	}
	for i := range s.Dimensions {
		for _, a := range s.Dimensions[i].Aliases {
			if plain(a) == want {
				return i, true
			}
		}
	}
	return s.was(want)
}

// was is the dimension that had this plain name before.
func (s *Set) was(name string) (int, bool) {
	for i := range s.Dimensions {
		if slices.Contains(s.Dimensions[i].Was, name) {
			return i, true
		}
	}
	return 0, false
}

// Renamed is the dimension that had this name before, if no dimension is found
// by it in another way.
func (s *Set) Renamed(name string) (*Dimension, bool) {
	i, ok := s.find(name)
	if !ok || !slices.Contains(s.Dimensions[i].Was, plain(name)) {
		return nil, false
	}
	return &s.Dimensions[i], true
}

// Near is a known name, title or alias close to an unknown one, or "".
func (s *Set) Near(name string) string {
	var known []string
	for _, d := range s.Dimensions {
		known = append(known, d.Name)
	}
	for _, d := range s.Dimensions {
		known = append(known, plain(d.Title))
	}
	for _, d := range s.Dimensions {
		for _, a := range d.Aliases {
			known = append(known, plain(a))
		}
	}
	return diagnostic.Near(plain(name), known)
}

// plain is a name as names are compared: lower case, single blanks, none
// around a dot.
func plain(name string) string {
	if isPlain(name) {
		return name // nearly all are, and a set is searched often
	}
	p := strings.Join(strings.Fields(strings.ToLower(name)), " ")
	return strings.ReplaceAll(strings.ReplaceAll(p, " .", "."), ". ", ".")
}

// isPlain is true only of what plain leaves as it is.
func isPlain(name string) bool {
	before := byte(' ') // none at the beginning
	for i := range len(name) {
		c := name[i]
		switch {
		case c >= 0x80 || c < ' ' || c >= 'A' && c <= 'Z':
			return false
		case c == ' ' && (before == ' ' || before == '.'), c == '.' && before == ' ':
			return false
		}
		before = c
	}
	return before != ' ' || name == ""
}
