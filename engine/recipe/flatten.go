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

// flatten writes stages out in working order; before is what stands in front
// of them.
func (b *binder) flatten(stages []*stage, turn string, before []flatStage) []flatStage {
	var out []flatStage
	for _, s := range stages {
		switch {
		case b.tooLong:
			return nil
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
				out = append(out, b.flatten(s.stages, t, slices.Concat(before, out))...)
			}
		case s.hasAgain:
			b.lonelyTimes(s)
			out = append(out, b.again(s, slices.Concat(before, out), turn)...)
		default:
			b.lonelyTimes(s)
			out = append(out, flatStage{s, turn})
		}
		if len(before)+len(out) > mostStages && !b.tooLong {
			b.list.Hinted("recipe/too-long", s.place, "make two recipes of it, or repeat less", "with its repeats this recipe has over %d stages", mostStages)
			b.tooLong = true
		}
	}
	return out
}

// lonelyTimes refuses times where nothing is nested under it.
func (b *binder) lonelyTimes(s *stage) {
	if s.times.Value != "" {
		b.list.Hinted("recipe/times", s.times.Whole, "put the stages to repeat below it, under stages:", "times stands over nested stages only")
	}
}

// again is a planned return: the earlier stage's content under a new name;
// what the new stage writes itself takes the place of the old.
func (b *binder) again(s *stage, before []flatStage, turn string) []flatStage {
	for i := len(before) - 1; i >= 0; i-- {
		if before[i].raw.name.Value != s.again.Value {
			continue
		}
		c := *before[i].raw
		c.place, c.name = s.place, s.name
		c.origins = append(slices.Clone(c.origins), before[i].raw.name.Value)
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
		return []flatStage{{&c, turn}}
	}
	var names []string
	for _, f := range before {
		names = append(names, f.raw.name.Value)
	}
	hint := "again names a stage that stands earlier in the recipe"
	if n := diagnostic.Near(s.again.Value, names); n != "" {
		hint = "did you mean " + n + "?"
	}
	b.list.Hinted("recipe/unknown-stage", s.again.Whole, hint, "there is no earlier stage %q", clip(s.again.Value))
	return nil
}

// overList takes src over where the new stage writes such a list itself.
func overList[T any](dst *[]T, src []T) {
	if src != nil {
		*dst = src
	}
}
