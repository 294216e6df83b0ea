package remedy_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"canewright/engine/dimension"
	"canewright/engine/quantity"
	"canewright/engine/recipe"
	"canewright/engine/remedy"
	"canewright/engine/tool"
)

// shawm is a small invented set.
func shawm(t testing.TB) *dimension.Set {
	t.Helper()
	mm, ok := quantity.UnitNamed("mm")
	if !ok {
		t.Fatal("no mm")
	}
	guess := []dimension.Source{{Says: "invented", Grade: dimension.FromMemory}}
	length := func(name, title string) dimension.Dimension {
		return dimension.Dimension{Name: name, Title: title, Kind: quantity.Length, Unit: mm, Subject: "piece", Across: true, Condition: dimension.Either,
			How: "across", More: "large", Less: "small", Sources: guess}
	}
	set := &dimension.Set{ID: "shawm", Title: "shawm, invented", Major: 1, Dimensions: []dimension.Dimension{
		length("opening", "tip opening"), length("wide", "widest"), length("narrow", "narrowest"),
		{Name: "oval", Title: "ovality", Kind: quantity.Length, Unit: mm, Subject: "piece", Condition: dimension.Either, More: "oval", Less: "round",
			Formula: "wide - narrow", Sources: guess},
		{Name: "crow.pitch", Title: "crow", Kind: quantity.Pitch, Subject: "piece", Condition: dimension.Wet, How: "blow", More: "sharp", Less: "flat", Sources: guess},
		{Name: "blade.thickness", Title: "blade thickness", Kind: quantity.Length, Unit: mm, Subject: "piece", Across: true, Condition: dimension.Wet, How: "in the hollow",
			More: "thick", Less: "thin", Sources: guess,
			Grid: &dimension.Grid{From: []string{"collar"}, Lanes: []string{"spine", "rails"}, Blades: []string{"A", "B"}, Short: "blade"}},
	}}
	set.Symptoms = []dimension.Symptom{
		{Name: "low-resists", Words: "low notes do not speak", Also: []string{"the bottom resists"}},
		{Name: "crow-high", Words: "it crows high"},
		{Name: "one-note", Words: "one note is bad"},
	}
	one := func(name, do string, touches dimension.Touches, symptoms, when []string) dimension.Remedy {
		return dimension.Remedy{Name: name, Symptoms: symptoms, When: when, Because: "so", Do: do, Touches: touches, Sources: guess}
	}
	low, crow, note := []string{"low-resists"}, []string{"crow-high"}, []string{"one-note", "low-resists"}
	back := one("lighten the back", "One stroke at the back.", dimension.TouchesKnife, []string{"low-resists", "crow-high"}, []string{"crow.pitch > F4"})
	back.TakesOff = []string{"blade.thickness spine"}
	rails := one("thin the rails", "One stroke on each rail.", dimension.TouchesKnife, low, nil)
	rails.TakesOff = []string{"blade.thickness rails"}
	open := one("open the tip", "Press from top and bottom.", dimension.TouchesWires, low, []string{"opening < 1.0 mm"})
	open.Wire, open.Axis, open.Expect = "second", "top and bottom", []dimension.Effect{{Dimension: "opening", Way: dimension.More}}
	shut := one("close the tip", "Press it flat.", dimension.TouchesWires, crow, []string{"opening > 2.0 mm"})
	shut.Wire, shut.Axis, shut.Expect = "second", "top and bottom", []dimension.Effect{{Dimension: "opening", Way: dimension.Less}}
	round := one("round the wire", "Round it.", dimension.TouchesWires, low, []string{"oval > 0.5 mm"})
	bocal := one("try another bocal", "Try another bocal.", dimension.TouchesInstrument, note, nil)
	bocal.NotReed = true
	set.Remedies = []dimension.Remedy{back, rails, open, shut, round, bocal,
		one("put it aside", "Put it aside.", dimension.TouchesGivenUp, low, nil)}
	found := set.Check()
	for _, d := range found.Sorted() {
		t.Fatal(d)
	}
	return set
}

const head = "canewright: recipe 1\ntitle: a reed\nid: a-reed\nversion: 1\ninstrument: shawm 1\n"

const grid = `targets:
  blade.thickness: {from: collar, at: 3 9 mm, spine: 0.90 0.70 mm, rails: 0.60 0.46 mm, within: ± 0.03 mm}
`

func bound(t testing.TB, set *dimension.Set, body string) *recipe.Bound {
	t.Helper()
	f, list := recipe.Load("recipe.yaml", []byte(head+body+"stages: [{stage: scrape}]\n"))
	if f == nil {
		t.Fatal(list.Sorted())
	}
	b, list := recipe.Bind(f, set, tool.Standard())
	if b == nil {
		t.Fatal(list.Sorted())
	}
	return b
}

// read is what is known: a reading as typed, ± one standard uncertainty.
type read struct{ slot, value, u string }

func known(t testing.TB, b *recipe.Bound, reads ...read) remedy.Case {
	t.Helper()
	n := len(b.Slots)
	c := remedy.Case{Values: make([]float64, n), Known: make([]bool, n), U: make([]float64, n), Lower: slices.Repeat([]remedy.Limit{remedy.Clear}, n)}
	for _, r := range reads {
		i := b.SlotOf(r.slot)
		if i < 0 {
			t.Fatalf("there is no %s", r.slot)
		}
		k := b.Slots[i].Dimension.Kind
		v, err := quantity.Parse(r.value, quantity.Style{Want: k})
		if err != nil {
			t.Fatal(err)
		}
		c.Values[i], c.Known[i] = v.Value.Float(), true
		if r.u != "" {
			u, err := quantity.Parse(r.u, quantity.Style{Want: k.Difference()})
			if err != nil {
				t.Fatal(err)
			}
			c.U[i] = u.Value.Float()
		}
	}
	return c
}

func said(c remedy.Case, symptoms ...string) remedy.Case {
	c.Symptoms = symptoms
	return c
}

func names(all []remedy.Advice) []string {
	var out []string
	for _, a := range all {
		out = append(out, a.Remedy.Name)
	}
	return out
}

func find(t testing.TB, all []remedy.Advice, name string) remedy.Advice {
	t.Helper()
	for _, a := range all {
		if a.Remedy.Name == name {
			return a
		}
	}
	t.Fatalf("%q is not among %q", name, names(all))
	return remedy.Advice{}
}

func TestRank(t *testing.T) {
	t.Parallel()
	b := bound(t, shawm(t), grid)
	for _, c := range []struct {
		say  string
		c    remedy.Case
		want []string
	}{
		{"nothing said and nothing known", known(t, b), nil},
		{"a symptom alone: what can be taken back first", said(known(t, b), "low notes do not speak"),
			[]string{"try another bocal", "open the tip", "round the wire", "lighten the back", "thin the rails", "put it aside"}},
		{"other words for it", said(known(t, b), "The bottom resists"),
			[]string{"try another bocal", "open the tip", "round the wire", "lighten the back", "thin the rails", "put it aside"}},
		{"both symptoms: what is for both first", said(known(t, b), "low-resists", "crow-high"),
			[]string{"lighten the back", "try another bocal", "open the tip", "close the tip", "round the wire", "thin the rails", "put it aside"}},
		{"a reading alone", known(t, b, read{"crow.pitch", "F#4", ""}), []string{"lighten the back"}},
		{"a reading that speaks against everything", known(t, b, read{"crow.pitch", "E4", ""}), nil},
		{"a reading for one puts it first", said(known(t, b, read{"opening", "0.8 mm", ""}), "low-resists"),
			[]string{"open the tip", "try another bocal", "round the wire", "lighten the back", "thin the rails", "put it aside"}},
		{"a reading against one puts it last", said(known(t, b, read{"opening", "1.5 mm", ""}), "low-resists"),
			[]string{"try another bocal", "round the wire", "lighten the back", "thin the rails", "put it aside", "open the tip"}},
		{"a derived dimension is worked out", known(t, b, read{"wide", "6.0 mm", ""}, read{"narrow", "5.2 mm", ""}), []string{"round the wire"}},
		{"a symptom nobody knows counts for nothing", said(known(t, b), "whistles"), nil},
	} {
		t.Run(c.say, func(t *testing.T) {
			t.Parallel()
			got, excluded := remedy.Rank(b, c.c)
			if !slices.Equal(names(got), c.want) || len(excluded) > 0 {
				t.Errorf("got  %q, excluded %q\nwant %q", names(got), names(excluded), c.want)
			}
		})
	}
}

func TestWhyItFitsIsSaidInWordsWithNumbers(t *testing.T) {
	t.Parallel()
	b := bound(t, shawm(t), grid)
	c := said(known(t, b, read{"crow.pitch", "F#4 +10 cents", ""}, read{"opening", "1.02 mm", "0.02 mm"}, read{"wide", "6.0 mm", ""}), "low-resists")
	got, _ := remedy.Rank(b, c)
	back := find(t, got, "lighten the back")
	if !slices.Equal(back.Fits, []string{"taken as: low notes do not speak", "crow F#4 +10 cents (crow.pitch > F4)"}) {
		t.Errorf("it fits: %q", back.Fits)
	}
	if !slices.Equal(back.Unknown, []string{"blade thickness, spine is not measured: measure it before cane comes off"}) {
		t.Errorf("not known: %q", back.Unknown)
	}
	if !strings.HasPrefix(back.Step, "This cannot be undone; you decide. ") {
		t.Errorf("it orders: %q", back.Step)
	}
	// One standard uncertainty past the limit: 84.13 % (Φ(1), any table of the
	// normal distribution).
	open := find(t, got, "open the tip")
	if !slices.Equal(open.Against, []string{"tip opening 1.02 mm (not opening < 1.0 mm, 84 % sure)"}) {
		t.Errorf("against: %q", open.Against)
	}
	if want := 1 - 0.682689492137; math.Abs(open.Score-want) > 1e-9 { // Φ(1) − Φ(−1) = 0.682689492137
		t.Errorf("score %.12f, want %.12f", open.Score, want)
	}
	round := find(t, got, "round the wire")
	if !slices.Equal(round.Unknown, []string{"narrowest not measured (oval > 0.5 mm would tell)"}) {
		t.Errorf("not known: %q", round.Unknown)
	}
}

// 1.00 ± 0.03 against 0.2 ± 0.04 apart: u² = 0.03² + 0.04², so u = 0.05 mm
// (JCGM 100:2008, 5.1.2), and 0.05 mm over the limit is one of them.
func TestUncertaintyGoesThroughDerivedDimensions(t *testing.T) {
	t.Parallel()
	b := bound(t, shawm(t), "")
	c := known(t, b, read{"wide", "6.00 mm", "0.03 mm"}, read{"narrow", "5.45 mm", "0.04 mm"})
	got, _ := remedy.Rank(b, c)
	if a := find(t, got, "round the wire"); math.Abs(a.Score-0.682689492137) > 1e-6 {
		t.Errorf("score %.9f", a.Score)
	}
}

func TestNoCaneIsTakenAtTheLowerLimit(t *testing.T) {
	t.Parallel()
	b := bound(t, shawm(t), grid)
	for i, s := range b.Slots {
		if s.Cell == nil {
			continue
		}
		c := said(known(t, b), "low-resists")
		c.Lower[i] = remedy.Reached
		got, excluded := remedy.Rank(b, c)
		want := map[string]string{"spine": "lighten the back", "rails": "thin the rails"}[s.Cell.Lane]
		if !slices.Equal(names(excluded), []string{want}) || slices.Contains(names(got), want) {
			t.Errorf("%s: excluded %q, advised %q", s.Name, names(excluded), names(got))
			continue
		}
		if !strings.Contains(excluded[0].Excluded, s.Title()) || !strings.Contains(excluded[0].Excluded, "lower limit") {
			t.Errorf("%s: %q", s.Name, excluded[0].Excluded)
		}
	}
}

func TestTheSameFailedStepIsNotAdvisedTwice(t *testing.T) {
	t.Parallel()
	b := bound(t, shawm(t), grid)
	no, yes := false, true
	c := said(known(t, b), "low-resists", "crow-high")
	c.Tried = []remedy.Tried{{Name: "Open the  tip", Helped: &no}}
	got, excluded := remedy.Rank(b, c)
	// The contradictory source presses the same wire from the same side.
	if !slices.Equal(names(excluded), []string{"open the tip", "close the tip"}) || slices.Contains(names(got), "open the tip") {
		t.Errorf("advised %q, excluded %q", names(got), names(excluded))
	}
	if excluded[0].Excluded != "tried, and it did not help" || !strings.Contains(excluded[1].Excluded, `"open the tip"`) {
		t.Errorf("%q, %q", excluded[0].Excluded, excluded[1].Excluded)
	}
	c.Tried = []remedy.Tried{{Name: "open the tip", Helped: &yes}, {Name: "round the wire"}}
	got, excluded = remedy.Rank(b, c)
	if len(excluded) > 0 || !slices.Contains(find(t, got, "open the tip").Fits, "it helped before") || !slices.Contains(find(t, got, "round the wire").Unknown, "it was tried: did it help?") {
		t.Errorf("excluded %q; %+v", names(excluded), got)
	}
	// An older failure counts though it helped another time.
	c.Tried = []remedy.Tried{{Name: "open the tip", Helped: &no}, {Name: "open the tip", Helped: &yes}}
	if got, _ = remedy.Rank(b, c); slices.Contains(names(got), "open the tip") {
		t.Error("it failed once")
	}
}

func TestThePlayersOwnComesFirstOfEquals(t *testing.T) {
	t.Parallel()
	b := bound(t, shawm(t), "remedies:\n  - {remedy: my way, for: low-resists, because: so, do: Press it my way., touches: wires, source: common practice}\n")
	got, _ := remedy.Rank(b, said(known(t, b), "low-resists"))
	if want := []string{"try another bocal", "my way", "open the tip", "round the wire"}; !slices.Equal(names(got)[:4], want) {
		t.Errorf("%q", names(got))
	}
}

func TestTell(t *testing.T) {
	t.Parallel()
	b := bound(t, shawm(t), grid)
	for _, c := range []struct {
		say, one, other string
		reads           []read
		name, why       string
	}{
		{"both ask for one reading", "open the tip", "close the tip", nil, "opening", `opening < 1.0 mm speaks for "open the tip", opening > 2.0 mm for "close the tip"`},
		{"only one asks", "lighten the back", "thin the rails", nil, "crow.pitch", `"thin the rails" does not depend on it`},
		{"what it is worked out from is asked", "try another bocal", "round the wire", []read{{"wide", "6 mm", ""}}, "narrow", "oval > 0.5 mm"},
		{"an unsure reading is asked again", "lighten the back", "thin the rails", []read{{"crow.pitch", "F4 +5 cents", "10 cents"}}, "crow.pitch", "crow.pitch > F4"},
		{"nothing is open: what each is seen to do", "open the tip", "close the tip", []read{{"opening", "1.5 mm", ""}}, "opening", "before and after"},
		{"nothing would tell", "thin the rails", "put it aside", nil, "", ""},
		{"one and the same", "thin the rails", "thin the rails", nil, "", ""},
	} {
		t.Run(c.say, func(t *testing.T) {
			t.Parallel()
			got, _ := remedy.Rank(b, said(known(t, b, c.reads...), "low-resists", "crow-high"))
			name, why := remedy.Tell(find(t, got, c.one), find(t, got, c.other))
			if name != c.name || !strings.Contains(why, c.why) {
				t.Errorf("got %q, %q; want %q, %q", name, why, c.name, c.why)
			}
		})
	}
	if name, why := remedy.Tell(remedy.Advice{}, remedy.Advice{}); name != "" || why != "" {
		t.Error("nothing tells nothing apart")
	}
}

// The same limits and readings in inches: thousandths of an inch are whole
// nanometres, so both say the same.
func TestUnitsChangeNoRanking(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(rt *rapid.T) {
		var mmBody, inBody strings.Builder
		mmBody.WriteString("remedies:\n")
		inBody.WriteString("remedies:\n")
		dims := []string{"opening", "wide", "narrow", "oval"}
		n := rapid.IntRange(1, 8).Draw(rt, "remedies")
		for i := range n {
			limit := rapid.IntRange(10, 300).Draw(rt, "limit")
			op := rapid.SampledFrom([]string{"<", "<=", ">", ">="}).Draw(rt, "op")
			dim := rapid.SampledFrom(dims).Draw(rt, "dimension")
			touches := rapid.SampledFrom([]string{"nothing", "wires", "tube"}).Draw(rt, "touches")
			form := "  - {remedy: own %d, for: low-resists, when: '%s %s %s', because: so, do: Do %d., touches: %s, source: common practice}\n"
			fmt.Fprintf(&mmBody, form, i, dim, op, millimetres(limit), i, touches)
			fmt.Fprintf(&inBody, form, i, dim, op, inches(limit), i, touches)
		}
		set := shawm(t)
		mm, in := bound(t, set, mmBody.String()), bound(t, set, inBody.String())
		var mmReads, inReads []read
		for _, d := range dims[:3] {
			if rapid.Bool().Draw(rt, "known") {
				v, u := rapid.IntRange(10, 300).Draw(rt, "value"), rapid.IntRange(0, 20).Draw(rt, "u")
				mmReads = append(mmReads, read{d, millimetres(v), millimetres(u)})
				inReads = append(inReads, read{d, inches(v), inches(u)})
			}
		}
		a, _ := remedy.Rank(mm, said(known(t, mm, mmReads...), "low-resists"))
		b, _ := remedy.Rank(in, said(known(t, in, inReads...), "low-resists"))
		if !slices.Equal(names(a), names(b)) {
			rt.Fatalf("%q\n%q", names(a), names(b))
		}
		for i := range a {
			if math.Abs(a[i].Score-b[i].Score) > 1e-9 {
				rt.Fatalf("%s: %v and %v", a[i].Remedy.Name, a[i].Score, b[i].Score)
			}
		}
	})
}

func millimetres(thou int) string { return fmt.Sprintf("%d.%04d mm", thou*254/10000, thou*254%10000) }
func inches(thou int) string      { return fmt.Sprintf("0.%03d in", thou) }

// Whatever is known, a failed step is gone, nothing is in both lists, nothing
// takes cane at a lower limit, and the answer is the same again.
func TestWhatRankNeverDoes(t *testing.T) {
	t.Parallel()
	b := bound(t, shawm(t), grid)
	rapid.Check(t, func(rt *rapid.T) {
		c := known(t, b)
		for _, s := range b.Symptoms {
			if rapid.Bool().Draw(rt, s.Name) {
				c.Symptoms = append(c.Symptoms, s.Words)
			}
		}
		for i := range b.Slots {
			c.Known[i] = rapid.Bool().Draw(rt, "known")
			c.Values[i] = float64(rapid.Int64Range(-1e9, 1e9).Draw(rt, "value"))
			c.U[i] = float64(rapid.Int64Range(0, 1e6).Draw(rt, "u"))
			c.Lower[i] = rapid.SampledFrom([]remedy.Limit{remedy.NotKnown, remedy.Clear, remedy.Reached}).Draw(rt, "lower")
		}
		got, excluded := remedy.Rank(b, c)
		again, _ := remedy.Rank(b, c)
		if !slices.Equal(names(got), names(again)) {
			rt.Fatalf("%q, then %q", names(got), names(again))
		}
		for i, a := range got {
			if a.Excluded != "" || slices.Contains(names(excluded), a.Remedy.Name) {
				rt.Fatalf("%q is advised and excluded", a.Remedy.Name)
			}
			if i > 0 && a.Score > got[i-1].Score+1e-6 {
				rt.Fatalf("%q comes behind %q", a.Remedy.Name, got[i-1].Remedy.Name)
			}
			for _, p := range a.Remedy.Takes {
				for slot, l := range c.Lower {
					if l == remedy.Reached && b.Covers(p, slot) {
						rt.Fatalf("%q takes off at %s", a.Remedy.Name, b.Slots[slot].Name)
					}
				}
			}
		}
		for _, a := range excluded {
			if a.Excluded == "" {
				rt.Fatalf("%q is excluded for no reason", a.Remedy.Name)
			}
		}
		if len(got) == 0 {
			return
		}
		no := false
		failed := got[rapid.IntRange(0, len(got)-1).Draw(rt, "failed")].Remedy.Name
		c.Tried = append(c.Tried, remedy.Tried{Name: failed, Helped: &no})
		got, _ = remedy.Rank(b, c)
		if slices.Contains(names(got), failed) {
			rt.Fatalf("%q is advised again", failed)
		}
	})
}
