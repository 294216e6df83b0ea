package bench_test

import (
	"encoding/json"
	"errors"
	"strings"
	"testing"
	"time"

	"canewright/engine/bench"
	"canewright/engine/bench/benchtest"
	"canewright/engine/dimension"
	"canewright/engine/quantity"
	"canewright/engine/recipe"
	"canewright/engine/tool"
)

// shawm is a small invented dimension set.
func shawm(t testing.TB) *dimension.Set {
	t.Helper()
	mm, _ := quantity.UnitNamed("mm")
	g, _ := quantity.UnitNamed("g")
	range_ := func(text string, k quantity.Kind, u quantity.Unit) quantity.Tolerance {
		tol, err := quantity.ParseTolerance(text, quantity.Style{Want: k, Bare: u})
		if err != nil {
			t.Fatal(err)
		}
		return tol
	}
	wire := func(name, title string) dimension.Dimension {
		return dimension.Dimension{Name: name, Title: title, Kind: quantity.Length, Unit: mm, Subject: "piece", Datum: "the butt",
			Condition: dimension.Either, How: "to the twist", Tool: "caliper", More: "far", Less: "close", Plausible: range_("1 .. 60 mm", quantity.Length, mm)}
	}
	return &dimension.Set{ID: "shawm", Title: "shawm, invented", Major: 1, Dimensions: []dimension.Dimension{
		wire("wire.first", "first wire"), wire("wire.second", "second wire"),
		{Name: "wire.gap", Title: "gap", Kind: quantity.Length, Unit: mm, Subject: "piece", Condition: dimension.Either, More: "wide", Less: "narrow",
			Formula: "wire.first - wire.second"},
		{Name: "wire.turns", Title: "turns", Kind: quantity.Count, Unit: quantity.Bare(quantity.Count), Subject: "piece", Condition: dimension.Either, Tool: "eye", More: "many", Less: "few"},
		{Name: "cane.weight", Title: "weight", Kind: quantity.Mass, Unit: g, Subject: "piece", Condition: dimension.Dry, Tool: "scale", More: "heavy", Less: "light"},
		{Name: "crow.pitch", Title: "crow", Kind: quantity.Pitch, Subject: "piece", Condition: dimension.Wet, Tool: "tuner", More: "sharp", Less: "flat"},
		{Name: "blade.thickness", Title: "blade", Kind: quantity.Length, Unit: mm, Subject: "piece", Across: true, Condition: dimension.Wet, Tool: "dial indicator",
			More: "thick", Less: "thin", Plausible: range_("0.05 .. 3 mm", quantity.Length, mm),
			Grid: &dimension.Grid{From: []string{"collar"}, Lanes: []string{"spine", "rails"}, Blades: []string{"A", "B"}, Short: "blade"}},
	}}
}

// bound is a recipe whose body stands in a test.
func bound(t testing.TB, body string) *recipe.Bound {
	t.Helper()
	f, list := recipe.Load("recipe.yaml", []byte("canewright: recipe 1\ntitle: a reed\nid: a-reed\nversion: 3\ninstrument: shawm 1\n"+body))
	if f != nil {
		var b *recipe.Bound
		if b, list = recipe.Bind(f, shawm(t), tool.Standard()); b != nil {
			return b
		}
	}
	var s strings.Builder
	list.Text(&s)
	t.Fatal(s.String())
	return nil
}

// table is a bench in a test.
type table struct {
	*benchtest.Driver
	t testing.TB
}

func begin(t testing.TB, pieces int, body string) *table {
	t.Helper()
	d, err := benchtest.Start(bound(t, body), pieces, nil)
	if err != nil {
		t.Fatal(err)
	}
	return &table{d, t}
}

// give answers, and returns the events and what the player is told.
func (b *table) give(text string) ([]bench.Event, string) {
	b.t.Helper()
	b.Now = b.Now.Add(b.Tick)
	evs, err := bench.Decide(b.State, bench.Answer{Seen: b.State.Last, Mark: b.Mark, Last: b.Last, Text: text, Later: b.Later}, b.For, bench.Moment{At: b.Now})
	if err != nil {
		b.t.Fatalf("%q is refused: %v", text, err)
	}
	asked := b.Question().Pieces
	if b.Later {
		asked = nil
	}
	told := strings.Join(bench.Report(b.State, evs, asked), " / ")
	if err := b.State.Apply(evs); err != nil {
		b.t.Fatal(err)
	}
	return evs, told
}

// say gives an answer and compares what is told.
func (b *table) say(text, want string) []bench.Event {
	b.t.Helper()
	evs, told := b.give(text)
	if told != want {
		b.t.Errorf("%q is answered\n  %q, want\n  %q", text, told, want)
	}
	return evs
}

// no gives an answer that is refused.
func (b *table) no(text, want string) {
	b.t.Helper()
	last := b.State.Last
	_, err := bench.Decide(b.State, bench.Answer{Seen: last, Mark: b.Mark, Last: b.Last, Text: text, Later: b.Later}, b.For, bench.Moment{At: b.Now})
	var r *bench.Refusal
	if !errors.As(err, &r) {
		b.t.Fatalf("%q is not refused: %v", text, err)
	}
	if err.Error() != want {
		b.t.Errorf("%q is refused with\n  %q, want\n  %q", text, err, want)
	}
	if b.State.Last != last {
		b.t.Errorf("%q is refused and changes the state", text)
	}
}

// asks compares the question: what is asked, where, for whom.
func (b *table) asks(want string) {
	b.t.Helper()
	q := b.Question()
	got := string(q.Asked)
	if q.Asked != bench.AskNothing {
		got += ", " + q.Stage + ", " + q.For
	}
	if got += ": " + q.Prompt; got != want {
		b.t.Errorf("asks\n  %q, want\n  %q", got, want)
	}
}

func (b *table) wait(d time.Duration) { b.Now = b.Now.Add(d) }

func asJSON(t testing.TB, v any) string {
	t.Helper()
	data, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

func beginWith(t testing.TB, with bench.Beginning, body string) *table {
	t.Helper()
	d, err := benchtest.Begin(bound(t, body), with, nil)
	if err != nil {
		t.Fatal(err)
	}
	return &table{d, t}
}
