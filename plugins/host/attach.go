package host

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"net"
	"path/filepath"
	"slices"

	"google.golang.org/grpc"
	"google.golang.org/grpc/credentials/insecure"

	"canewright/plugins/proto"
	dimsetv1 "canewright/plugins/proto/dimset/v1"
)

// Attach is a plugin that its author has started in a debugger. The host
// neither starts, checks nor stops it.
type Attach struct {
	Protocol        string // "grpc"
	ProtocolVersion int
	Pid             int
	Test            bool
	Addr            struct{ Network, String string }
}

// ParseAttach reads the JSON that Debug of the sdk prints: name → where it
// answers.
func ParseAttach(text string) (map[string]Attach, error) {
	if text == "" {
		return nil, nil
	}
	var all map[string]Attach
	if err := json.Unmarshal([]byte(text), &all); err != nil {
		return nil, fmt.Errorf("read which plugins to attach to: %w", err)
	}
	for name, a := range all {
		if err := a.check(); err != nil {
			return nil, fmt.Errorf("attach to plugin %q: %w", clip(printable(name)), err)
		}
		if !nameForm.MatchString(name) {
			return nil, fmt.Errorf("attach to plugin %q: this is no name for an instrument", clip(printable(name)))
		}
	}
	return all, nil
}

// check lets nothing through that is not on this machine.
func (a Attach) check() error {
	if a.Protocol != "grpc" {
		return fmt.Errorf("its protocol is %q, not grpc", clip(printable(a.Protocol)))
	}
	switch a.Addr.Network {
	case "unix":
		if filepath.IsAbs(a.Addr.String) {
			return nil
		}
	case "tcp":
		host, _, err := net.SplitHostPort(a.Addr.String)
		if ip := net.ParseIP(host); err == nil && ip != nil && ip.IsLoopback() {
			return nil
		}
	}
	return errors.New("its address is neither a socket with its whole path nor a port of this machine")
}

// attach connects to a plugin that runs already.
func (h *Host) attach(name string, a Attach) (*running, error) {
	if a.ProtocolVersion != proto.Wire {
		return nil, wireFault(name, a.ProtocolVersion)
	}
	conn, err := grpc.NewClient("passthrough:///"+name,
		grpc.WithContextDialer(func(ctx context.Context, _ string) (net.Conn, error) {
			return (&net.Dialer{}).DialContext(ctx, a.Addr.Network, a.Addr.String)
		}),
		grpc.WithTransportCredentials(insecure.NewCredentials()),
		grpc.WithDefaultCallOptions(grpc.MaxCallRecvMsgSize(proto.LargestAnswer)))
	if err != nil {
		return nil, fmt.Errorf("attach to instrument %s: %w", name, err)
	}
	return &running{name: name, host: h, stderr: &capture{}, attached: conn, sets: dimsetv1.NewDimensionSetsClient(conn)}, nil
}

// attachedNames are the plugins that are attached to, sorted.
func (h *Host) attachedNames() []string {
	var out []string
	for name := range h.Attach {
		out = append(out, name)
	}
	slices.Sort(out)
	return out
}
