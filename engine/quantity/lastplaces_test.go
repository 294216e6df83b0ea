package quantity

import (
	"testing"

	"pgregory.net/rapid"
)

// A number printed to 1/16 in may be 1/32 in (0.79 mm) more or less; a decimal
// half of its last digit: NIST SP 811 (2008), B.7, rounding.
func TestPrintedPlaces(t *testing.T) {
	t.Parallel()
	const sixteenth, mm = 1_587_500, 1_000_000 // nm
	for _, c := range []struct {
		text string
		kind Kind
		want LastPlaces
	}{
		{"27.0 ± 0.5 mm", Length, LastPlaces{mm / 10, mm / 5, mm / 5}},
		{"27 ± 0.5 mm", Length, LastPlaces{mm / 10, mm / 5, mm / 5}}, // as 27.0
		{"27 ± 1 mm", Length, LastPlaces{mm, 2 * mm, 2 * mm}},
		{"1.30 +0.03 -0.02 mm", Length, LastPlaces{mm / 100, mm / 50, mm / 50}},
		{"56.0 +0.5 -0 mm", Length, LastPlaces{mm / 10, mm / 10, mm / 5}}, // nothing is taken off
		{"56 +1 -0 mm", Length, LastPlaces{mm, mm, 2 * mm}},
		{"1 1/16 ± 1/32 in", Length, LastPlaces{sixteenth, sixteenth + sixteenth/2, sixteenth + sixteenth/2}},
		{"1 1/16 in ± 0.5 mm", Length, LastPlaces{sixteenth, sixteenth + mm/10, sixteenth + mm/10}},
		{"1 in ± 1/32 in", Length, LastPlaces{sixteenth / 2, sixteenth, sixteenth}}, // 1 0/32
		{"1 1/16 .. 1 2/16 in", Length, LastPlaces{sixteenth, sixteenth, sixteenth}},
		{"24 .. 25.5 mm", Length, LastPlaces{mm / 10, mm / 10, mm / 10}},
		{"at most 1.0 mm", Length, LastPlaces{mm / 10, mm / 10, mm / 10}},
		{"at least 31.4 thou", Length, LastPlaces{2540, 2540, 2540}},
		{"23 .. 21 AWG", Length, LastPlaces{}},
		{"E4 .. F4", Pitch, LastPlaces{}},
		{"5 .. 7", Count, LastPlaces{}},
		{"22 ± 2 °C", Temperature, LastPlaces{9000, 18000, 18000}},
	} {
		tol, err := ParseTolerance(c.text, Style{Want: c.kind})
		if err != nil {
			t.Fatalf("%s: %v", c.text, err)
		}
		if got := tol.LastPlaces(); got != c.want {
			t.Errorf("%s is printed to %+v, want %+v", c.text, got, c.want)
		}
	}
	if got := (Tolerance{Text: "not a tolerance", Kind: Length}).LastPlaces(); got != (LastPlaces{}) {
		t.Errorf("no tolerance is printed to %+v", got)
	}
}

// A range without a unit of its own, as a grid composes it, keeps its places.
func TestPrintedPlacesOfABareNumber(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		tenths := rapid.IntRange(1, 9999).Draw(t, "tenths")
		text := decimalTenths(tenths) + " ± 0.3"
		mm, _ := UnitNamed("mm")
		bare, err := ParseTolerance(text, Style{Want: Length, Bare: mm})
		if err != nil {
			t.Fatal(err)
		}
		full, err := ParseTolerance(text+" mm", Style{Want: Length})
		if err != nil {
			t.Fatal(err)
		}
		if bare.LastPlaces() != full.LastPlaces() || bare.LastPlaces().Nominal != 100_000 {
			t.Fatalf("%s: %+v, with its unit %+v", text, bare.LastPlaces(), full.LastPlaces())
		}
	})
}

func decimalTenths(n int) string {
	return Number(Value{Kind: Length, Q: int64(n) * 100_000}, Main(Length), 100_000)
}

// Whatever is read as a tolerance can be asked for its places.
func FuzzPrinted(f *testing.F) {
	for _, s := range []string{"27 ± 0.5 mm", "1 1/16 .. 1 2/16 in", "at most 1 mm", "22 AWG ± 0.02 mm", "F4 ± 20 cents", "1.30 -0.02 +0.03 mm", "24 .. 25,5mm"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, k := range []Kind{Length, Pitch, Count, Time, Temperature} {
			tol, err := ParseTolerance(text, Style{Want: k})
			if err != nil {
				continue
			}
			p := tol.LastPlaces()
			if p.Nominal < 0 || p.Low < 0 || p.High < 0 {
				t.Fatalf("%q: %+v", text, p)
			}
			if p != tol.LastPlaces() {
				t.Fatalf("%q: not the same twice", text)
			}
		}
	})
}
