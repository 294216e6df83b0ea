package review

import (
	"slices"
	"strings"

	"canewright/engine/bench"
	"canewright/engine/dimension"
	"canewright/engine/recipe"
)

// Of goes through a batch. b is the recipe in the record, bound; limit is how
// many deviations are kept. The error says that the events cannot have come from
// this recipe.
func Of(b *recipe.Bound, rec Record, limit int) (*Review, error) {
	if err := check(b, rec.Events); err != nil {
		return nil, err
	}
	st, err := fold(b, rec.Events)
	if err != nil {
		return nil, err
	}
	w := &walk{b: b, st: st, stages: map[string]int{}, begun: map[string]bench.Event{}, groups: map[place]*group{}, notes: map[string]int{}}
	for i := range b.Stages {
		w.stages[b.Stages[i].Key] = i
	}
	w.out = Review{
		Batch: rec.Name, Title: rec.Title, Recipe: b.File.ID, Version: b.File.Version, Author: b.File.Author, Digest: recipe.Digest(rec.Recipe), Started: rec.Started,
		Closed: st.Done, Events: len(rec.Events),
		Pieces: []Piece{}, Deviations: []Deviation{}, LeftOut: []LeftOut{}, NotReached: []Ahead{}, Before: []Ahead{}, Waits: []Wait{}, Unsure: []Unsure{},
		Other: []Other{}, Wet: []Wet{}, Rules: []Rule{}, Corrected: []Corrected{}, Notes: []Note{}, Remarks: []Remark{},
	}
	for i, e := range rec.Events {
		w.out.Last, w.out.Zone = e.At, e.Zone
		if e.Who != "" && !slices.Contains(w.out.Who, e.Who) {
			w.out.Who = append(w.out.Who, e.Who)
		}
		if _, back := e.Body.(bench.AnswerTakenBack); back {
			w.out.TakenBack++
		}
		if !st.TakenBack(e.Cause) {
			w.event(rec.Events, i, e)
		}
	}
	w.pieces()
	w.deviations(limit)
	return &w.out, nil
}

// place is where readings of one thing belong together.
type place struct {
	piece, stage, slot string
	visit              int
}

// group is one reading with its repeats.
type group struct {
	place
	kind  string
	list  []bench.ReadingTaken
	typed []string // at first
	said  *bench.Said
	cause uint64
	seq   uint64
}

// walk goes through the events that stand.
type walk struct {
	b      *recipe.Bound
	st     *bench.State
	out    Review
	stages map[string]int
	begun  map[string]bench.Event // waits, by piece
	groups map[place]*group       // the newest of each
	order  []*group
	notes  map[string]int
}

func (w *walk) event(all []bench.Event, at int, e bench.Event) {
	who := Subjects{e.Subject.Kind, []string{e.Subject.ID}}
	if e.Subject.Whole() {
		who = Subjects{}
	}
	switch x := e.Body.(type) {
	case bench.ReadingTaken:
		w.reading(e, who, x)
	case bench.ValueCorrected:
		w.correction(e, who, x)
	case bench.Settled:
		if (x.Accepted || x.Passed) && !x.Sure {
			u := Unsure{Subjects: who, Stage: w.name(e.Stage), Title: w.title(x.Slot), Readings: []string{}, Side: x.Side, Passed: x.Passed}
			if g := w.groups[place{e.Subject.ID, e.Stage, x.Slot, e.Visit}]; g != nil {
				u.Readings = texts(g.list, w.dim(x.Slot))
				if g.said != nil {
					u.Target = g.said.Target
				}
			}
			w.out.Unsure = append(w.out.Unsure, u)
		}
	case bench.Skipped:
		l := LeftOut{Stage: w.name(e.Stage), What: x.What, Why: x.Why}
		if x.What == "measurement" {
			l.Title = w.title(x.Slot)
		}
		same := func(o LeftOut) bool {
			return o.Stage == l.Stage && o.What == l.What && o.Title == l.Title && o.Why == l.Why
		}
		w.out.LeftOut, _ = join(w.out.LeftOut, l, who, same, func(o *LeftOut) *Subjects { return &o.Subjects })
	case bench.WaitBegun:
		w.begun[e.Subject.ID] = e
	case bench.WaitEnded:
		w.wait(e, who, x)
	case bench.RuleJudged:
		w.rule(all, at, e, who, x)
	case bench.Chosen:
		w.chosen(e, who, x)
	case bench.NoteAcknowledged:
		w.note(e, x)
	case bench.Remark:
		w.out.Remarks = append(w.out.Remarks, Remark{who, w.name(e.Stage), x.Text})
	}
}

// join puts a subject beside the others of an entry that says the same, or adds
// the entry; at is where it stands.
func join[T any](list []T, x T, who Subjects, same func(T) bool, of func(*T) *Subjects) (out []T, at int) {
	for i := len(list) - 1; i >= 0 && i > len(list)-joinBack; i-- {
		s := of(&list[i])
		if s.Kind == who.Kind && same(list[i]) {
			for _, m := range who.Marks {
				if !slices.Contains(s.Marks, m) {
					s.Marks = append(s.Marks, m)
				}
			}
			return list, i
		}
	}
	*of(&x) = Subjects{who.Kind, slices.Clone(who.Marks)}
	return append(list, x), len(list)
}

// joinBack is how far back an entry that says the same is looked for: as many
// as a large batch has pieces and measurements at a stage.
const joinBack = 400

func (w *walk) name(key string) string {
	if i, ok := w.stages[key]; ok {
		return w.b.Stages[i].Name
	}
	return key
}

func (w *walk) title(slot string) string {
	if i := w.b.SlotOf(slot); i >= 0 {
		return w.b.Slots[i].Title()
	}
	return slot
}

func (w *walk) dim(slot string) *dimension.Dimension {
	return w.b.Slots[w.b.SlotOf(slot)].Dimension
}

// measure is what the recipe asks of a slot at a stage; nil for a reading it
// does not ask for.
func (w *walk) measure(stage, slot string) *recipe.Measure {
	i, ok := w.stages[stage]
	if !ok {
		return nil
	}
	for j := range w.b.Stages[i].Measures {
		if m := &w.b.Stages[i].Measures[j]; w.b.Slots[m.Slot].Name == slot {
			return m
		}
	}
	return nil
}

func (w *walk) reading(e bench.Event, who Subjects, x bench.ReadingTaken) {
	at := place{e.Subject.ID, e.Stage, x.Slot, e.Visit}
	g := w.groups[at]
	if g == nil || x.Repeat == 1 || len(g.list) >= mostRepeats { // after strokes, or taken back, it is read anew
		g = &group{place: at, kind: e.Subject.Kind}
		w.groups[at] = g
		w.order = append(w.order, g)
	}
	g.list, g.typed = append(g.list, x), append(g.typed, text(x, w.dim(x.Slot)))
	g.cause, g.seq = e.Cause, e.Seq
	if x.Said != nil {
		g.said = x.Said
	}
	m := w.measure(e.Stage, x.Slot)
	if m == nil {
		return
	}
	if x.Tool != m.Tool.Name && m.Tool.Name != "" && x.Tool != "" {
		o := Other{Stage: w.name(e.Stage), Title: w.title(x.Slot), Instead: m.Tool.Name, Used: x.Tool}
		same := func(p Other) bool { return p.Stage == o.Stage && p.Title == o.Title && p.Used == o.Used }
		at := 0
		w.out.Other, at = join(w.out.Other, o, who, same, func(p *Other) *Subjects { return &p.Subjects })
		w.out.Other[at].Readings++
	}
	asked := w.b.Stages[w.stages[e.Stage]].Condition
	if asked != dimension.Wet && asked != dimension.Dry {
		asked = w.dim(x.Slot).Condition
	}
	if opposite(string(asked), x.Condition) {
		c := Wet{Stage: w.name(e.Stage), Title: w.title(x.Slot), Was: x.Condition, Asked: string(asked)}
		same := func(p Wet) bool { return p.Stage == c.Stage && p.Title == c.Title && p.Was == c.Was }
		at := 0
		w.out.Wet, at = join(w.out.Wet, c, who, same, func(p *Wet) *Subjects { return &p.Subjects })
		w.out.Wet[at].Readings++
	}
}

func opposite(a, b string) bool {
	wet, dry := string(dimension.Wet), string(dimension.Dry)
	return a == wet && b == dry || a == dry && b == wet
}

// correction puts the reading right that stands.
func (w *walk) correction(e bench.Event, who Subjects, x bench.ValueCorrected) {
	d := w.dim(x.Slot)
	now := bench.ReadingTaken{Text: x.Text, Unit: x.Unit, Bare: x.Bare, Step: x.Step, Q: x.Q}
	w.out.Corrected = append(w.out.Corrected, Corrected{who, w.name(x.At), w.title(x.Slot), x.Was, text(now, d), x.Changes})
	g := w.groups[place{e.Subject.ID, x.At, x.Slot, x.On}]
	if g == nil || x.Repeat < 1 || x.Repeat > len(g.list) {
		return
	}
	r := &g.list[x.Repeat-1]
	r.Text, r.Unit, r.Bare, r.Step, r.Q = x.Text, x.Unit, x.Bare, x.Step, x.Q
	if x.Said != nil {
		g.said = x.Said
	}
}

func (w *walk) wait(e bench.Event, who Subjects, x bench.WaitEnded) {
	begun, ok := w.begun[e.Subject.ID]
	i, known := w.stages[x.Stage]
	delete(w.begun, e.Subject.ID)
	if !ok || !known || w.b.Stages[i].Wait == nil {
		return // a rest that the maker chose
	}
	asked := w.b.Stages[i].Wait
	c := Wait{Stage: w.b.Stages[i].Name, Took: e.At.Sub(begun.At).Milliseconds(), Least: asked.Least, Usual: asked.Usual, Why: x.Why}
	switch {
	case c.Took < 0: // a clock that was set back says nothing of how long it was
		return
	case asked.Least > 0 && c.Took < asked.Least:
		c.AtLeast, c.Asked, c.Short = true, "at least "+asked.LeastText, asked.Least-c.Took
	case asked.Usual > 0 && c.Took < asked.Usual:
		c.Asked, c.Short = "usually "+asked.UsualText, asked.Usual-c.Took
	default:
		return
	}
	const alike = 60_000 // ms: nobody ends the waits of a batch in one moment
	same := func(o Wait) bool {
		return o.Stage == c.Stage && o.AtLeast == c.AtLeast && o.Why == c.Why && o.Took-c.Took < alike && c.Took-o.Took < alike
	}
	w.out.Waits, _ = join(w.out.Waits, c, who, same, func(o *Wait) *Subjects { return &o.Subjects })
}

func (w *walk) rule(all []bench.Event, at int, e bench.Event, who Subjects, x bench.RuleJudged) {
	if len(x.Missing) > 0 {
		w.out.NotJudged++
		return
	}
	if x.Holds {
		return
	}
	if strings.HasPrefix(x.Said, notJudged) {
		w.out.Rules = append(w.out.Rules, Rule{Subjects: who, Stage: w.name(e.Stage), That: x.That, With: x.Inputs, Said: x.Said, NotJudged: true})
		return
	}
	then := "it went on"
	const ahead = 300 // a piece moves right behind its rules
	for i := at + 1; i < min(len(all), at+ahead) && all[i].Cause == e.Cause; i++ {
		f := &all[i]
		m, moved := f.Body.(bench.PieceMoved)
		if !moved || f.Subject != e.Subject {
			continue
		}
		if how := recipe.How(m.How); how != recipe.GoingOn {
			then = bench.Told(*f)
		}
		break
	}
	w.out.Rules = append(w.out.Rules, Rule{Subjects: who, Stage: w.name(e.Stage), That: x.That, With: x.Inputs, Said: x.Said, Then: then})
}

func (w *walk) chosen(e bench.Event, who Subjects, x bench.Chosen) {
	if x.What == "condition" {
		return // it shows in the readings
	}
	o := Other{Stage: w.name(x.At), Instead: x.Instead, Used: x.Name, Unknown: !x.Known}
	same := func(p Other) bool {
		return p.Stage == o.Stage && p.Title == "" && p.Instead == o.Instead && p.Used == o.Used
	}
	w.out.Other, _ = join(w.out.Other, o, who, same, func(p *Other) *Subjects { return &p.Subjects })
}

func (w *walk) note(e bench.Event, x bench.NoteAcknowledged) {
	i, seen := w.notes[x.ID]
	if !seen {
		i = len(w.out.Notes)
		w.notes[x.ID] = i
		w.out.Notes = append(w.out.Notes, Note{ID: x.ID, Signal: x.Signal, Answers: []string{}, Stages: []string{}})
	}
	n := &w.out.Notes[i]
	n.Times++
	const most = 20 // different answers that are shown
	if !slices.Contains(n.Answers, x.Answer) && len(n.Answers) < most {
		n.Answers = append(n.Answers, x.Answer)
	}
	if s := w.name(e.Stage); s != "" && !slices.Contains(n.Stages, s) {
		n.Stages = append(n.Stages, s)
	}
}

// text is a reading as typed, with the unit it was asked in.
func text(r bench.ReadingTaken, d *dimension.Dimension) string {
	s := r.Text
	if r.Bare {
		unit := r.Unit
		if unit == "" && d != nil {
			unit = d.Unit.Name()
		}
		if unit != "" {
			s += " " + unit
		}
	}
	return strings.TrimSpace(s)
}

func texts(all []bench.ReadingTaken, d *dimension.Dimension) []string {
	out := make([]string, len(all))
	for i, r := range all {
		out[i] = text(r, d)
	}
	return out
}

// notJudged is how the bench begins what it says of a rule it left open.
const notJudged = "Not judged:"
