package host

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync/atomic"
	"time"

	"github.com/hashicorp/go-hclog"
	"github.com/hashicorp/go-plugin"
	"github.com/hashicorp/go-plugin/runner"
	"google.golang.org/grpc"
	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/status"

	"canewright/plugins/proto"
	dimsetv1 "canewright/plugins/proto/dimset/v1"
)

// grace is how long a plugin that was asked to stop has before it is killed.
// It holds nothing that could be lost.
const grace = 200 * time.Millisecond

// running is one started plugin.
type running struct {
	name    string   // of the instrument it was started for; of several, all, with commas
	serves  []string // bundled instruments it was started for
	host    *Host
	dir     string // private folder, holds the other two; removed by stop
	sockets string
	client  *plugin.Client
	process *process
	stderr  *capture
	late    *atomic.Bool // the time for starting is over
	sets    dimsetv1.DimensionSetsClient
	about   *dimsetv1.DescribeResponse
	// attached is the connection to a plugin somebody else has started; client
	// and process are nil then.
	attached *grpc.ClientConn
}

// command says what to start; dir is the private folder of this start.
type command func(dir string) (exe string, args []string, err error)

// service is the shape go-plugin wants a service in.
type service struct{ plugin.NetRPCUnsupportedPlugin }

func (service) GRPCServer(*plugin.GRPCBroker, *grpc.Server) error {
	return errors.New("this end only asks")
}

func (service) GRPCClient(_ context.Context, _ *plugin.GRPCBroker, c *grpc.ClientConn) (any, error) {
	return dimsetv1.NewDimensionSetsClient(c), nil
}

// start runs the program, shakes hands and connects.
func (h *Host) start(ctx context.Context, name string, command command) (*running, error) {
	dir, err := h.privateFolder()
	if err != nil {
		return nil, fmt.Errorf("start instrument %s: %w", name, err)
	}
	exe, args, err := command(dir)
	if err != nil {
		_ = os.RemoveAll(dir)
		if _, ok := errors.AsType[*TrustError](err); ok {
			return nil, err
		}
		if _, ok := errors.AsType[*ApprovalError](err); ok {
			return nil, err
		}
		return nil, fmt.Errorf("start instrument %s: %w", name, err)
	}
	p := &running{name: name, host: h, dir: dir, stderr: &capture{}, late: &atomic.Bool{}}
	p.process, err = newProcess(exe, args, filepath.Join(dir, "work"), p.stderr)
	if err != nil {
		_ = os.RemoveAll(dir)
		return nil, fmt.Errorf("start instrument %s: %w", name, err)
	}
	mutual, certificate, err := mutualTLS(time.Now())
	if err != nil {
		p.process.close()
		_ = os.RemoveAll(dir)
		return nil, fmt.Errorf("start instrument %s: %w", name, err)
	}
	p.client = plugin.NewClient(&plugin.ClientConfig{
		HandshakeConfig:  plugin.HandshakeConfig{MagicCookieKey: proto.CookieKey, MagicCookieValue: proto.CookieValue},
		VersionedPlugins: map[int]plugin.PluginSet{proto.Wire: {proto.Service: service{}}},
		AllowedProtocols: []plugin.Protocol{plugin.ProtocolGRPC},
		TLSConfig:        mutual,
		SkipHostEnv:      true,
		StartTimeout:     2 * h.startTimeout(), // ours ends it first, and covers connecting too
		Logger:           hclog.NewNullLogger(),
		SyncStdout:       p.stderr, // what it prints after the handshake
		SyncStderr:       p.stderr,
		UnixSocketConfig: &plugin.UnixSocketConfig{TempDir: dir},
		GRPCDialOptions: []grpc.DialOption{
			grpc.WithDefaultCallOptions(grpc.MaxCallRecvMsgSize(proto.LargestAnswer)),
		},
		RunnerFunc: func(_ hclog.Logger, cmd *exec.Cmd, socketDir string) (runner.Runner, error) {
			p.sockets, p.process.sockets = socketDir, socketDir
			p.process.environment(append(cmd.Env, clientCertificate+"="+certificate))
			return p.process, nil
		},
	})
	// go-plugin's start and stop know no context: ending the process is what
	// makes them return.
	undo := context.AfterFunc(ctx, p.process.kill)
	defer undo()
	limit := time.AfterFunc(h.startTimeout(), func() {
		p.late.Store(true)
		p.process.kill()
	})
	defer limit.Stop()
	protocol, err := p.client.Client()
	if err == nil && (p.late.Load() || ctx.Err() != nil) {
		err = errors.New("the connection was never made")
	}
	if err != nil {
		err = p.startFault(ctx, err)
		p.stop()
		return nil, err
	}
	raw, err := protocol.Dispense(proto.Service)
	if err != nil {
		p.stop()
		return nil, fmt.Errorf("start instrument %s: %w", name, err)
	}
	p.sets = raw.(dimsetv1.DimensionSetsClient)
	return p, nil
}

// wireMismatch is go-plugin's only word about versions that do not meet; a
// test holds the text.
var wireMismatch = regexp.MustCompile(`incompatible API version with plugin\. Plugin version: (\d+), Client versions:`)

// handshake begins every line that is one.
var handshake = regexp.MustCompile(`^\d+\|\d+\|`)

func (p *running) startFault(ctx context.Context, err error) error {
	if ctx.Err() != nil {
		return fmt.Errorf("start instrument %s: %w", p.name, ctx.Err())
	}
	if m := wireMismatch.FindStringSubmatch(err.Error()); m != nil {
		wire, _ := strconv.Atoi(m[1])
		return wireFault(p.name, wire)
	}
	line := p.process.firstLine()
	exit, ended := p.process.ended(100 * time.Millisecond)
	switch {
	case p.process.pid() == 0:
		return p.broken("cannot be started: "+err.Error(), err)
	case line != "" && !handshake.MatchString(line):
		return p.broken(fmt.Sprintf("printed %q before the handshake; the first line of its standard output must be the handshake", clip(line)), err)
	case p.late.Load():
		return p.broken(fmt.Sprintf("was not ready within %s", p.host.startTimeout()), err)
	case line != "": // go-plugin has read it, and ended the program
		why, _, _ := strings.Cut(err.Error(), "\n")
		return p.broken(fmt.Sprintf("printed a handshake that cannot be used: %s; it is %q", printable(why), clip(line)), err)
	case ended:
		return p.broken(fmt.Sprintf("ended before it was ready (%s)", exit), err)
	}
	return p.broken("could not be connected to: "+printable(err.Error()), err)
}

// call makes one call with a deadline, and says what happened if it fails. The
// error is a *BrokenError around gRPC's, or the context's.
func (p *running) call(ctx context.Context, what string, do func(context.Context) error) error {
	limited, cancel := context.WithTimeout(ctx, p.host.callTimeout())
	defer cancel()
	err := do(limited)
	if err == nil {
		return nil
	}
	s, _ := status.FromError(err)
	if s.Code() == codes.DeadlineExceeded {
		<-limited.Done() // the plugin's clock may be a moment ahead of ours
	}
	if ctx.Err() != nil {
		return fmt.Errorf("ask instrument %s: %s: %w", p.name, what, ctx.Err())
	}
	switch {
	case p.attached != nil && (s.Code() == codes.Unavailable || s.Code() == codes.Canceled):
		return p.broken("cannot be reached: "+clip(printable(s.Message())), err)
	case s.Code() == codes.Unavailable || s.Code() == codes.Canceled:
		if exit, ok := p.process.ended(500 * time.Millisecond); ok {
			return p.broken(fmt.Sprintf("ended in the middle of %s (%s)", what, exit), err)
		}
		return p.broken(fmt.Sprintf("closed the connection in the middle of %s", what), err)
	case s.Code() == codes.DeadlineExceeded:
		return p.broken(fmt.Sprintf("did not answer %s within %s", what, p.host.callTimeout()), err)
	case s.Code() == codes.ResourceExhausted && strings.Contains(s.Message(), "larger than max"):
		return p.broken(fmt.Sprintf("answered %s with more than %d MiB", what, proto.LargestAnswer>>20), err)
	case s.Code() == codes.Unimplemented:
		return p.broken(fmt.Sprintf("does not know the call %s", what), err)
	}
	return p.broken(fmt.Sprintf("answered %s with an error: %s", what, clip(printable(s.Message()))), err)
}

// introduce makes the first call and reads who the plugin is.
func (p *running) introduce(ctx context.Context, r *dimsetv1.DescribeRequest) error {
	err := p.call(ctx, "Describe", func(ctx context.Context) (err error) {
		p.about, err = p.sets.Describe(ctx, r)
		return err
	})
	if err != nil {
		return err
	}
	if w := p.about.GetWire(); w != proto.Wire {
		return wireFault(p.name, int(w))
	}
	// This host has no capability beyond wire 1.
	if need := p.about.GetRequiredCapabilities(); len(need) > 0 {
		return capabilityFault(p.name, need)
	}
	// The connection stands and is never made again, so its socket can go: none
	// stays behind if this process is killed from here on.
	if p.sockets != "" {
		_ = os.RemoveAll(p.sockets)
	}
	return nil
}

func (p *running) list(ctx context.Context) ([]Summary, error) {
	var answer *dimsetv1.ListResponse
	err := p.call(ctx, "List", func(ctx context.Context) (err error) {
		answer, err = p.sets.List(ctx, &dimsetv1.ListRequest{})
		return err
	})
	if err != nil {
		return nil, err
	}
	var out []Summary
	for _, s := range answer.GetSets() {
		if len(p.serves) > 1 && s.GetId() != p.name {
			continue // a neighbour's
		}
		out = append(out, Summary{
			Name: p.name, ID: printable(s.GetId()), Title: printable(s.GetTitle()),
			Major: int(s.GetMajor()), Minor: int(s.GetMinor()),
			Version: printable(cmp.Or(s.GetPluginVersion(), p.about.GetPluginVersion())),
			Contact: printable(cmp.Or(s.GetContact(), p.about.GetContact())),
		})
	}
	if len(out) == 0 && len(p.serves) > 1 {
		return nil, p.broken("holds no dimension set of its own name", nil)
	}
	return out, nil
}

// versions says why a set was not found: the plugin is older, or the recipe.
func (p *running) versions(ctx context.Context, asked int) error {
	sums, err := p.list(ctx)
	if err != nil {
		return err
	}
	var has []int
	for _, s := range sums {
		if s.ID == p.name {
			has = append(has, s.Major)
		}
	}
	if len(has) == 0 {
		return p.broken("holds no dimension set of its own name", nil)
	}
	slices.Sort(has)
	if slices.Contains(has, asked) {
		return p.broken(fmt.Sprintf("lists the dimension set %s %d and does not have it", p.name, asked), nil)
	}
	return majorFault(p.name, asked, has)
}

func (p *running) broken(what string, cause error) error {
	if p.attached != nil {
		return &BrokenError{Name: p.name, What: what + " (it was attached to, not started)", Cause: cause}
	}
	p.process.drained(grace)
	return &BrokenError{Name: p.name, What: what, Cause: cause, Stderr: p.stderr.text()}
}

// stop asks, waits a moment, and kills. It returns when the process is gone.
func (p *running) stop() {
	if p.attached != nil {
		_ = p.attached.Close()
		return
	}
	patience := grace
	if p.host.testOnlyGrace > 0 {
		patience = p.host.testOnlyGrace
	}
	timer := time.AfterFunc(patience, p.process.kill)
	p.client.Kill()
	if !timer.Stop() {
		_, _ = fmt.Fprintln(p.stderr, "it did not stop when asked and was ended")
	}
	p.process.kill()
	p.process.close()
	p.host.logged(p.name, p.stderr.text())
	_ = os.RemoveAll(p.dir)
	p.process.forget()
}

func (h *Host) logged(name, text string) {
	if h.Log == nil || text == "" {
		return
	}
	h.log.Lock()
	defer h.log.Unlock()
	for line := range strings.Lines(text) {
		_, _ = fmt.Fprintf(h.Log, "instrument %s: %s\n", name, strings.TrimRight(line, "\n"))
	}
}
