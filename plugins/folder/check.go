package folder

import (
	"fmt"
	"slices"
	"strings"

	"canewright/engine/diagnostic"
	"canewright/engine/dimension"
	"canewright/engine/formula"
	"canewright/engine/quantity"
)

// dimension.Set.Check names what it finds and knows no file. To give each of
// its findings a place, parts of the set are checked alone: what is found then
// belongs to that part. What only the whole shows comes last.

// plainest is a dimension nothing can be found about.
func plainest() dimension.Dimension {
	mm, _ := quantity.UnitNamed("mm")
	return dimension.Dimension{
		Name: "plainest", Title: "plainest", Kind: quantity.Length, Unit: mm, Subject: "piece",
		Across: true, Condition: dimension.Either, How: "plainest", More: "more", Less: "less",
		Sources: []dimension.Source{{Says: "plainest", Grade: dimension.FromMemory}},
	}
}

// head checks name, version, title and about.
func (l *loader) head() {
	if l.list.Failed() {
		return
	}
	set := *l.out.Set // no more of it is read yet
	set.Dimensions = []dimension.Dimension{plainest()}
	found := set.Check()
	for _, d := range found.Sorted() {
		d.Span = l.id.Whole
		l.list.Add(d)
	}
}

// keyOf is the key a finding about one dimension is about; of others, the
// dimension's name.
var keyOf = map[string]string{
	"dimension/condition": "condition", "dimension/grid": "grid", "dimension/kind": "kind", "dimension/plausible": "plausible",
	"dimension/source": "source", "dimension/subject": "subject", "dimension/unit": "unit", "dimension/words": "less",
}

// alone checks one dimension.
func (l *loader) alone(d dimension.Dimension, e *entry) {
	set := &dimension.Set{ID: "alone", Title: "alone", Major: 1, Dimensions: []dimension.Dimension{d}}
	list := set.Check()
	for _, f := range list.Sorted() {
		if strings.HasPrefix(f.Code, "formula/") || f.Code == "dimension/formula" {
			continue // formulas need the others
		}
		f.Span = e.at(keyOf[f.Code])
		if strings.Contains(f.Message, ", an old name of ") {
			f.Span = e.at("was")
		}
		if f.Code == "dimension/missing" && strings.HasSuffix(f.Message, "has no datum") {
			f.Hint = "write datum: and where it is counted from, or across: yes for a thickness, a width or an opening"
		}
		if f.Code == "dimension/missing" && strings.HasSuffix(f.Message, "has no way of reading") {
			f.Hint = "write how: and how it is read, or formula: if it is worked out"
		}
		l.list.Add(f)
	}
}

// unique: a name, title, alias or short name means one dimension.
func (l *loader) unique() {
	type owner struct {
		dim int
		at  diagnostic.Span
	}
	owners := map[string]owner{}
	for round := range 2 {
		for i := range l.out.Set.Dimensions {
			d, e := &l.out.Set.Dimensions[i], &l.dims[i]
			claim := func(word string, at diagnostic.Span) {
				p := strings.Join(strings.Fields(strings.ToLower(word)), " ")
				o, taken := owners[p]
				switch {
				case p == "":
				case !taken:
					owners[p] = owner{i, at}
				case o.dim != i || round == 0:
					l.list.Add(diagnostic.Diagnostic{Code: "dimension/repeated", Span: at, Message: fmt.Sprintf("%q means %s already", clip(word), clip(l.dims[o.dim].name.Value)),
						Hint: "give it another word", Related: []diagnostic.Related{{Message: "the first one", Span: o.at}}})
				}
			}
			if round == 0 {
				claim(d.Name, e.name.Whole)
				continue
			}
			claim(d.Title, e.at("title"))
			if d.Grid != nil {
				claim(d.Grid.Short, e.at("grid"))
			}
			for _, a := range d.Aliases {
				claim(a, e.at("aliases"))
			}
			for _, w := range d.Was {
				claim(w, e.at("was"))
			}
		}
	}
}

// whole checks everything, formulas included, once the parts are sound.
func (l *loader) whole() {
	found := l.out.Set.Check()
	for _, d := range found.Sorted() {
		if found.Failed() && d.Severity != diagnostic.Error {
			continue // a symptom without a remedy may only lack the one that is wrong
		}
		d.Span = l.place(d)
		l.list.Add(d)
	}
}

// place is where a finding of the whole belongs: a formula is known by its
// text, which stands in one of the entries; else the entry it names, the
// longest name first. What names none is about the set.
func (l *loader) place(d diagnostic.Diagnostic) diagnostic.Span {
	if at, ok := l.drawing.place(d); ok {
		return at
	}
	all := slices.Concat(l.dims, l.remedies)
	if src := d.Span.Source; src != nil && strings.HasPrefix(d.Code, "formula/") {
		for i := range all {
			e := &all[i]
			for _, t := range e.formulas {
				if t.Value == src.Text() && strings.HasSuffix(src.Name, label(e, i < len(l.dims))) && d.Span.From.Line == 1 && d.Span.To.Line == 1 {
					return t.Span(d.Span.From.Col-1, d.Span.To.Col-1)
				}
			}
		}
	}
	best, at := "", l.id.Whole
	for i := range all {
		name := label(&all[i], i < len(l.dims))
		if len(name) > len(best) && slices.Contains(mentions(d.Message, name), true) {
			best, at = name, all[i].at("formula")
		}
	}
	if best != "" {
		return at
	}
	for i, s := range l.out.Set.Symptoms {
		if strings.Contains(d.Message, fmt.Sprintf("the symptom %q", s.Name)) {
			return l.symptoms[i].Whole
		}
	}
	return at
}

// label is how dimension.Set.Check calls an entry.
func label(e *entry, dim bool) string {
	if dim {
		return e.name.Value
	}
	return fmt.Sprintf("the remedy %q", strings.Join(strings.Fields(e.name.Value), " "))
}

// mentions says of each place name has in message whether it stands there as a
// whole word.
func mentions(message, name string) []bool {
	if name == "" {
		return nil
	}
	part := func(b byte) bool {
		return b == '.' || b == '_' || b >= 'a' && b <= 'z' || b >= '0' && b <= '9' || b >= 'A' && b <= 'Z'
	}
	var out []bool
	for from := 0; ; {
		i := strings.Index(message[from:], name)
		if i < 0 {
			return out
		}
		i += from
		end := i + len(name)
		out = append(out, (i == 0 || !part(message[i-1])) && (end == len(message) || !part(message[end])))
		from = i + 1
	}
}

// scope lets the formulas of cases' dimensions read the set.
type scope struct{ set *dimension.Set }

func (s scope) Lookup(name string) (formula.Symbol, bool) {
	d, ok := s.set.Find(name)
	if !ok || d.Grid != nil {
		return formula.Symbol{}, false
	}
	return formula.Symbol{Name: d.Name, Slot: s.slot(d), Kind: d.Kind, Condition: string(d.Condition), Datum: d.Datum}, true
}

func (s scope) slot(d *dimension.Dimension) int {
	return slices.IndexFunc(s.set.Dimensions, func(x dimension.Dimension) bool { return x.Name == d.Name })
}

func (s scope) Grid(string) bool { return false }

func (s scope) Cell(string, []string) (formula.Symbol, string, bool) {
	return formula.Symbol{}, "", false
}

func (s scope) Near(name string) string { return s.set.Near(name) }
