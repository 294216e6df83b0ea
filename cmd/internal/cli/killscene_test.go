package cli_test

import (
	"path/filepath"

	"canewright/engine/bench"
)

// wholeWay has every sort of stage in short: tubes, a split, shared work, rows
// of several boxes, waits, notes.
const wholeWay = `canewright: recipe 1
title: The whole way in short, invented
id: whole-way
version: 1
instrument: bassoon 1
targets:
  tube.marked_end.narrowest: {target: 24 .. 26 mm, below: set aside}
  gouge.centre: {target: 1.30 +0.03 -0.02 mm, above: once more, below: set aside}
stages:
  - stage: choose
    for: each tube
    measure: [tube.marked_end.narrowest, tube.marked_end.widest]
    look: {question: 'How does it roll?', answers: {freely: going on, bent: set aside}}
  - stage: soak the tubes
    for: the batch
    wait: {at least: 1 h}
  - stage: split
    for: each tube
    into: 3 pieces
    tools: [tube splitter]
  - stage: sort
    look: {question: 'How does it lie?', answers: {flat: going on, hollow: set aside, twisted: thrown away}}
  - stage: mark
    tools: [pencil]
    do: [A line across the middle.]
  - stage: gouge
    tools: [gouger]
    measure:
      - {take: gouge.centre, repeat: 2}
      - {take: gouge.side, for: 1 piece in 2}
    expect:
      - {that: gouge.centre - gouge.side >= 0.01 mm, otherwise: {then: going on, do: look to the bed}}
  - stage: scrape
    tools: [knife]
    do: [A little at the tip.]
  - stage: wire
    tools: [pliers]
    materials: [brass wire]
    targets:
      wire.first: {target: 27 ± 0.5 mm, above: {then: resting, do: let it settle}, below: {go back to: gouge, at most: 2 times, then: set aside}}
    measure: [wire.first, wire.second]
  - stage: glue
    materials: [household cement]
    do: [A thin film.]
    wait: {usual: 1 d, at least: 1 h}
    becomes: dry
  - stage: ream
    tools: [reamer]
    measure: [reed.on_bocal]
`

// scene is a way to begin a batch.
type scene struct {
	recipe string
	args   []string
	with   bench.Beginning
	manner manner
}

func scenes(dir string) []scene {
	own := filepath.Join(dir, "whole-way.yaml")
	four := []string{"1", "2", "3", "4"}
	named := []string{"31", "32", "33", "B7", "Lötte", "葦"}
	return []scene{
		{followed, []string{"--pieces", "4"}, bench.Beginning{Pieces: four}, manner{}},
		{own, []string{"--tubes", "2"}, bench.Beginning{Tubes: []string{"A", "B"}}, manner{}},
		{"bassoon/from-tube", []string{"--tubes", "3"}, bench.Beginning{Tubes: []string{"A", "B", "C"}}, manner{who: "Anna"}},
		{own, []string{"--tubes", "2"}, bench.Beginning{Tubes: []string{"A", "B"}}, manner{later: true}},
		{followed, []string{"--marks", "31-33 B7 Lötte 葦", "--from", "ream"}, bench.Beginning{Pieces: named, From: "ream"}, manner{}},
		{own, []string{"--marks", "31-33 B7 Lötte 葦"}, bench.Beginning{Pieces: named}, manner{through: true}},
		{own, []string{"--pieces", "4", "--from", "gouge"}, bench.Beginning{Pieces: four, From: "gouge"}, manner{later: true, who: "Bo"}},
	}
}
