// Package statistics works out what a player's own numbers say: here the line
// through the origin, with the interval for one more value. It imports the
// standard library and gonum only, knows no unit, reads no logbook, and is pure.
//
// It promises to say nothing where the numbers say nothing: an interval that
// has no end is no interval.
package statistics
