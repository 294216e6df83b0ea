package peers

import (
	"bytes"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"
)

// copies of each program are timed.
const copies = 4

// A start is timed from outside, as a whole process, each in an empty home of
// its own, in turn (A B A B …), so that a machine that slows down slows both.
//
//	CANEWRIGHT=…/canewright BAREPLUGIN=…/bareplugin go test -count=1 -run Start -v .
//
// RUNS is how many of each are counted; 60 if it is not set.
func TestStartAgainstABarePlugin(t *testing.T) {
	ours, bare := os.Getenv("CANEWRIGHT"), os.Getenv("BAREPLUGIN")
	if ours == "" || bare == "" {
		t.Skip("CANEWRIGHT and BAREPLUGIN name no programs to time")
	}
	runs := 60
	if n, err := strconv.Atoi(os.Getenv("RUNS")); err == nil && n > 0 {
		runs = n
	}
	// How a file happens to lie in the page cache changes its start by a third,
	// for as long as it lies there. So there are several copies of each program,
	// and the luckiest of each counts.
	var first, whole, peer [copies][]time.Duration
	for c := range copies {
		ours, bare := copied(t, ours), copied(t, bare)
		for i := range max(runs/copies, 1) + 1 {
			f, w := follow(t, ours)
			p := ready(t, bare)
			if i > 0 { // the first run fills the page cache
				first[c], whole[c], peer[c] = append(first[c], f), append(whole[c], w), append(peer[c], p)
			}
		}
	}
	for _, row := range []struct {
		name string
		took [copies][]time.Duration
	}{
		{"canewright follow, to its first question", first},
		{"canewright follow, whole process", whole},
		{"bare plugin, whole process", peer},
	} {
		t.Logf("%s:", row.name)
		for _, ds := range row.took {
			t.Logf("    median %.1f ms, %.1f to %.1f", ms(median(ds)), ms(slices.Min(ds)), ms(slices.Max(ds)))
		}
	}
	t.Logf("ratio of medians: %.2f to the first question, %.2f whole",
		float64(best(first))/float64(best(peer)), float64(best(whole))/float64(best(peer)))
}

// follow starts a batch with nothing to read from; it ends after the first
// question. The question has been shown when its prompt has.
func follow(t *testing.T, exe string) (first, whole time.Duration) {
	t.Helper()
	cmd := command(t, exe, "follow", "bassoon/from-shaped-cane")
	var errs bytes.Buffer
	cmd.Stderr = &errs
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	start := time.Now()
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	var shown []byte
	buf := make([]byte, 4096)
	for {
		n, err := out.Read(buf)
		shown = append(shown, buf[:n]...)
		if first == 0 && strings.Contains(string(shown), "\n> ") {
			first = time.Since(start)
		}
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := cmd.Wait(); err != nil {
		t.Fatalf("%v\n%s%s", err, shown, errs.String())
	}
	if whole = time.Since(start); first == 0 {
		t.Fatalf("no question was shown:\n%s", shown)
	}
	return first, whole
}

func ready(t *testing.T, exe string) time.Duration {
	t.Helper()
	cmd := command(t, exe)
	start := time.Now()
	out, err := cmd.CombinedOutput()
	took := time.Since(start)
	if err != nil || string(out) != "ready\n" {
		t.Fatalf("bare plugin: %v\n%s", err, out)
	}
	return took
}

func command(t *testing.T, exe string, args ...string) *exec.Cmd {
	cmd := exec.Command(exe, args...)
	cmd.Env = []string{"HOME=" + t.TempDir(), "PATH=" + os.Getenv("PATH"), "TMPDIR=" + os.TempDir()}
	return cmd
}

func copied(t *testing.T, exe string) string {
	t.Helper()
	b, err := os.ReadFile(exe)
	if err != nil {
		t.Fatal(err)
	}
	to := filepath.Join(t.TempDir(), filepath.Base(exe))
	if err := os.WriteFile(to, b, 0o755); err != nil {
		t.Fatal(err)
	}
	return to
}

func median(ds []time.Duration) time.Duration {
	s := slices.Sorted(slices.Values(ds))
	return s[len(s)/2]
}

func best(took [copies][]time.Duration) time.Duration {
	d := median(took[0])
	for _, ds := range took[1:] {
		d = min(d, median(ds))
	}
	return d
}

func ms(d time.Duration) float64 { return float64(d) / float64(time.Millisecond) }
