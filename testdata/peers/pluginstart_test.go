package peers

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"runtime"
	"slices"
	"strconv"
	"sync"
	"testing"
	"time"

	"github.com/hashicorp/go-hclog"
	"github.com/hashicorp/go-plugin"
	"google.golang.org/grpc"

	"canewright/plugins/host"
)

// The measures of issue 5, in the host's own process. Ours is all that stands
// between a recipe and its dimension set: start, certificates, Describe, Get,
// the judging of the whole answer. Bare is go-plugin as it comes: start,
// AutoMTLS, one empty call. In turn (A B A B …), so that a machine that slows
// down slows both; medians, so that a hiccup counts for nothing.
//
//	CANEWRIGHT=…/canewright BAREPLUGIN=…/bareplugin go test -count=1 -run PluginStart -v .
const (
	mostOfBare = 1.2 // one of ours against one bare
	mostOfOne  = 2.0 // five of ours at once against one of ours
	atOnce     = 5
)

func TestPluginStart(t *testing.T) {
	ours, bare := os.Getenv("CANEWRIGHT"), os.Getenv("BAREPLUGIN")
	if ours == "" || bare == "" {
		t.Skip("CANEWRIGHT and BAREPLUGIN name no programs to time")
	}
	runs := 60
	if n, err := strconv.Atoi(os.Getenv("RUNS")); err == nil && n > 0 {
		runs = n
	}
	took := map[string][]time.Duration{}
	order := []string{"bare, answered", "bare, stopped", "bassoon, answered", "bassoon, stopped", "smallest, answered", "smallest, stopped", "five at once, answered", "five at once, stopped", "five bare at once, stopped"}
	for i := range runs + 1 {
		round := map[string]time.Duration{}
		round["bare, answered"], round["bare, stopped"] = startBare(t, bare)
		round["bassoon, answered"], round["bassoon, stopped"] = startOurs(t, ours, "bassoon")
		round["smallest, answered"], round["smallest, stopped"] = startOurs(t, ours, "contrabassoon")
		round["five at once, answered"], round["five at once, stopped"] = startOurs(t, ours, slices.Repeat([]string{"bassoon"}, atOnce)...)
		begin := time.Now()
		each(atOnce, func(int) { startBare(t, bare) })
		round["five bare at once, stopped"] = time.Since(begin)
		for name, d := range round {
			if i > 0 { // the first run fills the page cache
				took[name] = append(took[name], d)
			}
		}
	}
	t.Logf("%d processors", runtime.NumCPU())
	for _, name := range order {
		t.Logf("%-27s median %.1f ms, %.1f to %.1f", name, ms(median(took[name])), ms(slices.Min(took[name])), ms(slices.Max(took[name])))
	}
	for _, c := range []struct {
		what, one, other string
		most             float64
	}{
		{"one plugin's start against a bare one", "bassoon", "bare", mostOfBare},
		{"five at once against one", "five at once", "bassoon", mostOfOne},
	} {
		for _, to := range []string{", answered", ", stopped"} {
			ratio := float64(median(took[c.one+to])) / float64(median(took[c.other+to]))
			says := fmt.Sprintf("%s%s: %.2f, at most %.1f", c.what, to, ratio, c.most)
			if ratio > c.most {
				t.Error(says)
			} else {
				t.Log(says)
			}
		}
	}
}

// startOurs starts all the instruments at the same time.
func startOurs(t *testing.T, exe string, names ...string) (answered, stopped time.Duration) {
	t.Helper()
	h := &host.Host{Bundled: slices.Compact(slices.Sorted(slices.Values(names))), Exe: exe}
	faults := make([]error, len(names))
	stops := make([]func(), len(names))
	begin := time.Now()
	each(len(names), func(i int) { _, stops[i], faults[i] = h.Ask(context.Background(), names[i], 1) })
	answered = time.Since(begin)
	each(len(names), func(i int) { stops[i]() })
	stopped = time.Since(begin)
	if err := errors.Join(faults...); err != nil {
		t.Fatal(err)
	}
	return answered, stopped
}

func each(n int, do func(i int)) {
	var all sync.WaitGroup
	for i := range n {
		all.Go(func() { do(i) })
	}
	all.Wait()
}

// bareService has no service: the one call is to go-plugin's health service.
type bareService struct{ plugin.NetRPCUnsupportedPlugin }

func (bareService) GRPCServer(*plugin.GRPCBroker, *grpc.Server) error { return nil }

func (bareService) GRPCClient(context.Context, *plugin.GRPCBroker, *grpc.ClientConn) (any, error) {
	return nil, nil
}

func startBare(t *testing.T, exe string) (answered, stopped time.Duration) {
	t.Helper()
	begin := time.Now()
	c := plugin.NewClient(&plugin.ClientConfig{
		HandshakeConfig:  plugin.HandshakeConfig{ProtocolVersion: 1, MagicCookieKey: "BARE_PLUGIN", MagicCookieValue: "bare"},
		Plugins:          plugin.PluginSet{"nothing": bareService{}},
		Cmd:              exec.Command(exe, "serve"),
		AllowedProtocols: []plugin.Protocol{plugin.ProtocolGRPC},
		AutoMTLS:         true, Logger: hclog.NewNullLogger(),
	})
	defer c.Kill()
	p, err := c.Client()
	if err == nil {
		err = p.Ping()
	}
	if err != nil {
		t.Error(err)
		return 0, 0
	}
	answered = time.Since(begin)
	c.Kill()
	return answered, time.Since(begin)
}
