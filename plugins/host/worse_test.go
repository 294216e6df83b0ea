//go:build unix

package host

import (
	"context"
	"errors"
	"strings"
	"testing"
	"time"
)

// A player asks one bad plugin and goes on with another instrument: the same
// host, at once. The helper looks for what is left when it ends.
func goesOn(t *testing.T, h *Host) {
	t.Helper()
	if _, err := h.Set(context.Background(), "shawm", 1); err != nil {
		t.Errorf("afterwards another instrument fails: %v", err)
	}
}

func TestAWorsePluginIsNamedAndGone(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ mode, what string }{
		{"framing-2", "printed a handshake that cannot be used: "},
		{"carrier-pigeon", `printed a handshake that cannot be used: it listens on "pigeon", which is no network of a plugin; it is "1|1|pigeon|/nowhere|grpc|"`},
		{"shakes-another-hand", "printed a handshake that cannot be used: its socket is /nowhere, which is not in the folder it was given"},
		{"certificate-of-rubbish", "closed the connection in the middle of Describe"},
		{"endless-line", "printed \"xxxx"},
		{"floods-memory", "ended in the middle of Get (exit status 2); it wrote \""},
		{"closes-the-socket", "closed the connection in the middle of Get"},
		{"ignores-cancel", "did not answer Get within 1s"},
		{"hangs-with-a-child", "did not answer Get within 1s"},
		{"repeated-names", "two dimensions are called gouge.centre"},
		{"negative-tolerance", "the plausible range of gouge.centre begins above its end"},
		{"tolerance-beyond-numbers", "the plausible range of gouge.centre is too large to be worked with"},
		{"lies-about-its-version", "was asked for the dimension set lies-about-its-version 1 and sent lies-about-its-version 7"},
		{"no-source", "gouge.centre has no source"},
		{"colours-everywhere", "the about of the set holds control characters"},
		{"right-to-left", "the title of gouge.centre holds control characters"},
		{"not-utf-8", "answered Get with an error"},
		{"formula-bomb", "sent a dimension set that cannot be used: "},
	} {
		t.Run(c.mode, func(t *testing.T) {
			t.Parallel()
			if c.mode == "floods-memory" && raced {
				t.Skip("a raced program reserves more than any limit")
			}
			h, _ := testHost(t, c.mode, "shawm")
			h.CallTimeout = time.Second
			if c.mode == "floods-memory" {
				h.CallTimeout = 20 * time.Second
			}
			if c.mode == "endless-line" {
				h.StartTimeout = 700 * time.Millisecond
			}
			h.testOnlyGrace = time.Second
			begun := time.Now()
			_, err := h.Set(context.Background(), c.mode, 1)
			took := time.Since(begun)
			b, ok := errors.AsType[*BrokenError](err)
			if !ok {
				t.Fatalf("got %v", err)
			}
			if b.Name != c.mode || !strings.HasPrefix(err.Error(), "instrument "+c.mode+": its plugin ") || !strings.Contains(err.Error(), c.what) {
				t.Errorf("it says %q, want %q", err, c.what)
			}
			if strings.ContainsAny(err.Error(), "\x1b\x07\n\u202e") || len(err.Error()) > 1000 {
				t.Errorf("%q would act on a terminal", err)
			}
			if limit := h.StartTimeout + h.CallTimeout + h.testOnlyGrace + 2*time.Second; took > limit {
				t.Errorf("it took %s, more than %s", took, limit)
			}
			t.Logf("%s: %v", took.Round(time.Millisecond), err)
			h.StartTimeout, h.CallTimeout = 30*time.Second, 10*time.Second
			goesOn(t, h)
		})
	}
}

// These answer well for all their manners; testHost finds what they leave.
func TestBadMannersThatDoNoHarm(t *testing.T) {
	t.Parallel()
	for _, mode := range []string{"prints-later", "endless-complaints", "writes-files", "changes-its-answer"} {
		t.Run(mode, func(t *testing.T) {
			t.Parallel()
			h, _ := testHost(t, mode, "shawm")
			h.testOnlyGrace = 0
			set, err := h.Set(context.Background(), mode, 1)
			if err != nil {
				t.Fatal(err)
			}
			if set.ID != mode || len(set.Dimensions) != 1 {
				t.Errorf("got %+v", set)
			}
			goesOn(t, h)
		})
	}
}

// While one hangs, others are asked: nobody waits for a bad plugin.
func TestABadPluginKeepsNobodyWaiting(t *testing.T) {
	t.Parallel()
	h, _ := testHost(t, "hangs-in-a-call", "shawm")
	ctx, stop := context.WithCancel(context.Background())
	done := make(chan error, 1)
	go func() {
		_, err := h.Set(ctx, "hangs-in-a-call", 1)
		done <- err
	}()
	goesOn(t, h)
	select {
	case err := <-done:
		t.Errorf("the other had ended: %v", err)
	default:
	}
	stop()
	if err := <-done; !errors.Is(err, context.Canceled) {
		t.Errorf("got %v", err)
	}
}
