package bench

import (
	"strconv"
	"strings"
	"time"

	"canewright/engine/quantity"
	"canewright/engine/recipe"
)

// Asked is the sort of a question.
type Asked string

const (
	AskNote    Asked = "note"    // a safety note to answer
	AskReading Asked = "reading" // a number
	AskSettle  Asked = "settle"  // another number, or let it stand
	AskLook    Asked = "look"    // one of Choices
	AskWork    Asked = "work"    // say when it is done
	AskInto    Asked = "into"    // how many pieces came out of the tube
	AskRow     Asked = "row"     // a row of the card, entered later
	AskWait    Asked = "wait"    // say when the wait is over
	AskNothing Asked = "nothing" // no piece is under way
)

// Question is everything a face needs to show; all text and numbers are ready,
// faces never round.
type Question struct {
	Seq     uint64   `json:"seq"` // the last event this question knows
	Asked   Asked    `json:"asked"`
	Pieces  []string `json:"pieces"`
	For     string   `json:"for"`   // "piece 2", "pieces 1 and 2", "all pieces"
	Stage   string   `json:"stage"` // name, with its turn
	Number  int      `json:"number"`
	Of      int      `json:"of"`
	Visit   int      `json:"visit"`
	Again   string   `json:"again,omitempty"` // why the piece is here once more
	Notes   []Note   `json:"notes,omitempty"` // to be shown in full
	Short   []Note   `json:"short,omitempty"` // to be shown in one line
	Do      []string `json:"do,omitempty"`
	Warn    []string `json:"warn,omitempty"` // no way back, mark again
	Prompt  string   `json:"prompt"`
	Target  string   `json:"target,omitempty"`
	How     string   `json:"how,omitempty"`
	Taken   []string `json:"taken,omitempty"`  // readings at this visit
	Before  string   `json:"before,omitempty"` // readings of an earlier visit; keep lets them count
	Keep    bool     `json:"keep,omitempty"`   // Before was inside, or not judged
	Choices []string `json:"choices,omitempty"`
	Keys    string   `json:"keys"`           // what may be typed
	Line    *Line    `json:"line,omitempty"` // target and limits, with the readings so far
	Grid    *Grid    `json:"grid,omitempty"` // the blade, where stations are measured
}

// Ask makes the next question. mark is the piece the player picked, "" for
// none; notes are all notes of what InHand names. now is in the zone times are
// shown in.
func Ask(s *State, mark string, notes []Note, now time.Time) Question {
	f := s.focusOn(mark)
	q := Question{Seq: s.Last, Of: len(s.b.Stages)}
	if f.stage < 0 {
		q.Asked, q.Prompt = AskNothing, s.nothing()
		return q
	}
	st := &s.b.Stages[f.stage]
	p := f.pieces[0]
	q.Pieces, q.For = f.marks(), s.forWhom(f)
	q.Stage, q.Number, q.Visit = st.Name, f.stage+1, p.Visit
	q.Warn = append(q.Warn, s.usingLines(f)...)
	if p.Visit > 1 && recipe.How(p.How) != recipe.GoingOn {
		q.Again = strings.TrimSpace(sentence(p.Why) + " " + sentence(p.Do))
		if q.Again == "" {
			q.Again = p.How
		}
	}
	if f.step != stepWait && f.step != stepRest {
		d := s.due(notes, st.Key, f.pieces)
		fresh := len(p.Open)+len(p.Closed) == 0 && !p.Looked
		q.Notes = append(d.ask, d.show...)
		if fresh {
			q.Short = d.short // one line at each use, not at each reading
		}
		if len(d.ask) > 0 {
			q.Asked, q.Prompt = AskNote, d.ask[0].Ask
			q.Keys = "answer in your own words"
			return q
		}
		if fresh {
			q.Do, q.Warn = st.Do, append(s.warnings(st), q.Warn...)
			if off := s.knifeOff(p, st); len(off) > 0 && knifeAtHand(st) {
				q.Warn = append([]string{"Knife off, at or near the lower limit: " + strings.Join(off, ", ") + ". advise says what else there is."}, q.Warn...)
			}
		}
	}
	switch f.step {
	case stepMeasure, stepSettle:
		s.askReading(&q, p, &st.Measures[f.measure], f.step)
	case stepLook:
		q.Asked, q.Prompt = AskLook, st.Look.Question
		for _, a := range st.Look.Answers {
			q.Choices = append(q.Choices, a.Word)
		}
		q.Keys = "type the number or the words"
		if st.Look.Several {
			q.Keys += "; several with a comma"
		}
	case stepInto:
		q.Asked, q.Prompt = AskInto, "How many pieces came out of "+s.called(p)+"?"
		q.Keys = "type how many, or Enter for " + strconv.Itoa(st.Into)
	case stepWait, stepRest:
		s.askWait(&q, f, st, now)
	default:
		q.Asked, q.Prompt, q.Keys = AskWork, "Done?", "Enter when it is done"
		if st.Wait != nil {
			q.Prompt, q.Keys = "Begun?", "Enter when it has begun"
		}
	}
	return q
}

func (s *State) askReading(q *Question, p *Piece, m *recipe.Measure, at step) {
	slot := s.b.Slots[m.Slot]
	d := slot.Dimension
	q.Asked, q.Prompt = AskReading, slot.Title()
	if slot.Cell == nil && d.Datum != "" {
		q.Prompt += ", from " + d.Datum
	}
	if m.At != "" {
		q.Prompt += ", at " + m.At
	}
	if m.Target != nil {
		t := m.Target.Tolerance
		q.Target = t.Text
		if l := t.Limits(); l != t.Text && !strings.Contains(t.Text, "..") {
			q.Target += " (" + l + ")"
		}
	}
	var how []string
	if t := s.b.ToolFor(m, p.Swaps); t.Name != "" {
		how = append(how, t.Name)
	}
	if c := s.condition(p, m); c != "" {
		how = append(how, c)
	}
	if d.How != "" {
		how = append(how, d.How)
	}
	q.How = strings.Join(how, ", ")
	if last, ok := p.Last[m.Slot]; ok && (last.Stage != p.Stage || last.Visit != p.Visit) {
		var were []string
		for _, r := range last.List {
			were = append(were, entered(r, d.Kind).String())
		}
		q.Before, q.Keep = strings.Join(were, "; "), wasRight(last)
	}
	q.Line = s.line(m, p.Open[m.Slot])
	q.Grid = s.grid(p, m)
	for _, r := range p.Open[m.Slot] {
		q.Taken = append(q.Taken, entered(r, d.Kind).String())
	}
	unit := d.Unit.Name()
	if unit == "" {
		unit = quantity.Bare(d.Kind).Name()
	}
	q.Keys = "type the reading"
	if unit != "" {
		q.Keys += " in " + unit
		if m.Target != nil && m.Target.Tolerance.Kind == quantity.Length {
			// The target stands in inches: a bare number is in the unit shown all the same.
			if own := m.Target.Tolerance.Unit.Name(); own != "" && own != unit {
				q.Keys += ", or with " + own + " behind it"
			}
		}
	}
	if left := m.Repeat - len(p.Open[m.Slot]); m.Repeat > 1 && left > 0 {
		q.Keys += ", " + strconv.Itoa(left) + " more"
	}
	if at == stepSettle {
		q.Asked, q.Keys = AskSettle, "type one more reading, or Enter to let it stand"
		taken := p.Open[m.Slot]
		side := ""
		if said := taken[len(taken)-1].Said; said != nil {
			side = said.Side
		}
		stands := map[string]string{"above": "Enter: it counts as too " + d.More, "below": "Enter: it counts as too " + d.Less}[side]
		switch {
		case stands != "" && saidCoarse(taken):
			q.Keys = stands + "; pass: it counts as right"
		case stands != "":
			q.Keys = "one more reading; or " + stands + "; pass: as right"
		case saidCoarse(taken):
			q.Keys = "Enter: it counts as right; more readings settle nothing"
		}
	}
}

// usingLines say what is really used, of which pieces.
func (s *State) usingLines(f focus) []string {
	var out []string
	by := map[string][]string{}
	for _, p := range f.pieces {
		for _, x := range p.Swaps {
			line := "using " + x.Name
			if x.Instead != "" {
				line += " instead of " + x.Instead
			}
			if by[line] == nil {
				out = append(out, line)
			}
			by[line] = append(by[line], p.Mark)
		}
	}
	for i, line := range out {
		switch n := len(by[line]); {
		case n == len(f.pieces):
			out[i] = upperFirst(line) + "."
		case n == 1:
			out[i] = f.pieces[0].Kind + " " + by[line][0] + ": " + line + "."
		default:
			out[i] = f.pieces[0].Kind + "s " + joinRuns(by[line]) + ": " + line + "."
		}
		out[i] = upperFirst(out[i])
	}
	return out
}

// warnings stand under the instructions, once a visit.
func (s *State) warnings(st *recipe.Stage) []string {
	var out []string
	if st.NoWayBack {
		out = append(out, "No way back from here: measure before you cut.")
	}
	if st.MarkAgain != "" {
		out = append(out, "Mark it again: "+st.MarkAgain+".")
	}
	for _, u := range st.Uses {
		out = append(out, "Uses: "+u+".")
	}
	if st.Because != "" {
		out = append(out, "Because "+st.Because+".")
	}
	return out
}

// condition the cane is in for a reading: the stage's, else the piece's.
func (s *State) condition(p *Piece, m *recipe.Measure) string {
	if s.b.Slots[m.Slot].Dimension.Subject == "batch" {
		return "" // the room's air is neither wet nor dry cane
	}
	if p.Really != "" {
		return string(p.Really)
	}
	if c := s.b.Stages[p.Stage].Condition; c != "" {
		return string(c)
	}
	return string(p.Condition)
}

func (s *State) askWait(q *Question, f focus, st *recipe.Stage, now time.Time) {
	p := f.pieces[0]
	q.Asked = AskWait
	q.Prompt = "Resting, begun " + Since(p.Since, now) + "."
	if f.step == stepRest || st.Wait == nil {
		q.Do = nonEmpty(sentence(p.Do))
		q.Keys = "Enter when you take it up again"
		return
	}
	w := st.Wait
	var parts []string
	if w.Until != "" {
		parts = append(parts, "until "+w.Until)
	}
	if w.LeastText != "" {
		parts = append(parts, "at least "+w.LeastText)
	}
	if w.UsualText != "" {
		parts = append(parts, "usually "+w.UsualText)
	}
	if w.MostText != "" {
		parts = append(parts, "at most "+w.MostText)
	}
	q.Target = strings.Join(parts, ", ")
	if w.Because != "" {
		q.Warn = append(q.Warn, "Because "+w.Because+".")
	}
	q.Keys = "Enter when the wait is over"
	elapsed := now.Sub(p.Since).Milliseconds()
	switch {
	case elapsed < -clockSlack:
		q.Keys = "the clock was set back: type go on when it is over"
	case elapsed < w.Least:
		q.Target = "ready from " + clock(p.Since.Add(time.Duration(w.Least)*time.Millisecond), now) + ": " + q.Target
		q.Keys = "come back later, or type: go on"
	case w.Most > 0 && elapsed > w.Most:
		q.Warn = append(q.Warn, "It has been longer than "+w.MostText+". You decide.")
	}
}

// clockSlack in ms: two clocks, or one that is set right, may differ by so much.
const clockSlack = 60_000

// Since says how long ago something was, in words that do not scold: "just
// now", "3 h ago", "2 d 4 h ago".
func Since(t, now time.Time) string {
	ms := now.Sub(t).Milliseconds()
	switch {
	case ms < -clockSlack:
		return "at " + t.In(now.Location()).Format("2006-01-02 15:04") + ", which this clock has not reached"
	case ms < 60_000:
		return "just now"
	}
	step := int64(60_000)
	if ms >= 86_400_000 {
		step = 3_600_000 // after a day nobody counts minutes
	}
	if ms >= 7*86_400_000 {
		step = 86_400_000 // nor hours after a week
	}
	ms -= ms % step
	return quantity.Format(quantity.Value{Kind: quantity.Time, Q: ms}, quantity.Unit{}, step) + " ago"
}

func (s *State) forWhom(f focus) string {
	switch n := len(f.pieces); {
	case n > 3 && s.all(f):
		return "all " + strconv.Itoa(n) + " " + f.pieces[0].Kind + "s"
	case n > 1:
		return f.pieces[0].Kind + "s " + joinRuns(f.marks())
	}
	return s.called(f.pieces[0])
}

// joinRuns is join with runs of whole numbers drawn together: "1 to 8 and 11".
func joinRuns(marks []string) string {
	var out []string
	for i := 0; i < len(marks); {
		j := i
		for j+1 < len(marks) && follows(marks[j], marks[j+1]) {
			j++
		}
		switch {
		case j-i >= 2:
			out = append(out, marks[i]+" to "+marks[j])
		default:
			out = append(out, marks[i:j+1]...)
		}
		i = j + 1
	}
	if n := len(out); n > mostNamed {
		return strings.Join(out[:mostNamed], ", ") + " and others"
	}
	return join(out)
}

// mostNamed: nobody reads more marks in one line.
const mostNamed = 24

func follows(a, b string) bool {
	x, err := strconv.Atoi(a)
	y, err2 := strconv.Atoi(b)
	return err == nil && err2 == nil && y == x+1
}

func (s *State) nothing() string {
	var ready, away, thrown []string
	for _, p := range s.Pieces {
		if p.Kind == ofTube && p.Place == Finished {
			continue // it lives on in its pieces
		}
		switch p.Place {
		case Finished:
			ready = append(ready, p.Mark)
		case Aside:
			away = append(away, p.Mark)
		case Thrown:
			thrown = append(thrown, p.Mark)
		}
	}
	var parts []string
	if len(ready) > 0 {
		parts = append(parts, "finished: "+joinRuns(ready))
	}
	if len(away) > 0 {
		parts = append(parts, "set aside: "+joinRuns(away))
	}
	if len(thrown) > 0 {
		parts = append(parts, "thrown away: "+joinRuns(thrown))
	}
	if len(parts) == 0 {
		return "This batch has no pieces."
	}
	return "Nothing left to do: " + strings.Join(parts, "; ") + "."
}

func join(words []string) string {
	switch len(words) {
	case 0:
		return ""
	case 1:
		return words[0]
	}
	return strings.Join(words[:len(words)-1], ", ") + " and " + words[len(words)-1]
}

func nonEmpty(words ...string) []string {
	var out []string
	for _, w := range words {
		if w != "" {
			out = append(out, w)
		}
	}
	return out
}

func entered(r ReadingTaken, k quantity.Kind) quantity.Entered {
	u, _ := quantity.UnitNamed(r.Unit)
	if r.Unit == "" {
		u = quantity.Bare(k)
	}
	return quantity.Entered{Text: r.Text, Unit: u, Bare: r.Bare, Step: r.Step, Value: quantity.Value{Kind: k, Q: r.Q}}
}
