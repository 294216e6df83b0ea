package bench

import (
	"fmt"
	"maps"
	"slices"
	"time"

	"canewright/engine/quantity"
	"canewright/engine/recipe"
)

// Place is where a piece is, beside its stage.
type Place string

const (
	AtWork   Place = "at work"
	InWait   Place = "waiting" // in the wait of its stage
	AtRest   Place = "resting" // sent to rest by an answer; comes back to the same stage
	Aside    Place = "set aside"
	Thrown   Place = "thrown away"
	Finished Place = "finished"
)

// Held is a value a piece has, settled at a stage.
type Held struct {
	Sum   int64
	N     int
	Stage int // where it was settled
	Visit int
	// Where it was read: a kept reading is of an earlier visit.
	ReadStage, ReadVisit int
}

// Read are the readings of one slot at the visit it was last read at.
type Read struct {
	Stage, Visit int
	List         []ReadingTaken
	Struck       bool // strokes were made there since
}

// Piece is one piece of cane, or one tube, on its way. The exported fields are
// its state; nothing else is.
type Piece struct {
	Kind      string // "piece" or "tube"
	Mark      string
	Number    int    // of its kind
	Tube      string // the tube it was split from; "" if none is known
	Stage     int    // index in the recipe; len(Stages) when finished
	Visit     int
	Place     Place
	Since     time.Time
	Moved     bool // it came here by an answer
	Condition recipe.Condition
	Held      map[int]Held // by slot: what rules may use
	Open      map[int][]ReadingTaken
	Closed    map[int]string // slots settled ("inside", "above", "below", "") or skipped ("skipped") at this visit
	Last      map[int]Read   // by slot: what was read last, at whatever visit
	Looked    bool
	Ruled     bool
	Worked    bool  // the stage's work is done or skipped
	Put       bool  // it was put away in the middle of its visit, by hand
	Was       Place // where it was then
	WasSince  time.Time
	Pieces    int              // a tube's pieces, once it is split
	Swaps     []recipe.Swap    // what is really used at this visit
	Really    recipe.Condition // what the cane really is at this stage, as said; "" for as the recipe has it
	Symptoms  []string         // what is wrong with it, as said last
	Tried     []Tried          // what was tried against it
	From      string           // how it came to its first stage: "" from the beginning, else the stage key
	How       string
	Do, Why   string         // of the last move
	Visits    map[int]int    // by stage
	Returns   map[string]int // ways back taken: "from>to"
}

// State is the fold of a batch's events.
type State struct {
	Pieces  []*Piece
	Session string
	Left    bool // the session was closed on purpose
	LastAt  time.Time
	Last    uint64
	Acks    map[string]bool
	Touched map[int]bool // stages that had an event in this session
	Coarse  map[int]bool // stages where "this gauge cannot tell" was said in this session
	Extra   recipe.Use   // what was taken in hand in this session beside what the stages list
	Done    bool

	b      *recipe.Bound
	keys   map[string]int
	at     map[string]int // index in Pieces, by mark
	events []Event
	taken  map[uint64]bool
}

// Fold folds events from the start.
func Fold(b *recipe.Bound, evs []Event) (*State, error) {
	s := &State{b: b, keys: map[string]int{}}
	for i, st := range b.Stages {
		s.keys[st.Key] = i
	}
	s.reset()
	s.taken = map[uint64]bool{}
	for _, e := range evs {
		if t, ok := e.Body.(AnswerTakenBack); ok {
			s.taken[t.Cause] = true
		}
	}
	for i, e := range evs {
		if want := uint64(i + 1); e.Seq != want {
			return nil, fmt.Errorf("fold batch: event %d stands where %d should be", e.Seq, want)
		}
		if err := s.step(e); err != nil {
			return nil, err
		}
	}
	s.events = slices.Clone(evs)
	return s, nil
}

// Apply folds further events into the state. After an error the state is no
// longer good.
func (s *State) Apply(evs []Event) error {
	for _, e := range evs {
		if t, ok := e.Body.(AnswerTakenBack); ok && !s.taken[t.Cause] {
			all := append(s.events, evs...)
			fresh, err := Fold(s.b, all)
			if err != nil {
				return err
			}
			*s = *fresh
			return nil
		}
	}
	for _, e := range evs {
		if e.Seq != s.Last+1 {
			return fmt.Errorf("fold batch: event %d stands where %d should be", e.Seq, s.Last+1)
		}
		if err := s.step(e); err != nil {
			return err
		}
		s.events = append(s.events, e)
	}
	return nil
}

func (s *State) reset() {
	s.Pieces, s.Session, s.Left, s.Last, s.Done = nil, "", false, 0, false
	s.at, s.Extra = map[string]int{}, recipe.Use{}
	s.Acks, s.Touched, s.Coarse = map[string]bool{}, map[int]bool{}, map[int]bool{}
}

// Events are all events folded so far; do not change them.
func (s *State) Events() []Event { return s.events }

// TakenBack reports whether the events of a cause were taken back.
func (s *State) TakenBack(cause uint64) bool { return s.taken[cause] }

// Piece finds a piece by its mark.
func (s *State) Piece(mark string) *Piece {
	if i, ok := s.at[mark]; ok {
		return s.Pieces[i]
	}
	return nil
}

// Evening is all that was taken in hand in this session, in recipe order.
func (s *State) Evening() recipe.Use {
	var u recipe.Use
	for _, i := range slices.Sorted(maps.Keys(s.Touched)) {
		u = u.With(s.b.Stages[i].Use)
	}
	return u.With(s.Extra)
}

func (s *State) step(e Event) error {
	s.Last, s.LastAt = e.Seq, e.Entered
	if s.taken[e.Cause] {
		return nil
	}
	stage, known := s.keys[e.Stage]
	if e.Stage != "" && !known {
		return fmt.Errorf("fold batch: event %d is at stage %q, which the recipe does not have", e.Seq, e.Stage)
	}
	if known {
		switch e.Body.(type) {
		case NoteAcknowledged:
		default:
			s.Touched[stage] = true
		}
	}
	for _, p := range s.about(e) {
		s.piece(p, stage, e)
	}
	switch body := e.Body.(type) {
	case PieceAdded:
		s.add(e, body)
	case SessionOpened:
		s.Session, s.Left = body.ID, false
		s.Touched, s.Coarse, s.Extra = map[int]bool{}, map[int]bool{}, recipe.Use{}
	case Chosen:
		if body.What != "condition" {
			more, _ := s.b.Named(body.Name, body.What == "material")
			s.Extra = s.Extra.With(more)
		}
	case SessionClosed:
		s.Left = true
	case NoteAcknowledged:
		s.Acks[ackKey(e.Session, body.ID, body.Revision)] = true
		s.Acks[ackAny(e.Session, body.ID)] = true
		s.Acks[ackHere(e.Session, body.ID, body.Revision, e.Stage, body.Piece, e.Visit)] = true
	case BatchClosed:
		s.Done = true
	}
	return nil
}

// about lists the pieces an event of a piece, or of all pieces at a stage, is about.
func (s *State) about(e Event) []*Piece {
	if e.Subject.Whole() {
		return nil
	}
	if p := s.Piece(e.Subject.ID); p != nil {
		return []*Piece{p}
	}
	return nil
}

func (s *State) piece(p *Piece, stage int, e Event) {
	switch body := e.Body.(type) {
	case ReadingTaken:
		i := s.b.SlotOf(body.Slot)
		p.Open[i] = append(p.Open[i], body)
		last := p.Last[i]
		if last.Stage != stage || last.Visit != p.Visit || last.Struck {
			last = Read{Stage: stage, Visit: p.Visit}
		}
		last.List = append(slices.Clip(last.List), body)
		p.Last[i] = last
		if body.Said != nil && body.Said.Coarse {
			s.Coarse[stage] = true
		}
	case Settled:
		i := s.b.SlotOf(body.Slot)
		p.Held[i] = Held{body.Sum, body.N, stage, p.Visit, p.Last[i].Stage, p.Last[i].Visit}
		p.Closed[i] = body.Side
		if body.Passed {
			p.Closed[i] = passed
		}
	case Skipped:
		switch body.What {
		case "measurement":
			p.Closed[s.b.SlotOf(body.Slot)] = "skipped"
		case "look":
			p.Looked = true
		default:
			p.Worked = true
		}
	case Looked:
		p.Looked = true
	case RuleJudged:
		p.Ruled = true
	case Done:
		p.Worked = true
	case TubeSplit:
		p.Pieces, p.Worked = body.Pieces, true
	case Chosen:
		if body.What == "condition" {
			p.Condition, p.Really = recipe.Condition(body.Name), recipe.Condition(body.Name)
			break
		}
		p.Swaps = append(slices.Clip(p.Swaps), recipe.Swap{Instead: body.Instead, Name: body.Name})
	case StrokesMade:
		s.struck(p, body.Where)
	case ValueCorrected:
		s.corrected(p, body)
		for _, o := range s.Pieces {
			if p.Kind == ofTube && o.Tube == p.Mark {
				s.corrected(o, body) // they inherited the reading
			}
		}
	case SymptomsNoted:
		p.Symptoms = body.Symptoms
	case RemedyTried:
		p.Tried = append(slices.Clip(p.Tried), Tried{Name: body.Name})
		s.worked(p, body.Name)
	case RemedyJudged:
		p.Tried = slices.Clone(p.Tried)
		for i := len(p.Tried) - 1; i >= 0; i-- {
			if p.Tried[i].Name == body.Name {
				p.Tried[i].Helped = body.Helped
				break
			}
		}
	case WaitBegun:
		p.Place, p.Since, p.Moved = InWait, e.At, true
	case WaitEnded:
		p.Place, p.Since, p.Moved = AtWork, e.At, true
	case PieceMoved:
		switch {
		case body.How == broughtBack && p.Put:
			p.Place, p.Since, p.How, p.Do, p.Why, p.Put = p.Was, p.WasSince, body.How, "", "", false
			return // it goes on where it was
		case recipe.How(body.How) == recipe.SetAside && e.Stage == "":
			p.Put, p.Was, p.WasSince = true, p.Place, p.Since
		}
		s.moved(p, body, e.At)
	}
}

func (s *State) moved(p *Piece, m PieceMoved, at time.Time) {
	from := p.Stage
	p.How, p.Do, p.Why, p.Since, p.Moved = m.How, m.Do, m.Why, at, true
	if recipe.How(m.How) == recipe.GoingOn {
		st := s.b.Stages[from]
		if st.Becomes != "" {
			p.Condition = st.Becomes
		}
	}
	switch recipe.How(m.How) {
	case recipe.SetAside:
		p.Place = Aside
		return
	case recipe.ThrownAway:
		p.Place = Thrown
		return
	case recipe.Resting:
		p.Place = AtRest
		return
	}
	p.Put = false
	p.Place = AtWork
	to, ok := s.keys[m.To]
	if !ok {
		p.Stage, p.Place = len(s.b.Stages), Finished
		return
	}
	if to <= from && recipe.How(m.How) != recipe.GoingOn && m.How != broughtBack {
		// What was measured there or later belongs to an earlier visit now.
		for slot, h := range p.Held {
			if h.Stage >= to {
				delete(p.Held, slot)
			}
		}
		if to < from {
			p.Returns[returnKey(s.b.Stages[from].Key, m.To)]++
		}
	}
	// What a stage takes off is not measured from its beginning; what is put on
	// again and measured there counts.
	for _, slot := range s.b.Stages[to].TakesOff {
		delete(p.Held, slot)
	}
	p.Stage = to
	p.Visits[to]++
	p.Visit = p.Visits[to]
	p.Open, p.Closed = map[int][]ReadingTaken{}, map[int]string{}
	p.Looked, p.Worked, p.Ruled = false, false, false
	if to != from {
		p.Swaps, p.Really = nil, ""
	}
}

// struck marks the stations that strokes may have touched, by the words of
// where they were made; where those name none, all. Readings of them that were
// not settled yet are of the blade as it was.
func (s *State) struck(p *Piece, where string) {
	for slot, last := range p.Last {
		cell := s.b.Slots[slot].Cell
		if cell == nil {
			continue
		}
		grid := s.b.Slots[slot].Dimension.Grid
		at := whereOn(grid.Blades, grid.Lanes, where)
		if len(at.blades) > 0 && !slices.Contains(at.blades, cell.Blade) || len(at.lanes) > 0 && !slices.Contains(at.lanes, cell.Lane) {
			continue
		}
		if at.station != "" && s.hasStation(slot, at.station) && bareStation(cell.AtText) != at.station {
			continue // a place between stations may have touched its neighbours
		}
		last.Struck = true
		p.Last[slot] = last
		delete(p.Open, slot)
	}
}

func (s *State) hasStation(slot int, station string) bool {
	return slices.ContainsFunc(s.b.Slots, func(o recipe.Slot) bool {
		return o.Cell != nil && o.Dimension == s.b.Slots[slot].Dimension && bareStation(o.Cell.AtText) == station
	})
}

// worked marks what a remedy takes off as touched: it is measured before the
// next one.
func (s *State) worked(p *Piece, name string) {
	for i := range s.b.Remedies {
		r := &s.b.Remedies[i]
		if r.Name != name {
			continue
		}
		for _, part := range r.Takes {
			for slot, last := range p.Last {
				if s.b.Covers(part, slot) {
					last.Struck = true
					p.Last[slot] = last
				}
			}
		}
	}
}

// add puts a new piece or tube at its first stage.
func (s *State) add(e Event, body PieceAdded) {
	p := &Piece{
		Kind: e.Subject.Kind, Mark: body.Mark, Number: body.Number, Tube: body.Tube, Place: AtWork, Since: e.At, Visit: 1, From: body.At,
		Held: map[int]Held{}, Open: map[int][]ReadingTaken{}, Closed: map[int]string{}, Last: map[int]Read{},
		Visits: map[int]int{}, Returns: map[string]int{},
	}
	if tube := s.Piece(body.Tube); tube != nil {
		maps.Copy(p.Held, tube.Held)
		maps.Copy(p.Last, tube.Last)
		p.Condition = tube.Condition
	}
	first, begun := s.keys[body.At]
	if !begun && p.Kind == ofPiece {
		first = s.b.Split + 1
	}
	p.Stage = s.next(p, first)
	if begun { // what it became on the way here
		for _, st := range s.b.Stages[:first] {
			if st.Becomes != "" {
				p.Condition = st.Becomes
			}
		}
	}
	p.Visits[p.Stage] = 1
	if p.Stage == len(s.b.Stages) {
		p.Place = Finished
	}
	s.at[p.Mark] = len(s.Pieces)
	s.Pieces = append(s.Pieces, p)
}

// takes reports whether a stage is for a piece: tubes have theirs up to the
// split, pieces theirs behind it.
func takes(st *recipe.Stage, p *Piece) bool {
	return st.Tube == (p.Kind == ofTube) && st.Each.For(p.Number)
}

// next is the first stage from a place on that is for the piece.
func (s *State) next(p *Piece, from int) int {
	for from < len(s.b.Stages) && !takes(&s.b.Stages[from], p) {
		from++
	}
	return from
}

// corrected puts a value right wherever the piece still has it.
func (s *State) corrected(p *Piece, c ValueCorrected) {
	i, stage := s.b.SlotOf(c.Slot), s.keys[c.At]
	last := p.Last[i]
	if last.Stage != stage || last.Visit != c.On || c.Repeat < 1 || c.Repeat > len(last.List) {
		return // it was read again since
	}
	was := last.List[c.Repeat-1]
	now := was
	now.Text, now.Unit, now.Bare, now.Step, now.Q = c.Text, c.Unit, c.Bare, c.Step, c.Q
	last.List = slices.Clone(last.List)
	last.List[c.Repeat-1] = now
	if n := len(last.List); c.Said != nil {
		last.List[n-1].Said = c.Said
	}
	p.Last[i] = last
	here := p.Stage == stage && p.Visit == c.On && p.Place != Finished
	if _, open := p.Open[i]; open && here {
		p.Open[i] = slices.Clone(last.List)
	}
	h, held := p.Held[i]
	if held && h.ReadStage == stage && h.ReadVisit == c.On {
		h.Sum += now.Q - was.Q
		p.Held[i] = h
		here = here || p.Place != Finished && h.Stage == p.Stage && h.Visit == p.Visit
	}
	if side, closed := p.Closed[i]; closed && here && side != "skipped" && side != passed && c.Said != nil {
		p.Closed[i] = c.Said.Side
	}
}

// passed closes a measurement that the player took as right.
const passed = "passed"

const broughtBack = "brought back"

func returnKey(from, to string) string { return from + " > " + to }

// Values are what formulas may use of a piece: settings and what it holds.
func (s *State) Values(p *Piece) (values []float64, known []bool) {
	values, known = make([]float64, len(s.b.Slots)), make([]bool, len(s.b.Slots))
	for _, set := range s.b.Settings {
		values[set.Slot], known[set.Slot] = set.Value.Value.Float(), true
	}
	for slot, h := range p.Held {
		kind := s.b.Slots[slot].Dimension.Kind
		if h.N == 1 {
			values[slot] = quantity.Value{Kind: kind, Q: h.Sum}.Float()
		} else {
			values[slot] = quantity.Value{Kind: kind, Q: h.Sum}.Float() / float64(h.N)
		}
		known[slot] = true
	}
	s.b.Work(values, known)
	return values, known
}

func (p *Piece) clone() *Piece {
	c := *p
	c.Held, c.Open, c.Closed = maps.Clone(p.Held), maps.Clone(p.Open), maps.Clone(p.Closed)
	c.Visits, c.Returns, c.Last = maps.Clone(p.Visits), maps.Clone(p.Returns), maps.Clone(p.Last)
	for k, v := range c.Open {
		c.Open[k] = slices.Clone(v)
	}
	return &c
}

// scratch is a copy of the state that may be stepped without touching s.
func (s *State) scratch() *State {
	c := *s
	c.Pieces = make([]*Piece, len(s.Pieces))
	for i, p := range s.Pieces {
		c.Pieces[i] = p.clone()
	}
	c.Acks, c.Touched, c.Coarse = maps.Clone(s.Acks), maps.Clone(s.Touched), maps.Clone(s.Coarse)
	c.at = maps.Clone(s.at)
	return &c
}
