package picture

import "fmt"

// Reed is one reed drawn to scale. Lengths are nm; what is said comes ready.
type Reed struct {
	Title  string
	Under  []string // lines under the title
	From   string   // what the ruler counts from: "the butt"
	Parts  []ReedPart
	Marks  []ReedMark
	Tip    *ReedTip
	Tables []ReedTable // below the picture
	Notes  []string
}

// ReedPart is a piece of the reed, alike on both sides of the middle. Later
// ones lie over earlier ones.
type ReedPart struct {
	Title  string
	Look   string // "bark", "blade", "thread", "staple", "cork"; else plain
	Smooth bool
	Points []ReedPoint // from the bottom up
}

// ReedPoint: the whole width and depth at a distance; Deep is -1 where it is
// not known.
type ReedPoint struct{ At, Width, Deep int64 }

// ReedMark is a line, a wire or a band across.
type ReedMark struct {
	Text    string // "27 mm, first wire"
	As      string // "wire", "band", "cut" (past the edges); else a line
	At      int64
	Middle  int64 // of a line that bends
	Thick   int64 // of a turn of wire; of a band, along the reed
	Turns   int
	Covered bool
}

// ReedTip is the tip from its end.
type ReedTip struct {
	Text                      string
	Width, Opening, Thickness int64
}

// ReedTable says where some of the numbers come from.
type ReedTable struct {
	Head string
	Rows []string
}

// Bounds of what is drawn: beyond them a picture would take long or show
// nothing.
const (
	longestReed = 2_000_000_000 // nm
	mostPieces  = 200           // parts, marks
	mostTurned  = 50
)

func (r *Reed) check() error {
	if len(r.Parts) == 0 || len(r.Parts) > mostPieces || len(r.Marks) > mostPieces {
		return fmt.Errorf("draw a reed: it has %d parts and %d marks; at least 1 part and at most %d of each can be drawn", len(r.Parts), len(r.Marks), mostPieces)
	}
	far := func(all ...int64) bool {
		for _, x := range all {
			if x > longestReed || x < -longestReed {
				return true
			}
		}
		return false
	}
	for _, p := range r.Parts {
		if n := len(p.Points); n < 2 || n > mostPieces || p.Points[0].At == p.Points[n-1].At {
			return fmt.Errorf("draw a reed: %q has no length", p.Title)
		}
		for i, x := range p.Points {
			if i > 0 && x.At < p.Points[i-1].At || x.Width < 0 || x.Deep < -1 || far(x.At, x.Width, x.Deep) {
				return fmt.Errorf("draw a reed: %q cannot be %v mm wide at %v mm", p.Title, mm(x.Width), mm(x.At))
			}
		}
	}
	for _, m := range r.Marks {
		if m.Turns > mostTurned || m.Thick < 0 || far(m.At, m.Middle, m.Thick) {
			return fmt.Errorf("draw a reed: %q cannot be drawn", m.Text)
		}
	}
	if t := r.Tip; t != nil && (t.Width <= 0 || t.Opening < 0 || t.Thickness < 0 || far(t.Width, t.Opening, t.Thickness)) {
		return fmt.Errorf("draw a reed: the tip cannot be %v mm wide and %v mm open", mm(t.Width), mm(t.Opening))
	}
	return nil
}

// sided: every part can be drawn from the side.
func (r *Reed) sided() bool {
	for _, p := range r.Parts {
		for _, x := range p.Points {
			if x.Deep < 0 {
				return false
			}
		}
	}
	return true
}

// extent is how far parts and marks reach, mm: along, and at most across.
func (r *Reed) extent() (low, high, wide, deep float64) {
	low, high = 0, mm(r.Parts[0].Points[0].At) // the datum is always shown
	for _, p := range r.Parts {
		for _, x := range p.Points {
			low, high = min(low, mm(x.At)), max(high, mm(x.At))
			wide, deep = max(wide, mm(x.Width)), max(deep, mm(x.Deep))
		}
	}
	for _, m := range r.Marks {
		half := mm(m.Thick) * float64(max(m.Turns, 1)) / 2
		low, high = min(low, mm(min(m.At, m.Middle))-half), max(high, mm(max(m.At, m.Middle))+half)
		wide, deep = max(wide, r.across(m, false)+2*m.outside()), max(deep, r.across(m, true)+2*m.outside())
	}
	if r.Tip != nil {
		wide = max(wide, mm(r.Tip.Width))
	}
	return low, high, wide, deep
}

// outside is how far a mark stands out of the reed on each side, mm.
func (m ReedMark) outside() float64 {
	if m.As == "wire" && !m.Covered {
		return mm(m.Thick)
	}
	return 0
}
