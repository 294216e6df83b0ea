package card_test

import (
	"slices"
	"testing"

	"canewright/cmd/internal/card"
	"canewright/engine/bench"
	"canewright/engine/dimension"
	"canewright/engine/quantity"
	"canewright/engine/recipe"
	"canewright/engine/tool"
)

// A target in inches is no reading for a box in mm, and its blank would make two
// boxes of it: 1 1/16 in is typed as 26.9875.
func TestTheExampleIsTypedInTheBoxsUnit(t *testing.T) {
	t.Parallel()
	mm, _ := quantity.UnitNamed("mm")
	set := &dimension.Set{ID: "shawm", Title: "shawm, invented", Major: 1, Dimensions: []dimension.Dimension{
		{Name: "wire.first", Title: "first wire", Kind: quantity.Length, Unit: mm, Subject: "piece", Datum: "the butt",
			Condition: dimension.Either, How: "to the twist", Tool: "caliper", More: "far", Less: "close"}}}
	f, list := recipe.Load("recipe.yaml", []byte("canewright: recipe 1\ntitle: a reed\nid: a-reed\nversion: 1\ninstrument: shawm 1\n"+
		"stages:\n  - {stage: wire, targets: {wire.first: 1 1/16 ± 1/64 in}, measure: [wire.first]}\n"))
	if f == nil {
		t.Fatal(list.Sorted())
	}
	b, list := recipe.Bind(f, set, tool.Standard())
	if b == nil {
		t.Fatal(list.Sorted())
	}
	c, err := card.New(b, card.Order{Pieces: []string{"7"}, Notes: func(recipe.Use) ([]bench.Note, error) { return nil, nil }})
	if err != nil {
		t.Fatal(err)
	}
	if want := []string{"@19:40", "7 26.9875"}; !slices.Equal(c.Example, want) {
		t.Errorf("the example is %q, want %q", c.Example, want)
	}
}
