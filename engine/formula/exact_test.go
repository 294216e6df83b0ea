package formula

import (
	"fmt"
	"math/big"
	"testing"

	"pgregory.net/rapid"

	"canewright/engine/quantity"
)

// hundredths writes n hundredths as a hand would.
func hundredths(n int64) string {
	sign := ""
	if n < 0 {
		sign, n = "-", -n
	}
	return fmt.Sprintf("%s%d.%02d", sign, n/100, n%100)
}

// All pairs of values on a grid of hundredths, as values, in literals, in
// millimetres and in thou: formulas decide as whole numbers do.
func TestDifferencesAreExact(t *testing.T) {
	t.Parallel()
	for _, unit := range []struct {
		name   string
		quanta int64 // in one hundredth of the unit: 1 mm is 1e6 nm, 1 thou 25 400 nm (NIST SP 811, B.8)
	}{{"mm", 10000}, {"thou", 254}} {
		t.Run(unit.name, func(t *testing.T) {
			t.Parallel()
			rapid.Check(t, func(t *rapid.T) {
				a := rapid.Int64Range(0, 20000).Draw(t, "a")
				b := rapid.Int64Range(0, 20000).Draw(t, "b")
				c := a - b + rapid.Int64Range(-1, 1).Draw(t, "off")
				op := rapid.SampledFrom([]string{"<", "<=", ">", ">="}).Draw(t, "op")
				d := new(big.Int).Sub(big.NewInt(a), big.NewInt(b)).Cmp(big.NewInt(c))
				want := map[string]bool{"<": d < 0, "<=": d <= 0, ">": d > 0, ">=": d >= 0}[op]
				have := make([]float64, len(dimensions)+len(cells))
				have[slot("gouge.centre")] = quantity.Value{Kind: quantity.Length, Q: a * unit.quanta}.Float()
				have[slot("gouge.side")] = quantity.Value{Kind: quantity.Length, Q: b * unit.quanta}.Float()
				have[slot("tip.width")] = quantity.Value{Kind: quantity.Length, Q: c * unit.quanta}.Float()
				for _, text := range []string{
					fmt.Sprintf("gouge.centre - gouge.side %s tip.width", op),
					fmt.Sprintf("gouge.centre - gouge.side %s %s %s", op, hundredths(c), unit.name),
					fmt.Sprintf("%s %s - %s %s %s %s %s", hundredths(a), unit.name, hundredths(b), unit.name, op, hundredths(c), unit.name),
					fmt.Sprintf("gouge.centre %s gouge.side + tip.width", op),
					fmt.Sprintf("3 * gouge.centre - gouge.side * 3 %s 3 * tip.width", op),
					fmt.Sprintf("(gouge.centre - gouge.side) / 7 %s tip.width / 7", op),
				} {
					got, err := mustCompile(t, text).Holds(have)
					if err != nil || got != want {
						t.Fatalf("%s with %d %d %d hundredths: %v %v, want %v", text, a, b, c, got, err, want)
					}
				}
			})
		})
	}
}

// Where a division enters, formulas decide as rational numbers do, but for what
// lies within half a quantum.
func TestQuotientsAreExactToHalfAQuantum(t *testing.T) {
	t.Parallel()
	half := big.NewRat(1, 2)
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.Int64Range(1, 1<<40).Draw(t, "a")
		n := rapid.Int64Range(2, 99).Draw(t, "n")
		c := a/n + rapid.Int64Range(-2, 2).Draw(t, "off")
		have := make([]float64, len(dimensions)+len(cells))
		have[slot("gouge.centre")], have[slot("gouge.side")] = float64(a), float64(c)
		d := new(big.Rat).Sub(big.NewRat(a, n), big.NewRat(c, 1))
		for op, want := range map[string]bool{
			">=": d.Cmp(new(big.Rat).Neg(half)) >= 0,
			">":  d.Cmp(half) > 0,
			"<=": d.Cmp(half) <= 0,
			"<":  d.Cmp(new(big.Rat).Neg(half)) < 0,
		} {
			text := fmt.Sprintf("gouge.centre / %d %s gouge.side", n, op)
			got, err := mustCompile(t, text).Holds(have)
			if err != nil || got != want {
				t.Fatalf("%s with %d and %d: %v %v, want %v", text, a, c, got, err, want)
			}
		}
	})
}

// The same limit in another unit, each factor exact by definition (NIST SP 811,
// B.8), is the same limit.
func TestLimitsInTwoUnitsAreOneLimit(t *testing.T) {
	t.Parallel()
	for _, pair := range [][2]string{
		{"0.5 in", "12.7 mm"}, {"1/16 in", "1587.5 µm"}, {"10 oz", "283.49523125 g"},
		{"32 °F", "0 °C"}, {"-40 °F", "-40 °C"}, {"212 °F", "100 °C"}, {"A4", "440 Hz"}, {"A5", "880 Hz"},
		{"1 week", "7 d"}, {"1 d", "24 h"}, {"1°", "60 arcmin"}, {"50 %", "0.5"}, {"1 kHz", "1000 Hz"},
		{"1 g/cm³", "1000 kg/m³"}, {"1 MPa", "1 N/mm²"}, {"1 cm³", "1000 mm³"},
	} {
		for text, want := range map[string]bool{
			pair[0] + " >= " + pair[1]: true, pair[0] + " <= " + pair[1]: true,
			pair[0] + " > " + pair[1]: false, pair[0] + " < " + pair[1]: false,
		} {
			got, err := mustCompile(t, text).Holds(nil)
			if err != nil || got != want {
				t.Errorf("%s: %v %v, want %v", text, got, err, want)
			}
		}
	}
}
