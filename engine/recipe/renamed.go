package recipe

import (
	"fmt"
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
	d, ok := b.Set.Renamed(was)
	if !ok {
		return
	}
	at := t.Span(from, to)
	found := diagnostic.Diagnostic{Code: "recipe/renamed", Severity: diagnostic.Warning, Span: at,
		Message: fmt.Sprintf("%q is called %s now", clip(was), d.Name), Hint: "write " + d.Name}
	if written(at) == was {
		found.Replace = d.Name
		found.Hint += "; canewright check --fix does it"
	}
	b.list.Add(found)
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
