// Package bassoon is the dimension set of the German-system bassoon: what is
// measured on its cane and its reeds, from where, in which condition, with
// what words, and where each number comes from.
//
// It imports plugins/sdk only. plugins/bassoon/main serves it as a program of
// its own; canewright serves it from its one binary.
//
// A plausible range holds every value a source gives, from both sides where
// sources disagree, and room around it: beyond it a reading is asked about
// once, and it is never a limit. No source states a tolerance for wires,
// lengths or gouges; those are a recipe's own.
package bassoon
