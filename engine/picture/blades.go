package picture

// Blades is the measured blades of one reed, side by side.
type Blades struct {
	Title    string
	Under    []string // lines under the title
	From     string   // what stations are counted from; "tip" puts it on top
	Unit     string   // of the numbers
	Less     string   // the word for too little: "thin"
	More     string   // the word for too much: "thick"
	Names    []string // "A", "B"
	Lanes    []string // across a blade, from the left; drawn equally wide
	Stations []Station
	Cells    []Cell   // by blade, station, lane
	Notes    []string // sentences below the picture
}

// Station is a distance along the blade.
type Station struct {
	At   int64 // nm from the datum
	Text string
}

// Cell is what is written at one place. Main is how far it is off, Small what
// was read.
type Cell struct {
	Mark        Mark
	Main, Small string
}

// Mark says how a place stands to its target.
type Mark int

const (
	NotAsked  Mark = iota // nothing is drawn
	Blank                 // within the noise: an empty box
	Inside                // inside its limits, and measurably off its target
	Over                  // above its limit
	MaybeOver             // above it, and perhaps not
	Under                 // below its limit
	MaybeUnder
	KnifeOff // at or under the limit below which nothing may come off
	Unread
	NoTarget
)

// drawn is the order of the legend.
func drawn() []Mark {
	return []Mark{Over, MaybeOver, Inside, Blank, KnifeOff, Under, MaybeUnder, Unread, NoTarget}
}

func (b Blades) meaning(m Mark) string {
	switch m {
	case Over:
		return "too " + b.More
	case MaybeOver:
		return "maybe too " + b.More
	case Inside:
		return "inside, off the target"
	case Blank:
		return "within what you can measure"
	case KnifeOff:
		return "keep the knife off here"
	case Under:
		return "too " + b.Less
	case MaybeUnder:
		return "maybe too " + b.Less
	case Unread:
		return "not read"
	}
	return "no target here"
}

func (b Blades) cell(blade, station, lane int) Cell {
	return b.Cells[(blade*len(b.Stations)+station)*len(b.Lanes)+lane]
}

func (b Blades) uses(m Mark) bool {
	for _, c := range b.Cells {
		if c.Mark == m {
			return true
		}
	}
	return false
}
