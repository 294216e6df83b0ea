package quantity

import (
	"errors"
	"testing"
	"unicode/utf8"
)

func fuzzStyle(kind, bare uint8, point bool) Style {
	names := KindNames()
	k, _ := KindNamed(names[int(kind)%len(names)])
	s := Style{Want: k, Point: point}
	if bare > 0 {
		s.Bare = Unit{unitDefs[int(bare)%len(unitDefs)]}
	}
	return s
}

// placed: an error is an *Error with a message, inside the text.
func placed(t *testing.T, text string, err error) {
	t.Helper()
	var e *Error
	if !errors.As(err, &e) {
		t.Fatalf("%q: %T is no *Error", text, err)
	}
	if n := len([]rune(text)); e.From < 0 || e.From > e.To || e.To > n || e.Message == "" {
		t.Fatalf("%q (%d runes): %d-%d %q", text, n, e.From, e.To, e.Message)
	}
	if utf8.RuneCountInString(e.Message) > 200 {
		t.Fatalf("%q: a message of %d runes", text, utf8.RuneCountInString(e.Message))
	}
}

// stable: what is printed in the unit and with the step typed reads back as
// the same value. A pitch typed in Hz is printed as a note, to the step typed.
func stable(t *testing.T, e Entered, s Style) {
	t.Helper()
	if e.Value.Q > largest || e.Value.Q < -largest || e.Step < 0 {
		t.Fatalf("%q: %d step %d", e.Text, e.Value.Q, e.Step)
	}
	if e.Value.Kind == Pitch && e.Unit.Kind() == Frequency {
		return
	}
	if e.Bare {
		s.Bare = e.Unit
	}
	printed := Format(e.Value, e.Unit, e.Step)
	back, err := Parse(printed, s)
	if err != nil {
		t.Fatalf("%q prints as %q: %v", e.Text, printed, err)
	}
	if back.Value != e.Value {
		t.Fatalf("%q is %d, prints as %q, reads as %d", e.Text, e.Value.Q, printed, back.Value.Q)
	}
	if e.Value.Kind == Time {
		printed = Format(e.Value, Unit{}, 0)
		if back, err := Parse(printed, s); err != nil || back.Value != e.Value {
			t.Fatalf("%q is %d, prints as %q, reads as %d (%v)", e.Text, e.Value.Q, printed, back.Value.Q, err)
		}
	}
}

var seeds = []string{"1,31", "1 1/8 in", "1-1/8 in", "22 AWG", "F4 -10 cents", "Bb3", "349.2 Hz", "1 h 30 min", "45 % RH", "20 °C", "1.31 1.32 mm", "1;2", "-0.5 mm", "1/3 g", "5", "0.5 g/cm³"}

func FuzzParse(f *testing.F) {
	for i, s := range seeds {
		f.Add(s, uint8(i), uint8(0), false)
		f.Add(s, uint8(0), uint8(1), false)
	}
	f.Fuzz(func(t *testing.T, text string, kind, bare uint8, point bool) {
		s := fuzzStyle(kind, bare, point)
		e, err := Parse(text, s)
		slow, slowErr := slowly(text, s)
		if (err == nil) != (slowErr == nil) || err == nil && e != slow {
			t.Fatalf("%q: %+v (%v), without the quick path %+v (%v)", text, e, err, slow, slowErr)
		}
		if err != nil {
			placed(t, text, err)
			return
		}
		stable(t, e, s)
	})
}

func FuzzParseMany(f *testing.F) {
	for i, s := range seeds {
		f.Add(s, uint8(i), uint8(0), false)
		f.Add(s, uint8(0), uint8(1), false)
	}
	f.Fuzz(func(t *testing.T, line string, kind, bare uint8, point bool) {
		s := fuzzStyle(kind, bare, point)
		es, err := ParseMany(line, s)
		if err != nil {
			placed(t, line, err)
			return
		}
		if len(es) == 0 {
			t.Fatalf("%q: no numbers and no error", line)
		}
		for _, e := range es {
			stable(t, e, s)
		}
	})
}

func FuzzTolerance(f *testing.F) {
	for _, s := range []string{"120 ± 0.5 mm", "1.30 +0.03 -0.02 mm", "24 .. 25.5 mm", "24..25.5 mm", "at most 1 mm", ">= 24 mm", "120 +- 0.5 mm", "27 mm ± 1/64 in", "22 AWG ± 0.02 mm", "1.30 +0.03 0 mm"} {
		f.Add(s, uint8(0), uint8(0), false)
	}
	for i, s := range append(seeds, "E4 .. F4", "F4 ± 20 cents", "F4 +20 -10 cents", "20 ± 2 °C", "68 ± 2 °F", "5 .. 7", "1 h 30 min ± 5 min") {
		f.Add(s, uint8(i), uint8(0), false)
		f.Add(s, uint8(7), uint8(0), false)
	}
	f.Fuzz(func(t *testing.T, text string, kind, bare uint8, point bool) {
		s := fuzzStyle(kind, bare, point)
		tol, err := ParseTolerance(text, s)
		if err != nil {
			placed(t, text, err)
			return
		}
		if !tol.Low.Set && !tol.High.Set {
			t.Fatalf("%q has no limit", text)
		}
		if tol.Low.Set && tol.High.Set && tol.Low.Q > tol.High.Q {
			t.Fatalf("%q: low %d, high %d", text, tol.Low.Q, tol.High.Q)
		}
		if tol.Nominal.Set && tol.Side(tol.Nominal.Q) != Inside {
			t.Fatalf("%q: the nominal is outside", text)
		}
		for _, b := range []Bound{tol.Low, tol.High} {
			if b.Set && (tol.Side(b.Q) != Inside || !tol.OnLimit(b.Q, 1)) {
				t.Fatalf("%q: a limit is not inside", text)
			}
		}
		if tol.Limits() == "" || tol.LimitsIn(Main(tol.Kind)) == "" {
			t.Fatalf("%q: no limits to show", text)
		}
	})
}

func BenchmarkParse(b *testing.B) {
	for _, text := range []string{"1,31 mm", "1 1/8 in", "F4 -10 cents"} {
		b.Run(text, func(b *testing.B) {
			s := Style{Want: Length}
			if text[0] == 'F' {
				s.Want = Pitch
			}
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Parse(text, s); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// The quick path is what a reading at the bench takes.
func TestQuickPathDoesNotAllocate(t *testing.T) {
	s := Style{Want: Length}
	if n := testing.AllocsPerRun(100, func() { _, _ = Parse("1,31 mm", s) }); n != 0 {
		t.Errorf("Parse allocates %v times, want 0", n)
	}
}
