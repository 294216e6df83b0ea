package cane

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// OpenStax, College Physics, chapter 11, Archimedes' principle.
func TestDensitiesOfOpenStax(t *testing.T) {
	t.Parallel()
	// The coin: 8.630 g in air, 7.800 g in water of 1.000: 0.830 cm³, 10.4 g/cm³.
	coin := must[float64](t)(InWater(8.630, 7.800, 1.000))
	within(t, "coin", coin, 10.4, 0.05)
	within(t, "coin, more digits", coin, 10.3976, 5e-5)
	within(t, "volume", 8.630/coin, 0.830, 5e-4)
	// A body of 0.750 g/mL, 92.0 % under: the fluid has 815 kg/m³.
	within(t, "fluid", 0.750/must[float64](t)(Afloat(100, 92.0, 1))*1000, 815, 0.5)
	within(t, "fluid, more digits", 0.750/must[float64](t)(Afloat(100, 92.0, 1))*1000, 815.217, 5e-4)
	// Ice of 917 in fresh water: 91.7 % under.
	within(t, "ice", must[float64](t)(Afloat(1, 0.917, 1)), 0.917, 1e-15)
	// A log upright, 20.0 % above water: 800 kg/m³. The case nearest to a tube of
	// cane that floats on its end.
	within(t, "log", must[float64](t)(Afloat(100, 80.0, 1))*1000, 800, 0.5)
}

// The three ways agree on one piece, and an unknown part of the sinker drops out.
func TestThreeWaysToOneDensity(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(r *rapid.T) {
		rho := rapid.Float64Range(0.3, 0.95).Draw(r, "density")
		mass := rapid.Float64Range(0.5, 12).Draw(r, "mass")
		water := rapid.Float64Range(0.992, 1).Draw(r, "water")
		sinker := rapid.Float64Range(5, 50).Draw(r, "sinker in water")
		apparent := mass - mass/rho*water // below zero: it must be pushed under
		for what, got := range map[string]func() (float64, error){
			"afloat":  func() (float64, error) { return Afloat(120, 120*rho/water, water) },
			"weighed": func() (float64, error) { return InWater(mass, apparent, water) },
			"sinker":  func() (float64, error) { return WithSinker(mass, sinker, sinker+apparent, water) },
		} {
			if v, err := got(); err != nil || math.Abs(v-rho) > 1e-9 {
				r.Fatalf("%s: %v (%v), want %v", what, v, err, rho)
			}
		}
	})
}

// Tanaka and others, Metrologia 38 (2001); the seven values (kg/m³) were worked
// out from the same formula in other software.
func TestWaterDensity(t *testing.T) {
	t.Parallel()
	for celsius, want := range map[float64]float64{
		0: 999.842826, 4: 999.974948, 10: 999.702702, 15: 999.102572, 20: 998.206746, 25: 997.047022, 30: 995.648797,
	} {
		within(t, "water", 1000*must[float64](t)(WaterDensity(celsius)), want, 5e-7)
	}
}

func TestDensitiesRefuse(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		what string
		run  func() (float64, error)
	}{
		{"more under water than there is", func() (float64, error) { return Afloat(120, 121, 1) }},
		{"nothing under water", func() (float64, error) { return Afloat(120, 0, 1) }},
		{"heavier in water", func() (float64, error) { return InWater(5, 5, 1) }},
		{"a mass of NaN in water", func() (float64, error) { return InWater(5, math.NaN(), 1) }},
		{"no displaced water", func() (float64, error) { return WithSinker(5, 10, 15, 1) }},
		{"an endless sinker", func() (float64, error) { return WithSinker(5, math.Inf(1), 1, 1) }},
		{"ice", func() (float64, error) { return WaterDensity(-0.1) }},
		{"hot water", func() (float64, error) { return WaterDensity(41) }},
		{"water of NaN", func() (float64, error) { return WaterDensity(math.NaN()) }},
	} {
		_, err := c.run()
		refused(t, c.what, err, false)
	}
}
