package cane

import "fmt"

func density(name string, v float64) input { return input{name, v, "g/cm³"} }
func mass(name string, v float64) input    { return input{name, v, "g"} }

// Afloat is the density (g/cm³) of an even stick that floats upright, from its
// length and the length under water (mm) and the water's density (g/cm³):
// ρ = ρw · under/length. Read it at once: cane drinks.
//
// Source: Archimedes' principle; OpenStax, College Physics, chapter 11.
func Afloat(length, under, water float64) (float64, error) {
	const doing = "density of a floating stick"
	if err := above(doing, mm("length", length), mm("length under water", under), density("water", water)); err != nil {
		return 0, err
	}
	if under > length {
		return 0, fmt.Errorf("%s: %.6g mm under water is more than the whole, %.6g mm", doing, under, length)
	}
	return water * (under / length), nil
}

// InWater is the density (g/cm³) of a piece from its mass (g) and what it weighs
// hung in water (g; below zero if it must be pushed under):
// ρ = ρw m/(m - m_app). Source: as Afloat.
func InWater(dry, apparent, water float64) (float64, error) {
	const doing = "density by weighing in water"
	if err := above(doing, mass("mass", dry), density("water", water)); err != nil {
		return 0, err
	}
	if err := known(doing, mass("mass in water", apparent)); err != nil {
		return 0, err
	}
	if apparent >= dry {
		return 0, fmt.Errorf("%s: mass in water %.6g g is not below the mass, %.6g g", doing, apparent, dry)
	}
	return water * (dry / (dry - apparent)), nil
}

// WithSinker is the density (g/cm³) of a piece that floats, from its mass, what
// a sinker weighs in water alone and what both weigh in water together (g):
// ρ = ρw m/(m + sinker - both). Source: as Afloat.
func WithSinker(dry, sinker, both, water float64) (float64, error) {
	const doing = "density with a sinker"
	if err := above(doing, mass("mass", dry), density("water", water)); err != nil {
		return 0, err
	}
	if err := known(doing, mass("sinker in water", sinker), mass("both in water", both)); err != nil {
		return 0, err
	}
	if displaced := dry + sinker - both; displaced > 0 {
		return water * (dry / displaced), nil
	}
	return 0, fmt.Errorf("%s: both weigh %.6g g in water, which is not below piece and sinker, %.6g g", doing, both, dry+sinker)
}

// WaterDensity of clean water without air (g/cm³) at 0 to 40 °C and ordinary pressure.
//
// Source: Tanaka and others, Metrologia 38 (2001), recommended by the CIPM; the
// coefficients are from memory, the table they give was worked out elsewhere.
func WaterDensity(celsius float64) (float64, error) {
	if !(celsius >= 0 && celsius <= 40) {
		return 0, fmt.Errorf("density of water: %.6g °C is not between 0 and 40 °C", celsius)
	}
	a := celsius - 3.983035
	return 0.99997495 * (1 - a*a*(celsius+301.797)/(522528.9*(celsius+69.34881))), nil
}
