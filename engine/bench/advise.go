package bench

import (
	"slices"
	"strconv"
	"strings"

	"canewright/engine/dimension"
	"canewright/engine/gauging"
	"canewright/engine/quantity"
	"canewright/engine/recipe"
	"canewright/engine/remedy"
)

// Tried is a remedy that was tried on a piece, and whether it helped: "yes",
// "no", or "" while nobody has said.
type Tried struct{ Name, Helped string }

// mostAdvice is how many remedies are shown: one thing at a time.
const mostAdvice = 3

// CaseOf is all that is known of a piece, as remedies are ranked by.
func (s *State) CaseOf(p *Piece) remedy.Case {
	c := remedy.Case{Symptoms: p.Symptoms}
	c.Values, c.Known = s.Values(p)
	c.U, c.Lower, c.Over = make([]float64, len(c.Values)), make([]remedy.Limit, len(c.Values)), make([]string, len(c.Values))
	for slot, last := range p.Last {
		if last.Struck {
			c.Known[slot] = false // strokes were made since
			// What was at its limit stays there: strokes only thin.
			if c.Lower[slot] = s.lower(p, slot, s.uncertainty(slot, last.List)); c.Lower[slot] == remedy.Clear {
				c.Lower[slot] = remedy.Stale
			}
			continue
		}
		c.Over[slot] = s.over(p, slot)
		if _, held := p.Held[slot]; !held { // of an earlier visit, and still the best that is known
			sum := 0.0
			for _, r := range last.List {
				sum += quantity.Value{Kind: s.b.Slots[slot].Dimension.Kind, Q: r.Q}.Float()
			}
			c.Values[slot], c.Known[slot] = sum/float64(len(last.List)), true
		}
		u := s.uncertainty(slot, last.List)
		c.U[slot] = u * s.b.Slots[slot].Dimension.Kind.Scale()
		c.Lower[slot] = s.lower(p, slot, u)
	}
	for _, t := range p.Tried {
		x := remedy.Tried{Name: t.Name}
		if t.Helped != "" {
			yes := t.Helped == "yes"
			x.Helped = &yes
		}
		c.Tried = append(c.Tried, x)
	}
	return c
}

// uncertainty is the standard uncertainty of readings in quanta: as it was said
// with the verdict, else by the tool they were read with.
func (s *State) uncertainty(slot int, list []ReadingTaken) float64 {
	last := list[len(list)-1]
	if last.Said != nil && last.Said.U > 0 {
		return float64(last.Said.U)
	}
	all := make([]quantity.Entered, len(list))
	for i, r := range list {
		all[i] = entered(r, s.b.Slots[slot].Dimension.Kind)
	}
	return gauging.Of(all, s.readBy(last.Tool), nil).U
}

// readBy is the tool of a reading; one that is not known has neither step nor
// error.
func (s *State) readBy(name string) recipe.Tool {
	if u, known := s.b.Named(name, false); known && len(u.Tools) > 0 {
		return u.Tools[0]
	}
	return recipe.Tool{}
}

// lower is where a piece stands against the lower limit of the last target its
// reading was judged by. A reading that cannot be told from the limit counts as
// having reached it: what is cut away does not come back.
func (s *State) lower(p *Piece, slot int, u float64) remedy.Limit {
	t := s.lastTarget(p, slot)
	if t == nil || !t.Tolerance.Low.Set || len(p.Last[slot].List) == 0 {
		return remedy.NotKnown
	}
	if mean(p.Last[slot].List)-float64(t.Tolerance.Low.Q) <= u {
		return remedy.Reached
	}
	return remedy.Clear
}

// over says how far a reading lies above its target's upper limit; "" where it
// does not.
func (s *State) over(p *Piece, slot int) string {
	t := s.lastTarget(p, slot)
	if t == nil || !t.Tolerance.High.Set || len(p.Last[slot].List) == 0 {
		return ""
	}
	by := round(mean(p.Last[slot].List)) - t.Tolerance.High.Q
	if by <= 0 {
		return ""
	}
	return quantity.Number(quantity.Value{Kind: t.Tolerance.Kind.Difference(), Q: by}, t.Tolerance.Unit, t.Tolerance.Step) + " over"
}

// lastTarget is the target in force for a slot where the piece is, or was last.
func (s *State) lastTarget(p *Piece, slot int) *recipe.Target {
	for at := min(p.Stage, len(s.b.Stages)-1); at >= 0; at-- {
		for i := range s.b.Stages[at].Measures {
			if m := &s.b.Stages[at].Measures[i]; m.Slot == slot && m.Target != nil {
				return m.Target
			}
		}
	}
	return nil
}

func mean(list []ReadingTaken) float64 {
	sum := 0.0
	for _, r := range list {
		sum += float64(r.Q)
	}
	return sum / float64(len(list))
}

// knifeOff lists the stations of a stage where the blade is at or under its
// lower limit, as last read.
func (s *State) knifeOff(p *Piece, st *recipe.Stage) []string {
	var out []string
	for i := range st.Measures {
		m := &st.Measures[i]
		last, ok := p.Last[m.Slot]
		if m.Group == 0 || !ok || m.Target == nil || !m.Target.Tolerance.Low.Set {
			continue
		}
		if mean(last.List)-float64(m.Target.Tolerance.Low.Q) <= s.uncertainty(m.Slot, last.List) {
			c := s.b.Slots[m.Slot].Cell
			out = append(out, c.Blade+" "+c.Lane+" "+c.AtText)
		}
	}
	return out
}

// Advise says what could be tried with a piece, the gentlest that fits best
// first; nil where nothing is known that a remedy answers to.
func (s *State) Advise(mark string) []string {
	p := s.byMark(mark)
	if p == nil {
		return nil
	}
	if len(s.b.Remedies) == 0 {
		return []string{"This recipe's instrument brings no remedies."}
	}
	ranked, excluded := remedy.Rank(s.b, s.CaseOf(p))
	if len(ranked) == 0 && len(excluded) == 0 {
		return append([]string{"Say what is wrong: advise low notes do not speak. The words:"}, s.symptomWords()...)
	}
	var out []string
	if len(ranked) == 0 {
		out = append(out, "Nothing is left to try here that fits.")
	}
	for i, a := range ranked[:min(len(ranked), mostAdvice)] {
		out = append(out, adviceLines(i+1, a)...)
	}
	if len(ranked) > 1 {
		if name, why := remedy.Tell(ranked[0], ranked[1]); name != "" {
			title := name
			if i := s.b.SlotOf(name); i >= 0 {
				title = s.b.Slots[i].Title()
			}
			out = append(out, "To tell 1 from 2 measure "+title+": "+why+".")
		}
	}
	shown := 0
	for _, a := range excluded {
		asked := len(p.Symptoms) == 0 || slices.ContainsFunc(a.Fits, func(f string) bool { return strings.HasPrefix(f, "taken as: ") })
		if shown < mostAdvice && asked { // what nobody asked about is left out
			out = append(out, "Not now: "+a.Remedy.Name+": "+a.Excluded+".")
			shown++
		}
	}
	if len(ranked) > 0 {
		out = append(out, "Type try 1 when you do it, afterwards helped, or helped no.")
	}
	return out
}

func adviceLines(n int, a remedy.Advice) []string {
	head := strconv.Itoa(n) + ". " + sentence(a.Step)
	if a.Remedy.NotReed {
		head += " (perhaps not the reed)"
	}
	out := []string{head}
	if a.Remedy.Because != "" {
		out = append(out, "because "+a.Remedy.Because)
	}
	if len(a.Fits) > 0 {
		out = append(out, "fits: "+strings.Join(a.Fits, "; "))
	}
	if len(a.Against) > 0 {
		out = append(out, "against it: "+strings.Join(a.Against, "; "))
	}
	if len(a.Unknown) > 0 {
		out = append(out, "not known: "+strings.Join(a.Unknown, "; "))
	}
	if len(a.Remedy.Measure) > 0 {
		out = append(out, "then measure "+join(a.Remedy.Measure))
	}
	if len(a.Remedy.Sources) > 0 {
		src := a.Remedy.Sources[0]
		from := src.Who
		if from == "" {
			from = string(src.Grade) + ", which is weak"
		}
		out = append(out, "from: "+from)
	}
	return out
}

// symptomWords lists what may be said.
func (s *State) symptomWords() []string {
	var out []string
	for _, x := range s.b.Symptoms {
		out = append(out, x.Words)
	}
	return out
}

// advise notes what a player says is wrong: one symptom or several, parted by
// commas.
func (d *decider) advise(f focus, text string) ([]Event, error) {
	if len(f.pieces) != 1 {
		return nil, refuse("Say which: 7 advise and what is wrong.", "Advice is for one piece.")
	}
	p := f.pieces[0]
	if len(d.b.Symptoms) == 0 {
		return nil, refuse("", "This recipe's instrument knows no symptoms.")
	}
	var names []string
	for _, part := range strings.FieldsFunc(text, func(r rune) bool { return r == ',' || r == ';' }) {
		part = strings.TrimSpace(part)
		if part == "" {
			continue
		}
		found := remedy.Match(d.b.Symptoms, part)
		if x, ok := d.b.SymptomNamed(part); ok {
			found = []dimension.Symptom{x}
		}
		switch {
		case len(found) == 0:
			hint := "advise alone lists the words."
			if n := d.b.NearSymptom(part); n != "" {
				hint = "Did you mean: " + n + "?"
			}
			return nil, refuse(hint, "%q is no symptom that is known here.", clip(part))
		case len(found) > 1:
			var words []string
			for _, x := range found[:min(len(found), 4)] {
				words = append(words, x.Words)
			}
			return nil, refuse("Say one of: "+strings.Join(words, "; ")+".", "%q could be several.", clip(part))
		}
		if !slices.Contains(names, found[0].Name) {
			names = append(names, found[0].Name)
		}
	}
	if len(names) == 0 {
		return nil, refuse("For example: advise low notes do not speak.", "Say what is wrong.")
	}
	d.apart(p, SymptomsNoted{Symptoms: names, At: d.b.Stages[p.Stage].Key})
	return d.out, nil
}

// try records that a remedy is tried, and takes its tool in hand: the note for
// it comes before the next answer.
func (d *decider) try(f focus, text string) ([]Event, error) {
	if len(f.pieces) != 1 {
		return nil, refuse("Say which piece: 7 try 1.", "A remedy is for one piece.")
	}
	p := f.pieces[0]
	ranked, _ := remedy.Rank(d.b, d.st.CaseOf(p))
	n, err := strconv.Atoi(text)
	at := slices.IndexFunc(ranked, func(a remedy.Advice) bool { return strings.EqualFold(a.Remedy.Name, text) })
	if err == nil {
		at = n - 1
	}
	if at < 0 || at >= len(ranked) || err == nil && at >= mostAdvice {
		return nil, refuse("advise lists what fits, with numbers.", "There is no such advice: %s.", clip(text))
	}
	r := ranked[at].Remedy
	d.apart(p, RemedyTried{Name: r.Name, Do: ranked[at].Step, At: d.b.Stages[p.Stage].Key})
	have := d.b.Swapped(d.b.Stages[p.Stage].Use, p.Swaps)
	for _, word := range d.b.ToolsOf(r) {
		if !slices.ContainsFunc(have.Tools, func(t recipe.Tool) bool { return t.Name == word }) {
			d.apart(p, Chosen{What: "tool", Name: word, Known: true, At: d.b.Stages[p.Stage].Key})
		}
	}
	return d.out, nil
}

// helped records whether the remedy tried last helped.
func (d *decider) helped(f focus, text string) ([]Event, error) {
	if len(f.pieces) != 1 {
		return nil, refuse("Say which piece: 7 helped no.", "A remedy is for one piece.")
	}
	p := f.pieces[0]
	if len(p.Tried) == 0 {
		return nil, refuse("try 1 says that you do the first.", "No remedy was tried on %s.", d.st.called(p))
	}
	helped := ""
	switch strings.ToLower(text) {
	case "", "yes", "y", "it did":
		helped = "yes"
	case "no", "n", "not", "it did not":
		helped = "no"
	default:
		return nil, refuse("helped, or helped no.", "Did it help?")
	}
	d.apart(p, RemedyJudged{Name: p.Tried[len(p.Tried)-1].Name, Helped: helped})
	return d.out, nil
}
