package host

import (
	"context"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"sync"
	"time"

	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/status"
	"google.golang.org/protobuf/encoding/protowire"

	"canewright/engine/dimension"
	"canewright/plugins/proto"
	dimsetv1 "canewright/plugins/proto/dimset/v1"
)

// Host starts plugins. Safe for concurrent use; nothing runs between calls,
// but between Ask and its stop.
type Host struct {
	Bundled []string                       // instruments the executable serves itself
	Store   Store                          // those the player has added
	Attach  map[string]Attach              // those an author runs in a debugger; they come before the others
	Exe     string                         // what to start; empty: this executable
	Args    func(names ...string) []string // its arguments; nil: proto.ServeArg and the names
	Log     io.Writer                      // gets what plugins write on their standard error; nil: dropped
	// Random now and then puts into a request what no plugin can know, so that
	// none comes to depend on silence. Nil: never.
	Random *rand.Rand
	// Zero: 5 s and 2 s.
	StartTimeout, CallTimeout time.Duration
	TempDir                   string // where private folders are made; empty: the system's

	testOnlyGrace time.Duration // zero: grace

	random, log sync.Mutex // neither source nor writer need be safe for concurrent use
}

// Summary is what a plugin says of one of its dimension sets.
type Summary struct {
	Name         string // of the plugin
	ID, Title    string // of the set
	Major, Minor int
	Version      string // of the plugin, its own words
	Contact      string
}

// Set is the dimension set of this instrument and major version. Errors are
// *NotFoundError, *VersionError and *BrokenError, or the context's.
func (h *Host) Set(ctx context.Context, name string, major int) (*dimension.Set, error) {
	set, stop, err := h.Ask(ctx, name, major)
	stop()
	return set, err
}

// Ask is Set for a caller who has something to do while the plugin ends: it is
// asked to, and waited for, only in stop. Stop must be called once, also after
// an error.
func (h *Host) Ask(ctx context.Context, name string, major int) (set *dimension.Set, stop func(), err error) {
	p, err := h.open(ctx, name)
	if err != nil {
		return nil, func() {}, err
	}
	set, err = p.set(ctx, name, major)
	return set, p.stop, err
}

func (p *running) set(ctx context.Context, name string, major int) (*dimension.Set, error) {
	if major < 0 {
		return nil, p.versions(ctx, major)
	}
	var answer *dimsetv1.GetResponse
	err := p.call(ctx, "Get", func(ctx context.Context) (err error) {
		answer, err = p.sets.Get(ctx, &dimsetv1.GetRequest{Id: name, Major: uint32(major)})
		return err
	})
	if status.Code(errors.Unwrap(err)) == codes.NotFound {
		return nil, p.versions(ctx, major)
	}
	if err != nil {
		return nil, err
	}
	set, err := fromWire(answer.GetSet())
	if err != nil {
		return nil, p.broken("sent a dimension set that cannot be read: "+err.Error(), err)
	}
	if set.ID != name || set.Major != major {
		return nil, p.broken(fmt.Sprintf("was asked for the dimension set %s %d and sent %s %d", name, major, printable(set.ID), set.Major), nil)
	}
	if err := checked(set); err != nil {
		return nil, p.broken("sent a dimension set that cannot be used: "+err.Error(), err)
	}
	return set, nil
}

// Majors are all the sets an instrument serves under its name, in its own order.
func (h *Host) Majors(ctx context.Context, name string) ([]*dimension.Set, error) {
	p, err := h.open(ctx, name)
	if err != nil {
		return nil, err
	}
	defer p.stop()
	sums, err := p.list(ctx)
	if err != nil {
		return nil, err
	}
	var out []*dimension.Set
	for _, s := range sums {
		if s.ID != name {
			continue
		}
		set, err := p.set(ctx, name, s.Major)
		if err != nil {
			return nil, err
		}
		out = append(out, set)
	}
	return out, nil
}

// Names are all instruments: Bundled in their order, then those added.
func (h *Host) Names() []string {
	out := slices.Clone(h.Bundled)
	for _, name := range append(h.Store.Names(), h.attachedNames()...) {
		if !slices.Contains(out, name) {
			out = append(out, name)
		}
	}
	return out
}

// List asks every plugin what it holds, in the order of Names. One that fails
// is part of the error and does not hide the others.
func (h *Host) List(ctx context.Context) ([]Summary, error) {
	names := h.Names()
	lists, faults := make([][]Summary, len(names)), make([]error, len(names))
	h.each(ctx, names, func(p *running, err error, i int) bool {
		if err == nil {
			lists[i], err = p.list(ctx)
		}
		faults[i] = err
		return alone(err)
	})
	return slices.Concat(lists...), errors.Join(faults...)
}

// open finds a plugin, starts it and lets it introduce itself.
func (h *Host) open(ctx context.Context, name string) (*running, error) {
	return h.openAll(ctx, []string{name})
}

// openAll does so for bundled instruments, or for some without code, which one
// process serves, or for a single other one.
func (h *Host) openAll(ctx context.Context, names []string) (*running, error) {
	name := names[0]
	if err := ctx.Err(); err != nil {
		return nil, fmt.Errorf("start instrument %s: %w", printable(name), err)
	}
	if a, ok := h.Attach[name]; ok {
		p, err := h.attach(name, a)
		if err != nil {
			return nil, err
		}
		return h.introduced(ctx, p)
	}
	if h.shared(name) {
		p, err := h.begin(ctx, strings.Join(names, ", "), func(string) (string, []string, error) { return h.itself(names) })
		if err == nil {
			p.serves = names
		}
		return p, err
	}
	if len(names) > 1 {
		return h.openCodeless(ctx, names)
	}
	added, err := h.Store.Find(name)
	if err != nil {
		return nil, err
	}
	if added == nil {
		return nil, &NotFoundError{Name: name, Known: h.Names()}
	}
	return h.begin(ctx, name, added.command)
}

// openCodeless starts one process for several instruments without code.
func (h *Host) openCodeless(ctx context.Context, names []string) (*running, error) {
	var dirs []string
	for _, n := range names {
		a := h.codeless(n)
		if a == nil { // gone since it was listed
			return nil, &BrokenError{Name: n, What: "is not there any more"}
		}
		dirs = append(dirs, a.Dir)
	}
	p, err := h.begin(ctx, strings.Join(names, ", "), func(string) (string, []string, error) {
		exe, err := os.Executable()
		if err != nil {
			return "", nil, fmt.Errorf("find this program's file: %w", err)
		}
		return exe, append([]string{proto.ServeFolderArg}, dirs...), nil
	})
	if err == nil {
		p.serves = names
	}
	return p, err
}

// itself is how the executable is started as bundled instruments.
func (h *Host) itself(names []string) (exe string, args []string, err error) {
	if exe = h.Exe; exe == "" {
		if exe, err = os.Executable(); err != nil {
			return "", nil, fmt.Errorf("find this program's file: %w", err)
		}
	}
	if h.Args != nil {
		return exe, h.Args(names...), nil
	}
	return exe, append([]string{proto.ServeArg}, names...), nil
}

// begin starts a plugin and lets it introduce itself.
func (h *Host) begin(ctx context.Context, name string, command command) (*running, error) {
	p, err := h.start(ctx, name, command)
	if err != nil {
		return nil, err
	}
	return h.introduced(ctx, p)
}

func (h *Host) introduced(ctx context.Context, p *running) (*running, error) {
	if err := p.introduce(ctx, h.describeRequest()); err != nil {
		p.stop()
		return nil, err
	}
	return p, nil
}

// describeRequest is the first request; one time in three it holds a field and
// a capability that do not exist.
func (h *Host) describeRequest() *dimsetv1.DescribeRequest {
	r := &dimsetv1.DescribeRequest{Wires: []uint32{proto.Wire}}
	if h.Random == nil {
		return r
	}
	h.random.Lock()
	defer h.random.Unlock()
	if h.Random.IntN(3) != 0 {
		return r
	}
	r.Capabilities = append(r.Capabilities, fmt.Sprintf("nobody-knows-%08x", h.Random.Uint32()))
	// From 1000 on: no field of this wire will ever have such a number.
	field := protowire.Number(1000 + h.Random.IntN(1000))
	b := protowire.AppendTag(nil, field, protowire.VarintType)
	r.ProtoReflect().SetUnknown(protowire.AppendVarint(b, h.Random.Uint64()))
	return r
}

func (h *Host) startTimeout() time.Duration {
	if h.StartTimeout > 0 {
		return h.StartTimeout
	}
	return 5 * time.Second
}

func (h *Host) callTimeout() time.Duration {
	if h.CallTimeout > 0 {
		return h.CallTimeout
	}
	return 2 * time.Second
}
