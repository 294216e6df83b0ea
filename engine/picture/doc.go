// Package picture draws what was measured, and whole reeds from their dimensions,
// as SVG files that stand alone; reeds as PNG files too, with letters of its own.
// It may import quantity only; it judges nothing and rounds no reading: texts
// come ready, and places along a blade are drawn to scale.
//
// The same input gives the same bytes. Texts are escaped, controls and invisible
// signs replaced. What a colour would say is said by shape, hatching and words.
package picture
