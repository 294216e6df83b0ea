package bench

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// Finding is a place where the difference from the target is real.
type Finding struct {
	Blade   string     `json:"blade"`
	Lane    string     `json:"lane"`
	Station string     `json:"station"`
	State   SheetState `json:"state"`
	Past    string     `json:"past,omitempty"` // beyond the limit
	Off     string     `json:"off,omitempty"`  // from the target, with its sign
	Earlier bool       `json:"earlier,omitempty"`
	// U is the expanded uncertainty of the reading (k = 2), in quanta.
	U int64 `json:"u"`
	// Want is how much lies over the target (the limit, where there is no nominal)
	// where it is least of the places of this lane that are too thick, Room the
	// least that is left above the lower limit in this lane of this blade, less what the gauge may be wrong by: nobody who takes off less crosses the
	// limit. Both are set where the place is measurably above its upper limit.
	Want int64 `json:"want,omitempty"`
	Room int64 `json:"room,omitempty"`
	// BothWant and BothRoom are the same where strokes fall on all blades alike;
	// zero where another blade has nothing to give at this place.
	BothWant int64 `json:"both_want,omitempty"`
	BothRoom int64 `json:"both_room,omitempty"`

	blade, station, lane int
	past, off            int64
}

// rank puts what is surely wrong first.
func (f Finding) rank() int {
	switch f.State {
	case SheetMore, SheetLess:
		return 0
	case SheetMaybe, SheetMaybeNot:
		return 1
	}
	return 2
}

// Findings are the places that differ from their targets by more than the noise,
// the worst first. Places at or under a lower limit that a knife made are not
// among them: KnifeOff tells those. Places with strokes since are not judged.
func (sh *Sheet) Findings() []Finding {
	var out []Finding
	for b := range sh.Blades {
		for l := range sh.Lanes {
			for i := range sh.Stations {
				c := sh.Cell(b, i, l)
				switch c.State {
				case SheetMore, SheetLess, SheetMaybe, SheetMaybeNot, SheetOff:
				default:
					continue
				}
				if !c.Real || c.KnifeOff || c.Since > 0 {
					continue
				}
				f := Finding{Blade: sh.Blades[b], Lane: sh.Lanes[l], Station: sh.Stations[i].Text, State: c.State, Past: c.Past, Off: c.Difference,
					Earlier: c.Earlier, U: c.U, blade: b, station: i, lane: l, past: abs(c.Beyond), off: abs(c.Diff)}
				if c.State == SheetMore {
					f.Want, f.Room = sh.want(b, l), sh.room(b, l)
					f.BothWant, f.BothRoom = sh.together(i, l)
				}
				out = append(out, f)
			}
		}
	}
	slices.SortStableFunc(out, func(a, b Finding) int {
		return cmp.Or(cmp.Compare(a.rank(), b.rank()), cmp.Compare(b.past, a.past), cmp.Compare(b.off, a.off))
	})
	return out
}

// want is the least that is too much at the places of a lane that are measurably
// above their limit.
func (sh *Sheet) want(blade, lane int) int64 {
	var least int64
	for i, n := 0, 0; i < len(sh.Stations); i++ {
		if c := sh.Cell(blade, i, lane); c.State == SheetMore && c.Since == 0 {
			if n == 0 || c.Diff < least {
				least = c.Diff
			}
			n++
		}
	}
	return least
}

// room is the least that is left above the lower limit in a lane; 0 or less
// where a place of it is not known or has strokes since.
func (sh *Sheet) room(blade, lane int) int64 {
	var least int64
	for i, n := 0, 0; i < len(sh.Stations); i++ {
		c := sh.Cell(blade, i, lane)
		switch {
		case c.State == SheetNotAsked:
			continue
		case c.N == 0 || c.Since > 0:
			return 0
		}
		if left := c.Room - c.U; n == 0 || left < least {
			least = left
		}
		n++
	}
	return least
}

// together is what all blades can give at a place; 0 where one cannot.
func (sh *Sheet) together(station, lane int) (want, room int64) {
	for b := range sh.Blades {
		c := sh.Cell(b, station, lane)
		if c.State != SheetMore || c.Since > 0 {
			return 0, 0
		}
		w, r := sh.want(b, lane), sh.room(b, lane)
		if b == 0 || w < want {
			want = w
		}
		if b == 0 || r < room {
			room = r
		}
	}
	return want, room
}

// handful: more than this nobody keeps in mind with a knife in the hand.
const handful = 5

// Words say the sheet in a few sentences, the worst first. They say how a place
// is, never to cut. strokes adds what is known of strokes to a place; nil adds
// nothing.
func (sh *Sheet) Words(strokes func(Finding) string) []string {
	all := sh.Findings()
	said := all[:min(len(all), handful)]
	var out []string
	var blades []string
	for _, f := range said {
		if !slices.Contains(blades, f.Blade) {
			blades = append(blades, f.Blade)
		}
	}
	for _, b := range blades {
		out = append(out, "Blade "+b+": "+strings.Join(sh.parts(b, said, strokes), "; ")+".")
	}
	off := sh.gather(func(c *SheetCell) bool { return c.KnifeOff })
	if len(off) > 0 {
		out = append(out, "Keep the knife off here, at or under the lower limit: "+strings.Join(off, "; ")+".")
	}
	since := sh.gather(func(c *SheetCell) bool { return c.Since > 0 && !c.KnifeOff })
	if len(since) > 0 {
		out = append(out, "Strokes since it was read, so measure again: "+strings.Join(since, "; ")+".")
	}
	out = append(out, sh.rest(all, said, len(off)+len(since) > 0)...)
	return out
}

// parts says the findings of one blade: places of a lane that are alike in one
// breath, and the strokes once a lane, since they run along it.
func (sh *Sheet) parts(blade string, said []Finding, strokes func(Finding) string) []string {
	type part struct {
		lane, words, strokes string
		at                   []string
	}
	var parts []*part
	told := map[string]bool{}
	for _, f := range said {
		if f.Blade != blade {
			continue
		}
		words := sh.said(f)
		i := slices.IndexFunc(parts, func(p *part) bool { return p.lane == f.Lane && p.words == words })
		if i < 0 {
			i = len(parts)
			parts = append(parts, &part{lane: f.Lane, words: words})
		}
		parts[i].at = append(parts[i].at, f.Station)
		if strokes != nil && !told[f.Lane] {
			parts[i].strokes, told[f.Lane] = strokes(f), true
		}
	}
	var out []string
	for _, p := range parts {
		text := p.lane + " at " + andList(p.at) + " " + p.words
		if p.strokes != "" {
			text += " (" + p.strokes + ")"
		}
		out = append(out, text)
	}
	return out
}

func (sh *Sheet) said(f Finding) string {
	s, over := "", ""
	if sh.Cell(f.blade, f.station, f.lane).Target != sh.Cell(f.blade, f.station, f.lane).Limits {
		over = strings.TrimLeft(f.Off, "+−") + " over the target"
		if strings.HasPrefix(f.Off, "−") {
			over = strings.TrimLeft(f.Off, "+−") + " under the target"
		}
	}
	switch f.State {
	case SheetMore:
		s += "too " + sh.More + " by " + f.Past
	case SheetLess:
		s += "too " + sh.Less + " by " + f.Past
	case SheetMaybe:
		s += "maybe too " + sh.More
	case SheetMaybeNot:
		s += "maybe too " + sh.Less
	default:
		s += "inside"
	}
	if over != "" {
		s += ", " + over
	}
	if f.Earlier {
		s += ", read at an earlier visit"
	}
	return s
}

// rest says what was not listed.
func (sh *Sheet) rest(all, said []Finding, apart bool) []string {
	var out []string
	beyond, open, noTarget, quiet := 0, 0, 0, 0
	for _, f := range all[len(said):] {
		if f.rank() < 2 {
			beyond++
		}
	}
	for i := range sh.Cells {
		switch c := &sh.Cells[i]; {
		case c.State == SheetOpen || c.State == SheetSkipped:
			open++
		case c.State == SheetRead:
			noTarget++
		case c.State != SheetNotAsked && !c.Real && !c.KnifeOff && c.Since == 0:
			quiet++
		}
	}
	lead := "The rest"
	if len(said) == 0 && !apart {
		lead = "All that was read"
	}
	inside := len(all) - len(said) - beyond
	switch {
	case beyond > 0:
		out = append(out, fmt.Sprintf("%s outside the limits: the table has them.", more(beyond)))
	case inside > 0:
		out = append(out, lead+" is inside its limits.")
	case quiet > 0:
		out = append(out, lead+" is within what you can measure.")
	}
	if noTarget > 0 {
		out = append(out, strconv.Itoa(noTarget)+" without a target here.")
	}
	if open > 0 {
		out = append(out, strconv.Itoa(open)+" not read.")
	}
	return out
}

func more(n int) string {
	if n == 1 {
		return "1 more place is"
	}
	return strconv.Itoa(n) + " more places are"
}

// gather names places by blade and lane: "blade A, rails at 9 and 15 mm".
func (sh *Sheet) gather(meant func(*SheetCell) bool) []string {
	var out []string
	for b, blade := range sh.Blades {
		for l, lane := range sh.Lanes {
			var at []string
			for i, station := range sh.Stations {
				if meant(sh.Cell(b, i, l)) {
					at = append(at, station.Text)
				}
			}
			if len(at) > 0 {
				out = append(out, "blade "+blade+", "+lane+" at "+andList(at))
			}
		}
	}
	return out
}

// andList joins distances, the unit once where all have the same.
func andList(texts []string) string {
	last := len(texts) - 1
	if last == 0 {
		return texts[0]
	}
	number, unit, _ := strings.Cut(texts[last], " ")
	var numbers []string
	for _, t := range texts[:last] {
		n, u, _ := strings.Cut(t, " ")
		if u != unit {
			return strings.Join(texts[:last], ", ") + " and " + texts[last]
		}
		numbers = append(numbers, n)
	}
	return strings.TrimSpace(strings.Join(numbers, ", ") + " and " + number + " " + unit)
}
