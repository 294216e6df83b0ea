package comparison

import (
	"strconv"
	"strings"
)

// item is one thing to tell.
type item struct {
	class Class
	head  string
	lines []Line
}

func (t *teller) items() []item {
	var out []item
	for i := range t.c.Targets {
		r := &t.c.Targets[i]
		head := r.Title
		if r.From != "" {
			head += ", from " + r.From
		}
		out = append(out, t.item(head, r))
	}
	for i := range t.c.Grids {
		out = append(out, t.grid(&t.c.Grids[i]))
	}
	for i := range t.c.Settings {
		out = append(out, t.item("setting "+t.c.Settings[i].Name, &t.c.Settings[i]))
	}
	for i := range t.c.Stages {
		if w := t.c.Stages[i].Wait; w != nil {
			out = append(out, t.item("wait, "+stageWords(&t.c.Stages[i]), w))
		}
	}
	return out
}

func (t *teller) item(head string, r *Row) item {
	it := item{class: r.Class, head: head}
	add := func(lead, text string) { it.lines = append(it.lines, Line{lead, text}) }
	switch {
	case r.Class == Same && r.A.Written == r.B.Written && r.A.Formula == "" && r.B.Formula == "":
		add("    ", r.A.words(r))
		return it
	case r.B == nil:
		add("    ", r.A.words(r)+because(r.Why))
		return it
	case r.A == nil:
		add("    ", r.B.words(r)+because(r.Why))
		return it
	}
	add("    A  ", r.A.words(r))
	add("    B  ", r.B.words(r))
	switch r.Class {
	case NotComparable:
		add("    ", upperFirst(r.Why)+".")
	case Real, Overlapping, Rounding:
		add("    ", r.apartWords())
	}
	if d := r.readDifferently(); d != "" && r.Class != NotComparable {
		add("    ", d)
	}
	return it
}

func because(why string) string {
	if why == "" {
		return ""
	}
	return "; " + why
}

// words of what one recipe says.
func (s *Says) words(r *Row) string {
	var out string
	switch {
	case len(s.Of) > 0:
		out = limits(s.band, r.unit) + ", worked out: "
		for i, of := range s.Of {
			switch {
			case of.Less:
				out += " less "
			case i > 0:
				out += " and "
			}
			out += of.Name + " " + of.Written
			if of.Stage != "" {
				out += " (" + of.Stage + ")"
			}
		}
	case r.Unit != "" && s.band.middle.Set && s.Written != "" && !strings.Contains(s.Written, r.Unit):
		out = s.Written + ", that is " + limits(s.band, r.unit)
	default:
		out = s.Written
	}
	if len(s.Stages) > 0 {
		out += "; at " + strings.Join(quotedList(s.Stages), ", ")
	}
	return out
}

// apartWords say how far B is from A.
func (r *Row) apartWords() string {
	d := difference(r.A.band.kind, max(r.apart, -r.apart), r.unit, atBench)
	s := "B's middle is " + d
	if a, b := r.A.band, r.B.band; a.low.Set != a.high.Set && a.low.Set == b.low.Set && a.high.Set == b.high.Set {
		s = "B's limit is " + d
	}
	switch {
	case r.apart == 0:
		s = "They aim at the same"
	case r.apart > 0:
		s += " more"
	default:
		s += " less"
	}
	if r.A.band.low.Set && r.A.band.low == r.A.band.high && r.B.band.low.Set && r.B.band.low == r.B.band.high {
		s = strings.Replace(s, "B's middle", "B", 1)
	}
	switch {
	case r.Class == Rounding:
		if c := r.coarser(); c != "" {
			return s + ". It may be rounding, as " + c + "; or it is another number. Measure, or ask."
		}
		return s + ": less than the places they are printed to tell."
	case r.Share == nil:
		return s + "."
	}
	s += "; in common " + r.Share.text
	if r.Share.OfA != nil && r.Share.OfB != nil {
		s += ", " + strconv.Itoa(*r.Share.OfA) + " % of A's tolerance and " + strconv.Itoa(*r.Share.OfB) + " % of B's"
	}
	return s + "."
}

// coarser says which of two numbers without a tolerance is printed too coarsely
// to tell, where the other's own places do tell: 15 mm beside 0.571 in. "" where
// neither does, and for limits.
func (r *Row) coarser() string {
	a, b := r.A.band, r.B.band
	if !a.point() || !b.point() {
		return ""
	}
	name, coarse, fine := "A", a.steps.Nominal, b.steps.Nominal
	if fine > coarse {
		name, coarse, fine = "B", fine, coarse
	}
	if max(r.apart, -r.apart) <= fine {
		return ""
	}
	return name + " is printed to " + difference(a.kind, coarse, r.unit, atBench) + " only"
}

// readDifferently says with what and how each reads it, where they differ.
func (r *Row) readDifferently() string {
	var parts []string
	add := func(a, b string) {
		if a != b && a != "" && b != "" {
			parts = append(parts, "A "+a+", B "+b)
		}
	}
	add(r.A.Condition, r.B.Condition)
	add(r.A.Tool, r.B.Tool)
	times := func(n int) string { return strconv.Itoa(max(n, 1)) + " times" }
	if r.A.Tool != "" && r.B.Tool != "" && max(r.A.Repeat, 1) != max(r.B.Repeat, 1) {
		add(times(r.A.Repeat), times(r.B.Repeat))
	}
	if len(parts) == 0 {
		return ""
	}
	return "Read: " + strings.Join(parts, "; ") + "."
}

func (t *teller) grid(g *Grid) item {
	it := item{class: g.Class, head: g.Title + ", station by station"}
	add := func(lead, text string) { it.lines = append(it.lines, Line{lead, text}) }
	from := "from the " + g.FromA
	if g.FromA == "" {
		from = "from the " + g.FromB
	}
	if g.FromA != "" && g.FromA == g.FromB || g.FromA == "" || g.FromB == "" {
		it.head += ", " + from
	}
	where := func(who string, stages []string) {
		if len(stages) > 0 {
			add("    "+who+"  ", "at "+strings.Join(quotedList(stages), ", "))
		}
	}
	where("A", g.StagesA)
	where("B", g.StagesB)
	if g.Class == NotComparable {
		add("    ", upperFirst(g.Why)+".")
		return it
	}
	alone := g.Class == OnlyA || g.Class == OnlyB
	s := ""
	if g.Both > 0 {
		s = strconv.Itoa(g.Both) + " in both, all the same"
		if g.Largest != "" {
			s = strconv.Itoa(g.Both) + " in both; the largest difference is " + g.Largest + " at " + g.LargestAt
		}
	}
	for _, x := range []struct {
		n   int
		who string
	}{{g.OnlyA, "A"}, {g.OnlyB, "B"}} {
		if x.n > 0 && alone {
			s = strconv.Itoa(x.n) + " stations"
		} else if x.n > 0 {
			if s != "" {
				s += "; "
			}
			s += strconv.Itoa(x.n) + " only in " + x.who
		}
	}
	add("    ", s+".")
	for i := range g.Stations {
		r := &g.Stations[i]
		if (alone || r.Class == Same) && !t.all {
			continue
		}
		text := r.Title + ": "
		switch {
		case r.A == nil:
			text += "only in B, " + r.B.Written
		case r.B == nil:
			text += "only in A, " + r.A.Written
		default:
			text += "A " + r.A.Written + ", B " + r.B.Written + "; " + string(r.Class)
			if r.Class != Same && r.Difference != "" {
				text += ", " + r.Difference
			}
		}
		add("      ", text)
	}
	return it
}
