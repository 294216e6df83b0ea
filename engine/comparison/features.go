package comparison

import (
	"slices"
	"strings"
	"unicode"

	"canewright/engine/recipe"
)

// features are what a stage does, as sets of words: sorted, without repeats.
type features struct {
	name string
	sets [aspects][]int // words by number
	// sure is what it does without what is inferred from its name: two stages
	// that are alike in it are the same stage; "" where it says nothing.
	sure string
}

// The aspects of a stage, and what each counts for in a score.
const (
	measuring = iota
	doing
	tools
	materials
	waiting
	looking
	leaving
	naming
	aspects
)

var weights = [aspects]float64{measuring: 4, doing: 3, tools: 2, materials: 2, waiting: 2, looking: 2, leaving: 1, naming: 2}

// vocabulary gives words numbers, the same in both recipes.
type vocabulary map[string]int

func (v vocabulary) set(words []string) []int {
	var out []int
	for _, w := range words {
		n, ok := v[w]
		if !ok {
			n = len(v)
			v[w] = n
		}
		out = append(out, n)
	}
	slices.Sort(out)
	return slices.Compact(out)
}

func (v vocabulary) features(s *side, i int) features {
	st := &s.b.Stages[i]
	var words [aspects][]string
	for _, m := range st.Measures {
		words[measuring] = append(words[measuring], s.b.Slots[m.Slot].Dimension.Name)
	}
	for _, d := range st.Do {
		words[doing] = append(words[doing], told(d)...)
	}
	for _, t := range st.Use.Tools {
		words[tools] = append(words[tools], t.Name)
	}
	for _, m := range st.Use.Materials {
		words[materials] = append(words[materials], m.Name)
	}
	if w := st.Wait; w != nil {
		words[waiting] = append(told(w.Until), "a wait")
		for _, t := range []string{w.LeastText, w.UsualText, w.MostText} {
			if t != "" {
				words[waiting] = append(words[waiting], "for "+t)
			}
		}
	}
	if st.Look != nil {
		words[looking] = told(st.Look.Question)
	}
	if st.Becomes != "" {
		words[leaving] = append(words[leaving], "becomes "+string(st.Becomes))
	}
	for _, slot := range st.TakesOff {
		words[leaving] = append(words[leaving], "off "+s.b.Slots[slot].Dimension.Name)
	}
	for _, t := range st.TakesAlso {
		words[leaving] = append(words[leaving], "off "+t)
	}
	name := baseName(st)
	words[naming] = told(name)
	f := features{name: name}
	for k := range words {
		f.sets[k] = v.set(words[k])
	}
	var sure strings.Builder
	for _, k := range []int{measuring, doing, waiting, looking, leaving} {
		list := slices.Clone(words[k])
		slices.Sort(list)
		for _, w := range slices.Compact(list) {
			sure.WriteString(w + "\x00")
		}
		sure.WriteString("\x01")
	}
	if strings.Trim(sure.String(), "\x01") != "" {
		f.sure = sure.String()
	}
	return f
}

// baseName is a stage's name, lower case, without the turn of a planned repeat.
func baseName(st *recipe.Stage) string {
	return strings.Join(strings.Fields(strings.ToLower(st.Name)), " ")
}

// told are the words of a text that tell something: letters only, three or
// more, without numbers, units and the small words of a sentence.
func told(text string) []string {
	var out []string
	for _, w := range strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return !unicode.IsLetter(r) }) {
		if len([]rune(w)) >= 3 && !small[w] {
			out = append(out, w)
		}
	}
	return out
}

var small = func() map[string]bool {
	m := map[string]bool{}
	for _, w := range strings.Fields("the and with from that this then than are was its into for not but out off over one two each all any cents awg thou") {
		m[w] = true
	}
	return m
}()

// score is how alike two stages are, 0 to 1: of each aspect that either has,
// twice what both have by what they have in all (L. R. Dice, Ecology 26, 1945),
// weighted. Without a name, the name does not count.
func score(a, b *features, named bool) float64 {
	got, full := 0.0, 0.0
	for k := range aspects {
		if k == naming && !named {
			continue
		}
		n := len(a.sets[k]) + len(b.sets[k])
		if n == 0 {
			continue
		}
		full += weights[k]
		got += weights[k] * 2 * float64(common(a.sets[k], b.sets[k])) / float64(n)
	}
	if full == 0 {
		return 0
	}
	return got / full
}

// common counts what two sorted sets share.
func common(a, b []int) int {
	n, i, k := 0, 0, 0
	for i < len(a) && k < len(b) {
		switch {
		case a[i] == b[k]:
			n, i, k = n+1, i+1, k+1
		case a[i] < b[k]:
			i++
		default:
			k++
		}
	}
	return n
}
