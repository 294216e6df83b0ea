package wire_test

import (
	"context"
	"reflect"
	"testing"

	"canewright/engine/recipe"
	"canewright/recipes"
)

// Bind may hand out what Recipe bound, because what is kept of a recipe binds
// to the same again.
func TestAKeptRecipeBindsToTheSame(t *testing.T) {
	t.Parallel()
	for _, name := range recipes.All() {
		w := works(t)
		r, err := w.Recipe(context.Background(), name)
		if err != nil {
			t.Fatal(err)
		}
		if again, err := w.Bind(r.Snapshot); err != nil || again != r.Bound {
			t.Errorf("%s is bound a second time (%v)", name, err)
		}
		afresh, err := works(t).Bind(r.Snapshot)
		if err != nil {
			t.Fatal(err)
		}
		if afresh == r.Bound {
			t.Fatalf("%s: nothing is compared", name)
		}
		if !reflect.DeepEqual(afresh.Set, r.Bound.Set) {
			t.Errorf("%s: the kept dimension set reads differently", name)
		}
		if !reflect.DeepEqual(afresh.Slots, r.Bound.Slots) {
			t.Errorf("%s: the slots differ", name)
		}
		if !reflect.DeepEqual(afresh.Settings, r.Bound.Settings) || afresh.Sure != r.Bound.Sure {
			t.Errorf("%s: the settings differ", name)
		}
		if !reflect.DeepEqual(plain(afresh.Stages), plain(r.Bound.Stages)) {
			t.Errorf("%s: the stages differ", name)
		}
		changed := r.Snapshot
		changed.Recipe = append([]byte("# another file\n"), changed.Recipe...)
		if other, err := w.Bind(changed); err != nil || other == r.Bound {
			t.Errorf("%s: another file is taken for the one at hand (%v)", name, err)
		}
	}
}

// plain is the stages with the text of each rule in the place of its program,
// which holds functions and cannot be compared.
func plain(stages []recipe.Stage) []any {
	var out []any
	for _, s := range stages {
		for _, r := range s.Rules {
			out = append(out, r.That.Text(), r.That.Needs(), r.Because, r.Otherwise)
		}
		s.Rules = nil
		out = append(out, s)
	}
	return out
}
