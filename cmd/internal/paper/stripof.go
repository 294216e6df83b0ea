package paper

import (
	"errors"
	"fmt"
	"strings"

	"canewright/engine/dimension"
	"canewright/engine/picture"
)

// stripsOf makes the strips of a recipe: the flat piece from its first targets,
// the reed from its last. says are sentences below them; why, where there are
// none, the reason.
func (m *maker) stripsOf() (out []strip, says []string, why string) {
	b := m.b
	if b.File.Instrument == "" {
		return nil, nil, "a checklist has no dimensions"
	}
	aims, one := aimsOf(b)
	if p, lacks := m.piece(aims); p != nil {
		out = append(out, *p)
		says = append(says, lacks...)
	} else {
		says = append(says, lacks...)
	}
	r, more, err := m.reed(aims)
	switch {
	case err != nil && len(out) == 0:
		return nil, nil, err.Error()
	case err != nil:
		says = append(says, "The reed is not drawn: "+err.Error()+".")
	default:
		out = append(out, *r)
		says = append(says, more...)
	}
	if len(one) > 0 {
		says = append(says, "Not drawn, having one limit alone: "+strings.Join(one, "; ")+".")
	}
	says = append(says, "A thick stroke beside a mark reaches from limit to limit. Targets are this recipe's; what is usual comes from the instrument's dimensions and is no target.")
	return out, says, ""
}

var errNoOutline = errors.New("the instrument's plugin does not say how its reed is drawn")

// reed is the finished reed from the flat of its blades.
func (m *maker) reed(aims []aim) (*strip, []string, error) {
	set := m.b.Set
	if set.Outline == nil {
		return nil, nil, errNoOutline
	}
	f, err := set.Figure(own(aims, true))
	if err != nil {
		return nil, nil, fmt.Errorf("the numbers make no reed: %w", err)
	}
	s := &strip{title: m.t("The reed, from " + f.From)}
	for _, p := range f.Parts {
		part := picture.ReedPart{Title: p.Title, Smooth: p.Smooth}
		for _, x := range p.Points {
			part.Points = append(part.Points, picture.ReedPoint(x))
		}
		s.halves = append(s.halves, part.Halves())
	}
	s.marks = m.figureMarks(f, aims, true)
	s.marks = append(s.marks, m.otherMarks(f, aims, nil)...)
	s.measure(0)
	return s, says(f), nil
}

// measure finds the strip's ends and widest half; it reaches at least to its
// datum and to high.
func (s *strip) measure(high float64) {
	s.high = max(s.high, high)
	for _, o := range s.halves {
		for _, x := range o {
			s.low, s.high, s.half = min(s.low, x[0]), max(s.high, x[0]), max(s.half, x[1])
		}
	}
	for _, k := range s.marks {
		s.low, s.high = min(s.low, k.at), max(s.high, k.at)
	}
}

// says names what a figure is drawn with that is no target, and what it lacks.
func says(f *dimension.Figure) []string {
	var usual, middle, lacks []string
	rests := map[string]bool{}
	for _, p := range f.Parts {
		for _, n := range p.Rests {
			rests[n] = true
		}
	}
	for _, k := range f.Marks {
		for _, n := range k.Rests {
			rests[n] = true
		}
	}
	for _, u := range f.Used {
		switch {
		case !rests[u.Name]:
		case u.Basis == dimension.BasisUsual:
			usual = append(usual, u.Title+" "+u.Text)
		case u.Basis == dimension.BasisMiddle:
			middle = append(middle, u.Title+" "+u.Text)
		}
	}
	for _, l := range f.Lacks {
		if !strings.HasPrefix(l.Thing, "the side of") && l.Thing != "the tip from its end" {
			lacks = append(lacks, l.Thing+" (no number for "+strings.Join(l.Names, ", ")+")")
		}
	}
	var out []string
	add := func(lead string, all []string) {
		if len(all) > 0 {
			out = append(out, lead+": "+strings.Join(all, "; ")+".")
		}
	}
	add("Not drawn", lacks)
	add("Usual, not this recipe's", usual)
	add("The middle of what is plausible, not this recipe's", middle)
	return out
}
