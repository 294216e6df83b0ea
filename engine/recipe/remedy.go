package recipe

import (
	"canewright/engine/diagnostic"
	"canewright/engine/dimension"
	"canewright/engine/formula"
)

// Remedy is a remedy of the dimension set, or the player's own, joined to the
// slots of the recipe.
type Remedy struct {
	dimension.Remedy
	Own bool // written in the recipe
	// Conditions are the formulas of When, compiled; one that cannot be read
	// is left out.
	Conditions []*formula.Formula
	places     []diagnostic.Span // of Conditions, in the player's own
	Takes      []Part            // what TakesOff names
	Reads      []Part            // what Measure names
}

// Part is a dimension's slot, or one lane of a grid's.
type Part struct {
	Slot int    // of the dimension itself
	Lane string // "" for the whole of it
}

// Covers reports that slot is the part's dimension or one of its stations.
func (b *Bound) Covers(p Part, slot int) bool {
	s := &b.Slots[slot]
	if s.Dimension == nil || s.Dimension != b.Slots[p.Slot].Dimension {
		return false
	}
	return p.Lane == "" || s.Cell != nil && s.Cell.Lane == p.Lane
}

// PartTitle is the part as said at the bench.
func (b *Bound) PartTitle(p Part) string {
	t := b.Slots[p.Slot].Title()
	if p.Lane != "" {
		t += ", " + p.Lane
	}
	return t
}

// SymptomNamed finds a symptom by its name, its words or another way of saying
// it.
func (b *Bound) SymptomNamed(said string) (dimension.Symptom, bool) {
	i, ok := dimension.FindSymptom(b.Symptoms, said)
	if !ok {
		return dimension.Symptom{}, false
	}
	return b.Symptoms[i], true
}

// NearSymptom is what of the known symptoms is close to an unknown one, or "".
func (b *Bound) NearSymptom(said string) string { return nearSymptom(b.Symptoms, said) }

func nearSymptom(all []dimension.Symptom, said string) string {
	var known []string
	for _, s := range all {
		known = append(known, s.Words)
	}
	for _, s := range all {
		known = append(known, s.Name)
	}
	for _, s := range all {
		known = append(known, s.Also...)
	}
	return diagnostic.Near(said, known)
}
