// Package oboedamore is the dimension set of the oboe d'amore: what is measured
// on its cane, its staples and its reeds, from where, in which condition and
// with what words.
//
// It imports plugins/sdk only. plugins/oboedamore/main serves it as a program
// of its own; canewright serves it from its one binary.
//
// Next to nobody gives numbers for this instrument. Where there is none there
// is the word and the datum, and the number is left to the player; a range
// that is there holds what a source says, and is never a limit.
package oboedamore
