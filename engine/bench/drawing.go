package bench

// Line is a number line to draw beside a reading. Places are in quanta of the
// dimension's kind; faces map them to columns and round nothing: labels are
// ready. A mark that is nil is not stated.
type Line struct {
	Low    *Mark  `json:"low,omitempty"`
	Target *Mark  `json:"target,omitempty"`
	High   *Mark  `json:"high,omitempty"`
	Value  *Mark  `json:"value,omitempty"`   // the mean of the readings
	U      int64  `json:"u,omitempty"`       // its standard uncertainty
	ULabel string `json:"u_label,omitempty"` // "± 0.01", the expanded uncertainty (k = 2)
	Side   string `json:"side,omitempty"`    // of Value: inside, below, above
	Sure   bool   `json:"sure,omitempty"`
}

// Mark is a place on a Line and what is written there.
type Mark struct {
	At    int64  `json:"at"`
	Label string `json:"label"`
}

// Grid is a blade being measured station by station.
type Grid struct {
	Title    string     `json:"title"`    // "blade thickness"
	From     string     `json:"from"`     // "collar": where Stations are counted from
	Unit     string     `json:"unit"`     // of the readings
	Blades   []string   `json:"blades"`   // "A", "B"
	Lanes    []string   `json:"lanes"`    // across the blade, in the set's order
	Stations []string   `json:"stations"` // "3 mm", from the datum towards the tip
	Cells    []GridCell `json:"cells"`    // by blade, then station, then lane
}

// Cell is the cell of a blade, a station and a lane, by their places in the lists.
func (g *Grid) Cell(blade, station, lane int) GridCell {
	return g.Cells[(blade*len(g.Stations)+station)*len(g.Lanes)+lane]
}

// GridCell is one station: what was read there, and what of it.
type GridCell struct {
	State  CellState `json:"state,omitempty"`
	Text   string    `json:"text,omitempty"` // the reading as typed
	Target string    `json:"target,omitempty"`
}

// CellState is how a station stands.
type CellState string

const (
	CellNotAsked CellState = ""        // this stage does not ask for it
	CellOpen     CellState = "open"    // still to be measured
	CellNext     CellState = "next"    // the one the question is for
	CellRight    CellState = "right"   // inside
	CellMore     CellState = "more"    // above: too thick
	CellLess     CellState = "less"    // below: too thin
	CellRead     CellState = "read"    // measured, no target
	CellSkipped  CellState = "skipped" // left out
)
