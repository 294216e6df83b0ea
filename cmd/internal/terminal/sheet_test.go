package terminal

import (
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"

	"canewright/engine/bench"
)

// everySign is an invented sheet with every state a place can have.
func everySign(from string, at ...int64) *bench.Sheet {
	sh := &bench.Sheet{From: from, More: "thick", Less: "thin", Blades: []string{"A", "B"}, Lanes: []string{"spine", "channels", "rails"}}
	for _, a := range at {
		sh.Stations = append(sh.Stations, bench.SheetStation{At: a * 1e6, Text: strconv.FormatInt(a, 10) + " mm"})
	}
	sh.Cells = make([]bench.SheetCell, 2*3*len(at))
	states := []bench.SheetState{bench.SheetMore, bench.SheetMaybe, bench.SheetOff, bench.SheetNoise, bench.SheetOpen, bench.SheetSkipped, bench.SheetMaybeNot, bench.SheetRead}
	n := 0
	for b := range 2 {
		for s := range at {
			for _, lane := range []int{0, 2} {
				c := sh.Cell(b, s, lane)
				c.State = states[n%len(states)]
				switch c.State {
				case bench.SheetMore, bench.SheetMaybe, bench.SheetOff:
					c.Difference = "+0.05"
				case bench.SheetMaybeNot:
					c.Difference = "−0.04"
				case bench.SheetRead:
					c.Reading = "0.51"
				}
				n++
			}
		}
	}
	sh.Cell(1, 0, 2).KnifeOff, sh.Cell(1, 0, 2).Difference = true, "−0.03"
	sh.Cell(0, 0, 2).Since = 8
	return sh
}

// UPDATE=1 writes the golden file anew; look at it before it is kept.
func TestSheetDrawing(t *testing.T) {
	t.Parallel()
	var b strings.Builder
	for _, c := range []struct {
		name  string
		sh    *bench.Sheet
		width int
	}{
		{"from the collar, 60 columns", everySign("collar", 3, 9, 15, 21), 60},
		{"from the tip, 60 columns", everySign("tip", 0, 1, 5), 60},
		{"40 columns: one under the other", everySign("collar", 3, 9), 40},
		{"some way from the collar", everySign("collar", 9, 12), 60},
		{"one station", everySign("collar", 12), 60},
	} {
		b.WriteString("# " + c.name + "\n" + strings.Join(Sheet(c.sh, c.width, false), "\n") + "\n")
		b.WriteString(strings.Join(Wrap("", SheetSigns(c.sh), c.width), "\n") + "\n\n")
	}
	path := filepath.Join("..", "..", "..", "testdata", "golden", "sheet", "terminal.txt")
	if update, _ := strconv.ParseBool(os.Getenv("UPDATE")); update {
		if err := os.WriteFile(path, []byte(b.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if b.String() != string(want) {
		t.Errorf("%s differs; UPDATE=1 writes it anew. Now:\n%s", path, b.String())
	}
}

func TestSheetDrawingKeepsToItsWidthAndScale(t *testing.T) {
	t.Parallel()
	for _, at := range [][]int64{{3, 9, 15, 21}, {1, 2, 30}, {0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20, 21, 22, 23}, {5}} {
		sh := everySign("collar", at...)
		for width := 20; width <= 80; width += 5 {
			for _, l := range Sheet(sh, width, false) {
				if w := ansi.StringWidth(l); w > width {
					t.Errorf("%d columns of %d: %q", w, width, l)
				}
			}
		}
		rows := sheetRows(sh)
		for i := 1; i < len(rows); i++ {
			if rows[i] <= rows[i-1] {
				t.Errorf("stations %v stand on lines %v", at, rows)
			}
		}
		if last := rows[len(rows)-1]; last > mostSheetRows+mostDatumGap && last > len(at) {
			t.Errorf("stations %v take %d lines", at, last)
		}
	}
	if rows := sheetRows(everySign("collar", 9, 12)); rows[0] != 5 || rows[1] != 7 {
		t.Errorf("stations at 9 and 12 mm stand on lines %v, the collar before the first of them", rows)
	}
	// Twice as far apart is twice as many lines.
	if rows := sheetRows(everySign("collar", 3, 9, 21)); rows[1] != 2 || rows[2] != 6 {
		t.Errorf("stations at 3, 9 and 21 mm stand on lines %v", rows)
	}
}

// Colour is the last thing that tells: without it the same is written.
func TestSheetColourAddsNothing(t *testing.T) {
	t.Parallel()
	sh := everySign("collar", 3, 9, 15, 21)
	coloured, bare := strings.Join(Sheet(sh, 60, true), "\n"), strings.Join(Sheet(sh, 60, false), "\n")
	if coloured == bare || strings.Contains(bare, "\x1b") {
		t.Error("colour is not what differs")
	}
	var stripped []string
	for _, l := range strings.Split(ansi.Strip(coloured), "\n") {
		stripped = append(stripped, strings.TrimRight(l, " "))
	}
	if strings.Join(stripped, "\n") != bare {
		t.Errorf("without its colours it is\n%s\nnot\n%s", strings.Join(stripped, "\n"), bare)
	}
}

func TestSheetTableWrapsItsNotes(t *testing.T) {
	t.Parallel()
	got := strings.Join(SheetTable([][]string{{"", "read"}, {"3 mm", "0.5"}, {"21 mm", "0.12"}}, []string{"", "", "too thin by 0.02, keep the knife off"}, 32), "\n")
	want := "        read\n   3 mm  0.5\n  21 mm 0.12  too thin by 0.02,\n              keep the knife off"
	if got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}
