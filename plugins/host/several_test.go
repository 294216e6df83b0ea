package host

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"canewright/plugins/folder"
)

// started notes which instruments each process was started for.
func started(h *Host) func() []string {
	var mu sync.Mutex
	var out []string
	args := h.Args
	h.Args = func(names ...string) []string {
		mu.Lock()
		defer mu.Unlock()
		out = append(out, strings.Join(names, " "))
		return args(names...)
	}
	return func() []string {
		mu.Lock()
		defer mu.Unlock()
		slices.Sort(out)
		return out
	}
}

func TestBundledInstrumentsShareAProcess(t *testing.T) {
	t.Parallel()
	h, _ := testHost(t, "bassoon", "oboe", "shawm", "two-majors")
	starts := started(h)
	got := h.Sets(context.Background(), []Want{{"two-majors", 3}, {"bassoon", 1}, {"two-majors", 2}, {"shawm", 1}, {"two-majors", 1}})
	for i, want := range []string{"two-majors 3", "bassoon 1", "two-majors 2", "shawm 1"} {
		if got[i].Err != nil {
			t.Fatalf("%s: %v", want, got[i].Err)
		}
		if is := fmt.Sprintf("%s %d", got[i].Set.ID, got[i].Set.Major); is != want {
			t.Errorf("answer %d is %s, want %s", i, is, want)
		}
	}
	if v, ok := errors.AsType[*VersionError](got[4].Err); !ok || v.Name != "two-majors" || !strings.HasSuffix(v.What, "the plugin has 2, 3") {
		t.Errorf("two-majors 1 gives %v", got[4].Err)
	}
	if want := []string{"two-majors bassoon shawm"}; !slices.Equal(starts(), want) {
		t.Errorf("started were %q, want %q", starts(), want)
	}
	alone, err := h.Set(context.Background(), "bassoon", 1)
	if err != nil || alone.Digest() != got[1].Set.Digest() {
		t.Errorf("asked alone, the bassoon differs: %v", err)
	}
}

// Whatever one of them does, it is named and its neighbours answer.
func TestOneOfSeveralFails(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ mode, what string }{
		{"speechless", "sent a dimension set that cannot be used: gouge.centre has no word for too much"},
		{"ends-at-once", "ended before it was ready (exit status 7); it wrote \"cannot find my tables"},
		{"dies-mid-call", "ended in the middle of Get (exit status 3)"},
		{"panics", "ended in the middle of Get (exit status 2); it wrote \"panic: my own fault"},
		{"hangs-in-a-call", "did not answer Get within 1s"},
		{"prints-early", "before the handshake"},
	} {
		t.Run(c.mode, func(t *testing.T) {
			t.Parallel()
			h, _ := testHost(t, "two-majors", c.mode, "shawm")
			if h.CallTimeout = time.Second; raced {
				h.CallTimeout = 10 * time.Second
				c.what = strings.Replace(c.what, "1s", "10s", 1)
			}
			got := h.Sets(context.Background(), []Want{{"two-majors", 2}, {c.mode, 1}, {"shawm", 1}})
			for _, i := range []int{0, 2} {
				if got[i].Err != nil || got[i].Set == nil {
					t.Errorf("neighbour %d: %v", i, got[i].Err)
				}
			}
			b, ok := errors.AsType[*BrokenError](got[1].Err)
			if !ok || b.Name != c.mode || !strings.Contains(b.Error(), c.what) {
				t.Errorf("it says %v, want %q", got[1].Err, c.what)
			}
		})
	}
}

func TestListTellsTheVersionOfEach(t *testing.T) {
	t.Parallel()
	h, _ := testHost(t, "shawm", "speechless")
	starts := started(h)
	got, err := h.List(context.Background())
	want := []Summary{
		{Name: "shawm", ID: "shawm", Title: "shawm, invented", Major: 1, Version: "0.9", Contact: "nobody"},
		{Name: "speechless", ID: "speechless", Title: "shawm, invented", Major: 1, Version: "0.1", Contact: "somebody else"},
	}
	if err != nil || !slices.Equal(got, want) {
		t.Errorf("got  %+v, %v\nwant %+v", got, err, want)
	}
	if len(starts()) != 1 {
		t.Errorf("started were %q", starts())
	}
}

// An added instrument has its own process, and none hides another.
func TestAddedInstrumentsSideBySide(t *testing.T) {
	t.Parallel()
	h := addingHost(t)
	approve(t, h, program(t, "bombard"))
	for name, data := range map[string]string{"dulzaina": strings.ReplaceAll(accepted(t), "id: bombard\n", "id: dulzaina\n"), "lost": "nothing"} {
		if err := h.Store.Keep(name, folder.File, []byte(data)); err != nil {
			t.Fatal(err)
		}
	}
	h.Bundled = nil
	got := h.Sets(context.Background(), []Want{{"dulzaina", 1}, {"lost", 1}, {"nobody", 1}, {"bombard", 1}})
	if got[0].Err != nil || got[0].Set.ID != "dulzaina" || got[3].Err != nil || got[3].Set.ID != "bombard" {
		t.Errorf("got %+v", got)
	}
	if b, ok := errors.AsType[*BrokenError](got[1].Err); !ok || b.Name != "lost" {
		t.Errorf("lost gives %v", got[1].Err)
	}
	if n, ok := errors.AsType[*NotFoundError](got[2].Err); !ok || n.Name != "nobody" {
		t.Errorf("nobody gives %v", got[2].Err)
	}
	var names []string
	list, err := h.List(context.Background())
	for _, s := range list {
		names = append(names, s.Name)
	}
	if want := []string{"bombard", "dulzaina"}; !slices.Equal(names, want) {
		t.Errorf("listed are %q, want %q", names, want)
	}
	if b, ok := errors.AsType[*BrokenError](err); !ok || b.Name != "lost" {
		t.Errorf("the list's error is %v", err)
	}
}

func TestSeveralCancelled(t *testing.T) {
	t.Parallel()
	h, _ := testHost(t, "shawm", "bassoon")
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	for _, g := range h.Sets(ctx, []Want{{"shawm", 1}, {"bassoon", 1}}) {
		if !errors.Is(g.Err, context.Canceled) {
			t.Errorf("got %v", g.Err)
		}
	}
	if got := h.Sets(context.Background(), nil); len(got) != 0 {
		t.Errorf("nothing asked gives %v", got)
	}
}

// Instruments without code share a process, and a broken one among them is named.
func TestInstrumentsWithoutCodeShareAProcess(t *testing.T) {
	t.Parallel()
	h := addingHost(t)
	h.Bundled = []string{"bassoon", "oboe"}
	approve(t, h, program(t, "bombard"))
	for _, name := range []string{"dulzaina", "sopila"} {
		if err := h.Store.Keep(name, folder.File, []byte(strings.ReplaceAll(accepted(t), "id: bombard\n", "id: "+name+"\n"))); err != nil {
			t.Fatal(err)
		}
	}
	names := []string{"dulzaina", "oboe", "bombard", "sopila", "nobody", "bassoon"}
	if got, want := fmt.Sprint(h.groups(names)), "[[0 3] [1 5] [2] [4]]"; got != want {
		t.Errorf("together are %s, want %s", got, want)
	}
	got := h.Sets(context.Background(), []Want{{"dulzaina", 1}, {"sopila", 1}, {"sopila", 9}})
	if got[0].Err != nil || got[0].Set.ID != "dulzaina" || got[1].Err != nil || got[1].Set.ID != "sopila" {
		t.Errorf("got %+v", got)
	}
	if v, ok := errors.AsType[*VersionError](got[2].Err); !ok || v.Name != "sopila" {
		t.Errorf("sopila 9 gives %v", got[2].Err)
	}
	p, err := h.openAll(context.Background(), []string{"dulzaina", "sopila"})
	if err != nil {
		t.Fatal(err)
	}
	defer p.stop()
	for _, name := range []string{"dulzaina", "sopila"} {
		if set, err := p.as(name).set(context.Background(), name, 1); err != nil || set.ID != name {
			t.Errorf("one process gives %s as %+v, %v", name, set, err)
		}
	}
}
