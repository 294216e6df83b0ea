package conform

import (
	"context"
	"crypto/tls"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"time"

	"canewright/engine/dimension"
	"canewright/plugins/host"
	dimsetv1 "canewright/plugins/proto/dimset/v1"
)

// Options change how Run goes; the zero Options are what authors want.
type Options struct {
	// Patience multiplies every limit of time, for a slow machine. 0: 1.
	Patience int
	// MostMemory is the most bytes the plugin may take. 0: 256 MiB.
	MostMemory int64
	// Agree is asked once, after the program was copied and before the copy is
	// run; an error is handed back and nothing is run. Nil: it may run.
	Agree func(Copied) error
}

func (o Options) mostMemory() int64 {
	if o.MostMemory > 0 {
		return o.MostMemory
	}
	return 256 << 20
}

func (o Options) times(d time.Duration) time.Duration { return d * time.Duration(max(o.Patience, 1)) }

// The host's own limits for starting and for a call; the others are ours.
const (
	startLimit  = 5 * time.Second
	callLimit   = 2 * time.Second
	cancelLimit = time.Second     // to the next answer after cancelled calls
	stopLimit   = time.Second     // to its end after it was asked
	goneLimit   = 5 * time.Second // to its end after its host was killed
)

// kit is one run.
type kit struct {
	ctx     context.Context
	opts    Options
	base    string // private folder, removed at the end
	program Program
	starts  int

	tls         *tls.Config
	certificate string

	results map[string]*Check
	about   *dimsetv1.DescribeResponse
	listed  []*dimsetv1.Summary
	answers map[string][]byte // of the first start, by call
	sets    []*dimension.Set
	largest int
	slowest time.Duration
	slow    string // the call that was slowest
}

// Run checks a plugin. The error is for what is no fault of the plugin, and
// for what Agree said; everything else is in the report.
func Run(ctx context.Context, p Program, o Options) (*Report, error) {
	// The signal that ends a plugin when this program is killed follows the
	// thread that started it.
	runtime.LockOSThread()
	defer runtime.UnlockOSThread()
	base, err := os.MkdirTemp(host.TempDir(), "cw-try-")
	if err != nil {
		return nil, fmt.Errorf("try %s: make a private folder: %w", p.Path, err)
	}
	defer func() { _ = os.RemoveAll(base) }()
	k := &kit{ctx: ctx, opts: o, base: base, results: map[string]*Check{}, answers: map[string][]byte{}}
	folder := filepath.Join(base, "p")
	if err := os.Mkdir(folder, 0o700); err != nil {
		return nil, fmt.Errorf("try %s: %w", p.Path, err)
	}
	copied := Copied{}
	if k.program, copied, err = p.prepare(folder); err != nil {
		return nil, fmt.Errorf("try %s: %w", p.Path, err)
	}
	if o.Agree != nil {
		if err := o.Agree(copied); err != nil {
			return nil, err
		}
	}
	if k.tls, k.certificate, err = host.MutualTLS(time.Now()); err != nil {
		return nil, fmt.Errorf("try %s: %w", p.Path, err)
	}
	before, err := contents(folder)
	if err != nil {
		return nil, fmt.Errorf("try %s: look at its folder: %w", p.Path, err)
	}
	k.first()
	if k.passed(readable) {
		k.content()
	}
	if k.passed(inTime) {
		k.again()
		k.orphan()
		if k.passed(describe) && k.passed(versions) {
			k.throughHost()
		}
	}
	if err := ctx.Err(); err != nil {
		return nil, fmt.Errorf("try %s: %w", p.Path, err)
	}
	after, err := contents(folder)
	if err != nil {
		return nil, fmt.Errorf("try %s: look at its folder: %w", p.Path, err)
	}
	if found := changes(before, after); len(found) > 0 {
		k.fail(ownFolder, "write nothing; for what cannot be kept in memory there is the folder named in TMPDIR, which goes when the plugin does", found...)
	} else {
		k.ok(ownFolder)
	}
	return k.report(filepath.Base(p.Path), copied), nil
}

func (k *kit) report(program string, c Copied) *Report {
	r := &Report{Program: host.Printable(program), SHA256: c.SHA256, OK: true}
	if k.about != nil {
		r.Instrument, r.Version = host.Printable(k.about.GetId()), host.Printable(k.about.GetPluginVersion())
	}
	broke := ""
	for _, a := range asks {
		if c := k.results[a.name]; c != nil && c.Result == Failed {
			broke = a.name
			break
		}
	}
	for _, a := range asks {
		c := k.results[a.name]
		if c == nil {
			c = &Check{Result: Skipped, Seen: []string{"not reached: see " + broke}}
		}
		c.Name, c.Asks = a.name, a.what
		if c.Seen == nil {
			c.Seen = []string{}
		}
		r.OK = r.OK && c.Result != Failed
		r.Checks = append(r.Checks, *c)
	}
	return r
}

// most findings shown of one check.
const mostSeen = 6

func (k *kit) set(name string, how Result, do string, seen []string) {
	if old := k.results[name]; old != nil && old.Result == Failed {
		return // the first fault is the one to mend
	}
	var shown []string
	for i, s := range seen {
		if i == mostSeen {
			shown = append(shown, fmt.Sprintf("and %d more", len(seen)-i))
			break
		}
		shown = append(shown, strings.ReplaceAll(host.Printable(s), "\n", " "))
	}
	k.results[name] = &Check{Result: how, Seen: shown, Do: do}
}

func (k *kit) ok(name string, seen ...string)       { k.set(name, OK, "", seen) }
func (k *kit) fail(name, do string, seen ...string) { k.set(name, Failed, do, seen) }
func (k *kit) skip(name string, why string)         { k.set(name, Skipped, "", []string{why}) }

func (k *kit) passed(name string) bool {
	c := k.results[name]
	return c != nil && c.Result == OK
}
