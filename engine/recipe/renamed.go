package recipe

import (
	"fmt"
	"slices"
	"unicode"

	"canewright/engine/diagnostic"
	"canewright/engine/formula"
)

// oldNames notes what dimensions were called before. A name of today wins.
func (b *binder) oldNames() {
	for i := range b.Set.Dimensions {
		for _, w := range b.Set.Dimensions[i].Was {
			if _, taken := b.byName[w]; !taken && b.grids[w] == nil {
				b.old[w] = i
			}
		}
	}
}

// oldName is the dimension that had the name before, and notes that it was
// asked for. A setting may have such a name, and wins.
func (b *binder) oldName(name string) (int, bool) {
	if _, taken := b.byName[name]; taken {
		return 0, false
	}
	i, ok := b.old[name]
	if ok {
		b.asked[name] = true
	}
	return i, ok
}

// compile reads one of the recipe's own formulas and warns of old names in it.
func (b *binder) compile(t diagnostic.Text) (*formula.Formula, diagnostic.List) {
	clear(b.asked)
	f, list := formula.Compile(t, b)
	if len(b.asked) == 0 {
		return f, list
	}
	// A name is a run of letters, digits and points, as the formula's own reader
	// has it; what it did not ask for is a unit, a lane or part of a number.
	text := []rune(t.Value)
	wordly := func(i int) bool {
		return i < len(text) && (text[i] == '_' || unicode.IsLetter(text[i]) || unicode.IsDigit(text[i]))
	}
	for from := 0; from < len(text); from++ {
		to := from
		for wordly(to) || to < len(text) && text[to] == '.' && wordly(to+1) {
			to++
		}
		if to > from && b.asked[string(text[from:to])] {
			b.renamed(t, from, to)
		}
		from = max(from, to)
	}
	return f, list
}

// renamed warns where the runes [from, to) of a text are a name their
// dimension had before.
func (b *binder) renamed(t diagnostic.Text, from, to int) {
	if len(b.old) == 0 {
		return
	}
	was := string([]rune(t.Value)[from:to])
	if _, taken := b.byName[was]; taken {
		return
	}
	if d, ok := b.Set.Renamed(was); ok {
		b.list.Add(renamed(t.Span(from, to), was, d.Name))
	}
}

func renamed(at diagnostic.Span, was, is string) diagnostic.Diagnostic {
	found := diagnostic.Diagnostic{Code: "recipe/renamed", Severity: diagnostic.Warning, Span: at,
		Message: fmt.Sprintf("%q is called %s now", clip(was), is), Hint: "write " + is}
	if written(at) == was {
		found.Replace = is
		found.Hint += "; canewright check --fix does it"
	}
	return found
}

// OldNames warns of names in a recipe's cases that its dimensions had before.
func (b *Bound) OldNames(cases []Case) diagnostic.List {
	var list diagnostic.List
	for _, c := range cases {
		for _, p := range slices.Concat(c.Readings, c.Verdicts) {
			name := []rune(p.Name.Value)
			to := slices.IndexFunc(name, func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) && r != '_' && r != '.' })
			if to < 0 {
				to = len(name) // a station may follow
			}
			was := string(name[:to])
			if slices.ContainsFunc(b.Settings, func(s Setting) bool { return s.Name == was }) {
				continue
			}
			if d, ok := b.Set.Renamed(was); ok && to > 0 {
				list.Add(renamed(p.Name.Span(0, to), was, d.Name))
			}
		}
	}
	return list
}

// written is what stands at a place in the file; "" where that is not one line.
func written(at diagnostic.Span) string {
	if at.Source == nil || at.From.Line != at.To.Line {
		return ""
	}
	line := at.Source.Line(at.From.Line)
	from, to := at.From.Col-1, at.To.Col-1
	if from < 0 || to > len(line) || from > to {
		return ""
	}
	return string(line[from:to])
}
