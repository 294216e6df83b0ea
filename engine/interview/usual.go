package interview

import (
	"slices"
	"strings"

	"canewright/engine/dimension"
	"canewright/engine/quantity"
	"canewright/engine/recipe"
)

// Usual is what recipes for an instrument usually hold: its stages in order,
// and the tolerances they chose.
type Usual struct {
	Stages     []UsualStage
	Tolerances map[string]UsualTolerance // by dimension
}

// UsualStage is a stage of some recipe, with all that stages of this name take.
type UsualStage struct {
	Name       string
	Batch      bool
	Tools      []string
	Materials  []string
	Dimensions []string
}

// UsualTolerance is the deviation a recipe allows, in the notation of recipes:
// "± 0.5 mm", and the recipe that chose it.
type UsualTolerance struct{ Deviation, Who string }

// UsualOf gathers what recipes hold. A stage that several have stands where
// the first one has it.
func UsualOf(all []*recipe.Bound) Usual {
	u := Usual{Tolerances: map[string]UsualTolerance{}}
	at := map[string]int{}
	for _, b := range all {
		place := len(u.Stages)
		if sharesStage(b, at) {
			place = 0
		}
		for i := range b.Stages {
			st := &b.Stages[i]
			name, _, _ := strings.Cut(st.Name, " (")
			k, known := at[name]
			if !known {
				k = place
				u.Stages = slices.Insert(u.Stages, k, UsualStage{Name: name, Batch: st.Each.Batch})
				for n, v := range at {
					if v >= k {
						at[n] = v + 1
					}
				}
				at[name] = k
			}
			place = k + 1
			u.Stages[k].add(b, st, u.Tolerances)
		}
	}
	return u
}

func sharesStage(b *recipe.Bound, at map[string]int) bool {
	return slices.ContainsFunc(b.Stages, func(st recipe.Stage) bool {
		name, _, _ := strings.Cut(st.Name, " (")
		_, known := at[name]
		return known
	})
}

func (s *UsualStage) add(b *recipe.Bound, st *recipe.Stage, tolerances map[string]UsualTolerance) {
	put := func(list *[]string, word string) {
		if word != "" && !slices.Contains(*list, word) {
			*list = append(*list, word)
		}
	}
	s.Batch = s.Batch && st.Each.Batch
	for _, t := range st.Listed.Tools {
		put(&s.Tools, t.Name)
	}
	for _, m := range st.Listed.Materials {
		put(&s.Materials, m.Name)
	}
	for _, m := range st.Measures {
		d := b.Slots[m.Slot].Dimension
		put(&s.Dimensions, d.Name)
		if _, known := tolerances[d.Name]; known || m.Target == nil || b.Slots[m.Slot].Cell != nil {
			continue
		}
		if t := m.Target.Tolerance; t.Nominal.Set && t.Low.Set && t.High.Set && t.High.Q-t.Nominal.Q == t.Nominal.Q-t.Low.Q && t.High.Q > t.Nominal.Q {
			k := t.Kind.Difference()
			if u := quantity.Main(k); t.Kind != quantity.Pitch && !u.IsZero() {
				tolerances[d.Name] = UsualTolerance{"± " + quantity.Format(quantity.Value{Kind: k, Q: t.High.Q - t.Nominal.Q}, u, 0), b.File.ID}
			}
		}
	}
}

// belongs are the dimensions that recipes measure at a stage of this name, or
// else those of the set whose own words the name uses.
func (u Usual) belongs(set *dimension.Set, stage string) []string {
	for _, s := range u.Stages {
		if s.Name == stage {
			return s.Dimensions
		}
	}
	var out []string
	words := strings.Fields(strings.ToLower(stage))
	for i := range set.Dimensions {
		d := &set.Dimensions[i]
		said := strings.ToLower(d.Title + " " + strings.Join(d.Aliases, " ") + " " + strings.NewReplacer(".", " ", "_", " ").Replace(d.Name))
		for _, w := range words {
			if w = strings.TrimSuffix(w, "s"); len(w) > 2 && !slices.Contains(littleWords, w) && slices.ContainsFunc(strings.Fields(said), func(x string) bool { return strings.HasPrefix(x, w) }) {
				out = append(out, d.Name)
				break
			}
		}
		if len(out) == mostOffers {
			break
		}
	}
	return out
}

// littleWords name nothing.
var littleWords = []string{"the", "and", "for", "off", "out", "all", "with", "from", "then", "into", "one", "end", "piece", "cane", "reed"}

// mostOffers fit a screen.
const mostOffers = 12

func (u Usual) stage(name string) (UsualStage, bool) {
	for _, s := range u.Stages {
		if s.Name == name {
			return s, true
		}
	}
	return UsualStage{}, false
}
