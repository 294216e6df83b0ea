// Package contrabassoon is the dimension set of the contrabassoon: what is
// measured on its cane and its reeds, from where, in which condition, with
// what words, and where each number comes from.
//
// It imports plugins/sdk only. plugins/contrabassoon/main serves it as a
// program of its own; canewright serves it from its one binary.
//
// Words and stages are the bassoon's; its numbers are not, and none is scaled
// from it. Length, width of the tip and bore are published. All else is left
// to the player, and says so. A range is never a limit.
package contrabassoon
