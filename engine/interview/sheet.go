package interview

import (
	"strings"

	"canewright/engine/dimension"
	"canewright/engine/quantity"
)

// sheet is what is known of a paper sheet.
type sheet struct {
	instrument Instrument
	set        *dimension.Set
	title      string
	credit     string
	remarks    []string
	stages     []*stage
	noStages   bool // Enter was typed: it does not say
	noTitle    bool
}

type stage struct {
	name      string
	batch     bool
	tools     []string
	materials []string
	asked     string // an open question about the tools
	do        []string
	numbers   []*number
	condition string
	wetOrDry  bool // open: it does not say, and it matters
	wait      *wait
	becomes   string
}

// wait as it is written into the recipe; empty parts are left out.
type wait struct{ least, usual, most, until string }

// number is one number of the sheet.
type number struct {
	dim       *dimension.Dimension
	paper     string // as typed; "" open: it is not on the sheet
	first     string // the column that counts, in the notation of recipes
	second    string
	limits    bool   // first is a tolerance by itself
	tolerance string // behind first; "" open
	suggest   string // what others take
	suggested string // who takes it
	other     string // the end the paper counts from, where that is another
	length    string // from there to the dimension's own datum; "" open
	away      bool   // counted away from the datum, beyond the other end
	converted string // the number from the dimension's own datum, with its tolerance
}

// grid: a number a station, which is written as rows in the file.
func (n *number) grid() bool { return n.dim.Grid != nil }

// target is what the recipe asks for; "" while something is open.
func (n *number) target() string {
	switch {
	case n.paper == "" || n.grid():
		return ""
	case n.other != "":
		return n.converted
	case n.limits:
		return n.both(n.first)
	case n.tolerance == "":
		return ""
	}
	return n.both(withTolerance(n.first, n.tolerance))
}

func (n *number) both(first string) string {
	if n.second == "" {
		return first
	}
	return first + " (" + n.second + ")"
}

// withTolerance puts a number and its tolerance together: 27 ± 0.5 mm.
func withTolerance(first, tolerance string) string {
	if tolerance == "at least" || tolerance == "at most" {
		return tolerance + " " + first
	}
	if i := strings.LastIndexByte(first, ' '); i > 0 {
		if _, is := quantity.UnitNamed(first[i+1:]); is && strings.HasSuffix(tolerance, first[i:]) {
			return first[:i] + " " + tolerance
		}
	}
	return first + " " + tolerance
}

// question is what is open about a number, in words; "" if nothing is.
func (n *number) question() string {
	title := n.dim.Title
	switch {
	case n.grid():
		return title + ": which thickness at which place? write its rows in the file"
	case n.paper == "":
		return title + ": how much? the sheet gives no number"
	case n.other != "" && n.length == "":
		return title + ", " + n.paper + ": the sheet counts from " + n.other + "; how far is that from " + n.dim.Datum + "?"
	case n.target() == "":
		return title + ", " + n.paper + ": how far may it be off? the sheet gives no tolerance"
	}
	return ""
}

// open lists the questions that are left, in the order of the sheet.
func (s *sheet) open() []string {
	var out []string
	if s.noTitle {
		out = append(out, "what is the sheet called?")
	}
	if s.noStages {
		out = append(out, "which stages are there, and in which order?")
	}
	for _, st := range s.stages {
		for _, q := range st.open() {
			out = append(out, st.name+": "+q)
		}
	}
	return out
}

func (st *stage) open() []string {
	var out []string
	if st.asked != "" {
		out = append(out, st.asked)
	}
	if st.wetOrDry {
		out = append(out, "is the cane wet or dry when it is measured?")
	}
	for _, n := range st.numbers {
		if q := n.question(); q != "" {
			out = append(out, q)
		}
	}
	return out
}

const untitled = "Reed from a paper sheet"

// id is made of the title: small letters, digits and hyphens.
func (s *sheet) id() string {
	var b strings.Builder
	gap := false
	for _, r := range strings.ToLower(s.title) {
		if r == '\'' || r == '’' {
			continue // a teacher's sheet is teachers-sheet
		}
		letter := r >= 'a' && r <= 'z'
		if !letter && (r < '0' || r > '9') {
			gap = b.Len() > 0
			continue
		}
		if b.Len() == 0 && !letter {
			b.WriteString("sheet-")
		}
		if gap {
			b.WriteByte('-')
			gap = false
		}
		if b.WriteRune(r); b.Len() >= 48 {
			break
		}
	}
	if b.Len() == 0 {
		return "from-a-sheet"
	}
	return b.String()
}
