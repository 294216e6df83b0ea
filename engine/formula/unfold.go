package formula

import (
	"errors"
	"slices"
)

// mostSteps of a formula with others put into it, and how deep they may lie in
// each other: a stranger's dimensions must not cost time or memory.
const (
	mostSteps = 5000
	mostFolds = 20
)

// Unfold puts the formulas of derived values in their place, so that what is
// needed was measured: a tool's own error that two inputs share is then seen to
// cancel. derived gives the formula behind a slot, or nil for one that is
// measured. The text and its names stay as they are. A formula without derived
// values is returned as it is.
func (f *Formula) Unfold(derived func(slot int) *Formula) (*Formula, error) {
	u := unfolding{derived: derived, at: map[int]int32{}}
	if !slices.ContainsFunc(f.needs, func(slot int) bool { return derived(slot) != nil }) {
		return f, nil
	}
	out := *f
	if err := u.gather(f, 0); err != nil {
		return nil, f.failed(err)
	}
	slices.Sort(u.needs)
	u.needs = slices.Compact(u.needs)
	out.needs = u.needs
	for i, slot := range u.needs {
		u.at[slot] = int32(i)
	}
	var err error
	if out.value, err = u.unfold(f, f.value); err != nil {
		return nil, f.failed(err)
	}
	if f.margin != nil {
		if out.margin, err = u.unfold(f, f.margin); err != nil {
			return nil, f.failed(err)
		}
	}
	return &out, nil
}

type unfolding struct {
	derived func(int) *Formula
	needs   []int
	at      map[int]int32 // place of a slot in needs
	visits  int
}

var errUnfold = errors.New("its derived values lie too deep in each other")

func (u *unfolding) gather(f *Formula, deep int) error {
	if u.visits++; deep > mostFolds || u.visits > mostSteps {
		return errUnfold
	}
	for _, slot := range f.needs {
		d := u.derived(slot)
		if d == nil {
			u.needs = append(u.needs, slot)
			continue
		}
		if d.truth {
			return errors.New("a value it needs is derived and yields yes or no")
		}
		if err := u.gather(d, deep+1); err != nil {
			return err
		}
	}
	return nil
}

func (u *unfolding) unfold(f *Formula, p *program) (*program, error) {
	out := &program{}
	_, err := u.into(out, f, p)
	return out, err
}

// into appends the steps of p, those of derived values before those that load
// them, and returns where its result is.
func (u *unfolding) into(out *program, f *Formula, p *program) (int32, error) {
	moved := make([]int32, len(p.steps))
	for i, s := range p.steps {
		if s.do == load {
			slot := f.needs[s.a]
			if d := u.derived(slot); d != nil {
				at, err := u.into(out, d, d.value)
				if err != nil {
					return 0, err
				}
				moved[i] = at
				continue
			}
			s.a = u.at[slot]
		} else if s.do == call {
			args := p.args[s.b:s.c]
			s.b = int32(len(out.args))
			for _, a := range args {
				out.args = append(out.args, moved[a])
			}
			s.c = int32(len(out.args))
			out.calls = append(out.calls, p.calls[s.a])
			s.a = int32(len(out.calls) - 1)
		} else if s.do != put {
			s.a, s.b, s.c = moved[s.a], moved[s.b], moved[s.c]
		}
		if len(out.steps) >= mostSteps {
			return 0, errUnfold
		}
		out.steps = append(out.steps, s)
		moved[i] = int32(len(out.steps) - 1)
	}
	// The result is the last step, also where that is a derived value alone.
	last := moved[len(moved)-1]
	if int(last) != len(out.steps)-1 {
		return 0, errUnfold
	}
	return last, nil
}
