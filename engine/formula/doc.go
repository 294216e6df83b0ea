// Package formula reads the formulas of recipes and dimension sets: checks
// their kinds and units, and works them out in whole quanta.
//
//	gouge.centre - gouge.side >= 0.10 mm
//	crow.pitch >= F4 - 20 cents and near(room, 20 °C, 2 K)
//	blade(3 mm, spine, A) - blade(3 mm, rails, A)
//
// A formula holds numbers with their units, names, + - * /, comparisons (also
// a < b < c), and, or, not, ? :, abs, min, max, near(a, b, t) for
// abs(a - b) <= t, and between(x, low, high) with both limits inside. All else
// is refused at its place in the text.
//
// How it is read: the scanner overwrites every number with its unit, every
// name and every station by one letter nobody types, padded with blanks to the
// same number of runes. So every place the parser reports is a place in what
// was typed. A visitor then goes over the tree, refuses what is not allowed,
// gives every node its kind, and puts in quanta and slots.
//
// What is exact: + - abs min max, whole multiples and comparisons of whole
// quanta. Where a division or a broken factor enters, a value within half a
// quantum of a limit counts as on it (for products of kinds, within 1e-12 of
// the larger side).
//
// It is the only importer of expr, and knows no dimension: names come from a
// Scope.
package formula
