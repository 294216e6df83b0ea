package wire_test

import (
	"context"
	"testing"

	"canewright/cmd/internal/wire"
	"canewright/engine/formula"
	"canewright/engine/recipe"
)

// The rules of the bundled recipes are neither idle nor impossible, and every
// remedy of the instruments can be called up by its formulas.
func TestBundledRulesCanHoldAndCanFail(t *testing.T) {
	t.Parallel()
	looked := 0
	try := func(name string, b *recipe.Bound) {
		all, list := b.CheckRules()
		for _, d := range list.Sorted() {
			t.Errorf("%s: %s", name, d)
		}
		for _, p := range all {
			looked++
			if p.Proof == formula.Never {
				t.Errorf("%s: %s%s can never hold with %s", name, p.Remedy, p.That, recipe.Taken(p.Ranges))
			}
		}
	}
	for name, b := range bundled(t) {
		try(name, b)
	}
	for name := range wire.Bundled() {
		f, list := recipe.Load(name, []byte("canewright: recipe 1\ntitle: nothing\nid: nothing\nversion: 1\ninstrument: "+name+" 1\nstages:\n  - {stage: look, do: [Look.]}\n"))
		if f == nil {
			t.Fatal(findings(list))
		}
		w := works(t)
		set, stop, err := w.Host().Ask(context.Background(), name, 1)
		if err != nil {
			t.Fatal(err)
		}
		defer stop()
		b, list := recipe.Bind(f, set, w.Tools())
		if b == nil {
			t.Fatal(findings(list))
		}
		try(name, b)
	}
	if looked < 20 {
		t.Errorf("only %d rules and formulas were looked at", looked)
	}
}
