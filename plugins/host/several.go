package host

import (
	"context"
	"errors"
	"runtime"
	"slices"
	"sync"

	"canewright/engine/dimension"
)

// Want is a dimension set to be asked for.
type Want struct {
	Name  string
	Major int
}

// Got is what came of a Want: a set, or why there is none.
type Got struct {
	Set *dimension.Set
	Err error // as Host.Set has it
}

// Sets asks for several sets at once and answers in the order of the wants.
// One that fails is an error of its own and hides no other.
func (h *Host) Sets(ctx context.Context, wants []Want) []Got {
	out := make([]Got, len(wants))
	names := make([]string, len(wants))
	for i, w := range wants {
		names[i] = w.Name
	}
	h.each(ctx, names, func(p *running, err error, i int) bool {
		if err == nil {
			out[i].Set, err = p.set(ctx, wants[i].Name, wants[i].Major)
		}
		out[i].Err = err
		return alone(err)
	})
	return out
}

// alone: this may be a neighbour's fault, in a program that serves several.
func alone(err error) bool {
	_, broken := errors.AsType[*BrokenError](err)
	return broken
}

// each starts what the names need and asks for every one of them, side by side
// as far as there are processors: ask(p, nil, i) for names[i], or
// ask(nil, err, i) where nothing could be started.
//
// The bundled instruments are our own code and share one process, since a start
// is nearly all that asking costs; those without code, which our own code reads,
// share another. When ask says that one did not come off there, it is asked for
// again in a process of its own: then its fault, and what it wrote, is its own,
// and its neighbours are unharmed. An added program is a stranger's and has its
// own process from the first.
func (h *Host) each(ctx context.Context, names []string, ask func(p *running, err error, i int) (again bool)) {
	places := make(chan struct{}, runtime.GOMAXPROCS(0))
	var work sync.WaitGroup
	for _, group := range h.groups(names) {
		work.Go(func() {
			places <- struct{}{}
			failed := h.group(ctx, names, group, ask)
			<-places
			if len(h.distinct(names, group)) == 1 {
				return
			}
			for _, i := range failed {
				work.Go(func() {
					places <- struct{}{}
					defer func() { <-places }()
					h.group(ctx, names, []int{i}, ask)
				})
			}
		})
	}
	work.Wait()
}

// group asks one process, and says for which of the indices in vain.
func (h *Host) group(ctx context.Context, names []string, group []int, ask func(*running, error, int) bool) (failed []int) {
	p, err := h.openAll(ctx, h.distinct(names, group))
	if err != nil {
		for _, i := range group {
			if ask(nil, err, i) {
				failed = append(failed, i)
			}
		}
		return failed
	}
	defer p.stop()
	again := make([]bool, len(group))
	var calls sync.WaitGroup
	places := make(chan struct{}, runtime.GOMAXPROCS(0)) // answers are read and checked here
	for n, i := range group {
		calls.Go(func() {
			places <- struct{}{}
			defer func() { <-places }()
			again[n] = ask(p.as(names[i]), nil, i)
		})
	}
	calls.Wait()
	for n, i := range group {
		if again[n] {
			failed = append(failed, i)
		}
	}
	return failed
}

// groups are indices of names, those together that one process serves.
func (h *Host) groups(names []string) (out [][]int) {
	at := map[string]int{} // place in out
	for i, name := range names {
		key := name
		switch {
		case h.shared(name):
			key = "\x00bundled" // no instrument's
		case h.codeless(name) != nil:
			key = "\x00without code"
		}
		n, ok := at[key]
		if !ok {
			n = len(out)
			at[key] = n
			out = append(out, nil)
		}
		out[n] = append(out[n], i)
	}
	return out
}

// shared: a bundled instrument that nobody has in a debugger.
func (h *Host) shared(name string) bool {
	_, attached := h.Attach[name]
	return !attached && slices.Contains(h.Bundled, name)
}

// codeless is an added instrument without code that nobody has in a debugger;
// nil for any other.
func (h *Host) codeless(name string) *Added {
	if _, attached := h.Attach[name]; attached || slices.Contains(h.Bundled, name) {
		return nil
	}
	a, err := h.Store.Find(name)
	if err != nil || a == nil || a.Approval != nil || a.Lost != nil {
		return nil // said where it is opened
	}
	return a
}

func (h *Host) distinct(names []string, group []int) (out []string) {
	for _, i := range group {
		if !slices.Contains(out, names[i]) {
			out = append(out, names[i])
		}
	}
	return out
}

// as is the same plugin asked for the sake of one of the instruments it serves,
// whose name is in what is said of it.
func (p *running) as(name string) *running {
	q := *p
	q.name = name
	return &q
}
