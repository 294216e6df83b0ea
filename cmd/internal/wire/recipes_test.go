package wire_test

import (
	"math/big"
	"slices"
	"strings"
	"testing"
	"time"

	"canewright/engine/bench"
	"canewright/engine/bench/benchtest"
	"canewright/engine/quantity"
	"canewright/engine/recipe"
	"canewright/recipes"
)

// Every bundled recipe has cases, and they come out as wanted when the readings
// are typed at the bench.
func TestBundledRecipesComeOutAsTheirCasesSay(t *testing.T) {
	t.Parallel()
	for name, b := range bundled(t) {
		file, data, ok := recipes.Cases(name)
		if !ok {
			t.Errorf("%s has no cases.yaml", name)
			continue
		}
		cases, list := recipe.LoadCases(file, data)
		if list.Len() > 0 {
			t.Fatal(findings(list))
		}
		for _, c := range cases {
			t.Run(name+"/"+c.Name.Value, func(t *testing.T) {
				t.Parallel()
				playCase(t, b, c)
			})
		}
	}
}

// askedSlot is the slot the question wants a reading of.
func askedSlot(d *benchtest.Driver) string {
	slot, ok := d.State.Asking(d.Mark)
	if !ok {
		return ""
	}
	return d.Bound.Slots[slot].Name
}

func playCase(t *testing.T, b *recipe.Bound, c recipe.Case) {
	with := bench.Beginning{Pieces: []string{"1"}}
	for _, st := range b.Stages {
		if st.Name == c.Stage.Value && st.Tube {
			with = bench.Beginning{Tubes: []string{"A"}}
		}
	}
	d, err := benchtest.Begin(b, with, notes(t))
	if err != nil {
		t.Fatal(err)
	}
	if err := d.To(c.Stage.Value); err != nil {
		t.Fatal(err)
	}
	want := map[string]string{}
	for _, v := range c.Verdicts {
		want[v.Name.Value] = v.Value.Value
	}
	moved, waits := "", false
	left := slices.Clone(c.Readings)
	for len(left) > 0 {
		// Cases say what is read, the recipe in which order.
		at := max(0, slices.IndexFunc(left, func(r recipe.Pair) bool { return r.Name.Value == askedSlot(d) }))
		r := left[at]
		left = slices.Delete(left, at, at+1)
		q := d.Question()
		if q.Asked != bench.AskReading {
			t.Fatalf("%s: no reading is asked, but %q", r.Name.Value, q.Prompt)
		}
		evs, err := d.Answer(r.Value.Value)
		if err != nil {
			t.Fatalf("%s %s: %v", r.Name.Value, r.Value.Value, err)
		}
		if d.Question().Asked == bench.AskSettle {
			more, err := d.Answer("")
			if err != nil {
				t.Fatal(err)
			}
			evs = append(evs, more...)
		}
		for _, e := range evs {
			switch x := e.Body.(type) {
			case bench.ReadingTaken:
				if x.Slot != r.Name.Value {
					t.Errorf("the reading of %s was taken for %s", r.Name.Value, x.Slot)
				}
				if x.Said == nil {
					continue // no target, or the first of several readings
				}
				if x.Said.Side != want[x.Slot] {
					t.Errorf("%s %s: %+v, want %q", x.Slot, x.Text, x.Said, want[x.Slot])
				}
				delete(want, x.Slot)
			case bench.PieceMoved:
				moved = x.How
			}
		}
	}
	for slot := range want {
		t.Errorf("%s was not judged", slot)
	}
	if look := answerOf(d, c); look != "" && moved == "" {
		evs, err := d.Answer(look)
		if err != nil {
			t.Fatalf("%q: %v", look, err)
		}
		for _, e := range evs {
			switch x := e.Body.(type) {
			case bench.PieceMoved:
				moved = x.How
			case bench.WaitBegun:
				waits = true
			}
		}
	}
	if waits && moved == "" {
		moved = string(recipe.GoingOn) // when the wait is over
	}
	if c.Then.Value != "" && moved != c.Then.Value {
		t.Errorf("then %q, want %q", moved, c.Then.Value)
	}
}

// answerOf is what a case says to the look that is asked, and the right answer
// where it only wants to know what follows.
func answerOf(d *benchtest.Driver, c recipe.Case) string {
	q := d.Question()
	switch {
	case len(c.Answers) > 0:
		var words []string
		for _, a := range c.Answers {
			words = append(words, a.Value)
		}
		return strings.Join(words, ", ")
	case c.Then.Value != "" && q.Asked == bench.AskLook:
		return d.Right(q)
	}
	return ""
}

// Each limit of each bundled recipe, typed in its own unit, is inside; the two
// nearest steps in every other unit have the side that whole-number arithmetic
// on exact fractions gives.
func TestEveryLimitOfEveryBundledRecipe(t *testing.T) {
	t.Parallel()
	limits := 0
	for name, b := range bundled(t) {
		for _, st := range b.Stages {
			for _, m := range st.Measures {
				if m.Target == nil {
					continue
				}
				for _, lim := range []quantity.Bound{m.Target.Tolerance.Low, m.Target.Tolerance.High} {
					if lim.Set {
						limits++
						checkLimit(t, name+" "+st.Key+" "+b.Slots[m.Slot].Name, m.Target.Tolerance, lim.Q)
					}
				}
			}
		}
	}
	if limits < 30 {
		t.Errorf("only %d limits were tried", limits)
	}
}

func checkLimit(t *testing.T, what string, tol quantity.Tolerance, q int64) {
	t.Helper()
	style := quantity.Style{Want: tol.Kind}
	v := quantity.Value{Kind: tol.Kind, Q: q}
	own := quantity.Format(v, tol.Unit, tol.Step)
	e, err := quantity.Parse(own, style)
	if err != nil || e.Value.Q != q || tol.Side(e.Value.Q) != quantity.Inside {
		t.Errorf("%s: the limit %s reads as %d (%v), is %v", what, own, e.Value.Q, err, tol.Side(e.Value.Q))
	}
	if tol.Kind == quantity.Pitch || tol.Kind == quantity.Count {
		return // their steps are whole cents and whole numbers, tried below in their own unit
	}
	for _, u := range quantity.UnitsOf(tol.Kind) {
		for _, decimals := range []int{1, 2, 3} {
			step := new(big.Rat).Quo(u.Quanta(), new(big.Rat).SetInt(new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(decimals)), nil)))
			n := new(big.Rat).Quo(big.NewRat(q, 1), step) // steps of the tool to the limit
			floor := new(big.Int).Div(n.Num(), n.Denom())
			for k := int64(0); k <= 1; k++ {
				exact := new(big.Rat).Mul(new(big.Rat).SetInt(new(big.Int).Add(floor, big.NewInt(k))), step)
				text := new(big.Rat).Quo(exact, u.Quanta()).FloatString(decimals) + " " + u.Name()
				e, err := quantity.Parse(text, style)
				if err != nil {
					t.Fatalf("%s: %q: %v", what, text, err)
				}
				// Exact reading, rounded once to the nearest quantum, halves up.
				half := new(big.Rat).Add(exact, big.NewRat(1, 2))
				rounded := new(big.Int).Div(half.Num(), half.Denom())
				want := quantity.Inside
				if tol.Low.Set && rounded.Cmp(big.NewInt(tol.Low.Q)) < 0 {
					want = quantity.Below
				}
				if tol.High.Set && rounded.Cmp(big.NewInt(tol.High.Q)) > 0 {
					want = quantity.Above
				}
				if got := tol.Side(e.Value.Q); got != want {
					t.Errorf("%s: %s is %v, want %v", what, text, got, want)
				}
			}
		}
	}
}

// A recipe answered rightly comes to its end, and every piece is finished.
func TestEveryBundledRecipeCanBeFinished(t *testing.T) {
	t.Parallel()
	for name, b := range bundled(t) {
		finish(t, name, b, bench.Beginning{Pieces: []string{"1", "2", "3"}}, 3)
		if b.Split >= 0 {
			finish(t, name+" from tubes", b, bench.Beginning{Tubes: []string{"A", "B"}}, 2+2*b.Stages[b.Split].Into)
		}
	}
}

// finish answers rightly to the end; all is how many tubes and pieces there
// are then.
func finish(t *testing.T, name string, b *recipe.Bound, with bench.Beginning, all int) {
	t.Helper()
	d, err := benchtest.Begin(b, with, notes(t))
	if err != nil {
		t.Fatal(err)
	}
	d.Tick = time.Minute
	for range 4000 {
		q := d.Question()
		if q.Asked == bench.AskNothing {
			break
		}
		if _, err := d.Answer(d.Right(q)); err != nil {
			t.Fatalf("%s, stage %q, %q: answer %q: %v", name, q.Stage, q.Prompt, d.Right(q), err)
		}
	}
	if len(d.State.Pieces) != all {
		t.Errorf("%s: %d tubes and pieces, want %d", name, len(d.State.Pieces), all)
	}
	for _, p := range d.State.Pieces {
		if p.Place != bench.Finished {
			t.Errorf("%s: %s is %s at stage %d (%s)", name, p.Mark, p.Place, p.Stage, p.Why)
		}
	}
	if !d.State.Done {
		t.Errorf("%s: the batch is not closed", name)
	}
}

// A line on the screen is one a player can read: 60 columns, no more than
// eight words in a verdict is held by gauging; here the do lines stay short.
func TestInstructionsAreShort(t *testing.T) {
	t.Parallel()
	for name, b := range bundled(t) {
		for _, st := range b.Stages {
			for _, d := range st.Do {
				if n := len(strings.Fields(d)); n > 30 {
					t.Errorf("%s, %s: %d words: %s", name, st.Name, n, d)
				}
			}
		}
	}
}
