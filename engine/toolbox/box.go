package toolbox

import (
	"math"
	"slices"

	"canewright/engine/cane"
	"canewright/engine/quantity"
)

// Format is the value of the first key of the file.
const Format = "my tools 1"

// Box is a player's tools: those for whatever they play, and those for one
// instrument alone.
type Box struct {
	All  Set
	Only []Section // in the order of the file
}

// Section holds the tools of one instrument. Nothing in All counts for it: a
// reed of the one goes on no bocal of the other.
type Section struct {
	Instrument string
	Tools      Set
}

// Set is the numbers of some tools, by the name of the field.
type Set map[string]quantity.Entered

// For is what a player of this instrument has in hand: its own section, or All
// where it has none.
func (b *Box) For(instrument string) Set {
	from := b.All
	for _, s := range b.Only {
		if s.Instrument == instrument {
			from = s.Tools
		}
	}
	out := Set{}
	for name, v := range from {
		out[name] = v
	}
	return out
}

// Has reports whether anything is known of a tool.
func (s Set) Has(tool string) bool {
	return slices.ContainsFunc(Fields(), func(f Field) bool {
		_, ok := s[f.Name()]
		return ok && f.Tool == tool
	})
}

// number is a value in mm, or a taper, with its standard uncertainty: that of
// the last place written, taken as even over one step (JCGM 100, 4.3.7).
type number struct{ v, u float64 }

func numberOf(e quantity.Entered) number {
	per := 1e-6 // nm to mm
	if e.Value.Kind == quantity.Ratio {
		per = 1e-9
	}
	return number{float64(e.Value.Q) * per, float64(e.Step) * per / math.Sqrt(12)}
}

func (s Set) get(name string) (number, bool) {
	e, ok := s[name]
	if !ok {
		return number{}, false
	}
	return numberOf(e), true
}

func (a number) minus(b number) number { return number{a.v - b.v, math.Hypot(a.u, b.u)} }
func (a number) times(k float64) number {
	return number{a.v * k, a.u * math.Abs(k)}
}

// over divides by a taper; uncertainties in quadrature (JCGM 100, 5.1.2).
func (a number) over(k number) number {
	v := a.v / k.v
	return number{v, math.Hypot(a.u/k.v, v*k.u/k.v)}
}

// cone is the small end and taper of a mandrel or bocal: as given, or worked
// out from two diameters and the length between, or from one diameter, its
// place and the taper. What is missing is named.
func (s Set) cone(tool string) (tip, taper number, missing []string) {
	tip, hasTip := s.get(tool + ".tip")
	d, hasD := s.get(tool + ".diameter")
	at, hasAt := s.get(tool + ".at")
	taper, hasTaper := s.get(tool + ".taper")
	if !hasTaper && hasTip && hasD && hasAt {
		if k, err := cane.Taper(d.v, tip.v, at.v); err == nil && k > 0 {
			taper, hasTaper = d.minus(tip).over(at), true
		}
	}
	if !hasTip && hasD && hasAt && hasTaper {
		// d = tip + k·at
		grown := number{taper.v * at.v, math.Hypot(taper.u*at.v, taper.v*at.u)}
		tip, hasTip = d.minus(grown), true
	}
	if !hasTip {
		missing = append(missing, tool+".tip")
	}
	if !hasTaper {
		missing = append(missing, tool+".taper")
	}
	return tip, taper, missing
}

// blade is the diameter of a gouger's blade.
func (s Set) blade() (number, bool) {
	if d, ok := s.get("gouger.blade"); ok {
		return d, true
	}
	r, ok := s.get("gouger.radius")
	return r.times(2), ok
}

// Taper is the change of diameter per mm of a mandrel or a bocal, as given or
// worked out from two diameters.
func (s Set) Taper(tool string) (float64, bool) {
	_, k, missing := s.cone(tool)
	return k.v, !slices.Contains(missing, tool+".taper") && k.v > 0
}

// Lack is a number that is missing, and what for.
type Lack struct {
	Field Field
	For   string
}

// Lacks lists what is missing of the tools that something is known of. What
// another number makes up for does not count.
func (s Set) Lacks() []Lack {
	var out []Lack
	for _, f := range Fields() {
		_, has := s[f.Name()]
		if has || !s.Has(f.Tool) || s.madeUpFor(f) {
			continue
		}
		out = append(out, Lack{f, f.Use})
	}
	return out
}

// madeUpFor reports that a field is not needed beside what is there.
func (s Set) madeUpFor(f Field) bool {
	has := func(name string) bool {
		_, ok := s[name]
		return ok
	}
	switch f.Key {
	case "cane":
		return has("shaper.fold")
	case "oval":
		return true // round where it is left out
	case "blade":
		return has("gouger.radius")
	case "radius":
		return true // the diameter is asked for
	case "centre":
		return true // set to each recipe where it is left out
	case "tip", "taper":
		tip, k, missing := s.cone(f.Tool)
		return !slices.Contains(missing, f.Name()) && tip.v >= 0 && k.v >= 0
	case "diameter", "at":
		_, _, missing := s.cone(f.Tool)
		return len(missing) == 0 || has(f.Tool+".tip") && has(f.Tool+".taper")
	}
	return false
}
