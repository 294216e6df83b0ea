package recipe

import (
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"canewright/engine/diagnostic"
)

// flatStage is a stage in working order: planned repeats written out.
type flatStage struct {
	raw  *stage
	turn string // "(2 of 3)"
}

// measureFile counts what is written in the file, and stops where it is too
// long.
func (b *binder) measureFile(stages []*stage) {
	for _, s := range stages {
		if b.tooLong {
			return
		}
		if s.hasInner {
			b.measureFile(s.stages)
			continue
		}
		b.written++
		b.partsLeft += s.parts()
		if b.written > mostStages {
			b.list.Hinted("recipe/too-long", s.place, "make two recipes of it", "this recipe has over %d stages", mostStages)
			b.tooLong = true
		}
	}
}

// flatten writes stages out in working order.
func (b *binder) flatten(stages []*stage, turn string) {
	for _, s := range stages {
		switch {
		case b.tooLong, b.list.Len() > 10*mostHints:
			return // enough is said
		case strings.TrimSpace(s.name.Value) == "":
			b.list.Hinted("recipe/name", s.name.Whole, "write what is done there: - stage: soak", "a stage needs a name")
		case utf8.RuneCountInString(s.name.Value) > longestName:
			b.list.Hinted("recipe/name", s.name.Whole, "a few words will do; the rest can stand under do:", "a stage's name has at most %d letters", longestName)
		case s.hasInner:
			for _, key := range s.own {
				b.list.Hinted("recipe/times", key, "write it at one of the stages inside", "a stage that holds stages does nothing itself")
			}
			n := 1
			if s.times.Value != "" {
				v, err := strconv.Atoi(strings.TrimSuffix(strings.TrimSuffix(s.times.Value, " times"), " time"))
				if err != nil || v < 1 || v > 20 {
					b.list.Hinted("recipe/times", s.times.Whole, "write a whole number from 1 to 20: times: 3", "%q does not say how often", clip(s.times.Value))
					v = 1
				}
				n = v
			}
			for k := 1; k <= n; k++ {
				t := turn
				if n > 1 {
					t += " (" + strconv.Itoa(k) + " of " + strconv.Itoa(n) + ")"
				}
				b.flatten(s.stages, t)
			}
		case s.hasAgain:
			b.lonelyTimes(s)
			b.again(s, turn)
		default:
			b.lonelyTimes(s)
			b.addStage(flatStage{s, turn})
		}
	}
}

func (b *binder) addStage(f flatStage) {
	b.latest[f.raw.name.Value] = len(b.flat)
	b.flat = append(b.flat, f)
	b.partsLeft -= f.raw.parts()
	switch {
	case b.tooLong:
	case len(b.flat) > b.written+mostRepeated:
		b.list.Hinted("recipe/too-long", f.raw.place, "make two recipes of it, or repeat less", "its repeats add over %d stages to this recipe", mostRepeated)
		b.tooLong = true
	case b.partsLeft < -mostParts:
		b.list.Hinted("recipe/too-long", f.raw.place, "make two recipes of it, or repeat less", "its repeats add over %d instructions, measurements and rules to this recipe", mostParts)
		b.tooLong = true
	}
}

// lonelyTimes refuses times where nothing is nested under it.
func (b *binder) lonelyTimes(s *stage) {
	if s.times.Value != "" {
		b.list.Hinted("recipe/times", s.times.Whole, "put the stages to repeat below it, under stages:", "times stands over nested stages only")
	}
}

// again is a planned return: the earlier stage's content under a new name;
// what the new stage writes itself takes the place of the old.
func (b *binder) again(s *stage, turn string) {
	if i, ok := b.latest[s.again.Value]; ok {
		c := *b.flat[i].raw
		c.place, c.name = s.place, s.name
		if !slices.Contains(c.origins, s.again.Value) {
			c.origins = append(slices.Clone(c.origins), s.again.Value)
		}
		over := func(dst *diagnostic.Text, src diagnostic.Text) {
			if src.Value != "" {
				*dst = src
			}
		}
		over(&c.who, s.who)
		over(&c.why, s.why)
		over(&c.condition, s.condition)
		over(&c.becomes, s.becomes)
		over(&c.markAgain, s.markAgain)
		over(&c.noWayBack, s.noWayBack)
		if s.givenTools {
			c.tools = s.tools
		}
		overList(&c.materials, s.materials)
		overList(&c.do, s.do)
		overList(&c.takesOff, s.takesOff)
		overList(&c.uses, s.uses)
		overList(&c.targets, s.targets)
		overList(&c.measures, s.measures)
		overList(&c.rules, s.rules)
		if s.look != nil {
			c.look = s.look
		}
		if s.wait != nil {
			c.wait = s.wait
		}
		b.addStage(flatStage{&c, turn})
		return
	}
	hint := "again names a stage that stands earlier in the recipe"
	if n := b.near(s.again.Value, len(b.flat), b.stageNames); n != "" {
		hint = "did you mean " + n + "?"
	}
	b.list.Hinted("recipe/unknown-stage", s.again.Whole, hint, "there is no earlier stage %q", clip(s.again.Value))
}

// stageNames are the names of the stages written out so far.
func (b *binder) stageNames() []string {
	out := make([]string, len(b.flat))
	for i, f := range b.flat {
		out[i] = f.raw.name.Value
	}
	return out
}

// overList takes src over where the new stage writes such a list itself.
func overList[T any](dst *[]T, src []T) {
	if src != nil {
		*dst = src
	}
}
