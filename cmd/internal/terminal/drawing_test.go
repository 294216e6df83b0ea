package terminal

import (
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"

	"canewright/engine/bench"
)

func mark(at int64, label string) *bench.Mark { return &bench.Mark{At: at, Label: label} }

// gouge is 1.30 +0.03 -0.02 mm, in nm.
func gouge(side string, sure bool, at, u int64, label, ulabel string) *bench.Line {
	return &bench.Line{
		Low: mark(1_280_000, "1.28"), Target: mark(1_300_000, "1.30"), High: mark(1_330_000, "1.33"),
		Value: mark(at, label), U: u, ULabel: ulabel, Side: side, Sure: sure,
	}
}

func TestNumberLine(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		line *bench.Line
		want string
	}{
		"right": {gouge("inside", true, 1_310_000, 2_900, "1.31", "± 0.006"), `
              1.28    1.30         1.33
.................[------|-~~●~~----].................
                          1.31 ± 0.006
`},
		"maybe too thick": {gouge("above", false, 1_335_000, 2_900, "1.335", "± 0.006"), `
              1.28    1.30         1.33
.................[------|----------]~△~~.............
                                   1.335 ± 0.006
`},
		"on the limit": {gouge("inside", false, 1_330_000, 2_900, "1.33", "± 0.006"), `
              1.28    1.30         1.33
.................[------|--------~~○~~...............
                                 1.33 ± 0.006
`},
		"one quantum above, however wide the columns": {gouge("above", false, 1_330_001, 0, "1.330001", ""), `
              1.28    1.30         1.33
.................[------|----------]△................
                                1.330001
`},
		"one quantum below": {gouge("below", true, 1_279_999, 0, "1.279999", ""), `
              1.28    1.30         1.33
................▼[------|----------].................
            1.279999
`},
		"far above": {gouge("above", true, 3_140_000, 2_900, "3.14", "± 0.006"), `
              1.28    1.30         1.33
.................[------|----------]...............▲>
                                         3.14 ± 0.006
`},
		"far below": {gouge("below", true, 13_100, 2_900, "0.0131", "± 0.006"), `
              1.28    1.30         1.33
<▼...............[------|----------].................
0.0131 ± 0.006
`},
		"at most": {&bench.Line{High: mark(1_000_000, "1.0"), Value: mark(400_000, "0.4"), U: 50_000, Side: "inside", Sure: true}, `
                                   1.0
----------------~~~●~~~------------].................
                  0.4
`},
		"at least, and far below it": {&bench.Line{Low: mark(24_000_000, "24"), Target: mark(25_000_000, "25"), Value: mark(9_000_000, "9"), Side: "below", Sure: true}, `
                24              25
<▼...............[---------------|-------------------
 9
`},
		"target on the limit": {&bench.Line{Low: mark(0, "0"), Target: mark(0, "0"), High: mark(10, "10"), Value: mark(20, "20"), Side: "above", Sure: true}, `
                 0                 10
.................[-----------------]...............▲>
                                                  20
`},
		"limits that are one": {&bench.Line{Low: mark(7, "7"), High: mark(7, "7"), Value: mark(8, "8"), Side: "above", Sure: true}, `
                                   7
...................................|...............▲.
                                                   8
`},
		"read, not judged yet": {gouge("", false, 1_310_000, 0, "1.31", ""), `
              1.28    1.30         1.33
.................[------|---+------].................
                          1.31
`},
		"no reading yet": {&bench.Line{Low: mark(0, "0"), High: mark(10, "10")}, ""},
		"no limit":       {&bench.Line{Target: mark(0, "0"), Value: mark(10, "10")}, ""},
		"none":           {nil, ""},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			got := strings.Join(numberLine(c.line, 53), "\n")
			if got != strings.Trim(c.want, "\n") {
				t.Errorf("got\n%s\nwant%s", got, c.want)
			}
		})
	}
}

// The picture says nothing else than the sentence: the sign stands on the side
// that was judged, whatever the scale, and no line is too long.
func FuzzNumberLine(f *testing.F) {
	f.Add(int64(1_280_000), int64(50_000), int64(1_330_001), int64(2900), uint8(7))
	f.Add(int64(-1<<62), int64(1<<62), int64(1<<62), int64(1<<61), uint8(7))
	f.Add(int64(0), int64(0), int64(0), int64(0), uint8(3))
	f.Fuzz(func(t *testing.T, low, span, value, u int64, have uint8) {
		if span < 0 || low+span < low || u < 0 {
			t.Skip()
		}
		l := &bench.Line{Value: mark(value, "value"), U: u, ULabel: "± u", Side: "inside", Sure: true}
		if have&1 != 0 {
			l.Low = mark(low, "low")
			if value < low {
				l.Side = "below"
			}
		}
		if have&2 != 0 {
			l.High = mark(low+span, "high")
			if value > low+span {
				l.Side = "above"
			}
		}
		if have&4 != 0 {
			l.Target = mark(low+span/2, "target")
		}
		out := numberLine(l, 56)
		if have&3 == 0 {
			if out != nil {
				t.Fatal("drawn without a limit")
			}
			return
		}
		for _, r := range out {
			if ansi.StringWidth(r) > 56 {
				t.Fatalf("too long: %q", r)
			}
		}
		line := []rune(out[1])
		place := func(signs string) int {
			for i, r := range line {
				if strings.ContainsRune(signs, r) {
					return i
				}
			}
			return -1
		}
		v, left, right := place("●▲▼"), place("["), place("]")
		switch {
		case v < 0:
			t.Fatalf("no reading in %s", out[1])
		case l.Side == "inside" && (left > v || right >= 0 && right < v),
			l.Side == "above" && v < right, l.Side == "below" && left >= 0 && v > left:
			t.Fatalf("%s is drawn as %s", l.Side, out[1])
		}
	})
}

// blades is a grid of 2 blades, 4 stations and 3 lanes, with some readings.
func blades() *bench.Grid {
	g := &bench.Grid{Title: "blade thickness", From: "collar", Unit: "mm", Blades: []string{"A", "B"},
		Lanes: []string{"spine", "channels", "rails"}, Stations: []string{"3 mm", "9 mm", "15 mm", "21 mm"}}
	g.Cells = make([]bench.GridCell, 24)
	for i := range g.Cells {
		g.Cells[i].State = bench.CellOpen
		if i%3 == 1 {
			g.Cells[i].State = bench.CellNotAsked
		}
	}
	g.Cells[0] = bench.GridCell{State: bench.CellRight, Text: "0,90"}
	g.Cells[2] = bench.GridCell{State: bench.CellMore, Text: "0.63"}
	g.Cells[3] = bench.GridCell{State: bench.CellNext, Target: "0.70"}
	g.Cells[5] = bench.GridCell{State: bench.CellLess, Text: "0.43"}
	g.Cells[6] = bench.GridCell{State: bench.CellSkipped}
	g.Cells[8] = bench.GridCell{State: bench.CellRead, Text: "0.3"}
	return g
}

func TestBladeGrid(t *testing.T) {
	t.Parallel()
	g := blades()
	if n := next(g); n != "blade A, spine, 9 mm from the collar" {
		t.Errorf("next is %q", n)
	}
	side := `
Blade thickness, mm. The tip is on top.
           blade A        blade B
         spine  rails   spine  rails
  21 mm    .      .       .      .
  15 mm   skip   0.3      .      .
   9 mm  >next< 0.43▼     .      .
   3 mm   0,90  0.63▲     .      .
        (collar)
`
	for width, want := range map[int]string{
		72: side, 60: side, 40: side, 30: `
Blade thickness, mm. The tip
is on top.
           blade A
         spine  rails
  21 mm    .      .
  15 mm   skip   0.3
   9 mm  >next< 0.43▼
   3 mm   0,90  0.63▲
           blade B
         spine  rails
  21 mm    .      .
  15 mm    .      .
   9 mm    .      .
   3 mm    .      .
        (collar)
`,
	} {
		rows := bladeGrid(g, width)
		for _, r := range rows {
			if ansi.StringWidth(r) > width {
				t.Errorf("width %d: %q", width, r)
			}
		}
		if got := strings.Join(rows, "\n"); got != strings.Trim(want, "\n") {
			t.Errorf("width %d: got\n%s\nwant\n%s", width, got, want)
		}
	}
	g.From = "tip" // the first station is on top then
	if rows := bladeGrid(g, 60); len(rows) != 7 || rows[3] != "   3 mm   0,90  0.63▲     .      ." {
		t.Errorf("from the tip:\n%s", strings.Join(rows, "\n"))
	}
	g.Lanes = []string{"a lane with a name that is longer than a window", "channels", "rails"}
	if rows := bladeGrid(g, 60); rows != nil {
		t.Errorf("got\n%s", strings.Join(rows, "\n"))
	}
	g.Cells = g.Cells[:5]
	if rows := bladeGrid(g, 60); rows != nil {
		t.Error("a grid with cells missing is drawn")
	}
}
