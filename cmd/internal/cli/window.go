package cli

import (
	"context"
	"os"
	"time"

	"canewright/cmd/internal/terminal"
	"canewright/engine/bench"
	"canewright/engine/session"
)

// run opens the window on a batch.
func (c *commander) run(ctx context.Context, s *session.Session) error { return c.open(ctx, s, false) }

// comeBack opens the window on a batch after a break: the rack comes first, and
// whoever is there picks a piece. A script is shown the rack only.
func (c *commander) comeBack(ctx context.Context, s *session.Session) error {
	if c.sys.Typed {
		return c.open(ctx, s, true)
	}
	for _, l := range bench.Rack(s.State(), c.sys.Now()) {
		c.wrap("  ", l)
	}
	return c.open(ctx, s, false)
}

func (c *commander) open(ctx context.Context, s *session.Session, fresh bool) error {
	t := &terminal.Terminal{
		Out: c.sys.Out, Width: c.sys.Width, Echo: !c.sys.Typed, Now: c.sys.Now,
		Plain: c.sys.Plain, Colour: c.sys.Colour, Fresh: fresh,
	}
	if c.sys.Typed {
		t.After = time.After
	}
	if f, ok := c.sys.In.(*os.File); ok && c.sys.Typed && c.sys.Screen {
		// Where keys cannot be read one by one, lines can.
		if k, err := terminal.OpenKeyboard(f, c.sys.Out); err == nil {
			defer k.Close()
			t.In = k
		}
	}
	if t.In == nil {
		t.In = terminal.NewLineReader(c.sys.In)
	}
	return t.Run(ctx, s)
}
