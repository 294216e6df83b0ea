// Package comparison compares two recipes by what they mean: targets in one
// unit and from one place, stages though renamed or in another order, rules
// that cannot both hold. It is pure: two bound recipes in, plain data and
// sentences out. It claims of rules only what is proved.
//
// Comparing A with B and B with A finds the same, with the sides changed.
package comparison
