package comparison

import (
	"strconv"
	"strings"
)

// Line is a line for a person, to be broken where the window ends; what follows
// the break stands under Text.
type Line struct{ Lead, Text string }

// Tell says it for a person: the big words first, then what differs, the real
// differences before the others. With all, also what is the same, and how the
// stages are worded.
func (c *Comparison) Tell(all bool) []Line {
	t := teller{c: c, all: all}
	t.heads()
	t.big()
	items := t.items()
	for _, class := range []Class{Real, NotComparable, Overlapping, Rounding, OnlyA, OnlyB, Same} {
		if class == Same && !all {
			continue
		}
		t.section(class, items)
		if class == Real {
			t.rules()
		}
	}
	t.stages()
	for _, r := range c.Remarks {
		t.line("", "")
		t.line("", "Remark: "+r+".")
	}
	return t.lines
}

type teller struct {
	c     *Comparison
	all   bool
	lines []Line
}

func (t *teller) line(lead, text string) { t.lines = append(t.lines, Line{lead, text}) }

func (t *teller) heads() {
	for _, x := range []struct {
		who string
		h   Head
	}{{"A", t.c.A}, {"B", t.c.B}} {
		s := x.h.Title + " (" + x.h.ID + ", version " + strconv.Itoa(x.h.Version)
		if x.h.Instrument != "" {
			s += "; " + x.h.Instrument + " " + strconv.Itoa(x.h.Major) + "." + strconv.Itoa(x.h.Minor)
		}
		t.line(x.who+"  ", s+")")
	}
	if a, b := t.c.A, t.c.B; a.SureToPass != b.SureToPass || a.SureToCut != b.SureToCut {
		t.line("", "Sure enough: A "+sure(a)+"; B "+sure(b)+".")
	}
	if in := t.c.Instrument; !in.Same && (t.c.A.Instrument == "" || t.c.B.Instrument == "") {
		t.line("", "A recipe without an instrument has no dimensions to compare.")
	} else if !in.Same {
		s := "Two instruments."
		if t.c.A.Instrument == t.c.B.Instrument {
			s = "Two versions of one instrument's dimensions."
		}
		if n := len(in.Comparable); n > 0 {
			s += " Both have, and count alike: " + strings.Join(in.Comparable, ", ") + "."
		} else {
			s += " No dimension of the one is one of the other."
		}
		if len(in.Unlike) > 0 {
			s += " The same name means two things: " + strings.Join(in.Unlike, ", ") + "."
		}
		t.line("", s)
	}
}

func sure(h Head) string {
	if h.SureToPass == h.SureToCut {
		return h.SureToPass
	}
	return h.SureToPass + " to pass, " + h.SureToCut + " to cut"
}

// big are the big words.
func (t *teller) big() {
	n := t.c.Counts
	some := func(k int, one, more string) string {
		if k == 1 {
			return "1 " + one
		}
		return strconv.Itoa(k) + " " + more
	}
	var parts []string
	add := func(k int, one, more string) {
		if k > 0 {
			parts = append(parts, some(k, one, more))
		}
	}
	t.line("", "")
	if n.Real+n.Rounding+n.Overlapping+n.NotComparable+n.OnlyA+n.OnlyB == 0 {
		s := "No difference in " + some(n.Same, "number", "numbers") + "."
		if n.Same == 0 {
			s = "Neither gives a number."
		}
		t.line("", s)
		return
	}
	parts = append(parts, some(n.Real, "real difference", "real differences"))
	add(n.NotComparable, "not comparable", "not comparable")
	add(n.Overlapping, "overlapping", "overlapping")
	add(n.Rounding, "by rounding only", "by rounding only")
	add(n.OnlyA, "only in A", "only in A")
	add(n.OnlyB, "only in B", "only in B")
	add(n.Same, "the same", "the same")
	t.line("", strings.Join(parts, ", ")+".")
}

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
	case s.unit != r.unit && r.Unit != "" && s.band.middle.Set && s.Written != "":
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
			text += "only in B, " + r.B.words(&Row{unit: r.B.unit})
		case r.B == nil:
			text += "only in A, " + r.A.words(&Row{unit: r.A.unit})
		default:
			text += "A " + r.A.bare() + ", B " + r.B.bare() + "; " + string(r.Class)
			if r.Class != Same && r.Difference != "" {
				text += ", " + r.Difference
			}
		}
		add("      ", strings.SplitN(text, "; at ", 2)[0])
	}
	return it
}

func (s *Says) bare() string { return s.Written }

var heads = map[Class]string{
	Real: "Real differences", NotComparable: "Not comparable", Overlapping: "Overlapping", Rounding: "By rounding only",
	OnlyA: "Only in A", OnlyB: "Only in B", Same: "The same",
}

func (t *teller) section(class Class, items []item) {
	first := true
	for _, it := range items {
		if it.class != class {
			continue
		}
		if first {
			t.line("", "")
			t.line("", heads[class])
			first = false
		}
		t.line("  ", it.head)
		t.lines = append(t.lines, it.lines...)
	}
}

func (t *teller) rules() {
	if len(t.c.Clashes) > 0 {
		t.line("", "")
		t.line("", "Rules that never both hold")
	}
	for _, x := range t.c.Clashes {
		t.line("  A  ", x.A.words())
		t.line("  B  ", x.B.words())
		s := "Never both"
		if !x.SameStage {
			s += " at one time"
		}
		if len(x.Given) > 0 {
			s += ", with " + strings.Join(x.Given, ", ")
		} else {
			s += ", whatever is measured"
		}
		t.line("     ", s+".")
	}
	if len(t.c.Refusals) > 0 {
		t.line("", "")
		t.line("", "Rules that refuse the other's targets")
	}
	for _, x := range t.c.Refusals {
		other := "B"
		if x.Of == "B" {
			other = "A"
		}
		t.line("  "+x.Of+"  ", x.Rule.words())
		s := "Nothing within " + other + "'s targets passes: "
		if !x.Never {
			s = "The middle of " + other + "'s targets does not pass: "
		}
		t.line("     ", s+strings.Join(x.With, ", ")+".")
	}
}

func (r Ruled) words() string {
	return r.That + " (line " + strconv.Itoa(r.Line) + ", " + r.Stage + ")"
}

func stageWords(s *Stage) string {
	switch {
	case s.B == nil:
		return s.A.Name
	case s.A == nil || !s.Renamed:
		return s.B.Name
	}
	return s.A.Name + " (in B " + s.B.Name + ")"
}

// stages that are renamed, moved, alone, and worked otherwise.
func (t *teller) stages() {
	var lines []Line
	add := func(lead, text string) { lines = append(lines, Line{lead, text}) }
	var onlyA, onlyB []string
	worded := 0
	for i := range t.c.Stages {
		s := &t.c.Stages[i]
		switch {
		case s.B == nil:
			onlyA = append(onlyA, s.A.Name)
			continue
		case s.A == nil:
			onlyB = append(onlyB, s.B.Name)
			continue
		}
		if s.Renamed {
			add("  ", quoted(s.A.Name)+" in A is "+quoted(s.B.Name)+" in B")
		}
		said := false
		for _, d := range s.Differs {
			if wordy[d.What] && !t.all {
				said = true
				continue
			}
			add("  ", stageWords(s)+": "+d.words())
		}
		if said {
			worded++
		}
	}
	for _, m := range t.c.Moved {
		then := quoted(m.Then)
		if m.Then != m.FirstA {
			then += " (" + quoted(m.FirstA) + " in A)"
		}
		add("  ", "B does "+quoted(m.First)+" before "+then+", A after it")
	}
	if len(onlyA) > 0 {
		add("  only in A: ", strings.Join(quotedList(onlyA), ", "))
	}
	if len(onlyB) > 0 {
		add("  only in B: ", strings.Join(quotedList(onlyB), ", "))
	}
	switch {
	case worded == 1:
		add("  ", "1 stage is measured, looked at or worded otherwise; --all shows how")
	case worded > 1:
		add("  ", strconv.Itoa(worded)+" stages are measured, looked at or worded otherwise; --all shows how")
	}
	if len(lines) > 0 {
		t.line("", "")
		t.line("", "Stages")
		t.lines = append(t.lines, lines...)
	}
}

// wordy are the differences only --all shows.
var wordy = map[string]bool{"measures": true, "looks for": true, "rules": true, "what follows": true, "says": true}

func (d Differing) words() string {
	if d.What == "tools" || d.What == "materials" {
		a, b := apart(d.A, d.B)
		var parts []string
		if len(a) > 0 {
			parts = append(parts, "only in A "+strings.Join(a, ", "))
		}
		if len(b) > 0 {
			parts = append(parts, "only in B "+strings.Join(b, ", "))
		}
		return d.What + " " + strings.Join(parts, "; ")
	}
	or := func(s string) string {
		if s == "" {
			return "nothing said"
		}
		return s
	}
	return d.What + ": A " + or(d.A) + "; B " + or(d.B)
}

// apart are the words of two lists that only one has.
func apart(a, b string) (onlyA, onlyB []string) {
	split := func(s string) []string {
		if s == "" {
			return nil
		}
		return strings.Split(s, ", ")
	}
	without := func(x, y []string) (out []string) {
		has := map[string]bool{}
		for _, w := range y {
			has[w] = true
		}
		for _, w := range x {
			if !has[w] {
				out = append(out, w)
			}
		}
		return out
	}
	x, y := split(a), split(b)
	return without(x, y), without(y, x)
}

func quoted(s string) string { return `"` + s + `"` }

func quotedList(all []string) []string {
	out := make([]string, len(all))
	for i, s := range all {
		out[i] = quoted(s)
	}
	return out
}

func upperFirst(s string) string {
	r := []rune(s)
	if len(r) == 0 {
		return s
	}
	return strings.ToUpper(string(r[:1])) + string(r[1:])
}
