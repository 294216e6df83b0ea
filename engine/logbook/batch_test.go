package logbook

import (
	"context"
	"crypto/sha256"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"canewright/engine/bench/benchtest"
	"canewright/engine/dimension"
	"canewright/engine/quantity"
	"canewright/engine/recipe"
	"canewright/engine/session"
	"canewright/engine/tool"
)

const smallRecipe = `canewright: recipe 1
title: Small reed, invented
id: small
version: 1
instrument: shawm 1
targets:
  gouge.centre: {target: 1.30 +0.03 -0.02 mm, above: once more, below: set aside}
  gouge.side: 1.10 ± 0.20 mm
stages:
  - stage: soak
    for: the batch
    do: [Put it in water.]
    wait: {at least: 2 h}
    becomes: wet
  - stage: gouge
    measure:
      - {take: gouge.centre, with: dial indicator}
      - {take: gouge.side, with: dial indicator}
    expect:
      - that: gouge.centre - gouge.side >= 0.10 mm
        because: the sides should be thinner
        otherwise: {then: once more, do: check the blade}
    look:
      question: How does the grain run?
      answers:
        straight: going on
        twisted: {then: set aside, because: it will warp}
  - stage: tie
    do: [Tie it.]
`

func smallSet() *dimension.Set {
	mm, _ := quantity.UnitNamed("mm")
	one := func(name, title string) dimension.Dimension {
		return dimension.Dimension{
			Name: name, Title: title, Kind: quantity.Length, Unit: mm, Subject: "piece", Across: true, Condition: dimension.Either,
			How: "in the middle", Tool: "dial indicator", More: "thick", Less: "thin",
			Plausible: quantity.Tolerance{
				Kind: quantity.Length, Unit: mm, Text: "0.5 .. 2 mm",
				Low: quantity.Bound{Q: 500_000, Set: true}, High: quantity.Bound{Q: 2_000_000, Set: true},
			},
			Sources: []dimension.Source{{Says: "invented", Grade: dimension.FromMemory}},
		}
	}
	return &dimension.Set{ID: "shawm", Title: "shawm, invented", Major: 1, Dimensions: []dimension.Dimension{
		one("gouge.centre", "gouge, centre"), one("gouge.side", "gouge, side"),
	}}
}

// small is a small recipe, bound, and what a batch of it keeps.
func small(t testing.TB) (*recipe.Bound, session.Snapshot) {
	t.Helper()
	f, list := recipe.Load("small.yaml", []byte(smallRecipe))
	if f == nil {
		var b strings.Builder
		list.Text(&b)
		t.Fatal(b.String())
	}
	set := smallSet()
	b, list := recipe.Bind(f, set, tool.Standard())
	if b == nil {
		var s strings.Builder
		list.Text(&s)
		t.Fatal(s.String())
	}
	return b, session.Snapshot{RecipeName: "small.yaml", Recipe: []byte(smallRecipe), Set: set.Encode(), Notes: []byte("no notes")}
}

func open(t testing.TB, path string) *Logbook {
	t.Helper()
	l, err := Open(context.Background(), path)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { l.Close() })
	return l
}

func newPath(t testing.TB) string { return filepath.Join(t.TempDir(), "logbook") }

var began = time.Date(2026, 1, 12, 19, 0, 0, 0, time.UTC)

// startBatch begins a batch of n pieces and keeps it.
func startBatch(t testing.TB, l *Logbook, name string, n int) *benchtest.Driver {
	t.Helper()
	b, snap := small(t)
	d, err := benchtest.Start(b, n, nil)
	if err != nil {
		t.Fatal(err)
	}
	batch := session.Batch{Name: name, Title: b.File.Title, Started: began, Snapshot: snap}
	if err := l.Start(context.Background(), batch, d.State.Events()); err != nil {
		t.Fatal(err)
	}
	return d
}

// goRound sets a piece aside and brings it back over and over, with readings
// between, so that a batch can be of any length: until it has n events.
func goRound(t testing.TB, d *benchtest.Driver, n int) {
	t.Helper()
	if err := d.To("gouge"); err != nil {
		t.Fatal(err)
	}
	again := []string{"1.30", "1.0", "twisted", "bring back 1", "1.36", "1.25", "bring back 1"}
	d.Mark = "1"
	for i := 0; len(d.State.Events()) < n; i++ {
		if _, err := d.Answer(again[i%len(again)]); err != nil {
			t.Fatalf("answer %d, %q: %v", i, again[i%len(again)], err)
		}
	}
}

func sha(data []byte) [sha256.Size]byte { return sha256.Sum256(data) }
