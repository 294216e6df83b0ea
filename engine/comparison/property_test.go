package comparison_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"canewright/engine/comparison"
)

// drawn is a recipe whose names of stages and tolerances can be changed.
type drawn struct {
	top    []drawnTarget
	stages []drawnStage
}

type drawnTarget struct {
	name   string
	middle int // tenths of a mm
	off    int
}

type drawnStage struct {
	name, do, extra string
	targets         []drawnTarget
	measures        []string
	rules           []string
}

var lengths = []string{"fold.to_butt", "wire.first", "wire.second", "overall"}

func drawRecipe(t *rapid.T, label string) drawn {
	target := func(name string) drawnTarget {
		low := map[string]int{"fold.to_butt": 550, "wire.first": 250, "wire.second": 170, "overall": 540, "wire.first_from_fold": 300, "tip.above": 270, "wire.gap": 70, "gouge.centre": 11, "gouge.side": 10}[name]
		return drawnTarget{name, low + rapid.IntRange(0, 30).Draw(t, label+" middle"), rapid.IntRange(1, 10).Draw(t, label+" tolerance")}
	}
	names := func(label string, from []string, most int) []string {
		return rapid.SliceOfNDistinct(rapid.SampledFrom(from), 0, most, rapid.ID).Draw(t, label)
	}
	var d drawn
	for _, n := range names(label+" top", append([]string{"wire.first_from_fold", "tip.above", "wire.gap", "gouge.centre"}, lengths...), 5) {
		d.top = append(d.top, target(n))
	}
	deeds := []string{"Put the cane in cold water.", "Scrape the tip lightly with the knife.", "Bind it with thread, firmly.", "Turn the reamer twice.", "Look at the light.", "Warm the mandrel and push it in."}
	extras := []string{"", ", tools: [knife]", ", tools: [reamer], no way back: yes", ", materials: [water], becomes: wet", ", condition: dry", ", becomes: dry, wait: {usual: 1 d, at least: overnight}", ", wait: {until: it sinks, at least: 2 h}"}
	n := rapid.IntRange(1, 7).Draw(t, label+" stages")
	for i := range n {
		s := drawnStage{name: rapid.SampledFrom([]string{"soak", "bind", "ream", "scrape", "rest", "clip", "look"}).Draw(t, label+" name") + rapid.SampledFrom([]string{"", "", " again"}).Draw(t, label+" more"),
			do: rapid.SampledFrom(deeds).Draw(t, label+" do"), extra: rapid.SampledFrom(extras).Draw(t, label+" extra")}
		s.measures = names(fmt.Sprint(label, " measures ", i), append([]string{"gouge.centre", "gouge.side"}, lengths...), 3)
		for _, name := range names(fmt.Sprint(label, " targets ", i), append([]string{"gouge.centre"}, lengths...), 2) {
			s.targets = append(s.targets, target(name))
		}
		if rapid.IntRange(0, 3).Draw(t, label+" ruled") == 0 {
			s.rules = []string{rapid.SampledFrom([]string{"wire.first - wire.second >= 8 mm", "wire.first - wire.second <= 7 mm", "wire.gap > 9 mm", "gouge.centre >= 1.5 mm", "gouge.centre < 1.2 mm"}).Draw(t, label+" rule")}
		}
		d.stages = append(d.stages, s)
	}
	return d
}

func (d drawn) text() string {
	tolerance := func(t drawnTarget) string {
		return t.name + ": " + tenths(t.middle) + " ± " + tenths(t.off) + " mm"
	}
	list := func(all []drawnTarget) string {
		var parts []string
		for _, t := range all {
			parts = append(parts, tolerance(t))
		}
		return "{" + strings.Join(parts, ", ") + "}"
	}
	var out strings.Builder
	if len(d.top) > 0 {
		out.WriteString("targets: " + list(d.top) + "\n")
	}
	out.WriteString("stages:\n")
	for _, s := range d.stages {
		out.WriteString("  - {stage: " + s.name + ", do: [\"" + s.do + "\"]" + s.extra)
		if len(s.targets) > 0 {
			out.WriteString(", targets: " + list(s.targets))
		}
		if len(s.measures) > 0 {
			out.WriteString(", measure: [" + strings.Join(s.measures, ", ") + "]")
		}
		if len(s.rules) > 0 {
			out.WriteString(", expect: [\"" + strings.Join(s.rules, "\", \"") + "\"]")
		}
		out.WriteString("}\n")
	}
	return out.String()
}

func (d drawn) clone() drawn {
	c := drawn{slices.Clone(d.top), slices.Clone(d.stages)}
	for i := range c.stages {
		c.stages[i].targets = slices.Clone(c.stages[i].targets)
	}
	return c
}

// A recipe is the same as itself, to the last word.
func TestARecipeIsItself(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		text := drawRecipe(t, "a").text()
		c := compared(t, text, text)
		n := c.Counts
		if n.Real+n.Rounding+n.Overlapping+n.NotComparable+n.OnlyA+n.OnlyB+len(c.Clashes)+len(c.Moved) != 0 {
			t.Fatalf("%+v, %+v, %+v in\n%s", n, c.Clashes, c.Moved, text)
		}
		for i, s := range c.Stages {
			if s.A == nil || s.B == nil || s.A.Number != s.B.Number || len(s.Differs) > 0 || s.Renamed {
				t.Fatalf("stage %d: %+v %+v in\n%s", i, s.A, s.B, text)
			}
		}
	})
}

// What is found does not rest on which recipe is named first.
func TestMirrored(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		a, b := drawRecipe(t, "a").text(), drawRecipe(t, "b").text()
		x, y := essence(compared(t, a, b), false), essence(compared(t, b, a), true)
		if !slices.Equal(x, y) {
			t.Fatalf("%s\n\nmirrored\n%s\n\nof\n%s\n%s", strings.Join(x, "\n"), strings.Join(y, "\n"), a, b)
		}
	})
}

// essence are the findings as lines, sorted; mirror changes the sides back.
func essence(c *comparison.Comparison, mirror bool) []string {
	var out []string
	swap := func(k comparison.Class) comparison.Class {
		switch {
		case mirror && k == comparison.OnlyA:
			return comparison.OnlyB
		case mirror && k == comparison.OnlyB:
			return comparison.OnlyA
		}
		return k
	}
	says := func(s *comparison.Says) string {
		if s == nil {
			return "nothing"
		}
		of := []string{}
		for _, x := range s.Of {
			of = append(of, x.Name+x.Written+x.Stage)
		}
		return fmt.Sprint(s.Written, s.Low, s.Middle, s.High, s.Condition, s.Tool, of)
	}
	row := func(kind string, r *comparison.Row) {
		a, b, d := r.A, r.B, r.Difference
		if mirror {
			a, b = b, a
			switch {
			case strings.HasPrefix(d, "+"):
				d = "-" + d[1:]
			case strings.HasPrefix(d, "-"):
				d = "+" + d[1:]
			}
		}
		out = append(out, fmt.Sprint(kind, " ", r.Name, ": ", swap(r.Class), " ", says(a), " | ", says(b), " ", d))
	}
	for i := range c.Targets {
		row("target", &c.Targets[i])
	}
	for i := range c.Settings {
		row("setting", &c.Settings[i])
	}
	for _, s := range c.Stages {
		a, b := s.A, s.B
		if mirror {
			a, b = b, a
		}
		name := func(p *comparison.Place) string {
			if p == nil {
				return "-"
			}
			return fmt.Sprint(p.Number, p.Name)
		}
		out = append(out, fmt.Sprint("stage ", name(a), " = ", name(b), " ", s.Score, s.Moved, s.Renamed, len(s.Differs)))
		if s.Wait != nil {
			r := *s.Wait
			r.Name = name(a)
			row("wait", &r)
		}
	}
	for _, x := range c.Clashes {
		a, b := x.A, x.B
		if mirror {
			a, b = b, a
		}
		out = append(out, fmt.Sprint("clash ", a, b))
	}
	for _, x := range c.Refusals {
		of := x.Of
		if mirror {
			of = map[string]string{"A": "B", "B": "A"}[of]
		}
		out = append(out, fmt.Sprint("refusal ", x.Rule, of, x.Never, x.With))
	}
	slices.Sort(out)
	return out
}

// Stages are found again under names that were dealt out anew.
func TestShuffledNames(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		d := drawRecipe(t, "a")
		for i := range d.stages { // no two that do the same
			d.stages[i].do = fmt.Sprintf("%s %s", d.stages[i].do, strings.Repeat("z", i+3))
		}
		c := d.clone()
		perm := rapid.Permutation(indices(len(d.stages))).Draw(t, "names")
		for i := range c.stages {
			c.stages[i].name = d.stages[perm[i]].name
		}
		got := compared(t, d.text(), c.text())
		for i, s := range got.Stages {
			if s.A == nil || s.B == nil || s.A.Number != s.B.Number {
				t.Fatalf("stage %d: %+v %+v of\n%s\n%s", i, s.A, s.B, d.text(), c.text())
			}
			if s.Renamed != (d.stages[i].name != c.stages[i].name) {
				t.Fatalf("stage %d renamed: %v", i, s.Renamed)
			}
		}
		if n := got.Counts; n.Real+n.Overlapping+n.Rounding+n.OnlyA+n.OnlyB+n.NotComparable+len(got.Moved) != 0 {
			t.Fatalf("%+v of\n%s\n%s", n, d.text(), c.text())
		}
	})
}

// Stages dealt out anew, with other names too: each is found, and where the
// order changed that is said.
func TestShuffledStages(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		d := drawRecipe(t, "a")
		for i := range d.stages {
			d.stages[i].do = fmt.Sprintf("%s %s", d.stages[i].do, strings.Repeat("z", i+3))
			d.stages[i].targets = nil // else others are in force
		}
		perm := rapid.Permutation(indices(len(d.stages))).Draw(t, "order")
		c := d.clone()
		for i := range c.stages {
			c.stages[i] = d.stages[perm[i]]
			c.stages[i].name = fmt.Sprint("work ", i)
		}
		got := compared(t, d.text(), c.text())
		for _, s := range got.Stages {
			if s.A == nil || s.B == nil || perm[s.B.Number-1] != s.A.Number-1 {
				t.Fatalf("%+v %+v of\n%s\n%s", s.A, s.B, d.text(), c.text())
			}
		}
		if sorted := slices.IsSorted(perm); (len(got.Moved) == 0) != sorted {
			t.Fatalf("moved %+v by %v", got.Moved, perm)
		}
		for _, m := range got.Moved {
			at := func(name string, second bool) int {
				for _, s := range got.Stages {
					if second && s.B.Name == name {
						return s.B.Number
					}
				}
				return 0
			}
			if at(m.First, true) >= at(m.Then, true) {
				t.Fatalf("B does %q before %q, it is said, of\n%s", m.First, m.Then, c.text())
			}
		}
	})
}

// One number that is changed is the one difference that is found.
func TestOneNumberChanged(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		d := drawRecipe(t, "a")
		// From one place only: a number of which others are worked out is more.
		d.top = slices.DeleteFunc(d.top, func(x drawnTarget) bool {
			return slices.Contains([]string{"wire.first_from_fold", "tip.above", "wire.gap"}, x.name)
		})
		c := d.clone()
		var all []*drawnTarget
		for i := range c.top {
			all = append(all, &c.top[i])
		}
		for i := range c.stages {
			for k := range c.stages[i].targets {
				all = append(all, &c.stages[i].targets[k])
			}
		}
		if len(all) == 0 {
			return
		}
		x := rapid.SampledFrom(all).Draw(t, "changed")
		by := rapid.SampledFrom([]int{-9, -1, 1, 2, 25, 60}).Draw(t, "by")
		x.middle += by
		if x.middle <= 0 {
			return
		}
		got := compared(t, d.text(), c.text())
		n := got.Counts
		if n.Real+n.Overlapping+n.Rounding+n.OnlyA+n.OnlyB+n.NotComparable != 1 || n.OnlyA+n.OnlyB+n.NotComparable != 0 {
			t.Fatalf("%+v for %s by %d of\n%s\n%s\n%s", n, x.name, by, d.text(), c.text(), told(got, false))
		}
		for _, r := range got.Targets {
			if r.Class == comparison.Same {
				continue
			}
			if want := plusTenths(by); r.Name != x.name || r.Difference != want {
				t.Fatalf("%s by %s, want %s by %s", r.Name, r.Difference, x.name, want)
			}
		}
	})
}

func plusTenths(n int) string {
	if n < 0 {
		return "-" + trimmed(-n) + " mm"
	}
	return "+" + trimmed(n) + " mm"
}

func indices(n int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = i
	}
	return out
}
