package dimension

import (
	"fmt"
	"regexp"
	"slices"
	"strings"

	"canewright/engine/diagnostic"
	"canewright/engine/formula"
)

// The bassoon has some forty remedies for some thirty symptoms; the longest
// formula of one is below 60 bytes.
const (
	MostSymptoms    = 200
	MostRemedies    = 400
	MostConditions  = 8   // formulas of one remedy
	mostConditions  = 800 // formulas of all remedies of a set: each costs time to compile
	mostOfARemedy   = 30  // symptoms, dimensions, effects, sources of one remedy
	LongestRemedy   = 60  // letters of a name: it stands on one line of the screen
	longestSymptoms = 80  // letters of a symptom's words
	enoughSaid      = 20  // findings after which remedies are not looked at any more
)

var symptomName = regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)*$`)

// remedies checks what a set says about symptoms. Formulas are compiled only
// where the dimensions hold.
func (c *checker) remedies(sound bool) {
	if len(c.set.Symptoms) > MostSymptoms || len(c.set.Remedies) > MostRemedies {
		c.errorf("dimension/size", "it has %d symptoms and %d remedies, at most %d and %d are read", len(c.set.Symptoms), len(c.set.Remedies), MostSymptoms, MostRemedies)
		return
	}
	c.symptoms()
	parts := c.parts()
	covered, conditions := map[string]bool{}, 0
	names := map[string]int{}
	for i := range c.set.Remedies {
		if c.list.Len() > enoughSaid {
			return
		}
		r := &c.set.Remedies[i]
		of := "remedy " + ordinal(i)
		if strings.TrimSpace(r.Name) != "" {
			of = fmt.Sprintf("the remedy %q", clip(r.Name))
		}
		if j, taken := names[plain(r.Name)]; taken && plain(r.Name) != "" {
			c.errorf("dimension/repeated", "two remedies are called %q, %s and %s", clip(r.Name), ordinal(j), ordinal(i))
		}
		names[plain(r.Name)] = i
		if conditions += len(r.When); conditions > mostConditions {
			c.errorf("dimension/size", "its remedies have more than %d formulas", mostConditions)
			return
		}
		if c.remedy(of, r, parts, sound) {
			for _, s := range r.Symptoms {
				covered[s] = true
			}
		}
	}
	for _, s := range c.set.Symptoms {
		if !covered[s.Name] {
			c.list.Add(diagnostic.Diagnostic{Code: "dimension/symptom", Severity: diagnostic.Warning, Span: c.at, Message: fmt.Sprintf("no remedy is for the symptom %q", clip(s.Name))})
		}
	}
}

func (c *checker) symptoms() {
	owner := map[string]string{}
	for i, s := range c.set.Symptoms {
		of := fmt.Sprintf("the symptom %q", clip(s.Name))
		if !symptomName.MatchString(s.Name) || len(s.Name) > longestName {
			c.list.Hinted("dimension/symptom", c.at, "small letters and digits joined by hyphens, such as low-notes-resist", "%q is not a name for a symptom", clip(s.Name))
			of = "symptom " + ordinal(i)
		}
		c.line(of, "words", s.Words, longestSymptoms)
		if len(s.Also) > mostWords {
			c.errorf("dimension/size", "%s has more than %d other ways of saying it", of, mostWords)
			continue
		}
		own := map[string]bool{}
		for _, w := range append([]string{s.Name, s.Words}, s.Also...) {
			p := plain(w)
			if p == "" || own[p] {
				continue
			}
			own[p] = true
			if who, taken := owner[p]; taken {
				c.errorf("dimension/repeated", "%q means the symptoms %q and %q", clip(w), clip(who), clip(s.Name))
				continue
			}
			owner[p] = s.Name
		}
		for _, a := range s.Also {
			c.line(of, "other way of saying it", a, longestSymptoms)
		}
	}
}

// line is a text that must be there and stand on one line of the screen.
func (c *checker) line(of, what, text string, letters int) {
	c.text(of, what, text, true)
	if strings.Contains(text, "\n") || len([]rune(text)) > letters {
		c.errorf("dimension/text", "the %s of %s is no single line of at most %d letters", what, of, letters)
	}
}

// parts is all that Set.Part would find: a set may have many words, and its
// remedies may ask for many.
func (c *checker) parts() map[string]bool {
	out := map[string]bool{}
	for i := range c.set.Dimensions {
		d := &c.set.Dimensions[i]
		for _, w := range append([]string{d.Name, d.Title}, d.Aliases...) {
			out[plain(w)] = true
		}
		if d.Grid != nil {
			for _, l := range d.Grid.Lanes {
				out[d.Name+" "+plain(l)] = true
			}
		}
	}
	delete(out, "")
	return out
}

// remedy reports whether the remedy may be used at all.
func (c *checker) remedy(of string, r *Remedy, parts map[string]bool, sound bool) bool {
	before := c.list.Len()
	c.line(of, "name", r.Name, LongestRemedy)
	c.text(of, "cause", r.Because, true)
	c.text(of, "step to do", r.Do, true)
	for _, list := range []struct {
		what string
		n    int
	}{{"symptoms", len(r.Symptoms)}, {"dimensions it takes off", len(r.TakesOff)}, {"effects", len(r.Expect)}, {"things to measure", len(r.Measure)}, {"sources", len(r.Sources)}} {
		if list.n > mostOfARemedy {
			c.errorf("dimension/size", "%s has more than %d %s", of, mostOfARemedy, list.what)
			return false
		}
	}
	if len(r.When) > MostConditions {
		c.errorf("dimension/size", "%s has more than %d formulas", of, MostConditions)
		return false
	}
	if len(r.Symptoms)+len(r.When) == 0 {
		c.errorf("dimension/remedy", "%s has neither a symptom nor a formula to call it up", of)
	}
	for _, s := range r.Symptoms {
		if !slices.ContainsFunc(c.set.Symptoms, func(x Symptom) bool { return x.Name == s }) {
			c.errorf("dimension/symptom", "%s is for %q, which is no symptom of the set", of, clip(s))
		}
	}
	c.step(of, r)
	for _, part := range []struct {
		what  string
		words []string
	}{{"takes off", r.TakesOff}, {"measures", r.Measure}, {"expects", effected(r.Expect)}} {
		for _, w := range part.words {
			if !parts[plain(w)] {
				c.list.Hinted("dimension/remedy", c.at, nearHint(c.set.Near(w)), "%s %s %q, which is no dimension of the set", of, part.what, clip(w))
			}
		}
	}
	for _, e := range r.Expect {
		if e.Way != More && e.Way != Less {
			c.errorf("dimension/remedy", "%s expects %q of %s; it can be more or less", of, clip(string(e.Way)), clip(e.Dimension))
		}
	}
	c.sources(of, &Dimension{Sources: r.Sources})
	if sound {
		c.conditions(of, r)
	}
	return c.list.Len() == before
}

// step checks what is done, and that what takes cane says where.
func (c *checker) step(of string, r *Remedy) {
	if r.Touches.Order() < 0 {
		c.errorf("dimension/remedy", "%s touches %q; it can be %s", of, clip(string(r.Touches)), touchesWords())
	}
	if r.Wire != "" && !slices.Contains(Wires(), r.Wire) || r.Axis != "" && !slices.Contains(Axes(), r.Axis) {
		c.errorf("dimension/remedy", "%s presses the wire %q from %q; it can be the %s, from %s", of, clip(r.Wire), clip(r.Axis), strings.Join(Wires(), ", "), strings.Join(Axes(), " or "))
	}
	if r.Axis != "" && r.Wire == "" {
		c.errorf("dimension/remedy", "%s says from where a wire is pressed and not which", of)
	}
	if r.Touches.TakesCane() && len(r.TakesOff) == 0 {
		c.errorf("dimension/remedy", "%s takes cane and does not say what it makes smaller", of)
	}
}

func (c *checker) conditions(of string, r *Remedy) {
	for _, w := range r.When {
		f, found := formula.Compile(diagnostic.Plain(of, w), scope{c.set})
		c.list.Append(found)
		if f != nil && !f.Truth() {
			c.errorf(formula.NotAQuestion, "%s works out a number (%s) with %q, not a yes or no", of, f.Kind(), clip(w))
		}
	}
}

func effected(all []Effect) []string {
	var out []string
	for _, e := range all {
		out = append(out, e.Dimension)
	}
	return out
}

func touchesWords() string {
	var out []string
	for _, t := range TouchesInOrder() {
		out = append(out, string(t))
	}
	return strings.Join(out, ", ")
}

func nearHint(near string) string {
	if near == "" {
		return ""
	}
	return "did you mean " + near + "?"
}
