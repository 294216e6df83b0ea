// Package quantity holds what is measured: kinds, units, values in whole
// quanta, and tolerances. It reads what a hand types ("1,31", "1 1/8 in",
// "F4 -10 cents") and prints what it is asked to, losing and inventing no
// digits.
//
// A value is a whole number of its kind's quantum (see the table in kind.go),
// rounded once, half up. Rounding half up is monotone, so a reading typed
// exactly on a limit, in whatever unit, can never fall outside it.
//
// Anyone may import this package; it imports only the standard library.
package quantity
