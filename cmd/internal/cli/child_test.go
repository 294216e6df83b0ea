package cli_test

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"canewright/engine/bench"
	"canewright/plugins/proto"
)

// child is canewright with all its answers waiting in a pipe.
type child struct {
	cmd     *exec.Cmd
	errors  bytes.Buffer
	answers []string
	closed  chan struct{} // the output has ended

	mu     sync.Mutex
	grew   *sync.Cond
	out    []byte
	at     int // behind the last echo found
	echoes int
	ended  bool
}

func startChild(t *testing.T, exe, home string, args, answers []string) *child {
	t.Helper()
	c := &child{cmd: exec.Command(exe, args...), answers: answers, closed: make(chan struct{})}
	c.grew = sync.NewCond(&c.mu)
	c.cmd.Env = []string{"HOME=" + home, "TMPDIR=" + home, "PATH=" + os.Getenv("PATH"), "CANEWRIGHT_PLAIN=1"}
	if zone, ok := os.LookupEnv("TZ"); ok {
		c.cmd.Env = append(c.cmd.Env, "TZ="+zone)
	}
	c.cmd.Stderr = &c.errors
	in, err := c.cmd.StdinPipe()
	if err != nil {
		t.Fatal(err)
	}
	// A pipe of our own: what was written before the kill can be read after it.
	out, w, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	c.cmd.Stdout = w
	if err := c.cmd.Start(); err != nil {
		t.Fatal(err)
	}
	w.Close()
	go func() {
		io.WriteString(in, strings.Join(answers, "\n")+"\n")
		in.Close()
	}()
	go c.read(out)
	return c
}

func (c *child) read(out *os.File) {
	defer close(c.closed)
	defer out.Close()
	buf := make([]byte, 32<<10)
	for {
		n, err := out.Read(buf)
		c.mu.Lock()
		c.out = append(c.out, buf[:n]...)
		for c.echoes < len(c.answers) {
			echo := []byte("\n> " + c.answers[c.echoes] + "\n")
			i := bytes.Index(c.out[c.at:], echo)
			if i < 0 {
				break
			}
			// The line's end may begin the next prompt's line.
			c.at += i + len(echo) - 1
			c.echoes++
		}
		c.ended = err != nil
		c.grew.Broadcast()
		c.mu.Unlock()
		if err != nil {
			return
		}
	}
}

// echoed waits until n answers were read; false when the output ended before.
func (c *child) echoed(n int) bool {
	c.mu.Lock()
	defer c.mu.Unlock()
	for c.echoes < n && !c.ended {
		c.grew.Wait()
	}
	return c.echoes >= n
}

// kill ends the child and reads what it had written. ended: it had come to its
// end by itself.
func (c *child) kill() (ended bool) {
	_ = c.cmd.Process.Kill()
	err := c.cmd.Wait()
	<-c.closed
	return err == nil
}

// count tells how many answers were read, and behind how many something was
// written.
func (c *child) count() (read, confirmed int, tail string) {
	read, confirmed = c.echoes, c.echoes
	if read > 0 && c.at+1 >= len(c.out) {
		confirmed--
	}
	return read, confirmed, string(c.out[max(0, len(c.out)-400):])
}

// asked holds the first question on the screen against q.
func (c *child) asked(t *testing.T, q bench.Question) {
	t.Helper()
	first, _, _ := strings.Cut(string(c.out), "\n> ")
	first = strings.ToLower(strings.Join(strings.Fields(first), " "))
	var want []string
	switch q.Asked {
	case bench.AskNothing:
		want = []string{q.Prompt}
	case bench.AskWait: // its prompt says since when
		want = []string{fmt.Sprintf("%s, stage %d of %d: %s", q.For, q.Number, q.Of, q.Stage), "Resting, begun"}
	default:
		want = []string{fmt.Sprintf("%s, stage %d of %d: %s", q.For, q.Number, q.Of, q.Stage), q.Prompt}
	}
	for _, w := range want {
		if w = strings.ToLower(strings.Join(strings.Fields(w), " ")); !strings.Contains(first, w) {
			t.Errorf("the first question does not say %q:\n%s", w, c.out[:min(len(c.out), 3000)])
		}
	}
}

// orphans are processes of exe that serve an instrument and whose parent is
// none of exe.
func orphans(exe string) []string {
	var out []string
	all, _ := filepath.Glob("/proc/[0-9]*")
	for _, p := range all {
		line, err := os.ReadFile(p + "/cmdline")
		if err != nil || !bytes.Contains(line, []byte(proto.ServeArg)) {
			continue
		}
		if at, err := os.Readlink(p + "/exe"); err != nil || at != exe {
			continue
		}
		stat, err := os.ReadFile(p + "/stat")
		if err != nil {
			continue
		}
		// proc(5): the fourth field is the parent; the second ends at the last ")".
		fields := strings.Fields(string(stat[bytes.LastIndexByte(stat, ')')+1:]))
		if at, err := os.Readlink("/proc/" + fields[1] + "/exe"); err != nil || at != exe {
			out = append(out, filepath.Base(p))
		}
	}
	return out
}
