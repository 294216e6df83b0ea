package recipe

import (
	"canewright/engine/formula"
)

func (b *binder) rule(r rule) (Rule, bool) {
	f, list := formula.Compile(r.that, b)
	b.list.Append(list)
	if list.Failed() {
		return Rule{}, false
	}
	if !f.Truth() {
		b.list.Hinted("formula/not-a-question", r.that.Whole, "compare two things: gouge.centre - gouge.side >= 0.10 mm", "this rule is a %s, not a yes or no", f.Kind())
		return Rule{}, false
	}
	return Rule{That: f, Because: r.because.Value, Otherwise: b.outcome(r.otherwise)}, true
}
