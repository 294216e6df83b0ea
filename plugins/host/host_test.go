package host

import (
	"bytes"
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

	"canewright/engine/dimension"
	"canewright/engine/quantity"
	"canewright/plugins/bassoon"
	"canewright/plugins/proto"
)

// The wiring needs exactly this.
var _ interface {
	Set(ctx context.Context, name string, major int) (*dimension.Set, error)
} = (*Host)(nil)

// testHost starts the test binary as plugins; the marker in their arguments
// finds them again. Under the race detector starting takes seconds, and a
// program waits for one on its way out.
func testHost(t testing.TB, modes ...string) (*Host, string) {
	t.Helper()
	marker := "marker-" + strconv.FormatUint(rand.Uint64(), 36)
	h := &Host{
		Bundled: modes, StartTimeout: 30 * time.Second, CallTimeout: 10 * time.Second, TempDir: shortTempDir(t),
		testOnlyGrace: 5 * time.Second,
		Args:          markedArgs(marker),
	}
	t.Cleanup(func() {
		if pids := processes(t, marker); len(pids) != 0 {
			t.Errorf("processes %v are left", pids)
		}
		if left, _ := os.ReadDir(h.TempDir); len(left) != 0 {
			t.Errorf("%d private folders are left, such as %s", len(left), left[0].Name())
		}
	})
	return h, marker
}

func markedArgs(marker string) func(names ...string) []string {
	return func(names ...string) []string { return append(append([]string{proto.ServeArg}, names...), marker) }
}

// shortTempDir: t.TempDir is named after the test, and a path to a socket has
// at most about a hundred bytes.
func shortTempDir(t testing.TB) string {
	t.Helper()
	dir, err := os.MkdirTemp("", "cw")
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = os.RemoveAll(dir) })
	return dir
}

// processes whose arguments hold the marker, except zombies.
func processes(t testing.TB, marker string) []int {
	t.Helper()
	if runtime.GOOS != "linux" {
		return nil
	}
	found, err := filepath.Glob("/proc/[0-9]*/cmdline")
	if err != nil {
		t.Fatal(err)
	}
	var out []int
	for _, f := range found {
		args, err := os.ReadFile(f) // empty for a zombie
		if err != nil || !bytes.Contains(args, []byte(marker)) || bytes.Contains(args, []byte(beHost)) {
			continue
		}
		pid, err := strconv.Atoi(filepath.Base(filepath.Dir(f)))
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, pid)
	}
	return out
}

func TestTheBassoonArrivesWhole(t *testing.T) {
	t.Parallel()
	h, _ := testHost(t, "bassoon")
	set, err := h.Set(context.Background(), "bassoon", 1)
	if err != nil {
		t.Fatal(err)
	}
	if set.ID != "bassoon" || set.Major != 1 || set.Minor != bassoon.Plugin().Minor {
		t.Errorf("got %s %d.%d", set.ID, set.Major, set.Minor)
	}
	d, ok := set.Find("Top wire")
	if !ok || d.Name != "wire.first" || d.Datum != "the butt" || d.Condition != dimension.Either || d.Kind != quantity.Length {
		t.Fatalf("the top wire is %+v", d)
	}
	// 20 .. 33 mm in nanometres.
	if p := d.Plausible; !p.Low.Set || p.Low.Q != 20_000_000 || !p.High.Set || p.High.Q != 33_000_000 || p.Unit.Name() != "mm" {
		t.Errorf("its plausible range is %+v", p)
	}
	if d.Sources[0].Grade != dimension.Published || !strings.Contains(d.Sources[0].Says, "27 mm") {
		t.Errorf("its first source is %+v", d.Sources[0])
	}
	if d, ok = set.Find("wire.gap"); !ok || d.Formula != "wire.first - wire.second" {
		t.Errorf("the gap is %+v", d)
	}
	if d, ok = set.Find("blade.thickness"); !ok || d.Grid == nil || d.Grid.Short != "blade" || !slices.Equal(d.Grid.Lanes, []string{"spine", "channels", "rails"}) {
		t.Errorf("the blade is %+v", d)
	}
	back, err := dimension.Decode(set.Encode())
	if err != nil || back.Digest() != set.Digest() {
		t.Errorf("a stored set differs: %v", err)
	}
}

func TestWorksAllTheSame(t *testing.T) {
	t.Parallel()
	for _, mode := range []string{"shawm", "chatty", "newer", "parent", "ignores-shutdown"} {
		t.Run(mode, func(t *testing.T) {
			t.Parallel()
			h, _ := testHost(t, mode)
			h.testOnlyGrace = 0
			set, err := h.Set(context.Background(), mode, 1)
			if err != nil {
				t.Fatal(err)
			}
			if len(set.Dimensions) != 1 || set.Dimensions[0].Name != "gouge.centre" {
				t.Errorf("got %+v", set)
			}
		})
	}
}

func TestAPluginThatDoesNotStopIsEnded(t *testing.T) {
	t.Parallel()
	h, _ := testHost(t, "ignores-shutdown")
	h.testOnlyGrace = 0
	var log bytes.Buffer
	h.Log = &log
	p, err := h.open(context.Background(), "ignores-shutdown")
	if err != nil {
		t.Fatal(err)
	}
	start := time.Now()
	p.stop()
	if took := time.Since(start); took < grace || took > grace+time.Second {
		t.Errorf("stopping took %s, want a little over %s", took, grace)
	}
	if want := "instrument ignores-shutdown: it did not stop when asked and was ended\n"; log.String() != want {
		t.Errorf("the log says %q, want %q", log.String(), want)
	}
}

func TestWhatAnAuthorPrintsGoesToTheLog(t *testing.T) {
	t.Parallel()
	h, _ := testHost(t, "chatty")
	var log bytes.Buffer
	h.Log = &log
	if _, err := h.Set(context.Background(), "chatty", 1); err != nil {
		t.Fatal(err)
	}
	if want := "instrument chatty: good morning from an author who uses the sdk\n"; log.String() != want {
		t.Errorf("the log says %q, want %q", log.String(), want)
	}
}

func TestABadPluginIsNamedAndGone(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ mode, what string }{
		{"prints-early", `printed "good�[2J morning" before the handshake`},
		{"ends-at-once", `ended before it was ready (exit status 7); it wrote "cannot find my tables�[31m"`},
		{"hangs-at-start", "was not ready within 700ms"},
		{"shakes-hands-only", "closed the connection in the middle of Describe"},
		{"listens-only", "was not ready within 700ms"},
		{"hangs-in-a-call", "did not answer Get within 1s"},
		{"dies-mid-call", "ended in the middle of Get (exit status 3)"},
		{"panics", `ended in the middle of Get (exit status 2); it wrote "panic: my own fault`},
		{"huge", "answered Get with more than 4 MiB"},
		{"bad-name", `sent a dimension set that cannot be used: "Gouge Centre" is not a name for a dimension`},
		{"low-above-high", "sent a dimension set that cannot be used: the plausible range of gouge.centre begins above its end"},
		{"unknown-kind", `sent a dimension set that cannot be read: dimension 1, "gouge.centre": its kind "colour" is unknown`},
		{"unknown-unit", `its unit "furlong" is unknown`},
		{"unknown-condition", "its condition 99 is unknown"},
		{"escape-sequences", "holds control characters"},
		{"empty-answer", "the answer is empty"},
		{"another-set", "was asked for the dimension set another-set 1 and sent dulcian 1"},
	} {
		t.Run(c.mode, func(t *testing.T) {
			t.Parallel()
			h, _ := testHost(t, c.mode)
			h.CallTimeout = time.Second
			if strings.HasSuffix(c.what, "700ms") {
				h.StartTimeout = 700 * time.Millisecond
			}
			start := time.Now()
			_, err := h.Set(context.Background(), c.mode, 1)
			took := time.Since(start)
			b, ok := errors.AsType[*BrokenError](err)
			if !ok {
				t.Fatalf("got %v", err)
			}
			if b.Name != c.mode || !strings.HasPrefix(err.Error(), "instrument "+c.mode+": its plugin ") || !strings.Contains(err.Error(), c.what) {
				t.Errorf("it says %q, want %q", err, c.what)
			}
			if strings.ContainsAny(err.Error(), "\x1b\n") {
				t.Errorf("%q would act on a terminal", err)
			}
			if limit := h.StartTimeout + h.CallTimeout + h.testOnlyGrace + time.Second; took > limit {
				t.Errorf("it took %s, more than %s", took, limit)
			}
			t.Logf("%s: %v", took.Round(time.Millisecond), err)
		})
	}
}

func TestVersionsThatDoNotMeet(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		say, mode string
		major     int
		want      VersionError
	}{
		{"a plugin of a later wire", "wire-2", 1, VersionError{
			What: "the plugin speaks wire 2, canewright wire 1", Older: "canewright",
			Update: "update canewright, or take an earlier plugin wire-2",
		}},
		{"a plugin of an earlier wire", "wire-0", 1, VersionError{
			What: "the plugin speaks wire 0, canewright wire 1", Older: "the plugin", Update: "update the plugin wire-0",
		}},
		{"a plugin that needs more", "needy", 1, VersionError{
			What: "the plugin needs outlines", Older: "canewright", Update: "update canewright, or take an earlier plugin needy",
		}},
		{"a recipe from before", "two-majors", 1, VersionError{
			What: "the recipe asks for dimension set two-majors 1, the plugin has 2, 3", Older: "the recipe",
			Update: "write instrument: two-majors 3 and check the recipe, or take an earlier plugin",
		}},
		{"a recipe from later", "two-majors", 4, VersionError{
			What: "the recipe asks for dimension set two-majors 4, the plugin has 2, 3", Older: "the plugin", Update: "update the plugin two-majors",
		}},
		{"a version below zero", "two-majors", -1, VersionError{
			What: "the recipe asks for dimension set two-majors -1, the plugin has 2, 3", Older: "the recipe",
			Update: "write instrument: two-majors 3 and check the recipe, or take an earlier plugin",
		}},
	} {
		t.Run(c.say, func(t *testing.T) {
			t.Parallel()
			h, _ := testHost(t, c.mode)
			_, err := h.Set(context.Background(), c.mode, c.major)
			v, ok := errors.AsType[*VersionError](err)
			if !ok {
				t.Fatalf("got %v", err)
			}
			c.want.Name = c.mode
			if *v != c.want {
				t.Errorf("got  %+v\nwant %+v", *v, c.want)
			}
		})
	}
}

func TestNoSuchInstrument(t *testing.T) {
	t.Parallel()
	h, _ := testHost(t, "bassoon", "shawm")
	for _, name := range []string{"", "oboe", "../bassoon", "Bassoon"} {
		_, err := h.Set(context.Background(), name, 1)
		if n, ok := errors.AsType[*NotFoundError](err); !ok || n.Name != name || !strings.Contains(err.Error(), "bassoon, shawm") {
			t.Errorf("%q gives %v", name, err)
		}
	}
}

func TestAProgramThatIsNotThere(t *testing.T) {
	t.Parallel()
	h, _ := testHost(t, "shawm")
	h.Exe = filepath.Join(h.TempDir, "nothing")
	_, err := h.Set(context.Background(), "shawm", 1)
	if b, ok := errors.AsType[*BrokenError](err); !ok || !strings.Contains(b.What, "cannot be started") {
		t.Errorf("got %v", err)
	}
}

func TestList(t *testing.T) {
	t.Parallel()
	h, _ := testHost(t, "two-majors", "ends-at-once", "shawm")
	got, err := h.List(context.Background())
	want := []Summary{
		{Name: "two-majors", ID: "two-majors", Title: "shawm, invented", Major: 2, Version: "0.9", Contact: "nobody"},
		{Name: "two-majors", ID: "two-majors", Title: "shawm, invented", Major: 3, Version: "0.9", Contact: "nobody"},
		{Name: "shawm", ID: "shawm", Title: "shawm, invented", Major: 1, Version: "0.9", Contact: "nobody"},
	}
	if !slices.Equal(got, want) {
		t.Errorf("got  %+v\nwant %+v", got, want)
	}
	if b, ok := errors.AsType[*BrokenError](err); !ok || b.Name != "ends-at-once" {
		t.Errorf("the error is %v", err)
	}
}

func TestCancelled(t *testing.T) {
	t.Parallel()
	for _, mode := range []string{"hangs-at-start", "listens-only", "hangs-in-a-call"} {
		t.Run(mode, func(t *testing.T) {
			t.Parallel()
			h, _ := testHost(t, mode)
			h.CallTimeout = 30 * time.Second
			ctx, cancel := context.WithTimeout(context.Background(), 500*time.Millisecond)
			defer cancel()
			start := time.Now()
			_, err := h.Set(ctx, mode, 1)
			if !errors.Is(err, context.DeadlineExceeded) {
				t.Errorf("got %v", err)
			}
			if took := time.Since(start); took > 5*time.Second {
				t.Errorf("it took %s", took)
			}
		})
	}
	h, _ := testHost(t, "shawm")
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := h.Set(ctx, "shawm", 1); !errors.Is(err, context.Canceled) {
		t.Errorf("got %v", err)
	}
}
