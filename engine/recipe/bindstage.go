package recipe

import (
	"regexp"
	"strconv"
	"strings"

	"canewright/engine/diagnostic"
	"canewright/engine/dimension"
	"canewright/engine/tool"
)

// flatStage is a stage in working order: planned repeats written out.
type flatStage struct {
	raw  *stage
	turn string // "(2 of 3)"
}

func (b *binder) flatten(stages []*stage, turn string, depth int) []flatStage {
	var out []flatStage
	for _, s := range stages {
		switch {
		case s.hasInner:
			n := 1
			if s.times.Value != "" {
				v, err := strconv.Atoi(strings.TrimSuffix(strings.TrimSuffix(s.times.Value, " times"), " time"))
				if err != nil || v < 1 || v > 20 {
					b.list.Hinted("recipe/times", s.times.Whole, "write times: 3", "%q does not say how often", s.times.Value)
					v = 1
				}
				n = v
			}
			for k := 1; k <= n; k++ {
				t := turn
				if n > 1 {
					t = " (" + strconv.Itoa(k) + " of " + strconv.Itoa(n) + ")"
				}
				out = append(out, b.flatten(s.stages, t, depth+1)...)
			}
		case s.hasAgain:
			out = append(out, b.again(s, out, turn)...)
		default:
			if s.times.Value != "" {
				b.list.Hinted("recipe/times", s.times.Whole, "put the stages to repeat under stages:", "times stands over nested stages")
			}
			out = append(out, flatStage{s, turn})
		}
		if len(out) > mostStages {
			b.list.Errorf("recipe/too-long", s.place, "with its repeats this recipe has over %d stages", mostStages)
			return out[:0]
		}
	}
	return out
}

// again is a planned return: the earlier stage's content under a new name;
// what the new stage writes itself takes the place of the old.
func (b *binder) again(s *stage, before []flatStage, turn string) []flatStage {
	for i := len(before) - 1; i >= 0; i-- {
		if before[i].raw.name.Value != s.again.Value {
			continue
		}
		c := *before[i].raw
		c.place, c.name = s.place, s.name
		over := func(dst *diagnostic.Text, src diagnostic.Text) {
			if src.Value != "" {
				*dst = src
			}
		}
		over(&c.who, s.who)
		over(&c.why, s.why)
		over(&c.condition, s.condition)
		over(&c.becomes, s.becomes)
		over(&c.markAgain, s.markAgain)
		over(&c.noWayBack, s.noWayBack)
		if s.givenTools {
			c.tools = s.tools
		}
		if s.materials != nil {
			c.materials = s.materials
		}
		if s.do != nil {
			c.do = s.do
		}
		if s.takesOff != nil {
			c.takesOff = s.takesOff
		}
		if s.targets != nil {
			c.targets = s.targets
		}
		if s.measures != nil {
			c.measures = s.measures
		}
		if s.rules != nil {
			c.rules = s.rules
		}
		if s.look != nil {
			c.look = s.look
		}
		if s.wait != nil {
			c.wait = s.wait
		}
		return []flatStage{{&c, turn}}
	}
	var names []string
	for _, f := range before {
		names = append(names, f.raw.name.Value)
	}
	hint := "again names a stage that stands earlier in the recipe"
	if n := diagnostic.Near(s.again.Value, names); n != "" {
		hint = "did you mean " + n + "?"
	}
	b.list.Hinted("recipe/unknown-stage", s.again.Whole, hint, "there is no earlier stage %q", s.again.Value)
	return nil
}

func (b *binder) stage(f flatStage) Stage {
	s := f.raw
	st := Stage{
		Key: s.name.Value + strings.ReplaceAll(f.turn, "of", "/"), Name: s.name.Value + f.turn,
		Each: b.each(s.who), Because: s.why.Value, MarkAgain: s.markAgain.Value,
		NoWayBack: b.yes(s.noWayBack, "no way back"),
		Condition: b.condition(s.condition), Becomes: b.condition(s.becomes),
	}
	st.Key = strings.TrimSpace(s.name.Value + f.turn)
	b.targets(s.targets)
	for _, t := range s.tools {
		st.Use.Tools = append(st.Use.Tools, b.tool(t))
	}
	for _, t := range s.materials {
		st.Use.Materials = append(st.Use.Materials, b.material(t))
	}
	for _, t := range s.do {
		st.Do = append(st.Do, b.text(t))
	}
	for _, t := range s.uses {
		st.Uses = append(st.Uses, t.Value)
	}
	for _, t := range s.takesOff {
		if i, ok := b.byName[t.Value]; ok && !b.Slots[i].Setting {
			st.TakesOff = append(st.TakesOff, i)
		} else {
			st.TakesAlso = append(st.TakesAlso, t.Value)
		}
	}
	measured := map[int]bool{}
	for _, m := range s.measures {
		for _, bm := range b.measure(m, &st) {
			if measured[bm.Slot] {
				b.list.Hinted("recipe/measured-twice", m.place, "write repeat: 2 to read it twice", "%s is measured twice at this stage", b.Slots[bm.Slot].Name)
				continue
			}
			measured[bm.Slot] = true
			st.Measures = append(st.Measures, bm)
		}
	}
	for _, d := range b.Bound.Derived {
		t := b.inForce[d.Slot]
		if t == nil {
			continue
		}
		for _, n := range d.Formula.Needs() {
			if measured[n] {
				st.Derived = append(st.Derived, DerivedTarget{d.Slot, t})
				break
			}
		}
	}
	for _, r := range s.rules {
		if br, ok := b.rule(r); ok {
			st.Rules = append(st.Rules, br)
		}
	}
	st.Look = b.look(s.look)
	st.Wait = b.wait(s.wait)
	// The notes follow what the words speak of too, not only what the author listed.
	spoken := []string{s.name.Value}
	spoken = append(spoken, st.Do...)
	if st.Look != nil {
		for _, a := range st.Look.Answers {
			spoken = append(spoken, a.Outcome.Do)
		}
	}
	if s.hasAgain {
		spoken = append(spoken, s.again.Value)
	}
	st.Use = st.Use.With(b.tools.Spoken(strings.Join(spoken, ". ")))
	for _, m := range st.Measures {
		st.Use = st.Use.With(tool.Use{Tools: []tool.Tool{m.Tool}})
	}
	st.Use = named(st.Use)
	return st
}

// named drops the empty tool of a measurement that names none.
func named(u tool.Use) tool.Use {
	var out tool.Use
	for _, t := range u.Tools {
		if t.Name != "" {
			out.Tools = append(out.Tools, t)
		}
	}
	out.Materials, out.Actions = u.Materials, u.Actions
	return out
}

func (b *binder) yes(t diagnostic.Text, what string) bool {
	switch t.Value {
	case "", "no":
		return false
	case "yes":
		return true
	}
	b.list.Hinted("recipe/yes-or-no", t.Whole, "write "+what+": yes, or leave the line out", "%q is neither yes nor no", t.Value)
	return false
}

func (b *binder) condition(t diagnostic.Text) dimension.Condition {
	switch c := dimension.Condition(t.Value); c {
	case "", dimension.Wet, dimension.Dry, dimension.Either:
		return c
	}
	b.list.Hinted("recipe/condition", t.Whole, "write wet or dry", "%q is not a condition of cane", t.Value)
	return ""
}

func (b *binder) tool(t diagnostic.Text) tool.Tool {
	if x, ok := b.tools.Tool(t.Value); ok {
		return x
	}
	if n := diagnostic.Near(strings.ToLower(t.Value), b.tools.ToolNames()); n != "" {
		b.list.Hinted("recipe/misspelt-tool", t.Whole, "did you mean "+n+"?", "%q is close to a tool this tool knows", t.Value)
	} else {
		b.list.Add(diagnostic.Diagnostic{Code: "recipe/unknown-tool", Severity: diagnostic.Warning, Span: t.Whole,
			Message: quote(t.Value) + " is not in the tool list", Hint: "the bench shows the note for unknown tools before it is used"})
	}
	return tool.Unknown(t.Value)
}

func (b *binder) material(t diagnostic.Text) tool.Material {
	if x, ok := b.tools.Material(t.Value); ok {
		return x
	}
	if n := diagnostic.Near(strings.ToLower(t.Value), b.tools.MaterialNames()); n != "" {
		b.list.Hinted("recipe/misspelt-material", t.Whole, "did you mean "+n+"?", "%q is close to a material this tool knows", t.Value)
	} else {
		b.list.Add(diagnostic.Diagnostic{Code: "recipe/unknown-material", Severity: diagnostic.Warning, Span: t.Whole,
			Message: quote(t.Value) + " is not in the list of materials", Hint: "glues and finishes without a name here stop the stage until their label has been read"})
	}
	return tool.UnknownMaterial(t.Value)
}

func quote(s string) string { return strconv.Quote(s) }

func (b *binder) measure(m measure, st *Stage) []Measure {
	i, ok := b.dimension(m.take)
	if !ok {
		return nil
	}
	d := b.Slots[i].Dimension
	if d.Formula != "" {
		b.list.Hinted("recipe/derived", m.take.Whole, "it is worked out from: "+d.Formula, "%s is not measured", d.Name)
		return nil
	}
	out := Measure{Slot: i, Repeat: 1, At: m.at.Value, Each: b.each(m.who), Target: b.inForce[i]}
	if m.repeat.Value != "" {
		n, err := strconv.Atoi(m.repeat.Value)
		if err != nil || n < 1 || n > 30 {
			b.list.Hinted("recipe/number", m.repeat.Whole, "write repeat: 3", "%q is not a number of readings", m.repeat.Value)
			n = 1
		}
		out.Repeat = n
	}
	if m.with.Value != "" {
		out.Tool = b.tool(m.with)
	} else {
		out.Tool = b.reader(d, st)
	}
	if d.Grid == nil {
		if m.lanes.Value != "" {
			b.list.Hinted("recipe/not-a-grid", m.lanes.Whole, "leave lanes out", "%s has no lanes", d.Name)
		}
		return []Measure{out}
	}
	lanes := map[string]bool{}
	for _, w := range strings.Fields(strings.ReplaceAll(m.lanes.Value, ",", " ")) {
		if !contains(d.Grid.Lanes, w) {
			b.list.Hinted("recipe/grid", m.lanes.Whole, "the lanes are "+orList(d.Grid.Lanes), "%q is not a lane of %s", w, d.Name)
			return nil
		}
		lanes[w] = true
	}
	b.group++
	var all []Measure
	for k, s := range b.Slots {
		if s.Cell == nil || s.Dimension != d || len(lanes) > 0 && !lanes[s.Cell.Lane] || b.inForce[k] == nil {
			continue
		}
		c := out
		c.Slot, c.Target, c.Group = k, b.inForce[k], b.group
		all = append(all, c)
	}
	if len(all) == 0 {
		b.list.Hinted("recipe/grid", m.take.Whole, "write its grid under targets: from, at, one row a lane, within", "no stations are set for %s here", d.Name)
	}
	return all
}

// reader is the tool a dimension is read with when the recipe names none: the
// stage's own gauge that reads its kind, else the dimension's usual one.
func (b *binder) reader(d *dimension.Dimension, st *Stage) tool.Tool {
	for _, t := range st.Use.Tools {
		if t.Step.Kind == d.Kind.Difference() || t.Step.Kind == d.Kind {
			if t.Step.Q > 0 {
				return t
			}
		}
	}
	t, _ := b.tools.Tool(d.Tool)
	return t
}

var nameInText = regexp.MustCompile(`\{([^{}]*)\}`)

// text puts targets and settings in the place of {names}.
func (b *binder) text(t diagnostic.Text) string {
	value := t.Value
	var out strings.Builder
	last := 0
	for _, m := range nameInText.FindAllStringSubmatchIndex(value, -1) {
		out.WriteString(value[last:m[0]])
		last = m[1]
		from := len([]rune(value[:m[2]]))
		name := value[m[2]:m[3]]
		at := t.Span(from, from+len([]rune(name)))
		i, ok := b.byName[name]
		switch {
		case !ok:
			hint := "write a dimension or setting of this recipe between { and }"
			if n := b.Near(name); n != "" {
				hint = "did you mean {" + n + "}?"
			}
			b.list.Hinted("recipe/unknown-dimension", at, hint, "%q is not a dimension of this instrument", name)
		case b.Slots[i].Setting:
			for _, s := range b.Bound.Settings {
				if s.Slot == i {
					out.WriteString(s.Value.String())
				}
			}
		case b.inForce[i] == nil:
			b.list.Hinted("recipe/no-target", at, "write a target for it, or leave out the { }", "%s has no target here, so there is nothing to show", name)
		default:
			out.WriteString(b.inForce[i].Tolerance.Text)
			if d := b.Slots[i].Dimension; d.Datum != "" {
				out.WriteString(" from " + d.Datum)
			}
		}
	}
	out.WriteString(value[last:])
	return strings.Join(strings.Fields(out.String()), " ")
}

func (b *binder) look(l *look) *Look {
	if l == nil {
		return nil
	}
	out := &Look{Question: b.text(l.question), Several: b.yes(l.several, "several")}
	for _, a := range l.answers {
		out.Answers = append(out.Answers, Answer{a.word.Value, b.outcome(a.outcome)})
	}
	return out
}
