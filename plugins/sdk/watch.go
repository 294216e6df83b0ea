package sdk

import (
	"context"
	"os"
	"sync"
	"time"

	"google.golang.org/grpc/stats"
)

// The host may be killed without a word, and a plugin must not outlive it by
// more than a second. Two signs: the parent process changed (not on Windows,
// where it never does), and the last connection went without a new one.
const (
	parentEvery  = 200 * time.Millisecond
	lonelyFor    = 700 * time.Millisecond
	nobodyCameIn = 30 * time.Second // a host gives up on starting after 5 s, under test after 30 s
)

// watch is told of connections by the gRPC server.
type watch struct {
	mu    sync.Mutex
	conns int
	alone *time.Timer
	gone  func()
}

func newWatch() *watch {
	w := &watch{gone: leave}
	w.alone = time.AfterFunc(nobodyCameIn, func() { w.gone() })
	parent := os.Getppid()
	go func() {
		for os.Getppid() == parent {
			time.Sleep(parentEvery)
		}
		w.gone()
	}()
	return w
}

// leave ends the program and takes its socket along.
func leave() {
	if dir := os.Getenv("PLUGIN_UNIX_SOCKET_DIR"); dir != "" {
		_ = os.RemoveAll(dir)
	}
	os.Exit(0)
}

func (w *watch) HandleConn(_ context.Context, s stats.ConnStats) {
	w.mu.Lock()
	defer w.mu.Unlock()
	switch s.(type) {
	case *stats.ConnBegin:
		w.conns++
		w.alone.Stop()
	case *stats.ConnEnd:
		if w.conns--; w.conns == 0 {
			w.alone.Reset(lonelyFor)
		}
	}
}

func (w *watch) TagConn(ctx context.Context, _ *stats.ConnTagInfo) context.Context { return ctx }
func (w *watch) TagRPC(ctx context.Context, _ *stats.RPCTagInfo) context.Context   { return ctx }
func (w *watch) HandleRPC(context.Context, stats.RPCStats)                         {}
