// Package toolbox describes a player's own tools in numbers, and says what of
// somebody else's recipe carries over to them. It reads a file of its own and
// never writes one. It never takes a number for granted that neither the player
// nor the recipe has stated.
package toolbox
