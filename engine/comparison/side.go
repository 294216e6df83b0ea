package comparison

import (
	"strconv"

	"canewright/engine/dimension"
	"canewright/engine/quantity"
	"canewright/engine/recipe"
	"canewright/engine/tool"
)

// side is one of the two recipes, made ready.
type side struct {
	b     *recipe.Bound
	keys  []string                     // of each slot; stations of all blades are one
	said  map[string][]*said           // by key, as they come into force
	order []string                     // keys that are said, in the order of their slots
	at    []map[string]*said           // by stage: what is set or judged there
	state []dimension.Condition        // of the cane when a stage begins
	reads []map[string]*recipe.Measure // by stage
	sums  []relation
}

// said is one target from where it comes into force to where another takes its
// place.
type said struct {
	key    string
	slot   int
	from   int // stage that sets it; -1: from the start
	until  int // stage that replaces it; the number of stages if none
	target *recipe.Target
	events []int // stages that set or judge it, ascending
	band   band
	paired bool // it is told beside a statement of the other recipe
	used   bool // another one was worked out with it
}

func newSide(b *recipe.Bound) *side {
	s := &side{b: b, said: map[string][]*said{}, keys: make([]string, len(b.Slots))}
	for i := range b.Slots {
		s.keys[i] = keyOf(&b.Slots[i])
	}
	by := map[*recipe.Target]*said{}
	for _, p := range b.Placed {
		if c := b.Slots[p.Slot].Cell; c != nil && c.Blade != b.Slots[p.Slot].Dimension.Grid.Blades[0] {
			continue // one row says it of all blades
		}
		key := s.keys[p.Slot]
		x := &said{key: key, slot: p.Slot, from: p.Stage, until: len(b.Stages), target: p.Target, band: bandOf(p.Target.Tolerance)}
		if p.Stage >= 0 {
			x.events = []int{p.Stage}
		}
		if all := s.said[key]; len(all) > 0 {
			all[len(all)-1].until = max(p.Stage, 0)
		}
		s.said[key] = append(s.said[key], x)
		by[p.Target] = x
	}
	for i := range b.Slots {
		if len(s.said[s.keys[i]]) > 0 && s.said[s.keys[i]][0].slot == i {
			s.order = append(s.order, s.keys[i])
		}
	}
	s.at = make([]map[string]*said, len(b.Stages))
	s.reads = make([]map[string]*recipe.Measure, len(b.Stages))
	s.state = make([]dimension.Condition, len(b.Stages))
	judged := func(stage int, t *recipe.Target) {
		if x := by[t]; x != nil && (len(x.events) == 0 || x.events[len(x.events)-1] != stage) {
			x.events = append(x.events, stage)
		}
	}
	var state dimension.Condition
	for i := range b.Stages {
		st := &b.Stages[i]
		s.state[i] = state
		s.reads[i] = map[string]*recipe.Measure{}
		for k := range st.Measures {
			m := &st.Measures[k]
			if key := s.keys[m.Slot]; s.reads[i][key] == nil {
				s.reads[i][key] = m
			}
			judged(i, m.Target)
		}
		for _, d := range st.Derived {
			judged(i, d.Target)
		}
		if st.Becomes != "" {
			state = st.Becomes
		}
	}
	for i := range s.at {
		s.at[i] = map[string]*said{}
	}
	for _, key := range s.order {
		for _, x := range s.said[key] {
			for _, i := range x.events {
				s.at[i][key] = x
			}
		}
	}
	s.sums = relationsOf(b)
	return s
}

// keyOf is what a slot is known by in both recipes.
func keyOf(s *recipe.Slot) string {
	switch {
	case s.Setting:
		return "\x00" + s.Name
	case s.Cell != nil:
		return s.Dimension.Name + "\x00" + s.Cell.From + "\x00" + s.Cell.Lane + "\x00" + strconv.FormatInt(s.Cell.At, 10)
	}
	return s.Dimension.Name
}

// inForce is what is said of a key at a stage; at -1 what holds from the start.
func (s *side) inForce(key string, stage int) *said {
	for _, x := range s.said[key] {
		if x.from <= stage && stage < x.until {
			return x
		}
	}
	return nil
}

// lastSaid is what is said of a key at last.
func (s *side) lastSaid(key string) *said {
	if all := s.said[key]; len(all) > 0 {
		return all[len(all)-1]
	}
	return nil
}

func (s *side) stageName(i int) string {
	if i < 0 || i >= len(s.b.Stages) {
		return ""
	}
	return s.b.Stages[i].Name
}

// readAt is where a statement is judged last, else where it is set; -1: nowhere.
func (x *said) readAt() int {
	if n := len(x.events); n > 0 {
		return x.events[n-1]
	}
	return -1
}

// condition of the cane when a slot is read at a stage; "" where nobody says.
func (s *side) condition(slot, stage int) dimension.Condition {
	clear := func(c dimension.Condition) bool { return c == dimension.Wet || c == dimension.Dry }
	if d := s.b.Slots[slot].Dimension; d != nil && clear(d.Condition) {
		return d.Condition
	}
	if stage < 0 {
		return ""
	}
	if c := s.b.Stages[stage].Condition; clear(c) {
		return c
	}
	if clear(s.state[stage]) {
		return s.state[stage]
	}
	return ""
}

// inputs of a slot: itself, or what it is worked out from.
func (s *side) inputs(slot int) []int {
	var out []int
	seen := map[int]bool{}
	var add func(int)
	add = func(i int) {
		if seen[i] {
			return
		}
		seen[i] = true
		for _, d := range s.b.Derived {
			if d.Slot == i {
				for _, n := range d.Formula.Needs() {
					add(n)
				}
				return
			}
		}
		out = append(out, i)
	}
	add(slot)
	return out
}

// swells: is a number of this slot another one on wet cane? Lengths along the
// cane, counts and times are taken to stay.
func (s *side) swells(slot int) bool {
	for _, i := range s.inputs(slot) {
		d := s.b.Slots[i].Dimension
		if d == nil {
			continue
		}
		switch d.Kind {
		case quantity.Length:
			if d.Across {
				return true
			}
		case quantity.Count, quantity.Time, quantity.Angle, quantity.Score, quantity.Temperature, quantity.Humidity, quantity.TempDiff:
		default:
			return true
		}
	}
	return false
}

// reading of a slot at a stage, or of what it is worked out from; nil: none.
func (s *side) reading(slot, stage int) *recipe.Measure {
	if stage < 0 {
		return nil
	}
	for _, i := range s.inputs(slot) {
		if m := s.reads[stage][s.keys[i]]; m != nil {
			return m
		}
	}
	return nil
}

// ownUnits: a gauge without a step reads in units of its own.
func ownUnits(t tool.Tool) bool {
	for _, c := range t.Classes {
		if c == "gauge" {
			return t.Step.Q == 0
		}
	}
	return false
}
