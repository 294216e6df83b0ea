package bench_test

import (
	"slices"
	"strings"
	"testing"

	"canewright/engine/bench"
)

// passes goes round the scrape stage: all stations read at 0.05 over what the
// round before left, with strokes between.
func (b *table) passes(first []string, then ...[]string) {
	b.t.Helper()
	b.order(first)
	for _, round := range then {
		for _, line := range round[:len(round)-1] {
			b.give(line)
		}
		b.order(strings.Fields(round[len(round)-1]))
	}
}

func TestStrokePairsAreWhatCameOffBetweenTwoReadings(t *testing.T) {
	t.Parallel()
	thick := with(3, "0.70", 4, "0.56", 5, "0.27")  // rails A, 0.10 over
	less := with(3, "0.66", 4, "0.52", 5, "0.23")   // 0.04 off
	lesser := with(3, "0.66", 4, "0.52", 5, "0.21") // at the tip 0.02 more
	join := func(r []string) string { return strings.Join(r, " ") }
	pair := func(n int, off int64, stations int, both bool, where string) bench.StrokePair {
		return bench.StrokePair{Piece: "1", Tool: "knife", Dimension: "blade.thickness", Condition: "wet", Where: where, Strokes: n, Off: off, Stations: stations, Both: both}
	}
	for _, c := range []struct {
		name   string
		rounds [][]string
		want   []bench.StrokePair
	}{
		{"no strokes, no pair", [][]string{{join(less)}}, nil},
		{"a lane of a blade", [][]string{{"+12 rails A", join(less)}}, []bench.StrokePair{pair(12, 40_000, 3, false, "rails A")}},
		{"said twice", [][]string{{"+8 rails A", "+4 rail a", join(less)}}, []bench.StrokePair{pair(12, 40_000, 3, false, "rail a")}},
		{"two rounds", [][]string{{"+12 rails A", join(less)}, {"+6 rails A tip", join(lesser)}},
			[]bench.StrokePair{pair(12, 40_000, 3, false, "rails A"), pair(6, 20_000, 1, false, "rails A tip")}},
		{"left and right alike count once", [][]string{{"+8 left rail A", "+8 right rail A", join(less)}}, []bench.StrokePair{pair(8, 40_000, 3, false, "right rail A")}},
		{"left and right unlike tell nothing", [][]string{{"+8 left rail A", "+4 right rail A", join(less)}}, nil},
		{"one side", [][]string{{"+8 left rail A", join(less)}}, []bench.StrokePair{pair(8, 40_000, 3, false, "left rail A")}},
		{"nowhere said", [][]string{{"+8", join(less)}}, nil},
		{"at no known place", [][]string{{"+8 heart", join(less)}}, nil},
		{"unknown ones spoil the known", [][]string{{"+8 rails A", "+3", join(less)}}, nil},
		{"at one station", [][]string{{"+5 rails A at 9 mm", join(with(3, "0.70", 4, "0.53", 5, "0.27"))}}, []bench.StrokePair{pair(5, 30_000, 1, false, "rails A at 9 mm")}},
		{"no blade said", [][]string{{"+5 tip", join(lesser)}}, []bench.StrokePair{pair(5, (0+60_000+0+0)/4, 4, true, "tip")}},
		{"with a blade and without", [][]string{{"+5 rails", "+5 rails A", join(less)}}, []bench.StrokePair{pair(5, 0, 3, true, "rails")}},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			b := begin(t, 1, scraped)
			b.passes(thick, c.rounds...)
			if got := bench.StrokePairs(b.State); !slices.Equal(got, c.want) {
				t.Errorf("pairs\n  %+v\nwant\n  %+v", got, c.want)
			}
		})
	}
}

func TestStrokesWithOneOfTwoToolsAreCountedWhenItIsNamed(t *testing.T) {
	t.Parallel()
	body := strings.Replace(scraped, "tools: [knife, plaque]", "tools: [knife, file, plaque]", 1)
	thick, less := with(3, "0.70", 4, "0.56", 5, "0.27"), with(3, "0.66", 4, "0.52", 5, "0.23")
	for text, want := range map[string]string{"+9 rails A": "", "+9 rails A file": "file", "+9 knife rails A": "knife"} {
		b := begin(t, 1, body)
		b.passes(thick, []string{text, strings.Join(less, " ")})
		got := bench.StrokePairs(b.State)
		switch {
		case want == "" && len(got) != 0:
			t.Errorf("%q: %+v", text, got)
		case want != "" && (len(got) != 1 || got[0].Tool != want || got[0].Strokes != 9):
			t.Errorf("%q: %+v, want 9 with the %s", text, got, want)
		}
		if sh := b.sheet("scrape"); sh.Cutter() != "" {
			t.Errorf("with two tools the sheet takes the %s", sh.Cutter())
		}
	}
	b := begin(t, 1, scraped)
	b.give("using file for knife")
	b.passes(thick, []string{"+9 rails A", strings.Join(less, " ")})
	if got := bench.StrokePairs(b.State); len(got) != 1 || got[0].Tool != "file" {
		t.Errorf("using another tool: %+v", got)
	}
}

func TestStrokesAndReadingsTakenBackTellNothing(t *testing.T) {
	t.Parallel()
	b := begin(t, 1, scraped)
	b.order(with(3, "0.70", 4, "0.56", 5, "0.27"))
	b.give("+8 rails A")
	b.give("undo")
	b.order(with(3, "0.66", 4, "0.52", 5, "0.23"))
	if got := bench.StrokePairs(b.State); len(got) != 0 {
		t.Errorf("%+v", got)
	}
}

// What may come off is the difference, and never more than the thinnest place of
// the lane has above its limit, less what the gauge may be wrong by.
func TestFindingsSayWhatMayComeOff(t *testing.T) {
	t.Parallel()
	b := begin(t, 1, scraped)
	b.order(with(4, "0.54", 5, "0.15", 10, "0.56", 7, "0.76"))
	const u = 12_910 // expanded, of a dial indicator
	for _, f := range b.sheet("").Findings() {
		var want, room, bothWant, bothRoom int64
		switch f.Blade + " " + f.Lane + " " + f.Station {
		case "B rails 9 mm":
			want, room, bothWant, bothRoom = 100_000, 30_000-u, 80_000, 10_000-u
		case "A rails 9 mm":
			want, room, bothWant, bothRoom = 80_000, 10_000-u, 80_000, 10_000-u
		case "B spine 9 mm":
			want, room = 60_000, 30_000-u
		case "A rails 21 mm": // inside: nothing is asked off it
		default:
			t.Errorf("found %+v", f)
		}
		near := func(a, b int64) bool { return a-b <= 2 && b-a <= 2 }
		if !near(f.Want, want) || !near(f.Room, room) || !near(f.BothWant, bothWant) || !near(f.BothRoom, bothRoom) {
			t.Errorf("%+v, want %d, room %d, both %d and %d", f, want, room, bothWant, bothRoom)
		}
	}
}
