package formula

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"canewright/engine/diagnostic"
	"canewright/engine/quantity"
)

// bench is a Scope for tests: a few dimensions in slot order, and one grid.
type bench struct{}

// placed is bench that knows how its places lie to each other.
type placed struct{ bench }

func (p placed) Between(near, far string) (Symbol, bool, bool) {
	name, back := "", false
	switch near + ", " + far {
	case "the butt, the tip":
		name, back = "overall", true
	case "the butt, the first wire":
		name = "wire.first"
	}
	s, ok := p.Lookup(name)
	return s, back, ok
}

var dimensions = []struct {
	name string
	kind quantity.Kind
	more [2]string // condition, datum
}{
	{name: "gouge.centre", kind: quantity.Length},
	{name: "gouge.side", kind: quantity.Length},
	{name: "tip.width", kind: quantity.Length},
	{name: "cane.mass", kind: quantity.Mass},
	{name: "crow.pitch", kind: quantity.Pitch},
	{name: "room", kind: quantity.Temperature},
	{name: "warming", kind: quantity.TempDiff},
	{name: "air", kind: quantity.Humidity},
	{name: "shrinkage", kind: quantity.Ratio},
	{name: "wires", kind: quantity.Count},
	{name: "tone", kind: quantity.Score},
	{name: "soaked", kind: quantity.Time},
	{name: "tap", kind: quantity.Frequency},
	{name: "lever.force", kind: quantity.Force},
	{name: "tube.section", kind: quantity.Area},
	{name: "cane.density", kind: quantity.Density},
	{name: "tip.stiffness", kind: quantity.Stiffness},
	{name: "bevel", kind: quantity.Angle},
	{name: "detune", kind: quantity.Interval},
	{name: "d", kind: quantity.Length}, // the name of a unit
	{name: "A", kind: quantity.Length}, // begins like a note
	// Read in one condition, or counted from somewhere. The settings have neither.
	{"gouge.wet", quantity.Length, [2]string{"wet", ""}},
	{"gouge.dry", quantity.Length, [2]string{"dry", ""}},
	{"gouge.both", quantity.Length, [2]string{"either", ""}},
	{"mass.wet", quantity.Mass, [2]string{"wet", ""}},
	{"mass.dry", quantity.Mass, [2]string{"dry", ""}},
	{"share.wet", quantity.Ratio, [2]string{"wet", ""}},
	{"share.dry", quantity.Ratio, [2]string{"dry", ""}},
	{"overall", quantity.Length, [2]string{"", "the butt"}},
	{"wire.first", quantity.Length, [2]string{"", "the butt"}},
	{"wire.second", quantity.Length, [2]string{"", "the butt"}},
	{"spot", quantity.Length, [2]string{"", "the tip"}},
	{"collar.above", quantity.Length, [2]string{"", "the first wire"}},
	{"fold.at", quantity.Length, [2]string{"", "one end of the piece"}},
	{"bevel.dry", quantity.Length, [2]string{"dry", "the butt"}},
	{"spot.wet", quantity.Length, [2]string{"wet", "the tip"}},
}

// cells of the grid come after the dimensions.
var cells = []string{"3 mm, spine, A", "3 mm, rails, A"}

func slot(name string) int {
	for i, d := range dimensions {
		if d.name == name {
			return i
		}
	}
	for i, c := range cells {
		if c == name {
			return len(dimensions) + i
		}
	}
	panic("no slot for " + name)
}

func (bench) Lookup(name string) (Symbol, bool) {
	for i, d := range dimensions {
		if d.name == name {
			return Symbol{Name: name, Slot: i, Kind: d.kind, Condition: d.more[0], Datum: d.more[1]}, true
		}
	}
	return Symbol{}, false
}

func (bench) Grid(name string) bool { return name == "blade" }

func (bench) Cell(grid string, args []string) (Symbol, string, bool) {
	at := strings.Join(args, ", ")
	if slices.Contains(cells, at) {
		return Symbol{Name: grid + "(" + at + ")", Slot: slot(at), Kind: quantity.Length}, "", true
	}
	if len(args) == 3 && args[1] != "spine" && args[1] != "rails" {
		return Symbol{}, `"` + args[1] + `" is no lane; write spine or rails`, false
	}
	return Symbol{}, "write blade(3 mm, spine, A)", false
}

func (bench) Functions() []Function { return offered }

// offered are functions for tests.
var offered = []Function{
	// The radius of a circle from a chord and its height: (c²/4 + h²) / 2h.
	{Name: "radius", Params: []quantity.Kind{quantity.Length, quantity.Length}, Words: []string{"chord", "height"}, Result: quantity.Length,
		Run: func(v []float64) (float64, error) {
			if v[1] <= 0 {
				return 0, errors.New("the height is not above zero")
			}
			return (v[0]*v[0]/4 + v[1]*v[1]) / (2 * v[1]), nil
		}},
	{Name: "share.of", Params: []quantity.Kind{quantity.Ratio, quantity.Count}, Result: quantity.Ratio, Run: func(v []float64) (float64, error) { return v[0] / v[1], nil }},
	{Name: "brightness", Params: []quantity.Kind{quantity.Pitch, quantity.Score}, Words: []string{"crow"}, Result: quantity.Interval,
		Run: func(v []float64) (float64, error) { return v[0] * v[1], nil }},
	{Name: "swelling", Params: []quantity.Kind{quantity.Length, quantity.Length}, Words: []string{"wet", "dry"}, Result: quantity.Ratio, Mixed: true,
		Run: func(v []float64) (float64, error) { return v[0] / v[1], nil }},
	{Name: "seven", Result: quantity.Count, Run: func([]float64) (float64, error) { return 7, nil }},
	{Name: "boom", Params: []quantity.Kind{quantity.Length}, Result: quantity.Length, Run: func([]float64) (float64, error) { panic("no such cane") }},
	{Name: "lost", Params: []quantity.Kind{quantity.Length}, Result: quantity.Length, Run: func([]float64) (float64, error) { return math.NaN(), nil }},
}

func (bench) Near(name string) string {
	var names []string
	for _, d := range dimensions {
		names = append(names, d.name)
	}
	return diagnostic.Near(name, names)
}

// slots fills a vector from what hands type, such as "gouge.centre" "1.30 mm".
func slots(t testing.TB, pairs ...string) []float64 {
	t.Helper()
	out := make([]float64, len(dimensions)+len(cells))
	for i := 0; i+1 < len(pairs); i += 2 {
		k := quantity.Length
		n := slot(pairs[i])
		if n < len(dimensions) {
			k = dimensions[n].kind
		}
		e, err := quantity.Parse(pairs[i+1], quantity.Style{Want: k, Bare: quantity.Bare(k), Point: true})
		if err != nil {
			t.Fatalf("%s %s: %v", pairs[i], pairs[i+1], err)
		}
		out[n] = e.Value.Float()
	}
	return out
}

// failer is what testing.T and rapid.T have in common here.
type failer interface {
	Helper()
	Fatalf(format string, a ...any)
}

func mustCompile(t failer, text string) *Formula {
	t.Helper()
	f, list := Compile(diagnostic.Plain("test", text), bench{})
	if list.Len() > 0 {
		t.Fatalf("%s:\n%s", text, listed(list))
	}
	return f
}

func listed(l diagnostic.List) string {
	var b strings.Builder
	if err := l.Text(&b); err != nil {
		return err.Error()
	}
	return b.String()
}
