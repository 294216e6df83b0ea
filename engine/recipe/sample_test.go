package recipe_test

import (
	"strings"
	"testing"

	"canewright/engine/diagnostic"
	"canewright/engine/dimension"
	"canewright/engine/quantity"
	"canewright/engine/recipe"
	"canewright/engine/tool"
)

// shawm is a small invented dimension set.
func shawm(t testing.TB) *dimension.Set {
	t.Helper()
	unit := func(name string) quantity.Unit {
		u, ok := quantity.UnitNamed(name)
		if !ok {
			t.Fatalf("no unit %q", name)
		}
		return u
	}
	mm, g := unit("mm"), unit("g")
	plausible, err := quantity.ParseTolerance("5 .. 60 mm", quantity.Style{Want: quantity.Length})
	if err != nil {
		t.Fatal(err)
	}
	from := func(name, title string, aliases ...string) dimension.Dimension {
		return dimension.Dimension{Name: name, Title: title, Aliases: aliases, Kind: quantity.Length, Unit: mm, Subject: "piece",
			Datum: "the butt", Condition: dimension.Either, How: "to the twist", Tool: "ruler", More: "far", Less: "close", Plausible: plausible}
	}
	first := from("wire.first", "first wire", "top wire", "collar wire")
	first.Was = []string{"wire.top", "wire.collar"}
	first.Sources = []dimension.Source{
		{Says: "26 to 28 mm", Who: "An invented page, 1901", Grade: dimension.Published},
		{Says: "1 in", Grade: dimension.FromMemory},
	}
	return &dimension.Set{ID: "shawm", Title: "shawm, invented", Major: 1, Dimensions: []dimension.Dimension{
		first,
		from("wire.second", "second wire"),
		{Name: "wire.gap", Title: "gap of the wires", Kind: quantity.Length, Unit: mm, Subject: "piece", Condition: dimension.Either,
			More: "wide", Less: "narrow", Formula: "wire.first - wire.second"},
		{Name: "cane.weight", Title: "weight", Kind: quantity.Mass, Unit: g, Subject: "piece", Condition: dimension.Dry, Tool: "scale", More: "heavy", Less: "light"},
		{Name: "wire.turns", Title: "turns of wire", Kind: quantity.Count, Unit: quantity.Bare(quantity.Count), Subject: "piece",
			Condition: dimension.Either, Tool: "eye", More: "many", Less: "few"},
		{Name: "crow.pitch", Title: "crow", Kind: quantity.Pitch, Subject: "piece", Condition: dimension.Wet, Tool: "tuner", More: "sharp", Less: "flat"},
		{Name: "blade.thickness", Title: "blade thickness", Was: []string{"scrape.thickness"}, Kind: quantity.Length, Unit: mm, Subject: "piece", Across: true,
			Condition: dimension.Wet, Tool: "dial indicator", More: "thick", Less: "thin",
			Grid: &dimension.Grid{From: []string{"collar", "tip"}, Lanes: []string{"spine", "rails"}, Blades: []string{"A", "B"}, Short: "blade"}},
		{Name: "cane.thickness", Title: "thickness of the cane", Kind: quantity.Length, Unit: mm, Subject: "piece", Across: true,
			Condition: dimension.Either, Tool: "caliper", More: "thick", Less: "thin"},
	}}
}

// check loads and binds; the Bound is nil when a finding is an error.
func check(t testing.TB, name string, data []byte) (*recipe.Bound, diagnostic.List) {
	t.Helper()
	f, list := recipe.Load(name, data)
	if f == nil {
		return nil, list
	}
	set := shawm(t)
	if f.Instrument == "" {
		set = nil
	}
	b, more := recipe.Bind(f, set, tool.Standard())
	list.Append(more)
	return b, list
}

const head = `canewright: recipe 1
title: a reed
id: a-reed
version: 1
instrument: shawm 1
`

// bind binds the body of a recipe, which must have no findings.
func bind(t testing.TB, body string) *recipe.Bound {
	t.Helper()
	b, list := check(t, "recipe.yaml", []byte(head+body))
	if b == nil || list.Len() > 0 {
		t.Fatalf("findings:\n%s", text(t, list))
	}
	return b
}

func text(t testing.TB, list diagnostic.List) string {
	t.Helper()
	var b strings.Builder
	if err := list.Text(&b); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func misplaced(list diagnostic.List) string {
	for _, d := range list.Sorted() {
		spans := []diagnostic.Span{d.Span}
		for _, r := range d.Related {
			spans = append(spans, r.Span)
		}
		for _, s := range spans {
			if !exists(s) {
				return "no such place: " + d.String()
			}
		}
	}
	return ""
}

func exists(s diagnostic.Span) bool {
	if s.Source == nil {
		return false
	}
	if s.From == (diagnostic.Pos{}) && s.To == s.From {
		return true // the whole file
	}
	in := func(p diagnostic.Pos) bool {
		return p.Line >= 1 && p.Line <= s.Source.Lines() && p.Col >= 1 && p.Col <= len(s.Source.Line(p.Line))+1
	}
	return in(s.From) && in(s.To) && !s.To.Before(s.From)
}
