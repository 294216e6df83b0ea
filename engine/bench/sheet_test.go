package bench_test

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"canewright/engine/bench"
	"canewright/engine/bench/benchtest"
	"canewright/engine/dimension"
	"canewright/engine/quantity"
	"canewright/engine/recipe"
	"canewright/engine/tool"
)

const scraped = `stages:
  - stage: scrape
    tools: [knife, plaque]
    condition: wet
    targets:
      blade.thickness:
        from: collar
        at: 3 9 21 mm
        spine: 0.90 0.70 0.30 mm
        rails: 0.60 0.46 0.17 mm
        within: ± 0.03 mm
        above: once more
        below: going on
    do: [strokes]
    measure: [{take: blade.thickness, with: dial indicator}]
  - stage: finish
    tools: [knife]
    condition: wet
    targets:
      blade.thickness:
        from: collar
        at: 3 9 21 mm
        spine: 0.86 0.66 0.26 mm
        within: ± 0.03 mm
        above: once more
        below: going on
    measure: [{take: blade.thickness, lanes: spine, with: dial indicator}]
`

// read answers what is asked: the work, then a reading a station.
func (b *table) read(readings ...string) {
	b.t.Helper()
	for _, r := range readings {
		for q := b.Question(); q.Asked != bench.AskReading && q.Asked != bench.AskNothing; q = b.Question() {
			b.give("")
		}
		b.give(r)
	}
}

func (b *table) sheet(stage string) *bench.Sheet {
	b.t.Helper()
	sh, err := bench.SheetOf(b.State, "1", stage)
	if err != nil {
		b.t.Fatal(err)
	}
	return sh
}

// Stations are asked blade by blade, lane by lane.
var asTargeted = []string{"0.90", "0.70", "0.30", "0.60", "0.46", "0.17", "0.90", "0.70", "0.30", "0.60", "0.46", "0.17"}

func with(at int, text string, more ...any) []string {
	out := slices.Clone(asTargeted)
	out[at] = text
	for i := 0; i+1 < len(more); i += 2 {
		out[more[i].(int)] = more[i+1].(string)
	}
	return out
}

func TestSheetSaysWhereTheBladeIsThick(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name     string
		readings []string
		want     []string
	}{
		{"all on target", asTargeted, []string{"All that was read is within what you can measure."}},
		{"a hair off is noise", with(0, "0.91"), []string{"All that was read is within what you can measure."}},
		{"one too thick", with(4, "0.54"), []string{"Blade A: rails at 9 mm too thick by 0.05, 0.08 over the target.", "The rest is within what you can measure."}},
		{"worst first, by blade", with(4, "0.51", 6, "1.00", 7, "0.75"),
			[]string{"Blade B: spine at 3 mm too thick by 0.07, 0.10 over the target; spine at 9 mm too thick by 0.02, 0.05 over the target.",
				"Blade A: rails at 9 mm too thick by 0.02, 0.05 over the target.", "The rest is within what you can measure."}},
		{"beyond, but perhaps not", with(4, "0.50"), []string{"Blade A: rails at 9 mm maybe too thick, 0.04 over the target.", "The rest is within what you can measure."}},
		{"inside, and measurably off", with(0, "0.92"), []string{"Blade A: spine at 3 mm inside, 0.02 over the target.", "The rest is within what you can measure."}},
		{"under: the knife stays off", with(5, "0.12", 4, "0.43"), []string{"Keep the knife off here, at or under the lower limit: blade A, rails at 9 and 21 mm.", "The rest is within what you can measure."}},
		{"more than a handful", with(0, "1.00", 1, "0.80", 2, "0.40", 3, "0.70", 4, "0.56", 5, "0.27", 6, "1.00"),
			[]string{"Blade A: spine at 3, 9 and 21 mm too thick by 0.07, 0.10 over the target; rails at 3 and 9 mm too thick by 0.07, 0.10 over the target.",
				"2 more places are outside the limits: the table has them."}},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			b := begin(t, 1, scraped)
			b.order(c.readings)
			if got := b.sheet("scrape").Words(nil); !slices.Equal(got, c.want) {
				t.Errorf("said\n  %s\nwant\n  %s", strings.Join(got, "\n  "), strings.Join(c.want, "\n  "))
			}
		})
	}
}

// order gives readings by blade, lane and station, in whatever order they are asked.
func (b *table) order(readings []string) {
	b.t.Helper()
	for range readings {
		for q := b.Question(); q.Asked != bench.AskReading; q = b.Question() {
			b.give("")
		}
		b.give(readings[b.asked()])
		if q := b.Question(); q.Asked == bench.AskSettle {
			b.give("")
		}
	}
}

// asked is the place in asTargeted of the station that is asked.
func (b *table) asked() int {
	g := b.Question().Grid
	for blade := range g.Blades {
		for station := range g.Stations {
			for lane := range g.Lanes {
				if g.Cell(blade, station, lane).State == bench.CellNext {
					return (blade*len(g.Lanes)+lane)*3 + station
				}
			}
		}
	}
	b.t.Fatal("no station is asked")
	return 0
}

func TestSheetCellsHoldWhatWasReadAndSayWhatIsReal(t *testing.T) {
	t.Parallel()
	b := begin(t, 1, scraped)
	b.order(with(4, "0.54", 5, "0.14", 1, "0.72", 10, "0.50"))
	sh := b.sheet("")
	if sh.Stage != "scrape" || sh.Visit != 1 || sh.Condition != "wet" || sh.From != "collar" || sh.Unit != "mm" || !slices.Equal(sh.Gauges, []string{"dial indicator"}) || sh.Cutter() != "knife" {
		t.Errorf("head is %+v, cutter %q", sh, sh.Cutter())
	}
	// The dial indicator: step 0.01 mm, own error 0.005774 mm; u² = step²/12 +
	// error², u = 0.006455 mm, expanded (k = 2) 0.01291 mm. JCGM 100:2008, 4.3.7 and 6.2.
	for _, c := range []struct {
		blade, station, lane int
		want                 bench.SheetCell
	}{
		{0, 0, 0, bench.SheetCell{State: bench.SheetNoise, Reading: "0.90", Target: "0.90", Real: false}},
		{0, 1, 0, bench.SheetCell{State: bench.SheetOff, Reading: "0.72", Target: "0.70", Difference: "+0.02", Real: true}},
		{0, 1, 1, bench.SheetCell{State: bench.SheetMore, Reading: "0.54", Target: "0.46", Difference: "+0.08", Past: "0.05", Real: true}},
		{0, 2, 1, bench.SheetCell{State: bench.SheetNoise, KnifeOff: true, Reading: "0.14", Target: "0.17", Real: true}},
		{1, 1, 1, bench.SheetCell{State: bench.SheetMaybe, Reading: "0.50", Target: "0.46", Difference: "+0.04", Past: "0.01", Real: true}},
	} {
		got := sh.Cell(c.blade, c.station, c.lane)
		if c.want.KnifeOff {
			c.want.State, c.want.Difference = bench.SheetOff, "−0.03"
		}
		if got.State != c.want.State || got.Reading != c.want.Reading || got.Target != c.want.Target || got.Difference != c.want.Difference ||
			got.Past != c.want.Past || got.Real != c.want.Real || got.KnifeOff != c.want.KnifeOff {
			t.Errorf("blade %d, station %d, lane %d: %+v, want %+v", c.blade, c.station, c.lane, *got, c.want)
		}
		if got.U < 12_908 || got.U > 12_912 {
			t.Errorf("expanded uncertainty %d nm, want 12910", got.U)
		}
	}
	if c := sh.Cell(0, 1, 1); c.Limits != "0.43 to 0.49 mm" || c.Diff != 80_000 || c.Beyond != 50_000 {
		t.Errorf("limits %q, off by %d, beyond by %d", c.Limits, c.Diff, c.Beyond)
	}
}

// A−B of single readings: their scatter is not known, so the whole of both
// uncertainties stands in: √2·0.01291 = 0.01826 mm.
func TestSheetContrastsBladesOfSingleReadings(t *testing.T) {
	t.Parallel()
	b := begin(t, 1, scraped)
	b.order(with(0, "0.91", 7, "0.71"))
	sh := b.sheet("")
	if len(sh.Contrasts) != 6 {
		t.Fatalf("%d contrasts", len(sh.Contrasts))
	}
	first, second := sh.Contrasts[0], sh.Contrasts[1]
	if first.What != "A − B" || first.Where != "spine, 3 mm" || first.Text != "+0.01" || first.Real || first.Noise != "0.018" || first.U < 18_200 || first.U > 18_300 {
		t.Errorf("%+v", first)
	}
	if second.Text != "−0.01" || sh.Contrasts[2].Real || sh.Contrasts[2].Diff != 0 {
		t.Errorf("%+v", sh.Contrasts[1:3])
	}
}

func TestSheetLeftAndRightWhereLanesHaveThem(t *testing.T) {
	t.Parallel()
	set := shawm(t)
	for i := range set.Dimensions {
		if g := set.Dimensions[i].Grid; g != nil {
			g.Lanes = []string{"left rail", "spine", "right rail"}
		}
	}
	b := sheetBench(t, set, strings.NewReplacer("rails:", "left rail:", "    do: [strokes]\n", "").Replace(scraped))
	for b.Question().Stage == "scrape" {
		q := b.Question()
		if q.Asked == bench.AskReading && strings.Contains(q.Prompt, "left rail, 9 mm") && strings.Contains(q.Prompt, "blade A") {
			b.give("0.48")
			continue
		}
		b.give(b.Right(q))
	}
	sh := b.sheet("scrape")
	for _, c := range sh.Contrasts {
		if c.What == "left − right" {
			t.Errorf("the right rail was not read, and is compared: %+v", c)
		}
	}
	full := sheetBench(t, set, strings.Replace(strings.Replace(scraped, "        rails: 0.60 0.46 0.17 mm\n", "        left rail: 0.60 0.46 0.17 mm\n        right rail: 0.60 0.46 0.17 mm\n", 1), "    do: [strokes]\n", "", 1))
	for full.Question().Stage == "scrape" {
		q := full.Question()
		text := full.Right(q)
		if q.Asked == bench.AskReading && strings.Contains(q.Prompt, "blade A, left rail, 9 mm") {
			text = "0.48"
		}
		full.give(text)
	}
	var found []string
	for _, c := range full.sheet("scrape").Contrasts {
		if c.What == "left − right" {
			found = append(found, fmt.Sprint(c.Where, " ", c.Text, " ", c.Real))
		}
	}
	if len(found) != 6 || found[1] != "blade A, rail, 9 mm +0.02 true" || found[0] != "blade A, rail, 3 mm 0.00 false" {
		t.Errorf("%q", found)
	}
}

func sheetBench(t testing.TB, set *dimension.Set, body string) *table {
	t.Helper()
	f, list := recipe.Load("recipe.yaml", []byte("canewright: recipe 1\ntitle: a reed\nid: a-reed\nversion: 3\ninstrument: shawm 1\n"+body))
	if f != nil {
		var b *recipe.Bound
		if b, list = recipe.Bind(f, set, tool.Standard()); b != nil {
			d, err := benchtest.Start(b, 1, nil)
			if err != nil {
				t.Fatal(err)
			}
			return &table{d, t}
		}
	}
	var s strings.Builder
	list.Text(&s)
	t.Fatal(s.String())
	return nil
}

func TestSheetIsOfTheNewestVisitAndMarksEarlierReadings(t *testing.T) {
	t.Parallel()
	b := begin(t, 1, scraped)
	b.order(with(4, "0.54"))
	if q := b.Question(); !strings.HasPrefix(q.Stage, "scrape") {
		t.Fatalf("at %s", q.Stage)
	}
	if sh := b.sheet(""); sh.Visit != 1 || sh.Cell(0, 1, 1).State != bench.SheetMore || sh.Cell(0, 1, 1).Earlier {
		t.Errorf("before the second visit is read: visit %d, %+v", sh.Visit, *sh.Cell(0, 1, 1))
	}
	b.give("+8 rails A")
	sh := b.sheet("")
	if c := sh.Cell(0, 1, 1); c.Since != 8 || sh.Cell(1, 1, 1).Since != 0 || sh.Cell(0, 1, 0).Since != 0 {
		t.Errorf("strokes since: %d, blade B %d, spine %d", c.Since, sh.Cell(1, 1, 1).Since, sh.Cell(0, 1, 0).Since)
	}
	if got, want := sh.Words(nil)[0], "Strokes since it was read, so measure again: blade A, rails at 3, 9 and 21 mm."; got != want {
		t.Errorf("said %q, want %q", got, want)
	}
	first := b.asked()
	b.give(asTargeted[first])
	sh = b.sheet("")
	for blade := range 2 {
		for lane := range 2 {
			for station := range 3 {
				if fresh := (blade*2+lane)*3+station == first; sh.Cell(blade, station, lane).Earlier == fresh {
					t.Errorf("blade %d, lane %d, station %d: earlier is %v", blade, lane, station, !fresh)
				}
			}
		}
	}
	for _, c := range sh.Contrasts {
		if c.Where == "rails, 9 mm" && c.What == "A − B" {
			t.Errorf("readings of two visits are compared: %+v", c)
		}
	}
}

func TestSheetAtAnEarlierStageAndWhatIsRefused(t *testing.T) {
	t.Parallel()
	b := begin(t, 2, scraped)
	if _, err := bench.SheetOf(b.State, "1", ""); err == nil || err.Error() != "No station of a blade was read yet of piece 1." {
		t.Errorf("%v", err)
	}
	b.Mark = "1"
	b.order(asTargeted)
	b.read("0.86")
	sh := b.sheet("")
	if sh.Stage != "finish" || !slices.Equal(sh.Elsewhere, []string{"scrape"}) || sh.Cell(0, 0, 0).Reading != "0.86" || sh.Cell(0, 0, 1).State != bench.SheetNotAsked {
		t.Errorf("%s, elsewhere %v", sh.Stage, sh.Elsewhere)
	}
	if sh := b.sheet("Scrape"); sh.Cell(0, 0, 0).Reading != "0.90" || sh.Cell(0, 0, 0).Target != "0.90" {
		t.Errorf("%+v", *sh.Cell(0, 0, 0))
	}
	for _, c := range []struct{ mark, stage, want string }{
		{"9", "", `There is no piece "9" in this batch. There are: 1 and 2.`},
		{"1", "gouge", `The blade of piece 1 was not read at a stage "gouge". It was read at: scrape, finish.`},
		{"2", "", "No station of a blade was read yet of piece 2."},
	} {
		_, err := bench.SheetOf(b.State, c.mark, c.stage)
		if _, ok := errors.AsType[*bench.Refusal](err); !ok || err.Error() != c.want {
			t.Errorf("%q, %q: %v, want %s", c.mark, c.stage, err, c.want)
		}
	}
}

func TestSheetFollowsCorrectionsAndTakingBack(t *testing.T) {
	t.Parallel()
	b := begin(t, 1, scraped)
	b.read("0.90")
	b.give("0.80")
	if c := b.sheet("").Cell(0, 1, 0); c.Reading != "0.80" {
		t.Fatalf("the second reading is not at its place: %+v", *c)
	}
	b.give("undo")
	for i := range b.sheet("").Cells {
		if c := b.sheet("").Cells[i]; c.Reading == "0.80" {
			t.Errorf("what was taken back is on the sheet: %+v", c)
		}
	}
	b.give("correct 0.90 to 0.94")
	if c := b.sheet("").Cell(0, 0, 0); c.Reading != "0.94" {
		t.Errorf("a corrected reading stands as %s", c.Reading)
	}
}

// The same blade in inches, recipe and readings: texts alone may differ.
func TestSheetInInchesIsTheSameSheet(t *testing.T) {
	t.Parallel()
	body := func(unit string, of func(int64) string, spine, rails [3]int64, within int64) string {
		row := func(r [3]int64) string {
			return of(r[0]) + " " + of(r[1]) + " " + of(r[2]) + " " + unit
		}
		return strings.NewReplacer("0.90 0.70 0.30 mm", row(spine), "0.60 0.46 0.17 mm", row(rails), "± 0.03 mm", "± "+of(within)+" "+unit).Replace(
			scraped[:strings.Index(scraped, "  - stage: finish")])
	}
	// A ten-thousandth of an inch is 2540 nm.
	mm := func(n int64) string { return fmt.Sprintf("%d.%06d", n*2540/1_000_000, n*2540%1_000_000) }
	in := func(n int64) string { return fmt.Sprintf("%d.%04d", n/10_000, n%10_000) }
	rapid.Check(t, func(rt *rapid.T) {
		around := func(name string, low, high int64) int64 { return rapid.Int64Range(low, high).Draw(rt, name) }
		spine := [3]int64{around("s1", 300, 400), around("s2", 200, 300), around("s3", 100, 150)}
		rails := [3]int64{around("r1", 200, 250), around("r2", 150, 200), around("r3", 60, 90)}
		within := around("within", 2, 20)
		var read [12]int64
		for i := range read {
			nominal := append(slices.Clone(spine[:]), rails[:]...)[i%6]
			read[i] = nominal + around("off", -30, 30)
		}
		sheets := map[string]*bench.Sheet{}
		for unit, of := range map[string]func(int64) string{"mm": mm, "in": in} {
			b := begin(t, 1, body(unit, of, spine, rails, within))
			texts := make([]string, 12)
			for i, n := range read {
				texts[i] = of(n) + " " + unit + "!"
			}
			b.order(texts)
			sheets[unit] = b.sheet("scrape")
		}
		a, z := sheets["mm"], sheets["in"]
		for i := range a.Cells {
			c, d := a.Cells[i], z.Cells[i]
			if c.State != d.State || c.Real != d.Real || c.KnifeOff != d.KnifeOff || c.Value != d.Value || c.Diff != d.Diff || c.Beyond != d.Beyond || c.U != d.U {
				rt.Fatalf("in mm %+v\nin in %+v", c, d)
			}
			if c.Diff == 0 && c.State != bench.SheetNoise && !c.KnifeOff {
				rt.Fatalf("equal to its nominal, and %s", c.State)
			}
		}
		fa, fz := a.Findings(), z.Findings()
		if len(fa) != len(fz) {
			rt.Fatalf("%d findings in mm, %d in in", len(fa), len(fz))
		}
		for i := range fa {
			x, y := fa[i], fz[i]
			x.Past, x.Off, y.Past, y.Off = "", "", "", ""
			if x != y {
				rt.Fatalf("finding %d: in mm %+v, in in %+v", i, x, y)
			}
		}
		for i := range a.Contrasts {
			if x, y := a.Contrasts[i], z.Contrasts[i]; x.Diff != y.Diff || x.U != y.U || x.Real != y.Real {
				rt.Fatalf("in mm %+v, in in %+v", x, y)
			}
		}
		if a.Unit != "mm" || z.Unit != "in" {
			rt.Fatalf("shown in %s and %s", a.Unit, z.Unit)
		}
	})
}

// Whatever is read, a place at its nominal is never listed, the listed are in
// order, and a place at or under its lower limit is never called too thick.
func TestFindingsAreRealAndInOrder(t *testing.T) {
	t.Parallel()
	bound := bound(t, scraped)
	rapid.Check(t, func(rt *rapid.T) {
		d, err := benchtest.Start(bound, 1, nil)
		if err != nil {
			rt.Fatal(err)
		}
		b := &table{d, t}
		readings := make([]string, 12)
		for i, n := range asTargeted {
			v, err := quantity.Parse(n+" mm", quantity.Style{Want: quantity.Length})
			if err != nil {
				rt.Fatal(err)
			}
			q := v.Value.Q + 10_000*rapid.Int64Range(-8, 12).Draw(rt, "off")
			readings[i] = quantity.Format(quantity.Value{Kind: quantity.Length, Q: q}, v.Unit, 10_000) + "!"
		}
		b.order(readings)
		sh := b.sheet("scrape")
		listed := map[string]bool{}
		before, over := bench.SheetMore, int64(1<<50)
		for _, f := range sh.Findings() {
			listed[f.Blade+f.Lane+f.Station] = true
			if f.State == bench.SheetMore {
				c := cellOf(sh, f)
				if before != bench.SheetMore || c.Beyond > over {
					rt.Fatalf("%+v comes after %s by %d", f, before, over)
				}
				over = c.Beyond
				if f.Want > c.Diff {
					rt.Fatalf("%d wanted off where %d is too much", f.Want, c.Diff)
				}
			}
			before = f.State
		}
		for bl, blade := range sh.Blades {
			for st, station := range sh.Stations {
				for la, lane := range sh.Lanes {
					c := sh.Cell(bl, st, la)
					if is := listed[blade+lane+station.Text]; is && (c.Diff == 0 || c.KnifeOff || !c.Real) || !is && c.State == bench.SheetMore {
						rt.Fatalf("listed is %v: %+v", is, *c)
					}
					if c.KnifeOff != (c.Room <= 0) {
						rt.Fatalf("knife off is %v with %d above the limit", c.KnifeOff, c.Room)
					}
				}
			}
		}
	})
}

func cellOf(sh *bench.Sheet, f bench.Finding) *bench.SheetCell {
	station := slices.IndexFunc(sh.Stations, func(s bench.SheetStation) bool { return s.Text == f.Station })
	return sh.Cell(slices.Index(sh.Blades, f.Blade), station, slices.Index(sh.Lanes, f.Lane))
}

// Strokes run along a lane: they are told once, for the place that has least to
// give.
func TestWordsTellStrokesOnceALane(t *testing.T) {
	t.Parallel()
	b := begin(t, 1, scraped)
	b.order(with(3, "0.70", 4, "0.54", 0, "1.00"))
	got := b.sheet("").Words(func(f bench.Finding) string { return fmt.Sprint(f.Want/1000, " to give") })
	want := "Blade A: spine at 3 mm too thick by 0.07, 0.10 over the target (100 to give); rails at 3 mm too thick by 0.07, 0.10 over the target (80 to give); rails at 9 mm too thick by 0.05, 0.08 over the target."
	if got[0] != want {
		t.Errorf("said\n  %s\nwant\n  %s", got[0], want)
	}
}
