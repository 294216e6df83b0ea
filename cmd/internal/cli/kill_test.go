package cli_test

import (
	"bytes"
	"context"
	"database/sql"
	"errors"
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"runtime"
	"strconv"
	"strings"
	"testing"
	"time"

	"canewright/cmd/internal/wire"
	"canewright/engine/bench"
	"canewright/engine/bench/benchtest"
	"canewright/engine/logbook"
	"canewright/engine/recipe"
	"canewright/plugins/proto"
)

// The promise that nothing answered is lost, tried: SIGKILL while answers
// stream without pause. An answer is confirmed when a byte has been written
// behind its echo; the echo itself shows that it was read.
//
// CANEWRIGHT_KILLS=200 go test -run TestKilledAtAnyMoment -v ./cmd/internal/cli
func TestKilledAtAnyMoment(t *testing.T) {
	if runtime.GOOS != "linux" {
		t.Skip("looks for orphans in /proc")
	}
	kills := 15
	if s := os.Getenv("CANEWRIGHT_KILLS"); s != "" {
		n, err := strconv.Atoi(s)
		if err != nil {
			t.Fatalf("CANEWRIGHT_KILLS: %v", err)
		}
		kills = n
	}
	seed := uint64(time.Now().UnixNano())
	t.Logf("seed %d", seed)
	r := &run{
		t: t, dir: t.TempDir(), rand: rand.New(rand.NewPCG(seed, 1)),
		reach: time.Millisecond, // a first guess at read to confirm; hits and misses correct it
	}
	var err error
	if r.exe, err = os.Executable(); err != nil {
		t.Fatal(err)
	}
	r.book = filepath.Join(r.dir, "logbook")
	r.works = &wire.Works{Env: func(string) string { return "" }, Now: time.Now, Rand: zeros{}, Book: r.book}
	rec, err := r.works.Recipe(context.Background(), followed)
	if err != nil || rec.Bound == nil {
		t.Fatal(err)
	}
	r.bound = rec.Bound
	notes, err := r.works.Notes()
	if err != nil {
		t.Fatal(err)
	}
	r.notes = notes.For
	began := time.Now()
	for r.killed < kills {
		r.once()
	}
	t.Logf("%d kills in %v: %d between read and confirm (%d of these answers were on disk, %d not), %d at the start of a batch, %d elsewhere",
		r.killed, time.Since(began).Round(time.Millisecond), r.between, r.kept, r.between-r.kept, r.atStart, r.killed-r.between-r.atStart)
	t.Logf("%d answers confirmed, %d lost, %d half-written; %d batches, %d of them finished; %d events in the last",
		r.confirmed, r.lost, r.half, r.batch, r.finished, len(r.seen))
	if 2*r.between < kills {
		t.Errorf("only %d of %d kills fell between read and confirm", r.between, kills)
	}
	if r.confirmed == 0 || r.lost > 0 || r.half > 0 {
		t.Errorf("%d confirmed, %d lost, %d half-written", r.confirmed, r.lost, r.half)
	}
}

const (
	followed = "bassoon/from-shaped-cane"
	pieces   = 4
)

type zeros struct{}

func (zeros) Read(p []byte) (int, error) { clear(p); return len(p), nil }

// run is what stays the same through all kills, and what was counted.
type run struct {
	t     *testing.T
	rand  *rand.Rand
	dir   string
	exe   string
	book  string
	works *wire.Works
	bound *recipe.Bound
	notes func(now, evening recipe.Use) ([]bench.Note, error)

	reach time.Duration // from an echo to the byte behind it
	batch int           // number of the batch at hand; 0 before the first
	open  bool          // it is on disk and not finished
	seen  []bench.Event // its events, checked one by one

	killed, between, kept, atStart int
	confirmed, lost, half          int
	finished                       int
}

func (r *run) name() string { return "kill-" + strconv.Itoa(r.batch) }

// driver stands where the events lead.
func (r *run) driver(evs []bench.Event) *benchtest.Driver {
	s, err := bench.Fold(r.bound, evs)
	if err != nil {
		r.t.Fatalf("fold %d events of %s: %v", len(evs), r.name(), err)
	}
	return &benchtest.Driver{Bound: r.bound, State: s, Notes: r.notes, Now: time.Now(), Tick: time.Millisecond}
}

// once starts or resumes, lets answers stream, kills, and checks.
func (r *run) once() {
	args := []string{"as-canewright", "follow", "--logbook", r.book}
	atStart := r.killed%20 == 7 // in the first steps of a new batch: the instrument's process is alive then
	fresh := !r.open || atStart
	var d *benchtest.Driver
	if fresh {
		r.batch++
		r.seen, r.open = nil, false
		args = append(args, followed, "--pieces", strconv.Itoa(pieces), "--batch", r.name())
		var err error
		if d, err = benchtest.Start(r.bound, pieces, r.notes); err != nil {
			r.t.Fatal(err)
		}
		d.Now = time.Now()
	} else {
		args = append(args, "--resume", r.name())
		d = r.driver(r.seen)
		if d.State.Left {
			if err := d.Reopen(); err != nil {
				r.t.Fatal(err)
			}
		}
	}
	question := d.Question()
	answers := stream(r.t, d)
	c := startChild(r.t, r.exe, r.dir, args, answers)

	if atStart {
		time.Sleep(time.Duration(r.rand.Int64N(int64(100 * time.Millisecond))))
	} else if c.echoed(1 + r.rand.IntN(12)) {
		// Some answers came through; a random while after one more was read:
		wait := time.Duration(r.rand.Int64N(int64(r.reach)))
		for end := time.Now().Add(wait); time.Now().Before(end); {
			runtime.Gosched() // sleeping is too coarse for parts of a millisecond
		}
	}
	ended := c.kill()
	read, confirmed, tail := c.count()
	r.confirmed += confirmed
	if ended {
		// It came to the end of its answers before the kill.
		if confirmed != len(answers) {
			r.t.Fatalf("%s ended by itself after %d of %d answers:\n%s%s", r.name(), confirmed, len(answers), tail, c.errors.String())
		}
	} else {
		r.killed++
		switch {
		case atStart:
			r.atStart++
		case read > confirmed:
			r.between++
			r.reach += r.reach / 32
		default: // too late: aim nearer
			r.reach -= r.reach / 8
		}
	}
	r.noOrphan()
	r.check(fresh, read, confirmed)
	if read > 0 || confirmed > 0 {
		c.asked(r.t, question)
	}
}

// stream is all answers from here to the end of the batch, as a maker would
// type them whose reeds all come out right.
func stream(t *testing.T, d *benchtest.Driver) []string {
	var out []string
	for range 2000 {
		q := d.Question()
		if q.Asked == bench.AskNothing {
			return out
		}
		a := d.Right(q)
		if _, err := d.Answer(a); err != nil {
			t.Fatalf("stage %q, %q: %v", q.Stage, a, err)
		}
		out = append(out, a)
	}
	t.Fatal("2000 answers do not bring the batch to its end")
	return nil
}

// check reads the logbook as the next run would and holds it against what was
// confirmed.
func (r *run) check(fresh bool, read, confirmed int) {
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
	if len(evs) < len(r.seen) || len(r.seen) > 0 && !reflect.DeepEqual(evs[:len(r.seen)], r.seen) {
		r.lost++
		t.Fatalf("events that were there before the kill are gone or changed")
	}
	d := r.driver(r.seen)
	n := 0
	for at := len(r.seen); at < len(evs); {
		end := at + 1
		for end < len(evs) && evs[end].Cause == evs[at].Cause {
			end++
		}
		if r.answer(d, evs[at:end]) {
			n++
		}
		at = end
	}
	if n < confirmed {
		r.lost += confirmed - n
		t.Errorf("%d answers were confirmed, %d are on disk", confirmed, n)
	}
	if n > read {
		t.Errorf("%d answers are on disk, only %d were read", n, read)
	}
	if read > confirmed && n == read {
		r.kept++
	}
	// Where it goes on is where all kept answers lead.
	want := r.driver(evs).Question()
	if got := d.Question(); got.Stage != want.Stage || got.Prompt != want.Prompt || !reflect.DeepEqual(got.Pieces, want.Pieces) {
		t.Errorf("the kept events lead to %s, %s, %s; stepped one by one to %s, %s, %s",
			want.Stage, want.For, want.Prompt, got.Stage, got.For, got.Prompt)
	}
	r.seen, r.open = evs, !d.State.Done
	if d.State.Done {
		r.finished++
	}
}

// answer holds the events of one cause against what deciding the same answer
// again gives: all of them, or it was half-written. It reports whether they
// come from an answer, and not from opening.
func (r *run) answer(d *benchtest.Driver, evs []bench.Event) bool {
	moment := bench.Moment{At: evs[0].At, Zone: evs[0].Zone, Who: evs[0].Who}
	var want []bench.Event
	var err error
	typed := false
	switch body := evs[0].Body.(type) {
	case bench.BatchStarted:
		var marks []string
		for i := range pieces {
			marks = append(marks, strconv.Itoa(i+1))
		}
		id := "" // the session's name is its own choice
		for _, e := range evs {
			if s, ok := e.Body.(bench.SessionOpened); ok {
				id = s.ID
			}
		}
		want, err = bench.Begin(r.bound, bench.Beginning{Pieces: marks}, id, moment)
	case bench.SessionClosed: // only a child that came to its end leaves
		want = bench.CloseSession(d.State, moment)
	case bench.SessionOpened:
		want = bench.OpenSession(d.State, body.ID, moment)
	default:
		typed = true
		text := d.Right(d.Question())
		want, err = bench.Decide(d.State, bench.Answer{Seen: d.State.Last, Text: text}, d.StageNotes(), moment)
	}
	if err != nil {
		r.t.Fatal(err)
	}
	if !reflect.DeepEqual(evs, want) {
		r.half++
		r.t.Fatalf("the answer from event %d on is not whole:\n%+v\nwant\n%+v", evs[0].Seq, evs, want)
	}
	if err := d.State.Apply(evs); err != nil {
		r.t.Fatal(err)
	}
	return typed
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

// noOrphan waits up to 2 s for every instrument process whose parent is gone.
func (r *run) noOrphan() {
	r.t.Helper()
	var left []string
	for end := time.Now().Add(2 * time.Second); ; time.Sleep(5 * time.Millisecond) {
		if left = orphans(r.exe); len(left) == 0 {
			return
		}
		if time.Now().After(end) {
			r.t.Fatalf("processes left after a kill: %s", strings.Join(left, ", "))
		}
	}
}

// orphans are processes of exe that serve an instrument and whose parent is
// none of exe.
func orphans(exe string) []string {
	var out []string
	all, _ := filepath.Glob("/proc/[0-9]*")
	for _, p := range all {
		line, err := os.ReadFile(p + "/cmdline")
		if err != nil || !bytes.Contains(line, []byte(proto.ServeArg)) {
			continue
		}
		if at, err := os.Readlink(p + "/exe"); err != nil || at != exe {
			continue
		}
		stat, err := os.ReadFile(p + "/stat")
		if err != nil {
			continue
		}
		// proc(5): the fourth field is the parent; the second ends at the last ")".
		fields := strings.Fields(string(stat[bytes.LastIndexByte(stat, ')')+1:]))
		if at, err := os.Readlink("/proc/" + fields[1] + "/exe"); err != nil || at != exe {
			out = append(out, filepath.Base(p))
		}
	}
	return out
}
