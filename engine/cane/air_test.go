package cane

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// USDA Wood Handbook, FPL-GTR-282, equation 4-5 and Table 4-2: printed cells to
// 0.1 %; testdata/checks/emc_wood_handbook_eq4_5.tsv has the equation's own values,
// worked out in other software, to 0.0001 %. At 85 % and 21.1 °C the table prints
// 17.9, the equation gives 17.95.
func TestMoistureOfWood(t *testing.T) {
	t.Parallel()
	for humidity, printed := range map[float64]float64{0.20: 4.5, 0.40: 7.7, 0.60: 11.0, 0.80: 16.0} {
		within(t, "printed cell", 100*must[float64](t)(WoodMoisture(21.1, humidity)), printed, 0.05)
	}
	within(t, "21 °C, 65 %", 100*must[float64](t)(WoodMoisture(21, 0.65)), 12.0, 0.05)
	cells := 0
	for _, row := range table(t, "emc_wood_handbook_eq4_5.tsv") {
		celsius := number(t, row["T_C"])
		for rh := 5; rh <= 95; rh += 5 {
			want := number(t, row[fmt.Sprintf("RH%d", rh)])
			within(t, fmt.Sprintf("%v °C, %d %%", celsius, rh), 100*must[float64](t)(WoodMoisture(celsius, float64(rh)/100)), want, 5.1e-5)
			cells++
		}
	}
	if cells != 9*19 {
		t.Errorf("%d cells compared, want 9 temperatures of 19", cells)
	}
}

// liquisearch.com, Equilibrium moisture content: 140 °F and 55 % give 8.4 %. The
// coefficients of the handbook give 8.37: the same at the printed digit.
func TestMoistureOfWoodOnAHotDay(t *testing.T) {
	t.Parallel()
	within(t, "140 °F", 100*must[float64](t)(WoodMoisture(60, 0.55)), 8.4, 0.05)
}

// ASHRAE Handbook 2017, chapter 1, Table 3, as the psychrolib tests print it (Pa).
// Magnus is another formula: within 0.3 % above freezing.
func TestVapourPressureBesideTheTable(t *testing.T) {
	t.Parallel()
	for celsius, want := range map[float64]float64{5: 872.6, 25: 3169.7, 50: 12351.3} {
		near(t, "pressure", must[float64](t)(VapourPressure(celsius)), want, 0.0032)
	}
	for celsius, want := range map[float64]float64{5: 871.74, 25: 3160.06, 50: 12345.2} {
		within(t, "pressure, same formula elsewhere", must[float64](t)(VapourPressure(celsius)), want, 0.05)
	}
}

// Worked examples: outside air at 80 %, warmed to 21 °C without a humidifier,
// comes to 9 % from -10 °C and 20 % from 0 °C.
func TestHumidityIndoors(t *testing.T) {
	t.Parallel()
	within(t, "from -10 °C", 100*must[float64](t)(IndoorHumidity(-10, 0.80, 21)), 9, 0.5)
	within(t, "from 0 °C", 100*must[float64](t)(IndoorHumidity(0, 0.80, 21)), 20, 0.5)
	// No water is added: a cubic metre, let out to the larger volume, holds as much.
	rapid.Check(t, func(r *rapid.T) {
		out := rapid.Float64Range(-20, 20).Draw(r, "outside")
		in := rapid.Float64Range(20, 30).Draw(r, "inside")
		h := rapid.Float64Range(0, 1).Draw(r, "humidity")
		indoor, err := IndoorHumidity(out, h, in)
		if err != nil {
			r.Fatal(err)
		}
		there, err1 := WaterInAir(out, h)
		here, err2 := WaterInAir(in, indoor)
		if err1 != nil || err2 != nil || indoor > h+1e-12 || math.Abs(here*(273.15+in)-there*(273.15+out)) > 1e-9 {
			r.Fatalf("%v of %v °C is %v of %v °C: %v and %v g/m³ (%v, %v)", h, out, indoor, in, there, here, err1, err2)
		}
	})
}

// Worked example: 1624 m up the standard atmosphere has 83.3 kPa. Absolute
// humidity 216.7 e/T (e in hPa), rounded from 216.68.
func TestAirAsWorked(t *testing.T) {
	t.Parallel()
	within(t, "pressure", must[float64](t)(AirPressure(1624)), 83.3, 0.05)
	within(t, "sea level", must[float64](t)(AirPressure(0)), 101.325, 1e-12)
	e := must[float64](t)(VapourPressure(20)) / 100
	near(t, "water", must[float64](t)(WaterInAir(20, 0.5)), 216.7*0.5*e/293.15, 3e-4)
}

// Page's law: the time to a share of 0.05 is (ln 20/k)^(1/n).
func TestDryingComesBack(t *testing.T) {
	t.Parallel()
	within(t, "time", must[float64](t)(Drying{0.3, 0.8}.Until(0.05)), math.Pow(math.Log(20)/0.3, 1/0.8), 1e-12)
	within(t, "Newton's law", must[float64](t)(Drying{0.5, 1}.Left(2)), math.Exp(-1), 1e-15)
	rapid.Check(t, func(r *rapid.T) {
		d := Drying{rapid.Float64Range(0.01, 2).Draw(r, "k"), rapid.Float64Range(0.5, 1.5).Draw(r, "n")}
		share := rapid.Float64Range(0.001, 1).Draw(r, "share")
		at, err := d.Until(share)
		if err != nil {
			r.Fatal(err)
		}
		left, err := d.Left(at)
		if err != nil || math.Abs(left-share) > 1e-10 {
			r.Fatalf("%v comes back as %v (%v)", share, left, err)
		}
		if later, err := d.Left(at + 1); err != nil || later >= left {
			r.Fatalf("%v left, later %v (%v)", left, later, err)
		}
	})
}

func TestAirRefuses(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		what string
		run  func() (float64, error)
		none bool
	}{
		{"wood in steam", func() (float64, error) { return WoodMoisture(101, 0.5) }, false},
		{"humidity in per cent", func() (float64, error) { return WoodMoisture(20, 50) }, false},
		{"humidity of NaN", func() (float64, error) { return WaterInAir(20, math.NaN()) }, false},
		{"vapour too hot", func() (float64, error) { return VapourPressure(61) }, false},
		{"water in air too hot", func() (float64, error) { return WaterInAir(61, 0.5) }, false},
		{"a room too hot", func() (float64, error) { return IndoorHumidity(20, 0.5, 61) }, false},
		{"weather too hot", func() (float64, error) { return IndoorHumidity(61, 0.5, 20) }, false},
		{"damp air in a cold room", func() (float64, error) { return IndoorHumidity(25, 0.9, 5) }, true},
		{"above the air", func() (float64, error) { return AirPressure(12000) }, false},
		{"drying that does not", func() (float64, error) { return Drying{0, 1}.Left(1) }, false},
		{"a time below zero", func() (float64, error) { return Drying{1, 1}.Left(-1) }, false},
		{"dry to nothing", func() (float64, error) { return Drying{1, 1}.Until(0) }, false},
		{"drying with no power", func() (float64, error) { return Drying{1, 0}.Until(0.5) }, false},
	} {
		_, err := c.run()
		refused(t, c.what, err, c.none)
	}
}
