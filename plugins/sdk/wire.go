package sdk

import (
	"fmt"

	"google.golang.org/protobuf/proto"

	"canewright/engine/quantity"
	dimsetv1 "canewright/plugins/proto/dimset/v1"
)

// wire turns an instrument into the message that is sent. It refuses only what
// cannot be said on the wire; the host judges the rest.
func (in Instrument) wire() (*dimsetv1.Set, error) {
	if in.Major < 0 || in.Minor < 0 {
		return nil, fmt.Errorf("instrument %q: version %d.%d is none", in.ID, in.Major, in.Minor)
	}
	set := &dimsetv1.Set{
		Id: in.ID, Title: in.Title, About: in.About,
		Major: uint32(in.Major), Minor: uint32(in.Minor),
	}
	for _, d := range in.Dimensions {
		w, err := d.wire()
		if err != nil {
			return nil, fmt.Errorf("instrument %q: dimension %q: %w", in.ID, d.Name, err)
		}
		set.Dimensions = append(set.Dimensions, w)
	}
	for _, s := range in.Symptoms {
		set.Symptoms = append(set.Symptoms, &dimsetv1.Symptom{Name: s.Name, Words: s.Words, Also: s.Also})
	}
	for _, r := range in.Remedies {
		w, err := r.wire()
		if err != nil {
			return nil, fmt.Errorf("instrument %q: remedy %q: %w", in.ID, r.Name, err)
		}
		set.Remedies = append(set.Remedies, w)
	}
	var err error
	if set.Outline, err = in.outline(); err != nil {
		return nil, fmt.Errorf("instrument %q: outline: %w", in.ID, err)
	}
	return set, nil
}

func (d Dimension) wire() (*dimsetv1.Dimension, error) {
	kind, ok := quantity.KindNamed(d.Kind)
	if !ok {
		return nil, fmt.Errorf("%q is not a kind; the kinds are %q", d.Kind, quantity.KindNames())
	}
	unit := quantity.Bare(kind)
	if d.Unit != "" {
		if unit, ok = quantity.UnitNamed(d.Unit); !ok {
			return nil, fmt.Errorf("%q is not a unit", d.Unit)
		}
	}
	w := &dimsetv1.Dimension{
		Name: d.Name, Title: d.Title, Aliases: d.Aliases, Was: d.Was,
		Kind: d.Kind, Unit: unit.Name(), Subject: d.Subject,
		Datum: d.Datum, Across: d.Across, How: d.How, Tool: d.Tool,
		More: d.More, Less: d.Less,
	}
	if w.Subject == "" {
		w.Subject = "piece"
	}
	switch d.Condition {
	case "", "either":
		w.Condition = dimsetv1.Condition_CONDITION_EITHER
	case "wet":
		w.Condition = dimsetv1.Condition_CONDITION_WET
	case "dry":
		w.Condition = dimsetv1.Condition_CONDITION_DRY
	default:
		return nil, fmt.Errorf("condition %q; it can be wet or dry", d.Condition)
	}
	if d.Plausible != "" {
		t, err := quantity.ParseTolerance(d.Plausible, quantity.Style{Want: kind, Bare: unit})
		if err != nil {
			return nil, fmt.Errorf("plausible %q: %w", d.Plausible, err)
		}
		w.Plausible = tolerance(t)
	}
	var err error
	if w.Sources, err = sources(d.Sources); err != nil {
		return nil, err
	}
	if g := d.Grid; g != nil {
		w.Grid = &dimsetv1.Grid{From: g.From, Lanes: g.Lanes, Blades: g.Blades, Short: g.Short}
	}
	if d.Formula != "" {
		w.Formula = proto.String(d.Formula)
	}
	return w, nil
}

func sources(all []Source) ([]*dimsetv1.Source, error) {
	var out []*dimsetv1.Source
	for _, s := range all {
		g, ok := grades[s.Grade]
		if !ok {
			return nil, fmt.Errorf("a source is graded %q", s.Grade)
		}
		out = append(out, &dimsetv1.Source{Says: s.Says, Who: s.Who, Grade: g})
	}
	return out, nil
}

var grades = map[Grade]dimsetv1.Grade{
	Published:      dimsetv1.Grade_GRADE_PUBLISHED,
	CommonPractice: dimsetv1.Grade_GRADE_COMMON_PRACTICE,
	FromMemory:     dimsetv1.Grade_GRADE_FROM_MEMORY,
	WorkedOut:      dimsetv1.Grade_GRADE_WORKED_OUT,
}

func tolerance(t quantity.Tolerance) *dimsetv1.Tolerance {
	w := &dimsetv1.Tolerance{Text: t.Text, Unit: t.Unit.Name(), Step: t.Step}
	set := func(b quantity.Bound) *int64 {
		if !b.Set {
			return nil
		}
		return proto.Int64(b.Q)
	}
	w.Nominal, w.Low, w.High = set(t.Nominal), set(t.Low), set(t.High)
	return w
}
