package host

import (
	"fmt"
	"io"
	"strings"
	"sync"
	"unicode"
)

// most bytes kept of what a plugin writes. The beginning is kept: that is
// where a panic says what it is about.
const mostCaptured = 8 << 10

// capture takes everything and keeps the beginning.
type capture struct {
	mu      sync.Mutex
	kept    []byte
	dropped int
}

func (c *capture) Write(b []byte) (int, error) {
	c.mu.Lock()
	defer c.mu.Unlock()
	n := min(len(b), mostCaptured-len(c.kept))
	c.kept = append(c.kept, b[:n]...)
	c.dropped += len(b) - n
	return len(b), nil
}

func (c *capture) text() string {
	c.mu.Lock()
	defer c.mu.Unlock()
	s := printable(strings.TrimSpace(string(c.kept)))
	if c.dropped > 0 {
		s += fmt.Sprintf("\n… and %d bytes more", c.dropped)
	}
	return s
}

// tee passes a stream on, captures it, and tells when its end was reached.
type tee struct {
	from io.ReadCloser
	to   *capture
	end  chan struct{}
	once sync.Once
}

func (t *tee) Read(b []byte) (int, error) {
	n, err := t.from.Read(b)
	_, _ = t.to.Write(b[:n])
	if err != nil {
		t.once.Do(func() { close(t.end) })
	}
	return n, err
}

func (t *tee) Close() error { return t.from.Close() }

// firstLine passes a stream on and remembers how it begins, because go-plugin
// does not say what it could not read.
type firstLine struct {
	from io.ReadCloser
	mu   sync.Mutex
	kept []byte
}

func (f *firstLine) Read(b []byte) (int, error) {
	n, err := f.from.Read(b)
	f.mu.Lock()
	defer f.mu.Unlock()
	f.kept = append(f.kept, b[:min(n, 200-len(f.kept))]...)
	return n, err
}

func (f *firstLine) Close() error { return f.from.Close() }

func (f *firstLine) text() string {
	f.mu.Lock()
	defer f.mu.Unlock()
	line, _, _ := strings.Cut(string(f.kept), "\n")
	return strings.TrimSpace(line)
}

// printable makes a stranger's text safe for a terminal: whatever is no
// letter, mark, number, sign or blank becomes U+FFFD; line feeds stay.
func printable(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r == '\n' || unicode.IsPrint(r):
			return r
		case r == '\t':
			return ' '
		}
		return unicode.ReplacementChar
	}, s)
}

// clip keeps a stranger's text short in a message.
func clip(s string) string {
	if r := []rune(s); len(r) > 100 {
		return string(r[:100]) + "…"
	}
	return s
}
