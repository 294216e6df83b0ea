// Package tool knows the words for tools, materials and actions that a recipe
// may use: what a tool reads with (step and own uncertainty) and the classes
// that safety notes select on (a blade, a lever, a flame, a flammable liquid).
//
// The words are those of the trade, with blanks ("tip cutter"). A word that is
// not here is not refused: it is an unknown tool, and says so.
package tool
