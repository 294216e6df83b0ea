// Package remedy ranks what can be tried when a reed does not do what it
// should: by the symptoms a player chose and by what is known of the readings,
// what can be taken back first.
//
// It is pure. It never advises taking cane where the blade is at or under its
// lower limit, never the same failed step again, and never orders a cut: what
// cannot be undone is put to the player as a choice.
package remedy
