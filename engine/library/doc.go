// Package library looks through a folder for recipes. Pure over fs.FS; it
// writes nothing and keeps no index: what a folder holds is what lies in it.
//
// A recipe lies in a folder of its own, INSTRUMENT/ID/recipe.yaml with
// cases.yaml beside it, or is a single file of any name that ends in .yaml.
// Folders that begin with a dot, links, and whatever is neither folder nor
// ordinary file are passed by. Depth and number are bounded, and what was left
// off is said. A library is a stranger's: its texts are cleaned before they are
// printed, by those who print them.
package library
