package host

import (
	"context"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"
)

func TestAPluginSeesNothingOfThePlayer(t *testing.T) {
	t.Setenv("CANEWRIGHT_SECRET", "nobody's business")
	h, _ := testHost(t, "tells-environment")
	set, err := h.Set(context.Background(), "tells-environment", 1)
	if err != nil {
		t.Fatal(err)
	}
	dir, names, _ := strings.Cut(set.About, "\n")
	if !strings.HasPrefix(dir, h.TempDir) {
		t.Errorf("it works in %s", dir)
	}
	for _, name := range strings.Fields(names) {
		if !strings.HasPrefix(name, "PLUGIN_") && !slices.Contains([]string{"CANEWRIGHT_PLUGIN", "TMPDIR", "TMP", "TEMP", "PWD", "SYSTEMROOT"}, name) {
			t.Errorf("it sees %s", name)
		}
	}
}

// What is typed to the host stays the host's, even where a plugin reads.
func TestAPluginThatReadsStdinGetsNothing(t *testing.T) {
	t.Parallel()
	_, marker := testHost(t)
	exe, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	keyboard, typed, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _, _ = typed.Close(), keyboard.Close() }()
	if _, err := fmt.Fprintln(typed, "1.31"); err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(exe, beHost, "reads-stdin", marker)
	cmd.Stdin = keyboard
	out, err := cmd.CombinedOutput()
	if err != nil || string(out) != "read \"\", end true\n" {
		t.Fatalf("%v: it got %q", err, out)
	}
	_ = typed.Close()
	if left, err := io.ReadAll(keyboard); err != nil || string(left) != "1.31\n" {
		t.Errorf("of what was typed %q is left (%v)", left, err)
	}
}

// A killed host takes its plugins along, also those without the sdk, and
// leaves no socket.
func TestNoOrphanAfterTheHostIsKilled(t *testing.T) {
	t.Parallel()
	if runtime.GOOS != "linux" {
		t.Skip("only Linux has a parent-death signal; elsewhere the sdk's own watch is tested in plugins/sdk")
	}
	for _, mode := range []string{"hangs-in-a-call", "hangs-at-start"} {
		t.Run(mode, func(t *testing.T) {
			t.Parallel()
			_, marker := testHost(t)
			exe, err := os.Executable()
			if err != nil {
				t.Fatal(err)
			}
			temp := shortTempDir(t)
			cmd := exec.Command(exe, beHost, mode, marker)
			cmd.Env = append(os.Environ(), "TMPDIR="+temp)
			if err := cmd.Start(); err != nil {
				t.Fatal(err)
			}
			waitFor(t, 30*time.Second, "the plugin to start", func() bool { return len(processes(t, marker)) > 0 })
			if mode == "hangs-in-a-call" {
				waitFor(t, 30*time.Second, "the call", func() bool {
					dirs, _ := filepath.Glob(filepath.Join(temp, folderPrefix+"*", "plugin-dir*"))
					return len(dirs) == 0 // the socket goes when the first call is answered
				})
			}
			if err := cmd.Process.Kill(); err != nil {
				t.Fatal(err)
			}
			_ = cmd.Wait()
			waitFor(t, 2*time.Second, "the plugin to go", func() bool { return len(processes(t, marker)) == 0 })

			waitFor(t, 5*time.Second, "its folder to go", func() bool {
				found, _ := filepath.Glob(filepath.Join(temp, folderPrefix+"*"))
				return len(found) == 0
			})
		})
	}
}

// Where nobody was there to remove it, the next host does.
func TestSweepRemovesWhatTheDeadLeft(t *testing.T) {
	t.Parallel()
	if runtime.GOOS == "windows" {
		t.Skip("the number of a process that has ended cannot be told from another's there")
	}
	exe, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	dead := exec.Command(exe, "-test.run=^$")
	if err := dead.Run(); err != nil {
		t.Fatal(err)
	}
	temp := shortTempDir(t)
	dir := filepath.Join(temp, fmt.Sprintf("%s%d-x", folderPrefix, dead.Process.Pid))
	if err := os.MkdirAll(filepath.Join(dir, "work"), 0o700); err != nil {
		t.Fatal(err)
	}
	sweep(temp)
	if _, err := os.Stat(dir); err != nil {
		t.Error("a folder was swept before its time")
	}
	old := time.Now().Add(-2 * staleAfter)
	if err := os.Chtimes(dir, old, old); err != nil {
		t.Fatal(err)
	}
	sweep(temp)
	if _, err := os.Stat(dir); err == nil {
		t.Error("what the dead left is not swept")
	}
}

func waitFor(t *testing.T, d time.Duration, what string, done func() bool) {
	t.Helper()
	for end := time.Now().Add(d); !done(); time.Sleep(5 * time.Millisecond) {
		if time.Now().After(end) {
			t.Fatalf("waited %s for %s", d, what)
		}
	}
}

func TestSweepLeavesTheLiving(t *testing.T) {
	t.Parallel()
	temp := shortTempDir(t)
	mine := filepath.Join(temp, fmt.Sprintf("%s%d-x", folderPrefix, os.Getpid()))
	odd := filepath.Join(temp, folderPrefix+"what-is-this")
	old := time.Now().Add(-2 * staleAfter)
	for _, dir := range []string{mine, odd} {
		if err := os.Mkdir(dir, 0o700); err != nil {
			t.Fatal(err)
		}
		if err := os.Chtimes(dir, old, old); err != nil {
			t.Fatal(err)
		}
	}
	sweep(temp)
	for _, dir := range []string{mine, odd} {
		if _, err := os.Stat(dir); err != nil {
			t.Errorf("%s was swept", dir)
		}
	}
}

// The parent-death signal follows the thread that started the program, and a
// goroutine that ends while locked to its thread takes the thread along.
func TestAPluginOutlivesTheThreadThatAskedForIt(t *testing.T) {
	t.Parallel()
	h, _ := testHost(t, "shawm")
	var p *running
	var err error
	var wg sync.WaitGroup
	wg.Add(1)
	go func() {
		defer wg.Done()
		runtime.LockOSThread() // and never unlocks
		p, err = h.open(context.Background(), "shawm")
	}()
	wg.Wait()
	if err != nil {
		t.Fatal(err)
	}
	defer p.stop()
	time.Sleep(100 * time.Millisecond)
	if how, ended := p.process.ended(0); ended {
		t.Fatalf("the plugin ended: %s", how)
	}
	if _, err := p.list(context.Background()); err != nil {
		t.Error(err)
	}
}

func TestGreaseIsSentNowAndThen(t *testing.T) {
	t.Parallel()
	if r := (&Host{}).describeRequest(); len(r.GetCapabilities()) != 0 || len(r.ProtoReflect().GetUnknown()) != 0 {
		t.Error("a host without a random source sends grease")
	}
	count := func(seed uint64) (n int, words []string) {
		h := &Host{Random: rand.New(rand.NewPCG(seed, 1))}
		for range 300 {
			r := h.describeRequest()
			if (len(r.GetCapabilities()) == 1) != (len(r.ProtoReflect().GetUnknown()) > 0) {
				t.Error("a capability without a field, or a field without a capability")
			}
			if len(r.GetCapabilities()) == 1 {
				n++
				words = append(words, r.GetCapabilities()[0])
			}
		}
		return n, words
	}
	n, words := count(1)
	if n < 60 || n > 140 {
		t.Errorf("%d of 300 requests are greased, want about 100", n)
	}
	if again, same := count(1); again != n || !slices.Equal(same, words) {
		t.Error("the same random source gives other grease")
	}
}

func TestGreaseReachesThePlugin(t *testing.T) {
	t.Parallel()
	h, _ := testHost(t, "tells-request")
	seed := uint64(0)
	for ; ; seed++ {
		if rand.New(rand.NewPCG(seed, 1)).IntN(3) == 0 {
			break
		}
	}
	h.Random = rand.New(rand.NewPCG(seed, 1))
	got, err := h.List(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	if v := got[0].Version; !strings.HasPrefix(v, "capabilities 1, unknown bytes ") || strings.HasSuffix(v, " 0") {
		t.Errorf("the plugin saw %q", v)
	}
	h, _ = testHost(t, "shawm")
	h.Random = rand.New(rand.NewPCG(seed, 1))
	if _, err := h.Set(context.Background(), "shawm", 1); err != nil {
		t.Errorf("a plugin of the sdk minds grease: %v", err)
	}
}

func TestCaptureKeepsTheBeginning(t *testing.T) {
	t.Parallel()
	var c capture
	for range 3 {
		if n, err := c.Write([]byte(strings.Repeat("a", 4000))); n != 4000 || err != nil {
			t.Fatalf("wrote %d: %v", n, err)
		}
	}
	if want := strings.Repeat("a", mostCaptured) + "\n… and 3808 bytes more"; c.text() != want {
		t.Errorf("got %d bytes: …%s", len(c.text()), c.text()[mostCaptured:])
	}
}

func TestSeveralAtOnce(t *testing.T) {
	t.Parallel()
	h, _ := testHost(t, "shawm")
	h.Random = rand.New(rand.NewPCG(7, 7))
	var wg sync.WaitGroup
	for range 4 {
		wg.Go(func() {
			if _, err := h.Set(context.Background(), "shawm", 1); err != nil {
				t.Error(err)
			}
		})
	}
	wg.Wait()
}
