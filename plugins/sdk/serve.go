package sdk

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/signal"

	"github.com/hashicorp/go-hclog"
	"github.com/hashicorp/go-plugin"
	"google.golang.org/grpc"

	"canewright/plugins/proto"
	dimsetv1 "canewright/plugins/proto/dimset/v1"
)

// stdout is the real standard output while os.Stdout points at the standard
// error: the first line there must be the handshake, and a package that is
// initialised after this one may print. It is nil in a program that was not
// started as a plugin, whose standard output is left alone: canewright itself
// links this package.
var stdout *os.File

func init() {
	if os.Getenv(proto.CookieKey) == proto.CookieValue {
		stdout, os.Stdout = os.Stdout, os.Stderr
	}
}

// Started reports that this program was started as a plugin, and Serve is what
// it is for. A test binary that then calls main can be given to conform.Test.
func Started() bool { return stdout != nil }

// Serve serves the instruments until the host says it is enough, or is gone.
// Usually there is one; several are major versions of one, or what one program
// brings (the host asks a player's own for the one of its name). It does not return
// when something is wrong: it says what on the standard error and exits.
//
// Started by hand with the argument debug it waits to be attached to.
func Serve(instruments ...Instrument) {
	if stdout == nil && len(os.Args) == 2 && os.Args[1] == DebugArg {
		ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
		defer stop()
		if err := debug(ctx, os.Stdout, instruments); err != nil {
			exit(err)
		}
		return
	}
	if stdout == nil {
		exit(errors.New("this program answers canewright and cannot be used by hand"))
	}
	s, err := newServer(instruments)
	if err != nil {
		exit(err)
	}
	watch := newWatch()
	certificate, err := shakeHands(stdout)
	if err != nil {
		exit(err)
	}
	plugin.Serve(&plugin.ServeConfig{
		HandshakeConfig:  plugin.HandshakeConfig{MagicCookieKey: proto.CookieKey, MagicCookieValue: proto.CookieValue},
		VersionedPlugins: map[int]plugin.PluginSet{proto.Wire: {proto.Service: registrar{server: s}}},
		TLSProvider:      certificate,
		GRPCServer: func(o []grpc.ServerOption) *grpc.Server {
			return grpc.NewServer(append(append(o, serverOptions()...), grpc.StatsHandler(watch))...)
		},
		Logger: hclog.New(&hclog.LoggerOptions{Level: hclog.Error, Output: os.Stderr}),
	})
}

func exit(err error) {
	fmt.Fprintln(os.Stderr, "serve an instrument:", err)
	os.Exit(1)
}

// registrar is the shape go-plugin wants a service in.
type registrar struct {
	plugin.NetRPCUnsupportedPlugin
	server dimsetv1.DimensionSetsServer
}

func (r registrar) GRPCServer(_ *plugin.GRPCBroker, g *grpc.Server) error {
	dimsetv1.RegisterDimensionSetsServer(g, r.server)
	return nil
}

func (registrar) GRPCClient(context.Context, *plugin.GRPCBroker, *grpc.ClientConn) (any, error) {
	return nil, errors.New("this end only serves")
}
