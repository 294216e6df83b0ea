package recipe

import (
	"strconv"
	"strings"
	"unicode/utf8"

	"canewright/engine/diagnostic"
	"canewright/engine/dimension"
	"canewright/engine/tool"
)

func (b *binder) stage(f flatStage) Stage {
	s := f.raw
	st := Stage{
		Name: strings.TrimSpace(s.name.Value + f.turn), Each: b.each(s.who),
		NoWayBack: b.yes(s.noWayBack, "no way back"),
		Condition: b.condition(s.condition), Becomes: b.condition(s.becomes),
		Into: b.into(s.into),
	}
	b.targets(s.targets, b.at)
	st.Because, st.MarkAgain = b.text(s.why), b.text(s.markAgain)
	for _, t := range s.tools[:b.fewTools(s.tools)] {
		st.Use.Tools = append(st.Use.Tools, b.tool(t))
	}
	for _, t := range s.materials[:b.fewTools(s.materials)] {
		st.Use.Materials = append(st.Use.Materials, b.material(t))
	}
	for _, t := range s.do {
		st.Do = append(st.Do, b.text(t))
	}
	for _, t := range s.uses {
		st.Uses = append(st.Uses, t.Value)
	}
	for _, t := range s.takesOff {
		b.takesOff(t, &st)
	}
	measured := map[int]bool{}
	for _, m := range s.measures {
		for _, bm := range b.measure(m, &st) {
			if measured[bm.Slot] {
				b.list.Hinted("recipe/twice", m.place, "write repeat: 2 to read it twice", "%s is measured twice at this stage", b.Slots[bm.Slot].Dimension.Name)
				break
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
				st.Derived = append(st.Derived, DerivedTarget{d.Slot, t, b.unfold(d.Formula)})
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
	spoken = append(spoken, s.origins...)
	said := map[string]bool{"": true} // the stations of a grid share their outcomes
	for _, o := range st.outcomes() {
		if !said[o.Do] {
			said[o.Do] = true
			spoken = append(spoken, o.Do)
		}
	}
	with := b.tools.Spoken(strings.Join(spoken, ". "))
	read := map[string]bool{}
	for _, m := range st.Measures {
		if !read[m.Tool.Name] {
			read[m.Tool.Name] = true
			with.Tools = append(with.Tools, m.Tool)
		}
	}
	if len(read) > mostTools {
		b.list.Hinted("recipe/too-long", s.place, "make several stages of it", "the measurements of this stage name over %d tools", mostTools)
	}
	st.Use = st.Use.With(with)
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

// takesOff resolves a thing taken off: a dimension, all stations of a grid, or
// something that is not measured, such as string.
func (b *binder) takesOff(t diagnostic.Text, st *Stage) {
	i, ok := b.find(t.Value)
	switch {
	case !ok && strings.Contains(t.Value, "."):
		b.dimension(t) // which reports it
	case !ok:
		st.TakesAlso = append(st.TakesAlso, t.Value)
	case b.Slots[i].Setting:
		b.list.Hinted("recipe/name", t.Whole, "write a dimension, or a plain word such as string", "%q is a setting and cannot be taken off", clip(t.Value))
	default:
		b.renamed(t, 0, utf8.RuneCountInString(t.Value))
		st.TakesOff = append(st.TakesOff, i)
		cells := b.cellsOf[b.Slots[i].Dimension]
		b.count(t.Whole, len(cells))
		st.TakesOff = append(st.TakesOff, cells...)
	}
}

// outcomes are all that may follow at a stage.
func (s *Stage) outcomes() []Outcome {
	var out []Outcome
	add := func(all ...Outcome) {
		for _, o := range all {
			out = append(out, o)
			if o.Then != nil {
				out = append(out, *o.Then)
			}
		}
	}
	for _, m := range s.Measures {
		if m.Target != nil {
			add(m.Target.Above, m.Target.Below)
		}
	}
	for _, d := range s.Derived {
		add(d.Target.Above, d.Target.Below)
	}
	for _, r := range s.Rules {
		add(r.Otherwise)
	}
	if s.Look != nil {
		for _, a := range s.Look.Answers {
			add(a.Outcome)
		}
	}
	return out
}

func (b *binder) yes(t diagnostic.Text, what string) bool {
	switch t.Value {
	case "", "no":
		return false
	case "yes":
		return true
	}
	b.list.Hinted("recipe/yes-or-no", t.Whole, "write "+what+": yes, or leave the line out", "%q is neither yes nor no", clip(t.Value))
	return false
}

func (b *binder) condition(t diagnostic.Text) dimension.Condition {
	switch c := dimension.Condition(t.Value); c {
	case "", dimension.Wet, dimension.Dry, dimension.Either:
		return c
	}
	b.list.Hinted("recipe/condition", t.Whole, "write wet or dry", "%q is not a condition of cane", clip(t.Value))
	return ""
}

func (b *binder) tool(t diagnostic.Text) tool.Tool {
	if x, ok := b.tools.Tool(t.Value); ok {
		return x
	}
	if n := diagnostic.Near(strings.ToLower(t.Value), b.toolWords()); n != "" {
		b.list.Hinted("recipe/misspelt-tool", t.Whole, "did you mean "+n+"?", "%q is not quite the name of a tool", clip(t.Value))
	} else {
		b.list.Add(diagnostic.Diagnostic{Code: "recipe/unknown-tool", Severity: diagnostic.Warning, Span: t.Whole,
			Message: quote(clip(t.Value)) + " is not in the tool list", Hint: "the bench shows the note for unknown tools before it is used"})
	}
	return tool.Unknown(t.Value)
}

// The words of the catalogue, listed once a recipe.
func (b *binder) toolWords() []string {
	if b.toolNames == nil {
		b.toolNames = b.tools.ToolNames()
	}
	return b.toolNames
}

func (b *binder) materialWords() []string {
	if b.materialNames == nil {
		b.materialNames = b.tools.MaterialNames()
	}
	return b.materialNames
}

func (b *binder) material(t diagnostic.Text) tool.Material {
	if x, ok := b.tools.Material(t.Value); ok {
		return x
	}
	if n := diagnostic.Near(strings.ToLower(t.Value), b.materialWords()); n != "" {
		b.list.Hinted("recipe/misspelt-material", t.Whole, "did you mean "+n+"?", "%q is not quite the name of a material", clip(t.Value))
	} else {
		b.list.Add(diagnostic.Diagnostic{Code: "recipe/unknown-material", Severity: diagnostic.Warning, Span: t.Whole,
			Message: quote(clip(t.Value)) + " is not in the list of materials", Hint: "glues and finishes without a name here stop the stage until their label has been read"})
	}
	return tool.UnknownMaterial(t.Value)
}

// fewTools is how many of them are read.
func (b *binder) fewTools(all []diagnostic.Text) int {
	if len(all) > mostTools {
		b.list.Hinted("recipe/too-long", all[mostTools].Whole, "make several stages of it", "a stage has at most %d tools, and as many materials", mostTools)
	}
	return min(len(all), mostTools)
}

// count adds to what is measured or taken off in all stages.
func (b *binder) count(at diagnostic.Span, n int) {
	if b.measured += n; b.measured > mostMeasures && !b.tooLong {
		b.list.Hinted("recipe/too-long", at, "make two recipes of it, or use fewer stations", "this recipe has over %d measurements", mostMeasures)
		b.tooLong = true
	}
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
			b.list.Hinted("recipe/number", m.repeat.Whole, "write a whole number from 1 to 30: repeat: 3", "%q is not a number of readings", clip(m.repeat.Value))
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
		b.count(m.place, 1)
		if m.lanes.Value != "" {
			b.list.Hinted("recipe/not-a-grid", m.lanes.Whole, "leave lanes out", "%s has no lanes", d.Name)
		}
		return []Measure{out}
	}
	lanes := map[string]bool{}
	for _, w := range strings.Fields(strings.ReplaceAll(m.lanes.Value, ",", " ")) {
		if !contains(d.Grid.Lanes, w) {
			b.list.Hinted("recipe/grid", m.lanes.Whole, "the lanes are "+orList(d.Grid.Lanes), "%q is not a lane of %s", clip(w), d.Name)
			return nil
		}
		lanes[w] = true
	}
	b.group++
	var all []Measure
	for _, k := range b.cellsOf[d] {
		if len(lanes) > 0 && !lanes[b.Slots[k].Cell.Lane] || b.inForce[k] == nil {
			continue
		}
		c := out
		c.Slot, c.Target, c.Group = k, b.inForce[k], b.group
		all = append(all, c)
	}
	b.count(m.place, len(all))
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

// namesIn finds what stands between { and } in a text: from and to, in bytes.
func namesIn(text string) [][2]int {
	var out [][2]int
	open := -1
	for i := range len(text) {
		switch {
		case text[i] == '{':
			open = i
		case text[i] == '}' && open >= 0:
			out = append(out, [2]int{open + 1, i})
			open = -1
		}
	}
	return out
}

// text puts targets and settings in the place of {names}.
func (b *binder) text(t diagnostic.Text) string {
	value := t.Value
	var out strings.Builder
	last, runes := 0, 0 // what is done of the value, in bytes and in runes
	for _, m := range namesIn(value) {
		out.WriteString(value[last : m[0]-1])
		name := value[m[0]:m[1]]
		from := runes + utf8.RuneCountInString(value[last:m[0]])
		to := from + utf8.RuneCountInString(name)
		at := t.Span(from, to)
		last, runes = m[1]+1, to+1 // behind the closing brace
		i, ok := b.find(name)
		b.renamed(t, from, to)
		if b.shown+out.Len()-len(value) > mostShown && !b.tooLong {
			b.list.Hinted("recipe/too-long", at, "name fewer dimensions and settings in the texts", "what the texts show for the names between { and } is too long")
			b.tooLong = true
		}
		switch {
		case b.tooLong:
		case !ok && b.list.Len() > 10*mostHints: // enough is said
		case !ok:
			hint := "write a dimension or setting of this recipe between { and }"
			if n := b.Near(name); n != "" {
				hint = "did you mean {" + n + "}?"
			}
			b.list.Hinted("recipe/unknown-dimension", at, hint, "%q is not a dimension of this instrument", clip(name))
		case b.Slots[i].Setting:
			out.WriteString(b.settingAt[i].String())
		case b.Slots[i].Dimension.Grid != nil && b.Slots[i].Cell == nil:
			b.list.Hinted("recipe/no-target", at, "leave out the { }; its stations are shown when they are measured", "%s is measured at stations, too many for a line of text", clip(name))
		case b.inForce[i] == nil:
			b.list.Hinted("recipe/no-target", at, "write a target for it, or leave out the { }", "%s has no target here, so there is nothing to show", clip(name))
		default:
			out.WriteString(b.inForce[i].Tolerance.Text)
			if d := b.Slots[i].Dimension; d.Datum != "" {
				out.WriteString(" from " + d.Datum)
			}
		}
	}
	out.WriteString(value[last:])
	b.shown += max(0, out.Len()-len(value))
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
