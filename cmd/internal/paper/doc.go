// Package paper lays out the printed sheet of a recipe: the safety notes whole,
// a card of boxes to fill in with a wet pencil, and strips drawn 1 : 1 to lay
// beside the cane. It takes a bound recipe and what was read already, and gives
// pages of plain shapes; PDF and SVG draw those. It decides and judges nothing:
// the boxes are those of recipe.Bound.Boxes, in that order.
package paper
