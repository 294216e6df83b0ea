package dimension

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"unicode/utf8"

	"canewright/engine/diagnostic"
	"canewright/engine/formula"
	"canewright/engine/quantity"
)

// What a set may hold. A set comes from a plugin, which is a stranger; the
// bassoon has about forty dimensions and its longest text is a few hundred
// bytes.
const (
	mostDimensions = 500
	mostWords      = 50 // aliases, sources, lanes … of one dimension
	longestText    = 2000
	longestName    = 64
	largestQuanta  = 1 << 53 // beyond it a float64 no longer holds every whole number
)

// Names are written in recipes and formulas, so they follow one pattern. The
// id of a set is also the name its plugin is started by.
var (
	setID    = regexp.MustCompile(`^[a-z][a-z0-9-]{0,31}$`)
	wellName = regexp.MustCompile(`^[a-z][a-z0-9_]*(\.[a-z][a-z0-9_]*)*$`)
	oneWord  = regexp.MustCompile(`^[a-z][a-z0-9_]*$`)
	station  = regexp.MustCompile(`^[A-Za-z][A-Za-z0-9_]*( [A-Za-z0-9_]+)*$`)
)

var subjects = []string{"tube", "piece", "staple", "batch"}

// Check reports everything that keeps the set from being used. Findings about
// a formula point into it; all others name the dimension.
func (s *Set) Check() diagnostic.List {
	c := &checker{set: s, at: diagnostic.Span{Source: diagnostic.NewSource(fmt.Sprintf("dimension set %s %d.%d", clip(s.ID), s.Major, s.Minor), nil)}}
	if len(s.Dimensions) > mostDimensions {
		c.errorf("dimension/size", "it has %d dimensions, at most %d are read", len(s.Dimensions), mostDimensions)
		return c.list
	}
	if !setID.MatchString(s.ID) {
		c.list.Hinted("dimension/set", c.at, "lower case letters, digits and hyphens, at most 32", "%q is not a name for a dimension set", clip(s.ID))
	}
	if s.Major < 1 || s.Minor < 0 {
		c.errorf("dimension/set", "its version %d.%d is none; versions count from 1.0", s.Major, s.Minor)
	}
	if len(s.Dimensions) == 0 {
		c.errorf("dimension/set", "it has no dimensions")
	}
	c.text("the set", "title", s.Title, true)
	c.text("the set", "about", s.About, false)
	before := c.list.Len()
	for i := range s.Dimensions {
		c.dimension(&s.Dimensions[i])
	}
	c.unique()
	// A formula is compiled over a set whose names hold; else it would report
	// the same fault again.
	if c.list.Len() == before {
		c.formulas()
	}
	sound := c.list.Len() == before
	c.remedies(sound)
	c.outline(sound)
	return c.list
}

type checker struct {
	set  *Set
	at   diagnostic.Span
	list diagnostic.List
}

func (c *checker) errorf(code, format string, a ...any) {
	c.list.Errorf(code, c.at, format, a...)
}

// text refuses what must not reach a terminal or a log.
func (c *checker) text(of, what, text string, needed bool) {
	switch {
	case needed && strings.TrimSpace(text) == "":
		c.errorf("dimension/missing", "%s has no %s", of, what)
	case !utf8.ValidString(text) || strings.ContainsFunc(text, func(r rune) bool { return r != '\n' && diagnostic.Unsafe(r) }):
		c.errorf("dimension/text", "the %s of %s holds control characters", what, of)
	case len(text) > longestText:
		c.errorf("dimension/text", "the %s of %s is longer than %d bytes", what, of, longestText)
	}
}

func (c *checker) dimension(d *Dimension) {
	of := clip(d.Name)
	if !wellName.MatchString(d.Name) || len(d.Name) > longestName {
		c.list.Hinted("dimension/name", c.at, "lower case words joined by dots, such as wire.first", "%q is not a name for a dimension", of)
		of = fmt.Sprintf("%q", of)
	}
	derived := d.Formula != ""
	c.text(of, "title", d.Title, true)
	c.text(of, "way of reading", d.How, !derived)
	c.text(of, "tool", d.Tool, false)
	c.text(of, "formula", d.Formula, false)
	c.text(of, "word for too much", d.More, true)
	c.text(of, "word for too little", d.Less, true)
	if d.More != "" && d.More == d.Less {
		c.errorf("dimension/words", "%s says %q for too much and for too little", of, clip(d.More))
	}
	if !slices.Contains(subjects, d.Subject) {
		c.errorf("dimension/subject", "%s is measured on %q; it can be %s", of, clip(d.Subject), strings.Join(subjects, ", "))
	}
	if !slices.Contains([]Condition{Either, Wet, Dry}, d.Condition) {
		c.errorf("dimension/condition", "%s is read %q; it can be wet, dry or either", of, clip(string(d.Condition)))
	}
	c.text(of, "datum", d.Datum, d.Kind == quantity.Length && !d.Across && !derived)
	if len(d.Aliases) > mostWords || len(d.Sources) > mostWords || len(d.Was) > mostWords {
		c.errorf("dimension/size", "%s has more than %d aliases, old names or sources", of, mostWords)
		return
	}
	for _, w := range d.Was {
		if !wellName.MatchString(w) || len(w) > longestName {
			c.list.Hinted("dimension/name", c.at, "lower case words joined by dots, such as wire.first", "%q, an old name of %s, is not a name for a dimension", clip(w), of)
		}
	}
	for _, a := range d.Aliases {
		c.text(of, "alias", a, true)
	}
	c.kind(of, d)
	c.plausible(of, d)
	c.sources(of, d)
	c.grid(of, d)
}

func (c *checker) kind(of string, d *Dimension) {
	name := d.Kind.String()
	if k, ok := quantity.KindNamed(name); !ok || k != d.Kind {
		c.errorf("dimension/kind", "%s is of no known kind (%s)", of, clip(name))
		return
	}
	if !fits(d.Unit, d.Kind) {
		c.list.Hinted("dimension/unit", c.at, "it can be "+unitNames(d.Kind), "%s is a %s and cannot be read in %q", of, name, d.Unit.Name())
	}
}

// fits: may a bare number of kind k be taken to be in u? A pitch is written as
// a note and has no unit.
func fits(u quantity.Unit, k quantity.Kind) bool {
	switch {
	case u.IsZero():
		return k == quantity.Pitch
	case u == quantity.Bare(k), k == quantity.Length && u.Quanta() == nil:
		return true
	}
	return slices.Contains(quantity.UnitsOf(k), u)
}

func unitNames(k quantity.Kind) string {
	var out []string
	for _, u := range quantity.UnitsOf(k) {
		out = append(out, u.Name())
	}
	if len(out) == 0 {
		return "without a unit only"
	}
	return strings.Join(out, ", ")
}

func (c *checker) plausible(of string, d *Dimension) {
	p := d.Plausible
	c.text(of, "plausible range", p.Text, false)
	if !p.Low.Set && !p.High.Set {
		return
	}
	if p.Kind != d.Kind {
		c.errorf("dimension/plausible", "the plausible range of %s is a %s, not a %s", of, p.Kind, d.Kind)
	}
	for _, b := range []quantity.Bound{p.Low, p.High, p.Nominal} {
		if b.Q > largestQuanta || b.Q < -largestQuanta {
			c.errorf("dimension/plausible", "the plausible range of %s is too large to be worked with", of)
			return
		}
	}
	if p.Low.Set && p.High.Set && p.Low.Q > p.High.Q {
		c.errorf("dimension/plausible", "the plausible range of %s begins above its end", of)
	}
}

func (c *checker) sources(of string, d *Dimension) {
	if len(d.Sources) == 0 {
		c.list.Hinted("dimension/source", c.at, "a published source, or common practice, or from memory", "%s has no source", of)
	}
	for _, s := range d.Sources {
		c.text(of, "source", s.Says, true)
		c.text(of, "source", s.Who, s.Grade == Published)
		if !slices.Contains([]Grade{Published, CommonPractice, FromMemory, Worked}, s.Grade) {
			c.errorf("dimension/source", "a source of %s is graded %q; it can be published, common practice, from memory or worked out", of, clip(string(s.Grade)))
		}
	}
}

func (c *checker) grid(of string, d *Dimension) {
	g := d.Grid
	if g == nil {
		return
	}
	if d.Formula != "" {
		c.errorf("dimension/grid", "%s has stations and a formula; it can have one of them", of)
	}
	if !oneWord.MatchString(g.Short) || len(g.Short) > longestName {
		c.errorf("dimension/grid", "%q, the short name of %s in formulas, is not one lower case word", clip(g.Short), of)
	}
	for _, list := range []struct {
		what  string
		words []string
	}{{"datum", g.From}, {"lane", g.Lanes}, {"blade", g.Blades}} {
		if len(list.words) == 0 || len(list.words) > mostWords {
			c.errorf("dimension/grid", "%s has %d %ss; it needs 1 to %d", of, len(list.words), list.what, mostWords)
			continue
		}
		seen := map[string]bool{}
		for _, w := range list.words {
			if !station.MatchString(w) || len(w) > longestName {
				c.errorf("dimension/grid", "%q is not a name for a %s of %s", clip(w), list.what, of)
			}
			if seen[plain(w)] {
				c.errorf("dimension/grid", "%s names its %s %q twice", of, list.what, clip(w))
			}
			seen[plain(w)] = true
		}
	}
}

// unique: a name, title, alias or short name means one dimension only.
func (c *checker) unique() {
	owner := map[string]int{}
	claim := func(i int, what, word string, own bool) {
		p := plain(word)
		if p == "" {
			return
		}
		j, taken := owner[p]
		switch {
		case !taken:
			owner[p] = i
		case j != i:
			c.errorf("dimension/repeated", "%q, a %s of %s, already means %s", clip(word), what, clip(c.set.Dimensions[i].Name), clip(c.set.Dimensions[j].Name))
		case !own:
			c.errorf("dimension/repeated", "%s has the %s %q twice", clip(c.set.Dimensions[i].Name), what, clip(word))
		}
	}
	for i := range c.set.Dimensions {
		d := &c.set.Dimensions[i]
		if j, taken := owner[plain(d.Name)]; taken {
			c.errorf("dimension/repeated", "two dimensions are called %s, the %s and the %s", clip(d.Name), ordinal(j), ordinal(i))
			continue
		}
		owner[plain(d.Name)] = i
	}
	for i := range c.set.Dimensions {
		d := &c.set.Dimensions[i]
		// A dimension of one word may have its own name for a title and for a
		// short name.
		claim(i, "title", d.Title, true)
		if d.Grid != nil {
			claim(i, "short name", d.Grid.Short, true)
		}
		for _, a := range d.Aliases {
			claim(i, "alias", a, false)
		}
	}
	for i := range c.set.Dimensions {
		for _, w := range c.set.Dimensions[i].Was {
			claim(i, "old name", w, false)
		}
	}
}

func ordinal(i int) string { return fmt.Sprintf("no. %d", i+1) }

// formulas compiles the derived dimensions and looks for one that needs itself.
func (c *checker) formulas() {
	needs := make([][]int, len(c.set.Dimensions))
	for i := range c.set.Dimensions {
		d := &c.set.Dimensions[i]
		if d.Formula == "" {
			continue
		}
		f, found := formula.Compile(diagnostic.Plain("formula of "+d.Name, d.Formula), scope{c.set})
		c.list.Append(found)
		if found.Failed() || f == nil {
			continue
		}
		switch {
		case f.Truth():
			c.errorf("dimension/formula", "the formula of %s yields yes or no, not a %s", d.Name, d.Kind)
		case f.Kind() != d.Kind:
			c.errorf("dimension/formula", "the formula of %s yields a %s, not a %s", d.Name, f.Kind(), d.Kind)
		}
		needs[i] = f.Needs()
	}
	// 0 not seen, 1 on the way, 2 done
	state := make([]int, len(needs))
	var visit func(i int) bool
	visit = func(i int) bool {
		if state[i] != 0 {
			return state[i] == 1
		}
		state[i] = 1
		for _, j := range needs[i] {
			if j >= 0 && j < len(needs) && visit(j) {
				state[i] = 2
				return true
			}
		}
		state[i] = 2
		return false
	}
	for i := range needs {
		if state[i] == 0 && visit(i) {
			c.errorf("dimension/formula", "the formula of %s needs %s itself", c.set.Dimensions[i].Name, c.set.Dimensions[i].Name)
		}
	}
}

func clip(s string) string { return diagnostic.Clip(s) }
