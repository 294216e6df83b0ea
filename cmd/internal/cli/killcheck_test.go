package cli_test

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"os"
	"reflect"
	"strings"

	"canewright/engine/bench"
	"canewright/engine/logbook"
	"canewright/engine/session"
)

// check reads the logbook as the next run would and holds it against what was
// typed: the same lines typed at a mirror must give the same events, whole
// answers only, at least as far as was confirmed.
func (r *run) check(how manner, fresh bool, typing []string, read, confirmed int) {
	t := r.t
	t.Helper()
	ctx := context.Background()
	if _, err := os.Stat(r.book); errors.Is(err, os.ErrNotExist) && fresh && confirmed == 0 {
		return // killed before there was a logbook
	}
	l, err := logbook.Open(ctx, r.book)
	if err != nil {
		t.Fatalf("after %d kills: %v", r.killed, err)
	}
	defer l.Close()
	_, evs, err := l.Load(ctx, r.name())
	var none *logbook.NotFoundError
	if errors.As(err, &none) && fresh && confirmed == 0 {
		return // killed before the batch was begun
	}
	if err != nil {
		t.Fatalf("after %d kills: %v", r.killed, err)
	}
	r.integrity()
	if len(evs) < len(r.seen) || inJSON(evs[:len(r.seen)]) != inJSON(append([]bench.Event{}, r.seen...)) {
		r.lost++
		t.Fatalf("events that were there before the kill are gone or changed")
	}
	m, err := r.mirror(how, fresh, evs[len(r.seen):], true)
	if errors.Is(err, errNotOnDisk) && confirmed == 0 {
		r.seen, r.open = evs, len(evs) > 0
		return // killed before the session was opened
	}
	if err != nil {
		r.half++
		t.Fatalf("opened with %+v: %v %s", how, err, m.keep.half)
	}
	n := 0
	for ; n < len(typing); n++ {
		before := len(m.keep.held)
		if _, err := m.types(typing[n]); errors.Is(err, errNotOnDisk) {
			break
		} else if errors.Is(err, errHalf) {
			if m.keep.half != "" && len(m.keep.group()) == 1 && m.keep.group()[0].Body.Kind() == "session closed" {
				break // it came to the end of its lines
			}
			r.half++
			t.Fatalf("line %d, %q: %s", n+1, typing[n], m.keep.half)
		} else if err != nil {
			t.Fatalf("line %d, %q: %v", n+1, typing[n], err)
		}
		if n < confirmed && len(m.keep.held) > before {
			r.answers++
		}
		r.count(m.keep.held[before:])
	}
	if len(m.keep.rest) == 1 && m.keep.rest[0].Body.Kind() == "session closed" {
		if err := m.s.Close(ctx); err != nil { // only a child that came to its end leaves
			t.Errorf("leaving: %v %s", err, m.keep.half)
		}
	}
	if len(m.keep.rest) > 0 {
		t.Errorf("%d events on disk come from no line that was typed: %s", len(m.keep.rest), inJSON(m.keep.rest))
	}
	if n < confirmed {
		r.lost += confirmed - n
		t.Errorf("%d lines were confirmed, %d are kept; the first that is not: %q", confirmed, n, typing[n])
	}
	if read > confirmed && n >= read {
		r.kept++
	}
	r.goesOn(m, evs)
	r.seen, r.open = evs, !m.s.State().Done
	if m.s.State().Done {
		r.finished++
	}
}

// goesOn: where the batch goes on is where all kept answers lead.
func (r *run) goesOn(m *mirror, evs []bench.Event) {
	r.t.Helper()
	kept := &witness{held: evs, batch: m.keep.batch}
	s, err := session.Look(context.Background(), kept.outside(r.recipe[r.scene.recipe].Bound, r.notes), r.name())
	if err != nil {
		r.t.Fatal(err)
	}
	m.s.Later(false)
	if err := m.s.Pick(""); err != nil {
		r.t.Fatal(err)
	}
	want, err := s.Question()
	if err != nil {
		r.t.Fatal(err)
	}
	got, err := m.s.Question()
	if err != nil {
		r.t.Fatal(err)
	}
	if want.Asked == bench.AskWait { // how long ago, and whether that is long, goes with the clock
		for _, q := range []*bench.Question{&want, &got} {
			q.Prompt, q.Target, q.Keys, q.Warn = "", "", "", nil
		}
	}
	if !reflect.DeepEqual(got, want) {
		r.t.Errorf("what is kept leads to\n%+v\nstepped line by line to\n%+v", want, got)
	}
}

// What answers can hold; each must have been tried in a long run.
var sortsOfAnswer = []string{
	"note acknowledged", "reading taken", "settled", "skipped", "rule judged", "done", "looked", "wait begun", "wait ended", "piece moved",
	"tube split", "setting chosen", "strokes made", "value corrected", "remark", "answer taken back",
	"several pieces at once", "a row of several boxes", "entered later", "somebody named", "a split and its pieces", "set aside", "brought back", "thrown away", "kept from an earlier visit",
}

// count notes what sorts of answers were checked.
func (r *run) count(evs []bench.Event) {
	about, readings, added := map[string]bool{}, 0, 0
	has := map[string]bool{}
	for _, e := range evs {
		has[e.Body.Kind()] = true
		has["somebody named"] = has["somebody named"] || e.Who != ""
		has["entered later"] = has["entered later"] || !e.At.Equal(e.Entered)
		if !e.Subject.Whole() && e.Body.Kind() != "piece added" {
			about[e.Subject.ID] = true
		}
		switch b := e.Body.(type) {
		case bench.ReadingTaken:
			readings++
		case bench.PieceAdded:
			added++
		case bench.PieceMoved:
			has[b.How] = true
		case bench.Settled:
			has["kept from an earlier visit"] = has["kept from an earlier visit"] || b.Kept
		}
	}
	has["several pieces at once"] = len(about) > 1
	has["a row of several boxes"] = readings > 1 && len(about) == 1
	has["a split and its pieces"] = has["tube split"] && added > 0
	for _, s := range sortsOfAnswer {
		if has[s] {
			r.sort[s]++
		}
	}
}

func (r *run) sorts() string {
	var out []string
	for _, s := range sortsOfAnswer {
		out = append(out, fmt.Sprintf("%s %d", s, r.sort[s]))
	}
	return strings.Join(out, ", ")
}

func (r *run) integrity() {
	r.t.Helper()
	db, err := sql.Open("sqlite", "file:"+r.book+"?mode=ro&_pragma=busy_timeout(5000)")
	if err != nil {
		r.t.Fatal(err)
	}
	defer db.Close()
	var said string
	if err := db.QueryRow("PRAGMA integrity_check").Scan(&said); err != nil || said != "ok" {
		r.t.Fatalf("integrity after %d kills: %q, %v", r.killed, said, err)
	}
}
