package citation

import (
	"testing"

	"canewright/engine/quantity"
	"canewright/plugins/sdk"
)

// Row is one number a source gives for a dimension, as it is typed at the
// bench, and who gives it.
type Row = struct{ Name, Value, Who string }

// Slip is a reading typed in the wrong unit.
type Slip = struct{ Name, Typed string }

// ByName wants every name once.
func ByName(t *testing.T, in sdk.Instrument) map[string]sdk.Dimension {
	t.Helper()
	out := map[string]sdk.Dimension{}
	for _, d := range in.Dimensions {
		if _, twice := out[d.Name]; twice {
			t.Errorf("%s is there twice", d.Name)
		}
		out[d.Name] = d
	}
	return out
}

// Inside wants every row inside the plausible range, from both sides where
// sources disagree.
func Inside(t *testing.T, in sdk.Instrument, rows []Row) {
	t.Helper()
	have := ByName(t, in)
	for _, c := range rows {
		t.Run(c.Name+" "+c.Value, func(t *testing.T) {
			t.Parallel()
			d, ok := have[c.Name]
			if !ok {
				t.Fatalf("there is no %s", c.Name)
			}
			if side := sideOf(t, d, c.Value); side != quantity.Inside {
				t.Errorf("%s (%s) is %s the plausible range %s", c.Value, c.Who, side, d.Plausible)
			}
		})
	}
}

// Outside wants no slip to pass: a number in the wrong unit is what a plausible
// range is there to catch.
func Outside(t *testing.T, in sdk.Instrument, slips []Slip) {
	t.Helper()
	have := ByName(t, in)
	for _, c := range slips {
		if sideOf(t, have[c.Name], c.Typed) == quantity.Inside {
			t.Errorf("%s passes for a %s", c.Typed, c.Name)
		}
	}
}

func sideOf(t *testing.T, d sdk.Dimension, typed string) quantity.Side {
	t.Helper()
	kind, ok := quantity.KindNamed(d.Kind)
	if !ok {
		t.Fatalf("%s is a %q", d.Name, d.Kind)
	}
	unit := quantity.Bare(kind)
	if d.Unit != "" {
		if unit, ok = quantity.UnitNamed(d.Unit); !ok {
			t.Fatalf("%s is read in %q", d.Name, d.Unit)
		}
	}
	style := quantity.Style{Want: kind, Bare: unit}
	v, err := quantity.Parse(typed, style)
	if err != nil {
		t.Fatal(err)
	}
	r, err := quantity.ParseTolerance(d.Plausible, style)
	if err != nil {
		t.Fatal(err)
	}
	return r.Side(v.Value.Q)
}
