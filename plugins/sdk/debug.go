package sdk

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"net"
	"os"
	"path/filepath"

	"google.golang.org/grpc"

	"canewright/plugins/proto"
	dimsetv1 "canewright/plugins/proto/dimset/v1"
)

// DebugArg is the only argument of a program that Serve answers by hand: it
// then waits to be attached to, in a debugger for instance, until it is ended.
const DebugArg = "debug"

// debug serves without a handshake, prints how canewright finds it, and ends
// with ctx. Who can open the socket can ask: it lies in a folder of this user's
// own.
func debug(ctx context.Context, out io.Writer, instruments []Instrument) error {
	s, err := newServer(instruments)
	if err != nil {
		return err
	}
	dir, err := os.MkdirTemp("", "cw-debug-")
	if err != nil {
		return fmt.Errorf("make a folder for the socket: %w", err)
	}
	defer func() { _ = os.RemoveAll(dir) }()
	where, err := net.Listen("unix", filepath.Join(dir, "s"))
	if err != nil {
		return fmt.Errorf("listen: %w", err)
	}
	type addr struct{ Network, String string }
	line, err := json.Marshal(map[string]any{instruments[0].ID: struct {
		Protocol        string
		ProtocolVersion int
		Pid             int
		Test            bool
		Addr            addr
	}{"grpc", proto.Wire, os.Getpid(), true, addr{where.Addr().Network(), where.Addr().String()}}})
	if err != nil {
		return fmt.Errorf("say where it listens: %w", err)
	}
	_, _ = fmt.Fprintf(out, "In another window, while this runs:\nexport CANEWRIGHT_REATTACH='%s'\n", line)
	g := grpc.NewServer(serverOptions()...)
	dimsetv1.RegisterDimensionSetsServer(g, s)
	defer context.AfterFunc(ctx, g.Stop)()
	return g.Serve(where)
}
