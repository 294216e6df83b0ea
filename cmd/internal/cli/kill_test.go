package cli_test

import (
	"context"
	"errors"
	"math/rand/v2"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"canewright/cmd/internal/wire"
	"canewright/engine/bench"
	"canewright/engine/logbook"
	"canewright/engine/session"
)

// The promise that nothing answered is lost, tried: SIGKILL while answers of
// every sort stream without pause. An answer is confirmed when a byte has been
// written behind its echo; the echo itself shows that it was read.
//
// CANEWRIGHT_KILLS=1000 go test -run TestKilledAtAnyMoment -v -timeout 30m ./cmd/internal/cli
func TestKilledAtAnyMoment(t *testing.T) {
	if runtime.GOOS != "linux" {
		t.Skip("looks for orphans in /proc")
	}
	kills := 25
	if s := os.Getenv("CANEWRIGHT_KILLS"); s != "" {
		n, err := strconv.Atoi(s)
		if err != nil {
			t.Fatalf("CANEWRIGHT_KILLS: %v", err)
		}
		kills = n
	}
	seed := uint64(time.Now().UnixNano())
	if s := os.Getenv("CANEWRIGHT_SEED"); s != "" {
		n, err := strconv.ParseUint(s, 10, 64)
		if err != nil {
			t.Fatalf("CANEWRIGHT_SEED: %v", err)
		}
		seed = n
	}
	t.Logf("seed %d", seed)
	r := newRun(t, seed)
	began := time.Now()
	for r.killed < kills {
		r.once()
	}
	r.sweptAway()
	t.Logf("%d kills in %v: %d between read and confirm (%d of these answers were on disk, %d not), %d at the start of a batch, %d with no logbook yet, %d elsewhere",
		r.killed, time.Since(began).Round(time.Millisecond), r.between, r.kept, r.between-r.kept, r.atStart, r.atBirth, r.killed-r.between-r.atStart-r.atBirth)
	t.Logf("%d lines confirmed (%d of them kept something), %d lost, %d half-written; %d batches, %d of them finished; %d folders of broken-off logbooks swept away",
		r.confirmed, r.answers, r.lost, r.half, r.batch, r.finished, r.swept)
	t.Logf("the answers hold: %s", r.sorts())
	if aimed := r.killed - r.atStart - r.atBirth; 2*r.between < aimed {
		t.Errorf("only %d of %d kills aimed at an answer fell between read and confirm", r.between, aimed)
	}
	if r.confirmed == 0 || r.lost > 0 || r.half > 0 {
		t.Errorf("%d confirmed, %d lost, %d half-written", r.confirmed, r.lost, r.half)
	}
	if kills < 500 {
		return
	}
	for _, sort := range sortsOfAnswer {
		if r.sort[sort] == 0 {
			t.Errorf("no answer held: %s", sort)
		}
	}
}

// followed is what the short tests follow.
const (
	followed = "bassoon/from-shaped-cane"
	pieces   = 4
)

type zeros struct{}

func (zeros) Read(p []byte) (int, error) { clear(p); return len(p), nil }

// perBook kills a new logbook is begun.
const perBook = 50

// run is what stays the same through all kills, and what was counted.
type run struct {
	t      *testing.T
	rand   *rand.Rand
	dir    string
	exe    string
	book   string   // the logbook at hand
	books  []string // all so far
	works  *wire.Works
	notes  session.Notes
	scenes []scene
	recipe map[string]wire.Recipe // by name

	reach time.Duration // from an echo to the byte behind it
	batch int           // number of the batch at hand; 0 before the first
	scene scene
	open  bool          // it is on disk and not finished
	seen  []bench.Event // its events, checked one by one

	killed, between, kept, atStart, atBirth int
	confirmed, answers, lost, half          int
	finished, swept                         int
	sort                                    map[string]int
}

func newRun(t *testing.T, seed uint64) *run {
	t.Helper()
	r := &run{
		t: t, dir: t.TempDir(), rand: rand.New(rand.NewPCG(seed, 1)), recipe: map[string]wire.Recipe{}, sort: map[string]int{},
		reach: time.Millisecond, // a first guess at read to confirm; hits and misses correct it
	}
	var err error
	if r.exe, err = os.Executable(); err != nil {
		t.Fatal(err)
	}
	r.works = &wire.Works{Env: func(string) string { return "" }, Now: time.Now, Rand: zeros{}}
	if r.notes, err = r.works.Notes(); err != nil {
		t.Fatal(err)
	}
	r.scenes = scenes(r.dir)
	if err := os.WriteFile(filepath.Join(r.dir, "whole-way.yaml"), []byte(wholeWay), 0o600); err != nil {
		t.Fatal(err)
	}
	for _, s := range r.scenes {
		if _, ok := r.recipe[s.recipe]; ok {
			continue
		}
		rec, err := r.works.Recipe(context.Background(), s.recipe)
		if err != nil || rec.Bound == nil {
			var b strings.Builder
			rec.List.Text(&b)
			t.Fatalf("%s: %v\n%s", s.recipe, err, b.String())
		}
		r.recipe[s.recipe] = rec
	}
	return r
}

func (r *run) name() string { return "kill-" + strconv.Itoa(r.batch) }

// mirror stands where the events lead, as the next run of the program will: a
// new batch, or one that goes on. disk are the events to be met; nil lets every
// answer be taken.
func (r *run) mirror(m manner, fresh bool, disk []bench.Event, against bool) (*mirror, error) {
	rec := r.recipe[r.scene.recipe]
	w := &witness{disk: against, rest: disk, held: slices.Clone(r.seen)}
	w.batch = session.Batch{Name: r.name(), Title: rec.Bound.File.Title, Snapshot: rec.Snapshot}
	out := w.outside(rec.Bound, r.notes)
	var s *session.Session
	var err error
	if fresh {
		w.held = nil
		s, err = session.Start(context.Background(), out, w.batch, r.scene.with)
	} else {
		s, _, err = session.Resume(context.Background(), out, r.name())
	}
	if err != nil {
		return &mirror{keep: w}, err
	}
	return m.open(s, w)
}

// once starts or resumes, lets answers stream, kills, and checks.
func (r *run) once() {
	if r.killed%50 == 13 {
		r.birth()
		return
	}
	if n := r.killed / perBook; n >= len(r.books) { // whole files are read after every kill
		r.book = filepath.Join(r.dir, "logbook-"+strconv.Itoa(n))
		r.books = append(r.books, r.book)
		r.seen, r.open = nil, false
	}
	t := r.t
	atStart := r.killed%20 == 7 // in the first steps of a new batch: the instrument's process is alive then
	fresh := !r.open || atStart || r.rand.IntN(12) == 0
	args := []string{"as-canewright", "follow", "--logbook", r.book}
	var how manner
	if fresh {
		r.scene = r.scenes[r.batch%len(r.scenes)]
		r.batch++
		r.seen, r.open = nil, false
		how = r.scene.manner
		args = append(append(args, r.scene.recipe, "--batch", r.name()), r.scene.args...)
	} else {
		how = manner{later: r.rand.IntN(3) == 0, through: r.rand.IntN(4) == 0, who: []string{"", "", "Zoë"}[r.rand.IntN(3)]}
		args = append(args, "--resume", r.name())
	}
	args = append(args, how.args()...)
	m, err := r.mirror(how, fresh, nil, false)
	if err != nil {
		t.Fatal(err)
	}
	question, err := m.s.Question()
	if err != nil {
		t.Fatal(err)
	}
	rec := r.recipe[r.scene.recipe]
	hand := &maker{mirror: m, bound: rec.Bound, notes: r.notes.For, rand: r.rand}
	lines, err := hand.lines(40)
	if err != nil {
		t.Fatal(err)
	}
	var typing []string
	for _, l := range lines {
		typing = append(typing, l.line)
	}
	c := startChild(t, r.exe, r.dir, args, typing)

	if atStart {
		time.Sleep(time.Duration(r.rand.Int64N(int64(100 * time.Millisecond))))
	} else if c.echoed(r.aim(lines)) {
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
		if confirmed < len(lines)-1 {
			t.Fatalf("%s ended by itself after %d of %d lines:\n%s%s", r.name(), confirmed, len(lines), tail, c.errors.String())
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
	r.check(how, fresh, typing, read, confirmed)
	if read > 0 || confirmed > 0 {
		c.asked(t, question)
	}
	if t.Failed() {
		t.Fatalf("canewright %s\n%s\n%s", strings.Join(args[1:], " "), strings.Join(typing[:min(read+2, len(typing))], "\n"), c.errors.String())
	}
}

// aim is how many lines are read before the kill: the last of them keeps
// something.
func (r *run) aim(lines []typed) int {
	n := 1 + r.rand.IntN(12)
	for i := min(n, len(lines)) - 1; i >= 0; i-- {
		if lines[i].keeps {
			return i + 1
		}
	}
	return n
}

// birth kills while there is no logbook yet: afterwards there is none or a good
// one.
func (r *run) birth() {
	t := r.t
	dir, err := os.MkdirTemp(r.dir, "birth-")
	if err != nil {
		t.Fatal(err)
	}
	book := filepath.Join(dir, "logbook")
	c := startChild(t, r.exe, r.dir, []string{"as-canewright", "follow", followed, "--logbook", book, "--batch", "born"}, []string{"remark first"})
	time.Sleep(time.Duration(r.rand.Int64N(int64(80 * time.Millisecond))))
	if !c.kill() {
		r.killed++
		r.atBirth++
	}
	r.noOrphan()
	_, confirmed, _ := c.count()
	if _, err := os.Stat(book); errors.Is(err, os.ErrNotExist) {
		if confirmed > 0 {
			r.lost += confirmed
			t.Fatal("an answer was confirmed and there is no logbook")
		}
		return
	}
	l, err := logbook.Open(context.Background(), book)
	if err != nil {
		t.Fatalf("a logbook half made: %v", err)
	}
	defer l.Close()
	_, evs, err := l.Load(context.Background(), "born")
	var none *logbook.NotFoundError
	if err != nil && (!errors.As(err, &none) || confirmed > 0) {
		t.Fatal(err)
	}
	if n := len(evs); n != 0 && n < 3 {
		r.half++
		t.Errorf("a batch of %d events is not whole", n)
	}
}

// sweptAway: what a kill leaves of a logbook in the making is gone the next
// time, once nobody can still be at work in it.
func (r *run) sweptAway() {
	t := r.t
	long := time.Now().Add(-2 * time.Hour)
	left := func() []string {
		out, err := filepath.Glob(filepath.Join(r.dir, "birth-*", ".new-*"))
		if err != nil {
			t.Fatal(err)
		}
		return out
	}
	all := left()
	r.swept = len(all)
	for _, dir := range all {
		inside, _ := filepath.Glob(filepath.Join(dir, "*"))
		for _, f := range append(inside, dir) {
			if err := os.Chtimes(f, long, long); err != nil {
				t.Fatal(err)
			}
		}
		l, err := logbook.Open(context.Background(), filepath.Join(filepath.Dir(dir), "logbook"))
		if err != nil {
			t.Fatal(err)
		}
		l.Close()
	}
	if all = left(); len(all) > 0 {
		t.Errorf("left for good: %s", strings.Join(all, ", "))
	}
	if beside, _ := filepath.Glob(filepath.Join(r.dir, ".new-*")); len(beside) > 0 {
		t.Errorf("left beside the logbook: %s", strings.Join(beside, ", "))
	}
}

// noOrphan waits up to 2 s for every instrument process whose parent is gone.
func (r *run) noOrphan() {
	r.t.Helper()
	for end := time.Now().Add(2 * time.Second); ; time.Sleep(5 * time.Millisecond) {
		left := orphans(r.exe)
		if len(left) == 0 {
			return
		}
		if time.Now().After(end) {
			r.t.Fatalf("processes left after a kill: %s", strings.Join(left, ", "))
		}
	}
}
