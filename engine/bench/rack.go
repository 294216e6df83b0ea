package bench

import (
	"fmt"
	"time"
)

// Rack lists where each piece is and since when: "piece 2: ream, waiting, 3 h ago".
func Rack(s *State, now time.Time) []string {
	var out []string
	for _, p := range s.Pieces {
		line := "piece " + p.Mark + ": "
		if p.Place == Finished {
			line += "finished " + Since(p.Since, now)
			out = append(out, line)
			continue
		}
		line += s.b.Stages[p.Stage].Name
		switch p.Place {
		case AtWork:
			line += ", come " + Since(p.Since, now)
		default:
			line += ", " + string(p.Place) + " " + Since(p.Since, now)
		}
		if p.Place == Aside || p.Place == Thrown {
			if p.Why != "" {
				line += fmt.Sprintf(" (%s)", p.Why)
			}
		}
		out = append(out, line)
	}
	return out
}
