package recipe

import (
	"fmt"
	"strings"

	"canewright/engine/dimension"
	"canewright/engine/quantity"
)

// mostQuoted: so many sources stand in one finding.
const mostQuoted = 3

// usual reports targets that lie, with all their width, outside every value
// the dimension set's sources give, by more than half that width. A player's
// own number wins; it is a remark.
func (c *paperCheck) usual() {
	said := map[*target]bool{}
	values := map[int]published{}
	for _, s := range c.Aims {
		if said[s.Target.raw] || c.full() {
			continue
		}
		said[s.Target.raw] = true
		d := c.Slots[s.Slot].Dimension
		if d.Kind != quantity.Length && d.Kind != quantity.Mass {
			continue // other kinds are published in words and notes
		}
		p, known := values[s.Slot]
		if !known {
			p = publishedOf(d)
			values[s.Slot] = p
		}
		if !p.known {
			continue
		}
		t := s.Target.Tolerance
		slack := int64(0)
		if t.Low.Set && t.High.Set {
			slack = (t.High.Q - t.Low.Q) / 2
		}
		side := ""
		switch {
		case t.High.Set && t.High.Q+slack < p.low:
			side = "below"
		case t.Low.Set && t.Low.Q-slack > p.high:
			side = "above"
		default:
			continue
		}
		c.remark("recipe/unusual", targetPlace(s.Target), "published: "+strings.Join(p.says, "; ")+"; if yours is right, let it stand",
			fmt.Sprintf("%s: %s lies %s every value its sources give", d.Title, t.Limits(), side))
	}
}

type published struct {
	low, high int64 // of every number in every source, whoever says it
	known     bool  // one at least is published
	says      []string
}

func publishedOf(d *dimension.Dimension) published {
	p := published{}
	any := false
	for _, s := range d.Sources {
		has := false
		for _, n := range quantity.Find(s.Says) {
			if n.Value.Kind != d.Kind {
				continue
			}
			if has = true; !any {
				p.low, p.high, any = n.Value.Q, n.Value.Q, true
			}
			p.low, p.high = min(p.low, n.Value.Q), max(p.high, n.Value.Q)
		}
		if has && s.Grade == dimension.Published {
			if p.known = true; len(p.says) < mostQuoted {
				p.says = append(p.says, s.Says+" ("+s.Who+")")
			}
		}
	}
	return p
}
