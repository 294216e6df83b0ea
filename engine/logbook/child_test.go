package logbook

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"testing"

	"canewright/engine/bench"
	"canewright/engine/session"
)

// The test binary is a second program where asked to be one.
func TestMain(m *testing.M) {
	if what := os.Getenv("LOGBOOK_TEST_CHILD"); what != "" {
		os.Exit(childMain(what, os.Args[len(os.Args)-1]))
	}
	os.Exit(m.Run())
}

// childMain does its work with the logbook at path and says what came of it.
func childMain(what, path string) int {
	ctx := context.Background()
	if kb, ok := strings.CutPrefix(what, "small files "); ok {
		n, err := strconv.ParseUint(kb, 10, 64)
		if err == nil {
			err = limitFiles(n << 10)
		}
		if err != nil {
			fmt.Println("no limit:", err)
			return 3
		}
		what = "remarks 100000"
	}
	l, err := Open(ctx, path)
	if err != nil {
		fmt.Println("refused:", err)
		return 1
	}
	defer l.Close()
	n := 0
	if _, err := fmt.Sscanf(what, "remarks %d", &n); err != nil {
		fmt.Println(err)
		return 3
	}
	kept, overtaken := 0, 0
	for kept < n {
		_, evs, err := l.Load(ctx, "batch")
		if err != nil {
			fmt.Println("refused:", err)
			return 1
		}
		last := uint64(len(evs))
		for kept < n {
			answer := remarks(last, fmt.Sprintf("%d of %d: %s", kept, os.Getpid(), strings.Repeat("dark bark ", 100)))
			err := l.Append(ctx, "batch", last, answer)
			if errors.Is(err, session.ErrOvertaken) {
				overtaken++
				break
			}
			if err != nil {
				fmt.Printf("kept %d\nrefused: %v\n", kept, err)
				return 1
			}
			last += uint64(len(answer))
			kept++
		}
	}
	fmt.Printf("kept %d, overtaken %d\n", kept, overtaken)
	return 0
}

// remarks is an answer of three events.
func remarks(after uint64, text string) []bench.Event {
	var out []bench.Event
	for i := range uint64(3) {
		out = append(out, bench.Event{
			Head: bench.Head{Seq: after + 1 + i, Cause: after + 1, At: began, Entered: began, Subject: bench.Subject{Kind: "batch"}},
			Body: bench.Remark{Text: text},
		})
	}
	return out
}

func child(t *testing.T, what, path string) *exec.Cmd {
	t.Helper()
	exe, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(exe, path)
	cmd.Env = append(os.Environ(), "LOGBOOK_TEST_CHILD="+what)
	return cmd
}

// whole reads a batch, looks that every answer of three is there whole, and
// returns how many there are.
func whole(t *testing.T, path string, first uint64) int {
	t.Helper()
	l := open(t, path)
	var said string
	if err := l.db.QueryRow("PRAGMA integrity_check").Scan(&said); err != nil || said != "ok" {
		t.Errorf("integrity: %q, %v", said, err)
	}
	_, evs, err := l.Load(context.Background(), "batch")
	if err != nil {
		t.Fatal(err)
	}
	rest := evs[first:]
	for i, e := range rest {
		if want := first + 1 + uint64(i/3*3); e.Cause != want {
			t.Fatalf("event %d has cause %d, want %d", e.Seq, e.Cause, want)
		}
	}
	if len(rest)%3 != 0 {
		t.Errorf("%d events: an answer is half there", len(rest))
	}
	return len(rest) / 3
}

func TestTwoProgramsAtOneBatch(t *testing.T) {
	t.Parallel()
	path := newPath(t)
	first := startBatch(t, open(t, path), "batch", 3).State.Last
	const programs, each = 3, 40
	var running []*exec.Cmd
	var said [programs]strings.Builder
	for i := range programs {
		cmd := child(t, fmt.Sprintf("remarks %d", each), path)
		cmd.Stdout, cmd.Stderr = &said[i], &said[i]
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		running = append(running, cmd)
	}
	overtaken := 0
	for i, cmd := range running {
		err := cmd.Wait()
		kept, over := 0, 0
		if _, serr := fmt.Sscanf(said[i].String(), "kept %d, overtaken %d", &kept, &over); err != nil || serr != nil || kept != each {
			t.Errorf("%v, %v: %s", err, serr, said[i].String())
		}
		overtaken += over
	}
	if n := whole(t, path, first); n != programs*each {
		t.Errorf("%d answers are there, %d were given", n, programs*each)
	}
	t.Logf("overtaken %d times", overtaken)
}

// Programs that find no logbook make one, together.
func TestManyProgramsMakeOneLogbook(t *testing.T) {
	t.Parallel()
	path := newPath(t)
	var running []*exec.Cmd
	var said [6]strings.Builder
	for i := range said {
		cmd := child(t, "remarks 0", path)
		cmd.Stdout, cmd.Stderr = &said[i], &said[i]
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		running = append(running, cmd)
	}
	for i, cmd := range running {
		if err := cmd.Wait(); err != nil {
			t.Errorf("%v: %s", err, said[i].String())
		}
	}
	if all, err := os.ReadDir(path[:len(path)-len("logbook")]); err != nil || len(all) != 1 {
		t.Errorf("%v, %v", all, err)
	}
}

// A disk that is full, as a limit on the size of files: somewhere in the middle
// of answers writing ends. The one answer is refused, all before it are kept,
// and with room again work goes on.
func TestAFullDiskInTheMiddleOfAnswers(t *testing.T) {
	t.Parallel()
	for _, kb := range []int{150, 300, 301, 302, 303, 700} {
		t.Run(fmt.Sprint(kb, " KiB"), func(t *testing.T) {
			t.Parallel()
			path := newPath(t)
			l, err := Open(context.Background(), path)
			if err != nil {
				t.Fatal(err)
			}
			first := startBatch(t, l, "batch", 3).State.Last
			l.Close()
			out, err := child(t, fmt.Sprintf("small files %d", kb), path).CombinedOutput()
			said := string(out)
			if strings.Contains(said, "no limit:") {
				t.Skip(said)
			}
			if err == nil || strings.Contains(said, "panic") || strings.Contains(said, "goroutine") {
				t.Fatalf("%v: %s", err, said)
			}
			if !strings.Contains(said, "nothing of this answer was kept") || !strings.Contains(said, path) {
				t.Errorf("it says: %s", said)
			}
			kept := 0
			if _, err := fmt.Sscanf(said, "kept %d", &kept); err != nil || kept == 0 {
				t.Fatalf("%v: %s", err, said)
			}
			if n := whole(t, path, first); n != kept {
				t.Errorf("%d answers are there, %d were confirmed", n, kept)
			}
			if out, err := child(t, "remarks 5", path).CombinedOutput(); err != nil {
				t.Errorf("with room again: %v: %s", err, out)
			}
			if n := whole(t, path, first); n != kept+5 {
				t.Errorf("%d answers are there, want %d", n, kept+5)
			}
		})
	}
}

// No room to make a logbook, or to bring an old one over.
func TestAFullDiskAtTheBeginning(t *testing.T) {
	t.Parallel()
	t.Run("a new logbook", func(t *testing.T) {
		t.Parallel()
		path := newPath(t)
		out, err := child(t, "small files 2", path).CombinedOutput()
		if strings.Contains(string(out), "no limit:") {
			t.Skip(string(out))
		}
		if err == nil || !strings.Contains(string(out), "refused: make logbook "+path) {
			t.Errorf("%v: %s", err, out)
		}
		if left := beside(t, path); len(left) > 0 {
			t.Errorf("left: %v", left)
		}
	})
	t.Run("an old logbook", func(t *testing.T) {
		t.Parallel()
		path, worked := old(t)
		before := beside(t, path)
		out, err := child(t, "small files 40", path).CombinedOutput()
		if strings.Contains(string(out), "no limit:") {
			t.Skip(string(out))
		}
		if err == nil || !strings.Contains(string(out), "it was left as it is") {
			t.Errorf("%v: %s", err, out)
		}
		if after := beside(t, path); len(after) != len(before) {
			t.Errorf("left beside it: %d files, before %d", len(after), len(before))
		}
		holds(t, path, worked)
	})
}
