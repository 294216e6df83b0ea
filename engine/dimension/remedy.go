package dimension

import (
	"slices"
	"strings"
)

// Symptom is something a player hears, feels or sees of a reed, in plain words.
type Symptom struct {
	Name  string   // "low-notes-resist": what remedies call it
	Words string   // "low notes do not speak": as said at the bench
	Also  []string // other ways of saying it
}

// Touches says what a remedy changes, from what can be taken back at once to
// what ends the reed.
type Touches string

const (
	TouchesNothing    Touches = "nothing"    // a soak, a rest, another day
	TouchesInstrument Touches = "instrument" // bocal, pads, knife stone, room: not the reed
	TouchesWires      Touches = "wires"
	TouchesTube       Touches = "tube" // thread, seal, reaming
	TouchesEdge       Touches = "edge" // the sides of the blades
	TouchesLength     Touches = "length"
	TouchesKnife      Touches = "knife" // cane off the blades
	TouchesGivenUp    Touches = "given up"
)

// TouchesInOrder lists what a remedy may touch, what can be taken back first.
func TouchesInOrder() []Touches {
	return []Touches{TouchesNothing, TouchesInstrument, TouchesWires, TouchesTube, TouchesEdge, TouchesLength, TouchesKnife, TouchesGivenUp}
}

// Order is the place in TouchesInOrder; -1 for a word that is not in it.
func (t Touches) Order() int { return slices.Index(TouchesInOrder(), t) }

// TakesCane reports that cane is gone for good afterwards.
func (t Touches) TakesCane() bool {
	return t == TouchesEdge || t == TouchesLength || t == TouchesKnife
}

// Way is where a dimension is seen to go after a remedy.
type Way string

const (
	More Way = "more"
	Less Way = "less"
)

// Effect is one observation of what a remedy does: the source's or the
// maker's own, not a law.
type Effect struct {
	Dimension string // "tip.opening"; a lane may follow: "blade.thickness spine"
	Way       Way
}

// Remedy is one small step against one or more symptoms. Makers who contradict
// each other are two remedies.
type Remedy struct {
	Name     string   // "round the second wire": as said at the bench
	Symptoms []string // names of symptoms; none: its formulas alone call it up
	// When are formulas that should hold where the remedy fits. A reading that
	// is not known counts neither for nor against.
	When    []string
	Because string // the likely cause
	Do      string // one small step
	// Wire is "first" (next to the blade), "second" or "third", and Axis from
	// where it is pressed: "top and bottom" (on the flats of the blades) or
	// "sides". Both empty where no wire is pressed.
	Wire, Axis string
	Touches    Touches
	TakesOff   []string // what it makes smaller, a lane may follow: "blade.thickness spine"
	Expect     []Effect
	Measure    []string // what to measure afterwards
	NotReed    bool     // the cause is not the reed
	Sources    []Source
}

// Wires and Axes are what Remedy.Wire and Remedy.Axis may say.
func Wires() []string { return []string{"first", "second", "third"} }

// Axes: see Wires.
func Axes() []string { return []string{"top and bottom", "sides"} }

// Part finds a dimension, or one lane of a grid: "tip.opening",
// "blade.thickness", "blade.thickness spine". The lane is "" for the whole.
func (s *Set) Part(words string) (d *Dimension, lane string, ok bool) {
	if d, ok := s.Find(words); ok {
		return d, "", true
	}
	for i := range s.Dimensions {
		d := &s.Dimensions[i]
		if d.Grid == nil {
			continue
		}
		for _, name := range append([]string{d.Name}, d.Was...) {
			rest, found := strings.CutPrefix(plain(words), name+" ")
			if !found {
				continue
			}
			for _, l := range d.Grid.Lanes {
				if plain(l) == rest {
					return d, l, true
				}
			}
		}
	}
	return nil, "", false
}

// Symptom finds a symptom by its name, its words or another way of saying it;
// blanks and case do not matter.
func (s *Set) Symptom(said string) (*Symptom, bool) {
	i, ok := FindSymptom(s.Symptoms, said)
	if !ok {
		return nil, false
	}
	return &s.Symptoms[i], true
}

// FindSymptom is the place in all of what is said. A name wins over the words,
// the words over another way of saying it.
func FindSymptom(all []Symptom, said string) (int, bool) {
	want := plain(said)
	if want == "" {
		return 0, false
	}
	for i := range all {
		if all[i].Name == want {
			return i, true
		}
	}
	for i := range all {
		if plain(all[i].Words) == want {
			return i, true
		}
	}
	for i := range all {
		if slices.ContainsFunc(all[i].Also, func(a string) bool { return plain(a) == want }) {
			return i, true
		}
	}
	return 0, false
}

// SameWords reports that two texts differ in blanks and case at most.
func SameWords(a, b string) bool { return plain(a) == plain(b) }
