package formula

import (
	"slices"
	"strings"
	"testing"

	"canewright/engine/diagnostic"
	"canewright/engine/quantity"
)

// bench is a Scope for tests: a few dimensions in slot order, and one grid.
type bench struct{}

var dimensions = []struct {
	name string
	kind quantity.Kind
}{
	{"gouge.centre", quantity.Length},
	{"gouge.side", quantity.Length},
	{"tip.width", quantity.Length},
	{"cane.mass", quantity.Mass},
	{"crow.pitch", quantity.Pitch},
	{"room", quantity.Temperature},
	{"warming", quantity.TempDiff},
	{"air", quantity.Humidity},
	{"shrinkage", quantity.Ratio},
	{"wires", quantity.Count},
	{"tone", quantity.Score},
	{"soaked", quantity.Time},
	{"tap", quantity.Frequency},
	{"lever.force", quantity.Force},
	{"tube.section", quantity.Area},
	{"cane.density", quantity.Density},
	{"tip.stiffness", quantity.Stiffness},
	{"bevel", quantity.Angle},
	{"detune", quantity.Interval},
	{"d", quantity.Length}, // the name of a unit
	{"A", quantity.Length}, // begins like a note
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
			return Symbol{Name: name, Slot: i, Kind: d.kind}, true
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
