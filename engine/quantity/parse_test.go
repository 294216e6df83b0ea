package quantity

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func unit(t testing.TB, name string) Unit {
	t.Helper()
	u, ok := UnitNamed(name)
	if !ok {
		t.Fatalf("no unit %q", name)
	}
	return u
}

func TestParse(t *testing.T) {
	t.Parallel()
	mm, in, hz, cents := unit(t, "mm"), unit(t, "in"), unit(t, "Hz"), unit(t, "cents")
	for _, c := range []struct {
		text  string
		style Style
		q     int64
		step  int64
		unit  string
		bare  bool
	}{
		{"1.31 mm", Style{Want: Length}, 1310000, 10000, "mm", false},
		{"1,31", Style{Want: Length, Bare: mm}, 1310000, 10000, "mm", true},
		{" 1,310mm\t", Style{Want: Length}, 1310000, 1000, "mm", false},
		{".5 mm", Style{Want: Length}, 500000, 100000, "mm", false},
		{"−0.5 mm", Style{Want: Length}, -500000, 100000, "mm", false},
		{"- 5 mm", Style{Want: Length}, -5000000, 1000000, "mm", false},
		{"+5 mm", Style{Want: Length}, 5000000, 1000000, "mm", false},
		{"1 1/8 in", Style{Want: Length}, 28575000, 3175000, "in", false},
		{"1-1/8 in", Style{Want: Length}, 28575000, 3175000, "in", false},
		{"-1 1/8 in", Style{Want: Length}, -28575000, 3175000, "in", false},
		{"3/64", Style{Want: Length, Bare: in}, 1190625, 396875, "in", true},
		{`1/2"`, Style{Want: Length}, 12700000, 12700000, "in", false},
		{"51.2 thou", Style{Want: Length}, 1300480, 2540, "thou", false},
		{"22 AWG", Style{Want: Length}, 643803, 0, "AWG", false},
		{"0 AWG", Style{Want: Length}, 8251463, 0, "AWG", false},
		{"350 um", Style{Want: Length}, 350000, 1000, "µm", false},
		{"0.0000005 mm", Style{Want: Length}, 1, 1, "mm", false}, // half a quantum goes up
		{"-0.0000005 mm", Style{Want: Length}, 0, 1, "mm", false},
		{"0.0000004 mm", Style{Want: Length}, 0, 1, "mm", false},
		{"F4", Style{Want: Pitch}, -400e6, 100e6, "cents", false},
		{"F4 -10 cents", Style{Want: Pitch}, -410e6, 1e6, "cents", false},
		{"f4 +2.5 ct", Style{Want: Pitch}, -397.5e6, 1e5, "cents", false},
		{"F4 -10", Style{Want: Pitch, Bare: cents}, -410e6, 1e6, "cents", false},
		{"Bb3", Style{Want: Pitch}, -1100e6, 100e6, "cents", false},
		{"B♭3", Style{Want: Pitch}, -1100e6, 100e6, "cents", false},
		{"bb3", Style{Want: Pitch}, -1100e6, 100e6, "cents", false},
		{"F#4", Style{Want: Pitch}, -300e6, 100e6, "cents", false},
		{"440 Hz", Style{Want: Pitch}, 0, 3934623, "Hz", false}, // 1 Hz at 440 Hz: 1200/(440 ln 2) cents
		{"440", Style{Want: Pitch, Bare: hz}, 0, 3934623, "Hz", true},
		{"442 Hz", Style{Want: Pitch, A4: 442e6}, 0, 3916819, "Hz", false},
		{"1 h 30 min", Style{Want: Time}, 5400000, 60000, "min", false},
		{"-1 h 30 min", Style{Want: Time}, -5400000, 60000, "min", false},
		{"2 d 4 h", Style{Want: Time}, 187200000, 3600000, "h", false},
		{"1.5 h", Style{Want: Time}, 5400000, 360000, "h", false},
		{"45", Style{Want: Humidity, Bare: unit(t, "%")}, 450000000, 10000000, "%", true},
		{"45 % RH", Style{Want: Humidity}, 450000000, 10000000, "%", false},
		{"5", Style{Want: Count}, 5, 1, "", true},
		{"5.0", Style{Want: Count}, 5, 1, "", true},
		{"3.5", Style{Want: Score}, 3500, 100, "", true},
		{"0.65", Style{Want: Ratio}, 650000000, 10000000, "", true},
		{"1″", Style{Want: Angle}, 1000, 1000, "arcsec", false},
		{"12 mm2", Style{Want: Area}, 12000000, 1000000, "mm²", false},
		{"9000 N/mm^2", Style{Want: Pressure}, 9000000000, 1000000, "N/mm²", false},
		{"2 °C", Style{Want: TempDiff}, 18000, 9000, "°C", false},
		{"1 °F", Style{Want: TempDiff}, 5000, 5000, "°F", false},
	} {
		e, err := Parse(c.text, c.style)
		if err != nil {
			t.Errorf("Parse(%q): %v", c.text, err)
			continue
		}
		if e.Value != (Value{c.style.Want, c.q}) || e.Step != c.step || e.Unit.Name() != c.unit || e.Bare != c.bare {
			t.Errorf("Parse(%q) = %d step %d in %q, bare %v; want %d step %d in %q, bare %v", c.text,
				e.Value.Q, e.Step, e.Unit.Name(), e.Bare, c.q, c.step, c.unit, c.bare)
		}
		if e.Text != strings.TrimSpace(c.text) {
			t.Errorf("Parse(%q) keeps %q", c.text, e.Text)
		}
	}
}

func TestParseMany(t *testing.T) {
	t.Parallel()
	mm := unit(t, "mm")
	for _, c := range []struct {
		line  string
		style Style
		want  []int64
		texts string
	}{
		{"1.30 1.31;1,32", Style{Want: Length, Bare: mm}, []int64{1300000, 1310000, 1320000}, "1.30|1.31|1,32"},
		{"3 9 15 21 mm", Style{Want: Length}, []int64{3e6, 9e6, 15e6, 21e6}, "3|9|15|21 mm"},
		{"1 1/8 1 1/4 in", Style{Want: Length}, []int64{28575000, 31750000}, "1 1/8|1 1/4 in"},
		{"1/8 3/16 in", Style{Want: Length, Bare: mm}, []int64{3175000, 4762500}, "1/8|3/16 in"},
		{"1 mm 2 in 3 thou", Style{Want: Length}, []int64{1e6, 50800000, 76200}, "1 mm|2 in|3 thou"},
		{"1.31mm; 1.32mm;", Style{Want: Length}, []int64{1310000, 1320000}, "1.31mm|1.32mm"},
		{"F4 -10 cents F4 Bb3", Style{Want: Pitch}, []int64{-410e6, -400e6, -1100e6}, "F4 -10 cents|F4|Bb3"},
		{"440 F4 440 Hz", Style{Want: Pitch}, []int64{0, -400e6, 0}, "440|F4|440 Hz"},
		{"1 h 30 min", Style{Want: Time}, []int64{5400000}, "1 h 30 min"},
		{"30 s 31 s", Style{Want: Time}, []int64{30000, 31000}, "30 s|31 s"},
		{"-1 -2 mm", Style{Want: Length}, []int64{-1e6, -2e6}, "-1|-2 mm"},
	} {
		es, err := ParseMany(c.line, c.style)
		if err != nil {
			t.Errorf("ParseMany(%q): %v", c.line, err)
			continue
		}
		var got []int64
		var texts []string
		for _, e := range es {
			got, texts = append(got, e.Value.Q), append(texts, e.Text)
		}
		if !slices.Equal(got, c.want) || strings.Join(texts, "|") != c.texts {
			t.Errorf("ParseMany(%q) = %v %q, want %v %q", c.line, got, texts, c.want, c.texts)
		}
	}
}

// refusal is what a refused text must say, and where.
type refusal struct {
	text          string
	style         Style
	from, to      int
	message, hint string
}

func (r refusal) check(t *testing.T, err error) {
	t.Helper()
	var e *Error
	if !errors.As(err, &e) {
		t.Errorf("%q: %v, want it refused", r.text, err)
		return
	}
	if e.Message != r.message || e.Hint != r.hint || e.From != r.from || e.To != r.to {
		t.Errorf("%q refused at %d-%d: %s\n  hint: %s\nwant it at %d-%d: %s\n  hint: %s", r.text, e.From, e.To, e.Message, e.Hint, r.from, r.to, r.message, r.hint)
	}
}

func TestParseRefusals(t *testing.T) {
	t.Parallel()
	mm := unit(t, "mm")
	oneMark := "write one decimal comma or point, and no thousands separator"
	for _, c := range []refusal{
		{"", Style{Want: Length}, 0, 0, "there is no number here", "type a number, such as 1.30 mm"},
		{"  ", Style{Want: Length}, 2, 2, "there is no number here", "type a number, such as 1.30 mm"},
		{"thick", Style{Want: Length}, 0, 5, `"thick" is not a number`, ""},
		{" 1.31", Style{Want: Length}, 1, 5, "this number has no unit", "write the unit, as in 1.30 mm"},
		{"1.31 g", Style{Want: Length}, 0, 6, "g is a mass, and a length is wanted here", "write it as in 1.30 mm"},
		{"440 Hz", Style{Want: Interval}, 0, 6, "Hz is a frequency, and an interval is wanted here", "write it as in 20 cents"},
		{"1.2.3 mm", Style{Want: Length}, 0, 5, "this number has two decimal marks", oneMark},
		{"1,234.5 mm", Style{Want: Length}, 0, 7, "this number has two decimal marks", oneMark},
		{"1,234,567 mm", Style{Want: Length}, 0, 9, "this number has two decimal marks", oneMark},
		{"1'234 mm", Style{Want: Length}, 0, 5, "this number has a thousands separator", oneMark},
		{"1 234 mm", Style{Want: Length, Bare: mm}, 2, 8, `"234 mm" does not belong after the number`, "one number is wanted here, without blanks or separators inside"},
		{"24-26 mm", Style{Want: Length}, 2, 8, `"-26 mm" does not belong after the number`, "one number is wanted here, not a range"},
		{"24 .. 26 mm", Style{Want: Length}, 3, 11, `".. 26 mm" does not belong after the number`, "one number is wanted here, not a range"},
		{"1. mm", Style{Want: Length}, 0, 2, "there are no digits after the decimal mark", "leave the mark out, or write the digits"},
		{"1,31 mm", Style{Want: Length, Point: true}, 1, 2, "inside brackets and formulas a comma is not a decimal comma", "write a point here: 1.31"},
		{"1.31 MM", Style{Want: Length}, 5, 7, `"MM" is not a unit known here`, "did you mean mm?"},
		{"1.31 thuo", Style{Want: Length}, 5, 9, `"thuo" is not a unit known here`, "did you mean thou?"},
		{"31 microns", Style{Want: Length}, 3, 10, `"microns" is not a unit known here`, "did you mean µm?"},
		{"31 furlongs", Style{Want: Length}, 3, 11, `"furlongs" is not a unit known here`, ""},
		{"1/0 in", Style{Want: Length}, 0, 3, "this is not a fraction", "write it as in 1 1/8 in"},
		{"11/33", Style{Want: Length, Bare: unit(t, "µm")}, 0, 5, "a fraction of µm as fine as this is not read here", "write a decimal"},
		{"1/999 in", Style{Want: Length}, 0, 5, "a fraction finer than 1/128 is not read here", "write a decimal"},
		{"22.5 AWG", Style{Want: Length}, 0, 8, "a wire gauge is a whole number from 0 to 40", ""},
		{"41 AWG", Style{Want: Length}, 0, 6, "a wire gauge is a whole number from 0 to 40", ""},
		{"00 AWG", Style{Want: Length}, 0, 6, "wire thicker than gauge 0 is not known here", "write the diameter in mm or in"},
		{"F", Style{Want: Pitch}, 0, 1, "this note has no octave from 0 to 9", "write the octave: F4 is the F above middle C"},
		{"F10", Style{Want: Pitch}, 0, 3, "this note has no octave from 0 to 9", "write the octave: F4 is the F above middle C"},
		{"H4", Style{Want: Pitch}, 0, 2, `"H4" is not a number`, "a note is written as in F4, with the letters A to G"},
		{"F4 -10", Style{Want: Pitch}, 3, 6, "what stands beside a note is not in cents", "write cents: F4 -10 cents"},
		{"Cb0", Style{Want: Pitch}, 0, 3, "this pitch lies outside the notes from C0 to B9", ""},
		{"0 Hz", Style{Want: Pitch}, 0, 4, "a frequency is above zero", ""},
		{"2 Hz", Style{Want: Pitch}, 0, 4, "this pitch lies outside the notes from C0 to B9", ""},
		{"1.5", Style{Want: Count}, 0, 3, "a count is a whole number", ""},
		{"30 min 1 h", Style{Want: Time}, 0, 10, "these parts of a time are the wrong way round", "write the longer unit first: 1 h 30 min"},
		{"9007200 m", Style{Want: Length}, 0, 9, "this number is too large", ""},
		{strings.Repeat("9", 41) + " mm", Style{Want: Length}, 0, 41, "this number is too long", ""},
		{"1.31 mm thick", Style{Want: Length}, 8, 13, `"thick" does not belong after the number`, ""},
	} {
		_, err := Parse(c.text, c.style)
		c.check(t, err)
	}
	for _, c := range []refusal{
		{" ; ", Style{Want: Length}, 0, 3, "there is no number here", "type a number, such as 1.30 mm"},
		{"1,31, 1,32", Style{Want: Length, Bare: mm}, 4, 10, `", 1,32" does not belong after the number`, "separate numbers by blanks or semicolons"},
		{"1.30 1.31", Style{Want: Length}, 0, 4, "this number has no unit", "write the unit, as in 1.30 mm"},
		{"1.5 22 AWG", Style{Want: Length}, 0, 3, "a wire gauge is a whole number from 0 to 40", ""},
		{"24-26 mm", Style{Want: Length, Bare: mm}, 2, 8, `"-26 mm" does not belong after the number`, "one number is wanted here, not a range"},
	} {
		_, err := ParseMany(c.text, c.style)
		c.check(t, err)
	}
}

// slowly is Parse without its quick path.
func slowly(text string, s Style) (Entered, error) {
	p := &parser{src: []rune(text), style: s}
	p.blanks()
	l, err := p.loose()
	if err != nil {
		return Entered{}, err
	}
	if err := p.end(); err != nil {
		return Entered{}, err
	}
	return p.entered(l)
}

func TestQuickPathAgreesWithSlowPath(t *testing.T) {
	t.Parallel()
	var kinds []Kind
	for _, n := range KindNames() {
		k, _ := KindNamed(n)
		kinds = append(kinds, k)
	}
	taken := 0
	rapid.Check(t, func(rt *rapid.T) {
		d := rapid.SampledFrom(unitDefs).Draw(rt, "unit")
		name := rapid.SampledFrom(append([]string{d.name, ""}, d.also...)).Draw(rt, "spelling")
		s := Style{
			Want:  rapid.SampledFrom(append(kinds, d.kind, d.kind, d.kind, d.kind, d.kind, d.kind)).Draw(rt, "kind"),
			Point: rapid.Bool().Draw(rt, "point"),
		}
		if rapid.Bool().Draw(rt, "bare") {
			s.Bare = Unit{rapid.SampledFrom([]*unitDef{d, d, unitDefs[0]}).Draw(rt, "bare unit")}
		}
		text := rapid.StringMatching(`[0-9]{1,9}([.,][0-9]{0,9})?`).Draw(rt, "number") +
			rapid.SampledFrom([]string{"", " ", "  "}).Draw(rt, "blank") + name
		quickly, ok := quick(text, s)
		if !ok {
			return
		}
		taken++
		e, err := slowly(text, s)
		if err != nil {
			rt.Fatalf("quick reads %q as %v, the slow path refuses: %v", text, quickly, err)
		}
		if e != quickly {
			rt.Fatalf("%q: quick %+v, slow %+v", text, quickly, e)
		}
	})
	if taken == 0 {
		t.Fatal("the quick path was never taken")
	}
}

func ExampleParse() {
	e, err := Parse("1 1/8 in", Style{Want: Length})
	fmt.Println(e.Value.Q, e.Step, err)
	// Output: 28575000 3175000 <nil>
}
