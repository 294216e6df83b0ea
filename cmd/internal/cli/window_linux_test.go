package cli_test

// On linux alone: a pseudo-terminal's modes are looked at from its far end.

import (
	"io"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"reflect"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/creack/pty"
	"golang.org/x/term"
)

const windowRecipe = `canewright: recipe 1
title: Window, invented
id: window
version: 1
instrument: bassoon 1
targets:
  cane.length: {target: 120 ± 0.5 mm, above: once more, below: {then: set aside, because: too short}}
stages:
  - stage: mark
    do: [Mark the middle.]
  - stage: sort
    measure: [cane.length]
`

// window is canewright at a pseudo-terminal of 60 by 24.
type window struct {
	t      *testing.T
	far    *os.File
	cmd    *exec.Cmd
	before *term.State
	mu     sync.Mutex
	more   *sync.Cond
	screen string
	ended  chan error
}

func openWindow(t *testing.T, dir string, env []string, args ...string) *window {
	t.Helper()
	exe, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	far, near, err := pty.Open()
	if err != nil {
		t.Skip("no pseudo-terminal:", err)
	}
	defer near.Close()
	t.Cleanup(func() { far.Close() })
	if err := pty.Setsize(far, &pty.Winsize{Rows: 24, Cols: 60}); err != nil {
		t.Fatal(err)
	}
	w := &window{t: t, far: far, ended: make(chan error, 1)}
	w.more = sync.NewCond(&w.mu)
	w.before = w.modes()
	w.cmd = exec.Command(exe, append([]string{"as-canewright"}, args...)...)
	w.cmd.Env = append([]string{"HOME=" + dir, "XDG_DATA_HOME=" + dir, "TERM=xterm", "PATH=" + os.Getenv("PATH")}, env...)
	w.cmd.Stdin, w.cmd.Stdout, w.cmd.Stderr = near, near, near
	// Its standard input is its controlling terminal: the keys for signals reach it.
	w.cmd.SysProcAttr = &syscall.SysProcAttr{Setsid: true, Setctty: true}
	if err := w.cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { w.cmd.Process.Kill() })
	go func() { w.ended <- w.cmd.Wait() }()
	go func() {
		var buf [4096]byte
		for {
			n, err := far.Read(buf[:])
			w.mu.Lock()
			w.screen += string(buf[:n])
			w.mu.Unlock()
			w.more.Broadcast()
			if err != nil {
				return
			}
		}
	}()
	return w
}

func (w *window) modes() *term.State {
	w.t.Helper()
	s, err := term.GetState(int(w.far.Fd()))
	if err != nil {
		w.t.Fatal(err)
	}
	return s
}

func (w *window) types(s string) {
	w.t.Helper()
	if _, err := io.WriteString(w.far, s); err != nil {
		w.t.Fatal(err)
	}
}

// sees waits for text and wipes the screen up to its end.
func (w *window) sees(text string) {
	w.t.Helper()
	late := false
	defer time.AfterFunc(30*time.Second, func() {
		w.mu.Lock()
		late = true
		w.mu.Unlock()
		w.more.Broadcast()
	}).Stop()
	w.mu.Lock()
	defer w.mu.Unlock()
	for !late {
		if _, rest, ok := strings.Cut(w.screen, text); ok {
			w.screen = rest
			return
		}
		w.more.Wait()
	}
	w.t.Fatalf("%q does not come; the screen has %q", text, w.screen)
}

// ends waits for the program's end and looks at the terminal it leaves.
func (w *window) ends(code int) {
	w.t.Helper()
	select {
	case <-w.ended:
	case <-time.After(30 * time.Second):
		w.t.Fatal("it does not end")
	}
	if got := w.cmd.ProcessState.ExitCode(); got != code {
		w.t.Errorf("exit code %d, want %d", got, code)
	}
	if !reflect.DeepEqual(w.modes(), w.before) {
		w.t.Error("the terminal has other modes than before")
	}
}

func windowFolder(t *testing.T) (dir, recipe string) {
	t.Helper()
	dir = t.TempDir()
	recipe = filepath.Join(dir, "window.yaml")
	if err := os.WriteFile(recipe, []byte(windowRecipe), 0o600); err != nil {
		t.Fatal(err)
	}
	return dir, recipe
}

// A pedal for what is only done, a caliper for what is measured, all typed
// before the first question stands on the screen.
func TestPedalAndCaliper(t *testing.T) {
	t.Parallel()
	dir, recipe := windowFolder(t)
	w := openWindow(t, dir, nil, "follow", recipe, "--pieces", "3", "--batch", "typed")
	w.sees("Done?")
	w.sees("> ")
	if reflect.DeepEqual(w.modes(), w.before) {
		t.Error("keys are not read one by one")
	}
	// The pedal says that all are marked. Then one reading each, however it ends;
	// page up takes the first back.
	w.types("\x1b[6~")
	w.types("120,1\r\n\x1b[5~120.2\t119.9\r120,0\n")
	w.sees("Taken back: piece 1, length of the piece 120,1.")
	w.sees("That was the last one.")
	w.ends(0)
}

func TestTheTerminalIsGivenBack(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		leave func(w *window)
		code  int
	}{
		"quit":             {func(w *window) { w.types("quit\r") }, 0},
		"end of input":     {func(w *window) { w.types("\x04") }, 0},
		"interrupt key":    {func(w *window) { w.types("12\x03") }, 130},
		"SIGTERM":          {func(w *window) { w.cmd.Process.Signal(syscall.SIGTERM) }, 130},
		"SIGHUP":           {func(w *window) { w.cmd.Process.Signal(syscall.SIGHUP) }, -1},
		"quit key":         {func(w *window) { w.types("\x1c") }, 2},
		"nothing is left":  {func(w *window) { w.types("\r120\r") }, 0},
		"words, then quit": {func(w *window) { w.types("rack\r?\rquit\r\n") }, 0},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			if name == "SIGHUP" && signal.Ignored(syscall.SIGHUP) {
				t.Skip("it is ignored here, as under nohup, and so by every program that is started")
			}
			dir, recipe := windowFolder(t)
			w := openWindow(t, dir, nil, "follow", recipe, "--batch", "left")
			w.sees("Done?")
			w.sees("> ")
			c.leave(w)
			w.ends(c.code)
		})
	}
}

// Suspended, the terminal is the shell's again; going on, prompt and line are
// there again.
func TestSuspended(t *testing.T) {
	t.Parallel()
	dir, recipe := windowFolder(t)
	w := openWindow(t, dir, nil, "follow", recipe, "--batch", "paused")
	w.sees("Done?")
	w.types("remark da")
	w.sees("> remark da")
	w.types("\x1a")
	for deadline := time.Now().Add(10 * time.Second); !reflect.DeepEqual(w.modes(), w.before); time.Sleep(time.Millisecond) {
		if time.Now().After(deadline) {
			t.Fatal("the modes do not come back")
		}
	}
	w.cmd.Process.Signal(syscall.SIGCONT)
	w.sees("> remark da")
	w.types("rk\r")
	w.sees("Written down.")
	w.types("quit\r")
	w.ends(0)
}

func TestColourIsLastAndCanBeOff(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		env  []string
		want string
		not  string
	}{
		"colour":        {nil, "\x1b[1;32m● Right.", "\x00"},
		"NO_COLOR":      {[]string{"NO_COLOR=1"}, "● Right.", "m● Right."},
		"dumb terminal": {[]string{"TERM=dumb"}, "● Right.", "\x1b"},
		"plain":         {[]string{"CANEWRIGHT_PLAIN=1"}, "Right.", "●"},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			dir, recipe := windowFolder(t)
			w := openWindow(t, dir, c.env, "follow", recipe, "--batch", "coloured")
			w.types("\r120\r")
			w.sees("Length of the piece")
			var all string
			w.mu.Lock()
			for !strings.Contains(w.screen, "The batch is closed") && len(w.ended) == 0 {
				w.more.Wait()
			}
			all = w.screen
			w.mu.Unlock()
			if !strings.Contains(all, c.want) || strings.Contains(all, c.not) {
				t.Errorf("the screen has %q", all)
			}
			w.ends(0)
		})
	}
}
