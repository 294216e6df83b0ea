package bench

import (
	"slices"
	"strings"
	"time"

	"canewright/engine/recipe"
)

// Explanation is how the verdicts, rules and advice of one piece came about, to
// be followed with pencil and paper. Numbers are worked out afresh from what was
// recorded; where they differ from what was said then, both are there.
type Explanation struct {
	Piece     string           `json:"piece"`
	Recipe    string           `json:"recipe"`
	Version   int              `json:"version"`
	Pass      float64          `json:"sure_to_pass"`
	Cut       float64          `json:"sure_to_cut"`
	Visits    []ExplainedVisit `json:"visits"`            // the newest first
	Earlier   int              `json:"earlier,omitempty"` // visits of these stages that are left out
	Elsewhere []string         `json:"elsewhere,omitempty"`
}

// ExplainedVisit is one time through a stage.
type ExplainedVisit struct {
	Stage    string      `json:"stage"`
	StageKey string      `json:"stage_key"`
	Visit    int         `json:"visit"`
	Items    []Explained `json:"items"` // as they were said, one after the other

	last uint64
}

// What is explained.
const (
	OfReading    = "verdict"
	OfKept       = "kept"
	OfCorrection = "correction"
	OfDerived    = "derived target"
	OfRule       = "rule"
	OfAdvice     = "advice"
)

// Explained is one verdict, rule or advice.
type Explained struct {
	What      string             `json:"what"`
	Seq       uint64             `json:"seq"`
	At        time.Time          `json:"at"`
	Who       string             `json:"who,omitempty"`
	Title     string             `json:"title"`
	TakenBack bool               `json:"taken_back,omitempty"`
	Corrected []string           `json:"corrected,omitempty"` // later, or by this
	Readings  []ExplainedReading `json:"readings,omitempty"`
	Formulas  []ExplainedFormula `json:"formulas,omitempty"`
	Target    string             `json:"target,omitempty"`
	Limits    string             `json:"limits,omitempty"`
	Budget    []BudgetLine       `json:"budget,omitempty"`
	Figures   []Figure           `json:"figures,omitempty"`
	Working   []string           `json:"working,omitempty"` // the arithmetic, a line a step
	Remedies  []ExplainedRemedy  `json:"remedies,omitempty"`
	Then      Judgement          `json:"then"`          // as it was said
	Now       *Judgement         `json:"now,omitempty"` // worked out afresh
	Differs   []string           `json:"differs,omitempty"`
	Followed  []string           `json:"followed,omitempty"` // what came of it

	cause      uint64
	slot       string
	stage      int
	visit, had int          // visit, and readings it rests on
	rests      map[int]Read // of a rule: what it was judged by
}

// ExplainedReading is a reading as it was typed.
type ExplainedReading struct {
	Text      string    `json:"text"`
	Tool      string    `json:"tool,omitempty"`
	Condition string    `json:"condition,omitempty"`
	At        time.Time `json:"at"`
	Who       string    `json:"who,omitempty"`
	Corrected string    `json:"corrected_from,omitempty"`
}

// ExplainedFormula is a formula, and the same with numbers put in.
type ExplainedFormula struct {
	Name  string `json:"name,omitempty"` // of what it yields; "" for a rule
	Text  string `json:"text"`
	Shown string `json:"shown"`
	Value string `json:"value,omitempty"`
}

// Figure is a number that was worked out. Freedom is left out where it has no
// end: JSON knows no infinity.
type Figure struct {
	Name  string  `json:"name"`
	Value float64 `json:"value"`
	Unit  string  `json:"unit,omitempty"`
}

// Judgement is a side and how sure it is.
type Judgement struct {
	Side        string  `json:"side,omitempty"`
	Probability float64 `json:"probability"`
	Sure        bool    `json:"sure"`
	Sentence    string  `json:"sentence,omitempty"`
	Advice      string  `json:"advice,omitempty"`
}

// explainer goes through the events of a batch once more, so that each verdict
// is worked out from what was known when it was said.
type explainer struct {
	end, then *State // as it is, as it was
	mark      string
	items     []Explained
	heads     map[string][]Event // readings, by slot
}

// Explain explains a piece at a stage, by its key or name; "" is every stage with
// a verdict. Of each stage the last visit is shown, with all the others too. The
// error is a *Refusal, or that of events that cannot be folded.
func Explain(s *State, mark, stage string, all bool) (*Explanation, error) {
	p := s.byMark(mark)
	if p == nil {
		return nil, refuse("There are: "+joinRuns(focus{pieces: s.Pieces}.marks())+".", "There is no piece %q in this batch.", clip(mark))
	}
	then, err := Fold(s.b, nil)
	if err != nil {
		return nil, err
	}
	x := &explainer{end: s, then: then, mark: p.Mark, heads: map[string][]Event{}}
	for _, e := range s.events {
		if e.Subject.ID == p.Mark && !e.Subject.Whole() {
			x.event(e)
		}
		if r, ok := e.Body.(ReadingTaken); ok && (e.Subject.ID == p.Mark || e.Subject.ID == p.Tube) {
			x.heads[r.Slot] = append(x.heads[r.Slot], e)
		}
		if err := then.Apply([]Event{e}); err != nil {
			return nil, err
		}
	}
	out := &Explanation{Piece: p.Mark, Recipe: s.b.File.ID, Version: s.b.File.Version, Pass: s.b.Sure.Pass, Cut: s.b.Sure.Cut, Visits: []ExplainedVisit{}}
	visits := x.visits()
	at, err := x.wanted(visits, stage, p)
	if err != nil {
		return nil, err
	}
	seen := map[string]bool{}
	for _, v := range visits {
		switch {
		case at >= 0 && s.keys[v.StageKey] != at:
			if !slices.Contains(out.Elsewhere, v.Stage) {
				out.Elsewhere = append(out.Elsewhere, v.Stage)
			}
		case seen[v.StageKey] && !all:
			out.Earlier++
		default:
			seen[v.StageKey] = true
			out.Visits = append(out.Visits, v)
		}
	}
	return out, nil
}

// visits sorts what was explained, the newest first.
func (x *explainer) visits() []ExplainedVisit {
	var out []ExplainedVisit
	for _, it := range x.items {
		it.TakenBack = x.end.taken[it.cause]
		st := ExplainedVisit{Stage: "finished", Visit: it.visit}
		if it.stage < len(x.end.b.Stages) {
			st.Stage, st.StageKey = x.end.b.Stages[it.stage].Name, x.end.b.Stages[it.stage].Key
		}
		i := slices.IndexFunc(out, func(v ExplainedVisit) bool { return v.StageKey == st.StageKey && v.Visit == st.Visit })
		if i < 0 {
			i = len(out)
			out = append(out, st)
		}
		out[i].Items, out[i].last = append(out[i].Items, it), it.Seq
	}
	slices.SortStableFunc(out, func(a, b ExplainedVisit) int {
		if a.last < b.last {
			return 1
		}
		return -1
	})
	return out
}

// wanted is the index of the stage asked for, -1 for all.
func (x *explainer) wanted(visits []ExplainedVisit, stage string, p *Piece) (int, error) {
	var had []string
	for _, v := range visits {
		if !slices.Contains(had, v.Stage) {
			had = append(had, v.Stage)
		}
	}
	if len(had) == 0 {
		return -1, refuse("", "Nothing was judged of %s yet.", x.end.called(p))
	}
	if stage == "" {
		return -1, nil
	}
	for _, v := range visits {
		if strings.EqualFold(v.StageKey, stage) || strings.EqualFold(v.Stage, stage) {
			return x.end.keys[v.StageKey], nil
		}
	}
	return -1, refuse("It was judged at: "+strings.Join(had, ", ")+".", "Nothing was judged of %s at a stage %q.", x.end.called(p), clip(stage))
}

// event explains an event of the piece; then is the state before it.
func (x *explainer) event(e Event) {
	p := x.then.Piece(x.mark)
	if p == nil {
		return
	}
	switch b := e.Body.(type) {
	case ReadingTaken:
		if b.Said != nil {
			x.reading(e, p, b)
		}
	case Settled:
		switch {
		case b.Kept && b.Side != "":
			x.kept(e, p, b)
		case b.Passed || b.Accepted || b.Do != "":
			x.followed(b.Slot, e, func(it *Explained) bool { return it.slot == b.Slot })
		}
	case ValueCorrected:
		x.correction(e, p, b)
	case RuleJudged:
		x.rule(e, p, b)
	case PieceMoved:
		x.followed("", e, func(it *Explained) bool { return it.cause == e.Cause })
	case SymptomsNoted:
		x.symptoms(e, p, b)
	case RemedyTried:
		x.tried(e, p, b)
	case RemedyJudged:
		x.helped(e, p, b)
	}
}

// add puts one more behind the others.
func (x *explainer) add(e Event, stage, visit int, it Explained) {
	it.Seq, it.At, it.Who, it.cause, it.stage, it.visit = e.Seq, e.At, e.Who, e.Cause, stage, visit
	x.items = append(x.items, it)
}

// followed notes what came of the last one that fits.
func (x *explainer) followed(slot string, e Event, fits func(*Explained) bool) {
	for i := len(x.items) - 1; i >= 0; i-- {
		if it := &x.items[i]; fits(it) {
			words := Told(e)
			if s, ok := e.Body.(Settled); ok && s.Do != "" {
				words = strings.TrimPrefix(words+"; "+s.Do, "; ")
			}
			if slot == "" && words != "" || slot != "" {
				it.Followed = append(it.Followed, words)
			}
			return
		}
	}
}

// readings are those of a visit as they were typed, with the newest where it is
// not folded yet.
func (x *explainer) readings(slot int, stage, visit int, list []ReadingTaken, newest ...Event) []ExplainedReading {
	name, kind := x.then.b.Slots[slot].Name, x.then.b.Slots[slot].Dimension.Kind
	var heads []Event
	for _, e := range append(slices.Clip(x.heads[name]), newest...) {
		if stage < len(x.then.b.Stages) && e.Stage == x.then.b.Stages[stage].Key && e.Visit == visit && !x.then.taken[e.Cause] {
			heads = append(heads, e)
		}
	}
	// Of a tube, an earlier piece of this mark would stand before.
	heads = heads[max(0, len(heads)-len(list)):]
	out := make([]ExplainedReading, len(list))
	for i, r := range list {
		out[i] = ExplainedReading{Text: entered(r, kind).String(), Tool: r.Tool, Condition: r.Condition}
		if i < len(heads) {
			out[i].At, out[i].Who = heads[i].At, heads[i].Who
			if was := entered(heads[i].Body.(ReadingTaken), kind).String(); was != out[i].Text {
				out[i].Corrected = was
			}
		}
	}
	return out
}

// stageOf is the index of a stage by its key; the piece's own where it is not
// known.
func (x *explainer) stageOf(key string, p *Piece) int {
	if i, ok := x.then.keys[key]; ok {
		return i
	}
	return p.Stage
}

// decide is what judges at the state as it was.
func (x *explainer) decide() *decider { return &decider{st: x.then, b: x.then.b} }

// measureOf is the measurement of a slot at a stage.
func (x *explainer) measureOf(stage, slot int) *recipe.Measure {
	if stage >= len(x.then.b.Stages) {
		return nil
	}
	return x.decide().measureAt(stage, slot)
}
