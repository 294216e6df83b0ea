package review

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
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
	range_ := func(text string) quantity.Tolerance { return tolerance(t, text, quantity.Length) }
	src := []dimension.Source{{Says: "invented", Grade: dimension.FromMemory}}
	d := func(name, title, datum, more, less, plausible string, across bool, c dimension.Condition) dimension.Dimension {
		return dimension.Dimension{Name: name, Title: title, Kind: quantity.Length, Unit: mm, Subject: "piece", Datum: datum, Across: across, Condition: c,
			How: "read it", Tool: "dial indicator", More: more, Less: less, Plausible: range_(plausible), Sources: src}
	}
	return &dimension.Set{ID: "shawm", Title: "shawm, invented", About: "invented", Major: 1, Minor: 0, Dimensions: []dimension.Dimension{
		d("gouge.centre", "gouge, centre", "", "thick", "thin", "0.5 .. 2 mm", true, dimension.Either),
		d("gouge.side", "gouge, side", "", "thick", "thin", "0.5 .. 2 mm", true, dimension.Dry),
		d("wire.first", "first wire", "the butt", "far", "close", "20 .. 33 mm", false, dimension.Either),
	}}
}

const pupils = `canewright: recipe 1
title: For a pupil
id: for-a-pupil
version: 2
instrument: shawm 1
targets:
  gouge.centre: {target: 1.30 +0.03 -0.02 mm, above: going on, below: going on}
stages:
  - stage: soak
    for: the batch
    wait: {until: it sinks, usual: 3 h, at least: 2 h}
    becomes: wet
  - stage: thickness
    measure:
      - {take: gouge.centre, repeat: 2, with: dial indicator}
      - {take: gouge.side, with: dial indicator}
    expect:
      - that: gouge.centre - gouge.side >= 0.10 mm
        otherwise: {then: set aside, because: the sides are stiff}
  - stage: wires
    targets:
      wire.first: {target: at least 27.0 mm, below: going on}
    measure: [wire.first]
  - stage: look
    look: {question: 'How is it?', answers: {good: going on, cracked: thrown away}}
  - stage: finish
    do: [finish it]
`

// kept is what an export holds of the recipe and the set.
func bound(t testing.TB, text string) (*recipe.Bound, []byte) {
	t.Helper()
	f, list := recipe.Load("pupil.yaml", []byte(text))
	if f == nil {
		t.Fatal(list.Sorted())
	}
	set := shawm(t)
	if list := set.Check(); list.Failed() {
		t.Fatal(list.Sorted())
	}
	b, list := recipe.Bind(f, set, tool.Standard())
	if b == nil {
		t.Fatal(list.Sorted())
	}
	return b, set.Encode()
}

// evening is an invented batch of four pieces.
func evening(t testing.TB) (*recipe.Bound, Record) {
	t.Helper()
	b, set := bound(t, pupils)
	d, err := benchtest.Start(b, 4, nil)
	if err != nil {
		t.Fatal(err)
	}
	say := func(lines ...string) {
		t.Helper()
		for _, l := range lines {
			if _, err := d.Answer(l); err != nil {
				t.Fatalf("%q: %v", l, err)
			}
		}
	}
	say("") // the wait begins
	d.Now = d.Now.Add(70*time.Minute - 2*d.Tick)
	say("1-3 go on the lesson is at four")
	d.Now = d.Now.Add(2 * time.Hour)
	say("4 go on")
	say("1 1.31 1.30", "1 dry", "1 1.19")
	say("2 1.42 1.41", "using ruler instead of dial indicator", "2 1.25", "2 remark stiff")
	say("3 1.33 1.33", "3 pass", "3 1.32") // 1.33 - 1.32 is under 0.10: set aside
	say("4 1.30 1.31", "undo", "4 1.30 1.30", "4 skip no indicator")
	say("4 correct 1.30 to 1.29")
	say("2 26.0", "1 27.0")
	d.Now = d.Now.Add(time.Minute)
	return b, Record{Name: "november", Title: b.File.Title, Started: d.State.Events()[0].At, RecipeName: "pupil.yaml", Recipe: []byte(pupils), Set: set, Events: d.State.Events()}
}

func TestAnEveningIsTold(t *testing.T) {
	t.Parallel()
	b, rec := evening(t)
	r, err := Of(b, rec, 3)
	if err != nil {
		t.Fatal(err)
	}
	if r.Recipe != "for-a-pupil" || r.Version != 2 || r.Digest != recipe.Digest([]byte(pupils)) {
		t.Errorf("%s %d %s", r.Recipe, r.Version, r.Digest)
	}
	// By hand: piece 2, (1.415 - 1.30)/0.03 = 3.8333; piece 2's wire, 1 + 1.0/((33
	// - 27)/2) = 1.3333; piece 3, (1.33 - 1.30)/0.03 = 1.
	want := []string{"piece [2] 1.42 mm 1.41 mm 3.8333 too thick", "piece [2] 26.0 mm 1.3333 too close", "piece [3] 1.33 mm 1.33 mm 1.0000 inside"}
	for i, x := range r.Deviations {
		if got := fmt.Sprintf("%s %v %s %.4f %s", x.Kind, x.Marks, strings.Join(x.Readings, " "), x.Halves, x.Word); i >= len(want) || got != want[i] {
			t.Errorf("deviation %d: %s", i+1, got)
		}
	}
	if len(r.Deviations) != 3 || r.Judged != 6 || r.Outside != 2 {
		t.Errorf("%d of %d judged, %d outside", len(r.Deviations), r.Judged, r.Outside)
	}
	if x := r.Deviations[0]; !x.Sure || x.Mean != "1.415 mm" || x.Target != "1.30 +0.03 -0.02 mm" {
		t.Errorf("%+v", x)
	}
	if x := r.Deviations[2]; x.Sure || !x.OnLimit {
		t.Errorf("on the limit is never sure: %+v", x)
	}
	// 70 min of 2 h are 50 min less; piece 4 had 190 min and a little, which is
	// over 2 h and over the usual 3 h.
	if len(r.Waits) != 1 || fmt.Sprint(r.Waits[0].Marks) != "[1 2 3]" || !r.Waits[0].AtLeast || r.Waits[0].Why != "the lesson is at four" {
		t.Fatalf("%+v", r.Waits)
	}
	if short := r.Waits[0].Short; short < 49*60_000 || short > 51*60_000 {
		t.Errorf("%d ms less, want about 50 min", short)
	}
	if len(r.Unsure) != 1 || !r.Unsure[0].Passed || fmt.Sprint(r.Unsure[0].Marks) != "[3]" || r.Unsure[0].Side != "inside" {
		t.Errorf("%+v", r.Unsure)
	}
	// Piece 1 was read wet at the centre and dry at the side: that is no rule broken.
	if len(r.Rules) != 2 || !r.Rules[0].NotJudged || fmt.Sprint(r.Rules[1].Marks) != "[3]" || r.Rules[1].NotJudged || !strings.HasPrefix(r.Rules[1].Then, "set aside") || r.NotJudged != 1 {
		t.Errorf("%+v, %d not judged", r.Rules, r.NotJudged)
	}
	if len(r.LeftOut) != 1 || r.LeftOut[0].Why != "no indicator" || r.LeftOut[0].Title != "gouge, side" {
		t.Errorf("%+v", r.LeftOut)
	}
	if len(r.Corrected) != 1 || r.Corrected[0].Was != "1.30 mm" || r.Corrected[0].Now != "1.29 mm" || r.TakenBack != 1 {
		t.Errorf("%+v, %d taken back", r.Corrected, r.TakenBack)
	}
	// The side is asked dry; pieces 2 and 3 were wet, piece 1 was said to be dry.
	if len(r.Wet) != 1 || r.Wet[0].Was != "wet" || r.Wet[0].Asked != "dry" || fmt.Sprint(r.Wet[0].Marks) != "[2 3]" || r.Wet[0].Readings != 2 {
		t.Errorf("%+v", r.Wet)
	}
	other := 0
	for _, o := range r.Other {
		if o.Used != "ruler" || o.Instead != "dial indicator" || fmt.Sprint(o.Marks) != "[2]" {
			t.Errorf("%+v", o)
		}
		other += o.Readings
	}
	if other != 1 {
		t.Errorf("%d readings with another tool", other)
	}
	if len(r.Remarks) != 1 || r.Remarks[0].Text != "stiff" {
		t.Errorf("%+v", r.Remarks)
	}
	places := ""
	for _, p := range r.Pieces {
		places += p.Mark + " " + p.Place + " " + p.Stage + "; "
	}
	// 27.0 is on the limit of at least 27.0: nobody has let it stand yet.
	if places != "1 at work wires; 2 at work look; 3 set aside thickness; 4 at work wires; " {
		t.Error(places)
	}
	if len(r.NotReached) != 3 {
		t.Errorf("%+v", r.NotReached)
	}
}

// What is corrected counts as corrected, and is shown as typed too.
func TestACorrectedReadingCountsAsItIsNow(t *testing.T) {
	t.Parallel()
	b, rec := evening(t)
	r, err := Of(b, rec, 100)
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range r.Deviations {
		if fmt.Sprint(x.Marks) != "[4]" {
			continue
		}
		// (1.30 + 1.29)/2 = 1.295 or both orders: (1.295 - 1.30)/0.02 = 0.25 below.
		if fmt.Sprintf("%.4f", x.Halves) != "0.2500" || strings.Join(x.Typed, " ") != "1.30 mm 1.30 mm" {
			t.Errorf("%+v", x)
		}
		return
	}
	t.Error("piece 4 is not there")
}

// exported writes a record as canewright export does.
func exported(t testing.TB, rec Record) []byte {
	t.Helper()
	var out bytes.Buffer
	put := func(v any) {
		if err := json.NewEncoder(&out).Encode(v); err != nil {
			t.Fatal(err)
		}
	}
	digest := func(b []byte) string {
		s := sha256.Sum256(b)
		return hex.EncodeToString(s[:])
	}
	put(map[string]any{"format": Format, "version": Version, "is": "batch", "batch": rec.Name, "title": rec.Title, "started": rec.Started, "recipe_name": rec.RecipeName,
		"recipe_sha256": digest(rec.Recipe), "dimensions_sha256": digest(rec.Set), "notes_sha256": digest(rec.Notes)})
	for _, k := range [][]byte{rec.Recipe, rec.Set, rec.Notes} {
		put(map[string]any{"is": "kept", "sha256": digest(k), "text": string(k)})
	}
	for _, e := range rec.Events {
		body, err := json.Marshal(e.Body)
		if err != nil {
			t.Fatal(err)
		}
		put(map[string]any{"is": "event", "batch": rec.Name, "seq": e.Seq, "cause": e.Cause, "kind": e.Body.Kind(), "at": e.At, "entered": e.Entered, "zone": e.Zone,
			"session": e.Session, "who": e.Who, "subject": e.Subject, "stage": e.Stage, "visit": e.Visit, "body": json.RawMessage(body)})
	}
	put(map[string]any{"is": "end", "batch": rec.Name, "events": len(rec.Events)})
	return out.Bytes()
}

func TestWhatIsWrittenIsRead(t *testing.T) {
	t.Parallel()
	b, rec := evening(t)
	got, err := Read(bytes.NewReader(exported(t, rec)))
	if err != nil || len(got) != 1 {
		t.Fatal(err)
	}
	one, err := Of(b, rec, 100)
	if err != nil {
		t.Fatal(err)
	}
	two, err := Of(b, got[0], 100)
	if err != nil {
		t.Fatal(err)
	}
	x, _ := json.Marshal(one)
	y, _ := json.Marshal(two)
	if !bytes.Equal(x, y) {
		t.Errorf("%s\n%s", x, y)
	}
}

// Each line that goes missing, or is damaged, is found at its number.
func TestDamagedLinesAreRefusedWithTheirNumber(t *testing.T) {
	t.Parallel()
	_, rec := evening(t)
	whole := strings.Split(strings.TrimRight(string(exported(t, rec)), "\n"), "\n")
	refused := func(what string, lines []string, at int) {
		t.Helper()
		_, err := Read(strings.NewReader(strings.Join(lines, "\n") + "\n"))
		e, ok := errors.AsType[*LineError](err)
		switch {
		case !ok:
			t.Errorf("%s: %v", what, err)
		case e.Line != at || e.Hint == "" || e.Message == "":
			t.Errorf("%s: line %d (%s), want line %d", what, e.Line, e.Message, at)
		}
	}
	for i := range whole {
		missing := append(append([]string(nil), whole[:i]...), whole[i+1:]...)
		at := len(missing) // what is kept is missed at the end of the batch
		switch {
		case i == 0:
			at = 4 // three lines are kept for whoever comes; the event has no batch
		case i >= 4:
			at = i + 1 // the event behind stands where this one should be, or the end
		}
		refused(fmt.Sprintf("without line %d", i+1), missing, at)
		cut := append([]string(nil), whole...)
		cut[i] = cut[i][:len(cut[i])/2]
		refused(fmt.Sprintf("half of line %d", i+1), cut, i+1)
	}
	change := func(what string, i int, from, to string) {
		t.Helper()
		lines := append([]string(nil), whole...)
		if lines[i] = strings.Replace(lines[i], from, to, 1); lines[i] == whole[i] {
			t.Fatalf("%s: nothing changed in %s", what, lines[i])
		}
		refused(what, lines, i+1)
	}
	change("a newer version", 0, `"version":1`, `"version":2`)
	change("another format", 0, Format, "something else")
	change("a recipe that was changed", 1, "1.30", "1.40")
	change("an unknown kind", 4, `"batch started"`, `"batch begun"`)
	change("a cause of its future", 5, `"cause":1`, `"cause":900`)
	change("a count that does not fit", len(whole)-1, `"events":`, `"events":1`)
	if _, err := Read(strings.NewReader("")); err == nil {
		t.Error("an empty file")
	}
}

// Events that no bench could have made are refused, not fallen over.
func TestEventsThatCannotBeAreRefused(t *testing.T) {
	t.Parallel()
	b, whole := evening(t)
	for name, spoil := range map[string]func(evs []bench.Event) []bench.Event{
		"a stage of another recipe": func(evs []bench.Event) []bench.Event { evs[9].Stage = "nowhere"; return evs },
		"a dimension of another": func(evs []bench.Event) []bench.Event {
			return with(evs, bench.ReadingTaken{Slot: "crow.pitch", Repeat: 1})
		},
		"a setting as a dimension": func(evs []bench.Event) []bench.Event { return with(evs, bench.Settled{Slot: "", N: 1}) },
		"a piece nobody began": func(evs []bench.Event) []bench.Event {
			evs = with(evs, bench.Done{})
			evs[len(evs)-1].Subject.ID = "99"
			return evs
		},
		"nought readings": func(evs []bench.Event) []bench.Event { return with(evs, bench.Settled{Slot: "gouge.centre"}) },
		"a number beyond all": func(evs []bench.Event) []bench.Event {
			return with(evs, bench.ReadingTaken{Slot: "gouge.centre", Q: 1 << 60, Repeat: 1})
		},
		"a repeat before the first": func(evs []bench.Event) []bench.Event { return with(evs, bench.ReadingTaken{Slot: "gouge.centre"}) },
		"a finished piece that moves": func(evs []bench.Event) []bench.Event {
			return with(with(evs, bench.PieceMoved{How: "going on"}), bench.PieceMoved{How: "going on"})
		},
		"the same piece twice": func(evs []bench.Event) []bench.Event { return with(evs, bench.PieceAdded{Mark: "1", Number: 1}) },
		"readings without end": func(evs []bench.Event) []bench.Event {
			for range 2 * mostTimes {
				evs = with(evs, bench.ReadingTaken{Slot: "gouge.centre", Q: 1_300_000, Repeat: 2})
			}
			return evs
		},
	} {
		rec := whole
		rec.Events = spoil(append([]bench.Event(nil), whole.Events...))
		if _, err := Of(b, rec, 5); err == nil {
			t.Errorf("%s: nothing is said", name)
		}
	}
}

// with adds an event about piece 1.
func with(evs []bench.Event, body bench.Body) []bench.Event {
	last := evs[len(evs)-1].Head
	return append(evs, bench.Event{Head: bench.Head{Seq: last.Seq + 1, Cause: last.Seq + 1, At: last.At, Entered: last.Entered,
		Subject: bench.Subject{Kind: "piece", ID: "1"}, Stage: "look", Visit: 1}, Body: body})
}

// FuzzRead: no file makes the reader, or what goes through the events, fall over.
func FuzzRead(f *testing.F) {
	_, rec := evening(f)
	f.Add(exported(f, rec))
	small := rec
	small.Events = rec.Events[:8]
	f.Add(exported(f, small))
	f.Add([]byte(`{"format":"canewright export","version":1,"is":"batch","batch":"x"}` + "\n" + `{"is":"end","batch":"x","events":0}` + "\n"))
	b, _ := bound(f, pupils)
	f.Fuzz(func(t *testing.T, data []byte) {
		records, err := Read(bytes.NewReader(data))
		if err != nil {
			if e, ok := errors.AsType[*LineError](err); !ok || e.Line < 1 || e.Line > bytes.Count(data, []byte("\n"))+2 {
				t.Fatalf("%v", err)
			}
			return
		}
		for _, rec := range records {
			r, err := Of(b, rec, 5)
			if err != nil {
				continue
			}
			if _, err := json.Marshal(r); err != nil {
				t.Fatal(err)
			}
		}
	})
}
