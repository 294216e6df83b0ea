package comparison_test

import (
	"strings"
	"testing"

	"canewright/engine/comparison"
)

func grid(from, at, spine, rails, within string) string {
	s := "stages:\n  - stage: scrape\n    targets:\n      blade.thickness:\n        from: " + from + "\n        at: " + at + "\n        spine: " + spine + "\n"
	if rails != "" {
		s += "        rails: " + rails + "\n"
	}
	return s + "        within: " + within + "\n    measure: [blade.thickness]\n"
}

// Equal places are compared, be they written in another unit; the others are
// only in one, and nothing is worked out between them.
func TestGrids(t *testing.T) {
	t.Parallel()
	c := compared(t, grid("collar", "3 9 15 25.4 mm", "0.90 0.70 0.47 0.30 mm", "0.60 0.46 0.30 0.20 mm", "± 0.03 mm"),
		grid("collar", "3.0 9 18 mm", "0.90 0.65 0.40 mm", "", "± 0.03 mm"))
	if len(c.Grids) != 1 || len(c.Targets) != 0 {
		t.Fatalf("%d grids, %d targets", len(c.Grids), len(c.Targets))
	}
	g := c.Grids[0]
	if g.Both != 2 || g.OnlyA != 6 || g.OnlyB != 1 || g.Class != comparison.Real || g.Largest != "-0.05 mm" || g.LargestAt != "9 mm spine" {
		t.Errorf("%+v", g)
	}
	var got []string
	for _, r := range g.Stations {
		got = append(got, r.Title+" "+string(r.Class))
	}
	want := "3 mm spine same, 9 mm spine real, 15 mm spine only in A, 18 mm spine only in B, 25.4 mm spine only in A, 3 mm rails only in A, 9 mm rails only in A, 15 mm rails only in A, 25.4 mm rails only in A"
	if strings.Join(got, ", ") != want {
		t.Errorf("%s\nwant %s", strings.Join(got, ", "), want)
	}
	if c.Counts.Real != 1 || c.Counts.OnlyA != 0 {
		t.Errorf("a grid counts once: %+v", c.Counts)
	}
}

func TestGridsFromTwoPlaces(t *testing.T) {
	t.Parallel()
	c := compared(t, grid("collar", "3 9 mm", "0.90 0.70 mm", "", "± 0.03 mm"), grid("tip", "3 9 mm", "0.20 0.30 mm", "", "± 0.03 mm"))
	if len(c.Grids) != 1 || c.Grids[0].Class != comparison.NotComparable || c.Grids[0].Why != "A counts its places from the collar, B from the tip" {
		t.Errorf("%+v", c.Grids)
	}
}

// Two scrapes each: the first with the first, the last with the last.
func TestGridsAtTwoStages(t *testing.T) {
	t.Parallel()
	twice := func(first, last string) string {
		one := grid("collar", "3 9 mm", first, "", "± 0.03 mm")
		two := strings.TrimPrefix(grid("collar", "3 9 mm", last, "", "± 0.03 mm"), "stages:\n")
		return one + strings.Replace(two, "stage: scrape", "stage: scrape again", 1)
	}
	c := compared(t, twice("0.90 0.70 mm", "0.86 0.66 mm"), twice("0.90 0.70 mm", "0.86 0.60 mm"))
	if len(c.Grids) != 2 || c.Grids[0].Class != comparison.Same || c.Grids[1].Class != comparison.Real || strings.Join(c.Grids[1].StagesB, "") != "scrape again" {
		t.Errorf("%+v", c.Grids)
	}
}
