package comparison

import (
	"cmp"
	"slices"
	"strconv"
)

// Grid is a grid of stations: those at equal places are compared, the others
// are only in one. Nothing is worked out for places between.
type Grid struct {
	Name    string   `json:"name"`
	Title   string   `json:"title"`
	Unit    string   `json:"unit,omitempty"`
	FromA   string   `json:"counted_from_in_a,omitempty"`
	FromB   string   `json:"counted_from_in_b,omitempty"`
	StagesA []string `json:"stages_of_a,omitempty"`
	StagesB []string `json:"stages_of_b,omitempty"`
	Class   Class    `json:"class"` // the gravest of its stations
	Why     string   `json:"why,omitempty"`
	// Largest is the difference that is largest, B less A, and its place.
	Largest   string `json:"largest,omitempty"`
	LargestAt string `json:"largest_at,omitempty"`
	Both      int    `json:"stations_in_both"`
	OnlyA     int    `json:"stations_only_in_a"`
	OnlyB     int    `json:"stations_only_in_b"`
	Stations  []Row  `json:"stations"`
}

// grids gathers the stations of a grid at the stages that set it.
func (c *Comparison) grids(rows []Row) {
	var order []string
	by := map[string]*Grid{}
	// A station that only one has belongs to the grid its own stage sets.
	partner := map[string]string{}
	id := func(name, side string, s *Says) string {
		if s == nil {
			return ""
		}
		return side + "\x00" + name + "\x00" + strconv.Itoa(s.setAt)
	}
	for i := range rows {
		r := &rows[i]
		if c.cellOf(r) != nil && r.A != nil && r.B != nil {
			a, b := id(r.Name, "a", r.A), id(r.Name, "b", r.B)
			if partner[a] == "" {
				partner[a] = a + "\x01" + b
			}
			if partner[b] == "" {
				partner[b] = a + "\x01" + b
			}
		}
	}
	for i := range rows {
		r := rows[i]
		at := c.cellOf(&r)
		if at == nil {
			continue
		}
		key := id(r.Name, "a", r.A) + "\x01" + id(r.Name, "b", r.B)
		if r.A == nil || r.B == nil {
			own := id(r.Name, "a", r.A) + id(r.Name, "b", r.B)
			if key = partner[own]; key == "" {
				key = own
			}
		}
		g := by[key]
		if g == nil {
			g = &Grid{Name: r.Name, Title: at.dimension.Title, Unit: r.unit.Name(), Class: Same}
			by[key], order = g, append(order, key)
		}
		g.take(r, at)
	}
	var alone []*Grid
	for _, k := range order {
		g := by[k]
		g.finish(c)
		alone = append(alone, g)
	}
	// Two that only one has each, counted from two places, are one question.
	for i, g := range alone {
		if g == nil {
			continue
		}
		for k := i + 1; k < len(alone); k++ {
			h := alone[k]
			if h == nil || h.Name != g.Name || g.Both+h.Both > 0 || (g.OnlyA > 0) == (h.OnlyA > 0) {
				continue
			}
			g.join(h)
			alone[k] = nil
			break
		}
		c.Grids = append(c.Grids, *g)
	}
}

func (g *Grid) take(r Row, at *cellPlace) {
	if r.A != nil {
		g.FromA = at.from
		g.StagesA = union(g.StagesA, r.A.Stages)
	}
	if r.B != nil {
		g.FromB = at.from
		g.StagesB = union(g.StagesB, r.B.Stages)
	}
	switch {
	case r.B == nil:
		g.OnlyA++
	case r.A == nil:
		g.OnlyB++
	default:
		g.Both++
	}
	g.Stations = append(g.Stations, r)
}

// finish sorts the stations along the blade, lane by lane, and sums them up.
func (g *Grid) finish(c *Comparison) {
	lanes := c.cellOf(&g.Stations[0]).dimension.Grid.Lanes
	slices.SortStableFunc(g.Stations, func(x, y Row) int {
		p, q := c.cellOf(&x), c.cellOf(&y)
		return cmp.Or(cmp.Compare(slices.Index(lanes, p.lane), slices.Index(lanes, q.lane)), cmp.Compare(p.at, q.at))
	})
	largest := int64(0)
	for i := range g.Stations {
		r := &g.Stations[i]
		if r.A == nil || r.B == nil {
			continue
		}
		g.Class = graver(g.Class, r.Class)
		if r.Why != "" {
			g.Why = r.Why
		}
		if d := max(r.apart, -r.apart); d > largest && r.Class != NotComparable {
			largest = d
			g.Largest, g.LargestAt = r.Difference, r.Title
		}
	}
	switch {
	case g.Both > 0:
	case g.OnlyA > 0:
		g.Class = OnlyA
	default:
		g.Class = OnlyB
	}
}

// join makes one of a grid only A has and one only B has.
func (g *Grid) join(h *Grid) {
	a, b := g, h
	if g.OnlyB > 0 {
		a, b = h, g
	}
	fromA, fromB := a.FromA, b.FromB
	out := Grid{Name: g.Name, Title: g.Title, Unit: g.Unit, FromA: fromA, FromB: fromB, StagesA: a.StagesA, StagesB: b.StagesB,
		Class: NotComparable, OnlyA: a.OnlyA, OnlyB: b.OnlyB, Stations: slices.Concat(a.Stations, b.Stations)}
	out.Why = "they have no place in common"
	if fromA != fromB {
		out.Why = "A counts its places from the " + fromA + ", B from the " + fromB
	}
	*g = out
}

func union(to, more []string) []string {
	for _, s := range more {
		if !slices.Contains(to, s) {
			to = append(to, s)
		}
	}
	return to
}
