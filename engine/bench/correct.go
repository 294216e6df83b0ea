package bench

import (
	"math"
	"slices"
	"strings"

	"canewright/engine/quantity"
	"canewright/engine/recipe"
)

// correct puts an old reading of a piece right: "correct 1.13 to 1.31", or by
// name, "correct wire.first 27.2". It moves nothing and deletes nothing.
func (d *decider) correct(f focus, marks []string, last, text string) ([]Event, error) {
	p, err := d.whose(f, marks, last)
	if err != nil {
		return nil, err
	}
	slot, repeat, value, err := d.toCorrect(p, text)
	if err != nil {
		return nil, err
	}
	read := p.Last[slot]
	was := read.List[repeat-1]
	kind := d.b.Slots[slot].Dimension.Kind
	if value.Value.Q == was.Q && value.Text == was.Text {
		return nil, refuse("", "It reads %s already.", entered(was, kind))
	}
	c := ValueCorrected{
		Slot: d.b.Slots[slot].Name, At: d.b.Stages[read.Stage].Key, On: read.Visit, Repeat: repeat, Was: entered(was, kind).String(),
		Text: value.Text, Unit: value.Unit.Name(), Bare: value.Bare, Step: value.Step, Q: value.Value.Q,
	}
	all := make([]quantity.Entered, len(read.List))
	for i, r := range read.List {
		all[i] = entered(r, kind)
	}
	all[repeat-1] = value
	if said := read.List[len(read.List)-1].Said; said != nil {
		c.WasSaid = said.Sentence
		if m := d.measureAt(read.Stage, slot); m != nil && m.Target != nil {
			old := p.Stage
			p.Stage = read.Stage // the words of the stage it was read at
			c.Said = d.judge(p, m, all, d.st.readBy(was.Tool), true)
			p.Stage = old
		}
	}
	before := d.rulesHold(p)
	d.apart(p, c) // recorded first, so that the rules below see the new value
	after := d.rulesHold(p)
	for i, r := range before {
		if i < len(after) && after[i].holds != r.holds {
			c.Changes = append(c.Changes, r.text+": "+holding(r.holds)+" before, "+holding(after[i].holds)+" now")
		}
	}
	d.out[len(d.out)-1].Body = c
	return d.out, nil
}

func holding(h bool) string {
	if h {
		return "held"
	}
	return "did not hold"
}

// whose is the piece a correction is for: the one named, else the one last
// answered for in this window, else the one the question is for.
func (d *decider) whose(f focus, marks []string, last string) (*Piece, error) {
	switch {
	case len(marks) == 1:
		return d.st.Piece(marks[0]), nil
	case len(marks) > 1:
		return nil, refuse("Correct one piece at a time: 7 correct 1.13 to 1.31.", "A correction is for one piece.")
	case d.st.Piece(last) != nil:
		return d.st.Piece(last), nil
	case len(f.pieces) == 1:
		return f.pieces[0], nil
	case len(d.st.Pieces) == 1:
		return d.st.Pieces[0], nil
	}
	return nil, refuse("Begin with it: 7 correct 1.13 to 1.31.", "For which piece?")
}

// toCorrect finds the reading that is meant, and the new value.
func (d *decider) toCorrect(p *Piece, text string) (slot, repeat int, value quantity.Entered, err error) {
	form := "correct 1.13 to 1.31, or: correct wire.first 27.2"
	none := quantity.Entered{}
	if at := strings.LastIndex(text, " to "); at > 0 {
		old, to := text[:at], text[at+len(" to "):]
		slot, repeat, err := d.typedAs(p, strings.TrimSpace(old))
		if err != nil {
			return 0, 0, none, err
		}
		value, err := d.newValue(slot, strings.TrimSpace(to))
		return slot, repeat, value, err
	}
	for _, i := range readSlots(p) {
		s := d.b.Slots[i]
		for _, name := range slices.Concat([]string{s.Name, s.Title(), s.Dimension.Name, s.Dimension.Title}, s.Dimension.Aliases) {
			if len(text) <= len(name) || !strings.EqualFold(text[:len(name)], name) || text[len(name)] != ' ' {
				continue
			}
			if n := len(p.Last[i].List); n > 1 {
				return 0, 0, none, refuse("Say which: correct "+p.Last[i].List[0].Text+" to …", "%s has %d readings.", s.Title(), n)
			}
			value, err := d.newValue(i, strings.TrimSpace(text[len(name):]))
			return i, 1, value, err
		}
	}
	if text == "" {
		return 0, 0, none, refuse("Write "+form+".", "Correct what?")
	}
	return 0, 0, none, refuse("Write "+form+".", "%s has no reading that %q could mean.", upperFirst(d.st.called(p)), clip(text))
}

func readSlots(p *Piece) []int {
	var out []int
	for i := range p.Last {
		out = append(out, i)
	}
	slices.Sort(out)
	return out
}

// typedAs finds a reading by what was typed: "1.13" or "1,13", or by its name
// and that.
func (d *decider) typedAs(p *Piece, old string) (slot, repeat int, err error) {
	type hit struct{ slot, repeat int }
	var hits []hit
	plain := func(s string) string { return strings.ReplaceAll(strings.Join(strings.Fields(s), " "), ",", ".") }
	for _, i := range readSlots(p) {
		for k, r := range p.Last[i].List {
			kind := d.b.Slots[i].Dimension.Kind
			for _, as := range []string{r.Text, entered(r, kind).String()} {
				if plain(old) == plain(as) || strings.EqualFold(plain(old), plain(d.b.Slots[i].Name+" "+as)) {
					hits = append(hits, hit{i, k + 1})
					break
				}
			}
		}
	}
	switch len(hits) {
	case 0:
		return 0, 0, refuse("canewright batch shows its readings.", "%s has no reading %s.", upperFirst(d.st.called(p)), clip(old))
	case 1:
		return hits[0].slot, hits[0].repeat, nil
	}
	same := true
	for _, h := range hits {
		same = same && h.slot == hits[0].slot
	}
	if same {
		return hits[len(hits)-1].slot, hits[len(hits)-1].repeat, nil // alike: the last will do
	}
	return 0, 0, refuse("Name it: correct "+d.b.Slots[hits[0].slot].Name+" "+clip(old)+" to …", "%d readings are %s.", len(hits), clip(old))
}

func (d *decider) newValue(slot int, text string) (quantity.Entered, error) {
	line, meant := strings.CutSuffix(strings.TrimSpace(text), "!")
	dim := d.b.Slots[slot].Dimension
	style := quantity.Style{Want: dim.Kind, Bare: dim.Unit}
	v, err := quantity.Parse(line, style)
	if err != nil {
		if e, ok := err.(*quantity.Error); ok {
			return v, refuse(sentence(e.Hint), "%s", sentence(e.Message))
		}
		return v, err
	}
	if !meant {
		if err := plausible([]quantity.Entered{v}, d.b.Slots[slot], style); err != nil {
			return v, err
		}
	}
	return v, nil
}

// measureAt is the measurement of a slot at a stage.
func (d *decider) measureAt(stage, slot int) *recipe.Measure {
	for i := range d.b.Stages[stage].Measures {
		if m := &d.b.Stages[stage].Measures[i]; m.Slot == slot {
			return m
		}
	}
	return nil
}

type ruled struct {
	text  string
	holds bool
}

// rulesHold is what the rules and derived targets of the stages up to here make
// of what the piece holds.
func (d *decider) rulesHold(p *Piece) []ruled {
	values, known := d.st.Values(p)
	var out []ruled
	for i := 0; i <= p.Stage && i < len(d.b.Stages); i++ {
		st := &d.b.Stages[i]
		for _, t := range st.Derived {
			if !known[t.Slot] {
				continue
			}
			k := d.b.Slots[t.Slot].Dimension.Kind
			side := t.Target.Tolerance.Side(int64(math.Floor(values[t.Slot]/k.Scale() + 0.5)))
			out = append(out, ruled{st.Name + ": " + d.b.Slots[t.Slot].Title() + " " + t.Target.Tolerance.Text, side == quantity.Inside})
		}
		for _, r := range st.Rules {
			if holds, err := r.That.Holds(values); err == nil && all(known, r.That.Needs()) {
				out = append(out, ruled{st.Name + ": " + r.That.Text(), holds})
			}
		}
	}
	return out
}

func all(known []bool, needs []int) bool {
	for _, n := range needs {
		if !known[n] {
			return false
		}
	}
	return true
}

// correctedLine says what a correction changes.
func (s *State) correctedLine(c ValueCorrected, p *Piece) string {
	title, unit := c.Slot, ""
	if i := s.b.SlotOf(c.Slot); i >= 0 {
		title = s.b.Slots[i].Title()
	}
	if c.Bare && c.Unit != "" {
		unit = " " + c.Unit
	}
	line := title + " " + c.Was + " is now " + c.Text + unit + "."
	switch {
	case c.Said == nil:
	case c.Said.Sentence != c.WasSaid:
		line += " It was: " + c.WasSaid + " It is: " + c.Said.Sentence
		if strings.Contains(strings.ToLower(c.WasSaid), "too ") {
			line += " What was said to do then no longer holds."
		}
	default:
		line += " The verdict stays: " + c.Said.Sentence
	}
	for _, l := range c.Changes {
		line += " " + sentence(l)
	}
	switch {
	case p == nil:
		return line
	case p.Place == Aside:
		return line + " It stays set aside; to fetch it: bring back " + p.Mark + "."
	case p.Place == Thrown:
		return line + " It stays thrown away."
	}
	return line + " Nothing is moved by this."
}
