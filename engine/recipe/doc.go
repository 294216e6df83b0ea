// Package recipe reads recipes. Load knows only the file: its shape, its words
// and its numbers as text. Bind joins it to a dimension set and the tools; a
// Bound recipe is the only thing the bench sees.
//
// A recipe is data: it cannot run code, read files, or write anything but text
// to a terminal.
package recipe
