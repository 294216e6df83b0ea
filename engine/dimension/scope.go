package dimension

import (
	"canewright/engine/formula"
)

// scope lets the formulas of derived dimensions read the set they stand in. A
// slot is the dimension's place in the set. Grids are closed: their stations
// are the recipe's own, so a set cannot name one.
type scope struct{ set *Set }

func (s scope) Lookup(name string) (formula.Symbol, bool) {
	i, ok := s.set.find(name)
	if !ok || s.set.Dimensions[i].Grid != nil {
		return formula.Symbol{}, false
	}
	d := &s.set.Dimensions[i]
	return formula.Symbol{Name: d.Name, Slot: i, Kind: d.Kind, Condition: string(d.Condition), Datum: d.Datum}, true
}

func (s scope) Grid(string) bool { return false }

func (s scope) Cell(string, []string) (formula.Symbol, string, bool) {
	return formula.Symbol{}, "a derived dimension cannot read stations: they are the recipe's own", false
}

func (s scope) Near(name string) string { return s.set.Near(name) }
