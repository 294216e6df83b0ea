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

// Unlike is Tell without its heads, and without what lies in rounding: for who
// looks at a recipe beside their own for the first time.
func (c *Comparison) Unlike() []Line {
	t := teller{c: c}
	t.big()
	items := t.items()
	for _, class := range []Class{Real, NotComparable, Overlapping, OnlyA, OnlyB} {
		t.section(class, items)
		if class == Real {
			t.rules()
		}
	}
	t.stages()
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
