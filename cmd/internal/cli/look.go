package cli

import (
	"context"
	"errors"
	"strings"

	"canewright/engine/bench"
	"canewright/engine/logbook"
	"canewright/engine/session"
)

// look reads a batch without writing anything. Close the logbook afterwards; it
// is nil with an error.
func (c *commander) look(ctx context.Context, batch string) (*session.Session, *logbook.Logbook, session.Outside, error) {
	book, err := c.openBook(ctx)
	if err != nil {
		return nil, nil, session.Outside{}, err
	}
	out, err := c.works().Outside(book)
	if err == nil {
		var s *session.Session
		if s, err = session.Look(ctx, out, batch); err == nil {
			return s, book, out, nil
		}
	}
	book.Close()
	return nil, nil, out, err
}

// refusedBy turns a refusal of the bench into an error of a command; other
// errors pass.
func refusedBy(command string, err error) error {
	r, ok := errors.AsType[*bench.Refusal](err)
	if !ok {
		return err
	}
	what := usageError{errors.New(command + ": " + strings.TrimSuffix(lowerFirst(r.Message), "."))}
	if r.Hint == "" {
		return what
	}
	return hinted{what, strings.TrimSuffix(lowerFirst(r.Hint), ".")}
}
