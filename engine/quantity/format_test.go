package quantity

import (
	"encoding/json"
	"testing"
)

// Printing in the unit and with the step typed gives what was typed.
func TestFormatKeepsWhatWasTyped(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		kind  Kind
		texts []string
	}{
		{Length, []string{"1.30 mm", "1.3 mm", "1 mm", "0.000001 mm", "-0.50 mm", "0.00 mm", "120 mm", "0.0512 in", "51.2 thou", "1 1/8 in", "1/64 in", "-1 3/64 in", "1.125 in", "22 AWG", "350 µm", "1.50 m", "12.5 cm"}},
		{Mass, []string{"0.850 g", "850 mg", "0.0000000001 kg", "1.30 oz", "13.2 gr"}},
		{Force, []string{"2.0 N", "0.000000000001 N", "1.50 kgf", "204 gf", "0.45 lbf"}},
		{Temperature, []string{"20.0 °C", "-5 °C", "68 °F", "68.5 °F"}},
		{TempDiff, []string{"2.0 K", "2 °C", "3.5 °F"}},
		{Pitch, []string{"F4", "F4 -10 cents", "F4 +0.50 cents", "Bb3 -0.001 cents", "C0", "B9 +49 cents"}},
		{Interval, []string{"20 cents", "-0.5 cents"}},
		{Frequency, []string{"349.20 Hz", "0.440 kHz"}},
		{Time, []string{"90 min", "1.50 h", "3 s", "250 ms", "2 weeks"}},
		{Angle, []string{"30°", "30.5°", "15′"}},
		{Humidity, []string{"45 %", "45.0 %"}},
		{Count, []string{"5"}},
		{Score, []string{"3.5", "4"}},
		{Ratio, []string{"0.65"}},
	} {
		for _, text := range c.texts {
			e, err := Parse(text, Style{Want: c.kind})
			if err != nil {
				t.Errorf("Parse(%q): %v", text, err)
				continue
			}
			got := Format(e.Value, e.Unit, e.Step)
			if text == "2 weeks" {
				got = Format(e.Value, Unit{}, e.Step)
			}
			if got != text {
				t.Errorf("%q prints as %q", text, got)
			}
		}
	}
}

func TestFormat(t *testing.T) {
	t.Parallel()
	mm, in, h := unit(t, "mm"), unit(t, "in"), unit(t, "h")
	for _, c := range []struct {
		value Value
		unit  Unit
		step  int64
		want  string
	}{
		{Value{Length, 1300000}, mm, 20000, "1.30 mm"}, // steps of 0.02 mm
		{Value{Length, 1300000}, mm, 0, "1.3 mm"},
		{Value{Length, 1304999}, mm, 10000, "1.30 mm"},
		{Value{Length, -4000}, mm, 10000, "0.00 mm"}, // not -0.00
		{Value{Length, 1300000}, in, 10000, "0.0512 in"},
		{Value{Length, 1300000}, in, 396875, "0.051 in"}, // between two 64ths
		{Value{Length, 250000}, mm, 250000, "0.25 mm"},
		{Value{Length, 643803}, Unit{}, 1000, "0.644 mm"},
		{Value{Length, 643804}, unit(t, "AWG"), 1000, "0.644 mm"}, // no gauge
		{Value{Mass, 333333333}, unit(t, "g"), 333333333, "1/3 g"},
		{Value{Pitch, -410000000}, Unit{}, 1e8, "F4 -10 cents"},
		{Value{Pitch, -410139958}, Unit{}, 0, "F4 -10.139958 cents"},
		{Value{Pitch, -450000000}, Unit{}, 1e6, "F4 -50 cents"},
		{Value{Pitch, -1}, Unit{}, 1e4, "A4"},
		{Value{Pitch, 1200e6}, Unit{}, 0, "A5"},
		{Value{Pitch, 300e6}, Unit{}, 0, "C5"},
		{Value{Time, 5415250}, Unit{}, 0, "1 h 30 min 15 s 250 ms"},
		{Value{Time, 5415250}, Unit{}, 60000, "1 h 30 min"},
		{Value{Time, 3599999}, Unit{}, 60000, "1 h"},
		{Value{Time, 3615000}, Unit{}, 0, "1 h 15 s"},
		{Value{Time, -5400000}, Unit{}, 0, "-1 h 30 min"},
		{Value{Time, 864000000}, Unit{}, 0, "10 d"},
		{Value{Time, 604800000}, Unit{}, 0, "1 week"},
		{Value{Time, 0}, Unit{}, 0, "0 s"},
		{Value{Time, 1200000}, h, 1200000, "0.3333333 h"}, // 1/3 h
		{Value{TempDiff, 18000}, Unit{}, 9000, "2 K"},
		{Value{Humidity, 450000000}, Unit{}, 1e7, "45 %"},
		{Value{Count, 5}, Unit{}, 1, "5"},
	} {
		if got := Format(c.value, c.unit, c.step); got != c.want {
			t.Errorf("Format(%d, %q, %d) = %q, want %q", c.value.Q, c.unit.Name(), c.step, got, c.want)
		}
	}
}

// Plain kinds and products reach formulas as the nearest float64 of their
// worth: 0.3 is 0.3.
func TestFloat(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		text string
		kind Kind
		want float64
	}{
		{"30 %", Ratio, 0.3}, {"0.7", Ratio, 0.7}, {"45 %", Humidity, 0.45}, {"1", Ratio, 1}, {"5", Count, 5},
		{"1.31 mm", Length, 1310000}, {"3.5", Score, 3500}, {"1 g/cm³", Density, 1e-12}, // ng/nm³
		{"1 N/mm²", Pressure, 1}, {"1 N/mm", Stiffness, 1e6}, {"1 mm²", Area, 1e12}, {"1 mm³", Volume, 1e18},
	} {
		if got := (Value{c.kind, worth(t, c.text, c.kind)}).Float(); got != c.want {
			t.Errorf("%s is %v in a formula, want %v", c.text, got, c.want)
		}
	}
}

func TestKindsAndUnitsSurviveJSON(t *testing.T) {
	t.Parallel()
	for _, name := range KindNames() {
		k, ok := KindNamed(name)
		if !ok || k.String() != name {
			t.Errorf("kind %q is named %q", name, k)
		}
		type pair struct {
			K Kind
			U Unit
		}
		for _, u := range append(UnitsOf(k), Unit{}) {
			data, err := json.Marshal(pair{k, u})
			if err != nil {
				t.Fatal(err)
			}
			var back pair
			if err := json.Unmarshal(data, &back); err != nil || back != (pair{k, u}) {
				t.Errorf("%s in %s comes back as %v (%v)", k, u.Name(), back, err)
			}
		}
	}
	if err := new(Kind).UnmarshalText([]byte("speed")); err == nil {
		t.Error(`"speed" is read as a kind`)
	}
	if err := new(Unit).UnmarshalText([]byte("furlong")); err == nil {
		t.Error(`"furlong" is read as a unit`)
	}
}
