package recipe

import (
	"cmp"
	"strings"

	"canewright/engine/diagnostic"
	"canewright/engine/quantity"
)

// What a check of the papers may cost: of a recipe with more to say the first
// findings are enough.
const mostPaper = 500

// CheckPaper looks for what goes wrong on the way from a paper sheet to a
// recipe: two columns that disagree, parts that do not add up, a distance that
// is counted from nowhere, a thickness of cane that may be wet or dry, a
// tolerance its tool cannot read, a target no source knows, a number nobody
// measures. It is no part of Bind: only a check of the file needs it. The
// findings are warnings and remarks.
func (b *Bound) CheckPaper() diagnostic.List {
	c := &paperCheck{Bound: b, measured: b.measuredAt()}
	c.columns()
	c.texts()
	c.sums()
	c.conditions()
	c.gauges()
	c.usual()
	c.unmeasured()
	return c.list
}

type paperCheck struct {
	*Bound
	measured map[int][]measuredAt // by slot
	list     diagnostic.List
}

func (c *paperCheck) full() bool { return c.list.Len() >= mostPaper }

func (c *paperCheck) warn(code string, at diagnostic.Span, hint, message string, related ...diagnostic.Related) {
	c.list.Add(diagnostic.Diagnostic{Code: code, Severity: diagnostic.Warning, Span: at, Hint: hint, Message: message, Related: related})
}

func (c *paperCheck) remark(code string, at diagnostic.Span, hint, message string, related ...diagnostic.Related) {
	c.list.Add(diagnostic.Diagnostic{Code: code, Severity: diagnostic.Remark, Span: at, Hint: hint, Message: message, Related: related})
}

// amount shows a value, or a difference of values, in the kind's main unit to
// the hundredth.
func amount(k quantity.Kind, q int64) string {
	u := quantity.Main(k)
	step := int64(0)
	if n := u.Quanta(); n != nil && n.IsInt() {
		step = max(n.Num().Int64()/100, 1)
	}
	s := quantity.Format(quantity.Value{Kind: k, Q: q}, u, step)
	number, unit, _ := strings.Cut(s, " ")
	if strings.Contains(number, ".") && k != quantity.Pitch {
		number = strings.TrimRight(strings.TrimRight(number, "0"), ".")
	}
	if number == "-0" {
		number = "0"
	}
	return strings.TrimSpace(number + " " + unit)
}

// allStages walks the stages as written, those inside others too.
func allStages(stages []*stage, do func(*stage)) {
	for _, s := range stages {
		do(s)
		allStages(s.stages, do)
	}
}

// targetPlace is where a target's number stands.
func targetPlace(t *Target) diagnostic.Span {
	return cmp.Or(t.raw.tolerance.Whole, t.raw.name.Whole)
}
