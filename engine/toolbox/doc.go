// Package toolbox describes a player's own tools in numbers, and says what of
// somebody else's recipe carries over to them. It reads the text of a file of
// its own, and Edit changes one number in such a text; the file itself is the
// caller's. It never takes a number for granted that neither the player nor the
// recipe has stated.
package toolbox
