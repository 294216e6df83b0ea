// Package safety holds the safety notes: their text (notes.yaml, built in),
// its reader, and the choice of notes for what a stage takes into the hand.
//
// It fails closed: a catalogue that cannot be read in full is no catalogue,
// and choosing notes without one is an error, so that a hazardous stage stops.
// Nothing here reads an option, a setting or the environment, and nothing
// hides a note or lowers its level.
//
// The notes inform. They are no risk assessment and no medical or legal
// advice; what comes before them is in Precedence.
package safety
