package remedy

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"canewright/engine/dimension"
	"canewright/engine/recipe"
)

// Limit is where a slot's best reading lies against its lower limit.
type Limit int8

const (
	NotKnown Limit = iota // not measured, or it has no lower limit
	Clear                 // above it
	Reached               // at it, or under it
	Stale                 // it was above it, and strokes were made there since
)

// Case is all that is known of one reed.
type Case struct {
	Symptoms []string // chosen: names, words, or other ways of saying them; unknown ones count for nothing
	// By slot of the recipe, as formulas take them (quantity.Value.Float);
	// shorter slices count as not known. U is the standard uncertainty in the
	// same quanta, 0 where there is none.
	Values []float64
	Known  []bool
	U      []float64
	Lower  []Limit
	Over   []string // how far above its target a slot lies, in words: "0.04 over"; "" where it does not
	Tried  []Tried
}

// Tried is a remedy that was tried on this reed.
type Tried struct {
	Name   string
	Helped *bool // nil: nobody has said yet
}

// Advice is one remedy for one reed.
type Advice struct {
	Remedy *recipe.Remedy
	// Score is the share of the chosen symptoms it is for (0 to 1), plus how
	// far the readings that are known speak for it (1) or against it (-1).
	Score    float64
	Step     string   // what to do, put as a choice where it cannot be undone
	Fits     []string // why it fits, with numbers
	Against  []string // what speaks against it
	Unknown  []string // what is not known and would tell
	Excluded string   // why it is not to be done; "" where it may be

	bound  *recipe.Bound
	checks []check
}

// Rank is what can be tried, the best first, and apart from it what fits and
// must not be done, with the reason. Those that score alike come as they can
// be undone; then the player's own, then in the order of the recipe.
func Rank(b *recipe.Bound, c Case) (advice, excluded []Advice) {
	k := newKnown(b, c)
	chosen := k.chosen(c.Symptoms)
	for i := range b.Remedies {
		a, ok := k.weigh(&b.Remedies[i], chosen)
		if !ok {
			continue
		}
		a.Excluded = k.excluded(a.Remedy, c.Tried)
		if a.Excluded == "" && a.Remedy.Touches.TakesCane() && len(a.Against) > 0 {
			a.Excluded = "a reading speaks against it: " + a.Against[0] // what is cut does not come back
		}
		if a.Excluded != "" {
			excluded = append(excluded, a)
			continue
		}
		k.history(&a, c.Tried)
		advice = append(advice, a)
	}
	slices.SortStableFunc(advice, better)
	slices.SortStableFunc(excluded, better)
	return advice, excluded
}

// better puts the higher score first. Scores are compared in millionths, so
// that the last digits of a probability decide nothing.
func better(a, b Advice) int {
	own := func(x Advice) int {
		if x.Remedy.Own {
			return 0
		}
		return 1
	}
	return cmp.Or(cmp.Compare(millionths(b.Score), millionths(a.Score)),
		cmp.Compare(a.Remedy.Touches.Order(), b.Remedy.Touches.Order()), cmp.Compare(own(a), own(b)))
}

// weigh reports false where neither a symptom nor a reading calls the remedy
// up.
func (k *known) weigh(r *recipe.Remedy, chosen []dimension.Symptom) (Advice, bool) {
	a := Advice{Remedy: r, bound: k.b, Step: step(r)}
	matched := 0
	for _, s := range chosen {
		if slices.Contains(r.Symptoms, s.Name) {
			matched++
			a.Fits = append(a.Fits, "taken as: "+s.Words)
		}
	}
	if matched > 0 {
		a.Score = float64(matched) / float64(len(chosen))
	}
	speaks, sum := 0, 0.0
	for _, f := range r.Conditions {
		x := k.check(f)
		a.checks = append(a.checks, x)
		switch {
		case !x.known:
			a.Unknown = append(a.Unknown, x.words)
			continue
		case x.holds:
			a.Fits = append(a.Fits, x.words)
		default:
			a.Against = append(a.Against, x.words)
		}
		speaks++
		sum += 2*x.p - 1
	}
	if speaks > 0 {
		a.Score += sum / float64(speaks)
	}
	if matched == 0 && sum <= 0 {
		return a, false
	}
	if over := k.over(r); len(over) > 0 { // there is cane to spare, and it was measured
		a.Fits = append(a.Fits, over...)
		a.Score += 0.5
	}
	if r.Touches.TakesCane() {
		a.Unknown = append(a.Unknown, k.unmeasured(r)...)
	}
	return a, true
}

// step is what to do. Cane that is gone stays gone, so such a step is the
// player's choice and says so.
func step(r *recipe.Remedy) string {
	switch {
	case r.Touches == dimension.TouchesGivenUp:
		return "If nothing else is left: " + r.Do
	case r.Touches.TakesCane():
		return "This cannot be undone; you decide. " + r.Do
	}
	return r.Do
}

// excluded is why a remedy must not be advised, or "".
func (k *known) excluded(r *recipe.Remedy, tried []Tried) string {
	for _, t := range tried {
		if t.Helped == nil || *t.Helped {
			continue
		}
		if dimension.SameWords(t.Name, r.Name) {
			return "tried, and it did not help"
		}
		for i := range k.b.Remedies {
			if o := &k.b.Remedies[i]; dimension.SameWords(t.Name, o.Name) && sameStep(o, r) {
				return fmt.Sprintf("the same step as %q, which was tried and did not help", o.Name)
			}
		}
	}
	measured, stale := false, ""
	for _, p := range r.Takes {
		for slot := range k.b.Slots {
			if !k.b.Covers(p, slot) {
				continue
			}
			switch k.lower(slot) {
			case Reached:
				return fmt.Sprintf("it takes off at %s, which is at its lower limit, under it, or too near to tell", k.b.Slots[slot].Title())
			case Stale:
				stale = k.b.Slots[slot].Title()
			case Clear:
				measured = true
			}
		}
	}
	switch {
	case stale != "":
		return "strokes were made at " + stale + " since it was read: measure it first"
	case !measured && len(r.Takes) > 0:
		return "it takes off at " + k.b.PartTitle(r.Takes[0]) + ", and whether there is any to spare was not measured here"
	}
	return ""
}

// over says where what a remedy takes off lies above its target: three places.
func (k *known) over(r *recipe.Remedy) []string {
	var out []string
	for _, p := range r.Takes {
		for slot := range k.b.Slots {
			if slot < len(k.above) && k.above[slot] != "" && k.b.Covers(p, slot) && len(out) < 3 {
				out = append(out, k.b.Slots[slot].Title()+" "+k.above[slot])
			}
		}
	}
	return out
}

// sameStep: the same words, or the same wire pressed from the same side.
// Contradictory sources promise different things of one and the same step.
func sameStep(a, b *recipe.Remedy) bool {
	if a.Touches == dimension.TouchesKnife && b.Touches == dimension.TouchesKnife && slices.Equal(a.TakesOff, b.TakesOff) {
		return true // the knife at the same place, whatever the reason given
	}
	return dimension.SameWords(a.Do, b.Do) || a.Wire != "" && a.Axis != "" && a.Wire == b.Wire && a.Axis == b.Axis
}

// history says what came of a remedy before.
func (k *known) history(a *Advice, tried []Tried) {
	for i := len(tried) - 1; i >= 0; i-- {
		t := tried[i]
		if !dimension.SameWords(t.Name, a.Remedy.Name) {
			continue
		}
		if t.Helped == nil {
			a.Unknown = append(a.Unknown, "it was tried: did it help?")
		} else {
			a.Fits = append(a.Fits, "it helped before")
		}
		return
	}
}

// unmeasured names what a remedy takes off and nobody has measured.
func (k *known) unmeasured(r *recipe.Remedy) []string {
	var out []string
	for _, p := range r.Takes {
		seen := false
		for slot := range k.b.Slots {
			seen = seen || k.b.Covers(p, slot) && k.is(slot)
		}
		if !seen {
			out = append(out, k.b.PartTitle(p)+" is not measured: measure it before cane comes off")
		}
	}
	return out
}

func (k *known) lower(slot int) Limit {
	if slot >= len(k.limits) {
		return NotKnown
	}
	return k.limits[slot]
}

// chosen are the symptoms meant, each once.
func (k *known) chosen(said []string) []dimension.Symptom {
	var out []dimension.Symptom
	for _, w := range said {
		s, ok := k.b.SymptomNamed(w)
		if ok && !slices.ContainsFunc(out, func(o dimension.Symptom) bool { return o.Name == s.Name }) {
			out = append(out, s)
		}
	}
	return out
}

func join(words []string) string { return strings.Join(words, ", ") }
