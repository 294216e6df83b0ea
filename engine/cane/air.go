package cane

import (
	"fmt"
	"math"
)

func humidityAllowed(doing string, h float64) error {
	if !(h >= 0 && h <= 1) {
		return fmt.Errorf("%s: humidity %.6g is not between 0 and 1", doing, h)
	}
	return nil
}

// WoodMoisture is the moisture (share of the dry mass) that wood comes to in air
// of this temperature (°C, -2 to 100) and relative humidity (0 to 1). It is a
// guide only: cane is not wood, and its extractives draw water of their own.
//
// Source: Hailwood–Horrobin; USDA Forest Products Laboratory, Wood Handbook,
// FPL-GTR-282 (2021), equation 4-5.
func WoodMoisture(celsius, humidity float64) (float64, error) {
	const doing = "moisture of wood"
	if !(celsius >= -2 && celsius <= 100) {
		return 0, fmt.Errorf("%s: %.6g °C is not between -2 and 100 °C", doing, celsius)
	}
	if err := humidityAllowed(doing, humidity); err != nil {
		return 0, err
	}
	t := celsius
	w := 349 + 1.29*t + 0.0135*t*t
	kh := (0.805 + 0.000736*t - 0.00000273*t*t) * humidity
	k1 := 6.27 - 0.00938*t - 0.000303*t*t
	k2 := 1.91 + 0.0407*t - 0.000293*t*t
	bound := k1*kh + 2*k1*k2*kh*kh
	return 18 / w * (kh/(1-kh) + bound/(1+k1*kh+k1*k2*kh*kh)), nil
}

// VapourPressure of air that holds all the water it can (Pa) at -45 to 60 °C,
// over water.
//
// Source: Magnus formula with the coefficients 611.2 Pa, 17.62, 243.12 °C (World
// Meteorological Organization, No. 8), from memory.
func VapourPressure(celsius float64) (float64, error) {
	if !(celsius >= -45 && celsius <= 60) {
		return 0, fmt.Errorf("vapour pressure: %.6g °C is not between -45 and 60 °C", celsius)
	}
	return 611.2 * math.Exp(17.62*celsius/(243.12+celsius)), nil
}

// IndoorHumidity is the relative humidity (0 to 1) of outside air brought in and
// warmed or cooled, with no water added: RH · e(out)/e(in). More than 1 means
// water runs down the walls, and is an error.
//
// Source: textbook, with VapourPressure.
func IndoorHumidity(outside, humidity, inside float64) (float64, error) {
	const doing = "humidity indoors"
	if err := humidityAllowed(doing, humidity); err != nil {
		return 0, err
	}
	out, err := VapourPressure(outside)
	if err != nil {
		return 0, fmt.Errorf("%s: %w", doing, err)
	}
	in, err := VapourPressure(inside)
	if err != nil {
		return 0, fmt.Errorf("%s: %w", doing, err)
	}
	h := humidity * out / in
	if h > 1 {
		return 0, fmt.Errorf("%s: %w: air of %.6g °C cannot hold that water", doing, ErrNoSolution, inside)
	}
	return h, nil
}

// WaterInAir is the mass of water in a cubic metre of air (g) at this
// temperature (°C) and relative humidity (0 to 1): 2.1668 e/T, e in Pa, T in K.
//
// Source: ideal gas, M/R of water, 18.015 g/mol over 8.3145 J/(mol K).
func WaterInAir(celsius, humidity float64) (float64, error) {
	const doing = "water in air"
	if err := humidityAllowed(doing, humidity); err != nil {
		return 0, err
	}
	e, err := VapourPressure(celsius)
	if err != nil {
		return 0, fmt.Errorf("%s: %w", doing, err)
	}
	return 18.015 / 8.3145 * humidity * e / (273.15 + celsius), nil
}

// AirPressure of the standard atmosphere (kPa) at a height above the sea (m,
// -500 to 11000).
//
// Source: ISO 2533 standard atmosphere, in the rounded form
// 101.325 (1 - 2.25577·10⁻⁵ h)^5.25588, from memory.
func AirPressure(height float64) (float64, error) {
	if !(height >= -500 && height <= 11000) {
		return 0, fmt.Errorf("pressure of the air: %.6g m is not between -500 and 11000 m", height)
	}
	return 101.325 * math.Pow(1-2.25577e-5*height, 5.25588), nil
}

// Drying is the share of the water that is still to go after a time: 1 at the
// start, exp(-k tⁿ). With n = 1 it is Newton's law, with any other n Page's. The
// unit of k follows that of the time: the caller's.
type Drying struct{ K, N float64 }

// Left after a time of 0 or more.
func (d Drying) Left(time float64) (float64, error) {
	const doing = "drying"
	if err := above(doing, input{"k", d.K, ""}, input{"n", d.N, ""}); err != nil {
		return 0, err
	}
	if !(time >= 0) {
		return 0, fmt.Errorf("%s: time %.6g is below zero", doing, time)
	}
	return math.Exp(-d.K * math.Pow(time, d.N)), nil
}

// Until is the time at which only this share (above 0, at most 1) is left:
// (ln(1/share)/k)^(1/n).
func (d Drying) Until(share float64) (float64, error) {
	const doing = "drying"
	if err := above(doing, input{"k", d.K, ""}, input{"n", d.N, ""}); err != nil {
		return 0, err
	}
	if !(share > 0 && share <= 1) {
		return 0, fmt.Errorf("%s: share %.6g is not above 0 and at most 1", doing, share)
	}
	return math.Pow(-math.Log(share)/d.K, 1/d.N), nil
}
