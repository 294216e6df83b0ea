// Package adaptation keeps a player's own version of another's recipe: only
// what differs, on top of the origin's text. It makes the whole of the two,
// says what a new version of the origin changes, and takes that up piece by
// piece.
//
// Everything here is text in, text out: an origin is found by its digest by
// whoever calls. The whole is an ordinary recipe; recipe.Load judges it.
package adaptation
