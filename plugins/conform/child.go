package conform

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"strings"
	"sync"
	"sync/atomic"
	"time"

	"canewright/plugins/host"
	"canewright/plugins/proto"
)

// child is one start of the plugin.
type child struct {
	cmd     *exec.Cmd
	group   int // process group: the plugin and all it started
	shelled bool
	sockets string
	out     *stream
	err     *stream
	done    chan struct{} // closed when the process we started has ended
	watched chan struct{} // closed when nobody looks at its memory any more

	peak  atomic.Int64 // bytes, the most seen of the whole group
	flood atomic.Bool  // it was killed for its memory
}

// start runs the program. Through a shell it is the shell that is its parent,
// and that can be killed as a host can.
func (k *kit) start(throughShell bool) (*child, error) {
	k.starts++
	sockets := fmt.Sprintf("%s/s%d", k.base, k.starts)
	temp := fmt.Sprintf("%s/t%d", k.base, k.starts)
	for _, d := range []string{sockets, temp} {
		if err := os.Mkdir(d, 0o700); err != nil {
			return nil, fmt.Errorf("make a folder for the plugin: %w", err)
		}
	}
	cmd := exec.Command(k.program.Path, k.program.Args...)
	if throughShell {
		cmd = exec.Command("/bin/sh", append([]string{"-c", `"$@" & wait`, "sh", k.program.Path}, k.program.Args...)...)
	}
	cmd.Dir = k.program.Folder
	cmd.Env = []string{
		proto.CookieKey + "=" + proto.CookieValue,
		fmt.Sprintf("PLUGIN_PROTOCOL_VERSIONS=%d", proto.Wire),
		"PLUGIN_UNIX_SOCKET_DIR=" + sockets,
		"PLUGIN_MIN_PORT=10000", "PLUGIN_MAX_PORT=25000",
		host.ClientCertificate + "=" + k.certificate,
		"TMPDIR=" + temp, "TMP=" + temp, "TEMP=" + temp,
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
	cmd.Stdout, cmd.Stderr = outW, errW
	ownGroup(cmd)
	err = cmd.Start()
	_, _ = outW.Close(), errW.Close()
	if err != nil {
		_, _ = outR.Close(), errR.Close()
		return nil, err
	}
	c := &child{
		cmd: cmd, group: cmd.Process.Pid, shelled: throughShell, sockets: sockets,
		out: newStream(outR), err: newStream(errR), done: make(chan struct{}), watched: make(chan struct{}),
	}
	go func() {
		_ = cmd.Wait()
		close(c.done)
	}()
	go c.watch(k.opts.mostMemory())
	return c, nil
}

// watch looks at the memory of the group, and ends it where it takes too much.
func (c *child) watch(most int64) {
	tick := time.NewTicker(20 * time.Millisecond)
	defer tick.Stop()
	for {
		select {
		case <-c.watched:
			return
		case <-tick.C:
		}
		used, ok := groupMemory(c.group)
		if !ok {
			return
		}
		if used > c.peak.Load() {
			c.peak.Store(used)
		}
		if used > most {
			c.flood.Store(true)
			killGroup(c.group)
		}
	}
}

// end ends what is left of it.
func (c *child) end() {
	killGroup(c.group)
	<-c.done
	close(c.watched)
	c.out.close()
	c.err.close()
}

// handshake waits for the first line.
func (c *child) firstLine(ctx context.Context, limit time.Duration) (string, error) {
	t := time.NewTimer(limit)
	defer t.Stop()
	select {
	case <-c.out.line:
	case <-ctx.Done():
		return "", ctx.Err()
	case <-t.C:
		return "", fmt.Errorf("no line within %s", limit)
	}
	line, whole := c.out.first()
	if whole {
		return line, nil
	}
	select {
	case <-c.done:
		c.err.ended(time.Second)
		return line, fmt.Errorf("it ended (%s) before the handshake", c.cmd.ProcessState)
	case <-time.After(time.Second):
		return line, errors.New("it closed its standard output before the handshake")
	}
}

// wrote is the beginning of what stands on its standard error, one line.
func (c *child) wrote() string {
	line, _, _ := strings.Cut(strings.TrimSpace(c.err.text()), "\n")
	return clip(host.Printable(line))
}

// stream keeps the beginning of what a plugin writes.
type stream struct {
	from io.ReadCloser
	line chan struct{} // closed when the first line is whole, or will never be
	end  chan struct{}

	mu   sync.Mutex
	kept []byte
	all  int
}

const mostKept = 16 << 10

func newStream(from io.ReadCloser) *stream {
	s := &stream{from: from, line: make(chan struct{}), end: make(chan struct{})}
	go func() {
		defer close(s.end)
		told := false
		tell := func() {
			if !told {
				told = true
				close(s.line)
			}
		}
		defer tell()
		b := make([]byte, 4096)
		for {
			n, err := from.Read(b)
			s.mu.Lock()
			s.kept = append(s.kept, b[:min(n, mostKept-len(s.kept))]...)
			s.all += n
			whole := strings.ContainsRune(string(s.kept), '\n') || len(s.kept) == mostKept
			s.mu.Unlock()
			if whole {
				tell()
			}
			if err != nil {
				return
			}
		}
	}()
	return s
}

func (s *stream) close() { _ = s.from.Close() }

// ended waits until all is read, or for d.
func (s *stream) ended(d time.Duration) {
	select {
	case <-s.end:
	case <-time.After(d):
	}
}

func (s *stream) text() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return string(s.kept)
}

func (s *stream) first() (line string, whole bool) {
	line, _, whole = strings.Cut(s.text(), "\n")
	return strings.TrimRight(line, "\r"), whole
}

// more is what came after the first line.
func (s *stream) more() string {
	_, rest, _ := strings.Cut(s.text(), "\n")
	return rest
}

// clip keeps a stranger's text short.
func clip(s string) string {
	if r := []rune(s); len(r) > 120 {
		return string(r[:120]) + "…"
	}
	return s
}
