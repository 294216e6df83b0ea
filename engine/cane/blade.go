package cane

import (
	"fmt"
	"math"
	"sort"

	"gonum.org/v1/gonum/interp"
)

// Along is the thickness of a blade between stations on one lane, mm: a
// piecewise cubic through the readings that rises and falls only where they do.
// at are the distances of the stations from one datum, rising, mm; an unknown
// thickness is NaN and its station is left out. It is an error to ask beyond
// the first or last station that is known: nothing is extrapolated.
//
// Source: Fritsch and Butland, SIAM J. Sci. Stat. Comput. 5 (1984), as gonum has
// it; their slopes lie inside the square that Fritsch and Carlson, SIAM J.
// Numer. Anal. 17 (1980), prove enough for monotony.
func Along(at, thickness []float64, x float64) (float64, error) {
	const doing = "thickness along a blade"
	if len(at) != len(thickness) {
		return 0, fmt.Errorf("%s: %d stations and %d readings", doing, len(at), len(thickness))
	}
	if err := rising(doing, "stations", at); err != nil {
		return 0, err
	}
	if err := known(doing, mm("place", x)); err != nil {
		return 0, err
	}
	var xs, ys []float64
	for i, t := range thickness {
		switch {
		case math.IsNaN(t):
		case math.IsInf(t, 0):
			return 0, fmt.Errorf("%s: reading at %.6g mm is not a number", doing, at[i])
		default:
			xs, ys = append(xs, at[i]), append(ys, t)
		}
	}
	if len(xs) == 0 {
		return 0, fmt.Errorf("%s: no station is known", doing)
	}
	last := len(xs) - 1
	if x < xs[0] || x > xs[last] {
		return 0, fmt.Errorf("%s: place %.6g mm is outside what is known, %.6g to %.6g mm", doing, x, xs[0], xs[last])
	}
	i := sort.SearchFloat64s(xs, x)
	if xs[i] == x {
		return ys[i], nil
	}
	var curve interp.FritschButland
	if err := curve.Fit(xs, ys); err != nil {
		return 0, fmt.Errorf("%s: %w", doing, err)
	}
	// The last digit of the polynomial may step over the readings beside it.
	low, high := min(ys[i-1], ys[i]), max(ys[i-1], ys[i])
	return max(low, min(high, curve.Predict(x))), nil
}

func rising(doing, what string, xs []float64) error {
	for i, x := range xs {
		if math.IsNaN(x) || math.IsInf(x, 0) || i > 0 && x <= xs[i-1] {
			return fmt.Errorf("%s: %s do not rise at %.6g", doing, what, x)
		}
	}
	return nil
}

// Blade is the thickness of one blade at stations along it and lanes across.
type Blade struct {
	Along     []float64   // distance of each station from one datum, rising, mm
	Across    []float64   // place of each lane, rising, in any one unit: mm, or shares of the half width
	Thickness [][]float64 // mm, a row for each station; NaN where it is not known
}

// At is the thickness at a place, mm: along by Along on the lanes to either
// side, then linear across. Outside the stations and lanes it is an error.
func (b Blade) At(along, across float64) (float64, error) {
	const doing = "thickness of a blade"
	if len(b.Thickness) != len(b.Along) {
		return 0, fmt.Errorf("%s: %d stations and %d rows", doing, len(b.Along), len(b.Thickness))
	}
	if err := rising(doing, "lanes", b.Across); err != nil {
		return 0, err
	}
	for i, row := range b.Thickness {
		if len(row) != len(b.Across) {
			return 0, fmt.Errorf("%s: %d lanes and %d readings in row %d", doing, len(b.Across), len(row), i+1)
		}
	}
	last := len(b.Across) - 1
	if last < 0 || !(across >= b.Across[0] && across <= b.Across[last]) {
		return 0, fmt.Errorf("%s: %.6g is outside the lanes", doing, across)
	}
	j := sort.SearchFloat64s(b.Across, across)
	right, err := b.lane(j, along)
	if err != nil || b.Across[j] == across {
		return right, err
	}
	left, err := b.lane(j-1, along)
	if err != nil {
		return 0, err
	}
	share := (across - b.Across[j-1]) / (b.Across[j] - b.Across[j-1])
	return max(min(left, right), min(max(left, right), left+(right-left)*share)), nil
}

func (b Blade) lane(j int, along float64) (float64, error) {
	column := make([]float64, len(b.Along))
	for i, row := range b.Thickness {
		column[i] = row[j]
	}
	return Along(b.Along, column, along)
}
