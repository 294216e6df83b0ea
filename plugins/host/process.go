package host

import (
	"context"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strconv"
	"sync"
	"time"
)

// process is go-plugin's runner.Runner: it gives the plugin no standard input,
// a process group of its own and a short environment, and keeps the thread
// that started it for as long as it runs.
type process struct {
	cmd            *exec.Cmd
	stdout, stderr *os.File // our ends of the pipes
	ends           []*os.File
	seen           *firstLine
	wrote          *tee          // the standard error
	sockets        string        // the only folder it may listen in
	done           chan struct{} // closed when the program has ended

	mu      sync.Mutex
	started bool
	ending  bool // kill was called
	guard   *guard

	forgotten bool // forget was called
	waitErr   error
}

// newProcess prepares the program; dir is made, and is its working folder and
// its folder for temporary files; log gets its standard error.
func newProcess(exe string, args []string, dir string, log *capture) (*process, error) {
	if err := os.Mkdir(dir, 0o700); err != nil {
		return nil, fmt.Errorf("make its working folder: %w", err)
	}
	outR, outW, err := os.Pipe()
	if err != nil {
		return nil, fmt.Errorf("make its standard output: %w", err)
	}
	errR, errW, err := os.Pipe()
	if err != nil {
		_, _ = outR.Close(), outW.Close()
		return nil, fmt.Errorf("make its standard error: %w", err)
	}
	p := &process{
		cmd: exec.Command(exe, args...), stdout: outR, stderr: errR,
		ends: []*os.File{outW, errW}, seen: &firstLine{from: outR}, done: make(chan struct{}),
		wrote: &tee{from: errR, to: log, end: make(chan struct{})},
	}
	p.cmd.Dir = dir
	p.cmd.Stdin = nil // the null device: a plugin must not read the player's keyboard
	p.cmd.Stdout, p.cmd.Stderr = outW, errW
	ownGroup(p.cmd)
	return p, nil
}

// environment: what the handshake needs and a place for temporary files.
// Nothing of the player's own environment; os/exec adds SYSTEMROOT on Windows.
func (p *process) environment(handshake []string) {
	p.cmd.Env = append(append([]string{}, handshake...), "TMPDIR="+p.cmd.Dir, "TMP="+p.cmd.Dir, "TEMP="+p.cmd.Dir)
}

// Start runs the program. The goroutine that starts it stays locked to its
// thread until the program has ended: on Linux the parent-death signal is sent
// when that thread goes, not when the process does.
func (p *process) Start(context.Context) error {
	result := make(chan error, 1)
	go func() {
		runtime.LockOSThread()
		defer runtime.UnlockOSThread()
		p.mu.Lock()
		var err error
		if p.ending {
			err = context.Canceled
		} else {
			err = p.cmd.Start()
		}
		p.started = err == nil
		p.mu.Unlock()
		for _, f := range p.ends {
			_ = f.Close()
		}
		result <- err
		if err != nil {
			close(p.done)
			p.close()
			return
		}
		// While the plugin gets ready, which takes far longer.
		g := newGuard(p.cmd.Process.Pid, filepath.Dir(p.cmd.Dir))
		p.mu.Lock()
		p.guard = g
		if p.forgotten {
			g.dismiss()
		}
		p.mu.Unlock()
		err = p.cmd.Wait()
		p.mu.Lock()
		p.waitErr, p.started = err, false
		// What it started itself goes with it. Its number cannot belong to
		// another yet: numbers are handed out round the whole range.
		killGroup(p.cmd.Process)
		p.mu.Unlock()
		close(p.done)
		// A process that left the group could hold the pipes open and with them
		// everybody who reads to their end; what was written is read by then.
		time.AfterFunc(grace, p.close)
	}()
	return <-result
}

// kill ends the program and its group at once. It may be called at any time,
// also before Start, which then does nothing.
func (p *process) kill() {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.ending = true
	if p.started {
		killGroup(p.cmd.Process)
	}
}

// forget ends the guard; the program has ended and its folder is removed.
func (p *process) forget() {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.guard != nil && !p.forgotten {
		p.guard.dismiss()
	}
	p.forgotten = true
}

// close gives up the pipes, both ends: Start may never have been called.
func (p *process) close() {
	for _, f := range append([]*os.File{p.stdout, p.stderr}, p.ends...) {
		_ = f.Close()
	}
}

// ended says how the program ended, if it does within d.
func (p *process) ended(d time.Duration) (string, bool) {
	select {
	case <-p.done:
	default:
		t := time.NewTimer(d)
		defer t.Stop()
		select {
		case <-p.done:
		case <-t.C:
			return "", false
		}
	}
	if p.cmd.ProcessState == nil {
		return "never started", true
	}
	return p.cmd.ProcessState.String(), true
}

// drained waits until all that an ended program wrote on its standard error is
// captured, or for d.
func (p *process) drained(d time.Duration) {
	if _, ok := p.ended(0); !ok {
		return
	}
	t := time.NewTimer(d)
	defer t.Stop()
	select {
	case <-p.wrote.end:
	case <-t.C:
	}
}

func (p *process) firstLine() string { return printable(p.seen.text()) }

func (p *process) pid() int {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.cmd.Process == nil {
		return 0
	}
	return p.cmd.Process.Pid
}

// The rest of runner.Runner.

func (p *process) Wait(context.Context) error {
	<-p.done
	return p.waitErr
}

func (p *process) Kill(context.Context) error {
	p.kill()
	return nil
}

func (p *process) ID() string {
	if n := p.pid(); n != 0 {
		return strconv.Itoa(n)
	}
	return ""
}

func (p *process) Name() string                    { return p.cmd.Path }
func (p *process) Stdout() io.ReadCloser           { return p.seen }
func (p *process) Stderr() io.ReadCloser           { return p.wrote }
func (p *process) Diagnose(context.Context) string { return "" } // it would guess at CPU types
func (p *process) PluginToHost(n, a string) (string, string, error) {
	return n, a, Reachable(n, a, p.sockets)
}
func (p *process) HostToPlugin(n, a string) (string, string, error) { return n, a, nil }
