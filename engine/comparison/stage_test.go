package comparison_test

import (
	"fmt"
	"strconv"
	"strings"
	"testing"

	"canewright/engine/comparison"
)

func tenths(n int) string { return strconv.Itoa(n/10) + "." + strconv.Itoa(n%10) }

// trimmed is a number of tenths as rows write it.
func trimmed(n int) string { return strings.TrimSuffix(tenths(n), ".0") }

var soaked = `
stages:
  - stage: soak
    for: the batch
    materials: [water]
    do: [Put the pieces in water at room temperature.]
    wait: {until: it sinks, at least: 2 h, at most: 24 h}
    becomes: wet
  - stage: ream
    tools: [reamer]
    do: [Push it on the bocal and turn the reamer.]
    measure: [overall]
  - stage: cut the tip
    tools: [tip cutter]
    do: [Cut the tip off square.]
    measure: [wire.first]
`

func TestStagesThoughRenamedAndReordered(t *testing.T) {
	t.Parallel()
	other := `
stages:
  - stage: wet the cane
    for: the batch
    materials: [water]
    do: [Put the pieces in water at room temperature.]
    wait: {until: it sinks, at least: 3 h, at most: 24 h}
    becomes: wet
  - stage: trim
    tools: [tip cutter]
    do: [Cut the tip off square with the tip cutter.]
    measure: [wire.first]
  - stage: ream
    tools: [reamer]
    do: [Push it on the bocal and turn the reamer.]
    measure: [overall]
  - stage: sign it
    do: [Write the date on the thread.]
`
	c := compared(t, soaked, other)
	got := []string{}
	for _, s := range c.Stages {
		name := func(p *comparison.Place) string {
			if p == nil {
				return "-"
			}
			return p.Name
		}
		got = append(got, fmt.Sprintf("%s=%s %v %v", name(s.A), name(s.B), s.Renamed, s.Moved))
	}
	want := "soak=wet the cane true false, ream=ream false true, cut the tip=trim true true, -=sign it false false"
	if strings.Join(got, ", ") != want {
		t.Errorf("%s\nwant %s", strings.Join(got, ", "), want)
	}
	if len(c.Moved) != 1 || c.Moved[0] != (comparison.Moved{First: "trim", Then: "ream", FirstA: "ream", ThenA: "cut the tip"}) {
		t.Errorf("%+v", c.Moved)
	}
	if w := c.Stages[0].Wait; w == nil || w.Class != comparison.Overlapping || w.A.Written != "until it sinks, at least 2 h, at most 24 h" {
		t.Errorf("%+v", w)
	}
}

func TestWaits(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		a, b string
		want comparison.Class
	}{
		{"{usual: 2 weeks, at least: 1 d}", "{usual: 14 d, at least: 24 h}", comparison.Same},
		{"{usual: 1 d}", "{usual: 2 weeks}", comparison.Real},
		{"{usual: 2 weeks}", "{usual: 15 d}", comparison.Rounding}, // printed to a week
		{"{usual: 1 d, at least: overnight}", "{at least: overnight}", comparison.Overlapping},
		{"{at least: overnight}", "{until: it is dry}", comparison.NotComparable},
		{"{until: it sinks}", "{until: it sinks}", comparison.Same},
		{"{until: it sinks}", "{until: it is soft}", comparison.NotComparable},
		{"{at least: 2 h, at most: 4 h}", "{at least: 8 h, at most: 24 h}", comparison.Real},
	} {
		body := func(w string) string { return "stages:\n  - {stage: rest, do: [Leave it.], wait: " + w + "}\n" }
		got := compared(t, body(c.a), body(c.b)).Stages[0].Wait
		if got == nil || got.Class != c.want {
			t.Errorf("%s, %s: %+v, want %s", c.a, c.b, got, c.want)
		}
	}
}

func TestSettings(t *testing.T) {
	t.Parallel()
	body := func(s string) string { return "settings:\n" + s + "stages:\n  - {stage: rest, do: [Leave it.]}\n" }
	c := compared(t, body("  shaper.width: {value: 9/16 in, why: mine}\n  bed: {value: 24 mm, why: mine}\n  weight: {value: 3 g, why: mine}\n"),
		body("  shaper.width: {value: 14.3 mm, why: hers}\n  bed: {value: 25.5 mm, why: hers}\n  weight: {value: 3 mm, why: hers}\n  arc: {value: 7 mm, why: hers}\n"))
	var got []string
	for _, r := range c.Settings {
		got = append(got, r.Name+" "+string(r.Class))
	}
	if want := "shaper.width rounding only, bed real, weight not comparable, arc only in B"; strings.Join(got, ", ") != want {
		t.Errorf("%s\nwant %s", strings.Join(got, ", "), want)
	}
}
