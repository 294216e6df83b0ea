package quantity

import "testing"

func TestKindNamesAndAlgebra(t *testing.T) {
	t.Parallel()
	for want, k := range map[string]Kind{
		"length": Length, "temperature": Temperature, "temperature difference": TempDiff, "density": Density,
		"count": Count, "length^4": product(Length, 4), "length^-1 × mass": times(Mass, product(Length, -1)),
	} {
		if got := k.String(); got != want {
			t.Errorf("%v is named %q, want %q", k.Exp, got, want)
		}
	}
	if Temperature.Difference() != TempDiff || Pitch.Difference() != Interval || Length.Difference() != Length {
		t.Error("differences of points are not the plain kinds")
	}
	for _, k := range []Kind{Ratio, Count, Humidity} {
		if !k.IsPlain() {
			t.Errorf("%v is not plain", k)
		}
	}
	if Length.IsPlain() || Pitch.IsPlain() || Score.IsPlain() {
		t.Error("a kind with a dimension is plain")
	}
	if Ratio.Scale() != 1e-9 || Area.Scale() != 1e6 || product(Length, 4).Scale() != 0 {
		t.Error("scales differ from the table of quanta")
	}
}

func TestEnteredSaysItsUnit(t *testing.T) {
	t.Parallel()
	mm := unit(t, "mm")
	for text, want := range map[string]string{"1,31": "1,31 mm", "1.31 mm": "1.31 mm", "1/8 in": "1/8 in"} {
		e, err := Parse(text, Style{Want: Length, Bare: mm})
		if err != nil || e.String() != want {
			t.Errorf("%q says %q (%v), want %q", text, e, err, want)
		}
	}
	if e, err := Parse("5", Style{Want: Count}); err != nil || e.String() != "5" {
		t.Errorf("a count says %q (%v)", e, err)
	}
}
