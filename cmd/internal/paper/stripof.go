package paper

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"canewright/engine/dimension"
	"canewright/engine/picture"
	"canewright/engine/quantity"
	"canewright/engine/recipe"
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

// aim is a target as a place on a strip.
type aim struct {
	d    *dimension.Dimension
	t    quantity.Tolerance
	q    int64  // what is drawn
	how  string // "middle of it" where the target has no nominal
	from string // the stage that states it; "": before all stages
}

// aimsOf are the targets on lengths that a strip can show, in the recipe's
// order, each value once; one names those with a single limit.
func aimsOf(b *recipe.Bound) (all []aim, one []string) {
	for _, a := range b.Aims {
		d := b.Slots[a.Slot].Dimension
		if d == nil || d.Formula != "" || d.Grid != nil {
			continue
		}
		x := aim{d: d, t: a.Target.Tolerance}
		switch t := x.t; {
		case t.Nominal.Set:
			x.q = t.Nominal.Q
		case t.Low.Set && t.High.Set:
			x.q, x.how = t.Low.Q+(t.High.Q-t.Low.Q)/2, "the middle of its limits"
		default:
			if d.Kind == quantity.Length && !d.Across && d.Datum != "" {
				one = joined(one, []string{d.Title + " " + t.Text})
			}
			continue
		}
		if a.Stage >= 0 {
			x.from = b.Stages[a.Stage].Name
		}
		if !slices.ContainsFunc(all, func(y aim) bool { return y.d == x.d && y.q == x.q }) {
			all = append(all, x)
		}
	}
	return all, one
}

// own are the first or last targets as the numbers of a drawing.
func own(all []aim, last bool) map[string]quantity.Entered {
	out := map[string]quantity.Entered{}
	for _, a := range all {
		if _, known := out[a.d.Name]; known && !last {
			continue
		}
		out[a.d.Name] = quantity.Entered{Text: a.t.Text, Unit: a.t.Unit, Step: a.t.Step, Value: quantity.Value{Kind: a.d.Kind, Q: a.q}}
	}
	return out
}

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

func at(a *aim) float64 {
	if a == nil {
		return 0
	}
	return mm(a.q)
}

func first(aims []aim, name string) *aim {
	for i := range aims {
		if aims[i].d.Name == name {
			return &aims[i]
		}
	}
	return nil
}

func mm(nm int64) float64 { return float64(nm) / millimetre }

// hundredths writes a place to 0.01 mm.
func hundredths(nm int64) string {
	return quantity.Format(quantity.Value{Kind: quantity.Length, Q: int64(math.Round(float64(nm)/10_000)) * 10_000}, quantity.Main(quantity.Length), 0)
}

// inchOf is a place of a drawing in inches.
func inchOf(nm int64) string {
	const step = 100_000 // as a ruler is read
	return other(quantity.Tolerance{Kind: quantity.Length, Unit: quantity.Main(quantity.Length), Step: step, Nominal: quantity.Bound{Q: nm, Set: true}}, false).Nominal
}
