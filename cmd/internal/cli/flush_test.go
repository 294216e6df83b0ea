package cli_test

import (
	"bytes"
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"canewright/cmd/internal/wire"
	"canewright/engine/bench"
	"canewright/engine/bench/benchtest"
	"canewright/engine/logbook"
)

// SIGKILL does not try a power cut: what was written but not flushed survives
// the one and not the other. So the flushes are counted from outside: at least
// one an answer, and not many more.
func TestEveryAnswerIsFlushedToDisk(t *testing.T) {
	t.Parallel()
	strace, err := exec.LookPath("strace")
	if err != nil {
		t.Skip("counts flushes with strace, which is not here")
	}
	if err := exec.Command(strace, "-f", "-o", os.DevNull, "true").Run(); err != nil {
		t.Skip("strace may not trace here:", err)
	}
	dir := t.TempDir()
	w := &wire.Works{Env: func(string) string { return "" }, Now: time.Now, Rand: zeros{}}
	rec, err := w.Recipe(context.Background(), followed)
	if err != nil || rec.Bound == nil {
		t.Fatal(err)
	}
	notes, err := w.Notes()
	if err != nil {
		t.Fatal(err)
	}
	d, err := benchtest.Start(rec.Bound, pieces, notes.For)
	if err != nil {
		t.Fatal(err)
	}
	d.Now = time.Now()
	const given = 100
	answers := stream(t, d)[:given]
	exe, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	book := filepath.Join(dir, "logbook")
	flushes := func(in string, args ...string) int {
		t.Helper()
		trace := filepath.Join(dir, "trace")
		cmd := exec.Command(strace, append([]string{"-f", "-e", "trace=fsync,fdatasync", "-o", trace, exe, "as-canewright", "follow", "--logbook", book}, args...)...)
		cmd.Stdin = strings.NewReader(in)
		cmd.Env = []string{"HOME=" + dir, "PATH=" + os.Getenv("PATH")}
		if out, err := cmd.CombinedOutput(); err != nil {
			t.Fatalf("%v\n%s", err, out)
		}
		lines, err := os.ReadFile(trace)
		if err != nil {
			t.Fatal(err)
		}
		// One that is cut in two lines is counted where it ends.
		n := 0
		for line := range bytes.Lines(lines) {
			if bytes.Contains(line, []byte("sync")) && !bytes.Contains(line, []byte("<unfinished")) && bytes.Contains(line, []byte("= 0")) {
				n++
			}
		}
		return n
	}
	begun := flushes("", followed, "--pieces", "4", "--batch", "flushed")
	// The player left, so a new session begins; its notes are the same, as none
	// was answered yet.
	all := flushes(strings.Join(answers, "\n")+"\n", "--resume", "flushed")
	none := flushes("", "--resume", "flushed")
	l, err := logbook.Open(context.Background(), book)
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	_, evs, err := l.Load(context.Background(), "flushed")
	if err != nil {
		t.Fatal(err)
	}
	causes := map[uint64]bool{}
	for _, e := range evs {
		switch e.Body.(type) {
		case bench.BatchStarted, bench.SessionOpened, bench.SessionClosed, bench.PieceAdded:
		default:
			causes[e.Cause] = true
		}
	}
	per := float64(all-none) / given
	t.Logf("%d flushes to begin a batch, %d to resume and leave, %d with %d answers between: %.2f an answer", begun, none, all, given, per)
	if len(causes) != given {
		t.Fatalf("%d answers are kept, %d were given", len(causes), given)
	}
	if per < 1 || per > 1.2 {
		t.Errorf("%.2f flushes an answer", per)
	}
}
