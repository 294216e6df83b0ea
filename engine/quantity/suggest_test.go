package quantity

import "testing"

func TestSuggest(t *testing.T) {
	t.Parallel()
	mm := unit(t, "mm")
	for _, c := range []struct {
		reading, plausible string
		style              Style
		want               string
	}{
		{"31.4 mm", "0.1 .. 1.2 mm", Style{Want: Length}, "31.4 thou"},
		{"31,4", "0.1 .. 1.2 mm", Style{Want: Length, Bare: mm}, "31,4 thou"},
		{"0.0314 mm", "0.1 .. 1.2 mm", Style{Want: Length}, "0.0314 in"},
		{"130 mm", "1.0 .. 1.6 mm", Style{Want: Length}, "1.30 mm"},
		{"1.31", "10 .. 16 mm", Style{Want: Length, Bare: mm}, "13.1 mm"},
		{"131", "10 .. 16 mm", Style{Want: Length, Bare: mm}, "13.1 mm"},
		{"0.131 mm", "1.0 .. 1.6 mm", Style{Want: Length}, "1.31 mm"},
		{"1,31 mm", "1200 .. 1400 mm", Style{Want: Length}, "1310 mm"},
		{"12 mm", "110 .. 130 mm", Style{Want: Length}, "120 mm"},
		{"1 1/8 mm", "20 .. 40 mm", Style{Want: Length}, "1 1/8 in"},
		{"1.20 in", "1.0 .. 1.6 mm", Style{Want: Length}, "1.20 mm"},
		{"1300 mm", "1.2 .. 1.4 mm", Style{Want: Length}, "1300 µm"},
		{"0.8 mg", "0.5 .. 1.2 g", Style{Want: Mass}, "0.8 g"},
		{"70 °C", "10 .. 35 °C", Style{Want: Temperature}, "70 °F"},
		{"450 %", "20 .. 90 %", Style{Want: Humidity}, "45.0 %"},
		{"-1.31 mm", "-0.2 .. -0.1 mm", Style{Want: Length}, "-0.131 mm"},
		// nothing to say: plausible, nothing fits, a fraction, parts, notes, gauges
		{"1.0 mm", "1.0 .. 1.6 mm", Style{Want: Length}, ""},
		{"7 mm", "1.0 .. 1.6 mm", Style{Want: Length}, ""},
		{"1/2 in", "1.0 .. 1.2 mm", Style{Want: Length}, ""},
		{"1 h 30 min", "at most 30 min", Style{Want: Time}, ""},
		{"F3", "E4 .. G4", Style{Want: Pitch}, ""},
		{"2 AWG", "0.1 .. 0.3 mm", Style{Want: Length}, ""},
	} {
		tol, err := ParseTolerance(c.plausible, Style{Want: c.style.Want})
		if err != nil {
			t.Fatal(err)
		}
		e, err := Parse(c.reading, c.style)
		if err != nil {
			t.Fatal(err)
		}
		got, ok := Suggest(e, tol, c.style)
		if got != c.want || ok != (c.want != "") {
			t.Errorf("%s against %s: %q, want %q", c.reading, c.plausible, got, c.want)
		}
	}
}
