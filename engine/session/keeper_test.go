package session_test

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"canewright/engine/bench"
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
stages:
  - stage: soak
    for: the batch
    do: [Put it in water.]
    wait: {at least: 2 h}
    becomes: wet
  - stage: gouge
    tools: [gouger]
    measure:
      - {take: gouge.centre, with: dial indicator}
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
	return &dimension.Set{ID: "shawm", Title: "shawm, invented", Major: 1, Dimensions: []dimension.Dimension{{
		Name: "gouge.centre", Title: "gouge, centre", Kind: quantity.Length, Unit: mm, Subject: "piece", Across: true,
		Condition: dimension.Either, How: "in the middle", Tool: "dial indicator", More: "thick", Less: "thin",
		Sources: []dimension.Source{{Says: "invented", Grade: dimension.FromMemory}},
	}}}
}

// bind reads a snapshot as the program does.
func bind(s session.Snapshot) (*recipe.Bound, error) {
	f, list := recipe.Load(s.RecipeName, s.Recipe)
	if f == nil {
		var b strings.Builder
		list.Text(&b)
		return nil, errors.New(b.String())
	}
	set, err := dimension.Decode(s.Set)
	if err != nil {
		return nil, err
	}
	b, list := recipe.Bind(f, set, tool.Standard())
	if b == nil {
		var s strings.Builder
		list.Text(&s)
		return nil, errors.New(s.String())
	}
	return b, nil
}

func smallBatch(name string) session.Batch {
	return session.Batch{Name: name, Title: "Small reed, invented", Snapshot: session.Snapshot{
		RecipeName: "small.yaml", Recipe: []byte(smallRecipe), Set: smallSet().Encode(), Notes: []byte("none"),
	}}
}

// memory keeps batches in memory, and can fail or be overtaken.
type memory struct {
	batches map[string]session.Batch
	events  map[string][]bench.Event
	fail    error  // what Append fails with
	during  func() // called by Append before anything is kept
}

func newMemory() *memory {
	return &memory{batches: map[string]session.Batch{}, events: map[string][]bench.Event{}}
}

func (m *memory) Start(_ context.Context, b session.Batch, evs []bench.Event) error {
	if m.fail != nil {
		return m.fail
	}
	m.batches[b.Name], m.events[b.Name] = b, slices.Clone(evs)
	return nil
}

func (m *memory) Append(_ context.Context, batch string, after uint64, evs []bench.Event) error {
	if m.during != nil {
		m.during()
	}
	if m.fail != nil {
		return m.fail
	}
	if uint64(len(m.events[batch])) != after {
		return session.ErrOvertaken
	}
	m.events[batch] = append(m.events[batch], evs...)
	return nil
}

func (m *memory) Load(_ context.Context, batch string) (session.Batch, []bench.Event, error) {
	return m.batches[batch], slices.Clone(m.events[batch]), nil
}

// notes asks about the gouger's blade.
type notes struct{ fail error }

func (n *notes) For(now, _ recipe.Use) ([]bench.Note, error) {
	if n.fail != nil {
		return nil, n.fail
	}
	for _, t := range now.Tools {
		if t.Name == "gouger" {
			return []bench.Note{{ID: "N-1", Revision: 1, Signal: bench.Caution, Hazard: "A blade.", Ask: "Where do your fingers stay?", Accept: []string{"behind"}}}, nil
		}
	}
	return nil, nil
}

// evening is a bench with a clock that stands still until it is moved.
type evening struct {
	keep  *memory
	notes *notes
	now   time.Time
	ids   int
}

func newEvening() *evening {
	return &evening{keep: newMemory(), notes: &notes{}, now: time.Date(2026, 1, 12, 19, 0, 0, 0, time.UTC)}
}

func (e *evening) out(keep session.Keeper) session.Outside {
	if keep == nil {
		keep = e.keep
	}
	return session.Outside{
		Keep: keep, Notes: e.notes, Bind: bind, Who: "a player",
		Now:   func() time.Time { return e.now },
		NewID: func() string { e.ids++; return fmt.Sprint("evening ", e.ids) },
	}
}

func (e *evening) start(t *testing.T, pieces ...string) *session.Session {
	t.Helper()
	s, err := session.Start(context.Background(), e.out(nil), smallBatch("batch"), bench.Beginning{Pieces: pieces})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func question(t testing.TB, s *session.Session) bench.Question {
	t.Helper()
	q, err := s.Question()
	if err != nil {
		t.Fatal(err)
	}
	return q
}

// give gives answers that must be taken.
func give(t *testing.T, s *session.Session, answers ...string) {
	t.Helper()
	for _, a := range answers {
		if _, err := s.Answer(context.Background(), question(t, s).Seq, a); err != nil {
			t.Fatalf("%q: %v", a, err)
		}
	}
}
