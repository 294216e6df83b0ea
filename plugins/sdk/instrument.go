package sdk

// Instrument is one dimension set: all dimensions of one instrument's reed and
// cane.
type Instrument struct {
	ID    string // "bassoon": lower case letters, digits and hyphens
	Title string // "bassoon, German system"
	// A name keeps its meaning within a major version, which recipes ask for
	// ("bassoon 1"). The minor version rises when something is added.
	Major, Minor int
	About        string
	Version      string // the plugin's own, any text
	Contact      string // where its author can be reached, any text
	Dimensions   []Dimension
	Symptoms     []Symptom // what a player may hear, feel or see
	Remedies     []Remedy  // and what helps
	Outline      *Outline  // how its reed is drawn; may be nil
}

// Dimension is a named quantity. Numbers are written as people write them; the
// sdk turns them into whole quanta.
type Dimension struct {
	Name    string // "wire.first"
	Title   string // "first wire": as said at the bench
	Aliases []string
	// Was are names it had before: recipes that use one are read, and their
	// authors are told the new name.
	Was     []string
	Kind    string // "length", "count", "pitch" …: a name of engine/quantity
	Unit    string // of a number typed without one: "mm"; empty for a count, a score and a pitch
	Subject string // "tube", "piece", "staple" or "batch"; empty means piece
	Datum   string // where it is counted from: "the butt"
	// Across: a size across (thickness, width, diameter, opening), which is
	// counted from nowhere and needs no datum.
	Across    bool
	Condition string // "wet" or "dry"; empty means either
	How       string // how it is read
	Tool      string // the tool it is usually read with
	More      string // the word for too much: "thick"
	Less      string // the word for too little: "thin"
	Plausible string // "1.0 .. 1.6 mm"; empty where nothing is known
	Sources   []Source
	Grid      *Grid
	Formula   string // "wire.first - wire.second": worked out, never typed
}

// Source is one statement about a dimension's value and who makes it.
type Source struct {
	Says  string // the value or rule, as the source has it
	Who   string // author or publisher, title, year, where in it; needed when published
	Grade Grade
}

// Grade says how far a number can be leaned on.
type Grade string

const (
	Published      Grade = "published"
	CommonPractice Grade = "common practice"
	FromMemory     Grade = "from memory"
	WorkedOut      Grade = "worked out"
)

// Grid makes a dimension one of stations: distance × lane × blade.
type Grid struct {
	From   []string // what distances may count from: "collar", "tip"
	Lanes  []string // "spine", "channels", "rails"
	Blades []string // "A", "B"
	Short  string   // the name in formulas: "blade" in blade(3 mm, spine, A)
}
