package cli

import (
	"context"
	"fmt"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"canewright/engine/bench"
	"canewright/engine/diagnostic"
	"canewright/engine/session"
)

func newBatchCmd(c *commander) *cobra.Command {
	cmd := &cobra.Command{
		Use: "batch NAME", Short: "Show a batch: where each piece is, and what was measured", Args: cobra.ExactArgs(1),
		Long: `Show where each piece of a batch is and since when, then what was recorded, in
order. What was taken back is marked, not left out. Nothing is changed.`,
		RunE: func(cmd *cobra.Command, args []string) error { return runBatch(cmd.Context(), c, args[0]) },
	}
	c.jsonFlag(cmd)
	c.offerBatches(cmd, false)
	return cmd
}

func runBatch(ctx context.Context, c *commander, name string) error {
	s, book, _, err := c.look(ctx, name)
	if err != nil {
		return err
	}
	defer book.Close()
	st := s.State()
	flush := c.buffered()
	if c.json {
		if err := c.printJSON(batchJSON(s)); err != nil {
			return err
		}
		return flush()
	}
	c.wrap("", fmt.Sprintf("%s: %s (recipe %s, version %d)", name, s.Batch().Title, s.Bound().File.ID, s.Bound().File.Version))
	for _, l := range bench.Rack(st, c.sys.Now()) {
		c.wrap("  ", l)
	}
	stage, day := "", ""
	for _, e := range st.Events() {
		line := bench.Told(e)
		if line == "" {
			continue
		}
		if d := e.At.In(here(e)).Format("Monday 2 January 2006") + " (" + e.Zone + ")"; d != day {
			day = d
			c.printf("\n%s\n", day)
			stage = ""
		}
		if e.Stage != "" && e.Stage != stage {
			stage = e.Stage
			c.wrap("  ", diagnostic.Clean(stage))
		}
		if !e.Subject.Whole() {
			line = e.Subject.Kind + " " + e.Subject.ID + ": " + line
		}
		if st.TakenBack(e.Cause) {
			line = "(taken back) " + line
		}
		c.wrap("    ", e.At.In(here(e)).Format("15:04 ")+diagnostic.Clean(line))
	}
	return flush()
}

// here is the zone an event happened in: "+01:00 CET".
func here(e bench.Event) *time.Location {
	if t, err := time.Parse("-07:00 MST", e.Zone); err == nil {
		_, offset := t.Zone()
		if at, err := time.Parse("-07:00", strings.SplitN(e.Zone, " ", 2)[0]); err == nil {
			_, offset = at.Zone()
		}
		return time.FixedZone(e.Zone, offset)
	}
	return time.UTC
}

func batchJSON(s *session.Session) any {
	type event struct {
		bench.Head
		Kind      string     `json:"kind"`
		TakenBack bool       `json:"taken_back,omitempty"`
		Body      bench.Body `json:"body"`
	}
	type piece struct {
		Mark  string    `json:"mark"`
		Stage string    `json:"stage,omitempty"`
		Place string    `json:"place"`
		Since time.Time `json:"since"`
		Why   string    `json:"why,omitempty"`
	}
	st := s.State()
	pieces, events := []piece{}, []event{}
	for _, p := range st.Pieces {
		x := piece{Mark: p.Mark, Place: string(p.Place), Since: p.Since, Why: p.Why}
		if p.Stage < len(s.Bound().Stages) {
			x.Stage = s.Bound().Stages[p.Stage].Name
		}
		pieces = append(pieces, x)
	}
	for _, e := range st.Events() {
		events = append(events, event{e.Head, e.Body.Kind(), st.TakenBack(e.Cause), e.Body})
	}
	return map[string]any{"name": s.Batch().Name, "title": s.Batch().Title, "recipe": s.Bound().File.ID, "version": s.Bound().File.Version,
		"started": s.Batch().Started, "closed": st.Done, "pieces": pieces, "events": events}
}
