package host

import (
	"errors"
	"fmt"
	"strings"

	"canewright/engine/dimension"
	"canewright/engine/quantity"
	dimsetv1 "canewright/plugins/proto/dimset/v1"
)

// fromWire reads an answer. It refuses only words it cannot turn into the
// engine's types; dimension.Set.Check judges the rest.
func fromWire(w *dimsetv1.Set) (*dimension.Set, error) {
	if w == nil {
		return nil, errors.New("the answer is empty")
	}
	set := &dimension.Set{
		ID: w.GetId(), Title: w.GetTitle(), About: w.GetAbout(),
		Major: int(w.GetMajor()), Minor: int(w.GetMinor()),
	}
	for i, d := range w.GetDimensions() {
		one, err := dimensionFromWire(d)
		if err != nil {
			return nil, fmt.Errorf("dimension %d, %q: %w", i+1, clip(printable(d.GetName())), err)
		}
		set.Dimensions = append(set.Dimensions, one)
	}
	for _, s := range w.GetSymptoms() {
		set.Symptoms = append(set.Symptoms, dimension.Symptom{Name: s.GetName(), Words: s.GetWords(), Also: s.GetAlso()})
	}
	for i, r := range w.GetRemedies() {
		one, err := remedyFromWire(r)
		if err != nil {
			return nil, fmt.Errorf("remedy %d, %q: %w", i+1, clip(printable(r.GetName())), err)
		}
		set.Remedies = append(set.Remedies, one)
	}
	var err error
	if set.Outline, err = outlineFromWire(w.GetOutline()); err != nil {
		return nil, fmt.Errorf("outline: %w", err)
	}
	return set, nil
}

func dimensionFromWire(w *dimsetv1.Dimension) (dimension.Dimension, error) {
	d := dimension.Dimension{
		Name: w.GetName(), Title: w.GetTitle(), Aliases: w.GetAliases(), Was: w.GetWas(),
		Subject: w.GetSubject(), Datum: w.GetDatum(), Across: w.GetAcross(),
		How: w.GetHow(), Tool: w.GetTool(), More: w.GetMore(), Less: w.GetLess(),
	}
	var ok bool
	if d.Kind, ok = quantity.KindNamed(w.GetKind()); !ok {
		return d, fmt.Errorf("its kind %q is unknown", clip(printable(w.GetKind())))
	}
	var err error
	if d.Unit, err = unitFromWire(w.GetUnit(), d.Kind); err != nil {
		return d, err
	}
	if d.Condition, ok = conditions[w.GetCondition()]; !ok {
		return d, fmt.Errorf("its condition %d is unknown", w.GetCondition())
	}
	if w.Formula != nil {
		if d.Formula = w.GetFormula(); strings.TrimSpace(d.Formula) == "" {
			return d, errors.New("its formula is empty")
		}
	}
	if p := w.GetPlausible(); p != nil {
		d.Plausible = quantity.Tolerance{
			Text: p.GetText(), Kind: d.Kind, Step: max(p.GetStep(), 0),
			Nominal: bound(p.Nominal), Low: bound(p.Low), High: bound(p.High),
		}
		if d.Plausible.Unit, err = unitFromWire(p.GetUnit(), d.Kind); err != nil {
			return d, err
		}
	}
	if d.Sources, err = sourcesFromWire(w.GetSources()); err != nil {
		return d, err
	}
	if g := w.GetGrid(); g != nil {
		d.Grid = &dimension.Grid{From: g.GetFrom(), Lanes: g.GetLanes(), Blades: g.GetBlades(), Short: g.GetShort()}
	}
	return d, nil
}

func sourcesFromWire(all []*dimsetv1.Source) ([]dimension.Source, error) {
	var out []dimension.Source
	for _, s := range all {
		g, ok := grades[s.GetGrade()]
		if !ok {
			return nil, fmt.Errorf("a source has the unknown grade %d", s.GetGrade())
		}
		out = append(out, dimension.Source{Says: s.GetSays(), Who: s.GetWho(), Grade: g})
	}
	return out, nil
}

var conditions = map[dimsetv1.Condition]dimension.Condition{
	dimsetv1.Condition_CONDITION_EITHER: dimension.Either,
	dimsetv1.Condition_CONDITION_WET:    dimension.Wet,
	dimsetv1.Condition_CONDITION_DRY:    dimension.Dry,
}

var grades = map[dimsetv1.Grade]dimension.Grade{
	dimsetv1.Grade_GRADE_PUBLISHED:       dimension.Published,
	dimsetv1.Grade_GRADE_COMMON_PRACTICE: dimension.CommonPractice,
	dimsetv1.Grade_GRADE_FROM_MEMORY:     dimension.FromMemory,
	dimsetv1.Grade_GRADE_WORKED_OUT:      dimension.Worked,
}

func unitFromWire(name string, k quantity.Kind) (quantity.Unit, error) {
	if name == "" {
		return quantity.Bare(k), nil
	}
	u, ok := quantity.UnitNamed(name)
	if !ok {
		return u, fmt.Errorf("its unit %q is unknown", clip(printable(name)))
	}
	return u, nil
}

func bound(q *int64) quantity.Bound {
	if q == nil {
		return quantity.Bound{}
	}
	return quantity.Bound{Q: *q, Set: true}
}

// checked is the first findings of Check in one line, or nil.
func checked(set *dimension.Set) error {
	found := set.Check()
	if !found.Failed() {
		return nil
	}
	const shown = 3
	var says []string
	all := found.Sorted()
	for i, d := range all {
		if i == shown {
			says = append(says, fmt.Sprintf("and %d more", len(all)-shown))
			break
		}
		says = append(says, printable(d.Message))
	}
	return errors.New(strings.Join(says, "; "))
}
