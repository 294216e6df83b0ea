// Package cane computes the geometry and mechanics of cane and reeds: what a
// tube splits into, what a gouge leaves, how a blade lies between its stations,
// where a cone stops, how stiff and how dense a piece is, what the room does.
//
// Everything here is a pure function of plain numbers. It imports the standard
// library and gonum, knows no recipe and no reading, and rounds nothing.
//
// Units, everywhere: lengths in mm, areas in mm², second moments of area in
// mm⁴, masses in g, densities in g/cm³, forces in N, loads over deflections in
// N/mm, moduli in N/mm² (MPa), angles in rad, frequencies in Hz, intervals in
// cents, temperatures in °C, ratios and humidities as fractions of 1.
//
// A value outside what a function can answer is an error that names it. No
// function answers NaN or infinity for sizes that can be measured, and
// Function.Run never does. Where a wanted result does not exist the error wraps
// ErrNoSolution. Uncertainty is the caller's, except where a doc comment gives it.
//
// Sources stand with each function. "Textbook" is geometry or mechanics that any
// textbook proves and the tests prove again by another way; "from memory" is a
// constant whose print was not at hand.
package cane
