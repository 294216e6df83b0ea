package terminal_test

import (
	"errors"
	"io"
	"os"
	"reflect"
	"runtime"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/creack/pty"
	"golang.org/x/term"

	"canewright/cmd/internal/terminal"
)

// hand is the far end of a pseudo-terminal: it types, and sees the screen.
type hand struct {
	t      *testing.T
	far    *os.File
	near   *os.File
	mu     sync.Mutex
	more   *sync.Cond
	screen string
}

func newHand(t *testing.T) *hand {
	t.Helper()
	if runtime.GOOS == "windows" {
		t.Skip("has no pseudo-terminals of this sort")
	}
	far, near, err := pty.Open()
	if err != nil {
		t.Skip("no pseudo-terminal:", err)
	}
	h := &hand{t: t, far: far, near: near}
	h.more = sync.NewCond(&h.mu)
	t.Cleanup(func() { far.Close(); near.Close() })
	if err := pty.Setsize(far, &pty.Winsize{Rows: 24, Cols: 60}); err != nil {
		t.Fatal(err)
	}
	go func() {
		var buf [4096]byte
		for {
			n, err := far.Read(buf[:])
			h.mu.Lock()
			h.screen += string(buf[:n])
			h.mu.Unlock()
			h.more.Broadcast()
			if err != nil {
				return
			}
		}
	}()
	return h
}

func (h *hand) types(s string) {
	h.t.Helper()
	if _, err := io.WriteString(h.far, s); err != nil {
		h.t.Fatal(err)
	}
}

// sees waits for text on the screen and wipes the screen up to its end.
func (h *hand) sees(text string) {
	h.t.Helper()
	late := false
	defer time.AfterFunc(10*time.Second, func() {
		h.mu.Lock()
		late = true
		h.mu.Unlock()
		h.more.Broadcast()
	}).Stop()
	h.mu.Lock()
	defer h.mu.Unlock()
	for !late {
		if _, rest, ok := strings.Cut(h.screen, text); ok {
			h.screen = rest
			return
		}
		h.more.Wait()
	}
	h.t.Fatalf("%q does not come; the screen has %q", text, h.screen)
}

func (h *hand) modes() *term.State {
	h.t.Helper()
	s, err := term.GetState(int(h.near.Fd()))
	if err != nil {
		h.t.Fatal(err)
	}
	return s
}

func (h *hand) keyboard() *terminal.Keyboard {
	h.t.Helper()
	k, err := terminal.OpenKeyboard(h.near, h.near)
	if err != nil {
		h.t.Fatal(err)
	}
	h.t.Cleanup(func() { k.Close() })
	return k
}

func line(t *testing.T, k *terminal.Keyboard, want string) {
	t.Helper()
	if got, err := k.ReadLine(); err != nil || got != want {
		t.Errorf("got %q, %v; want %q", got, err, want)
	}
}

func TestACaliperTypes(t *testing.T) {
	t.Parallel()
	for name, sent := range map[string]string{
		"comma and CR": "1,31\r", "point and CR LF": "1,31\r\n", "Tab": "1,31\t", "LF": "1,31\n", "keypad": "\x1bOq\x1bOl\x1bOs\x1bOq\x1bOM",
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			h := newHand(t)
			k := h.keyboard()
			for range 3 {
				h.types(sent)
				line(t, k, "1,31")
			}
			h.types("ok\r") // nothing was left over in between
			line(t, k, "ok")
			h.sees("> 1,31\r\n> 1,31\r\n> 1,31\r\n> ok\r\n")
		})
	}
}

// What is typed while nobody reads waits in its order, and is shown once.
func TestTypingAhead(t *testing.T) {
	t.Parallel()
	h := newHand(t)
	k := h.keyboard()
	h.types("1.31\r\n1.32\r\n1.33\t")
	h.types("1.34\n1.35\r\x1b[6~\x1b[5~half")
	for _, want := range []string{"1.31", "1.32", "1.33", "1.34", "1.35", "", "-"} {
		line(t, k, want)
	}
	h.types(" done\r")
	line(t, k, "half done")
	h.sees("> 1.31\r\n> 1.32\r\n> 1.33\r\n> 1.34\r\n> 1.35\r\n> \r\n> -\r\n> half done\r\n")
}

func TestEndOfInput(t *testing.T) {
	t.Parallel()
	h := newHand(t)
	k := h.keyboard()
	h.types("\x04")
	if l, err := k.ReadLine(); l != "" || !errors.Is(err, io.EOF) {
		t.Errorf("%q, %v", l, err)
	}
}

func TestALineSurvivesAnInterruption(t *testing.T) {
	t.Parallel()
	h := newHand(t)
	k := h.keyboard()
	got := make(chan string, 1)
	go func() {
		l, err := k.ReadLine()
		if err != nil {
			l = err.Error()
		}
		got <- l
	}()
	h.types("1.3")
	h.sees("> 1.3")
	if err := k.Interrupt("\a\nSoak, piece 1: 2 h are over.\n"); err != nil {
		t.Fatal(err)
	}
	h.sees("\a")
	h.sees("2 h are over.")
	h.sees("\n> 1.3")
	h.types("1\r")
	if l := <-got; l != "1.31" {
		t.Errorf("got %q", l)
	}
}

func TestModesComeBack(t *testing.T) {
	t.Parallel()
	h := newHand(t)
	before := h.modes()
	k := h.keyboard()
	if reflect.DeepEqual(h.modes(), before) {
		t.Error("the keyboard changed nothing")
	}
	for range 2 {
		if err := k.Close(); err != nil {
			t.Fatal(err)
		}
		if !reflect.DeepEqual(h.modes(), before) {
			t.Error("other modes than before")
		}
	}
}

func TestAFileIsNoKeyboard(t *testing.T) {
	t.Parallel()
	f, err := os.Open(os.DevNull)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if _, err := terminal.OpenKeyboard(f, io.Discard); err == nil {
		t.Error("opened")
	}
}
