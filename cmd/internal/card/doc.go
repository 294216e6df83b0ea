// Package card draws a plain card of a recipe: what is printed and taken to
// the bench, filled in with a pencil, and typed back with follow --later. Its
// boxes are those of recipe.Bound.Boxes, in that order; it decides nothing.
package card
