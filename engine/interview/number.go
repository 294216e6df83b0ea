package interview

import (
	"slices"
	"strings"

	"canewright/engine/dimension"
	"canewright/engine/quantity"
	"canewright/engine/recipe"
)

// numbers asks which numbers the sheet has at a stage, and then for each.
func (w *walk) numbers(st *stage) bool {
	set := w.sheet.set
	names := w.usual.belongs(set, st.name)
	q := Question{
		Prompt: "Which numbers are on the sheet here? Numbers from the list or names, with commas between.",
		Enter:  "none (? lists all names)",
	}
	for _, n := range names {
		if d, ok := set.Find(n); ok {
			q.Offers = append(q.Offers, offer(d))
		}
	}
	for i := range set.Dimensions {
		q.Help = append(q.Help, offer(&set.Dimensions[i]))
	}
	if !w.ask(q, func(line string) error {
		words, err := w.chosen(line, names)
		if err != nil {
			return err
		}
		w.inWords(words)
		for _, c := range words {
			d, ok := set.Find(c)
			if !ok {
				hint := "type ? to see all names"
				if n := set.Near(c); n != "" {
					hint = "did you mean " + n + "?"
				}
				return refuse(hint, "nothing of this instrument is called "+c)
			}
			if !slices.ContainsFunc(st.numbers, func(n *number) bool { return n.dim == d }) {
				st.numbers = append(st.numbers, &number{dim: d})
			}
		}
		if len(st.numbers) > mostOfOne {
			return refuse("take fewer; more can be written in the file", "these are very many numbers for one stage")
		}
		return nil
	}) {
		return false
	}
	for _, n := range st.numbers {
		if !w.number(n) {
			return false
		}
	}
	return true
}

func offer(d *dimension.Dimension) string {
	s := d.Title
	if d.Title != d.Name {
		s += " (" + d.Name + ")"
	}
	switch {
	case d.Formula != "":
		s += ", worked out: " + d.Formula
	case d.Datum != "":
		s += ", from " + d.Datum
	}
	return s
}

func (w *walk) number(n *number) bool {
	d := n.dim
	if n.grid() {
		w.say("%s is a number a station: its rows are left open, and the file shows how they are written.", d.Title)
		return true
	}
	q := Question{Prompt: upper(d.Title) + ": what does the sheet say? As it is written there.", Enter: "leaves it open"}
	if !w.ask(q, func(line string) error {
		if line == "" {
			return nil
		}
		if err := n.read(line); err != nil {
			return err
		}
		if mm := inMillimetres(n.first, d); mm != "" {
			w.say("%s is %s.", n.first, mm)
		}
		return nil
	}) {
		return false
	}
	if n.paper == "" {
		return true
	}
	return w.datum(n) && w.tolerance(n) && w.done(n)
}

// datum asks which end the sheet counts from.
func (w *walk) datum(n *number) bool {
	d := n.dim
	if d.Kind != quantity.Length || d.Datum == "" || d.Across || d.Formula != "" {
		return true
	}
	q := Question{Prompt: "Counted from where on the sheet? Here it counts from " + d.Datum + ".", Enter: "from " + d.Datum + " too"}
	q.Offers = w.otherEnds(d)
	if !w.ask(q, func(line string) error {
		chosen, err := w.offered(line, q.Offers)
		if err != nil {
			return err
		}
		if chosen != nil {
			line = chosen[0]
			w.inWords(chosen[:1])
		}
		line = strings.TrimPrefix(line, "from ")
		if chosen == nil && isNumber(line) {
			return refuse("type a number of the list, or the place in words; how far it may be off is asked next", "this is a number, and no place")
		}
		if line != "" && sameEnd(line) != sameEnd(d.Datum) {
			n.other = line
		}
		return braces(line)
	}) {
		return false
	}
	if n.other == "" {
		return true
	}
	if !w.ask(Question{Prompt: "How far is it from " + d.Datum + " to " + n.other + ", when that is measured?", Enter: "leaves it open"}, func(line string) error {
		if line == "" {
			return nil
		}
		e, err := quantity.Parse(line, quantity.Style{Want: quantity.Length})
		if err != nil {
			q, _ := err.(*quantity.Error)
			if q == nil {
				return err
			}
			return refuse("write a length: 55.5 mm, 2 3/16 in; Enter leaves it open", q.Message)
		}
		n.length = e.Text
		return nil
	}) {
		return false
	}
	if n.length == "" {
		return true
	}
	return w.ask(Question{Prompt: "From " + n.other + ", does it count towards " + d.Datum + ", or away from it?", Offers: []string{"towards", "away"}, Enter: "towards"}, func(line string) error {
		switch strings.ToLower(line) {
		case "", "1", "towards", "toward":
		case "2", "away":
			n.away = true
		default:
			return refuse("type towards or away", "a distance counts one way or the other")
		}
		return nil
	})
}

// isNumber is for a line that answers the question after the next too early: 56
// mm, 27 ± 0.5 mm, ± 1/64 in.
func isNumber(line string) bool {
	line = strings.TrimSpace(strings.TrimLeft(line, "±+- "))
	if _, err := quantity.ParseAny(line, quantity.Style{}); err == nil {
		return true
	}
	_, err := quantity.ParseAnyTolerance(line)
	return err == nil
}

// otherEnds are the places that others of the instrument's distances count
// from, as far as they are said in two or three words, and the tip, which
// papers like.
func (w *walk) otherEnds(d *dimension.Dimension) []string {
	var ends []string
	dims := w.sheet.set.Dimensions
	for i := 0; i <= len(dims); i++ {
		end := "the tip"
		if i < len(dims) {
			end = dims[i].Datum
		}
		if n := len(strings.Fields(end)); n < 1 || n > 3 || !strings.HasPrefix(end, "the ") || sameEnd(end) == sameEnd(d.Datum) || slices.Contains(ends, end) {
			continue
		}
		ends = append(ends, end)
	}
	slices.SortStableFunc(ends, func(a, b string) int { return len(strings.Fields(a)) - len(strings.Fields(b)) })
	return ends[:min(len(ends), 6)]
}

func sameEnd(s string) string {
	return strings.TrimPrefix(strings.ToLower(strings.TrimSpace(s)), "the ")
}

// tolerance asks how far a single number may be off.
func (w *walk) tolerance(n *number) bool {
	w.suggest(n)
	if n.limits || n.other != "" && n.length == "" {
		return true
	}
	q := Question{Prompt: "How far may it be off? ± 0.5 mm, +0.5 -0.2 mm, at least, at most.", Enter: "the sheet gives no tolerance: it is left open"}
	if n.suggest != "" {
		q.Offers = []string{n.suggest + ", " + n.suggested}
	}
	return w.ask(q, func(line string) error {
		switch {
		case line == "" || strings.EqualFold(line, "none"):
			return nil
		case line == "1" && n.suggest != "":
			line = n.suggest
			w.meant = line
		}
		return n.allow(line)
	})
}

// suggest is what a tolerance could be where the sheet has none: what a bundled
// recipe chose, else as far as the number is rounded, else the finest that its
// usual tool can tell.
func (w *walk) suggest(n *number) {
	if u, ok := w.usual.Tolerances[n.dim.Name]; ok {
		n.suggest, n.suggested = u.Deviation, "as the recipe "+u.Who+" chose"
		return
	}
	p, err := quantity.PrintedIn(n.first, quantity.Style{Want: n.dim.Kind})
	if err != nil || len(p) != 1 || n.dim.Kind == quantity.Pitch {
		return
	}
	half, why := p[0].Rounding()/2, "as far as the number itself is rounded"
	if t, ok := w.iv.Tools.Tool(n.dim.Tool); ok {
		if finest := recipe.Finest(n.dim.Kind, t, usuallySure); finest > half {
			half, why = finest, "the finest that its usual tool can tell: "+t.Name
		}
	}
	if half > 0 {
		k, step := n.dim.Kind.Difference(), int64(1)
		for half/step >= 100 { // two digits are enough for a suggestion
			step *= 10
		}
		half = (half + step - 1) / step * step
		n.suggest, n.suggested = "± "+quantity.Format(quantity.Value{Kind: k, Q: half}, quantity.Main(k), 0), why
	}
}

// usuallySure is what a recipe that says nothing asks for.
const usuallySure = 0.80

// done converts a number that the sheet counts from another end.
func (w *walk) done(n *number) bool {
	if n.other == "" || n.length == "" {
		return true
	}
	if err := n.convert(); err != nil {
		w.refused = refuse("go back with - and look at the length", "this cannot be counted from "+n.dim.Datum)
		return false
	}
	if n.converted != "" {
		w.say("From %s that is %s.", n.dim.Datum, n.converted)
	}
	return true
}

func upper(s string) string {
	if s == "" || s[0] < 'a' || s[0] > 'z' {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
