package recipe

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"canewright/engine/diagnostic"
	"canewright/engine/dimension"
	"canewright/engine/formula"
)

// mostSaidOf is how many symptoms, formulas, dimensions, effects or sources one
// remedy may have.
const mostSaidOf = 30

// remedies joins the set's symptoms and remedies with the player's own, which
// win.
func (b *binder) remedies(f *File) {
	if len(f.symptoms) > dimension.MostSymptoms || len(f.remedies) > dimension.MostRemedies {
		b.list.Errorf("recipe/too-long", b.manyAt(f), "a recipe has at most %d symptoms and %d remedies of its own", dimension.MostSymptoms, dimension.MostRemedies)
		return
	}
	b.Symptoms = slices.Clone(b.Set.Symptoms)
	own := map[string]bool{}
	for _, s := range f.symptoms {
		b.symptom(s, own)
	}
	b.setRemedies()
	fromSet := len(b.Bound.Remedies)
	names := map[string]diagnostic.Span{}
	for _, r := range f.remedies {
		if b.list.Len() > mostHints {
			return
		}
		if at, twice := names[strings.ToLower(r.name.Value)]; twice {
			b.list.Add(diagnostic.Diagnostic{Code: "recipe/remedy", Span: r.name.Whole, Message: fmt.Sprintf("two remedies are called %q", clip(r.name.Value)), Hint: "give each a name of its own",
				Related: []diagnostic.Related{{Message: "the first one", Span: at}}})
			continue
		}
		names[strings.ToLower(r.name.Value)] = r.name.Whole
		if one, ok := b.remedy(r); ok {
			b.Bound.Remedies = append(b.Bound.Remedies, one)
		}
	}
	b.Bound.Remedies = withoutBeaten(b.Bound.Remedies, fromSet)
	b.uncovered(f)
}

func (b *binder) manyAt(f *File) diagnostic.Span {
	if len(f.remedies) > dimension.MostRemedies {
		return f.remedies[dimension.MostRemedies].place
	}
	return f.symptoms[dimension.MostSymptoms].words.Whole
}

// withoutBeaten leaves out the set's remedies that one of the player's own has
// the name of, or the step and a symptom. The first n are the set's.
func withoutBeaten(all []Remedy, n int) []Remedy {
	own := all[n:]
	out := slices.DeleteFunc(slices.Clone(all[:n]), func(r Remedy) bool {
		return slices.ContainsFunc(own, func(o Remedy) bool {
			return dimension.SameWords(o.Name, r.Name) ||
				dimension.SameWords(o.Do, r.Do) && slices.ContainsFunc(o.Symptoms, func(s string) bool { return slices.Contains(r.Symptoms, s) })
		})
	})
	return append(out, own...)
}

// symptom adds one of the player's own, or the player's other ways of saying
// one of the set's. own holds the words the recipe has given a meaning.
func (b *binder) symptom(s symptom, own map[string]bool) {
	words := strings.Join(strings.Fields(s.words.Value), " ")
	name := symptomName(words)
	if name == "" || len([]rune(words)) > longestName {
		b.list.Hinted("recipe/symptom", s.words.Whole, fmt.Sprintf("write it in words, with at most %d letters: low notes stop", longestName), "%q cannot be a symptom", clip(words))
		return
	}
	if len(s.also) > mostSaidOf {
		b.list.Errorf("recipe/too-long", s.words.Whole, "a symptom has at most %d other ways of saying it", mostSaidOf)
		return
	}
	i, known := dimension.FindSymptom(b.Symptoms, words)
	if !known {
		i, known = dimension.FindSymptom(b.Symptoms, name)
	}
	if !known {
		b.Symptoms = append(b.Symptoms, dimension.Symptom{Name: name, Words: words})
		i = len(b.Symptoms) - 1
	} else if own[b.Symptoms[i].Name] {
		b.list.Hinted("recipe/symptom", s.words.Whole, "leave it out, or give it other words", "%q is a symptom already", clip(words))
		return
	}
	own[b.Symptoms[i].Name] = true
	also := slices.Clone(b.Symptoms[i].Also) // the set's own list is not ours to write in
	for _, t := range s.also {
		if j, taken := dimension.FindSymptom(b.Symptoms, t.Value); taken {
			if j != i {
				b.list.Hinted("recipe/symptom", t.Whole, "leave it out, or give it other words", "%q means %q already", clip(t.Value), clip(b.Symptoms[j].Words))
			}
			continue
		}
		also = append(also, strings.Join(strings.Fields(t.Value), " "))
	}
	b.Symptoms[i].Also = also
}

// symptomName makes "low-notes-stop" of "Low notes stop".
func symptomName(words string) string {
	return strings.Join(strings.FieldsFunc(strings.ToLower(words), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) }), "-")
}

// setRemedies joins what Check has approved. A set kept from another day may
// hold a formula that is not read any more: that is said, and stops nothing.
func (b *binder) setRemedies() {
	for _, r := range b.Set.Remedies {
		out := Remedy{Remedy: r}
		for _, w := range r.When {
			f, list := formula.Compile(diagnostic.Plain(b.Set.ID+": "+r.Name, w), b)
			for _, d := range list.Sorted() {
				d.Severity = diagnostic.Warning
				b.list.Add(d)
			}
			if f != nil && f.Truth() {
				out.Conditions = append(out.Conditions, f)
			}
		}
		for _, w := range r.TakesOff {
			if p, ok := b.part(w); ok {
				out.Takes = append(out.Takes, p)
			}
		}
		for _, w := range r.Measure {
			if p, ok := b.part(w); ok {
				out.Reads = append(out.Reads, p)
			}
		}
		b.Bound.Remedies = append(b.Bound.Remedies, out)
	}
}

func (b *binder) part(words string) (Part, bool) {
	d, lane, ok := b.Set.Part(words)
	if !ok {
		return Part{}, false
	}
	return Part{b.byName[d.Name], lane}, true
}

// remedy binds one of the player's own; false when it cannot be used.
func (b *binder) remedy(r remedy) (Remedy, bool) {
	before := b.list.Len()
	out := Remedy{Own: true}
	out.Name = strings.Join(strings.Fields(r.name.Value), " ")
	if out.Name == "" || len([]rune(out.Name)) > dimension.LongestRemedy {
		b.list.Hinted("recipe/remedy", r.name.Whole, fmt.Sprintf("write a name of at most %d letters: round the second wire", dimension.LongestRemedy), "%q cannot be the name of a remedy", clip(out.Name))
	}
	for _, n := range []int{len(r.symptoms), len(r.takesOff), len(r.measure), len(r.expect), len(r.sources)} {
		if n > mostSaidOf {
			b.list.Errorf("recipe/too-long", r.name.Whole, "a remedy has at most %d symptoms, dimensions and sources", mostSaidOf)
			return out, false
		}
	}
	out.Because, out.Do = b.text(r.because), b.text(r.do)
	for _, t := range r.symptoms {
		if s, ok := dimension.FindSymptom(b.Symptoms, t.Value); ok {
			if !slices.Contains(out.Symptoms, b.Symptoms[s].Name) {
				out.Symptoms = append(out.Symptoms, b.Symptoms[s].Name)
			}
			continue
		}
		hint := "write it under symptoms: at the top of the recipe, to make it one"
		if n := b.near(t.Value, len(b.Symptoms), func() []string { return []string{nearSymptom(b.Symptoms, t.Value)} }); n != "" {
			hint = "did you mean " + n + "?"
		}
		b.list.Hinted("recipe/unknown-symptom", t.Whole, hint, "%q is no symptom", clip(t.Value))
	}
	b.conditions(r, &out)
	if len(r.symptoms)+len(r.when) == 0 {
		b.list.Hinted("recipe/remedy", r.name.Whole, "write for: and its symptoms, or when: and a formula", "nothing calls this remedy up")
	}
	b.stepOf(r, &out)
	for _, t := range r.measure {
		if p, ok := b.partAt(t); ok {
			out.Measure, out.Reads = append(out.Measure, t.Value), append(out.Reads, p)
		}
	}
	for _, e := range r.expect {
		p, ok := b.partAt(e.name)
		way := dimension.Way(e.value.Value)
		if way != dimension.More && way != dimension.Less {
			b.list.Hinted("recipe/remedy", e.value.Whole, "write more or less", "%q does not say where it goes", clip(e.value.Value))
			continue
		}
		if ok {
			out.Expect = append(out.Expect, dimension.Effect{Dimension: b.partName(p), Way: way})
		}
	}
	b.sourcesOf(r, &out)
	return out, !failed(b.list, before)
}

// failed reports an error among the findings from the n-th on.
func failed(l diagnostic.List, n int) bool { return l.Len() > n && l.Failed() }

func (b *binder) conditions(r remedy, out *Remedy) {
	if len(r.when) > dimension.MostConditions {
		b.list.Errorf("recipe/too-long", r.name.Whole, "a remedy has at most %d formulas", dimension.MostConditions)
		return
	}
	for _, t := range r.when {
		f, list := b.compile(t)
		b.list.Append(list)
		switch {
		case f == nil:
		case !f.Truth():
			b.list.Hinted(formula.NotAQuestion, t.Whole, "compare it with something: crow.pitch > F4", "this formula works out a number (%s), not a yes or no", f.Kind())
		default:
			out.When, out.Conditions, out.places = append(out.When, t.Value), append(out.Conditions, f), append(out.places, t.Whole)
		}
	}
}

// stepOf binds what is touched, and what is taken off: nothing is advised where
// the blade is at its lower limit, so that must be known.
func (b *binder) stepOf(r remedy, out *Remedy) {
	var words []string
	for _, t := range dimension.TouchesInOrder() {
		words = append(words, string(t))
	}
	out.Touches = dimension.Touches(r.touches.Value)
	if out.Touches.Order() < 0 {
		b.list.Hinted("recipe/remedy", r.touches.Whole, "write "+orList(words), "%q is nothing a remedy can touch", clip(r.touches.Value))
	}
	out.Wire, out.Axis = r.wire.Value, r.axis.Value
	if out.Wire != "" && !slices.Contains(dimension.Wires(), out.Wire) {
		b.list.Hinted("recipe/remedy", r.wire.Whole, "write "+orList(dimension.Wires())+"; the first is next to the blade", "%q is no wire", clip(out.Wire))
	}
	switch {
	case out.Axis != "" && !slices.Contains(dimension.Axes(), out.Axis):
		b.list.Hinted("recipe/remedy", r.axis.Whole, "write "+orList(dimension.Axes()), "%q does not say from where a wire is pressed", clip(out.Axis))
	case out.Axis != "" && out.Wire == "":
		b.list.Hinted("recipe/remedy", r.axis.Whole, "write wire: "+orList(dimension.Wires()), "this says from where a wire is pressed and not which")
	}
	for _, t := range r.takesOff {
		if p, ok := b.partAt(t); ok {
			out.TakesOff, out.Takes = append(out.TakesOff, b.partName(p)), append(out.Takes, p)
		}
	}
	if out.Touches.TakesCane() && len(r.takesOff) == 0 && len(b.Set.Dimensions) > 0 {
		b.list.Hinted("recipe/remedy", r.touches.Whole, "write takes off: and the dimensions it makes smaller", "this remedy takes cane and does not say where")
	}
	switch r.notReed.Value {
	case "", "no":
	case "yes":
		out.NotReed = true
	default:
		b.list.Hinted("recipe/yes-or-no", r.notReed.Whole, "write yes or no", "%q is neither yes nor no", clip(r.notReed.Value))
	}
}

// partAt finds a dimension, or a lane of one, by the words written, or reports
// it.
func (b *binder) partAt(t diagnostic.Text) (Part, bool) {
	if p, ok := b.part(t.Value); ok {
		name := strings.TrimRight(strings.TrimSuffix(t.Value, p.Lane), " ")
		b.renamed(t, 0, utf8.RuneCountInString(name))
		return p, true
	}
	name, lane, two := strings.Cut(t.Value, " ")
	if i, ok := b.find(name); two && ok && b.Slots[i].Dimension != nil && b.Slots[i].Dimension.Grid != nil {
		d := b.Slots[i].Dimension
		b.list.Hinted("recipe/grid", t.Whole, "the lanes are "+orList(d.Grid.Lanes), "%q is not a lane of %s", clip(lane), d.Name)
		return Part{}, false
	}
	i, ok := b.dimension(t)
	return Part{Slot: i}, ok
}

func (b *binder) partName(p Part) string {
	if p.Lane == "" {
		return b.Slots[p.Slot].Name
	}
	return b.Slots[p.Slot].Name + " " + p.Lane
}

// sourcesOf: common practice and from memory are grades; any other text is what
// the player was told or remembers.
func (b *binder) sourcesOf(r remedy, out *Remedy) {
	for _, s := range r.sources {
		one := dimension.Source{Says: out.Do, Who: s.who.Value}
		switch g := dimension.Grade(s.says.Value); {
		case s.who.Value != "":
			one.Says, one.Grade = s.says.Value, dimension.Published
		case g == dimension.CommonPractice || g == dimension.FromMemory:
			one.Grade = g
		case strings.TrimSpace(s.says.Value) == "":
			continue
		default:
			one.Says, one.Grade = s.says.Value, dimension.FromMemory
		}
		out.Sources = append(out.Sources, one)
	}
	if len(out.Sources) == 0 {
		b.list.Add(diagnostic.Diagnostic{Code: "recipe/remedy-source", Severity: diagnostic.Remark, Span: r.name.Whole,
			Message: fmt.Sprintf("nobody is named for the remedy %q", clip(r.name.Value)), Hint: "write source: common practice, source: from memory, or {says: …, who: …}"})
	}
}

// uncovered warns of the player's own symptoms that nothing is there for.
func (b *binder) uncovered(f *File) {
	if b.list.Failed() {
		return // a remedy that is not read yet may be for it
	}
	covered := map[string]bool{}
	for _, r := range b.Bound.Remedies {
		for _, s := range r.Symptoms {
			covered[s] = true
		}
	}
	for _, s := range f.symptoms {
		i, ok := dimension.FindSymptom(b.Symptoms, s.words.Value)
		if ok && !covered[b.Symptoms[i].Name] {
			b.list.Add(diagnostic.Diagnostic{Code: "recipe/symptom", Severity: diagnostic.Warning, Span: s.words.Whole,
				Message: fmt.Sprintf("no remedy is for %q", clip(s.words.Value)), Hint: "write one under remedies:, with for: [" + clip(s.words.Value) + "]"})
		}
	}
}
