// Package englishhorn is the dimension set of the English horn: what is
// measured on its cane, its staples and its reeds, from where, in which
// condition, with what words, and where each number comes from.
//
// It imports plugins/sdk only. plugins/englishhorn/main serves it as a program
// of its own; canewright serves it from its one binary.
//
// A plausible range holds every value a source gives and room around it:
// beyond it a reading is asked about once, and it is never a limit. Few give
// numbers for this instrument; gouge, shape, tied length and thicknesses are
// left to the player, and say so.
package englishhorn
