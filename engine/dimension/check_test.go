package dimension_test

import (
	"strings"
	"testing"

	"canewright/engine/dimension"
	"canewright/engine/quantity"
)

func TestASoundSetHasNoFindings(t *testing.T) {
	t.Parallel()
	found := sound(t).Check()
	for _, d := range found.Sorted() {
		t.Error(d)
	}
}

func TestCheckFinds(t *testing.T) {
	t.Parallel()
	type dims = []dimension.Dimension
	gram, _ := quantity.UnitNamed("g")
	for _, c := range []struct {
		say   string
		spoil func(*dimension.Set)
		code  string
		names string // what the message must hold
	}{
		{"a set without a name", func(s *dimension.Set) { s.ID = "" }, "dimension/set", `""`},
		{"a set named like a path", func(s *dimension.Set) { s.ID = "../shawm" }, "dimension/set", "../shawm"},
		{"a set of version 0", func(s *dimension.Set) { s.Major = 0 }, "dimension/set", "0.2"},
		{"a set without dimensions", func(s *dimension.Set) { s.Dimensions = nil }, "dimension/set", "no dimensions"},
		{"a set without a title", func(s *dimension.Set) { s.Title = " " }, "dimension/missing", "title"},
		{"far too many dimensions", func(s *dimension.Set) { s.Dimensions = make(dims, 501) }, "dimension/size", "501"},
		{"a name in capitals", func(s *dimension.Set) { s.Dimensions[1].Name = "Wire.Second" }, "dimension/name", "Wire.Second"},
		{"a name with a blank", func(s *dimension.Set) { s.Dimensions[1].Name = "wire second" }, "dimension/name", "wire second"},
		{"a name that ends in a dot", func(s *dimension.Set) { s.Dimensions[1].Name = "wire." }, "dimension/name", "wire."},
		{"a name that begins with a digit", func(s *dimension.Set) { s.Dimensions[1].Name = "2wire" }, "dimension/name", "2wire"},
		{"a name twice", func(s *dimension.Set) { s.Dimensions[1].Name = "wire.first" }, "dimension/repeated", "wire.first"},
		{"an alias of two dimensions", func(s *dimension.Set) { s.Dimensions[1].Aliases = []string{"TOP  wire"} }, "dimension/repeated", "wire.first"},
		{"an alias that is another's name", func(s *dimension.Set) { s.Dimensions[1].Aliases = []string{"crow.pitch"} }, "dimension/repeated", "crow.pitch"},
		{"an alias that is another's title", func(s *dimension.Set) { s.Dimensions[1].Aliases = []string{"Crow"} }, "dimension/repeated", "crow.pitch"},
		{"an alias twice", func(s *dimension.Set) { s.Dimensions[0].Aliases = []string{"top wire", "Top wire"} }, "dimension/repeated", "twice"},
		{"an old name that is another's name", func(s *dimension.Set) { s.Dimensions[1].Was = []string{"wire.first"} }, "dimension/repeated", "old name"},
		{"an old name that is its own", func(s *dimension.Set) { s.Dimensions[1].Was = []string{"wire.second"} }, "dimension/repeated", "old name"},
		{"an old name of two dimensions", func(s *dimension.Set) { s.Dimensions[1].Was = []string{"wire.top"} }, "dimension/repeated", "wire.first"},
		{"an old name that is no name", func(s *dimension.Set) { s.Dimensions[1].Was = []string{"second wire"} }, "dimension/name", "old name"},
		{"far too many old names", func(s *dimension.Set) { s.Dimensions[1].Was = make([]string, 51) }, "dimension/size", "old names"},
		{"an alias of blanks", func(s *dimension.Set) { s.Dimensions[0].Aliases = []string{" "} }, "dimension/missing", "alias"},
		{"a kind without a name", func(s *dimension.Set) { s.Dimensions[1].Kind.Exp[0] = 5 }, "dimension/kind", "wire.second"},
		{"a length read in grams", func(s *dimension.Set) { s.Dimensions[1].Unit = gram }, "dimension/unit", "g"},
		{"a length read without a unit", func(s *dimension.Set) { s.Dimensions[1].Unit = quantity.Unit{} }, "dimension/unit", "wire.second"},
		{"a distance from nowhere", func(s *dimension.Set) { s.Dimensions[1].Datum = "" }, "dimension/missing", "datum"},
		{"no condition", func(s *dimension.Set) { s.Dimensions[1].Condition = "" }, "dimension/condition", "wire.second"},
		{"an odd condition", func(s *dimension.Set) { s.Dimensions[1].Condition = "frozen" }, "dimension/condition", "frozen"},
		{"an odd subject", func(s *dimension.Set) { s.Dimensions[1].Subject = "player" }, "dimension/subject", "player"},
		{"no word for too much", func(s *dimension.Set) { s.Dimensions[1].More = "" }, "dimension/missing", "too much"},
		{"no word for too little", func(s *dimension.Set) { s.Dimensions[1].Less = "" }, "dimension/missing", "too little"},
		{"one word for both", func(s *dimension.Set) { s.Dimensions[1].Less = "far" }, "dimension/words", "far"},
		{"nobody says how it is read", func(s *dimension.Set) { s.Dimensions[1].How = "" }, "dimension/missing", "way of reading"},
		{"no source", func(s *dimension.Set) { s.Dimensions[1].Sources = nil }, "dimension/source", "wire.second"},
		{"a published source without a name", func(s *dimension.Set) { s.Dimensions[3].Sources[0].Who = "" }, "dimension/missing", "wire.gauge"},
		{"a source that says nothing", func(s *dimension.Set) { s.Dimensions[3].Sources[0].Says = "" }, "dimension/missing", "wire.gauge"},
		{"an odd grade", func(s *dimension.Set) { s.Dimensions[3].Sources[0].Grade = "certain" }, "dimension/source", "certain"},
		{"a range that begins above its end", func(s *dimension.Set) {
			p := &s.Dimensions[0].Plausible
			p.Low, p.High = p.High, p.Low
		}, "dimension/plausible", "wire.first"},
		{"a range of another kind", func(s *dimension.Set) { s.Dimensions[0].Plausible.Kind = quantity.Mass }, "dimension/plausible", "mass"},
		{"a limit beyond exact numbers", func(s *dimension.Set) { s.Dimensions[0].Plausible.High.Q = 1 << 60 }, "dimension/plausible", "wire.first"},
		{"a grid without lanes", func(s *dimension.Set) { s.Dimensions[6].Grid.Lanes = nil }, "dimension/grid", "lane"},
		{"a lane twice", func(s *dimension.Set) { s.Dimensions[6].Grid.Lanes = []string{"spine", "Spine"} }, "dimension/grid", "twice"},
		{"a lane that is no word", func(s *dimension.Set) { s.Dimensions[6].Grid.Lanes = []string{"left,right"} }, "dimension/grid", "left,right"},
		{"a short name with a dot", func(s *dimension.Set) { s.Dimensions[6].Grid.Short = "blade.t" }, "dimension/grid", "blade.t"},
		{"a short name that is another's alias", func(s *dimension.Set) { s.Dimensions[0].Aliases = []string{"blade"} }, "dimension/repeated", "blade"},
		{"a grid with a formula", func(s *dimension.Set) { s.Dimensions[6].Formula = "wire.first" }, "dimension/grid", "formula"},
		{"an escape sequence in a title", func(s *dimension.Set) { s.Dimensions[1].Title = "wire\x1b[2J" }, "dimension/text", "title"},
		{"a text that is not UTF-8", func(s *dimension.Set) { s.Dimensions[1].How = "\xff" }, "dimension/text", "way of reading"},
		{"a very long text", func(s *dimension.Set) { s.Dimensions[1].How = strings.Repeat("x", 2001) }, "dimension/text", "2000"},
		{"a formula that names nothing", func(s *dimension.Set) { s.Dimensions[2].Formula = "wire.first - wire.fifth" }, "formula/", ""},
		{"a formula of mixed kinds", func(s *dimension.Set) { s.Dimensions[2].Formula = "wire.first - wire.turns" }, "formula/", ""},
		{"a formula that reads stations", func(s *dimension.Set) { s.Dimensions[2].Formula = "blade(3 mm, spine, A)" }, "formula/", ""},
		{"a formula of another kind", func(s *dimension.Set) { s.Dimensions[2].Formula = "wire.first * wire.second" }, "dimension/formula", "area"},
		{"a formula that answers yes or no", func(s *dimension.Set) { s.Dimensions[2].Formula = "wire.first >= wire.second" }, "dimension/formula", "yes or no"},
		{"a formula that needs itself", func(s *dimension.Set) { s.Dimensions[2].Formula = "wire.first - wire.gap" }, "dimension/formula", "itself"},
		{"two formulas that need each other", func(s *dimension.Set) {
			s.Dimensions[1].Formula = "wire.first - wire.gap"
		}, "dimension/formula", "itself"},
	} {
		t.Run(c.say, func(t *testing.T) {
			t.Parallel()
			set := sound(t)
			c.spoil(set)
			fails(t, set, c.code, c.names)
		})
	}
}

func TestADerivedDimensionMayUseAnother(t *testing.T) {
	t.Parallel()
	set := sound(t)
	extra := set.Dimensions[2]
	extra.Name, extra.Title, extra.Formula = "wire.gap_twice", "twice the gap", "wire.gap * 2"
	set.Dimensions = append(set.Dimensions, extra)
	found := set.Check()
	for _, d := range found.Sorted() {
		t.Error(d)
	}
}

// fails wants a finding of that code that names what is wrong.
func fails(t *testing.T, set *dimension.Set, code, names string) {
	t.Helper()
	found := set.Check()
	if !found.Failed() {
		t.Fatal("nothing was found")
	}
	for _, d := range found.Sorted() {
		if strings.HasPrefix(d.Code, code) && strings.Contains(d.Message, names) {
			return
		}
	}
	t.Errorf("no finding %s that says %q; found %v", code, names, found.Sorted())
}

func TestASourceWithoutANameIsCreditedByItsGrade(t *testing.T) {
	t.Parallel()
	for want, s := range map[string]dimension.Source{
		"common practice":            {Says: "about 4 mm", Grade: dimension.CommonPractice},
		"A. Maker, p. 3 (published)": {Says: "4 mm", Who: "A. Maker, p. 3", Grade: dimension.Published},
	} {
		if got := s.Credit(); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
