package recipe

import (
	"canewright/engine/diagnostic"
	"canewright/engine/yamldoc"
)

// CasesFormat is the value of the first key of a file of cases.
const CasesFormat = "cases 1"

// Case is readings at one stage and the verdicts a maker wants for them, or
// what is answered there to the look, with what follows.
type Case struct {
	Name, Stage diagnostic.Text
	Readings    []Pair            // dimension → reading, in file order
	Verdicts    []Pair            // dimension → inside, above or below
	Answers     []diagnostic.Text // to the stage's look, given together
	Then        diagnostic.Text
}

// Pair is a name and its value.
type Pair struct{ Name, Value diagnostic.Text }

// LoadCases reads the cases that stand beside a recipe.
func LoadCases(name string, data []byte) ([]Case, diagnostic.List) {
	root, _, list := yamldoc.ParseBytes(name, data)
	if root == nil || list.Failed() {
		return nil, list
	}
	l := &loader{list: &list}
	var out []Case
	l.fields(root, "a file of cases",
		need("canewright", func(_, v *yamldoc.Node) {
			if t := l.word(v, "canewright"); t.Value != CasesFormat && t.Value != "" {
				list.Hinted("recipe/format", t.Whole, "this version reads: canewright: "+CasesFormat, "%q is not a format this version reads", clip(t.Value))
			}
		}),
		need("cases", func(_, v *yamldoc.Node) {
			for _, it := range v.Items() {
				out = append(out, l.oneCase(it))
			}
			if len(out) == 0 {
				list.Hinted("recipe/wrong-shape", v.Span(), "write each case on a line of its own: - case: …", "there are no cases here")
			}
		}))
	return out, list
}

func (l *loader) oneCase(n *yamldoc.Node) Case {
	var c Case
	pairs := func(into *[]Pair, what string) func(_, v *yamldoc.Node) {
		return func(_, v *yamldoc.Node) {
			l.eachEntry(v, what, func(k, v *yamldoc.Node) { *into = append(*into, Pair{k.Text(), l.word(v, what)}) })
		}
	}
	// A case that answers a look may do without readings, and says what follows.
	readings, then := need, want
	looks := n.Shape() == yamldoc.Map && n.Get("answers") != nil
	if looks {
		readings, then = want, need
	}
	l.fields(n, "a case",
		need("case", func(_, v *yamldoc.Node) { c.Name = l.word(v, "case") }),
		need("stage", func(_, v *yamldoc.Node) { c.Stage = l.word(v, "stage") }),
		readings("readings", pairs(&c.Readings, "readings")),
		readings("verdicts", pairs(&c.Verdicts, "verdicts")),
		want("answers", func(_, v *yamldoc.Node) { c.Answers = l.words(v, "an answer") }),
		then("then", func(_, v *yamldoc.Node) { c.Then = l.word(v, "then") }))
	if looks && len(c.Answers) == 0 {
		l.list.Hinted("recipe/look", n.Get("answers").Span(), "write answers: [yes], or leave the line out", "this case answers nothing")
	}
	return c
}
