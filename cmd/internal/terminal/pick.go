package terminal

import (
	"context"
	"errors"
	"io"
	"strings"

	"canewright/engine/session"
)

// pick shows the rack after a break and asks which piece the player takes up.
// on is false when the player leaves instead.
func (t *Terminal) pick(ctx context.Context, s *session.Session) (on bool, err error) {
	t.rack(s)
	if len(s.State().UnderWay()) < 2 {
		return true, nil // there is nothing to choose
	}
	t.line("")
	ask := func() {
		t.line("Which piece do you take up?")
		t.wrap("  ", "[a number, or Enter for the one furthest behind]")
	}
	ask()
	for {
		line, err := t.read(ctx, s)
		switch {
		case errors.Is(err, ErrLongLine):
			line = "?"
		case errors.Is(err, io.EOF):
			t.line("")
			t.parting(s)
			return false, s.Close(ctx)
		case err != nil:
			return false, err
		}
		word, rest := split(line)
		switch {
		case word == "":
			return true, nil
		case word == "quit" || word == "q" || word == "exit":
			t.parting(s)
			return false, s.Close(ctx)
		case word == "rack":
			t.rack(s)
			continue
		case word == "?" || word == "help":
			t.wrap("", "Type the piece you have in hand, as on the rack. Enter leaves the choice to the program: the piece furthest behind. Turn to another at any time with: piece 7. quit leaves; everything is kept.")
			continue
		case word == "piece" && rest != "":
			line = rest
		}
		if err := s.Pick(strings.TrimSpace(line)); err != nil {
			t.refusedBy(err)
			ask()
			continue
		}
		return true, nil
	}
}
