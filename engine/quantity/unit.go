package quantity

import "math/big"

// Unit is a unit of one kind. The zero Unit means "none". Comparable with ==.
type Unit struct{ d *unitDef }

// unitDef: num/den quanta make one unit; off quanta are added for a point on
// a scale (°F). A unit whose worth is no multiple (AWG) has num 0.
type unitDef struct {
	name     string
	kind     Kind // the kind of a value written in it
	num, den int64
	off      int64
	also     []string
}

// Factors: NIST SP 811 (2008) appendix B.8, exact by definition: inch 25.4 mm,
// pound-force 4.448 221 615 260 5 N, kilogram-force 9.806 65 N, ounce
// 28.349 523 125 g, grain 64.798 91 mg, t/°C = (t/°F - 32)/1.8.
var unitDefs = []*unitDef{
	{"mm", Length, 1e6, 1, 0, nil},
	{"µm", Length, 1e3, 1, 0, []string{"um", "μm"}},
	{"nm", Length, 1, 1, 0, nil},
	{"cm", Length, 1e7, 1, 0, nil},
	{"m", Length, 1e9, 1, 0, nil},
	{"in", Length, 25400000, 1, 0, []string{"inch", "inches", `"`, "″"}},
	{"thou", Length, 25400, 1, 0, []string{"mil"}},
	{"AWG", Length, 0, 1, 0, []string{"gauge", "ga"}},
	{"g", Mass, 1e9, 1, 0, nil},
	{"mg", Mass, 1e6, 1, 0, nil},
	{"µg", Mass, 1e3, 1, 0, []string{"ug", "μg"}},
	{"kg", Mass, 1e12, 1, 0, nil},
	{"oz", Mass, 28349523125, 1, 0, nil},
	{"gr", Mass, 64798910, 1, 0, []string{"grain", "grains"}},
	{"N", Force, 1e12, 1, 0, nil},
	{"mN", Force, 1e9, 1, 0, nil},
	{"gf", Force, 9806650000, 1, 0, nil},
	{"kgf", Force, 9806650000000, 1, 0, nil},
	{"lbf", Force, 44482216152605, 10, 0, nil},
	{"ozf", Force, 44482216152605, 160, 0, nil},
	{"°", Angle, 3600000, 1, 0, []string{"deg"}},
	{"′", Angle, 60000, 1, 0, []string{"arcmin"}},
	{"arcsec", Angle, 1000, 1, 0, nil},
	{"s", Time, 1000, 1, 0, []string{"sec", "second", "seconds"}},
	{"ms", Time, 1, 1, 0, nil},
	{"min", Time, 60000, 1, 0, []string{"mins", "minute", "minutes"}},
	{"h", Time, 3600000, 1, 0, []string{"hr", "hour", "hours"}},
	{"d", Time, 86400000, 1, 0, []string{"day", "days"}},
	{"week", Time, 604800000, 1, 0, []string{"weeks", "wk"}},
	{"°C", Temperature, 9000, 1, 0, []string{"degC", "C"}},
	{"°F", Temperature, 5000, 1, -160000, []string{"degF", "F"}},
	{"K", TempDiff, 9000, 1, 0, nil},
	{"cents", Interval, 1e6, 1, 0, []string{"cent", "ct"}},
	{"Hz", Frequency, 1e6, 1, 0, nil},
	{"kHz", Frequency, 1e9, 1, 0, nil},
	{"%", Ratio, 1e7, 1, 0, []string{"percent", "% RH", "%RH"}},
	{"", Ratio, 1e9, 1, 0, nil},
	{"", Count, 1, 1, 0, nil},
	{"", Score, 1000, 1, 0, nil},
	{"mm²", Area, 1e6, 1, 0, []string{"mm2", "mm^2"}},
	{"mm³", Volume, 1e6, 1, 0, []string{"mm3", "mm^3"}},
	{"cm³", Volume, 1e9, 1, 0, []string{"cm3", "cm^3", "ml"}},
	{"g/cm³", Density, 1e6, 1, 0, []string{"g/cm3", "g/cm^3", "g/ml"}},
	{"kg/m³", Density, 1e3, 1, 0, []string{"kg/m3", "kg/m^3"}},
	{"N/mm", Stiffness, 1e6, 1, 0, nil},
	{"N/mm²", Pressure, 1e6, 1, 0, []string{"N/mm2", "N/mm^2", "MPa"}},
}

// unitByName: every spelling of every unit. Written once, here.
var unitByName = spellings()

// longestUnit: no spelling has more runes.
const longestUnit = 12

func spellings() map[string]*unitDef {
	m := map[string]*unitDef{}
	for _, d := range unitDefs {
		if d.name == "" {
			continue
		}
		m[d.name] = d
		for _, a := range d.also {
			m[a] = d
		}
	}
	return m
}

// UnitNamed returns the unit written so.
func UnitNamed(name string) (Unit, bool) {
	d, ok := unitByName[name]
	return Unit{d}, ok
}

// Name is the unit as this package prints it; empty for a bare number.
func (u Unit) Name() string {
	if u.d == nil {
		return ""
	}
	return u.d.name
}

// Kind is the kind of a value written in u; a difference may be written in a
// unit of points too (± 2 °C).
func (u Unit) Kind() Kind {
	if u.d == nil {
		return Kind{}
	}
	return u.d.kind
}

// IsZero reports whether u is no unit at all.
func (u Unit) IsZero() bool { return u.d == nil }

// Bare is the unit of a number of kind k that is written without a unit by
// nature (a count, a ratio, a score); the zero Unit for other kinds.
func Bare(k Kind) Unit {
	for _, d := range unitDefs {
		if d.name == "" && d.kind == k {
			return Unit{d}
		}
	}
	return Unit{}
}

// UnitsOf lists the units a value of kind k may be written in, in a fixed
// order, without AWG and without the bare unit.
func UnitsOf(k Kind) []Unit {
	var out []Unit
	for _, d := range unitDefs {
		if d.name != "" && d.num != 0 && accepts(k, d.kind) {
			out = append(out, Unit{d})
		}
	}
	return out
}

// Quanta is how many quanta one unit is worth, as a ratio; nil for AWG.
func (u Unit) Quanta() *big.Rat {
	if u.d == nil || u.d.num == 0 {
		return nil
	}
	return big.NewRat(u.d.num, u.d.den)
}

// Zero is the unit's zero on the scale of a point, in quanta (0 °F is -160000).
func (u Unit) Zero() int64 {
	if u.d == nil {
		return 0
	}
	return u.d.off
}

// accepts: may a value of kind want be written in a unit of kind have?
func accepts(want, have Kind) bool {
	switch {
	case want == have:
		return true
	case want == TempDiff:
		return have == Temperature
	case want == Humidity || want == Ratio:
		return have == Ratio
	}
	return false
}

// MarshalText writes the unit's name; a bare unit has none.
func (u Unit) MarshalText() ([]byte, error) { return []byte(u.Name()), nil }

// UnmarshalText reads a unit's name; an empty one is the zero Unit.
func (u *Unit) UnmarshalText(b []byte) error {
	if len(b) == 0 {
		*u = Unit{}
		return nil
	}
	n, ok := UnitNamed(string(b))
	if !ok {
		return fault(0, len(b), "", "%q is not a unit", clip(string(b)))
	}
	*u = n
	return nil
}
