package comparison_test

import (
	"strings"
	"sync"

	"canewright/engine/comparison"
	"canewright/engine/dimension"
	"canewright/engine/quantity"
	"canewright/engine/recipe"
	"canewright/engine/tool"
)

// failer is a test, be it one of many that rapid draws.
type failer interface {
	Helper()
	Fatal(args ...any)
	Fatalf(format string, args ...any)
}

// shawm is a small invented dimension set: places from the butt and, worked
// out, from the fold and the tip; sizes across; a tester's number; a grid.
func shawm(t failer) *dimension.Set {
	t.Helper()
	mm, _ := quantity.UnitNamed("mm")
	ranged := func(k quantity.Kind, text string) quantity.Tolerance {
		tol, err := quantity.ParseTolerance(text, quantity.Style{Want: k})
		if err != nil {
			t.Fatal(err)
		}
		return tol
	}
	from := func(name, title, datum, plausible string) dimension.Dimension {
		return dimension.Dimension{Name: name, Title: title, Kind: quantity.Length, Unit: mm, Subject: "piece", Datum: datum,
			Condition: dimension.Either, Tool: "ruler", More: "far", Less: "close", Plausible: ranged(quantity.Length, plausible)}
	}
	across := func(name, title, plausible string) dimension.Dimension {
		d := from(name, title, "", plausible)
		d.Across, d.Tool, d.More, d.Less = true, "dial indicator", "thick", "thin"
		return d
	}
	worked := func(name, title, formula string) dimension.Dimension {
		return dimension.Dimension{Name: name, Title: title, Kind: quantity.Length, Unit: mm, Subject: "piece", Condition: dimension.Either,
			More: "far", Less: "close", Formula: formula}
	}
	hardness := from("hardness", "hardness", "", "1 .. 60 mm")
	hardness.Kind, hardness.Unit, hardness.Tool, hardness.Plausible = quantity.Ratio, quantity.Bare(quantity.Ratio), "hardness tester", ranged(quantity.Ratio, "1 .. 60")
	score := hardness
	score.Name, score.Title, score.Kind, score.Unit, score.Tool, score.Plausible = "reed.score", "score", quantity.Score, quantity.Bare(quantity.Score), "eye", quantity.Tolerance{}
	turns := hardness
	turns.Name, turns.Title, turns.Kind, turns.Unit, turns.Tool, turns.Plausible = "wire.turns", "turns", quantity.Count, quantity.Bare(quantity.Count), "eye", quantity.Tolerance{}
	crow := hardness
	crow.Name, crow.Title, crow.Kind, crow.Unit, crow.Tool, crow.Plausible = "crow.pitch", "crow", quantity.Pitch, quantity.Unit{}, "tuner", quantity.Tolerance{}
	blade := across("blade.thickness", "blade thickness", "0.02 .. 1.6 mm")
	blade.Condition = dimension.Wet
	blade.Grid = &dimension.Grid{From: []string{"collar", "tip"}, Lanes: []string{"spine", "rails"}, Blades: []string{"A", "B"}, Short: "blade"}
	return &dimension.Set{ID: "shawm", Title: "shawm, invented", Major: 1, Dimensions: []dimension.Dimension{
		across("gouge.centre", "gouge, centre", "0.5 .. 2 mm"),
		across("gouge.side", "gouge, side", "0.5 .. 2 mm"),
		hardness,
		from("fold.to_butt", "fold to butt", "the butt", "50 .. 66 mm"),
		from("wire.first", "first wire", "the butt", "20 .. 33 mm"),
		from("wire.second", "second wire", "the butt", "12 .. 26 mm"),
		worked("wire.gap", "first wire to second", "wire.first - wire.second"),
		worked("wire.first_from_fold", "first wire from the fold", "fold.to_butt - wire.first"),
		from("overall", "overall length", "the butt", "48 .. 66 mm"),
		worked("tip.above", "tip above the first wire", "overall - wire.first"),
		worked("shape.ratio", "share of the tube", "(wire.first + wire.second) / 2"),
		turns, crow, blade, score,
	}}
}

// standard is the one catalogue of all tests: it is read alone.
var standard = sync.OnceValue(tool.Standard)

const head = "canewright: recipe 1\ntitle: Sample\nid: sample\nversion: 1\ninstrument: shawm 1\n"

func bound(t failer, body string) *recipe.Bound {
	t.Helper()
	f, list := recipe.Load("sample.yaml", []byte(head+body))
	if f == nil {
		t.Fatalf("%v in\n%s", list.Sorted(), body)
	}
	b, list := recipe.Bind(f, shawm(t), standard())
	if b == nil {
		t.Fatalf("%v in\n%s", list.Sorted(), body)
	}
	return b
}

func compared(t failer, a, b string) *comparison.Comparison {
	t.Helper()
	return comparison.Of(bound(t, a), bound(t, b))
}

// one is the only row of a dimension.
func one(t failer, c *comparison.Comparison, name string) *comparison.Row {
	t.Helper()
	var found *comparison.Row
	for i := range c.Targets {
		if c.Targets[i].Name == name {
			if found != nil {
				t.Fatalf("two rows of %s", name)
			}
			found = &c.Targets[i]
		}
	}
	if found == nil {
		t.Fatalf("no row of %s", name)
	}
	return found
}

// target is a recipe that only reads one target.
func target(name, tolerance string) string {
	return "targets: {" + name + ": " + tolerance + "}\nstages:\n  - {stage: read, measure: [" + name + "]}\n"
}

func told(c *comparison.Comparison, all bool) string {
	var out strings.Builder
	for _, l := range c.Tell(all) {
		out.WriteString(l.Lead + l.Text + "\n")
	}
	return out.String()
}
