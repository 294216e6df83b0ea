package toolbox

import (
	"bufio"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"canewright/engine/dimension"
	"canewright/engine/quantity"
	"canewright/engine/recipe"
	"canewright/engine/tool"
)

// invented is a set with the dimensions that carrying over knows of.
func invented(t testing.TB) *dimension.Set {
	t.Helper()
	mm, ok := quantity.UnitNamed("mm")
	if !ok {
		t.Fatal("no mm")
	}
	set := &dimension.Set{ID: "shawm", Title: "shawm, invented", Major: 1}
	add := func(name, subject, datum string, across bool) {
		set.Dimensions = append(set.Dimensions, dimension.Dimension{Name: name, Title: strings.ReplaceAll(name, ".", " "), Kind: quantity.Length, Unit: mm, Subject: subject,
			Datum: datum, Across: across, Condition: dimension.Either, How: "read it", Tool: "caliper", More: "large", Less: "small"})
	}
	add("shape.fold", "piece", "", true)
	add("shape.first_wire", "piece", "", true)
	add("shape.butt", "piece", "", true)
	add("tip.width", "piece", "", true)
	add("gouge.centre", "piece", "", true)
	add("gouge.side", "piece", "", true)
	add("gouge.side_at", "batch", "the centre line", false)
	add("profile.collar", "piece", "", true)
	add("blade.length", "piece", "the collar", false)
	add("reed.tube", "piece", "the butt", false)
	add("cane.length", "piece", "one end", false)
	add("tube.diameter", "tube", "", true)
	add("mandrel.line", "piece", "the line", false)
	add("reed.on_bocal", "piece", "the butt", false)
	add("butt.bore", "piece", "", true)
	add("staple.length", "staple", "the bottom of the staple", false)
	add("tie.length", "piece", "the bottom of the staple", false)
	add("overall", "piece", "the bottom of the staple", false)
	set.Dimensions = append(set.Dimensions,
		dimension.Dimension{Name: "mandrel.taper", Title: "taper", Kind: quantity.Ratio, Unit: quantity.Bare(quantity.Ratio), Subject: "batch", Condition: dimension.Either, Tool: "caliper", More: "steep", Less: "slow"},
		dimension.Dimension{Name: "crow.pitch", Title: "crow", Kind: quantity.Pitch, Subject: "piece", Condition: dimension.Wet, Tool: "tuner", More: "sharp", Less: "flat"})
	return set
}

// bind reads an invented recipe: settings and targets as given.
func bind(t testing.TB, settings, targets, rest string) *recipe.Bound {
	t.Helper()
	text := "canewright: recipe 1\ntitle: Invented\nid: invented\nversion: 1\ninstrument: shawm 1\n"
	if settings != "" {
		text += "settings:\n" + settings
	}
	text += "targets:\n" + targets + "stages:\n  - stage: look\n    do: [look]\n" + rest
	f, list := recipe.Load("invented.yaml", []byte(text))
	if f == nil {
		t.Fatalf("%s\n%v", text, list.Sorted())
	}
	b, list := recipe.Bind(f, invented(t), tool.Standard())
	if b == nil {
		t.Fatalf("%s\n%v", text, list.Sorted())
	}
	return b
}

func box(t testing.TB, lines ...string) *Box {
	t.Helper()
	out := &Box{All: Set{}}
	for _, l := range lines {
		name, text, _ := strings.Cut(l, " ")
		f, ok := FieldNamed(name)
		if !ok {
			t.Fatalf("no field %q", name)
		}
		e, err := f.Parse(text, false)
		if err != nil {
			t.Fatalf("%s: %v", l, err)
		}
		out.All[name] = e
	}
	return out
}

func entry(t testing.TB, r Result, name string) Entry {
	t.Helper()
	for _, e := range r.Entries {
		if e.Name == name {
			return e
		}
	}
	t.Fatalf("%s is not in the result", name)
	return Entry{}
}

// A bassoonist's own sum, bassoonoperator.blogspot.com, Reed log, January 2010:
// 1 mm wider on both blades is about 2 mm more round, about 0.6 mm more
// diameter, and 9.1 mm further on at a slope of 0.07. By hand: 2/π = 0.63662 mm;
// /0.07 = 9.0946 mm; 8 + 9.0946 = 17.09.
func TestOneMillimetreWiderIsNineFurtherOn(t *testing.T) {
	t.Parallel()
	b := bind(t, "  shaper.width: {value: 15.00 mm, why: metal}\n  shaper.butt: {value: 12.00 mm, why: metal}\n  bocal.tip: {value: 4.500 mm, why: new}\n  bocal.taper: {value: '0.070', why: as told}\n",
		"  shape.fold: 15.0 ± 0.5 mm\n  shape.butt: 12.1 ± 0.3 mm\n  butt.bore: 5.0 +0.2 -0.1 mm\n  reed.on_bocal: 8 ± 1 mm\n  crow.pitch: E4 .. F4\n", "")
	r := Carry(b, box(t, "shaper.fold 16.00 mm", "shaper.butt 13.00 mm", "bocal.tip 4.500 mm", "bocal.taper 0.070"))
	for _, c := range []struct{ name, now, change string }{
		{"shaper.width", "16 mm", "+1 mm (+0.0394 in)"},
		{"shaper.butt", "13 mm", "+1 mm (+0.0394 in)"},
		{"shape.fold", "16.0 ± 0.5 mm", "+1 mm (+0.0394 in)"},
		{"shape.butt", "13.1 ± 0.3 mm", "+1 mm (+0.0394 in)"},
		{"butt.bore", "5.64 +0.2 -0.1 mm", "+0.6366 mm (+0.0251 in)"},
		{"reed.on_bocal", "17.1 ± 1 mm", "+9.095 mm (+0.358 in)"},
	} {
		e := entry(t, r, c.name)
		if e.Verdict != Changes || e.Now != c.now || e.Change != c.change {
			t.Errorf("%s: %s %q %q, want %q %q", c.name, e.Verdict, e.Now, e.Change, c.now, c.change)
		}
	}
	e := entry(t, r, "reed.on_bocal")
	if got, want := strings.Join(e.Why, " -> "), "1 mm wider on both blades at the butt -> 0.64 mm more tube diameter -> 9.1 mm further on a 0.07 taper"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	// By hand: u(Δw) = √2 · 0.01/√12 = 0.0040825; ·2/π = 0.0025990; /0.07 =
	// 0.037128; the taper's 0.001/√12 = 0.00028868, ·9.0946/0.07 = 0.037506;
	// together 0.052775.
	if !strings.Contains(e.Uncertain, "0.053 mm") {
		t.Errorf("%q", e.Uncertain)
	}
	if e := entry(t, r, "crow.pitch"); e.Verdict != Carries || e.Now != "" {
		t.Errorf("the crow: %+v", e)
	}
}

// Published Morse tapers as mandrels: a blank whose bore is the large diameter
// sits the published length from the small end, and one narrower by a hundredth
// of an inch sits 0.01/(taper per inch) inches less far.
func TestPublishedTapersSeatWhereTheirTablesSay(t *testing.T) {
	t.Parallel()
	f, err := os.Open(filepath.Join("..", "..", "testdata", "checks", "morse_taper.tsv"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows := 0
	for s := bufio.NewScanner(f); s.Scan(); {
		c := strings.Split(s.Text(), "\t")
		if len(c) < 6 || strings.HasPrefix(c[0], "#") || c[0] == "name" {
			continue
		}
		rows++
		num := func(i int) float64 {
			v, err := strconv.ParseFloat(c[i], 64)
			if err != nil {
				t.Fatal(err)
			}
			return v
		}
		large, small, length, perInch := num(1), num(2), num(3), num(5)
		in := func(v float64) quantity.Entered {
			e, err := quantity.Parse(fmt.Sprintf("%.6f in", v), quantity.Style{Want: quantity.Length})
			if err != nil {
				t.Fatal(err)
			}
			return e
		}
		mine := Set{"mandrel.tip": in(small), "mandrel.diameter": in(large), "mandrel.at": in(length)}
		k, ok := mine.Taper("mandrel")
		// The table rounds to four decimals.
		if !ok || math.Abs(k-perInch) > 0.00006 {
			t.Errorf("%s: taper %.5f, published %.4f", c[0], k, perInch)
		}
		// The recipe's mandrel: a plain one of taper 0.1 whose line stands where
		// it is as thick as the table's large end.
		theirs := Set{"mandrel.tip": in(large - 0.2), "mandrel.taper": quantity.Entered{Value: quantity.Value{Kind: quantity.Ratio, Q: 1e8}}, "mandrel.line_at": in(2)}
		mine["mandrel.line_at"] = in(length)
		for _, less := range []float64{0, 0.01} {
			cr := &carrier{mine: mine, theirs: theirs, tube: tubeChange{known: true, bore: number{v: -less * 25.4}}}
			tol, err := quantity.ParseTolerance("0 ± 0.00001 in", quantity.Style{Want: quantity.Length})
			if err != nil {
				t.Fatal(err)
			}
			e := Entry{Verdict: Carries}
			cr.mandrelLine(&e, tol)
			got := 0.0
			if e.Verdict == Changes {
				now, err := quantity.ParseTolerance(e.Now, quantity.Style{Want: quantity.Length})
				if err != nil {
					t.Fatal(err)
				}
				got = float64(now.Nominal.Q) / 25.4e6
			}
			if want := -less / perInch; math.Abs(got-want) > 0.0003 {
				t.Errorf("%s, %.2f in narrower: %.5f in from the line, want %.5f", c[0], less, got, want)
			}
		}
	}
	if rows < 9 {
		t.Errorf("%d tapers were read", rows)
	}
}

// Own geometry, worked out apart from this program by bisection: over a bed of
// 10.5 mm, with 0.60 at the centre, a blade of radius 5.512 leaves 0.45 at 3.4 mm
// of arc, one of 11.7 mm diameter 0.40, one of 10.4 mm 0.50. An oboe forum
// recommends 11 to 11.5 mm for that bed, which agrees.
func TestTheSideFollowsFromBedAndBlade(t *testing.T) {
	t.Parallel()
	b := bind(t, "  side.arc: {value: 3.4 mm, why: there}\n", "  gouge.centre: 0.60 ± 0.02 mm\n  gouge.side: 0.45 ± 0.01 mm\n",
		"  - stage: gouge\n    measure: [gouge.centre, gouge.side]\n    expect:\n      - that: gouge.centre - gouge.side >= 0.12 mm\n")
	for _, c := range []struct {
		blade   string
		verdict Verdict
		side    string
		rule    Verdict
	}{{"11.024 mm", Carries, "0.45 mm", Carries}, {"11.7 mm", Changes, "0.4 mm", Carries}, {"10.4 mm", Changes, "0.5 mm", Breaks}} {
		r := Carry(b, box(t, "gouger.bed 10.5 mm", "gouger.blade "+c.blade))
		e := entry(t, r, "gouge.side")
		if e.Verdict != c.verdict || !strings.Contains(strings.Join(e.Why, " "), "leaves "+c.side) {
			t.Errorf("blade %s: %s %v", c.blade, e.Verdict, e.Why)
		}
		if rule := entry(t, r, "gouge.centre - gouge.side >= 0.12 mm"); rule.Verdict != c.rule {
			t.Errorf("blade %s: the rule %s %v", c.blade, rule.Verdict, rule.Why)
		}
	}
	r := Carry(b, box(t, "gouger.bed 10.5 mm"))
	if e := entry(t, r, "gouge.side"); e.Verdict != Unknown || len(e.Ask) != 1 || !strings.Contains(e.Ask[0], "gouger.blade") {
		t.Errorf("without a blade: %+v", e)
	}
}

// A thinner wall leaves a wider bore: 0.05 mm less on both sides is 0.10 mm,
// which is 1.43 mm on a taper of 0.07.
func TestAnotherGougeMovesTheSeat(t *testing.T) {
	t.Parallel()
	b := bind(t, "  shaper.butt: {value: 12.0 mm, why: m}\n  bocal.tip: {value: 4.5 mm, why: m}\n  bocal.taper: {value: '0.07', why: m}\n",
		"  gouge.centre: 1.30 +0.03 -0.02 mm\n  reed.on_bocal: 8 ± 1 mm\n", "")
	r := Carry(b, box(t, "shaper.butt 12.0 mm", "bocal.tip 4.5 mm", "bocal.taper 0.07", "gouger.centre 1.25 mm"))
	if e := entry(t, r, "gouge.centre"); e.Now != "1.25 +0.03 -0.02 mm" || e.Change != "-0.05 mm (-0.00197 in)" {
		t.Errorf("%+v", e)
	}
	if e := entry(t, r, "reed.on_bocal"); e.Now != "9.4 ± 1 mm" {
		t.Errorf("%+v", e)
	}
	r = Carry(b, box(t, "shaper.butt 12.0 mm", "bocal.tip 4.5 mm", "bocal.taper 0.07", "gouger.centre 1.28 mm"))
	if r.Count(Changes) > 0 {
		t.Errorf("1.28 mm is on the limit, which is inside: %+v", r.Entries)
	}
}

// Another bocal: a bore of 4.5 + 0.07·8 = 5.06 mm sits (5.06 - 4.6)/0.08 = 5.75
// mm on to one of 4.6 mm and 0.08; ±1 mm becomes ±0.07/0.08 = ±0.875 mm.
func TestAnotherBocalStretchesTheTolerance(t *testing.T) {
	t.Parallel()
	b := bind(t, "  shaper.butt: {value: 12.0 mm, why: m}\n  bocal.tip: {value: 4.5 mm, why: m}\n  bocal.taper: {value: '0.07', why: m}\n", "  reed.on_bocal: 8.00 ± 1.00 mm\n", "")
	r := Carry(b, box(t, "shaper.butt 12.0 mm", "bocal.tip 4.6 mm", "bocal.diameter 5.4 mm", "bocal.at 10 mm"))
	if e := entry(t, r, "reed.on_bocal"); e.Now != "5.75 ± 0.875 mm" {
		t.Errorf("%+v", e)
	}
}

// A shorter staple takes with it what is counted from its bottom.
func TestPlacesGoWithTheStaple(t *testing.T) {
	t.Parallel()
	b := bind(t, "  shaper.width: {value: 7.0 mm, why: m}\n", "  staple.length: 47.0 ± 0.2 mm\n  tie.length: 73.0 ± 0.5 mm\n  overall: 69.5 .. 70.5 mm\n", "")
	r := Carry(b, box(t, "shaper.fold 7.0 mm", "staple.length 46.0 mm"))
	for name, want := range map[string]string{"staple.length": "46.0 ± 0.2 mm", "tie.length": "72.0 ± 0.5 mm", "overall": "68.5 .. 69.5 mm"} {
		if e := entry(t, r, name); e.Verdict != Changes || e.Now != want {
			t.Errorf("%s: %s %q, want %q", name, e.Verdict, e.Now, want)
		}
	}
	r = Carry(b, box(t, "shaper.fold 7.2 mm", "staple.length 46.0 mm"))
	if e := entry(t, r, "tie.length"); e.Verdict != Unknown || len(e.Ask) == 0 {
		t.Errorf("a wider shape is tied longer, nobody knows by how much: %+v", e)
	}
}

// A profiler that cuts 1 mm further moves the collar towards the butt.
func TestTheCollarGoesWithTheProfiler(t *testing.T) {
	t.Parallel()
	b := bind(t, "  profiler.length: {value: 29 mm, why: m}\n", "  blade.length: 28.0 .. 28.5 mm\n  reed.tube: 27 ± 1 mm\n  profile.collar: at most 0.95 mm\n", "")
	r := Carry(b, box(t, "profiler.length 30 mm", "profiler.collar 0.98 mm"))
	for name, want := range map[string]string{"blade.length": "29.0 .. 29.5 mm", "reed.tube": "26 ± 1 mm", "profile.collar": "at most 0.98 mm"} {
		if e := entry(t, r, name); e.Verdict != Changes || e.Now != want {
			t.Errorf("%s: %s %q, want %q", name, e.Verdict, e.Now, want)
		}
	}
}

// What neither side states is not made up.
func TestNothingIsMadeUp(t *testing.T) {
	t.Parallel()
	b := bind(t, "  shaper.width: {value: 15 mm, why: m}\n", "  mandrel.line: 0 ± 1 mm\n  reed.on_bocal: 8 ± 1 mm\n  shape.butt: 12 ± 1 mm\n  tip.width: 14 ± 1 mm\n", "")
	r := Carry(b, box(t, "shaper.fold 16 mm", "shaper.butt 13 mm", "bocal.tip 4.5 mm", "bocal.taper 0.07"))
	for _, name := range []string{"mandrel.line", "reed.on_bocal", "shape.butt", "tip.width"} {
		e := entry(t, r, name)
		if e.Verdict != Unknown || e.Now != "" || len(e.Ask) == 0 {
			t.Errorf("%s: %+v", name, e)
		}
	}
	e := entry(t, r, "reed.on_bocal")
	asked := strings.Join(e.Ask, "\n")
	for _, want := range []string{"ask the recipe's author for shaper.butt", "ask the recipe's author for bocal.tip", "ask the recipe's author for bocal.taper"} {
		if !strings.Contains(asked, want) {
			t.Errorf("%q is not asked: %s", want, asked)
		}
	}
	if why := strings.Join(e.Why, " -> "); !strings.Contains(why, "if the recipe's bocal is like yours") || !strings.Contains(why, "9.1 mm") {
		t.Errorf("as much of the sum as there is: %q", why)
	}
	r = Carry(b, box(t))
	if r.Count(Changes) > 0 {
		t.Errorf("an empty toolbox changes nothing: %+v", r.Entries)
	}
}

// full states every tool and asks for everything that moves with one.
func full(t testing.TB, v map[string]string) *recipe.Bound {
	t.Helper()
	settings := "  side.arc: {value: 4 mm, why: there}\n"
	for _, f := range Fields() {
		if v[f.Name()] == "" || f.Name() == "shaper.cane" || f.Name() == "staple.length" || f.Name() == "mandrel.taper" {
			continue
		}
		unit := " mm"
		if f.Kind == quantity.Ratio {
			unit = ""
		}
		settings += "  " + f.Name() + ": {value: '" + v[f.Name()] + unit + "', why: mine}\n"
	}
	return bind(t, settings, "  shape.fold: 15.0 ± 0.5 mm\n  shape.butt: 12 ± 1 mm\n  shape.first_wire: 12 ± 1 mm\n  tip.width: 14 ± 1 mm\n  gouge.centre: "+v["gouger.centre"]+" ± 0.02 mm\n"+
		"  gouge.side: 0.5 .. 1.6 mm\n  profile.collar: "+v["profiler.collar"]+" ± 0.05 mm\n  blade.length: 28 ± 1 mm\n  reed.tube: 27 ± 1 mm\n  cane.length: "+v["gouger.length"]+" ± 1 mm\n"+
		"  tube.diameter: 24 .. 26 mm\n  mandrel.line: 0 ± 1 mm\n  mandrel.taper: "+v["mandrel.taper"]+" ± 0.001\n  reed.on_bocal: 8 ± 1 mm\n  butt.bore: 5 ± 1 mm\n"+
		"  staple.length: "+v["staple.length"]+" ± 0.2 mm\n  tie.length: 73.0 ± 0.5 mm\n  overall: 70 ± 1 mm\n", "")
}

// drawn are tools at random.
func drawn(t *rapid.T) map[string]string {
	v := map[string]string{}
	for _, f := range Fields() {
		usual, err := quantity.ParseTolerance(f.Usual, quantity.Style{Want: f.Kind})
		if err != nil {
			t.Fatal(err)
		}
		if f.Kind == quantity.Ratio {
			v[f.Name()] = fmt.Sprintf("0.0%d", rapid.IntRange(2, 99).Draw(t, f.Name()))
			continue
		}
		hundredths := rapid.Int64Range(usual.Low.Q/10_000+1, usual.High.Q/10_000).Draw(t, f.Name())
		v[f.Name()] = fmt.Sprintf("%d.%02d", hundredths/100, hundredths%100)
	}
	// A cone is told in one way, a blade too.
	delete(v, "mandrel.diameter")
	delete(v, "mandrel.at")
	delete(v, "bocal.diameter")
	delete(v, "bocal.at")
	delete(v, "gouger.radius")
	delete(v, "shaper.cane")
	return v
}

// lines are the same tools in mm; or as so many ten-thousandths of an inch as
// they have hundredths of a mm, written in mm or in inches.
func lines(v map[string]string, as string) []string {
	var out []string
	for _, f := range Fields() {
		text := v[f.Name()]
		tenThous, _ := strconv.ParseInt(strings.Replace(text, ".", "", 1), 10, 64)
		switch {
		case text == "":
			continue
		case f.Kind == quantity.Ratio:
		case as == "in":
			text = fmt.Sprintf("%d.%04d in", tenThous/10000, tenThous%10000)
		case as == "in, in mm": // 0.0001 in is 2540 nm
			nm := tenThous * 2540
			text = fmt.Sprintf("%d.%06d mm", nm/1000000, nm%1000000)
		default:
			text += " mm"
		}
		out = append(out, f.Name()+" "+text)
	}
	return out
}

func TestTheSameToolboxChangesNothing(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(rt *rapid.T) {
		v := drawn(rt)
		b := full(t, v)
		r := Carry(b, box(t, lines(v, "mm")...))
		for _, e := range r.Entries {
			if e.Verdict == Changes {
				rt.Fatalf("%s: %s -> %s %v", e.Name, e.Was, e.Now, e.Why)
			}
		}
	})
}

func TestInchesAndMillimetresComeToTheSame(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(rt *rapid.T) {
		theirs, mine := drawn(rt), drawn(rt)
		b := full(t, theirs)
		mm, in := Carry(b, box(t, lines(mine, "in, in mm")...)), Carry(b, box(t, lines(mine, "in")...))
		if len(mm.Entries) != len(in.Entries) {
			rt.Fatalf("%d and %d entries", len(mm.Entries), len(in.Entries))
		}
		for i, a := range mm.Entries {
			if b := in.Entries[i]; a.Verdict != b.Verdict || a.Now != b.Now || a.Change != b.Change {
				rt.Fatalf("%s: %s %q %q in mm, %s %q %q in inches", a.Name, a.Verdict, a.Now, a.Change, b.Verdict, b.Now, b.Change)
			}
		}
	})
}

// What stands in Now is what the recipe's reader takes at that place.
func TestNowIsReadAtItsPlace(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(rt *rapid.T) {
		theirs, mine := drawn(rt), drawn(rt)
		b := full(t, theirs)
		for _, e := range Carry(b, box(t, lines(mine, "mm")...)).Entries {
			if (e.Verdict == Changes) != (e.Now != "") {
				rt.Fatalf("%s: %s with %q", e.Name, e.Verdict, e.Now)
			}
			if e.Now == "" {
				continue
			}
			if e.What == OfSetting {
				f, _ := fieldOf(e.Name)
				got, err := f.Parse(e.Now, true)
				want, _ := f.Parse(strings.Join([]string{mine[f.Name()], map[bool]string{true: "mm"}[f.Kind == quantity.Length]}, " "), true)
				if err != nil || got.Value != want.Value {
					rt.Fatalf("%s: %q is %v, %v", e.Name, e.Now, got.Value, err)
				}
				continue
			}
			d := b.Dimension(e.Name)
			if _, err := quantity.ParseTolerance(e.Now, quantity.Style{Want: d.Kind, Point: true}); err != nil {
				rt.Fatalf("%s: %q: %v", e.Name, e.Now, err)
			}
		}
	})
}

func TestMovedKeepsItsForm(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		was string
		by  float64 // mm
		now string
	}{
		{"27 ± 0.5 mm", 1, "28.0 ± 0.5 mm"},
		{"27.0 ± 0.5 mm", 0.25, "27.25 ± 0.5 mm"},
		{"1.30 +0.03 -0.02 mm", -0.05, "1.25 +0.03 -0.02 mm"},
		{"56.0 +0.5 -0 mm", 1, "57.0 +0.5 -0.0 mm"},
		{"24 .. 25.5 mm", 0.5, "24.5 .. 26.0 mm"},
		{"at most 1 mm", 0.1, "at most 1.1 mm"},
		{"at least 24 mm", -1, "at least 23 mm"},
		{"0 ± 1 mm", -2, "-2 ± 1 mm"},
		{"1.000 ± 0.010 in", 2.54, "1.100 ± 0.010 in"},
		{"50 .. 52 thou", 0.0254, "51 .. 53 thou"},
		{"1 1/8 in ± 1/64 in", 25.4, "2.125 ± 0.01563 in"},
	} {
		tol, err := quantity.ParseTolerance(c.was, quantity.Style{Want: quantity.Length})
		if err != nil {
			t.Fatal(err)
		}
		now, _, ok := moved(tol, func(q float64) float64 { return q + c.by*1e6 })
		if !ok || now != c.now {
			t.Errorf("%s by %g mm: %q, want %q", c.was, c.by, now, c.now)
		}
	}
}
