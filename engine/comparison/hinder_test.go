package comparison_test

import (
	"slices"
	"strings"
	"testing"

	"canewright/engine/comparison"
	"canewright/engine/dimension"
	"canewright/engine/recipe"
	"canewright/engine/tool"
)

func TestNotComparable(t *testing.T) {
	t.Parallel()
	read := func(name, tolerance, more string) string {
		return "targets: {" + name + ": " + tolerance + "}\nstages:\n  - {stage: read, measure: [" + name + "]" + more + "}\n"
	}
	with := func(name, tolerance, tool string) string {
		return "targets: {" + name + ": " + tolerance + "}\nstages:\n  - {stage: read, measure: [{take: " + name + ", with: " + tool + "}]}\n"
	}
	for _, c := range []struct {
		what, name, a, b string
		why              string // "": they can be compared
	}{
		{"a size across, wet and dry", "gouge.centre", read("gouge.centre", "1.30 ± 0.02 mm", ", condition: wet"), read("gouge.centre", "1.25 ± 0.02 mm", ", condition: dry"), "A reads it wet, B dry"},
		{"even of the same number", "gouge.centre", read("gouge.centre", "1.30 ± 0.02 mm", ", condition: wet"), read("gouge.centre", "1.30 ± 0.02 mm", ", condition: dry"), "A reads it wet, B dry"},
		{"one does not say", "gouge.centre", read("gouge.centre", "1.30 ± 0.02 mm", ", condition: wet"), read("gouge.centre", "1.25 ± 0.02 mm", ""), ""},
		{"a place along the cane", "wire.first", read("wire.first", "27 ± 0.5 mm", ", condition: wet"), read("wire.first", "29 ± 0.5 mm", ", condition: dry"), ""},
		{"a crow", "crow.pitch", read("crow.pitch", "E4 .. F4", ", condition: wet"), read("crow.pitch", "E4 .. F4", ", condition: dry"), "A reads it wet, B dry"},
		{"a tester's number", "hardness", target("hardness", "19 .. 22"), target("hardness", "22 .. 25"), "a hardness tester reads in units of its own"},
		{"a tester's number, the same", "hardness", target("hardness", "19 .. 22"), target("hardness", "19 .. 22"), ""},
		{"by eye and with a gauge", "wire.first", with("wire.first", "27 ± 0.5 mm", "eye"), with("wire.first", "29 ± 0.5 mm", "caliper"), "A reads it with eye, B with caliper"},
		{"two gauges", "wire.first", with("wire.first", "27 ± 0.5 mm", "ruler"), with("wire.first", "29 ± 0.5 mm", "caliper"), ""},
		{"a count by eye", "wire.turns", target("wire.turns", "2"), target("wire.turns", "4"), ""},
		{"a score", "reed.score", target("reed.score", "at least 3"), target("reed.score", "at least 4"), "a score is on its player's own list"},
		{"wet from an earlier stage", "gouge.centre", "stages:\n  - {stage: soak, do: [Soak.], becomes: wet}\n  - {stage: read, targets: {gouge.centre: 1.30 ± 0.02 mm}, measure: [gouge.centre]}\n",
			"stages:\n  - {stage: dry, do: [Dry.], becomes: dry}\n  - {stage: read, targets: {gouge.centre: 1.30 ± 0.02 mm}, measure: [gouge.centre]}\n", "A reads it wet, B dry"},
	} {
		t.Run(c.what, func(t *testing.T) {
			t.Parallel()
			r := one(t, compared(t, c.a, c.b), c.name)
			if (r.Class == comparison.NotComparable) != (c.why != "") || !strings.Contains(r.Why, c.why) {
				t.Errorf("%s: %s", r.Class, r.Why)
			}
		})
	}
}

// Another instrument: what both have by name and count alike is compared, the
// rest is told and goes on.
func TestAnotherInstrument(t *testing.T) {
	t.Parallel()
	other := shawm(t)
	other.Dimensions = slices.DeleteFunc(other.Dimensions, func(d dimension.Dimension) bool { return d.Name == "tip.above" })
	other.ID, other.Title = "rackett", "rackett, invented"
	for i := range other.Dimensions {
		if d := &other.Dimensions[i]; d.Name == "overall" {
			d.Datum = "the bottom of the staple"
		} else if d.Name == "crow.pitch" {
			d.Name = "crow.note"
		}
	}
	body := "targets: {wire.first: 30 ± 0.5 mm, overall: 56 ± 1 mm}\nstages:\n  - {stage: read, measure: [wire.first, overall]}\n"
	f, list := recipe.Load("other.yaml", []byte(strings.Replace(head, "shawm 1", "rackett 1", 1)+body))
	if f == nil {
		t.Fatal(list.Sorted())
	}
	b, list := recipe.Bind(f, other, tool.Standard())
	if b == nil {
		t.Fatal(list.Sorted())
	}
	c := comparison.Of(bound(t, strings.Replace(body, "30", "27", 1)), b)
	if c.Instrument.Same || !strings.Contains(strings.Join(c.Instrument.Comparable, " "), "wire.first") || strings.Join(c.Instrument.Unlike, " ") != "overall" {
		t.Errorf("%+v", c.Instrument)
	}
	if r := one(t, c, "wire.first"); r.Class != comparison.Real {
		t.Errorf("%+v", r)
	}
	if r := one(t, c, "overall"); r.Class != comparison.NotComparable || r.Why != "A's is counted from the butt, B's from the bottom of the staple" {
		t.Errorf("%s: %s", r.Class, r.Why)
	}
}

// A checklist has no dimensions.
func TestAChecklist(t *testing.T) {
	t.Parallel()
	f, _ := recipe.Load("list.yaml", []byte("canewright: recipe 1\ntitle: List\nid: list\nversion: 1\nstages:\n  - {stage: soak, do: [Put the pieces in water at room temperature.]}\n"))
	b, list := recipe.Bind(f, nil, tool.Standard())
	if b == nil {
		t.Fatal(list.Sorted())
	}
	c := comparison.Of(b, bound(t, soaked))
	if len(c.Targets) != 0 || c.Stages[0].B == nil {
		t.Errorf("%+v", c.Stages[0])
	}
	if out := told(c, true); !strings.Contains(out, "A recipe without an instrument has no dimensions to compare.") {
		t.Error(out)
	}
}
