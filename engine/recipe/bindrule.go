package recipe

import (
	"canewright/engine/diagnostic"
	"canewright/engine/formula"
)

// rule compiles what should hold. The slots do not change once stages are
// bound, so a rule that is repeated is compiled once.
func (b *binder) rule(r rule) (Rule, bool) {
	f, known := b.rules[r.that.Whole.From]
	if !known {
		var list diagnostic.List
		f, list = b.compile(r.that)
		b.list.Append(list)
		if f != nil && !f.Truth() {
			b.list.Hinted("formula/not-a-question", r.that.Whole, "compare it with something: wire.first - wire.second >= 7 mm", "this rule works out a number (%s), not a yes or no", f.Kind())
			f = nil
		}
		b.rules[r.that.Whole.From] = f
	}
	if f == nil {
		return Rule{}, false
	}
	return Rule{That: f, Worked: b.unfold(f), Because: b.text(r.because), Otherwise: b.outcome(r.otherwise), place: r.that.Whole}, true
}

// unfold puts the formulas of derived dimensions in their place; f itself where
// that would be too long.
func (b *Bound) unfold(f *formula.Formula) *formula.Formula {
	u, err := f.Unfold(func(slot int) *formula.Formula {
		for _, d := range b.Derived {
			if d.Slot == slot {
				return d.Formula
			}
		}
		return nil
	})
	if err != nil {
		return f
	}
	return u
}
