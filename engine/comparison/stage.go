package comparison

import (
	"slices"
	"strconv"
	"strings"

	"canewright/engine/recipe"
)

// Stage is a stage of A, of B, or two that belong together.
type Stage struct {
	A       *Place  `json:"a,omitempty"`
	B       *Place  `json:"b,omitempty"`
	Score   float64 `json:"alike,omitempty"` // 0 to 1, of two that belong together
	Renamed bool    `json:"renamed,omitempty"`
	Moved   bool    `json:"moved,omitempty"`
	// Differs are the ways in which the two are worked otherwise, beside their
	// targets: what, in A, in B.
	Differs []Differing `json:"differs,omitempty"`
	Wait    *Row        `json:"wait,omitempty"`
}

// Place is a stage and its number, from 1.
type Place struct {
	Name   string `json:"name"`
	Number int    `json:"number"`
}

// Differing is one way in which two stages differ.
type Differing struct {
	What string `json:"what"`
	A    string `json:"a"`
	B    string `json:"b"`
}

// walk goes through the stages: A's in order, then what only B has.
func (c *Comparison) walk() {
	c.moved = c.stages.moved()
	of := map[int]int{} // pair of a stage of A
	for n, p := range c.stages.pairs {
		of[p.a] = n
	}
	at := func(s *side, i int) *Place { return &Place{s.b.Stages[i].Name, i + 1} }
	for i := range c.a.b.Stages {
		n, both := of[i]
		if !both {
			c.Stages = append(c.Stages, Stage{A: at(c.a, i)})
			continue
		}
		k := c.stages.pairs[n].b
		x, y := &c.a.b.Stages[i], &c.b.b.Stages[k]
		st := Stage{A: at(c.a, i), B: at(c.b, k), Score: c.stages.pairs[n].score, Renamed: baseName(x) != baseName(y), Moved: c.moved[n]}
		st.Differs = c.differs(x, y)
		st.Wait = c.waits(x, y)
		c.Stages = append(c.Stages, st)
	}
	for k := range c.b.b.Stages {
		if c.stages.ofB[k] < 0 {
			c.Stages = append(c.Stages, Stage{B: at(c.b, k)})
		}
	}
}

// differs lists how two stages are worked otherwise.
func (c *Comparison) differs(x, y *recipe.Stage) []Differing {
	var out []Differing
	add := func(what, a, b string) {
		if a != b {
			out = append(out, Differing{what, a, b})
		}
	}
	list := func(names []string) string {
		slices.Sort(names)
		return strings.Join(slices.Compact(names), ", ")
	}
	toolsOf := func(st *recipe.Stage) string {
		var names []string
		for _, t := range st.Use.Tools {
			names = append(names, t.Name)
		}
		return list(names)
	}
	materialsOf := func(st *recipe.Stage) string {
		var names []string
		for _, m := range st.Use.Materials {
			names = append(names, m.Name)
		}
		return list(names)
	}
	yes := func(b bool) string {
		if b {
			return "yes"
		}
		return "no"
	}
	add("tools", toolsOf(x), toolsOf(y))
	add("materials", materialsOf(x), materialsOf(y))
	add("for", forWhom(x.Each), forWhom(y.Each))
	add("read on cane that is", string(x.Condition), string(y.Condition))
	add("cane becomes", string(x.Becomes), string(y.Becomes))
	add("takes off", c.off(c.a, x), c.off(c.b, y))
	add("no way back", yes(x.NoWayBack), yes(y.NoWayBack))
	add("split into", pieces(x.Into), pieces(y.Into))
	add("measures", measured(c.a, x), measured(c.b, y))
	add("looks for", looked(x), looked(y))
	add("rules", ruled(x), ruled(y))
	add("what follows", c.follows(c.a, x), c.follows(c.b, y))
	add("says", strings.Join(told(strings.Join(x.Do, " ")), " "), strings.Join(told(strings.Join(y.Do, " ")), " "))
	if n := len(out); n > 0 && out[n-1].What == "says" {
		out[n-1].A, out[n-1].B = strings.Join(x.Do, " "), strings.Join(y.Do, " ")
	}
	return out
}

func (c *Comparison) off(s *side, st *recipe.Stage) string {
	var names []string
	for _, slot := range st.TakesOff {
		names = append(names, s.b.Slots[slot].Dimension.Name)
	}
	names = append(names, st.TakesAlso...)
	slices.Sort(names)
	return strings.Join(slices.Compact(names), ", ")
}

func measured(s *side, st *recipe.Stage) string {
	var names []string
	for _, m := range st.Measures {
		name := s.b.Slots[m.Slot].Dimension.Name
		if m.Repeat > 1 {
			name += " " + strconv.Itoa(m.Repeat) + " times"
		}
		if m.Each != (recipe.Each{}) {
			name += " (" + forWhom(m.Each) + ")"
		}
		if m.Tool.Name != "" {
			name += " with " + m.Tool.Name
		}
		if m.At != "" {
			name += " at " + m.At
		}
		names = append(names, name)
	}
	slices.Sort(names)
	return strings.Join(slices.Compact(names), ", ")
}

func looked(st *recipe.Stage) string {
	if st.Look == nil {
		return ""
	}
	s := st.Look.Question
	for _, a := range st.Look.Answers {
		s += " / " + a.Word
	}
	return s
}

func ruled(st *recipe.Stage) string {
	var all []string
	for _, r := range st.Rules {
		all = append(all, r.That.Text())
	}
	slices.Sort(all)
	return strings.Join(all, "; ")
}

// follows says what becomes of a piece outside a target, a rule, or by a look;
// going on is not said.
func (c *Comparison) follows(s *side, st *recipe.Stage) string {
	var all []string
	add := func(what string, o recipe.Outcome) {
		if o.How == recipe.GoingOn && o.Do == "" {
			return
		}
		text := what + ": " + string(o.How)
		if o.How == recipe.BackTo {
			text += " " + s.stageName(o.To) + ", " + strconv.Itoa(o.AtMost) + " times"
			if o.Then != nil {
				text += ", then " + string(o.Then.How)
			}
		}
		if o.Do != "" {
			text += " (" + o.Do + ")"
		}
		all = append(all, text)
	}
	target := func(slot int, t *recipe.Target) {
		if t != nil {
			d := s.b.Slots[slot].Dimension
			add(d.Name+" too "+d.More, t.Above)
			add(d.Name+" too "+d.Less, t.Below)
		}
	}
	for _, m := range st.Measures {
		target(m.Slot, m.Target)
	}
	for _, d := range st.Derived {
		target(d.Slot, d.Target)
	}
	for _, r := range st.Rules {
		add("not "+r.That.Text(), r.Otherwise)
	}
	if st.Look != nil {
		for _, a := range st.Look.Answers {
			add(a.Word, a.Outcome)
		}
	}
	slices.Sort(all)
	return strings.Join(slices.Compact(all), "; ")
}

func forWhom(e recipe.Each) string {
	switch {
	case e.Batch:
		return "the batch"
	case e.First:
		return "the first piece"
	case e.Every > 1:
		return "1 piece in " + strconv.Itoa(e.Every)
	}
	return "each piece"
}

func pieces(n int) string {
	if n == 0 {
		return ""
	}
	return strconv.Itoa(n) + " pieces"
}
