package quantity

import (
	"fmt"
	"math"
	"math/big"
	"os"
	"strconv"
	"strings"
	"testing"
)

// table reads a file of published values: a comment line, a line of column
// names, then rows.
func table(t *testing.T, name string) []map[string]string {
	t.Helper()
	data, err := os.ReadFile("../../testdata/checks/" + name)
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(strings.TrimRight(string(data), "\n"), "\n")
	if len(lines) < 3 || !strings.HasPrefix(lines[0], "#") {
		t.Fatalf("%s does not begin with its source", name)
	}
	head := strings.Split(lines[1], "\t")
	var rows []map[string]string
	for _, l := range lines[2:] {
		row := map[string]string{}
		for i, cell := range strings.Split(l, "\t") {
			row[head[i]] = cell
		}
		rows = append(rows, row)
	}
	return rows
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	f, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// worth is the quanta of a text of this kind.
func worth(t *testing.T, text string, k Kind) int64 {
	t.Helper()
	e, err := Parse(text, Style{Want: k})
	if err != nil {
		t.Fatalf("Parse(%q): %v", text, err)
	}
	return e.Value.Q
}

// Wire gauges: ASTM B258, d = 0.005 in × 92^((36-n)/39), and the published
// columns of testdata/checks/awg.tsv (sources in its first line; the mm column
// is printed to 0.001 mm, the inch column to 0.0001 in). Tables that turn the
// rounded inch into mm differ by 0.001 mm (22 AWG still 0.644, but 21 gives
// 0.724, 23 0.574, 26 0.404, 28 0.320): they are not this table.
func TestWireGaugesArePublishedOnes(t *testing.T) {
	t.Parallel()
	published := 0
	for _, row := range table(t, "awg.tsv") {
		q := worth(t, row["awg"]+" AWG", Length)
		// Half a nm is our rounding; 0.05 nm that of the file's last digit.
		if want := number(t, row["mm"]) * 1e6; math.Abs(float64(q)-want) > 0.55 {
			t.Errorf("%s AWG is %d nm, ASTM B258 gives %.1f nm", row["awg"], q, want)
		}
		v := Value{Length, q}
		if row["mm_published"] != "" {
			published++
			// The table drops trailing zeros.
			if got := strings.TrimRight(Number(v, unit(t, "mm"), 1000), "0"); got != strings.TrimRight(row["mm_published"], "0") {
				t.Errorf("%s AWG prints as %s mm, published %s", row["awg"], got, row["mm_published"])
			}
			if got := strings.TrimRight(Number(v, unit(t, "in"), 2540), "0"); got != strings.TrimRight(row["inch_published"], "0") {
				t.Errorf("%s AWG prints as %s in, published %s", row["awg"], got, row["inch_published"])
			}
		}
		if got := Format(v, unit(t, "AWG"), 0); got != row["awg"]+" AWG" {
			t.Errorf("%s AWG prints as %q in gauges", row["awg"], got)
		}
	}
	if published != 21 {
		t.Errorf("%d published gauges checked, want 21 (10 to 30)", published)
	}
	// The defining point of ASTM B258: gauge 36 is 0.005 in.
	if q := worth(t, "36 AWG", Length); q != worth(t, "0.005 in", Length) {
		t.Errorf("36 AWG is %d nm, ASTM B258 defines 0.005 in", q)
	}
}

// Factors: NIST SP 811 (2008), appendix B.8, printed to seven digits; and the
// exact definitions behind them (same appendix, in bold there).
func TestUnitFactors(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		text  string
		kind  Kind
		quant float64 // SI value of one quantum
		want  string  // SI value as printed: m, kg, N, rad
		exact string  // quanta of one unit, exactly; "" where the printed digits are all there is
	}{
		{"1 in", Length, 1e-9, "2.54e-02", "25400000"},
		{"1 thou", Length, 1e-9, "2.54e-05", "25400"},
		{"1 oz", Mass, 1e-12, "2.834952e-02", "28349523125"},
		{"1 gr", Mass, 1e-12, "6.479891e-05", "64798910"},
		{"1 lbf", Force, 1e-12, "4.448222e+00", "4448221615260.5"},
		{"1 ozf", Force, 1e-12, "2.780139e-01", "278013850953.78125"},
		{"1 kgf", Force, 1e-12, "9.80665e+00", "9806650000000"},
		{"1 gf", Force, 1e-12, "9.80665e-03", "9806650000"},
		{"1′", Angle, math.Pi / 180 / 3600000, "2.908882e-04", "60000"},
		{"1 arcsec", Angle, math.Pi / 180 / 3600000, "4.848137e-06", "1000"},
		{"1°", Angle, math.Pi / 180 / 3600000, "1.745329e-02", "3600000"},
	} {
		digits := len(strings.SplitN(c.want, "e", 2)[0]) - 2
		got := float64(worth(t, c.text, c.kind)) * c.quant
		if s := fmt.Sprintf("%.*e", digits, got); s != c.want {
			t.Errorf("%s is %s in SI units, NIST SP 811 prints %s", c.text, s, c.want)
		}
		e, err := Parse(c.text, Style{Want: c.kind})
		if err != nil {
			t.Fatal(err)
		}
		if want, _ := new(big.Rat).SetString(c.exact); e.Unit.Quanta().Cmp(want) != 0 {
			t.Errorf("%s is %v quanta, the definition gives %s", c.text, e.Unit.Quanta(), c.exact)
		}
	}
}

// Temperatures: NIST SP 811 (2008) B.8, t/°C = (t/°F - 32)/1.8.
func TestFahrenheit(t *testing.T) {
	t.Parallel()
	for f, want := range map[string]string{"68 °F": "20.00", "70 °F": "21.11", "32 °F": "0.00", "-40 °F": "-40.00", "212 °F": "100.00"} {
		v := Value{Temperature, worth(t, f, Temperature)}
		if got := Number(v, unit(t, "°C"), 90); got != want {
			t.Errorf("%s is %s °C, want %s", f, got, want)
		}
		if got := Format(v, unit(t, "°F"), 5000); got != f {
			t.Errorf("%s prints as %s", f, got)
		}
	}
}

// Equal temperament with A4 = 440 Hz (ISO 16): testdata/checks/
// note_frequencies_440.tsv, published to 0.01 Hz (source in its first line).
// A printed value may be off by half a digit; one digit is the bound used.
func TestNoteFrequencies(t *testing.T) {
	t.Parallel()
	rows := table(t, "note_frequencies_440.tsv")
	if len(rows) != 78 {
		t.Errorf("%d notes, want 78", len(rows))
	}
	for _, row := range rows {
		q := worth(t, row["note"], Pitch)
		hz := Hertz(q, 0)
		if want := number(t, row["hz_published_2dp"]); math.Abs(hz-want) > 0.01 {
			t.Errorf("%s is %.4f Hz, published %.2f", row["note"], hz, want)
		}
		if want := number(t, row["hz"]); math.Abs(hz-want) > 1e-6 {
			t.Errorf("%s is %.7f Hz, the formula gives %.6f", row["note"], hz, want)
		}
		// The frequency typed with all digits is the note again; 1e-6 Hz at C0
		// is 1e-4 cents.
		if back := worth(t, row["hz"]+" Hz", Pitch); math.Abs(float64(back-q)) > 100 {
			t.Errorf("%s Hz is %d µcents off %s", row["hz"], back-q, row["note"])
		}
	}
	// CRC Handbook of Chemistry and Physics 14-22.
	for note, want := range map[string]float64{"C4": 261.63, "A3": 220.00, "Bb3": 233.08, "Bb1": 58.27, "E2": 82.41, "F#4": 369.99, "C5": 523.25, "C6": 1046.50} {
		if hz := Hertz(worth(t, note, Pitch), 0); math.Abs(hz-want) > 0.005+1e-9 {
			t.Errorf("%s is %.4f Hz, published %.2f", note, hz, want)
		}
	}
}

// Cents are 1200 log2(f2/f1); 3/2, 5/4, 81/80 and 442/440 are textbook values
// to 0.001 cents, from memory; 443 and 415 Hz were worked out from the formula.
func TestCents(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		hz   string
		want float64
	}{{"660 Hz", 701.955}, {"550 Hz", 386.314}, {"445.5 Hz", 21.506}, {"442 Hz", 7.851}, {"443 Hz", 11.764}, {"415 Hz", -101.271}} {
		got := float64(worth(t, c.hz, Pitch)) / 1e6
		if math.Abs(got-c.want) > 0.0005 {
			t.Errorf("%s is %.6f cents from 440 Hz, want %.3f", c.hz, got, c.want)
		}
	}
}
