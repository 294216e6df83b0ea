package terminal

import (
	"context"
	"errors"
	"fmt"
	"io"
	"time"

	"canewright/engine/session"
)

// look is how often the clock is looked at while a wait runs: a timer stands
// still while the computer sleeps, the clock on the wall does not.
const look = time.Minute

type typed struct {
	line string
	err  error
}

// read shows the prompt and waits for a line. A wait that ends meanwhile is
// called out, and prompt and line stand below it again.
func (t *Terminal) read(ctx context.Context, s *session.Session) (string, error) {
	_, keyboard := t.In.(*Keyboard)
	if !keyboard {
		if _, err := io.WriteString(t.Out, prompt); err != nil {
			return "", err
		}
	}
	lines := make(chan typed, 1)
	go func() {
		var got typed
		defer func() {
			if r := recover(); r != nil {
				got.err = fmt.Errorf("a fault in canewright: %v", r)
			}
			lines <- got
		}()
		got.line, got.err = t.In.ReadLine()
	}()
	for {
		var over <-chan time.Time
		end, say := t.end(s)
		if say != "" {
			over = t.After(min(end.Sub(t.Now()), look))
		}
		select {
		case got := <-lines:
			if err := got.err; err != nil {
				if errors.Is(err, io.EOF) || errors.Is(err, ErrLongLine) {
					return "", err
				}
				return "", fmt.Errorf("read the answer: %w", err)
			}
			if t.Echo {
				t.line(got.line)
			}
			return got.line, ctx.Err()
		case <-ctx.Done():
			t.line("")
			return "", ctx.Err()
		case <-over:
			if t.Now().Before(end) {
				continue
			}
			t.heard = end
			if err := t.ring(say); err != nil {
				return "", err
			}
		}
	}
}

// end is when the next wait is over that was not called out yet; say is empty
// when there is none.
func (t *Terminal) end(s *session.Session) (time.Time, string) {
	if t.After == nil {
		return time.Time{}, ""
	}
	at, say, ok := s.State().NextEnd(t.heard)
	if !ok {
		return time.Time{}, ""
	}
	return at, say
}

// ring calls out the end of a wait, with the terminal's bell.
func (t *Terminal) ring(say string) error {
	text := "\a\n"
	for _, l := range Wrap("", sentence(say), t.Width) {
		text += l + "\n"
	}
	if k, ok := t.In.(*Keyboard); ok {
		return k.Interrupt(text)
	}
	_, err := io.WriteString(t.Out, text+prompt)
	return err
}
