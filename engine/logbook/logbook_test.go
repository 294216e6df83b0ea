package logbook

import (
	"context"
	"errors"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"pgregory.net/rapid"

	"canewright/engine/bench"
	"canewright/engine/session"
)

func TestTwoWindowsOneIsOvertaken(t *testing.T) {
	t.Parallel()
	ctx := context.Background()
	path := newPath(t)
	a, b := open(t, path), open(t, path)
	d := startBatch(t, a, "batch", 3)
	last := d.State.Last
	evs, err := d.Answer("")
	if err != nil {
		t.Fatal(err)
	}
	if err := a.Append(ctx, "batch", last, evs); err != nil {
		t.Fatal(err)
	}
	if err := b.Append(ctx, "batch", last, evs); !errors.Is(err, session.ErrOvertaken) {
		t.Fatalf("the second window: %v", err)
	}
	_, got, err := b.Load(ctx, "batch")
	if err != nil || !reflect.DeepEqual(got, d.State.Events()) {
		t.Errorf("%v\ngot  %+v\nwant %+v", err, got, d.State.Events())
	}
}

// Several writers and readers at once: every answer is there once, and no
// reader ever sees half of one.
func TestManyWritersAndReaders(t *testing.T) {
	t.Parallel()
	ctx := context.Background()
	path := newPath(t)
	d := startBatch(t, open(t, path), "batch", 3)
	first := d.State.Last
	const writers, answers, size = 4, 25, 5
	done := make(chan struct{})
	var readers, writing sync.WaitGroup
	for range 2 {
		l := open(t, path)
		readers.Go(func() {
			for reading := true; reading; {
				select {
				case <-done:
					reading = false
				default:
				}
				_, evs, err := l.Load(ctx, "batch")
				if err != nil {
					t.Error(err)
					return
				}
				if n := uint64(len(evs)) - first; n%size != 0 {
					t.Errorf("%d events: half of an answer", n)
					return
				}
			}
		})
	}
	for w := range writers {
		l := open(t, path)
		writing.Go(func() {
			for i := 0; i < answers; {
				_, evs, err := l.Load(ctx, "batch")
				if err != nil {
					t.Error(err)
					return
				}
				after := uint64(len(evs))
				var more []bench.Event
				for k := range uint64(size) {
					more = append(more, bench.Event{
						Head: bench.Head{Seq: after + 1 + k, Cause: after + 1, At: began, Entered: began, Subject: bench.Subject{Kind: "batch"}},
						Body: bench.Remark{Text: fmt.Sprint(w, " ", i)},
					})
				}
				switch err := l.Append(ctx, "batch", after, more); {
				case errors.Is(err, session.ErrOvertaken):
				case err != nil:
					t.Error(err)
					return
				default:
					i++
				}
			}
		})
	}
	writing.Wait()
	close(done)
	readers.Wait()
	_, evs, err := open(t, path).Load(ctx, "batch")
	if err != nil {
		t.Fatal(err)
	}
	times := map[string]int{}
	for _, e := range evs[first:] {
		times[e.Body.(bench.Remark).Text]++
	}
	for w := range writers {
		for i := range answers {
			if n := times[fmt.Sprint(w, " ", i)]; n != size {
				t.Errorf("answer %d of writer %d has %d events", i, w, n)
			}
		}
	}
}

func TestAppendIsAllOrNothing(t *testing.T) {
	t.Parallel()
	ctx := context.Background()
	l := open(t, newPath(t))
	d := startBatch(t, l, "batch", 3)
	last := d.State.Last
	goRound(t, d, 3000)
	all := d.State.Events()
	twice := slices.Clone(all[last : last+4])
	twice[3].Seq = twice[1].Seq
	many := slices.Clone(all[last:]) // more than one statement holds
	many[len(many)-1].Seq = many[len(many)-2].Seq
	for say, evs := range map[string][]bench.Event{"a number twice": twice, "a number twice, in an answer of many events": many} {
		if err := l.Append(ctx, "batch", last, evs); err == nil {
			t.Errorf("%s: taken", say)
		}
		if _, got, err := l.Load(ctx, "batch"); err != nil || uint64(len(got)) != last {
			t.Errorf("%s: %d events are there, want %d; %v", say, len(got), last, err)
		}
	}
	if err := l.Append(ctx, "batch", last, all[last+1:last+2]); err == nil {
		t.Error("events that leave a gap are taken")
	}
	if err := l.Append(ctx, "batch", last, nil); err != nil {
		t.Errorf("no events: %v", err)
	}
	if err := l.Append(ctx, "batch", last, all[last:]); err != nil {
		t.Errorf("the same events whole: %v", err)
	}
	if _, got, err := l.Load(ctx, "batch"); err != nil || !reflect.DeepEqual(got, all) {
		t.Errorf("%d events came back, want %d; %v", len(got), len(all), err)
	}
}

func TestStartIsAllOrNothing(t *testing.T) {
	t.Parallel()
	ctx := context.Background()
	l := open(t, newPath(t))
	d := startBatch(t, l, "first", 1)
	_, snap := small(t)
	evs := slices.Clone(d.State.Events())
	evs[len(evs)-1].Seq = 1
	b := session.Batch{Name: "second", Title: "t", Started: began, Snapshot: snap}
	if err := l.Start(ctx, b, evs); err == nil {
		t.Fatal("two events of one number are taken")
	}
	all, err := l.Batches(ctx)
	if err != nil || len(all) != 1 || all[0].Name != "first" {
		t.Errorf("batches: %+v, %v", all, err)
	}
	b.Name = "first"
	var taken *NameTakenError
	if err := l.Start(ctx, b, d.State.Events()); !errors.As(err, &taken) || taken.Name != "first" {
		t.Errorf("a name twice: %v", err)
	}
	var none *NotFoundError
	if _, _, err := l.Load(ctx, "second"); !errors.As(err, &none) || none.Name != "second" || !slices.Equal(none.All, []string{"first"}) {
		t.Errorf("a batch that is not there: %v", err)
	}
	if err := l.Append(ctx, "second", 3, d.State.Events()[3:]); len(d.State.Events()) > 3 && !errors.As(err, &none) {
		t.Errorf("append to a batch that is not there: %v", err)
	}
}

func TestABatchComesBackAsItWasKept(t *testing.T) {
	t.Parallel()
	ctx := context.Background()
	path := newPath(t)
	d := startBatch(t, open(t, path), "batch", 2)
	_, snap := small(t)
	b, evs, err := open(t, path).Load(ctx, "batch")
	want := session.Batch{Name: "batch", Title: "Small reed, invented", Started: began, Snapshot: snap}
	if err != nil || !reflect.DeepEqual(b, want) {
		t.Errorf("%v\ngot  %+v\nwant %+v", err, b, want)
	}
	if !reflect.DeepEqual(evs, d.State.Events()) {
		t.Errorf("got  %+v\nwant %+v", evs, d.State.Events())
	}
}

func TestASnapshotThatWasChangedIsRefused(t *testing.T) {
	t.Parallel()
	l := open(t, newPath(t))
	startBatch(t, l, "batch", 1)
	if _, err := l.db.Exec(`UPDATE blob SET data = CAST(replace(CAST(data AS TEXT), '1.30', '1.90') AS BLOB)`); err != nil {
		t.Fatal(err)
	}
	_, _, err := l.Load(context.Background(), "batch")
	var fe *FileError
	if !errors.As(err, &fe) || !strings.Contains(fe.Message, "checksum") {
		t.Errorf("got %v", err)
	}
}

func TestAnEventOfANewerVersionIsNamed(t *testing.T) {
	t.Parallel()
	l := open(t, newPath(t))
	startBatch(t, l, "batch", 1)
	if _, err := l.db.Exec(`UPDATE event SET kind = 'reed sung to' WHERE seq = 2`); err != nil {
		t.Fatal(err)
	}
	_, _, err := l.Load(context.Background(), "batch")
	var fe *FileError
	if !errors.As(err, &fe) || !strings.Contains(fe.Message, "event 2") || !strings.Contains(fe.Hint, "update") {
		t.Errorf("got %v", err)
	}
}

func TestTheViewOfReadingsLeavesOutWhatWasTakenBack(t *testing.T) {
	t.Parallel()
	ctx := context.Background()
	l := open(t, newPath(t))
	d := startBatch(t, l, "batch", 2)
	last := d.State.Last
	if err := d.To("gouge"); err != nil {
		t.Fatal(err)
	}
	d.Mark, d.Last = "1", "1"
	for _, a := range []string{"1.31", "undo", "1.30", "1,10 mm"} {
		if _, err := d.Answer(a); err != nil {
			t.Fatal(a, err)
		}
	}
	if err := l.Append(ctx, "batch", last, d.State.Events()[last:]); err != nil {
		t.Fatal(err)
	}
	rows, err := l.db.Query(`SELECT batch, piece, stage, dimension, typed, unit, quanta FROM reading ORDER BY seq`)
	if err != nil {
		t.Fatal(err)
	}
	defer rows.Close()
	var got []string
	for rows.Next() {
		var batch, piece, stage, dimension, typed, unit string
		var q int64
		if err := rows.Scan(&batch, &piece, &stage, &dimension, &typed, &unit, &q); err != nil {
			t.Fatal(err)
		}
		got = append(got, fmt.Sprintln(batch, piece, stage, dimension, typed, unit, q))
	}
	want := []string{"batch 1 gouge gouge.centre 1.30 mm 1300000\n", "batch 1 gouge gouge.side 1,10 mm mm 1100000\n"}
	if !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
}

func TestABatchIsClosedUntilItsLastAnswerIsTakenBack(t *testing.T) {
	t.Parallel()
	ctx := context.Background()
	l := open(t, newPath(t))
	d := startBatch(t, l, "batch", 1)
	last := d.State.Last
	closed := func(want bool) {
		t.Helper()
		if err := l.Append(ctx, "batch", last, d.State.Events()[last:]); err != nil {
			t.Fatal(err)
		}
		last = d.State.Last
		all, err := l.Batches(ctx)
		if err != nil || len(all) != 1 || all[0].Closed != want || uint64(all[0].Events) != last || !all[0].Last.Equal(d.Now) {
			t.Errorf("%+v, %v, want closed %v, last %v", all, err, want, d.Now)
		}
	}
	if err := d.To("tie"); err != nil {
		t.Fatal(err)
	}
	closed(false)
	if _, err := d.Answer(""); err != nil {
		t.Fatal(err)
	}
	if err := d.State.Apply(bench.CloseSession(d.State, bench.Moment{At: d.Now})); err != nil {
		t.Fatal(err)
	}
	closed(true)
	if _, err := d.Answer("undo"); err != nil {
		t.Fatal(err)
	}
	closed(false)
}

// Every kind of event comes back from the disk as it was.
func TestEveryKindOfEventComesBack(t *testing.T) {
	t.Parallel()
	ctx := context.Background()
	l := open(t, newPath(t))
	d := startBatch(t, l, "batch", 1)
	last, tried := d.State.Last, map[string]bool{}
	rapid.Check(t, func(t *rapid.T) {
		evs := rapid.SliceOfN(rapid.Custom(drawEvent), 1, 12).Draw(t, "events")
		for i := range evs {
			evs[i].Seq, evs[i].Cause = last+1+uint64(i), last+1
			tried[evs[i].Body.Kind()] = true
		}
		if err := l.Append(ctx, "batch", last, evs); err != nil {
			t.Fatal(err)
		}
		_, all, err := l.Load(ctx, "batch")
		if err != nil {
			t.Fatal(err)
		}
		if got := all[last:]; !reflect.DeepEqual(got, evs) {
			t.Fatalf("got  %+v\nwant %+v", got, evs)
		}
		last += uint64(len(evs))
	})
	for _, b := range bodies {
		if !tried[b.Kind()] {
			t.Errorf("%q was not tried", b.Kind())
		}
	}
}

// bodies: one of each kind; drawn values fill the fields.
var bodies = []bench.Body{
	bench.BatchStarted{}, bench.SessionOpened{}, bench.SessionClosed{}, bench.PieceAdded{}, bench.NoteAcknowledged{}, bench.ReadingTaken{},
	bench.Settled{}, bench.Skipped{}, bench.RuleJudged{}, bench.Done{}, bench.Looked{}, bench.WaitBegun{}, bench.WaitEnded{},
	bench.PieceMoved{}, bench.Remark{}, bench.AnswerTakenBack{}, bench.BatchClosed{},
}

func drawEvent(t *rapid.T) bench.Event {
	word := rapid.String()
	at := func(label string) time.Time {
		return time.UnixMilli(rapid.Int64Range(-1e12, 1e13).Draw(t, label)).UTC()
	}
	e := bench.Event{Head: bench.Head{
		At: at("at"), Entered: at("entered"), Zone: word.Draw(t, "zone"), Session: word.Draw(t, "session"), Who: word.Draw(t, "who"),
		Subject: bench.Subject{Kind: rapid.SampledFrom([]string{"batch", "piece"}).Draw(t, "of"), ID: word.Draw(t, "id")},
		Stage:   word.Draw(t, "stage"), Visit: rapid.IntRange(0, 99).Draw(t, "visit"),
	}}
	v := reflect.New(reflect.TypeOf(rapid.SampledFrom(bodies).Draw(t, "body"))).Elem()
	fill(t, v)
	e.Body = v.Interface().(bench.Body)
	return e
}

// fill draws a value for every field. Empty lists are nil: what is empty is
// left out on disk.
func fill(t *rapid.T, v reflect.Value) {
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			fill(t, v.Field(i))
		}
	case reflect.Pointer:
		if rapid.Bool().Draw(t, "there") {
			v.Set(reflect.New(v.Type().Elem()))
			fill(t, v.Elem())
		}
	case reflect.Slice:
		for range rapid.IntRange(1, 3).Draw(t, "length") {
			x := reflect.New(v.Type().Elem()).Elem()
			fill(t, x)
			v.Set(reflect.Append(v, x))
		}
	case reflect.String:
		v.SetString(rapid.String().Draw(t, "text"))
	case reflect.Bool:
		v.SetBool(rapid.Bool().Draw(t, "flag"))
	case reflect.Int, reflect.Int64:
		v.SetInt(rapid.Int64().Draw(t, "number"))
	case reflect.Uint64:
		v.SetUint(rapid.Uint64().Draw(t, "number"))
	case reflect.Float64:
		v.SetFloat(rapid.Float64Range(0, 1).Draw(t, "share"))
	default:
		t.Fatalf("a field of kind %s: say here how to draw it", v.Kind())
	}
}
