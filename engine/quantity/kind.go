package quantity

import (
	"strconv"
	"strings"
)

// Kind says what a number is a number of: exponents of the base kinds, which
// of the plain kinds it is where all exponents are zero, and whether it is a
// point on a scale that has no true zero (20 °C, F4). Differences of points
// are plain: 22 °C - 20 °C is 2 K, F4 - E4 is 100 cents. Comparable with ==.
type Kind struct {
	Exp   [9]int8 // length, mass, force, angle, time, temperature, pitch, frequency, score
	Plain Plain   // only where all exponents are zero
	Point bool
}

// Plain tells the kinds without a dimension apart; they differ in quantum and
// units, not in algebra.
type Plain uint8

const (
	plainRatio Plain = iota
	plainCount
	plainHumidity
)

// The kinds a dimension may have. Quantum, the worth of 1 in Value.Q:
//
//	length      1 nm          time       1 ms       pitch, interval 1 µcent from A4
//	mass        1 ng          angle      0.001″     frequency       1 µHz
//	force       1 pN          count      1          temperature     1/9000 K from 0 °C
//	ratio, humidity 1e-9      score      1e-3
//	area 1e-6 mm², volume 1e-6 mm³, density 1e-6 g/cm³, stiffness 1e-6 N/mm, pressure 1e-6 N/mm²
var (
	Length      = base(0)
	Mass        = base(1)
	Force       = base(2)
	Angle       = base(3)
	Time        = base(4)
	TempDiff    = base(5)
	Interval    = base(6) // cents
	Frequency   = base(7)
	Score       = base(8)
	Temperature = point(TempDiff)
	Pitch       = point(Interval)
	Ratio       = Kind{}
	Count       = Kind{Plain: plainCount}
	Humidity    = Kind{Plain: plainHumidity}
	Area        = product(Length, 2)
	Volume      = product(Length, 3)
	Density     = times(Mass, product(Length, -3))
	Stiffness   = times(Force, product(Length, -1))
	Pressure    = times(Force, product(Length, -2))
)

func base(i int) (k Kind) { k.Exp[i] = 1; return }
func point(k Kind) Kind   { k.Point = true; return k }
func product(k Kind, n int8) Kind {
	for i := range k.Exp {
		k.Exp[i] *= n
	}
	return k
}
func times(a, b Kind) Kind {
	for i := range a.Exp {
		a.Exp[i] += b.Exp[i]
	}
	return a
}

// named: the kinds that have a name, and how many products of base quanta one
// quantum is worth (1 nm² is a millionth of the area quantum's unit, and so
// on). The factor is 1 for base kinds. Formulas need it. A factor below 1 is no
// float64; inverse is how many quanta make 1, which is.
var named = []struct {
	name           string
	kind           Kind
	scale, inverse float64
}{
	{"length", Length, 1, 0}, {"mass", Mass, 1, 0}, {"force", Force, 1, 0}, {"angle", Angle, 1, 0},
	{"time", Time, 1, 0}, {"temperature", Temperature, 1, 0}, {"temperature difference", TempDiff, 1, 0},
	{"pitch", Pitch, 1, 0}, {"interval", Interval, 1, 0}, {"frequency", Frequency, 1, 0},
	{"score", Score, 1, 0}, {"ratio", Ratio, 1e-9, 1e9}, {"count", Count, 1, 0}, {"humidity", Humidity, 1e-9, 1e9},
	{"area", Area, 1e6, 0}, {"volume", Volume, 1e12, 0}, {"density", Density, 1e-18, 1e18},
	{"stiffness", Stiffness, 1, 0}, {"pressure", Pressure, 1e-6, 1e6},
}

// KindNamed returns the kind a dimension set calls by this name.
func KindNamed(name string) (Kind, bool) {
	for _, n := range named {
		if n.name == name {
			return n.kind, true
		}
	}
	return Kind{}, false
}

// KindNames lists the names KindNamed knows, in a fixed order.
func KindNames() []string {
	out := make([]string, len(named))
	for i, n := range named {
		out[i] = n.name
	}
	return out
}

// Scale is what one quantum of k is worth in products of base quanta; plain
// kinds are worth their fraction of 1. Zero for a kind without a name, which
// has no quantum and exists only inside formulas.
func (k Kind) Scale() float64 {
	for _, n := range named {
		if n.kind == k {
			return n.scale
		}
	}
	return 0
}

// Difference is the kind of the difference of two values of k.
func (k Kind) Difference() Kind { k.Point = false; return k }

// IsPlain reports whether k has no dimension: a ratio, a count or a humidity.
func (k Kind) IsPlain() bool { return k.Exp == [9]int8{} && !k.Point }

// String is the name of the kind, or its product of powers.
func (k Kind) String() string {
	for _, n := range named {
		if n.kind == k {
			return n.name
		}
	}
	var parts []string
	for i, e := range k.Exp {
		if e == 0 {
			continue
		}
		s := named[0].name
		for _, n := range named {
			if n.kind == base(i) {
				s = n.name
			}
		}
		if e != 1 {
			s += "^" + strconv.Itoa(int(e))
		}
		parts = append(parts, s)
	}
	s := strings.Join(parts, " × ")
	if k.Point {
		s += " (a point on a scale)"
	}
	return s
}

// MarshalText writes the name of a named kind.
func (k Kind) MarshalText() ([]byte, error) { return []byte(k.String()), nil }

// UnmarshalText reads the name of a kind.
func (k *Kind) UnmarshalText(b []byte) error {
	n, ok := KindNamed(string(b))
	if !ok {
		return fault(0, len(b), "", "%q is not a kind", clip(string(b)))
	}
	*k = n
	return nil
}
