// Package uilleann is the dimension set of the reed of the Uilleann pipes'
// chanter: what is measured on its cane, its staple and the reed, from where,
// with what words, and where each number comes from.
//
// It imports plugins/sdk only. plugins/uilleann/main serves it as a program of
// its own; canewright serves it from its one binary.
//
// The reed is played dry, by bellows, so nothing is read wet. Pipes are not
// alike: the published numbers are of concert D unless a source says C. A
// range holds them and room around them, and is never a limit.
package uilleann
