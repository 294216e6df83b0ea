package paper

import (
	"cmp"
	"slices"
	"strings"
)

// Names of dimensions of the flat piece, the same in every set that has them.
const (
	pieceLength = "cane.length"
	pieceFold   = "fold.at"
	atFold      = "shape.fold"
	atWire      = "shape.first_wire"
	atButt      = "shape.butt"
	firstWire   = "wire.first"
	theButt     = "the butt"
	ofTheReed   = "reed." // the finished reed's begin so
)

// piece is the flat piece of cane, from one end: with its fold and, where the
// places of the reed are counted from the butt, with those from both ends.
func (m *maker) piece(aims []aim) (*strip, []string) {
	length := first(aims, pieceLength)
	d, has := m.b.Set.Find(pieceLength)
	if !has {
		return nil, nil
	}
	q, note := int64(0), ""
	switch p := d.Plausible; {
	case length != nil:
		q = length.q
	case p.Low.Set && p.High.Set:
		q, note = p.Low.Q+(p.High.Q-p.Low.Q)/2, "not this recipe's: the middle of what is plausible"
	default:
		return nil, []string{"The flat piece is not drawn: no number for " + m.t(d.Title) + "."}
	}
	if q <= 0 || q > 1e9 {
		return nil, []string{"The flat piece is not drawn: " + m.t(d.Title) + " " + hundredths(q) + "."}
	}
	s := &strip{title: "The piece, flat, from one end", half: 7}
	end := stripMark{name: "other end", at: mm(q), value: hundredths(q), cut: true}
	if length != nil {
		m.aimed(&end, length)
	} else {
		end.more = []string{inchOf(q), note}
	}
	fold := stripMark{name: "fold", at: mm(q / 2), value: hundredths(q / 2), more: []string{inchOf(q / 2), "half of the length"}}
	if a := first(aims, pieceFold); a != nil && a.q < q {
		fold = stripMark{name: "fold", at: mm(a.q)}
		m.aimed(&fold, a)
	}
	s.marks = append(s.marks, fold, end)
	var says []string
	if set := m.b.Set; set.Outline != nil && set.Outline.From == theButt {
		if f, err := set.Figure(own(aims, false)); err == nil {
			all := m.figureMarks(f, aims, false)
			all = append(all, m.otherMarks(f, aims, func(a *aim) bool {
				return a == first(aims, a.d.Name) && !strings.HasPrefix(a.d.Name, ofTheReed)
			})...)
			for _, k := range all {
				if k.at > 0 && k.at < fold.at {
					s.marks = append(s.marks, k)
					s.unnamed = append(s.unnamed, mm(q)-k.at)
				}
			}
			end.more = append(end.more, "below it the same marks, from this end")
			s.marks[1] = end
		}
	}
	says = append(says, m.widths(s, aims, fold.at, mm(q))...)
	s.measure(mm(q))
	slices.SortStableFunc(s.marks, func(a, b stripMark) int { return cmp.Compare(a.at, b.at) })
	return s, says
}

// widths shape the flat piece where the recipe has targets for them.
func (m *maker) widths(s *strip, aims []aim, fold, long float64) []string {
	var known [][2]float64
	var lacks []string
	wire := first(aims, firstWire)
	for _, w := range []struct {
		name string
		at   float64
		ok   bool
	}{{atButt, 0, true}, {atWire, at(wire), wire != nil}, {atFold, fold, true}} {
		d, has := m.b.Set.Find(w.name)
		if !has {
			continue
		}
		if a := first(aims, w.name); a != nil && w.ok && a.q > 0 {
			known = append(known, [2]float64{w.at, mm(a.q) / 2})
			continue
		}
		lacks = append(lacks, d.Title)
	}
	if len(known) < 2 {
		half := s.half
		if len(known) == 1 {
			half = known[0][1]
		}
		s.halves, s.dashed = [][][2]float64{{{0, half}, {long, half}}}, true
		if len(lacks) == 0 {
			return []string{"The flat piece is dashed: its width is not to scale."}
		}
		return []string{"The flat piece is dashed, its outline not to scale: no target for " + m.t(strings.Join(lacks, ", ")) + "."}
	}
	from := known[0]
	if from[0] > 0 {
		known = append([][2]float64{{0, from[1]}}, known...)
	}
	if last := known[len(known)-1]; last[0] < fold {
		known = append(known, [2]float64{fold, last[1]})
	}
	whole := slices.Clone(known)
	for i := len(known) - 1; i >= 0; i-- {
		if d := long - known[i][0]; d > whole[len(whole)-1][0] {
			whole = append(whole, [2]float64{d, known[i][1]})
		}
	}
	s.halves = [][][2]float64{whole}
	if len(lacks) > 0 {
		return []string{"Straight on at the flat piece, for want of a target: " + m.t(strings.Join(lacks, ", ")) + "."}
	}
	return nil
}
