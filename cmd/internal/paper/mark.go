package paper

import (
	"slices"
	"strings"

	"canewright/engine/dimension"
	"canewright/engine/quantity"
)

// figureMarks are the marks of the instrument's outline.
func (m *maker) figureMarks(f *dimension.Figure, aims []aim, last bool) []stripMark {
	var out []stripMark
	for _, k := range f.Marks {
		s := stripMark{name: m.t(k.Title), at: mm(k.At), cut: k.As == dimension.MarkCut}
		if k.As == dimension.MarkWire {
			s.wide = mm(k.Thick) * float64(max(k.Turns, 1))
		} else if k.As == dimension.MarkBand {
			s.wide = mm(k.Thick)
		}
		var assumed []string
		for _, n := range k.Rests {
			for _, u := range f.Used {
				if u.Name != n || u.Basis == dimension.BasisChosen {
					continue
				}
				word := "usual"
				if u.Basis == dimension.BasisMiddle {
					word = "plausible"
				}
				if len(k.Rests) > 1 {
					word += " " + u.Title + " " + u.Text
				}
				assumed = append(assumed, word)
			}
		}
		a := named(aims, k.Rests, k.At, last)
		switch {
		case a != nil:
			m.aimed(&s, a)
		default:
			s.value = hundredths(k.At)
			s.more = append(s.more, inchOf(k.At))
			if len(assumed) > 0 {
				s.more = append(s.more, m.t("not this recipe's: "+strings.Join(assumed, "; ")))
			} else if len(k.Rests) > 0 {
				s.more = append(s.more, "worked out")
			}
		}
		if k.Middle != k.At {
			s.more = append(s.more, "in the middle "+hundredths(k.Middle))
		}
		out = append(out, s)
	}
	return out
}

// named is the target a mark lies at, where it rests on that alone.
func named(aims []aim, rests []string, at int64, last bool) *aim {
	if len(rests) != 1 {
		return nil
	}
	var found *aim
	for i := range aims {
		if aims[i].d.Name == rests[0] && aims[i].q == at && (found == nil || last) {
			found = &aims[i]
		}
	}
	return found
}

// aimed says a target at its mark.
func (m *maker) aimed(s *stripMark, a *aim) {
	s.value = m.t(a.t.Text)
	o := other(a.t, false)
	said := o.Nominal
	if said == "" {
		said = o.Limits
		s.more = append(s.more, hundredths(a.q)+", "+a.how)
	}
	if a.from != "" {
		said = strings.Trim(said+"; at “"+m.t(a.from)+"”", "; ")
	}
	s.more = append(s.more, said)
	if a.t.Low.Set && a.t.High.Set {
		s.low, s.high = mm(a.t.Low.Q), mm(a.t.High.Q)
	}
}

// otherMarks are targets counted from the drawing's datum that it has no mark
// for, and values a dimension has at other stages; within tells which are meant.
func (m *maker) otherMarks(f *dimension.Figure, aims []aim, within func(*aim) bool) []stripMark {
	var out []stripMark
	for i := range aims {
		a := &aims[i]
		if a.d.Kind != quantity.Length || a.d.Across || a.d.Datum != f.From || a.q <= 0 || far(quantity.Bound{Q: a.q, Set: true}) || within != nil && !within(a) {
			continue
		}
		if slices.ContainsFunc(f.Marks, func(k dimension.FigureMark) bool {
			return len(k.Rests) == 1 && k.Rests[0] == a.d.Name && k.At == a.q
		}) {
			continue
		}
		s := stripMark{name: m.t(a.d.Title), at: mm(a.q)}
		m.aimed(&s, a)
		out = append(out, s)
	}
	return out
}
