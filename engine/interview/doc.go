// Package interview asks a player for what stands on a paper sheet, one
// question at a time as a teacher would be asked, and writes a recipe of it.
//
// It is pure: what was answered is a list of lines, and the question that is
// next, the recipe so far and what is still open follow from them. Taking the
// last line away is going back; keeping the lines is all that resuming takes.
// A line is refused at once or the recipe it leads to can be read.
//
// It imports recipe, dimension, tool, yamldoc, quantity and diagnostic.
package interview
