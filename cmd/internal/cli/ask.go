package cli

import (
	"context"
	"errors"
	"strings"

	"canewright/cmd/internal/terminal"
	"canewright/engine/diagnostic"
)

// errAtQuestion: the program was interrupted while it waited for an answer.
var errAtQuestion = errors.New("interrupted at a question; nothing more was done")

// asker reads the answers to a command's own questions, one a line.
type asker struct {
	c  *commander
	in *terminal.LineReader
}

func (c *commander) asker() asker { return asker{c, terminal.NewLineReader(c.sys.In)} }

// line is the next answer without its blanks. It gives up when the program is
// interrupted, which a read from a terminal does not.
func (a asker) line(ctx context.Context) (string, error) {
	type answer struct {
		line string
		err  error
	}
	got := make(chan answer, 1)
	go func() {
		line, err := a.in.ReadLine()
		got <- answer{line, err}
	}()
	select {
	case r := <-got:
		return strings.TrimSpace(r.line), r.err
	case <-ctx.Done():
		a.c.printf("\n")
		return "", errAtQuestion
	}
}

// shown is line, written behind the question where no hand typed it there.
func (a asker) shown(ctx context.Context) (string, error) {
	line, err := a.line(ctx)
	if !a.c.sys.Typed && !errors.Is(err, errAtQuestion) {
		a.c.printf("%s\n", diagnostic.Clean(line))
	}
	return line, err
}

// yes reports that a hand typed the whole word, so that no key pressed by
// mistake says it. The error is an interruption.
func (a asker) yes(ctx context.Context) (bool, error) {
	line, err := a.line(ctx)
	if errors.Is(err, errAtQuestion) {
		return false, err
	}
	return err == nil && strings.EqualFold(line, "yes"), nil
}
