package wire_test

import (
	"math/big"
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

func playCase(t *testing.T, b *recipe.Bound, c recipe.Case) {
	d, err := benchtest.Start(b, 1, notes(t))
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
	moved := ""
	for _, r := range c.Readings {
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
				if x.Said == nil || x.Said.Side != want[x.Slot] {
					t.Errorf("%s %s: %+v, want %s", x.Slot, x.Text, x.Said, want[x.Slot])
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
	if q := d.Question(); c.Then.Value != "" && moved == "" && q.Asked == bench.AskLook {
		evs, err := d.Answer(d.Right(q))
		if err != nil {
			t.Fatal(err)
		}
		for _, e := range evs {
			if m, ok := e.Body.(bench.PieceMoved); ok {
				moved = m.How
			}
		}
	}
	if c.Then.Value != "" && moved != c.Then.Value {
		t.Errorf("then %q, want %q", moved, c.Then.Value)
	}
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
		d, err := benchtest.Start(b, 3, notes(t))
		if err != nil {
			t.Fatal(err)
		}
		d.Tick = time.Minute
		for range 2000 {
			q := d.Question()
			if q.Asked == bench.AskNothing {
				break
			}
			if _, err := d.Answer(d.Right(q)); err != nil {
				t.Fatalf("%s, stage %q, %q: answer %q: %v", name, q.Stage, q.Prompt, d.Right(q), err)
			}
		}
		for _, p := range d.State.Pieces {
			if p.Place != bench.Finished {
				t.Errorf("%s: piece %s is %s at stage %d (%s)", name, p.Mark, p.Place, p.Stage, p.Why)
			}
		}
		if !d.State.Done {
			t.Errorf("%s: the batch is not closed", name)
		}
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
