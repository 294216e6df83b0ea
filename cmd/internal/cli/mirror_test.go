package cli_test

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"time"

	"canewright/engine/bench"
	"canewright/engine/recipe"
	"canewright/engine/session"
)

// mirror is a window on a batch without a screen: it takes the lines a player
// types. Its keeper either takes every answer, or holds it against what is on
// disk.
type mirror struct {
	doubt *bench.Refusal // the line before was not taken
	s     *session.Session
	keep  *witness
	later bool
}

// How a window is opened.
type manner struct {
	later, through bool
	who            string
}

func (m manner) args() []string {
	var out []string
	if m.later {
		out = append(out, "--later")
	}
	if m.through {
		out = append(out, "--through")
	}
	if m.who != "" {
		out = append(out, "--who", m.who)
	}
	return out
}

func (m manner) open(s *session.Session, keep *witness) (*mirror, error) {
	s.Later(m.later)
	s.Through(m.through)
	if m.who != "" {
		if err := s.SetWho(context.Background(), m.who); err != nil {
			return nil, err
		}
	}
	return &mirror{s: s, keep: keep, later: m.later}, nil
}

// witness keeps a batch's events in memory. With disk set, answers must be what
// stands on disk: groups of one cause, in order.
type witness struct {
	batch session.Batch
	held  []bench.Event
	disk  bool
	rest  []bench.Event // on disk, not met yet
	half  string        // how an answer on disk differs from the whole one
	ids   int
}

var (
	errNotOnDisk = errors.New("this answer is not on disk")
	errHalf      = errors.New("this answer is not whole on disk")
)

// group is the next answer on disk.
func (w *witness) group() []bench.Event {
	n := 0
	for n < len(w.rest) && w.rest[n].Cause == w.rest[0].Cause {
		n++
	}
	return w.rest[:n]
}

func (w *witness) take(evs []bench.Event) error {
	if len(evs) == 0 {
		return nil
	}
	if w.disk {
		on := w.group()
		if len(on) == 0 {
			return errNotOnDisk
		}
		if got, want := inJSON(on), inJSON(evs); got != want {
			w.half = fmt.Sprintf("from event %d on the disk has\n%s\nwhole it is\n%s", on[0].Seq, got, want)
			return errHalf
		}
		w.rest = w.rest[len(on):]
	}
	w.held = append(w.held, evs...)
	return nil
}

func (w *witness) Start(_ context.Context, b session.Batch, evs []bench.Event) error {
	w.batch = b
	return w.take(evs)
}

func (w *witness) Append(_ context.Context, _ string, after uint64, evs []bench.Event) error {
	if after != uint64(len(w.held)) {
		return session.ErrOvertaken
	}
	return w.take(evs)
}

func (w *witness) Load(context.Context, string) (session.Batch, []bench.Event, error) {
	return w.batch, append([]bench.Event(nil), w.held...), nil
}

func (w *witness) now() time.Time {
	t := time.Now()
	if len(w.rest) > 0 {
		t = w.rest[0].Entered
	}
	return t.In(time.Local)
}

func (w *witness) newID() string {
	for _, e := range w.group() {
		if b, ok := e.Body.(bench.SessionOpened); ok {
			return b.ID
		}
	}
	w.ids++
	return fmt.Sprint("mirror-", w.ids)
}

func (w *witness) outside(b *recipe.Bound, notes session.Notes) session.Outside {
	return session.Outside{
		Keep: w, Notes: notes, Bind: func(session.Snapshot) (*recipe.Bound, error) { return b, nil },
		Now: w.now, NewID: w.newID,
	}
}

func inJSON(v any) string {
	b, err := json.Marshal(v)
	if err != nil {
		panic(err)
	}
	return string(b)
}

// types takes a line as the window does. It returns the events of it: none for
// a word of the window, a time, and a refused answer.
func (m *mirror) types(line string) ([]bench.Event, error) {
	doubt := m.doubt
	m.doubt = nil
	switch {
	case doubt == nil:
	case line == "-":
		return nil, nil // what was doubted is dropped
	case doubt.Offer != "" && (line == "y" || line == "yes"):
		line = doubt.Offer
	}
	q, err := m.s.Question()
	if err != nil {
		return nil, err
	}
	if !isChoice(q, line) {
		word, rest, _ := strings.Cut(line, " ")
		switch {
		case line == "?" || line == "rack" || line == "more":
			return nil, nil
		case line == "through" || line == "by stage":
			m.s.Through(line == "through")
			return nil, nil
		case word == "who" && rest != "":
			return nil, refused(m.s.SetWho(context.Background(), rest))
		case word == "piece":
			return nil, refused(m.s.Pick(rest))
		}
	}
	r, err := m.s.Answer(context.Background(), q.Seq, line)
	errors.As(err, &m.doubt)
	return r.Events, refused(err)
}

// refused lets errors pass that are no refusal.
func refused(err error) error {
	var r *bench.Refusal
	var stale *bench.StaleError
	if errors.As(err, &r) || errors.As(err, &stale) {
		return nil
	}
	return err
}

func isChoice(q bench.Question, line string) bool {
	for _, c := range q.Choices {
		if strings.EqualFold(c, line) {
			return true
		}
	}
	return false
}
