package bench

import (
	"math"
	"slices"
	"strings"
	"time"

	"canewright/engine/quantity"
	"canewright/engine/recipe"
)

// Sheet is the blade of one piece as it was measured at one stage, against the
// targets in force there. Numbers are in quanta of the dimension's kind, texts
// are ready.
type Sheet struct {
	Piece     string         `json:"piece"`
	Stage     string         `json:"stage"`
	StageKey  string         `json:"stage_key"`
	Visit     int            `json:"visit"` // the last one with a reading
	Condition string         `json:"condition,omitempty"`
	At        time.Time      `json:"at"` // of the newest reading
	Who       string         `json:"who,omitempty"`
	Dimension string         `json:"dimension"`
	Title     string         `json:"title"`
	From      string         `json:"from"`
	Unit      string         `json:"unit"`
	More      string         `json:"more"`
	Less      string         `json:"less"`
	Gauges    []string       `json:"read_with,omitempty"`
	Blades    []string       `json:"blades"`
	Lanes     []string       `json:"lanes"`
	Stations  []SheetStation `json:"stations"` // from the datum on
	Cells     []SheetCell    `json:"cells"`    // by blade, station, lane
	Contrasts []Contrast     `json:"contrasts,omitempty"`
	Elsewhere []string       `json:"elsewhere,omitempty"` // other stages this blade was read at

	kind  quantity.Kind
	unit  quantity.Unit
	step  int64 // last place shown
	knife bool  // a knife takes this off, and cannot put it back

	cutters []string
}

// SheetStation is a distance along the blade.
type SheetStation struct {
	At   int64  `json:"at"` // nm from the datum
	Text string `json:"text"`
}

// SheetCell is one station of one lane of one blade.
type SheetCell struct {
	State SheetState `json:"state"`
	// KnifeOff: at or under the lower limit.
	KnifeOff   bool   `json:"knife_off,omitempty"`
	Reading    string `json:"reading,omitempty"` // the mean of N
	N          int    `json:"n,omitempty"`
	Value      int64  `json:"value,omitempty"`
	Target     string `json:"target,omitempty"` // the nominal, or the limits where there is none
	Limits     string `json:"limits,omitempty"`
	Difference string `json:"difference,omitempty"` // from the nominal; from the limit where there is none
	Diff       int64  `json:"diff,omitempty"`
	Past       string `json:"past,omitempty"` // how far beyond the limit, without a sign
	Beyond     int64  `json:"beyond,omitempty"`
	U          int64  `json:"u,omitempty"` // expanded uncertainty, k = 2
	// Real: the difference is larger than its expanded uncertainty.
	Real    bool  `json:"real"`
	Earlier bool  `json:"earlier,omitempty"` // read at a visit before the sheet's
	Since   int   `json:"since,omitempty"`   // strokes made here since it was read
	Room    int64 `json:"-"`                 // above the lower limit; math.MaxInt64 without one

	visit int
	own   float64 // standard uncertainty without the gauge's own error
	tool  string
}

// SheetState is how a station stands to its target.
type SheetState string

const (
	SheetNotAsked SheetState = ""
	SheetOpen     SheetState = "not read"
	SheetSkipped  SheetState = "left out"
	SheetRead     SheetState = "no target"
	SheetNoise    SheetState = "within noise" // of the target, or of the limits where there is no nominal
	SheetOff      SheetState = "inside"       // the limits, and measurably off the target
	SheetMore     SheetState = "above"
	SheetMaybe    SheetState = "maybe above"
	SheetLess     SheetState = "below"
	SheetMaybeNot SheetState = "maybe below"
)

// Contrast is the difference of two like places of one sheet. The gauge's own
// error is in both and drops out (JCGM 100:2008, 5.2).
type Contrast struct {
	What  string `json:"what"`  // "A − B", "left − right"
	Where string `json:"where"` // "rails, 9 mm"
	Diff  int64  `json:"diff"`
	U     int64  `json:"u"` // expanded uncertainty, k = 2
	Text  string `json:"text"`
	Noise string `json:"noise"`
	Real  bool   `json:"real"`
}

// Cell is the cell of a blade, a station and a lane, by their places in the lists.
func (sh *Sheet) Cell(blade, station, lane int) *SheetCell {
	return &sh.Cells[(blade*len(sh.Stations)+station)*len(sh.Lanes)+lane]
}

// SheetOf makes the sheet of a piece at a stage, by its key or name; "" is the
// stage where the blade was read last. The error is a *Refusal.
func SheetOf(s *State, mark, stage string) (*Sheet, error) {
	p := s.byMark(mark)
	if p == nil {
		return nil, refuse("There are: "+joinRuns(focus{pieces: s.Pieces}.marks())+".", "There is no piece %q in this batch.", clip(mark))
	}
	h := s.history(p)
	at, visited, err := s.sheetStage(h, stage, p)
	if err != nil {
		return nil, err
	}
	last := h.last(func(r *taking) bool { return r.stage == at })
	d := s.b.Slots[last.slot].Dimension
	st := &s.b.Stages[at]
	sh := &Sheet{
		Piece: p.Mark, Stage: st.Name, StageKey: st.Key, Visit: last.visit, Condition: last.final().Condition, At: last.at, Who: last.who,
		Dimension: d.Name, Title: d.Title, From: s.b.Slots[last.slot].Cell.From, More: d.More, Less: d.Less,
		Blades: d.Grid.Blades, Lanes: d.Grid.Lanes, kind: d.Kind, knife: d.More == "thick",
	}
	for _, i := range visited {
		if i != at {
			sh.Elsewhere = append(sh.Elsewhere, s.b.Stages[i].Name)
		}
	}
	sh.unit, sh.step = unitOf(last.final(), d.Unit)
	sh.Unit = sh.unit.Name()
	use := st.Use
	if p.Stage == at {
		use = s.b.Swapped(use, p.Swaps)
	}
	sh.cutters = cutters(use)
	s.fillSheet(sh, h, p, at)
	sh.contrast()
	return sh, nil
}

func unitOf(r ReadingTaken, usual quantity.Unit) (quantity.Unit, int64) {
	if u, ok := quantity.UnitNamed(r.Unit); ok {
		return u, r.Step
	}
	return usual, r.Step
}

// sheetStage finds the stage that is meant, and the stages the blade was read
// at, in recipe order.
func (s *State) sheetStage(h *history, word string, p *Piece) (at int, visited []int, err error) {
	for _, r := range h.rounds {
		if !slices.Contains(visited, r.stage) {
			visited = append(visited, r.stage)
		}
	}
	if len(visited) == 0 {
		return 0, nil, refuse("", "No station of a blade was read yet of %s.", s.called(p))
	}
	if word == "" {
		at = h.last(func(*taking) bool { return true }).stage
		slices.Sort(visited)
		return at, visited, nil
	}
	slices.Sort(visited)
	var names []string
	for _, i := range visited {
		st := &s.b.Stages[i]
		names = append(names, st.Name)
		if strings.EqualFold(st.Key, word) || strings.EqualFold(st.Name, word) {
			return i, visited, nil
		}
	}
	return 0, nil, refuse("It was read at: "+strings.Join(names, ", ")+".", "The blade of %s was not read at a stage %q.", s.called(p), clip(word))
}

func (s *State) fillSheet(sh *Sheet, h *history, p *Piece, at int) {
	st := &s.b.Stages[at]
	mine := func(m *recipe.Measure) bool {
		c := s.b.Slots[m.Slot].Cell
		return c != nil && s.b.Slots[m.Slot].Dimension.Name == sh.Dimension && c.From == sh.From && m.Each.For(p.Number)
	}
	for i := range st.Measures {
		if m := &st.Measures[i]; mine(m) {
			c := s.b.Slots[m.Slot].Cell
			if !slices.ContainsFunc(sh.Stations, func(x SheetStation) bool { return x.At == c.At }) {
				sh.Stations = append(sh.Stations, SheetStation{c.At, c.AtText})
			}
		}
	}
	slices.SortFunc(sh.Stations, func(a, b SheetStation) int {
		switch {
		case a.At < b.At:
			return -1
		case a.At > b.At:
			return 1
		}
		return 0
	})
	sh.Cells = make([]SheetCell, len(sh.Blades)*len(sh.Stations)*len(sh.Lanes))
	for i := range st.Measures {
		m := &st.Measures[i]
		if !mine(m) {
			continue
		}
		c := s.b.Slots[m.Slot].Cell
		station := slices.IndexFunc(sh.Stations, func(x SheetStation) bool { return x.At == c.At })
		cell := sh.Cell(place(sh.Blades, c.Blade), station, place(sh.Lanes, c.Lane))
		cell.State, cell.Room = SheetOpen, math.MaxInt64
		if m.Target != nil {
			sh.aim(cell, m.Target.Tolerance)
		}
		r := h.last(func(r *taking) bool { return r.stage == at && r.slot == m.Slot })
		if r == nil {
			if h.skipped[visitOf{m.Slot, at, sh.Visit}] {
				cell.State = SheetSkipped
			}
			continue
		}
		cell.visit, cell.Earlier, cell.Since = r.visit, r.visit < sh.Visit, r.since
		sh.judge(cell, r, m, s)
		if name := r.final().Tool; name != "" && !slices.Contains(sh.Gauges, name) {
			sh.Gauges = append(sh.Gauges, name)
		}
	}
}

// aim writes down what a cell should be.
func (sh *Sheet) aim(c *SheetCell, t quantity.Tolerance) {
	c.Limits = t.LimitsIn(sh.unit)
	c.Target = c.Limits
	if t.Nominal.Set {
		c.Target = sh.number(t.Nominal.Q)
	}
}

// judge compares what was read with the target. The side is that of the exact
// mean; what is real is what the expanded uncertainty (k = 2) does not explain.
func (sh *Sheet) judge(c *SheetCell, r *taking, m *recipe.Measure, s *State) {
	u, own := r.uncertainty(s.b)
	sum, n := r.sum()
	mean := float64(sum) / float64(n)
	c.N, c.Value, c.U, c.own, c.tool = n, round(mean), round(2*u), own, r.final().Tool
	c.Reading = sh.number(c.Value)
	if c.State = SheetRead; m.Target == nil {
		return
	}
	t := m.Target.Tolerance
	side := t.SideOfSum(sum, n)
	beyond := 0.0
	switch side {
	case quantity.Above:
		beyond = mean - float64(t.High.Q)
	case quantity.Below:
		beyond = mean - float64(t.Low.Q)
	}
	diff := beyond
	if t.Nominal.Set {
		diff = mean - float64(t.Nominal.Q)
	}
	if t.Low.Set {
		c.Room = round(mean - float64(t.Low.Q))
		c.KnifeOff = sh.knife && (side == quantity.Below || t.OnLimit(sum, n) && c.Room == 0)
	}
	c.Diff, c.Beyond, c.Real = round(diff), round(beyond), math.Abs(diff) > 2*u
	past := math.Abs(beyond) > 2*u
	switch {
	case side == quantity.Above && past:
		c.State = SheetMore
	case side == quantity.Above:
		c.State = SheetMaybe
	case side == quantity.Below && past:
		c.State = SheetLess
	case side == quantity.Below:
		c.State = SheetMaybeNot
	case c.Real:
		c.State = SheetOff
	default:
		c.State = SheetNoise
	}
	if c.State != SheetNoise {
		c.Difference = sh.signed(c.Diff)
	}
	if c.Beyond != 0 {
		c.Past = sh.amount(c.Beyond)
	}
}

// contrast compares like places: the blades where there are two, and lanes
// whose names differ by left and right. Readings of different visits are not
// compared: cane may have come off between them.
func (sh *Sheet) contrast() {
	if len(sh.Blades) == 2 {
		for l, lane := range sh.Lanes {
			for i, station := range sh.Stations {
				sh.compare(sh.Cell(0, i, l), sh.Cell(1, i, l), sh.Blades[0]+" − "+sh.Blades[1], lane+", "+station.Text)
			}
		}
	}
	for l, lane := range sh.Lanes {
		rest, isLeft := strings.CutPrefix(lane, "left ")
		other := slices.Index(sh.Lanes, "right "+rest)
		if !isLeft || other < 0 {
			continue
		}
		for b, blade := range sh.Blades {
			for i, station := range sh.Stations {
				sh.compare(sh.Cell(b, i, l), sh.Cell(b, i, other), "left − right", "blade "+blade+", "+rest+", "+station.Text)
			}
		}
	}
}

func (sh *Sheet) compare(a, b *SheetCell, what, where string) {
	if a.N == 0 || b.N == 0 || a.visit != b.visit || a.Since+b.Since > 0 {
		return
	}
	ua, ub := a.own, b.own
	if a.tool != b.tool || a.tool == "" || a.N == 1 || b.N == 1 { // of one reading the scatter is not known: the whole of it stands in
		ua, ub = float64(a.U)/2, float64(b.U)/2 // two gauges: nothing drops out
	}
	noise := 2 * math.Hypot(ua, ub)
	c := Contrast{What: what, Where: where, Diff: a.Value - b.Value, U: round(noise)}
	c.Real = math.Abs(float64(c.Diff)) > noise
	c.Text, c.Noise = sh.signed(c.Diff), sh.finer(c.U)
	sh.Contrasts = append(sh.Contrasts, c)
}

// number is a value in the sheet's unit, without its name.
func (sh *Sheet) number(q int64) string {
	return quantity.Number(quantity.Value{Kind: sh.kind, Q: q}, sh.unit, sh.step)
}

// amount is a difference without its sign, with more places where it would
// read as nought.
func (sh *Sheet) amount(q int64) string {
	v := quantity.Value{Kind: sh.kind.Difference(), Q: abs(q)}
	unit := sh.unit
	if sh.kind == quantity.Pitch {
		unit = quantity.Main(quantity.Interval)
	}
	step := max(sh.step, 1)
	text := quantity.Number(v, unit, step)
	for strings.Trim(text, "0.") == "" && v.Q > 0 && step > 1 {
		step = max(step/10, 1)
		text = quantity.Number(v, unit, step)
	}
	return text
}

// finer is an amount to a tenth of the last place: a noise of 0.013 is not 0.01.
func (sh *Sheet) finer(q int64) string {
	fine := *sh
	fine.step = max(sh.step/10, 1)
	return fine.amount(q)
}

func (sh *Sheet) signed(q int64) string {
	switch text := sh.amount(q); {
	case q > 0:
		return "+" + text
	case q < 0:
		return "−" + text
	default:
		return text
	}
}
