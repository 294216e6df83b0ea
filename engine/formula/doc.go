// Package formula reads the formulas of recipes and dimension sets: checks
// their kinds and units, and works them out in whole quanta.
//
//	gouge.centre - gouge.side >= 0.10 mm
//	crow.pitch >= F4 - 20 cents and near(room, 20 °C, 2 K)
//	blade(3 mm, spine, A) - blade(3 mm, rails, A)
//
// A formula holds numbers with their units, names, + - * /, comparisons (also
// a < b < c), and, or, not, ? :, abs, min, max, near(a, b, t) for
// abs(a - b) <= t, between(x, low, high) with both limits inside, and calls of
// functions the scope offers. All else is refused at its place in the text.
//
// Values carry the condition of the cane and the place they are counted from;
// see origin for what may stand beside what. wet(x) and dry(x) are for a formula
// that has converted x itself, length(x) for one that means no place.
//
// How it is read: the scanner overwrites every number with its unit, every
// name and every station by one letter nobody types, padded with blanks to the
// same number of runes. So every place the parser reports is a place in what
// was typed. A visitor then goes over the tree, refuses what is not allowed,
// gives every node its kind and origin, and puts in quanta. What is left is
// lowered to steps over floating-point numbers: once for its value, and once for
// its margin, which package gauging takes uncertainties through.
//
// What is exact: + - abs min max, whole multiples and comparisons of whole
// quanta. Where a division or a broken factor enters, a value within half a
// quantum of a limit counts as on it (for products of kinds, within 1e-12 of
// the larger side).
//
// It is the only importer of expr, whose parser it uses, and knows no dimension:
// names come from a Scope.
package formula
