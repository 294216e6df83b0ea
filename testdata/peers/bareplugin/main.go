// Command bareplugin is the least that starting a plugin takes: it starts
// itself as a go-plugin over gRPC with AutoMTLS, makes one call, stops it, and
// prints "ready". Starting canewright is timed against it.
package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"

	"github.com/hashicorp/go-hclog"
	"github.com/hashicorp/go-plugin"
	"google.golang.org/grpc"
)

var handshake = plugin.HandshakeConfig{ProtocolVersion: 1, MagicCookieKey: "BARE_PLUGIN", MagicCookieValue: "bare"}

// nothing is a plugin with no service of its own: go-plugin's health service is
// there without it, and the one call is to that.
type nothing struct{ plugin.NetRPCUnsupportedPlugin }

func (nothing) GRPCServer(*plugin.GRPCBroker, *grpc.Server) error { return nil }

func (nothing) GRPCClient(context.Context, *plugin.GRPCBroker, *grpc.ClientConn) (any, error) {
	return nil, nil
}

func main() {
	if len(os.Args) == 2 && os.Args[1] == "serve" {
		plugin.Serve(&plugin.ServeConfig{
			HandshakeConfig: handshake,
			Plugins:         plugin.PluginSet{"nothing": nothing{}},
			GRPCServer:      plugin.DefaultGRPCServer,
			Logger:          hclog.NewNullLogger(),
		})
		return
	}
	if err := ask(); err != nil {
		fmt.Fprintln(os.Stderr, "bareplugin:", err)
		os.Exit(1)
	}
	fmt.Println("ready")
}

func ask() error {
	exe, err := os.Executable()
	if err != nil {
		return fmt.Errorf("find this program's file: %w", err)
	}
	client := plugin.NewClient(&plugin.ClientConfig{
		HandshakeConfig:  handshake,
		Plugins:          plugin.PluginSet{"nothing": nothing{}},
		Cmd:              exec.Command(exe, "serve"),
		AllowedProtocols: []plugin.Protocol{plugin.ProtocolGRPC},
		AutoMTLS:         true,
		Logger:           hclog.NewNullLogger(),
	})
	defer client.Kill()
	protocol, err := client.Client()
	if err != nil {
		return fmt.Errorf("start the plugin: %w", err)
	}
	if _, err := protocol.Dispense("nothing"); err != nil {
		return fmt.Errorf("dispense: %w", err)
	}
	if err := protocol.Ping(); err != nil {
		return fmt.Errorf("call the plugin: %w", err)
	}
	client.Kill()
	if !client.Exited() {
		return errors.New("stop the plugin: it is still there")
	}
	return nil
}
